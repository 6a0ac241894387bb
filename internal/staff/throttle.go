package staff

import "time"

// Tries are the wrong ones of one key in a row, and when the last of them was.
type Tries struct {
	Wrong int
	Last  time.Time
}

// Bounds of waiting.
const (
	firstWait = time.Second
	longest   = 5 * time.Minute
	// Forgiven is how long without a wrong try lets all before be forgotten.
	Forgiven = time.Hour
)

// Key names what wrong tries are counted by, and how many of them cost nothing.
type Key struct {
	Name string
	Free int
}

// After returns the tries as they stand with one more, which counts as wrong
// until it proves right.
func (t Tries) After(now time.Time) Tries {
	if now.Sub(t.Last) >= Forgiven {
		t.Wrong = 0
	}
	return Tries{t.Wrong + 1, now}
}

// Wait returns how long somebody waits before the next try: not at all while
// some are free, and then twice as long every time.
func (t Tries) Wait(free int, now time.Time) time.Duration {
	if t.Wrong < free || now.Sub(t.Last) >= Forgiven {
		return 0
	}
	delay := longest
	if doublings := t.Wrong - free; doublings < 9 { // 2⁹ s is beyond the longest
		delay = min(longest, firstWait<<doublings)
	}
	return max(0, t.Last.Add(delay).Sub(now))
}
