// Whatever bytes a problem is drawn from, the solver never panics and never
// gives a build that breaks a rule. Inputs are long and hardly ever shrink, so
// look for new ones with
//
//	go test -run XXX -fuzz FuzzSolve -fuzzminimizetime 10x
package fitting_test

import (
	"context"
	"math/rand/v2"
	"testing"

	"pgregory.net/rapid"

	"kinwain/internal/fitting"
	"kinwain/internal/profile"
)

func FuzzSolve(f *testing.F) {
	for seed := range uint64(12) {
		f.Add(bytesOf(seed, 6000))
	}
	f.Fuzz(rapid.MakeFuzz(func(t *rapid.T) {
		in := drawInstance(t, anything)
		defer in.show(t)
		p := in.problem()
		for _, objective := range profile.Objectives {
			b := solve(t, in, objective, fitting.AllRules)
			if b == nil {
				explain(t, p)
				return
			}
			if faults := broken(in, in.profile.AsOf, b); faults != nil {
				t.Fatalf("%s: %s breaks rules: %v", objective, said(b), faults)
			}
			use(t, p, b)
		}
	}))
}

// explain asks everything that is asked of what is not feasible.
func explain(t *rapid.T, p *fitting.Problem) {
	c := conflict(t, p, fitting.AllRules)
	if c == 0 {
		t.Fatalf("nothing is feasible, and nothing is in conflict")
	}
	for rule := range c.Blame().Each {
		if _, err := p.Breach(context.Background(), c, rule); err != nil {
			t.Fatalf("%v", err)
		}
	}
	use(t, p, p.Delivered())
}

// use asks everything that is asked of a build.
func use(t *rapid.T, p *fitting.Problem, b *fitting.Build) {
	bought := 0
	for _, i := range p.Items(b) {
		bought += b2i(i.Kind == "add_on")
	}
	if bought != len(b.AddOns) || len(p.Seated(b)) != len(b.Seating) || len(p.Fitted(b)) > 100 || p.Bike(b).Flat.Length < p.Frame.Length {
		t.Fatalf("what is said of %s does not agree", said(b))
	}
	if h := p.Horizon(b); h.Months < 0 || h.Months > fitting.HorizonMonths {
		t.Fatalf("%s lasts %d months", said(b), h.Months)
	}
}

// bytesOf returns pseudo-random bytes, the same for the same seed.
func bytesOf(seed uint64, n int) []byte {
	r := rand.New(rand.NewPCG(seed, 0))
	data := make([]byte, n)
	for i := range data {
		data[i] = byte(r.Uint32())
	}
	return data
}
