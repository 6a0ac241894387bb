package web

import (
	"net/http"

	"github.com/go-chi/chi/v5"

	"kinwain/internal/staff"
	"kinwain/internal/store"
)

// What a session keeps of who signed in.
const (
	roleKey   = "role"   // as it was at the request before
	personKey = "person" // id; none for the printed link
	epochKey  = "epoch"  // of the person's sessions
	saidKey   = "said"   // what to say on the next page, once
)

// linkName is what whoever is in by the printed link is called.
const linkName = "manager (printed link)"

// signIn opens a session for who has the link that the program printed.
func (s *server) signIn(w http.ResponseWriter, r *http.Request) error {
	valid, err := s.Store.SignInLinkValid(r.Context(), chi.URLParam(r, "token"), s.Now())
	if err != nil {
		return err
	}
	if !valid {
		return errLink
	}
	if err := s.begin(r, staff.Manager); err != nil {
		return err
	}
	http.Redirect(w, r, "/", http.StatusSeeOther)
	return nil
}

// begin opens a session with a token of its own, with nothing left of the one
// before.
func (s *server) begin(r *http.Request, role staff.Role) error {
	if err := s.sessions.Clear(r.Context()); err != nil {
		return err
	}
	if err := s.sessions.RenewToken(r.Context()); err != nil {
		return err
	}
	s.sessions.Put(r.Context(), roleKey, string(role))
	return nil
}

// admit opens the session of a person.
func (s *server) admit(r *http.Request, p store.Person) error {
	if err := s.begin(r, p.Role); err != nil {
		return err
	}
	s.sessions.Put(r.Context(), personKey, p.ID)
	s.sessions.Put(r.Context(), epochKey, p.Epoch)
	return nil
}

func (s *server) signOut(w http.ResponseWriter, r *http.Request) error {
	if err := s.sessions.Destroy(r.Context()); err != nil {
		return err
	}
	http.Redirect(w, r, "/sign-in", http.StatusSeeOther)
	return nil
}

func (s *server) signedIn(r *http.Request) bool { return who(r) != nil }

// done goes on to a page that says what was done.
func (s *server) done(w http.ResponseWriter, r *http.Request, address, said string) error {
	s.sessions.Put(r.Context(), saidKey, said)
	http.Redirect(w, r, address, http.StatusSeeOther)
	return nil
}
