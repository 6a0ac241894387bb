package kit

import (
	"net/http"
	"time"

	"kinwain/internal/staff"
)

// What a session keeps of who signed in.
const (
	roleKey   = "role"   // as it was at the request before
	personKey = "person" // id; none for the printed link
	epochKey  = "epoch"  // of the person's sessions
	entryKey  = "entry"  // by the printed link; none for a person
)

// SaidKey is where a session keeps what to say on the next page, once.
const SaidKey = "said"

// Session is who a session was begun for.
type Session struct {
	Role   staff.Role // as it was at the request before; none: nobody has signed in
	Person int64      // id; 0 for the printed link
	Epoch  int64      // of the person's sessions
	Entry  int64      // by the printed link; 0 for a person
}

// LinkLife is how long a session lasts that somebody began with the printed
// link.
const LinkLife = 12 * time.Hour

// Session returns who the session of a request was begun for.
func (k *Kit) Session(r *http.Request) Session {
	return Session{staff.Role(k.Sessions.GetString(r.Context(), roleKey)), k.Sessions.GetInt64(r.Context(), personKey), k.Sessions.GetInt64(r.Context(), epochKey), k.Sessions.GetInt64(r.Context(), entryKey)}
}

// Begin opens a session with a token of its own, with nothing left of the one
// before.
func (k *Kit) Begin(r *http.Request, s Session) error {
	if err := k.Sessions.Clear(r.Context()); err != nil {
		return err
	}
	if err := k.Sessions.RenewToken(r.Context()); err != nil {
		return err
	}
	k.Sessions.Put(r.Context(), roleKey, string(s.Role))
	if s.Person != 0 {
		k.Sessions.Put(r.Context(), personKey, s.Person)
		k.Sessions.Put(r.Context(), epochKey, s.Epoch)
	}
	if s.Entry != 0 {
		k.Sessions.Put(r.Context(), entryKey, s.Entry)
		k.Sessions.SetDeadline(r.Context(), time.Now().Add(LinkLife)) // sessions end by the clock that began them
	}
	return nil
}

// Promote gives a session other rights, and with them another token.
func (k *Kit) Promote(r *http.Request, role staff.Role) error {
	if err := k.Sessions.RenewToken(r.Context()); err != nil {
		return err
	}
	k.Sessions.Put(r.Context(), roleKey, string(role))
	return nil
}

// Done goes on to a page that says what was done.
func (k *Kit) Done(w http.ResponseWriter, r *http.Request, address, said string) error {
	k.Sessions.Put(r.Context(), SaidKey, said)
	http.Redirect(w, r, address, http.StatusSeeOther)
	return nil
}
