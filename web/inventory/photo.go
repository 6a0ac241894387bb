package inventory

import (
	"errors"
	"net/http"
	"net/url"
	"strconv"
	"strings"

	"kinwain/internal/photo"
	"kinwain/internal/store"
	"kinwain/web/kit"
)

// maxPhoto bounds the form that a photo comes with.
const maxPhoto = photo.MaxBytes + 64<<10

// decoding lets one photo be decoded at a time: each takes its room.
var decoding = make(chan struct{}, 1)

func isPhoto(path string) bool {
	return strings.HasPrefix(path, kit.InventoryAddress+"/") && strings.HasSuffix(path, "/photo")
}

// photoAddress is another one for every photo that was kept.
func photoAddress(h shelf, code string, p store.Photo, small bool) string {
	values := url.Values{"at": {strconv.FormatInt(p.At.UnixMilli(), 36)}}
	if small {
		values.Set("size", "small")
	}
	return h.address(code) + "/photo?" + values.Encode()
}

// photo sends the photo of a thing.
func (room *Room) photo(h shelf) func(http.ResponseWriter, *http.Request) error {
	return func(w http.ResponseWriter, r *http.Request) error {
		p, err := room.store.Photo(r.Context(), store.Thing{List: h.list, Code: param(r, "code")})
		if err != nil {
			return err
		}
		picture := p.Large
		if r.URL.Query().Get("size") == "small" {
			picture = p.Small
		}
		w.Header().Set("Content-Type", "image/jpeg")
		w.Header().Set("Content-Disposition", "inline")
		w.Header().Set("Cache-Control", "private, max-age=86400") // its address changes with it
		w.Header().Set("Content-Length", strconv.Itoa(len(picture)))
		_, _ = w.Write(picture) // fails where the browser went away: there is nobody to tell
		return nil
	}
}

// savePhoto keeps a photo, or the words for it, or takes it away.
func (room *Room) savePhoto(h shelf) func(http.ResponseWriter, *http.Request) error {
	return func(w http.ResponseWriter, r *http.Request) error {
		e, err := room.edits(r, h)
		if err != nil {
			return err
		}
		t := store.Thing{List: h.list, Code: e.code}
		said, err := room.keepPhoto(r, t)
		var bad *photo.Error
		var tooLarge *http.MaxBytesError
		switch {
		case errors.As(err, &bad):
			said = "The photo was not kept: " + bad.Text + "."
		case errors.As(err, &tooLarge):
			said = "The photo was not kept: this file is larger than " + strconv.Itoa(photo.MaxBytes>>20) + " MB."
		case err != nil:
			return err
		}
		room.Sessions.Put(r.Context(), flashKey, said)
		if bad != nil {
			room.Sessions.Put(r.Context(), altKey, strings.TrimSpace(r.FormValue("alt")))
		}
		http.Redirect(w, r, h.address(e.code)+"#photo", http.StatusSeeOther)
		return nil
	}
}

// altKey is where a session keeps the words for a photo that was refused.
const altKey = "photo words"

func (room *Room) keepPhoto(r *http.Request, t store.Thing) (said string, err error) {
	if err := r.ParseMultipartForm(1 << 20); err != nil {
		var tooLarge *http.MaxBytesError
		if errors.As(err, &tooLarge) {
			return "", err
		}
		return "", kit.ErrForm
	}
	if r.FormValue("do") == "remove" {
		return "The photo is gone.", room.store.DeletePhoto(r.Context(), t)
	}
	p := store.Photo{Alt: strings.TrimSpace(r.FormValue("alt")), At: room.Now()}
	if p.Alt == "" || len([]rune(p.Alt)) > 200 {
		return "", &photo.Error{Code: "alt", Text: "say in a few words what is to be seen, for those who cannot see it"}
	}
	files := r.MultipartForm.File["photo"]
	if len(files) == 0 || files[0].Size == 0 {
		kept, err := room.store.Photo(r.Context(), t)
		if store.CodeOf(err) == store.NotFound {
			return "", &photo.Error{Code: "missing", Text: "choose a picture first"}
		}
		p.Large, p.Small = kept.Large, kept.Small
		if err != nil {
			return "", err
		}
		return "The words for the photo are kept.", room.store.SavePhoto(r.Context(), t, p)
	}
	data, err := contents(files[0])
	if err != nil {
		return "", err
	}
	select {
	case decoding <- struct{}{}:
		defer func() { <-decoding }()
	case <-r.Context().Done():
		return "", r.Context().Err()
	}
	if p.Large, p.Small, err = photo.Make(data); err != nil {
		return "", err
	}
	return "The photo is kept, without anything else that was in its file.", room.store.SavePhoto(r.Context(), t, p)
}
