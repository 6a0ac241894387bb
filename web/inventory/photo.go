package inventory

import (
	"errors"
	"mime/multipart"
	"net/http"
	"net/url"
	"slices"
	"strconv"
	"strings"

	"kinwain/internal/catalog"
	"kinwain/internal/photo"
	"kinwain/internal/store"
	"kinwain/web/kit"
	"kinwain/web/wares"
)

// maxPhoto bounds the form of a thing with its photos. A photo that is too large
// is still received, so that nothing else that was typed is lost for it.
const maxPhoto = 4 * photo.MaxBytes

var errPhotoSize = &kit.Failure{Status: http.StatusRequestEntityTooLarge, Code: "too_large", Title: "Far too large",
	Text: "The picture is far too large, and nothing was changed. Go back, where all that you typed still is, and choose a smaller one."}

// decoding lets one photo be decoded at a time: each takes its room.
var decoding = make(chan struct{}, 1)

// withFiles reads a form that may bring files along.
func withFiles(r *http.Request) error {
	err := r.ParseMultipartForm(inMemory)
	var tooLarge *http.MaxBytesError
	switch {
	case errors.As(err, &tooLarge):
		return errPhotoSize
	case err != nil && !errors.Is(err, http.ErrNotMultipart):
		return kit.ErrForm
	}
	return nil
}

// bringsPhotos reports whether photos may come with what is sent to an address:
// that of the form of a thing, or of its photo.
func bringsPhotos(path string) bool {
	rest, within := strings.CutPrefix(path, kit.InventoryAddress+"/")
	slug, rest, _ := strings.Cut(rest, "/")
	_, more, deeper := strings.Cut(rest, "/")
	return within && rest != "" && (!deeper || more == "photo") && slices.ContainsFunc(shelves, func(h shelf) bool { return h.slug == slug })
}

// chosenPhoto reports whether a photo of the thing itself came with its form.
func chosenPhoto(r *http.Request) bool {
	return r.PostForm.Get("photo") != "" || r.MultipartForm != nil && fileOf(r.MultipartForm, "photo") != nil
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
		sendPicture(w, picture) // its address changes with it
		return nil
	}
}

// savePhoto keeps a photo, or the words for it, or takes it away. What else was
// typed into the form and is not saved yet comes back with the answer.
func (room *Room) savePhoto(h shelf) func(http.ResponseWriter, *http.Request) error {
	return func(w http.ResponseWriter, r *http.Request) error {
		e, err := room.edits(r, h)
		if err != nil {
			return err
		}
		if err := withFiles(r); err != nil {
			return err
		}
		said, err := room.keepPhoto(r, store.Thing{List: h.list, Code: e.code})
		var bad *photo.Error
		if errors.As(err, &bad) {
			said = "The photo was not kept: " + bad.Text + "."
			room.Sessions.Put(r.Context(), altKey, strings.TrimSpace(r.PostForm.Get("alt")))
		} else if err != nil {
			return err
		}
		room.Sessions.Put(r.Context(), flashKey, said)
		over, err := room.typedOver(r, e)
		if err != nil {
			return err
		}
		if over {
			e.unsaved = true
			return room.showEdit(w, r, e, http.StatusOK)
		}
		http.Redirect(w, r, h.address(e.code)+"#photo", http.StatusSeeOther)
		return nil
	}
}

// typedOver takes over what was sent of the form beside the photo, and reports
// whether it says anything else than what is kept.
func (room *Room) typedOver(r *http.Request, e *editing) (bool, error) {
	if r.PostForm.Get("base") == "" {
		return false, nil
	}
	kept := e.base
	e.base, e.typed = r.PostForm.Get("base"), wares.FromValues(r.PostForm)
	e.typed.Set(wares.Key(e.list), e.code)
	faults, err := room.takePhotos(r, e)
	if e.faults = faults; err != nil || len(faults) > 0 {
		return true, err
	}
	document, err := e.typed.Document(e.list)
	if err != nil {
		return true, nil // what cannot be read is another thing, and told when it is saved
	}
	now, err := plainly(e.list, string(document))
	was, errWas := plainly(e.list, kept)
	return err != nil || errWas != nil || now != was, nil
}

// plainly writes the document of a thing in one way.
func plainly(list, document string) (string, error) {
	t, err := catalog.ParseThing(list, document)
	if err != nil {
		return "", err
	}
	if sources := catalog.EvidenceOf(t.Of); sources != nil && len(*sources) == 0 {
		*sources = nil // none, or not asked about: it looks the same here
	}
	return t.Document()
}

// altKey is where a session keeps the words for a photo that was refused.
const altKey = "photo words"

func (room *Room) keepPhoto(r *http.Request, t store.Thing) (said string, err error) {
	if r.PostForm.Get("do") == "remove" {
		return "The photo is gone.", room.store.DeletePhoto(r.Context(), t)
	}
	p := store.Photo{Alt: strings.TrimSpace(r.PostForm.Get("alt")), At: room.Now()}
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
	if p.Large, p.Small, err = decode(r, files[0]); err != nil {
		return "", err
	}
	return "The photo is kept, without anything else that was in its file.", room.store.SavePhoto(r.Context(), t, p)
}

// decode makes what is kept of a picture that was sent. The error is a
// *photo.Error where that cannot be.
func decode(r *http.Request, file *multipart.FileHeader) (large, small []byte, err error) {
	if file.Size > photo.MaxBytes {
		return nil, nil, &photo.Error{Code: "large", Text: "this file is larger than " + strconv.Itoa(photo.MaxBytes>>20) + " MB"}
	}
	data, err := contents(file)
	if err != nil {
		return nil, nil, err
	}
	select {
	case decoding <- struct{}{}:
		defer func() { <-decoding }()
	case <-r.Context().Done():
		return nil, nil, r.Context().Err()
	}
	return photo.Make(data)
}

// sendPicture sends a picture that stays what it is under its address.
func sendPicture(w http.ResponseWriter, picture []byte) {
	w.Header().Set("Content-Type", "image/jpeg")
	w.Header().Set("Content-Disposition", "inline")
	w.Header().Set("Cache-Control", "private, max-age=86400")
	w.Header().Set("Content-Length", strconv.Itoa(len(picture)))
	_, _ = w.Write(picture) // fails where the browser went away: there is nobody to tell
}
