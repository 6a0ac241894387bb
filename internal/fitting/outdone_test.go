// Add-ons that outdo others, held against a search that compares none.
package fitting_test

import (
	"math/rand/v2"
	"slices"
	"sort"
	"testing"

	"kinwain/internal/catalog"
	"kinwain/internal/fitting"
	"kinwain/internal/measure"
	"kinwain/internal/profile"
)

// paired has every add-on twice or three times, under codes before and after its
// own; the copies are the same but for some of their figures, which are a little
// off, and half of them cost less.
func (a *asker) paired(in *instance) {
	for _, of := range slices.Clone(in.catalogue.AddOns) {
		for n := range 1 + a.IntN(2) {
			like := of
			like.Code = []string{"a-" + of.Code, of.Code + "-z"}[n]
			like.Places, like.Needs, like.Uses = slices.Clone(of.Places), slices.Clone(of.Needs), slices.Clone(of.Uses)
			for range a.IntN(3) {
				a.alter(&like)
			}
			if a.IntN(2) == 0 {
				a.cheapened(&like)
			}
			in.catalogue.AddOns = append(in.catalogue.AddOns, like)
		}
	}
	for i := range in.frame.Mounts {
		in.frame.Mounts[i].Capacity += a.IntN(1 + 2*in.frame.Mounts[i].Capacity)
	}
}

// cheapened costs less, and is worse in something.
func (a *asker) cheapened(of *catalog.AddOn) {
	of.Price = max(of.Price-500, 0)
	switch a.IntN(4) {
	case 0:
		of.Weight += []measure.Mass{1, 500, 2000}[a.IntN(3)]
	case 1:
		of.RearOverhang += 100
	case 2:
		of.Pet = max(of.Pet-1, 0)
	case 3:
		of.Cargo = (of.Cargo + 1) / 2
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
		if mass(&of.Cargo); a.IntN(4) == 0 {
			of.Cargo, of.CargoVolume = 0, 0
		}
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

// tightened has a rating, or the space at home, at the least in which anything
// can be built, or a little above: there what costs less may well be what is too
// heavy, or too long.
func (a *asker) tightened(in *instance, comparing uint16) {
	set, was := func(n int) { in.frame.GrossRating = measure.Mass(n) }, int(in.frame.GrossRating)
	switch zones := in.frame.Zones; a.IntN(5) {
	case 0:
		zone := &zones[a.IntN(len(zones))]
		set, was = func(n int) { zone.Rating = measure.Mass(n) }, int(zone.Rating)
	case 1:
		home := profile.Home{Width: profile.Given(3000 * measure.Millimetre), Height: profile.Given(3000 * measure.Millimetre)}
		set, was = func(n int) {
			home.Length = profile.Given(measure.Length(n))
			in.profile.Home = profile.Given(home)
		}, 3000
	case 2:
		axle := []*measure.Mass{&in.frame.FrontAxleRating, &in.frame.RearAxleRating}[a.IntN(2)]
		set, was = func(n int) { *axle = measure.Mass(n) }, int(*axle)
	case 3: // a pet as heavy as one of its carriers bears
		for _, of := range in.catalogue.AddOns {
			if of.Pet > 0 && a.IntN(2) == 0 {
				in.profile.Pet = profile.Given(of.Pet)
			}
		}
		return
	}
	feasible := func(n int) bool {
		set(n)
		ok, err := in.problem().Without(comparing).Feasible(a.Context(), fitting.AllRules)
		return ok && err == nil
	}
	if was == 0 || !feasible(was) {
		return
	}
	least := 1 + sort.Search(was-1, func(n int) bool { return feasible(n + 1) })
	set(least + []int{0, 0, 1, 50, 499, 500}[a.IntN(6)])
	a.met["tight"]++
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
		if a.seed%2 == 0 {
			a.tightened(a.in, comparing)
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
	for what, least := range map[string]int{"built": 900, "in the way": 150, "outdone": 1000, "affordable, yes": 300, "tight": 200} {
		if a.met[what] < least {
			t.Errorf("%s: %d times, which is not enough to tell", what, a.met[what])
		}
	}
}
