// What was proved of some rules, held against looking for a set anew.
package fitting_test

import (
	"math/rand/v2"
	"slices"
	"testing"

	"kinwain/internal/fitting"
	"kinwain/internal/load"
	"kinwain/internal/measure"
	"kinwain/internal/profile"
)

// learned is a problem that was asked enough to have proved something.
func (a *asker) learned() *fitting.Problem {
	p := a.in.problem()
	rules := fitting.AllRules
	for range 1 + a.IntN(3) {
		if ok, err := p.Feasible(a.Context(), rules); err != nil {
			a.Fatal(a.seed, err)
		} else if ok {
			rules = fitting.AllRules &^ (1 << a.IntN(13))
			continue
		}
		if conflict := conflict(a.T, p, rules); a.IntN(2) == 0 {
			rules &^= conflict.Blame()
		}
	}
	return p
}

// Whatever follows from what was proved is so: by every set of small frames, and
// by a search that knows nothing, of this demand and of others.
func TestRefutedRulesCannotBeKept(t *testing.T) {
	t.Parallel()
	a := &asker{T: t, Rand: rand.New(rand.NewPCG(5, 6)), met: map[string]int{}}
	for a.seed = range 700 {
		a.in = instanceOf(a.seed)
		p, d := a.learned(), a.in.demand()
		for _, rules := range p.Refuted() {
			a.met["proved"]++
			if a.seed%32 < 29 {
				w := worldOf(a.in)
				if set := w.firstThatHolds(w.sets(rules), party(a.in.profile, asOf), rules); set != nil {
					t.Errorf("seed %d: %v are said to be refuted, and %s keeps them", a.seed, ruleNames(rules), saidSet(set))
				}
			}
		}
		for _, other := range []*fitting.Demand{d, a.changed(d), a.changed(d), d.Without(fitting.WithoutHome).Without(fitting.WithoutLitres), d.Without(fitting.WithoutPassengers)} {
			a.refutes(p.Under(other), other)
		}
	}
	t.Log(a.met)
	for what, least := range map[string]int{"proved": 700, "follows": 1500, "of another demand": 500, "with a rating of an axle": 50} {
		if a.met[what] < least {
			t.Errorf("%s: %d times, which is not enough to tell", what, a.met[what])
		}
	}
}

// refutes holds what follows about some rules against a search.
func (a *asker) refutes(p *fitting.Problem, d *fitting.Demand) {
	for range 8 {
		rules := fitting.AllRules
		for range a.IntN(10) {
			rules &^= 1 << a.IntN(13)
		}
		if !p.Refutes(rules) {
			continue
		}
		a.met["follows"]++
		if d != p.Demand || !slices.Equal(d.Today, a.in.demand().Today) {
			a.met["of another demand"]++
		}
		if rules&(fitting.AxleRating|fitting.FrontLight) != 0 && slices.ContainsFunc(p.Refuted(), func(r fitting.Rules) bool { return r&(fitting.AxleRating|fitting.FrontLight) != 0 }) {
			a.met["with a rating of an axle"]++
		}
		ok, err := fitting.New(a.in.catalogue, a.in.frame, d).Without(recallingAndRefuting).Feasible(a.Context(), rules)
		if err != nil || ok {
			a.Errorf("seed %d: %v are said to be refuted; %v, %v", a.seed, ruleNames(rules), ok, err)
		}
	}
}

// A frame that was asked about for some customers answers the next one as if
// nobody had asked.
func TestOneShelfForManyCustomers(t *testing.T) {
	t.Parallel()
	met := map[string]int{}
	for seed := range 150 {
		in, chance := instanceOf(seed), rand.New(rand.NewPCG(uint64(seed), 7))
		shelf := fitting.NewShelf(in.catalogue)
		for range 5 {
			p := *in.profile
			p.Riders = slices.Clone(p.Riders)
			for i := range p.Riders {
				p.Riders[i].Weight = profile.Given(measure.Mass(40+chance.IntN(100)) * kg)
			}
			switch chance.IntN(6) {
			case 0:
				p.Riders = nil
			case 1:
				p.Passengers = profile.Answer[[]profile.Passenger]{}
			case 2:
				p.Cargo = profile.Given(measure.Mass(chance.IntN(200)) * kg)
			}
			d := fitting.NewDemand(&p, asOf, fitting.DefaultSettings())
			again, fresh := shelf.Problem(in.frame, d), fitting.New(in.catalogue, in.frame, d)
			if a, b := again.Limits(), fresh.Limits(); !slices.EqualFunc(a, b, func(a, b load.Limit) bool { return a.Rule == b.Rule && a.Name == b.Name && a.Cap == b.Cap }) {
				t.Fatalf("seed %d: %+v and %+v", seed, a, b)
			}
			met[string(again.Limits()[len(again.Limits())-1].Rule)]++
			for _, objective := range profile.Objectives {
				got, err := again.Solve(t.Context(), objective, fitting.AllRules)
				want, failed := fresh.Solve(t.Context(), objective, fitting.AllRules)
				if said(got) != said(want) || (err == nil) != (failed == nil) {
					t.Errorf("seed %d, %s: %s, %v; of a fresh shelf %s, %v", seed, objective, said(got), err, said(want), failed)
				}
			}
		}
	}
	t.Log(met)
	if met[string(load.Lift)] < 20 || met[string(load.Axle)] < 20 {
		t.Errorf("%v: not enough to tell", met)
	}
}

// recallingAndRefuting are the shortcuts by which a problem knows more than a
// fresh one.
var recallingAndRefuting = uint16(1<<slices.Index(fitting.Shortcuts, "recalling") | 1<<slices.Index(fitting.Shortcuts, "refuting"))
