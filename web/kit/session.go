package kit

import (
	"net/http"

	"kinwain/internal/staff"
)

// What a session keeps of who signed in.
const (
	roleKey   = "role"   // as it was at the request before
	personKey = "person" // id; none for the printed link
	epochKey  = "epoch"  // of the person's sessions
)

// SaidKey is where a session keeps what to say on the next page, once.
const SaidKey = "said"

// Session is who a session was begun for.
type Session struct {
	Role   staff.Role // as it was at the request before; none: nobody has signed in
	Person int64      // id; 0 for the printed link
	Epoch  int64      // of the person's sessions
}

// Session returns who the session of a request was begun for.
func (k *Kit) Session(r *http.Request) Session {
	return Session{staff.Role(k.Sessions.GetString(r.Context(), roleKey)), k.Sessions.GetInt64(r.Context(), personKey), k.Sessions.GetInt64(r.Context(), epochKey)}
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
