package shop

import (
	"net/http"
	"time"

	"github.com/go-chi/chi/v5"

	"kinwain/internal/staff"
	"kinwain/internal/store"
	"kinwain/web/kit"
)

// What a link to sign in, or a PIN, is refused with.
var (
	errLink       = &kit.Failure{Status: http.StatusNotFound, Code: "sign_in_link", Title: "This link does not sign in", Text: "It was used already, is too old, or a newer one has replaced it. Sign in with your name, or restart Kinwain with “-sign-in-link” for another link.", SignIn: true}
	errPersonLink = &kit.Failure{Status: http.StatusNotFound, Code: "person_link", Title: "This link is used up", Text: "It was used already, is older than a day, or a newer one has replaced it. Ask a manager for another.", SignIn: true}
	errDevice     = &kit.Failure{Status: http.StatusForbidden, Code: "device", Title: "No PIN on this device", Text: "A PIN works only on a device that a manager has enrolled, and this one is not, or no longer. Sign in with your name and passphrase.", SignIn: true}
)

// linkForm shows who opens the printed link a button. That alone uses nothing
// up: a program that looks at links before people do leaves it as it is.
func (room *Room) linkForm(w http.ResponseWriter, r *http.Request) error {
	valid, err := room.store.SignInLinkValid(r.Context(), chi.URLParam(r, "token"), room.Now())
	if err != nil {
		return err
	}
	if !valid {
		return errLink
	}
	return kit.Render(r.Context(), w, http.StatusOK, OneButtonPage(OneButton{Shell: room.DeskShell(r, "Sign in"), Heading: "Sign in as the manager", Action: r.URL.Path, Button: "Sign in",
		Text: "This is the link that Kinwain printed. It works once, and you stay signed in for at most 12 hours. Make yourself an account first thing: then you sign in by name."}))
}

// signIn opens a session for who has the link that the program printed.
func (room *Room) signIn(w http.ResponseWriter, r *http.Request) error {
	now := time.Now() // sessions end by the clock that began them
	entry, err := room.store.UseSignInLink(r.Context(), chi.URLParam(r, "token"), room.Now(), store.LinkEntry{Begun: now, Expires: now.Add(kit.LinkLife), Address: kit.AddressOf(r)})
	if store.CodeOf(err) == store.NotFound {
		room.Log.WarnContext(r.Context(), "sign-in refused", "how", "printed link", "from", kit.AddressOf(r))
		return errLink
	}
	if err != nil {
		return err
	}
	if err := room.Begin(r, kit.Session{Role: staff.Manager, Entry: entry}); err != nil {
		return err
	}
	room.Log.InfoContext(r.Context(), "signed in by the printed link", "from", kit.AddressOf(r))
	http.Redirect(w, r, kit.StartAddress, http.StatusSeeOther)
	return nil
}

// admit opens the session of a person, who is known on this device from now on.
func (room *Room) admit(w http.ResponseWriter, r *http.Request, p store.Person, how string) error {
	if err := room.store.NoteSignIn(r.Context(), p.ID, store.SignIn{At: room.Now(), Address: kit.AddressOf(r), How: how, LetIn: true}); err != nil {
		return err
	}
	if err := room.remember(w, r, p); err != nil {
		return err
	}
	room.Log.InfoContext(r.Context(), "signed in", "person", p.ID, "how", how, "from", kit.AddressOf(r))
	return room.Begin(r, kit.Session{Role: p.Role, Person: p.ID, Epoch: p.Epoch})
}

// signOut ends the session.
func (room *Room) signOut(w http.ResponseWriter, r *http.Request) error {
	if i := kit.Who(r); i != nil && i.ByLink() {
		if err := room.store.EndLinkEntry(r.Context(), i.Entry); err != nil {
			return err
		}
	}
	if err := room.Sessions.Destroy(r.Context()); err != nil {
		return err
	}
	http.Redirect(w, r, kit.SignInAddress, http.StatusSeeOther)
	return nil
}

// entryViews lists who is in by the printed link.
func (room *Room) entryViews(r *http.Request) ([]Entry, error) {
	list, err := room.store.LinkEntries(r.Context(), time.Now())
	if err != nil {
		return nil, err
	}
	var views []Entry
	for _, e := range list {
		views = append(views, Entry{ID: id(e.ID), You: e.ID == kit.Who(r).Entry,
			Since: "Since " + room.minute(e.Begun) + ", from " + e.Address + ". Until " + room.minute(e.Expires) + "."})
	}
	return views, nil
}

// endEntry ends a session that somebody began with the printed link.
func (room *Room) endEntry(w http.ResponseWriter, r *http.Request) error {
	n, err := pathID(r)
	if err != nil {
		return err
	}
	if err := room.store.EndLinkEntry(r.Context(), n); err != nil {
		return err
	}
	return room.Done(w, r, staffAddress, "Whoever was in by the link there is signed out.")
}
