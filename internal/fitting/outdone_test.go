// Add-ons that outdo others, held against a search that compares none.
package fitting_test

import (
	"math/rand/v2"
	"slices"
	"testing"

	"kinwain/internal/catalog"
	"kinwain/internal/fitting"
	"kinwain/internal/measure"
	"kinwain/internal/profile"
)

// paired has every add-on twice or three times, under codes before and after its
// own; the copies are the same but for one or two of their figures, which are a
// little off.
func (a *asker) paired(in *instance) {
	for _, of := range slices.Clone(in.catalogue.AddOns) {
		for n := range 1 + a.IntN(2) {
			like := of
			like.Code = []string{"a-" + of.Code, of.Code + "-z"}[n]
			like.Places, like.Needs, like.Uses = slices.Clone(of.Places), slices.Clone(of.Needs), slices.Clone(of.Uses)
			for range a.IntN(3) {
				a.alter(&like)
			}
			in.catalogue.AddOns = append(in.catalogue.AddOns, like)
		}
	}
	for i := range in.frame.Mounts {
		in.frame.Mounts[i].Capacity += a.IntN(1 + 2*in.frame.Mounts[i].Capacity)
	}
}

func (a *asker) alter(of *catalog.AddOn) {
	by := measure.Mass(1-2*a.IntN(2)) * []measure.Mass{1, 500, 8000}[a.IntN(3)]
	mass := func(m *measure.Mass) {
		if *m > 0 {
			*m = max(*m+by, 1)
		}
	}
	switch a.IntN(10) {
	case 0:
		mass(&of.Weight)
	case 1:
		of.Price = max(of.Price+measure.Money(by), 0)
	case 2:
		mass(&of.Cargo)
	case 3:
		of.CargoVolume = max(of.CargoVolume+measure.Volume(by), 0)
	case 4:
		mass(&of.MaxLoad)
	case 5:
		mass(&of.Pet)
	case 6:
		of.RearOverhang = max(of.RearOverhang+measure.Length(100-200*a.IntN(2)), 0)
	case 7:
		of.FittingMinutes = max(of.FittingMinutes+10-20*a.IntN(2), 0)
	case 8:
		for i := range of.Places {
			mass(&of.Places[i].MaxMass)
		}
	case 9:
		of.UpTo = 1 + a.IntN(2)
	}
}

// Whatever is asked of shops where much does the same as something else, nothing
// depends on which of these are compared: not the build, to its codes, nor what
// is possible, what may be spent, or what is in the way.
func TestWhatIsOutdoneIsNoMatter(t *testing.T) {
	t.Parallel()
	a := &asker{T: t, Rand: rand.New(rand.NewPCG(15, 16)), met: map[string]int{}}
	comparing := uint16(1 << slices.Index(fitting.Shortcuts, "outdoing"))
	for a.seed = range 3000 {
		a.in = instanceOf(a.seed)
		if a.seed%32 > 28 {
			continue // wide enough as it is
		}
		a.paired(a.in)
		if a.in.catalogue.Check() != nil {
			continue // a figure of a copy is off by too much
		}
		rules := fitting.AllRules
		for range a.IntN(6) {
			rules &^= 1 << a.IntN(13)
		}
		with, plain := a.in.problem(), a.in.problem().Without(comparing)
		with.Observe(func(s fitting.Search) { a.met["outdone"] += min(s.Outdone(), 1) })
		for _, objective := range profile.Objectives {
			got, err := with.Solve(t.Context(), objective, rules)
			want, failed := plain.Solve(t.Context(), objective, rules)
			if said(got) != said(want) || (err == nil) != (failed == nil) {
				t.Errorf("seed %d, %s, %v: %s, %v; where nothing is compared %s, %v", a.seed, objective, ruleNames(rules), said(got), err, said(want), failed)
			}
			if want != nil {
				a.met["built"]++
				within := want.Price + want.Labour - measure.Money(a.IntN(2))
				ok, err := a.in.problem().Affordable(t.Context(), rules, within)
				may, failed := a.in.problem().Without(comparing).Affordable(t.Context(), rules, within)
				a.same("affordable", ok, may, err, failed)
			}
		}
		if ok, err := plain.Feasible(t.Context(), rules); err == nil && !ok {
			if got, want := conflict(t, a.in.problem(), rules), conflict(t, a.in.problem().Without(comparing), rules); got != want {
				t.Errorf("seed %d: %v are in the way; where nothing is compared %v", a.seed, ruleNames(got), ruleNames(want))
			}
			a.met["in the way"]++
		}
		if t.Failed() {
			a.in.show(t)
			return
		}
	}
	t.Log(a.met)
	for what, least := range map[string]int{"built": 900, "in the way": 150, "outdone": 1000, "affordable, yes": 300} {
		if a.met[what] < least {
			t.Errorf("%s: %d times, which is not enough to tell", what, a.met[what])
		}
	}
}
