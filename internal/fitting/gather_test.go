// Sets that are put together without a search, held against the plain rules and
// against searches.
package fitting_test

import (
	"math/rand/v2"
	"slices"
	"testing"

	"kinwain/internal/fitting"
	"kinwain/internal/profile"
)

// easy draws rules of which few weigh anything, with most of the others.
func (a *asker) easy() fitting.Rules {
	rules := fitting.AllRules
	for one := range (fitting.GrossRating | fitting.ZoneRating | fitting.CombinedRating | fitting.AxleRating | fitting.FrontLight).Each {
		if a.IntN(4) > 0 {
			rules &^= one
		}
	}
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
		w, rules, people := worldOf(a.in), a.easy(), party(a.in.profile, asOf)
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
