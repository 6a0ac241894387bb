package fitting_test

import (
	"slices"
	"testing"

	"kinwain/internal/fitting"
	"kinwain/internal/profile"
)

// watcher follows a search with all the sets that hold in hand.
type watcher struct {
	t       tester
	holding []set
	seen    map[string]int
	rows    int
}

// holding lists the sets that hold on a day, by the slow way.
func (w *world) holding() []set {
	people := party(w.profile, asOf)
	var list []set
	for _, s := range w.sets(fitting.AllRules) {
		if w.settle(s.counts, people, fitting.AllRules) != nil {
			list = append(list, s)
		}
	}
	return list
}

// see holds, before every node, each set that holds and is better than the
// incumbent to lie in an open node, and every such node's bound to be no more
// than what the set comes to.
func (w *watcher) see(s fitting.Search) {
	w.seen["nodes"]++
	fresh := s.Rows() != w.rows
	w.rows = s.Rows()
	for i := range w.holding {
		counts := w.holding[i].counts
		if !s.Covers(counts) {
			continue
		}
		if fresh {
			w.keepsRows(s, counts)
		}
		if !s.Better(counts) {
			continue
		}
		bounds := s.Open(counts)
		if len(bounds) == 0 {
			w.t.Fatalf("the set %v holds, is better than what was found, and is in no open node", counts)
		}
		if least := slices.Min(bounds); least > s.Value(counts) {
			w.t.Fatalf("the set %v comes to %v in a node with the bound %v", counts, s.Value(counts), least)
		}
		w.seen["in an open node"]++
	}
}

// keepsRows asks that a set that holds keeps every row that there is so far.
func (w *watcher) keepsRows(s fitting.Search, counts []int) {
	possible, bound := s.Held(counts)
	if value := s.Value(counts); !possible || bound > value {
		w.t.Fatalf("the set %v holds and comes to %v; by the rows it is possible: %v, for at least %v", counts, value, possible, bound)
	}
	w.seen["keeps the rows"]++
}

// Whatever holds keeps the rows of the model, also those added on the way; a
// node's bound is never above what a set in it comes to; and what is better
// than all that was found is never lost sight of, whatever shortcuts are on.
func TestNoBoundIsAboveTheTruth(t *testing.T) {
	t.Parallel()
	seen := map[string]int{}
	for name, draw := range map[string]func(seed int) *instance{
		"anything": func(seed int) *instance { return sample(anything, seed) },
		"families": func(seed int) *instance { return sample(families, seed) },
		"outings":  func(seed int) *instance { return sample(outings, seed) },
		"couriers": func(seed int) *instance { return sample(couriers, seed) },
		"packed":   packed,
	} {
		t.Run(name, func(t *testing.T) {
			for seed := range referenceSeeds(t, 800) {
				watch(t, draw(seed), seed, seen)
			}
		})
	}
	t.Log(seen)
	for what, least := range map[string]int{"nodes": 1000, "keeps the rows": 2500, "in an open node": 2500} {
		if seen[what] < least {
			t.Errorf("%s: %d, which is not enough to tell", what, seen[what])
		}
	}
}

func watch(t *testing.T, in *instance, seed int, seen map[string]int) {
	t.Helper()
	world := worldOf(in)
	if world.howMany() > 48 {
		return
	}
	defer func() {
		if t.Failed() {
			t.Logf("seed %d", seed)
			in.show(t)
		}
	}()
	// What holds with a few grams to spare on the axles surely does in grams.
	w := &watcher{t: t, holding: worldOf(in.withLessOnAxles(fewGrams)).holding(), seen: seen}
	for _, objective := range []profile.Objective{profile.LeastCost, profile.Lightest} {
		p := in.problem().Without(uint16(seed * 37)) // other shortcuts with every seed
		if seed%2 == 0 {
			p.Without(0)
		}
		p.Observe(w.see)
		b, err := p.Solve(t.Context(), objective, fitting.AllRules)
		if err != nil && len(w.holding) > 0 || err == nil && len(w.holding) == 0 && world.holding() == nil {
			t.Fatalf("%s: %s (%v); %d sets hold", objective, said(b), err, len(w.holding))
		}
	}
}
