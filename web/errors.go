package web

import (
	"bytes"
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"net/http"
	"net/url"
	"runtime/debug"
	"strings"

	"github.com/a-h/templ"

	"kinwain/internal/problem"
	"kinwain/internal/staff"
	"kinwain/internal/store"
	"kinwain/static"
	"kinwain/web/page"
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
	errNotFound   = &failure{http.StatusNotFound, "not_found", "Nothing here", "This page does not exist, or no longer does. Go back to the start and find it from there."}
	errMethod     = &failure{http.StatusMethodNotAllowed, "method", "Not that way", "This address does not take that kind of request."}
	errStaff      = &failure{http.StatusForbidden, "sign_in", "Please sign in", "Nobody is signed in here, or no longer. Sign in with your name and passphrase. Without an account, ask a manager for one, or open the link that Kinwain printed when it was started."}
	errLink       = &failure{http.StatusNotFound, "sign_in_link", "This link does not sign in", "It is too old, or a newer one has replaced it. Use the newest link that Kinwain printed, or restart it for another."}
	errForbidden  = &failure{http.StatusForbidden, "forbidden", "For managers", "Your account may serve customers, but not change the shop. Ask a manager to do this for you, or to make you one."}
	errToken      = &failure{http.StatusUnauthorized, "token", "Please sign in", "Sign in, or send an API token as “Authorization: Bearer …”: one that has not expired and was not revoked. A manager makes them under Settings, API tokens."}
	errScope      = &failure{http.StatusForbidden, "scope", "Not with this token", "This API token is for something else. A manager can make one with the scope “matches”."}
	errPersonLink = &failure{http.StatusNotFound, "person_link", "This link is used up", "It was used already, is older than a day, or a newer one has replaced it. Ask a manager for another."}
	errDevice     = &failure{http.StatusForbidden, "device", "No PIN on this device", "A PIN works only on a device that a manager has enrolled, and this one is not, or no longer. Sign in with your name and passphrase."}
	errOrigin     = &failure{http.StatusForbidden, "origin", "Not from here", "This was sent by a page of another site, so nothing was done. Go back to the start and do it from there."}
	errForm       = &failure{http.StatusBadRequest, "form", "That could not be read", "The form arrived damaged, and nothing was changed. Go back and send it again."}
	errTooLarge   = &failure{http.StatusRequestEntityTooLarge, "too_large", "Far too large", "More was sent than any profile holds, and nothing was changed. Go back and send less."}
	errInternal   = &failure{http.StatusInternalServerError, "internal", "Something broke on our side", "Nothing you typed is lost. Go back and try again; if it happens twice, tell whoever looks after this computer."}
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

// elsewhere is the error of a page that there is nothing to show on yet: it is
// the address to go to first.
type elsewhere string

func (e elsewhere) Error() string { return "go to " + string(e) + " first" }

// fail answers with an error.
func (s *server) fail(w http.ResponseWriter, r *http.Request, err error) {
	if r.Context().Err() != nil {
		return // nobody is waiting any more
	}
	var first elsewhere
	if errors.As(err, &first) {
		http.Redirect(w, r, string(first), http.StatusSeeOther)
		return
	}
	f := failureOf(err)
	if f == errInternal {
		s.Log.Error("request failed", "method", r.Method, "path", loggable(r), "error", err)
	}
	if c := challenge(r, f); c != "" {
		w.Header().Set("WWW-Authenticate", c)
	}
	if wantsJSON(r) {
		s.failJSON(w, f.Status, f)
		return
	}
	back, words := "/", "Back to the start"
	if f == errStaff || f == errLink || f == errPersonLink || f == errDevice {
		back, words = signInAddress(r), "Sign in"
	}
	message := page.Message{Shell: s.shell(r, f.Title), Heading: f.Title, Text: f.Text, Back: back, BackTo: words}
	if err := render(r.Context(), w, f.Status, page.Say(message)); err != nil {
		s.Log.Error("error page failed", "path", loggable(r), "error", err)
		http.Error(w, f.Text, f.Status)
	}
}

// signInAddress is where to sign in, and come back from to a page that was
// asked for.
func signInAddress(r *http.Request) string {
	if next := local(r.URL.RequestURI()); r.Method == http.MethodGet && next != "/" {
		return "/sign-in?" + url.Values{"next": {next}}.Encode()
	}
	return "/sign-in"
}

// loggable is the path of a request without the secret that it may hold.
func loggable(r *http.Request) string {
	if strings.HasPrefix(r.URL.Path, "/sign-in/") {
		return "/sign-in/…"
	}
	return r.URL.Path
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

// deskShell is what the pages at the desk have around them.
func (s *server) deskShell(r *http.Request, title string) page.Shell {
	shell := s.shell(r, title)
	shell.Desk, shell.DeskJS = static.Address("desk.css"), static.Address("desk.js")
	return shell
}

// shell is what every page has around it.
func (s *server) shell(r *http.Request, title string) page.Shell {
	shell := page.Shell{Title: title, CSS: static.Address("app.css"), JS: static.Address("app.js"), Icon: static.Address("icon.svg"),
		SignedIn: s.signedIn(r)}
	if i := who(r); i != nil {
		shell.Who, shell.Manager = i.name, i.role == staff.Manager
	}
	if c, err := s.Store.Catalogue(r.Context()); err == nil {
		shell.Shop = c.Shop.Name
	}
	return shell
}
