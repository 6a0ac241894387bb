package shop

import (
	"context"
	"errors"
	"fmt"
	"math"
	"net/http"
	"time"

	"kinwain/internal/staff"
	"kinwain/internal/store"
	"kinwain/web/kit"
)

// How many wrong tries cost no waiting. Common practice, no published source.
const (
	freeTries = 3 // of a name from one address, or from a device that is known
	// freeAddressTries are of one address with whatever names, since a whole
	// shop may share one.
	freeAddressTries = 10
	// freeNameTries are of a name from wherever. A few addresses stay far below
	// within the hour that is counted, so that it takes a crowd of them to make
	// the owner wait, and then only on a device that is not known.
	freeNameTries = 100
	// pinTries wrong in a row lock a PIN until its person signs in with the
	// passphrase.
	pinTries = 5
)

var errTurn = &kit.Failure{Status: http.StatusTooManyRequests, Code: "busy", Title: "Too many at once", Text: "Too many are signing in at this moment. Wait a few seconds, then try again.", Retry: 5}

// longestTurn is how long somebody waits for a turn.
const longestTurn = 8 * time.Second

// With what somebody proves who they are.
const (
	byPassphrase = "passphrase"
	byPIN        = "PIN"
	byLink       = "link"
)

// claim is who somebody says to be, and how their wrong tries are counted.
type claim struct {
	person int64  // id; 0 for a name that nobody has
	how    string // with what they prove it
	hash   string // of the secret that proves it; empty where there is none
	keys   []staff.Key
	from   string // whose turn it is to have a secret hashed
	known  bool   // comes from a device that is known
}

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

// claimFrom is the claim of somebody who is not signed in, by the name they
// say, known or not.
func (room *Room) claimFrom(r *http.Request, how, name string, p store.Person) (claim, error) {
	c := claim{person: p.ID, how: how, from: kit.Neighbours(r)}
	device, err := room.knownAs(r, p)
	if err != nil {
		return c, err
	}
	name = how + " of " + staff.Fold(name)
	if device != "" {
		c.known, c.keys = true, []staff.Key{{Name: device + " " + name, Free: freeTries}}
		return c, nil
	}
	c.keys = []staff.Key{{Name: "address " + c.from + " " + name, Free: freeTries}, {Name: "address " + c.from, Free: freeAddressTries}, {Name: name, Free: freeNameTries}}
	return c, nil
}

// ownClaim is the claim of who is signed in to be that person still.
func ownClaim(p store.Person) claim {
	own := fmt.Sprintf("person %d", p.ID)
	return claim{person: p.ID, how: byPassphrase, hash: p.Passphrase, from: own, known: true, keys: []staff.Key{{Name: own, Free: freeTries}}}
}

// tries holds a secret against the hash of a claim, unless too many were wrong
// before it. A check that is given comes between: it may count, and refuse.
func (room *Room) tries(r *http.Request, c claim, secret string, may func() error) (attempt, error) {
	// Whoever has to wait takes nobody's turn.
	if wait, err := room.store.TryWait(r.Context(), room.Now(), c.keys...); err != nil || wait > 0 {
		return attempt{wait: wait}, err
	}
	end, err := room.turn(r, c.from, c.known)
	if err != nil {
		return attempt{}, err
	}
	defer end()
	if wait, err := room.store.BeginTry(r.Context(), room.Now(), c.keys...); err != nil || wait > 0 {
		return attempt{wait: wait}, err
	}
	if may != nil {
		if err := may(); err != nil {
			return attempt{}, err
		}
	}
	right, err := staff.Matches(c.hash, secret)
	if err == nil && right {
		err = room.store.ForgiveTries(r.Context(), c.keys...)
	}
	return attempt{right: right}, err
}

// turn waits for a turn to have a secret hashed.
func (room *Room) turn(r *http.Request, from string, known bool) (end func(), err error) {
	ctx, cancel := context.WithTimeout(r.Context(), longestTurn)
	defer cancel()
	end, err = room.turns.Take(ctx, from, known)
	if errors.Is(err, staff.ErrBusy) || err != nil && r.Context().Err() == nil {
		return nil, errTurn
	}
	return end, err
}

// hash hashes a secret that somebody chose, when it is their turn.
func (room *Room) hash(r *http.Request, secret string) (string, error) {
	end, err := room.turn(r, kit.Neighbours(r), kit.Who(r) != nil)
	if err != nil {
		return "", err
	}
	defer end()
	return staff.Hash(secret), nil
}

// refused notes that somebody failed to prove who they are. What was typed is
// not noted, the name neither: it may be the passphrase.
func (room *Room) refused(r *http.Request, c claim) error {
	room.Log.WarnContext(r.Context(), "sign-in refused", "person", c.person, "how", c.how, "from", kit.AddressOf(r), "known device", c.known)
	if c.person == 0 {
		return nil
	}
	return room.store.NoteSignIn(r.Context(), c.person, store.SignIn{At: room.Now(), Address: kit.AddressOf(r), How: c.how})
}
