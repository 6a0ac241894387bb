package staff

import (
	"sync"
	"time"
)

// Throttle makes whoever keeps getting a secret wrong wait, twice as long
// every time. It is kept in memory: a restart forgives. It is safe for
// concurrent use.
type Throttle struct {
	mutex sync.Mutex
	tries map[string]tries
}

type tries struct {
	wrong int
	last  time.Time
}

// Bounds of a throttle.
const (
	firstWait = time.Second
	longest   = 5 * time.Minute
	forgiven  = time.Hour // after so long without a wrong try
	crowd     = 10_000    // keys at which those that are forgiven are dropped
)

// Key names what is counted, and how many wrong tries cost nothing.
type Key struct {
	Name string
	Free int
}

// Begin counts a try as wrong, until Succeeded says otherwise, and returns 0;
// or it returns how long to wait, and counts nothing. Counting first keeps a
// hundred tries at the same time from being one.
func (t *Throttle) Begin(now time.Time, keys ...Key) time.Duration {
	t.mutex.Lock()
	defer t.mutex.Unlock()
	var wait time.Duration
	for _, k := range keys {
		wait = max(wait, t.wait(k, now))
	}
	if wait > 0 {
		return wait
	}
	t.sweep(now)
	for _, k := range keys {
		n := t.of(k.Name, now).wrong
		t.tries[k.Name] = tries{n + 1, now}
	}
	return 0
}

// Succeeded forgets the wrong tries of the first key, and takes back the one
// that Begin counted for the others.
func (t *Throttle) Succeeded(keys ...Key) {
	t.mutex.Lock()
	defer t.mutex.Unlock()
	for i, k := range keys {
		one := t.tries[k.Name]
		if one.wrong--; i == 0 || one.wrong <= 0 {
			delete(t.tries, k.Name)
		} else {
			t.tries[k.Name] = one
		}
	}
}

func (t *Throttle) of(name string, now time.Time) tries {
	one := t.tries[name]
	if now.Sub(one.last) >= forgiven {
		return tries{}
	}
	return one
}

func (t *Throttle) wait(k Key, now time.Time) time.Duration {
	one := t.of(k.Name, now)
	if one.wrong < k.Free {
		return 0
	}
	delay := longest
	if doublings := one.wrong - k.Free; doublings < 9 { // 2⁹ s is beyond the longest
		delay = min(longest, firstWait<<doublings)
	}
	return max(0, one.last.Add(delay).Sub(now))
}

// sweep keeps the memory bounded by what an hour of trying can fill.
func (t *Throttle) sweep(now time.Time) {
	if t.tries == nil {
		t.tries = map[string]tries{}
	}
	if len(t.tries) < crowd {
		return
	}
	for name, one := range t.tries {
		if now.Sub(one.last) >= forgiven {
			delete(t.tries, name)
		}
	}
}
