package web

import (
	"net/http"

	"github.com/go-chi/chi/v5"
)

// roleKey is where a session keeps the role of who signed in.
const (
	roleKey = "role"
	manager = "manager"
)

// signIn opens a session for who has the link that the program printed.
func (s *server) signIn(w http.ResponseWriter, r *http.Request) error {
	valid, err := s.Store.SignInLinkValid(r.Context(), chi.URLParam(r, "token"), s.Now())
	if err != nil {
		return err
	}
	if !valid {
		return errLink
	}
	if err := s.sessions.RenewToken(r.Context()); err != nil {
		return err
	}
	s.sessions.Put(r.Context(), roleKey, manager)
	http.Redirect(w, r, "/", http.StatusSeeOther)
	return nil
}

func (s *server) signOut(w http.ResponseWriter, r *http.Request) error {
	if err := s.sessions.Destroy(r.Context()); err != nil {
		return err
	}
	http.Redirect(w, r, "/", http.StatusSeeOther)
	return nil
}

func (s *server) signedIn(r *http.Request) bool {
	return s.sessions.GetString(r.Context(), roleKey) != ""
}

// staff lets nobody past who has not signed in.
func (s *server) staff(next http.Handler) http.Handler {
	return http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		if !s.signedIn(r) {
			s.fail(w, r, errStaff)
			return
		}
		next.ServeHTTP(w, r)
	})
}
