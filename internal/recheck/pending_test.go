package recheck

import (
	"math"
	"slices"
	"sync"
	"testing"
)

// notYet lists the rules that the program does not keep yet. A match that one
// of them touches is worked out anew all the same, and what differs is not
// told; as soon as nothing differs any more the test says that the rule is to
// be taken off this list.
var notYet = map[string]string{
	"joins":     "who joins later is judged as on the day of joining, not as by the end of that month",
	"ageless":   "without an age there is no place with limits of age, no growth and no horizon",
	"unplaced":  "what is in no zone, and states no place, counts whole on either axle",
	"upright":   "on its tail a bike is longer by what sticks out behind and above, and is walked so where it does not pass on its wheels",
	"scoped":    "foot rests, hand holds and backrests of a seat serve that seat alone",
	"lift":      "every build holds the front wheel down",
	"whole":     "the sheets are of all that was asked for",
	"grip":      "brakes that suit a reduced grip are said to",
	"displaces": "an add-on takes room of its zone's own cargo",
	"ahead":     "an add-on in no zone may state where it sits",
}

// waiting counts what rules of the list touch, and how much of it differs.
type waiting struct {
	sync.Mutex
	touched, differs map[string]int
}

var waits = waiting{touched: map[string]int{}, differs: map[string]int{}}

func (w *waiting) count(rule string, differs bool) {
	w.Lock()
	defer w.Unlock()
	if w.touched[rule]++; differs {
		w.differs[rule]++
	}
}

// over fails where a rule of the list is kept by now.
func (w *waiting) over(t *testing.T) {
	t.Helper()
	w.Lock()
	defer w.Unlock()
	for rule, why := range notYet {
		if w.touched[rule] >= 25 && w.differs[rule] == 0 {
			t.Errorf("it is kept in all of %d matches by now, and to be taken off the list: %s", w.touched[rule], why)
		}
		t.Logf("not yet: %s (%d of %d matches differ)", why, w.differs[rule], w.touched[rule])
	}
}

func listed(rule string) bool { return notYet[rule] != "" }

// pending names a rule of the list that touches the match.
func (r *recheck) pending() string {
	for _, rule := range []struct {
		name    string
		touches func() bool
	}{
		{"joins", r.touchedByJoining}, {"ageless", r.ageless}, {"unplaced", r.touchedByUnplaced}, {"lift", r.touchedByLift}, {"grip", r.touchedByGrip},
		{"whole", func() bool { return r.match.Asked == nil && r.sums.carried < r.everything() }},
		{"scoped", r.touchedByScope},
		{"upright", func() bool { return r.profile.Home.given && r.outline().stands }},
	} {
		if listed(rule.name) && rule.touches() {
			return rule.name
		}
	}
	return ""
}

func (r *recheck) touchedByJoining() bool {
	return slices.ContainsFunc(r.profile.Passengers.value, func(p passenger) bool {
		return p.Joins.value != "" && !r.asOf.After(lastOf(dayOf(p.Joins.value)))
	})
}

func (r *recheck) touchedByUnplaced() bool {
	return r.frame.statesAxles() && slices.ContainsFunc(r.all, func(t thing) bool { return t.nowhere && t.kind != "delivered" })
}

// touchedByLift reports whether little is on the front wheel, today or with
// more behind.
func (r *recheck) touchedByLift() bool {
	least := math.Inf(1)
	for _, w := range r.riders {
		a := r.frame.axles(r.all, w.riding)
		least = min(least, float64(a.front)/float64(a.scale)/float64(r.sums.whole+w.riding))
	}
	return r.frame.statesAxles() && least < 0.1
}

func (r *recheck) touchedByGrip() bool {
	return slices.ContainsFunc(r.profile.Riders, func(p rider) bool { return p.Grip.value == "reduced" })
}

func (r *recheck) touchedByScope() bool {
	needs := func(pl place) bool {
		return slices.ContainsFunc(slices.Concat(pl.Needs...), func(tag string) bool { return slices.Contains(scoped, tag) })
	}
	return slices.ContainsFunc(r.frame.Places, needs) ||
		slices.ContainsFunc(r.heres(), func(h here) bool { return slices.ContainsFunc(h.Places, needs) })
}
