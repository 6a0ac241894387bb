// What is said when the time is over before the search is: a build that holds
// with a bound that is true, or nothing; never that nothing holds.
package fitting_test

import (
	"context"
	"errors"
	"testing"

	"kinwain/internal/fitting"
	"kinwain/internal/profile"
)

// spent is a context whose time is over after it was asked so many times.
type spent struct {
	context.Context
	left int
}

func (s *spent) Err() error {
	if s.left--; s.left < 0 {
		return context.DeadlineExceeded
	}
	return nil
}

// mostAsked is how often one solve may ask whether to go on before it is given
// up, so that a seed that is out of hand does not hold up the rest: about a
// second, but the same on every machine and under any load.
const mostAsked = 1000

func enough() context.Context { return &spent{context.Background(), mostAsked} }

func TestAnswersWhenTheTimeIsOver(t *testing.T) {
	t.Parallel()
	met := map[string]int{}
	for _, sort := range []struct {
		name  string
		seeds int
		draw  func(seed int) *instance
	}{
		{"packed", 40, packed},
		{"hard", 6, func(seed int) *instance { return equip(hard, seed) }},
		{"rated", 6, func(seed int) *instance { return equip(rated, seed) }},
		{"bags", 12, func(seed int) *instance { return bagged(32, seed) }},
	} {
		t.Run(sort.name, func(t *testing.T) {
			for seed := range sort.seeds {
				in := sort.draw(seed)
				for _, objective := range []profile.Objective{profile.LeastCost, profile.Lightest} {
					breakOff(t, ask(in), objective, met)
					if t.Failed() {
						t.Logf("seed %d, %s", seed, objective)
						return
					}
				}
			}
		})
	}
	t.Log(met)
	for what, least := range map[string]int{"unproved": 20, "unsettled": 10, "proved": 50, "the bound is above nothing": 10} {
		if met[what] < least {
			t.Errorf("%s was met %d times, which is not enough to tell", what, met[what])
		}
	}
}

// breakOff asks for the best build in less and less time.
func breakOff(t *testing.T, a *asked, objective profile.Objective, met map[string]int) {
	t.Helper()
	best, err := a.fresh().Solve(enough(), objective, fitting.AllRules)
	if errors.Is(err, fitting.ErrUnsettled) || best != nil && best.Unproved {
		met["too hard"]++
		return
	}
	for left := range 12 {
		b, err := a.fresh().Solve(&spent{context.Background(), left * left * left / 8}, objective, fitting.AllRules)
		switch {
		case errors.Is(err, fitting.ErrUnsettled):
			met["unsettled"]++
		case errors.Is(err, fitting.ErrInfeasible):
			if best != nil {
				t.Errorf("nothing is said to hold; %s does", said(best))
			}
			met["infeasible"]++
		case err != nil:
			t.Errorf("%v", err)
		case best == nil:
			t.Errorf("%s; nothing holds", said(b))
		default:
			compareUnproved(t, a.instance, b, best, objective, met)
		}
		if ok, err := a.fresh().Feasible(&spent{context.Background(), left}, fitting.AllRules); err == nil && ok != (best != nil) {
			t.Errorf("feasible: %v; the best is %s", ok, said(best))
		}
	}
}

func compareUnproved(t *testing.T, in *instance, b, best *fitting.Build, objective profile.Objective, met map[string]int) {
	t.Helper()
	if faults := broken(in, in.profile.AsOf, b); faults != nil {
		t.Errorf("%s breaks rules: %v", said(b), faults)
	}
	cost, least := b.Price+b.Labour, best.Price+best.Labour
	switch {
	case !b.Unproved:
		met["proved"]++
		if said(b) != said(best) {
			t.Errorf("%s is said to be the best; %s is", said(b), said(best))
		}
	case objective == profile.LeastCost && (b.Least > least || cost < least || b.Least < 0):
		t.Errorf("%s, and none below %d; the least cost is %d", said(b), b.Least, least)
	case objective == profile.Lightest && (b.Weight < best.Weight || b.Least != 0):
		t.Errorf("%s, and none below %d; the lightest is %s", said(b), b.Least, said(best))
	default:
		met["unproved"]++
		met["the bound is above nothing"] += b2i(b.Least > 0)
	}
}

// Cancelling is no answer of any kind.
func TestCancelledIsNoAnswer(t *testing.T) {
	t.Parallel()
	ctx, cancel := context.WithCancel(t.Context())
	cancel()
	for _, objective := range profile.Objectives {
		if b, err := equip(hard, 1).problem().Solve(ctx, objective, fitting.AllRules); b != nil || !errors.Is(err, context.Canceled) {
			t.Errorf("%s: %s, %v", objective, said(b), err)
		}
	}
}

// The longest-lasting build is made of several searches. Whichever of them has
// no time left, what is said lasts no longer than the longest, and is no
// cheaper than the cheapest of all where it is said to be the best.
func TestLongestWhenTheTimeIsOver(t *testing.T) {
	t.Parallel()
	unproved := 0
	for seed := range 4 {
		a := ask(equip(hard, seed))
		p := a.fresh()
		best, err := p.Solve(enough(), profile.Longest, fitting.AllRules)
		if err != nil || best.Unproved {
			continue
		}
		lasts := p.Horizon(best).Months
		for left := range 14 {
			b, err := a.fresh().Solve(&spent{context.Background(), left * left / 2}, profile.Longest, fitting.AllRules)
			if errors.Is(err, fitting.ErrUnsettled) {
				continue
			}
			if err != nil {
				t.Fatalf("seed %d: %v", seed, err)
			}
			if faults := broken(a.instance, asOf, b); faults != nil {
				t.Errorf("seed %d: %s breaks rules: %v", seed, said(b), faults)
			}
			months := p.Horizon(b).Months
			if months > lasts || !b.Unproved && said(b) != said(best) || b.Unproved && b.Least > best.Price+best.Labour {
				t.Errorf("seed %d: %s lasts %d months, unproved: %v, none below %d; %s lasts %d", seed, said(b), months, b.Unproved, b.Least, said(best), lasts)
			}
			unproved += b2i(b.Unproved)
		}
	}
	if unproved < 5 {
		t.Errorf("%d were unproved, which is not enough to tell", unproved)
	}
}
