package shop

import (
	"errors"
	"fmt"
	"math"
	"net"
	"net/http"
	"strconv"
	"strings"
	"time"

	"kinwain/internal/staff"
	"kinwain/internal/store"
	"kinwain/web/kit"
)

const (
	// freeTries of a name cost no waiting; of an address more, since a whole
	// shop may share one. Common practice, no published source.
	freeTries        = 3
	freeAddressTries = 10
	// pinTries wrong in a row lock a PIN until its person signs in with the
	// passphrase.
	pinTries = 5

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

// attempt is what came of an attempt to prove who one is.
type attempt struct {
	right bool
	wait  time.Duration // nothing was looked at; try again after this
}

// said says what came of an attempt that failed, and with which status.
func (a attempt) said(wrong string) (string, int) {
	if a.wait == 0 {
		return wrong, http.StatusUnprocessableEntity
	}
	n := int(math.Ceil(a.wait.Seconds()))
	wait := fmt.Sprintf("%d seconds", n)
	switch {
	case n == 1:
		wait = "1 second"
	case n > 90:
		wait = fmt.Sprintf("%d minutes", (n+59)/60)
	}
	return "Too many wrong tries. Wait " + wait + ", then try again.", http.StatusTooManyRequests
}

// tries holds a secret against a hash, unless too many were wrong before it.
// A check that is given comes between: it may count, and refuse.
func (room *Room) tries(r *http.Request, name, hash, secret string, may func() error) (attempt, error) {
	keys, err := room.counted(r, name)
	if err != nil {
		return attempt{}, err
	}
	if wait := room.throttle.Begin(room.Now(), keys...); wait > 0 {
		return attempt{wait: wait}, nil
	}
	if may != nil {
		if err := may(); err != nil {
			return attempt{}, err
		}
	}
	right, err := staff.Matches(hash, secret)
	if err == nil && right {
		room.throttle.Succeeded(keys...)
	}
	return attempt{right: right}, err
}

// counted returns by what wrong tries are counted. Who is named by a device is
// counted there, so that others cannot keep them out by guessing elsewhere.
func (room *Room) counted(r *http.Request, name string) ([]staff.Key, error) {
	d, err := room.device(r)
	if err != nil {
		return nil, err
	}
	name = "name " + staff.Fold(name)
	if d != nil {
		name = fmt.Sprintf("device %d %s", d.ID, name)
	}
	return []staff.Key{{Name: name, Free: freeTries}, {Name: "address " + room.address(r), Free: freeAddressTries}}, nil
}

// address returns where a request comes from: what the proxy on this computer
// says, or else the other end of the connection.
func (room *Room) address(r *http.Request) string {
	host, _, err := net.SplitHostPort(r.RemoteAddr)
	if err != nil {
		return r.RemoteAddr
	}
	if ip := net.ParseIP(host); ip != nil && ip.IsLoopback() {
		passed := strings.Split(strings.Join(r.Header.Values("X-Forwarded-For"), ","), ",")
		if ip := net.ParseIP(strings.TrimSpace(passed[len(passed)-1])); ip != nil {
			return ip.String()
		}
	}
	return host
}

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
	check, wrong := room.byPassphrase, wrongPassphrase
	if r.PostForm.Get("do") == "pin" {
		check, wrong = room.byPIN, wrongPIN
	}
	p, a, err := check(r)
	switch {
	case errors.Is(err, errPINLocked):
		v.Alert = lockedPIN
		return room.showSignIn(w, r, v, http.StatusUnprocessableEntity)
	case err != nil:
		return err
	case !a.right:
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
	if err := room.admit(r, p); err != nil {
		return err
	}
	http.Redirect(w, r, v.Next, http.StatusSeeOther)
	return nil
}

// byPassphrase checks a name and a passphrase. A name that nobody has costs
// what a wrong passphrase costs.
func (room *Room) byPassphrase(r *http.Request) (store.Person, attempt, error) {
	p, err := room.store.PersonNamed(r.Context(), r.PostForm.Get("name"))
	if err != nil && store.CodeOf(err) != store.NotFound {
		return p, attempt{}, err
	}
	a, err := room.tries(r, r.PostForm.Get("name"), p.Passphrase, r.PostForm.Get("passphrase"), nil)
	a.right = a.right && !p.Disabled
	return p, a, err
}

// byPIN checks a PIN, which works on an enrolled device only.
func (room *Room) byPIN(r *http.Request) (store.Person, attempt, error) {
	d, err := room.device(r)
	if err != nil {
		return store.Person{}, attempt{}, err
	}
	if d == nil {
		return store.Person{}, attempt{}, errDevice
	}
	id, err := strconv.ParseInt(r.PostForm.Get("person"), 10, 64)
	if err != nil {
		return store.Person{}, attempt{}, kit.ErrForm
	}
	p, err := room.store.Person(r.Context(), id)
	if err != nil && store.CodeOf(err) != store.NotFound {
		return p, attempt{}, err
	}
	a, err := room.tries(r, "PIN of "+p.Name, p.PIN, r.PostForm.Get("pin"), func() error {
		may, err := room.store.TryPIN(r.Context(), id, pinTries)
		if err == nil && !may && p.PIN != "" {
			return errPINLocked
		}
		return err
	})
	a.right = a.right && !p.Disabled
	return p, a, err
}
