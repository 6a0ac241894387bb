package fitting_test

import (
	"math/rand/v2"
	"testing"

	"kinwain/internal/fitting"
	"kinwain/internal/profile"
)

// Rounding, or a limit of steps, may break off the solving of a relaxation
// anywhere. That costs time and nothing else: with every other node left so,
// the answers are the same.
func TestUnsettledRelaxationsChangeNoAnswer(t *testing.T) {
	t.Parallel()
	unsettled := 0
	for name, draw := range map[string]func(seed int) *instance{
		"anything": func(seed int) *instance { return sample(anything, seed) },
		"families": func(seed int) *instance { return sample(families, seed) },
		"outings":  func(seed int) *instance { return sample(outings, seed) },
		"trips":    func(seed int) *instance { return equip(trip(seed), seed) },
		"packed":   packed,
	} {
		t.Run(name, func(t *testing.T) {
			for seed := range referenceSeeds(t, 400) {
				in, r := draw(seed), rand.New(rand.NewPCG(uint64(seed), 7))
				for _, objective := range []profile.Objective{profile.LeastCost, profile.Lightest} {
					want := solve(t, in, objective, fitting.AllRules)
					p := in.problem()
					p.Observe(func(s fitting.Search) {
						s.Unsettle(func() bool { return r.IntN(2) == 0 })
						unsettled++
					})
					got, err := p.Solve(t.Context(), objective, fitting.AllRules)
					if said(got) != said(want) {
						t.Errorf("seed %d, %s: %s (%v); settled it is %s", seed, objective, said(got), err, said(want))
					}
				}
			}
		})
	}
	if unsettled < 1000 {
		t.Errorf("%d nodes were met, which is not enough to tell", unsettled)
	}
}
