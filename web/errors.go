package web

import (
	"errors"
	"fmt"
	"net/http"
	"net/url"
	"runtime/debug"
	"strconv"

	"kinwain/web/kit"
)

// What the way in is refused with.
var (
	errMethod    = &kit.Failure{Status: http.StatusMethodNotAllowed, Code: "method", Title: "Not that way", Text: "This address does not take that kind of request."}
	errStaff     = &kit.Failure{Status: http.StatusForbidden, Code: "sign_in", Title: "Please sign in", Text: "Nobody is signed in here, or no longer. Sign in with your name and passphrase. Without an account, ask a manager for one, or open the link that Kinwain printed when it was started; it works once.", SignIn: true}
	errForbidden = &kit.Failure{Status: http.StatusForbidden, Code: "forbidden", Title: "For managers", Text: "Your account may serve customers, but not change the shop. Ask a manager to do this for you, or to make you one."}
	errToken     = &kit.Failure{Status: http.StatusUnauthorized, Code: "token", Title: "Please sign in", Text: "Sign in, or send an API token as “Authorization: Bearer …”: one that has not expired and was not revoked. A manager makes them under Settings, API tokens."}
	errScope     = &kit.Failure{Status: http.StatusForbidden, Code: "scope", Title: "Not with this token", Text: "This API token is for something else. A manager can make one with the scope “matches”."}
	errOrigin    = &kit.Failure{Status: http.StatusForbidden, Code: "origin", Title: "Not from here", Text: "This was sent by a page of another site, so nothing was done. Go back to the start and do it from there."}
)

// fail answers with an error.
func (s *server) fail(w http.ResponseWriter, r *http.Request, err error) {
	if kit.Gone(r) {
		return
	}
	r, err = kit.InTime(r, err)
	var first kit.Elsewhere
	if errors.As(err, &first) {
		http.Redirect(w, r, string(first), http.StatusSeeOther)
		return
	}
	f := kit.FailureOf(err)
	if f.Status >= http.StatusInternalServerError {
		s.Log.ErrorContext(r.Context(), "request failed", "method", r.Method, "path", r.URL.Path, "error", err)
	}
	if c := challenge(r, f); c != "" {
		w.Header().Set("WWW-Authenticate", c)
	}
	if f.Retry > 0 {
		w.Header().Set("Retry-After", strconv.Itoa(f.Retry))
	}
	if kit.WantsJSON(r) {
		s.FailJSON(w, f.Status, f)
		return
	}
	back, words := kit.StartAddress, "Back to the start"
	switch {
	case f.SignIn:
		back, words = signInAddress(r), "Sign in"
	case f.Back != "":
		back, words = f.Back, f.BackTo
	}
	message := kit.Message{Shell: s.Shell(r, f.Title), Heading: f.Title, Text: f.Text, Back: back, BackTo: words}
	if f.SignIn {
		message.Resend = resend(r)
	}
	if f.Back == "" { // a refusal that leads on is nothing to be looked for
		message.Request = kit.RequestID(r.Context())
	}
	if err := kit.Render(r.Context(), w, f.Status, kit.MessagePage(message)); err != nil {
		s.Log.ErrorContext(r.Context(), "error page failed", "path", r.URL.Path, "error", err)
		http.Error(w, f.Text, f.Status)
	}
}

// signInAddress is where to sign in, and come back from to a page that was
// asked for.
func signInAddress(r *http.Request) string {
	if next := kit.Local(r.URL.RequestURI()); r.Method == http.MethodGet && next != kit.StartAddress {
		return kit.SignInAddress + "?" + url.Values{"next": {next}}.Encode()
	}
	return kit.SignInAddress
}

// catch answers where a program error ends a request.
func (s *server) catch(w http.ResponseWriter, r *http.Request) {
	switch p := recover(); p {
	case nil:
	case http.ErrAbortHandler: // somebody has chosen to say nothing
		panic(p)
	default:
		s.fail(w, r, fmt.Errorf("panic: %v\n%s", p, debug.Stack()))
	}
}

// caught catches what happens before a page is reached.
func (s *server) caught(next http.Handler) http.Handler {
	return http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		defer s.catch(w, r)
		next.ServeHTTP(w, r)
	})
}

// page makes a handler of a function that may fail.
func (s *server) page(handle kit.Handler) http.HandlerFunc {
	return func(w http.ResponseWriter, r *http.Request) {
		defer s.catch(w, r)
		if err := handle(w, r); err != nil {
			s.fail(w, r, err)
		}
	}
}
