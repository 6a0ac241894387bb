// What a relaxation says of a programme, held against every whole point and,
// of small ones, against the exact optimum of the relaxation.
package relax_test

import (
	"math"
	"math/big"
	"slices"
	"testing"

	"pgregory.net/rapid"

	"kinwain/internal/fitting/relax"
)

// walk is one branch of a search: ends that only come nearer each other.
type walk struct {
	*rapid.T
	drawer
	p         *programme
	written   *relax.Program
	low, high []int64
	r         *relax.Relaxation
	copied    bool
	met       map[string]int
}

func setOut(t *rapid.T, columns int64, met map[string]int) *walk {
	d := drawer{t}
	w := &walk{T: t, drawer: d, p: d.programme(columns), r: new(relax.Relaxation), met: met}
	w.written = w.p.written()
	w.low, w.high = slices.Clone(w.p.low), slices.Clone(w.p.high)
	w.r.Start(w.written)
	return w
}

// step does one of the things that a search does.
func (w *walk) step() {
	switch of(w.drawer, 0, 0, 0, 1, 1, 2, 3) {
	case 0:
		w.move()
	case 1:
		other := new(relax.Relaxation)
		if of(w.drawer, false, true) {
			*other = *w.scrap()
		}
		other.CopyFrom(w.r)
		w.r, w.copied = other, true
	case 2:
		l := w.line(w.p)
		w.p.rows = append(w.p.rows, l)
		l.write(w.written)
		w.r.Extend()
	case 3:
		w.r.Solve(float64(w.within(-10, 10)))
	}
}

// scrap is a relaxation of another programme, whose memory serves again.
func (w *walk) scrap() *relax.Relaxation {
	r := new(relax.Relaxation)
	r.Start(w.drawer.programme(5).written())
	r.Solve(math.Inf(1))
	return r
}

func (w *walk) move() {
	j := int(w.within(0, 10)) % len(w.low)
	low := w.within(w.low[j], w.high[j])
	high := w.within(low, w.high[j])
	w.low[j], w.high[j] = low, high
	w.r.Move(j, float64(low), float64(high))
}

// check holds all that the relaxation says against every whole point.
func (w *walk) check() {
	cost, found := w.p.least(w.low, w.high)
	w.ahead()
	outcome := w.r.Solve(math.Inf(1))
	bound := w.r.Bound()
	w.met[[...]string{"solved", "impossible", "unsure"}[outcome]]++
	w.met["copied"] += b2i(w.copied)
	if found && (outcome == relax.Impossible || bound > float64(cost)) {
		w.Fatalf("%+v between %v and %v: outcome %v, bound %v; a whole point costs %d", w.p, w.low, w.high, outcome, bound, cost)
	}
	for j := range w.low {
		if low, high := w.r.Ends(j); low != float64(w.low[j]) || high != float64(w.high[j]) {
			w.Fatalf("column %d is between %v and %v, not %d and %d", j, low, high, w.low[j], w.high[j])
		}
	}
	w.ahead()
	w.anew(outcome, bound)
}

// ahead asks what a search asks before it makes a node, and that the
// relaxation stays as it was.
func (w *walk) ahead() {
	before := w.r.Bound()
	for j := range w.low {
		low := w.within(w.low[j], w.high[j])
		high := w.within(low, w.high[j])
		enough := of(w.drawer, before, before+1, before+5, math.Inf(1))
		hopeless := w.r.Hopeless(j, float64(low), float64(high), enough)
		w.met["hopeless"] += b2i(hopeless)
		if !hopeless {
			continue
		}
		nearer, farther := slices.Clone(w.low), slices.Clone(w.high)
		nearer[j], farther[j] = low, high
		if cost, found := w.p.least(nearer, farther); found && float64(cost) <= enough {
			w.Fatalf("%+v between %v and %v: column %d between %d and %d is hopeless for %v; a whole point costs %d", w.p, w.low, w.high, j, low, high, enough, cost)
		}
	}
	if after := w.r.Bound(); after != before {
		w.Fatalf("the bound was %v and is %v after looking ahead", before, after)
	}
}

// anew solves the same from the beginning, with nothing left out: the answers
// are the same.
func (w *walk) anew(outcome relax.Outcome, bound float64) {
	var whole relax.Relaxation
	whole.Start(w.written)
	for j := range w.low {
		whole.Move(j, float64(w.low[j]), float64(w.high[j]))
	}
	again := whole.Solve(math.Inf(1))
	if outcome == relax.Unsure || again == relax.Unsure {
		return
	}
	if !w.p.even() {
		return
	}
	if outcome != again || outcome == relax.Solved && math.Abs(bound-whole.Bound()) > 1e-6*w.p.size() {
		w.Fatalf("%+v between %v and %v: %v with the bound %v; solved anew %v with %v", w.p, w.low, w.high, outcome, bound, again, whole.Bound())
	}
}

// exact holds the outcome against the exact optimum.
func (w *walk) exact() {
	outcome := w.r.Solve(math.Inf(1))
	optimum, found := w.p.leastOfAll(w.low, w.high)
	bound := new(big.Rat)
	bound.SetFloat64(w.r.Bound())
	if found && (outcome == relax.Impossible || bound.Cmp(optimum) > 0) {
		w.Fatalf("%+v between %v and %v: outcome %v, bound %v; the optimum is %v", w.p, w.low, w.high, outcome, w.r.Bound(), optimum)
	}
	if !found && outcome == relax.Solved {
		w.met["solved though impossible"]++ // by less than the tolerance
	}
	if outcome != relax.Solved || !found {
		return
	}
	if least, _ := optimum.Float64(); w.p.even() && least-w.r.Bound() > 1e-6*w.p.size() {
		w.Fatalf("%+v between %v and %v: the bound is %v, the optimum %v", w.p, w.low, w.high, w.r.Bound(), least)
	}
	for j := range w.low {
		if v := w.r.Value(j); w.p.even() && (v < float64(w.low[j])-1e-6 || v > float64(w.high[j])+1e-6) {
			w.Fatalf("%+v between %v and %v: column %d stands at %v", w.p, w.low, w.high, j, v)
		}
	}
	w.met["optimal"]++
}

func b2i(b bool) int {
	if b {
		return 1
	}
	return 0
}

func (w *walk) along(exactly bool) {
	for range w.within(0, 8) {
		w.step()
		w.check()
		if exactly {
			w.exact()
		}
	}
	w.check()
}

func TestBoundsHoldOnEveryBranch(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(t *rapid.T) { setOut(t, 5, map[string]int{}).along(false) })
}

func TestSolvedIsTheOptimum(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(t *rapid.T) { setOut(t, 3, map[string]int{}).along(true) })
}

// The same over fixed seeds, with what was met counted.
func TestBoundsOverSeeds(t *testing.T) {
	t.Parallel()
	met := map[string]int{}
	for seed := range 3000 {
		rapid.Custom(func(r *rapid.T) bool {
			w := setOut(r, 4, met)
			w.along(len(w.low) < 4)
			return true
		}).Example(seed)
	}
	t.Log(met)
	for what, least := range map[string]int{"solved": 4000, "impossible": 2000, "copied": 3000, "hopeless": 1000, "optimal": 1000} {
		if met[what] < least {
			t.Errorf("%s was met %d times, which is not enough to tell", what, met[what])
		}
	}
	if met["unsure"]*100 > met["solved"] {
		t.Errorf("%d of %d were left open", met["unsure"], met["solved"])
	}
}
