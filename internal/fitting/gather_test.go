// Sets that are found without a search, held against the plain rules and against
// searches.
package fitting_test

import (
	"math/rand/v2"
	"slices"
	"testing"

	"kinwain/internal/fitting"
	"kinwain/internal/profile"
)

// unweighed draws rules of which none weighs anything, with most of the others.
func (a *asker) unweighed() fitting.Rules {
	rules := fitting.AllRules &^ (fitting.GrossRating | fitting.ZoneRating | fitting.CombinedRating | fitting.AxleRating | fitting.FrontLight)
	for range a.IntN(4) {
		rules &^= 1 << a.IntN(13)
	}
	return rules
}

// crowded has mounts that hardly bear anything, some of it taken by what the frame
// comes with, and add-ons that exclude each other.
func (a *asker) crowded(in *instance) {
	list := in.catalogue.AddOns
	for i := range list {
		other := list[a.IntN(len(list))].Code
		switch a.IntN(6) {
		case 0:
			if other != list[i].Code {
				list[i].Excludes = append(slices.Clone(list[i].Excludes), other)
			}
		case 1:
			if other != list[i].Code {
				list[i].Needs = append(slices.Clone(list[i].Needs), []string{other})
			}
		case 2:
			in.frame.ComesWith = append(slices.Clone(in.frame.ComesWith), list[i].Code)
		case 3:
			list[i].RearOverhang += 300
		}
	}
	for i := range in.frame.Mounts {
		m, taken := &in.frame.Mounts[i], 0
		for _, of := range list {
			for _, u := range of.Uses {
				if u.Mount == m.Code {
					taken += u.Count * count(in.frame.ComesWith, of.Code)
				}
			}
		}
		m.Capacity = max(taken, m.Capacity-a.IntN(2), 1)
	}
}

// Whatever is gathered is a set that goes together, gets home and takes everyone,
// by the plain rules; and nothing that is asked of the problem depends on it.
func TestWhatIsGatheredHolds(t *testing.T) {
	t.Parallel()
	a := &asker{T: t, Rand: rand.New(rand.NewPCG(21, 22)), met: map[string]int{}}
	gathering := uint16(1 << slices.Index(fitting.Shortcuts, "gathering"))
	for a.seed = range 5000 {
		a.in = instanceOf(a.seed)
		if a.seed%2 == 0 {
			a.crowded(a.in)
		}
		if a.seed%32 > 28 || a.in.catalogue.Check() != nil {
			continue // too many sets to go through, or what was made of it is faulty
		}
		w, rules, people := worldOf(a.in), a.unweighed(), party(a.in.profile, asOf)
		counts := a.in.problem().Gather(rules)
		if counts != nil {
			a.met["gathered"]++
			if !slices.ContainsFunc(w.sets(rules), func(s set) bool { return slices.Equal(s.counts, counts) }) {
				t.Errorf("seed %d, %v: %v does not go together, or does not get home", a.seed, ruleNames(rules), counts)
			} else if w.settle(counts, people, rules) == nil {
				t.Errorf("seed %d, %v: %v does not take everyone", a.seed, ruleNames(rules), counts)
			}
			if slices.ContainsFunc(w.kinds, func(k kind) bool {
				return counts[slices.IndexFunc(w.kinds, func(o kind) bool { return o.Code == k.Code })] < k.delivered
			}) {
				a.met["with something off"]++
			}
		}
		with, plain := a.in.problem(), a.in.problem().Without(gathering)
		got, err := with.Feasible(t.Context(), rules)
		want, failed := plain.Feasible(t.Context(), rules)
		a.same("feasible", got, want, err, failed)
		if counts == nil && want {
			a.met["not gathered"]++
		}
		for _, objective := range profile.Objectives {
			got, err := with.Solve(t.Context(), objective, fitting.AllRules)
			want, failed := plain.Solve(t.Context(), objective, fitting.AllRules)
			if said(got) != said(want) || (err == nil) != (failed == nil) {
				t.Errorf("seed %d, %s: %s, %v; where nothing is gathered %s, %v", a.seed, objective, said(got), err, said(want), failed)
			}
		}
		if t.Failed() {
			a.in.show(t)
			return
		}
	}
	t.Log(a.met)
	for what, least := range map[string]int{"gathered": 700, "with something off": 20, "feasible, yes": 1000} {
		if a.met[what] < least {
			t.Errorf("%s: %d times, which is not enough to tell", what, a.met[what])
		}
	}
}

// A frame that is left as it comes is what a search would have come to, also where
// taking something off costs nothing.
func TestNothingIsBetterThanAsDelivered(t *testing.T) {
	t.Parallel()
	a := &asker{T: t, Rand: rand.New(rand.NewPCG(23, 24)), met: map[string]int{}}
	leaving := uint16(1 << slices.Index(fitting.Shortcuts, "leaving"))
	for a.seed = range 3000 {
		a.in = instanceOf(a.seed)
		if a.seed%32 > 28 {
			continue // they ask for too much
		}
		for i := range a.in.catalogue.AddOns {
			of := &a.in.catalogue.AddOns[i]
			of.FittingMinutes, of.OnFrame = of.FittingMinutes*a.IntN(2), nil
			if a.IntN(3) == 0 {
				of.Price = 0
			}
			if a.IntN(3) == 0 {
				a.in.frame.ComesWith = append(slices.Clone(a.in.frame.ComesWith), of.Code)
			}
		}
		if a.IntN(2) == 0 {
			a.in.profile.Passengers = profile.Answer[[]profile.Passenger]{}
		}
		if a.in.catalogue.Check() != nil {
			continue
		}
		rules := fitting.AllRules
		for range a.IntN(8) {
			rules &^= 1 << a.IntN(13)
		}
		for _, objective := range profile.Objectives {
			got, err := a.in.problem().Solve(t.Context(), objective, rules)
			want, failed := a.in.problem().Without(leaving).Solve(t.Context(), objective, rules)
			if said(got) != said(want) || (err == nil) != (failed == nil) {
				t.Errorf("seed %d, %s, %v: %s, %v; by a search %s, %v", a.seed, objective, ruleNames(rules), said(got), err, said(want), failed)
			}
			switch {
			case want == nil || objective != profile.LeastCost:
			case len(want.AddOns)+len(want.TakenOff) == 0:
				a.met["as delivered"]++
			case want.Price+want.Labour == 0:
				a.met["altered for nothing"]++
			}
		}
		if t.Failed() {
			a.in.show(t)
			return
		}
	}
	t.Log(a.met)
	for what, least := range map[string]int{"as delivered": 250, "altered for nothing": 200} {
		if a.met[what] < least {
			t.Errorf("%s: %d times, which is not enough to tell", what, a.met[what])
		}
	}
}

// A place that suits nobody is named without a build that keeps the rest of the
// conflict, of which there always is one.
func TestBreachOfPlaceLimitsHasABuild(t *testing.T) {
	t.Parallel()
	met := 0
	for seed := range 2500 {
		in := instanceOf(seed)
		p := in.problem()
		ok, err := p.Feasible(t.Context(), fitting.AllRules)
		if err != nil {
			t.Fatal(err)
		}
		if ok {
			continue
		}
		clash := conflict(t, p, fitting.AllRules)
		if !clash.Has(fitting.PlaceLimits) {
			continue
		}
		met++
		if _, err := in.problem().Solve(t.Context(), profile.Lightest, clash&^fitting.PlaceLimits); err != nil {
			t.Errorf("seed %d: nothing keeps %v: %v", seed, ruleNames(clash&^fitting.PlaceLimits), err)
		}
	}
	if t.Log(met); met < 150 {
		t.Errorf("%d conflicts with limits of places, which is not enough to tell", met)
	}
}
