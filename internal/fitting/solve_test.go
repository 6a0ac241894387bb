// The solver against the slow way, on every objective.
package fitting_test

import (
	"cmp"
	"context"
	"errors"
	"fmt"
	"math"
	"math/big"
	"slices"
	"testing"

	gocmp "github.com/google/go-cmp/cmp"
	"pgregory.net/rapid"

	"kinwain/internal/fitting"
	"kinwain/internal/measure"
	"kinwain/internal/profile"
)

// tester is what a property and a table test have in common.
type tester interface {
	Helper()
	Fatalf(format string, args ...any)
	Errorf(format string, args ...any)
	Logf(format string, args ...any)
	Failed() bool
}

// solve returns the build, or nil where none is feasible.
func solve(t tester, in *instance, objective profile.Objective, rules fitting.Rules) *fitting.Build {
	t.Helper()
	b, err := in.problem().Solve(context.Background(), objective, rules)
	if err != nil && !errors.Is(err, fitting.ErrInfeasible) {
		t.Fatalf("%v", err)
	}
	if (b == nil) != (err != nil) {
		t.Fatalf("build %v with error %v", b, err)
	}
	return b
}

// firstThatHolds returns the first of the sets in which everyone can settle.
func (w *world) firstThatHolds(sets []set, people []person, rules fitting.Rules) *set {
	for i := range sets {
		if w.settle(sets[i].counts, people, rules) != nil {
			return &sets[i]
		}
	}
	return nil
}

// countsOf returns how many of every kind are on a build.
func (w *world) countsOf(b *fitting.Build) []int {
	counts := make([]int, len(w.kinds))
	for i := range w.kinds {
		counts[i] = w.kinds[i].delivered + count(b.AddOns, w.kinds[i].Code) - count(b.TakenOff, w.kinds[i].Code)
	}
	return counts
}

func TestSolveIsTheBestOfAllSets(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(t *rapid.T) { compareWithEverySet(t, drawInstance(t, anything)) })
}

// The same over fixed seeds, which are enough to meet everything that matters
// often: what was met is counted, so that the comparison cannot grow hollow.
func TestSolveIsTheBestOverSeeds(t *testing.T) {
	t.Parallel()
	met := map[string]int{}
	for name, c := range map[string]struct {
		shape
		seeds int
	}{"anything": {anything, 500}, "families": {families, 500}, "couriers": {couriers, 500}, "outings": {outings, 800}, "choosers": {choosers, 100}} {
		t.Run(name, func(t *testing.T) {
			for seed := range c.seeds {
				in := sample(c.shape, seed)
				if b := compareWithEverySet(t, in); b != nil {
					meet(met, in, b)
				} else {
					met["infeasible"]++
				}
			}
		})
	}
	for what, least := range map[string]int{
		"infeasible": 500, "bought": 130, "bought two of one": 8, "taken off": 150, "seated": 130, "several seated": 25, "pet": 15,
		"cargo": 150, "shared out": 30, "shared out on a side": 8, "combined": 120, "axles": 80, "home": 40, "several riders": 180,
	} {
		if met[what] < least {
			t.Errorf("%s was met %d times, which is not enough to tell", what, met[what])
		}
	}
}

func meet(met map[string]int, in *instance, b *fitting.Build) {
	for what, is := range map[string]bool{
		"bought": len(b.AddOns) > 0, "taken off": len(b.TakenOff) > 0, "seated": len(b.Seating) > 0, "several seated": len(b.Seating) > 1,
		"bought two of one": len(slices.Compact(slices.Clone(b.AddOns))) < len(b.AddOns), "pet": b.Pet != "", "cargo": len(b.Cargo) > 0,
		"shared out": len(b.Cargo) > 1, "combined": len(in.frame.Combined) > 0, "axles": in.frame.FrontAxleRating+in.frame.RearAxleRating > 0,
		"home": in.profile.Home.IsGiven(), "several riders": len(in.profile.Riders) > 1,
		"shared out on a side": len(b.Cargo) > 1 && slices.ContainsFunc(b.Cargo, func(s fitting.CargoShare) bool {
			side := in.frame.Zones[in.frame.ZoneIndex(s.Zone)].Side
			return side == "left" || side == "right"
		}),
	} {
		met[what] += b2i(is)
	}
}

// compareWithEverySet returns the cheapest build, or nil where none holds.
func compareWithEverySet(t tester, in *instance) (cheapest *fitting.Build) {
	t.Helper()
	defer in.show(t)
	w := worldOf(in)
	people := party(in.profile, in.profile.AsOf)
	all := w.sets(fitting.AllRules)
	for _, objective := range []profile.Objective{profile.LeastCost, profile.Lightest} {
		want := w.firstThatHolds(inOrder(all, objective), people, fitting.AllRules)
		got := solve(t, in, objective, fitting.AllRules)
		if (got == nil) != (want == nil) {
			t.Fatalf("%s: %s; the slow way finds %s", objective, said(got), saidSet(want))
		}
		if got == nil {
			return nil
		}
		if faults := broken(in, in.profile.AsOf, got); faults != nil {
			t.Fatalf("%s: %s breaks rules: %v", objective, said(got), faults)
		}
		if got.Price+got.Labour != want.cost || got.Weight != want.weight || !slices.Equal(got.AddOns, want.bought) {
			t.Fatalf("%s: %s; the slow way finds %s", objective, said(got), saidSet(want))
		}
		// Where taking off one part or another is all the same, the answer
		// says which was chosen; everyone sits accordingly.
		way := w.settle(w.countsOf(got), people, fitting.AllRules)
		compareSeating(t, got, way)
		compareCargo(t, got, way)
		cheapest = cmp.Or(cheapest, got)
	}
	return cheapest
}

// compareSeating asks for the first seating in the order of the profile by
// add-on code, place and copy.
func compareSeating(t tester, b *fitting.Build, way *settler) {
	t.Helper()
	var want []fitting.Seat
	for i, at := range way.chosen {
		s := fitting.Seat{Passenger: way.people[i].label, Place: at.place}
		if at.copy >= 0 {
			s.AddOn, s.Copy = way.copies[at.copy].Code, way.copies[at.copy].number
		}
		want = append(want, s)
	}
	if diff := gocmp.Diff(want, b.Seating, equateEmpty); diff != "" {
		t.Fatalf("seating (− want, + got): %s", diff)
	}
}

var equateEmpty = gocmp.FilterValues(func(a, b []fitting.Seat) bool { return len(a) == 0 && len(b) == 0 }, gocmp.Ignore())

// compareCargo asks for the first sharing in the order of the carriers, to
// within two grams and millilitres: one for rounding, and one since the slow
// way has the sides differ by whole grams.
func compareCargo(t tester, b *fitting.Build, way *settler) {
	t.Helper()
	shares := b.Cargo
	for i, part := range way.first() {
		mass, volume := portionOf(way.cargo, part), portionOf(way.size, part)
		c := way.carriers[i]
		same := len(shares) > 0 && shares[0].Carrier == c.code && shares[0].Zone == way.frame.Zones[c.zone].Code
		thick := measure.Volume(2 * int64(way.size) / max(int64(way.cargo), 1)) // of two grams
		near := same && upToTwo(shares[0].Mass-mass) && max(shares[0].Volume-volume, volume-shares[0].Volume) <= 2+thick
		switch {
		case part.Sign() == 0 && !same, !near && mass <= 2 && volume <= 2:
			continue // nothing, or what is rounded away
		case !near:
			t.Fatalf("the first sharing has %d g and %d ml for %s; the shares are %v", mass, volume, c.code, b.Cargo)
		}
		shares = shares[1:]
	}
	if len(shares) > 0 {
		t.Fatalf("shares too many: %v", shares)
	}
}

func upToTwo[Q ~int64](n Q) bool { return -2 <= n && n <= 2 }

// portionOf returns a part of a quantity to the nearest whole.
func portionOf[Q measure.Mass | measure.Volume](quantity Q, part *big.Rat) Q {
	f, _ := new(big.Rat).Mul(part, rat(int64(quantity))).Float64()
	return Q(math.Round(f))
}

func said(b *fitting.Build) string {
	if b == nil {
		return "no build"
	}
	return fmt.Sprintf("%v without %v, cost %d, weight %d, seats %v, pet %q, cargo %v", b.AddOns, b.TakenOff, b.Price+b.Labour, b.Weight, b.Seating, b.Pet, b.Cargo)
}

func saidSet(s *set) string {
	if s == nil {
		return "none"
	}
	return fmt.Sprintf("%v, cost %d, weight %d", s.bought, s.cost, s.weight)
}
