package staff

import (
	"cmp"
	"context"
	"errors"
	"slices"
	"sync"
)

// Turns puts those in a line who want a secret hashed, which takes a tenth of a
// second and 64 MiB each. Whoever is known goes first, then who had the fewest
// turns of late: a crowd that keeps trying stands behind everybody who did not.
// Of equals the last to come goes first: when a crowd comes at once, most of it
// waits for long anyway, and somebody else need not wait for all of it. It is safe for concurrent use, and the zero value lets
// one in at a time.
type Turns struct {
	mutex   sync.Mutex
	busy    bool
	waiting []*waiter
	served  []string // whose the last turns were
}

// Bounds of a line.
const (
	mostWaiting = 64  // beyond them the last of the line is sent away
	remembered  = 512 // turns
)

// ErrBusy says that there were too many in the line before somebody.
var ErrBusy = errors.New("too many are waiting to sign in")

// waiter is one who waits. What is sent to called is nil, or why there will be
// no turn.
type waiter struct {
	who    string
	known  bool
	called chan error
}

// Take waits for a turn and returns what ends it. Turns are counted by who asks.
// The error is ErrBusy, or that of the context.
func (t *Turns) Take(ctx context.Context, who string, known bool) (end func(), err error) {
	w := t.join(who, known)
	select {
	case err := <-w.called:
		if err != nil {
			return nil, err
		}
		return t.end, nil
	case <-ctx.Done():
		t.leave(w)
		return nil, ctx.Err()
	}
}

// join puts one more in the line, or calls them at once.
func (t *Turns) join(who string, known bool) *waiter {
	t.mutex.Lock()
	defer t.mutex.Unlock()
	w := &waiter{who, known, make(chan error, 1)}
	t.waiting = slices.Insert(t.waiting, 0, w) // the last to come is the first of equals
	switch {
	case !t.busy:
		t.next()
	case len(t.waiting) > mostWaiting:
		last := t.waiting[0]
		for _, one := range t.waiting {
			if t.compare(one, last) >= 0 { // of equals, who waits for longest
				last = one
			}
		}
		t.drop(last)
		last.called <- ErrBusy
	}
	return w
}

// compare says who of two goes first: the one with less.
func (t *Turns) compare(a, b *waiter) int {
	if a.known != b.known {
		if a.known {
			return -1
		}
		return 1
	}
	return cmp.Compare(t.had(a.who), t.had(b.who))
}

// had returns how many of the last turns somebody had.
func (t *Turns) had(who string) int {
	n := 0
	for _, one := range t.served {
		if one == who {
			n++
		}
	}
	return n
}

// next calls the first of the line, if there is one.
func (t *Turns) next() {
	if t.busy = len(t.waiting) > 0; !t.busy {
		return
	}
	w := slices.MinFunc(t.waiting, t.compare)
	t.drop(w)
	if t.served = append(t.served, w.who); len(t.served) > remembered {
		t.served = t.served[1:]
	}
	w.called <- nil
}

// drop takes somebody out of the line, and reports whether they were in it.
func (t *Turns) drop(w *waiter) bool {
	at := slices.Index(t.waiting, w)
	if at >= 0 {
		t.waiting = slices.Delete(t.waiting, at, at+1)
	}
	return at >= 0
}

// end ends a turn and begins the next.
func (t *Turns) end() {
	t.mutex.Lock()
	defer t.mutex.Unlock()
	t.next()
}

// leave takes somebody out of the line who waits no longer, and passes the turn
// on where it came at the same moment.
func (t *Turns) leave(w *waiter) {
	t.mutex.Lock()
	there := t.drop(w)
	t.mutex.Unlock()
	if !there && <-w.called == nil {
		t.end()
	}
}
