package kit

import (
	"bytes"
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"net/http"
	"net/url"
	"strconv"
	"strings"
	"sync"

	"github.com/a-h/templ"

	"kinwain/internal/problem"
)

// Posted reads the fields of a posted form. What comes without any field
// is not the form, and would blot out the answers.
func Posted(r *http.Request) (url.Values, error) {
	err := r.ParseForm()
	var tooLarge *http.MaxBytesError
	switch {
	case errors.As(err, &tooLarge):
		return nil, ErrTooLarge
	case err != nil || len(r.PostForm) == 0:
		return nil, ErrForm
	}
	return r.PostForm, nil
}

// FailJSON writes what is wrong as JSON.
func (k *Kit) FailJSON(w http.ResponseWriter, status int, body any) {
	w.Header().Set("Content-Type", "application/json")
	w.WriteHeader(status)
	if err := json.NewEncoder(w).Encode(map[string]any{"error": body}); err != nil {
		k.Log.Warn("answer not sent", "error", err)
	}
}

// Problems is the JSON of a faulty document.
type Problems struct {
	Code     string       `json:"code"`
	Text     string       `json:"text"`
	Problems problem.List `json:"problems"`
}

// buffers are those that pages are drawn into, one after the other.
var buffers = sync.Pool{New: func() any { return new(bytes.Buffer) }}

// mostBuffer is how large a buffer may be that is kept: any page of a shop. One
// drawing beyond it should not hold its memory for good.
const mostBuffer = 512 << 10

func giveBack(b *bytes.Buffer) {
	if b.Cap() <= mostBuffer {
		b.Reset()
		buffers.Put(b)
	}
}

// Render draws a page whole before anything is sent, so that a page is never
// half an answer.
func Render(ctx context.Context, w http.ResponseWriter, status int, c templ.Component) error {
	b, _ := buffers.Get().(*bytes.Buffer) // of nothing else
	defer giveBack(b)
	if err := c.Render(ctx, b); err != nil {
		return err
	}
	if b.Len() == 0 { // a part that the page does not have
		return ErrNotFound
	}
	w.Header().Set("Content-Type", "text/html; charset=utf-8")
	w.Header().Set("Content-Length", strconv.Itoa(b.Len()))
	w.WriteHeader(status)
	_, _ = w.Write(b.Bytes()) // fails where the browser went away: there is nobody to tell
	return nil
}

// PartField is the field of an address that asks for a part of its page alone,
// which a script puts into the page that is open.
const PartField = "part"

// RenderPart draws a page as Render does, or of it the part alone that the
// address asks for: the fragments of that name in its template.
func RenderPart(w http.ResponseWriter, r *http.Request, status int, page templ.Component) error {
	q := r.URL.Query()
	if !q.Has(PartField) {
		return Render(r.Context(), w, status, page)
	}
	return Render(r.Context(), w, status, templ.ComponentFunc(func(ctx context.Context, b io.Writer) error {
		return templ.RenderFragments(ctx, b, page, q.Get(PartField))
	}))
}

// Attach answers with a file to keep.
func (k *Kit) Attach(w http.ResponseWriter, kind, name string, content []byte) {
	w.Header().Set("Content-Type", kind)
	w.Header().Set("Content-Disposition", fmt.Sprintf("attachment; filename=%q", name))
	if _, err := w.Write(content); err != nil {
		k.Log.Warn("answer not sent", "error", err)
	}
}

// WantsJSON reports whether a request is answered with JSON.
func WantsJSON(r *http.Request) bool {
	return r.URL.Path == "/matches" || strings.HasPrefix(r.Header.Get("Accept"), "application/json")
}
