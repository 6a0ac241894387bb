package web

import (
	"io"
	"maps"
	"mime/multipart"
	"net/http"
	"net/url"
	"slices"
	"strings"

	"kinwain/web/kit"
)

// mostResent bounds what a page carries of a form for which nobody was signed
// in, and of one that brings files how much is read to find it.
const mostResent = 256 << 10

// resend keeps a form that was sent when nobody was signed in any more, so that
// it can be sent again: going back would show an empty one. It is nil where
// there is nothing to keep, and where a passphrase may have been typed.
func resend(r *http.Request) *kit.Resend {
	if r.Method != http.MethodPost || r.URL.Path == kit.MeAddress || strings.HasPrefix(r.URL.Path, kit.SignInAddress) {
		return nil
	}
	again := &kit.Resend{Action: kit.Local(r.URL.RequestURI())}
	typed := url.Values{}
	if parts, err := r.MultipartReader(); err == nil {
		again.Files = readParts(parts, typed)
	} else if r.ParseForm() == nil {
		typed = r.PostForm
	}
	size := 0
	for _, name := range slices.Sorted(maps.Keys(typed)) {
		for _, value := range typed[name] {
			size += len(name) + len(value)
			again.Fields = append(again.Fields, kit.Hidden{Name: name, Value: value})
		}
	}
	if len(again.Fields) == 0 || size > mostResent {
		return nil
	}
	return again
}

// readParts reads the fields of a form that may bring files, and reports
// whether it does. Nobody is known yet, so of files nothing is kept, and what
// comes after much is not waited for.
func readParts(parts *multipart.Reader, typed url.Values) (files bool) {
	for left := int64(mostResent); left > 0; {
		part, err := parts.NextPart()
		if err != nil {
			return files
		}
		if part.FileName() != "" {
			n, err := io.CopyN(io.Discard, part, left)
			if left, files = left-n, true; err != io.EOF {
				return files
			}
			continue
		}
		value, err := io.ReadAll(io.LimitReader(part, left))
		if err != nil {
			return files
		}
		left -= int64(len(value)) + 1
		typed.Add(part.FormName(), string(value))
	}
	return files
}
