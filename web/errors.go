package web

import (
	"bytes"
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"net/http"
	"runtime/debug"

	"github.com/a-h/templ"

	"kinhaul/internal/problem"
	"kinhaul/internal/store"
	"kinhaul/static"
	"kinhaul/web/page"
)

// failure is an error with what the browser is told: a status, a code for a
// program and a sentence for a person.
type failure struct {
	Status int    `json:"-"`
	Code   string `json:"code"`
	Title  string `json:"-"`
	Text   string `json:"text"`
}

func (f *failure) Error() string { return f.Text }

var (
	errNotFound = &failure{http.StatusNotFound, "not_found", "Nothing here", "This page does not exist, or no longer does. Go back to the start and find it from there."}
	errMethod   = &failure{http.StatusMethodNotAllowed, "method", "Not that way", "This address does not take that kind of request."}
	errStaff    = &failure{http.StatusForbidden, "sign_in", "Please sign in", "Open the sign-in link that Kinhaul printed when it was started. Links last a day; a restart prints a new one."}
	errLink     = &failure{http.StatusNotFound, "sign_in_link", "This link does not sign in", "It is too old, or a newer one has replaced it. Use the newest link that Kinhaul printed, or restart it for another."}
	errOrigin   = &failure{http.StatusForbidden, "origin", "Not from here", "This was sent by a page of another site, so nothing was done. Go back to the start and do it from there."}
	errForm     = &failure{http.StatusBadRequest, "form", "That could not be read", "The form arrived damaged, and nothing was changed. Go back and send it again."}
	errTooLarge = &failure{http.StatusRequestEntityTooLarge, "too_large", "Far too large", "More was sent than any profile holds, and nothing was changed. Go back and send less."}
	errInternal = &failure{http.StatusInternalServerError, "internal", "Something broke on our side", "Nothing you typed is lost. Go back and try again; if it happens twice, tell whoever looks after this computer."}
)

// failureOf says what a browser is told of an error. What is not known is not
// told.
func failureOf(err error) *failure {
	var f *failure
	var tooLarge *http.MaxBytesError
	switch {
	case errors.As(err, &f):
		return f
	case errors.As(err, &tooLarge):
		return errTooLarge
	case store.CodeOf(err) == store.NotFound:
		return errNotFound
	}
	return errInternal
}

// fail answers with an error.
func (s *server) fail(w http.ResponseWriter, r *http.Request, err error) {
	if r.Context().Err() != nil {
		return // nobody is waiting any more
	}
	f := failureOf(err)
	if f == errInternal {
		s.Log.Error("request failed", "method", r.Method, "path", r.URL.Path, "error", err)
	}
	if wantsJSON(r) {
		s.failJSON(w, f.Status, f)
		return
	}
	back, words := "/", "Back to the start"
	if f == errStaff || f == errLink {
		back = ""
	}
	message := page.Message{Shell: s.shell(r, f.Title), Heading: f.Title, Text: f.Text, Back: back, BackTo: words}
	if err := render(r.Context(), w, f.Status, page.Say(message)); err != nil {
		s.Log.Error("error page failed", "path", r.URL.Path, "error", err)
		http.Error(w, f.Text, f.Status)
	}
}

// failJSON writes what is wrong as JSON.
func (s *server) failJSON(w http.ResponseWriter, status int, body any) {
	w.Header().Set("Content-Type", "application/json")
	w.WriteHeader(status)
	if err := json.NewEncoder(w).Encode(map[string]any{"error": body}); err != nil {
		s.Log.Warn("answer not sent", "error", err)
	}
}

// problems is the JSON of a faulty document.
type problems struct {
	Code     string       `json:"code"`
	Text     string       `json:"text"`
	Problems problem.List `json:"problems"`
}

// page makes a handler of a function that may fail.
func (s *server) page(handle func(http.ResponseWriter, *http.Request) error) http.HandlerFunc {
	return func(w http.ResponseWriter, r *http.Request) {
		defer func() {
			if p := recover(); p != nil {
				s.fail(w, r, fmt.Errorf("panic: %v\n%s", p, debug.Stack()))
			}
		}()
		if err := handle(w, r); err != nil {
			s.fail(w, r, err)
		}
	}
}

// render draws a page whole before anything is sent, so that a page is never
// half an answer.
func render(ctx context.Context, w http.ResponseWriter, status int, c templ.Component) error {
	var b bytes.Buffer
	if err := c.Render(ctx, &b); err != nil {
		return err
	}
	w.Header().Set("Content-Type", "text/html; charset=utf-8")
	w.WriteHeader(status)
	_, _ = w.Write(b.Bytes()) // fails where the browser went away: there is nobody to tell
	return nil
}

// managerShell is what every page of the manager has around it.
func (s *server) managerShell(r *http.Request, title string) page.Shell {
	shell := s.shell(r, title)
	shell.ManagerCSS, shell.ManagerJS = static.Address("manager.css"), static.Address("manager.js")
	return shell
}

// shell is what every page has around it.
func (s *server) shell(r *http.Request, title string) page.Shell {
	shell := page.Shell{Title: title, CSS: static.Address("app.css"), JS: static.Address("app.js"), Icon: static.Address("icon.svg"),
		SignedIn: s.signedIn(r)}
	if c, err := s.Store.Catalogue(r.Context()); err == nil {
		shell.Shop = c.Shop.Name
	}
	return shell
}
