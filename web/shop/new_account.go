package shop

import (
	"net/http"

	"github.com/go-chi/chi/v5"

	"kinwain/internal/staff"
	"kinwain/internal/store"
	"kinwain/web/kit"
)

// newForm asks who has a link of a manager for a passphrase.
func (room *Room) newForm(w http.ResponseWriter, r *http.Request) error {
	p, err := room.store.PersonOfLink(r.Context(), chi.URLParam(r, "token"), room.Now())
	if store.CodeOf(err) == store.NotFound {
		return errPersonLink
	}
	if err != nil {
		return err
	}
	return room.showNew(w, r, p, "", http.StatusOK)
}

func (room *Room) showNew(w http.ResponseWriter, r *http.Request, p store.Person, fault string, status int) error {
	v := NewAccount{Shell: room.DeskShell(r, "Choose a passphrase"), Action: r.URL.Path, Person: p.Name, Role: string(p.Role), Passphrase: newPassphrase(fault)}
	return kit.Render(r.Context(), w, status, NewAccountPage(v))
}

func newPassphrase(fault string) kit.Field {
	return kit.Field{Name: "new", Label: "New passphrase", Hint: "At least 12 characters of any kind. A few words in a row are easy to keep.", Error: fault, Needed: true}
}

// choose stores the passphrase that was chosen with a link, and lets its
// person in.
func (room *Room) choose(w http.ResponseWriter, r *http.Request) error {
	if _, err := kit.Posted(r); err != nil {
		return err
	}
	token := chi.URLParam(r, "token")
	p, err := room.store.PersonOfLink(r.Context(), token, room.Now())
	if store.CodeOf(err) == store.NotFound {
		return errPersonLink
	}
	if err != nil {
		return err
	}
	chosen := r.PostForm.Get("new")
	if fault := staff.CheckPassphrase(chosen, p.Name); fault != "" {
		return room.showNew(w, r, p, fault, http.StatusUnprocessableEntity)
	}
	hash, err := room.hash(r, chosen)
	if err != nil {
		return err
	}
	if p, err = room.store.UseLink(r.Context(), token, hash, room.Now()); store.CodeOf(err) == store.NotFound {
		return errPersonLink // somebody was quicker
	}
	if err != nil {
		return err
	}
	if err := room.admit(w, r, p, byLink); err != nil {
		return err
	}
	http.Redirect(w, r, kit.StartAddress, http.StatusSeeOther)
	return nil
}
