package shop

import (
	"net/http"

	"github.com/go-chi/chi/v5"

	"kinwain/internal/staff"
	"kinwain/internal/store"
	"kinwain/web/kit"
)

// What a link to sign in, or a PIN, is refused with.
var (
	errLink       = &kit.Failure{Status: http.StatusNotFound, Code: "sign_in_link", Title: "This link does not sign in", Text: "It is too old, or a newer one has replaced it. Use the newest link that Kinwain printed, or restart it for another.", SignIn: true}
	errPersonLink = &kit.Failure{Status: http.StatusNotFound, Code: "person_link", Title: "This link is used up", Text: "It was used already, is older than a day, or a newer one has replaced it. Ask a manager for another.", SignIn: true}
	errDevice     = &kit.Failure{Status: http.StatusForbidden, Code: "device", Title: "No PIN on this device", Text: "A PIN works only on a device that a manager has enrolled, and this one is not, or no longer. Sign in with your name and passphrase.", SignIn: true}
)

// signIn opens a session for who has the link that the program printed.
func (room *Room) signIn(w http.ResponseWriter, r *http.Request) error {
	valid, err := room.store.SignInLinkValid(r.Context(), chi.URLParam(r, "token"), room.Now())
	if err != nil {
		return err
	}
	if !valid {
		return errLink
	}
	if err := room.Begin(r, kit.Session{Role: staff.Manager}); err != nil {
		return err
	}
	http.Redirect(w, r, kit.StartAddress, http.StatusSeeOther)
	return nil
}

// admit opens the session of a person.
func (room *Room) admit(r *http.Request, p store.Person) error {
	return room.Begin(r, kit.Session{Role: p.Role, Person: p.ID, Epoch: p.Epoch})
}

// signOut ends the session.
func (room *Room) signOut(w http.ResponseWriter, r *http.Request) error {
	if err := room.Sessions.Destroy(r.Context()); err != nil {
		return err
	}
	http.Redirect(w, r, kit.SignInAddress, http.StatusSeeOther)
	return nil
}
