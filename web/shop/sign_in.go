package shop

import (
	"errors"
	"math"
	"net/http"
	"strconv"
	"time"

	"kinwain/internal/store"
	"kinwain/web/kit"
)

const (
	deviceCookie = "kinwain_device"
	deviceLife   = 365 * 24 * time.Hour
)

// What is said of a sign-in that failed. It is the same for a name that nobody
// has, so that names cannot be found out.
const (
	wrongPassphrase = "This name and passphrase do not go together, or the account is switched off. A manager can give you a new link to sign in."
	wrongPIN        = "That is not the PIN. After 5 wrong ones in a row it is locked until you sign in with the passphrase."
	lockedPIN       = "This PIN is locked after too many wrong tries. Sign in with the passphrase; then it works again."
)

// errPINLocked says that a PIN is not even looked at.
var errPINLocked = errors.New("the PIN is locked")

// device returns the enrolled device that a request comes from, or nil.
func (room *Room) device(r *http.Request) (*store.Device, error) {
	cookie, err := r.Cookie(deviceCookie)
	if err != nil {
		return nil, nil // there is none
	}
	d, err := room.store.Device(r.Context(), cookie.Value)
	if store.CodeOf(err) == store.NotFound {
		return nil, nil
	}
	return &d, err
}

func (room *Room) signInForm(w http.ResponseWriter, r *http.Request) error {
	return room.showSignIn(w, r, SignIn{Next: kit.Local(r.URL.Query().Get("next"))}, http.StatusOK)
}

// showSignIn draws the page with what was typed, but for the secrets.
func (room *Room) showSignIn(w http.ResponseWriter, r *http.Request, v SignIn, status int) error {
	v.Shell = room.DeskShell(r, "Sign in")
	v.Name = kit.Field{Name: "name", Label: "Name", Value: v.Name.Value, Needed: true}
	v.Passphrase = kit.Field{Name: "passphrase", Label: "Passphrase", Needed: true}
	v.PIN = kit.Field{Name: "pin", Label: "PIN", Needed: true, Mode: "numeric"}
	v.Person = kit.Field{Name: "person", Label: "Who are you?", Value: v.Person.Value}
	d, err := room.device(r)
	if err != nil {
		return err
	}
	if d != nil {
		people, err := room.store.People(r.Context())
		if err != nil {
			return err
		}
		v.Device = d.Label
		for _, p := range people {
			if p.PIN != "" && !p.Disabled {
				v.Person.Options = append(v.Person.Options, kit.Option{Value: strconv.FormatInt(p.ID, 10), Label: p.Name})
			}
		}
	}
	return kit.Render(r.Context(), w, status, SignInPage(v))
}

// enter lets in who proves to be one of the staff.
func (room *Room) enter(w http.ResponseWriter, r *http.Request) error {
	if _, err := kit.Posted(r); err != nil {
		return err
	}
	v := SignIn{Next: kit.Local(r.PostForm.Get("next"))}
	v.Name.Value, v.Person.Value = r.PostForm.Get("name"), r.PostForm.Get("person")
	claimed, wrong := room.byName, wrongPassphrase
	if r.PostForm.Get("do") == "pin" {
		claimed, wrong = room.byPicking, wrongPIN
	}
	p, c, err := claimed(r)
	if err != nil {
		return err
	}
	a, err := room.proves(r, p, c)
	switch {
	case errors.Is(err, errPINLocked):
		v.Alert = lockedPIN
		return room.showSignIn(w, r, v, http.StatusUnprocessableEntity)
	case err != nil:
		return err
	case !a.right || p.Disabled:
		if a.wait == 0 {
			if err := room.refused(r, c); err != nil {
				return err
			}
		}
		var status int
		v.Alert, status = a.said(wrong)
		if a.wait > 0 {
			w.Header().Set("Retry-After", strconv.Itoa(int(math.Ceil(a.wait.Seconds()))))
		}
		return room.showSignIn(w, r, v, status)
	}
	if err := room.store.ForgivePIN(r.Context(), p.ID); err != nil {
		return err
	}
	if err := room.admit(w, r, p, c.how); err != nil {
		return err
	}
	http.Redirect(w, r, v.Next, http.StatusSeeOther)
	return nil
}

// byName is the claim of a name and a passphrase. A name that nobody has costs
// what a wrong passphrase costs.
func (room *Room) byName(r *http.Request) (store.Person, claim, error) {
	p, err := room.store.PersonNamed(r.Context(), r.PostForm.Get("name"))
	if err != nil && store.CodeOf(err) != store.NotFound {
		return p, claim{}, err
	}
	c, err := room.claimFrom(r, byPassphrase, r.PostForm.Get("name"), p)
	c.hash = p.Passphrase
	return p, c, err
}

// byPicking is the claim of a person and a PIN, which works on an enrolled
// device only.
func (room *Room) byPicking(r *http.Request) (store.Person, claim, error) {
	d, err := room.device(r)
	if err != nil {
		return store.Person{}, claim{}, err
	}
	if d == nil {
		return store.Person{}, claim{}, errDevice
	}
	id, err := strconv.ParseInt(r.PostForm.Get("person"), 10, 64)
	if err != nil {
		return store.Person{}, claim{}, kit.ErrForm
	}
	p, err := room.store.Person(r.Context(), id)
	if err != nil && store.CodeOf(err) != store.NotFound {
		return p, claim{}, err
	}
	c, err := room.claimFrom(r, byPIN, p.Name, p)
	c.hash = p.PIN
	return p, c, err
}

// proves holds what was typed against a claim.
func (room *Room) proves(r *http.Request, p store.Person, c claim) (attempt, error) {
	if c.how == byPassphrase {
		return room.tries(r, c, r.PostForm.Get("passphrase"), nil)
	}
	return room.tries(r, c, r.PostForm.Get("pin"), func() error {
		may, err := room.store.TryPIN(r.Context(), p.ID, pinTries)
		if err == nil && !may && p.PIN != "" {
			return errPINLocked
		}
		return err
	})
}
