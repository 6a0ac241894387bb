// What is close or far out: ties that the codes decide, ratings crossed by a
// gram, shelves with nothing on them, and prices as high as a catalogue may
// have them.
package fitting_test

import (
	"fmt"
	"slices"
	"testing"

	"kinwain/internal/catalog"
	"kinwain/internal/fitting"
	"kinwain/internal/measure"
	"kinwain/internal/profile"
)

// carrying is a workshop with so much cargo.
func carrying(cargo measure.Mass, bags ...catalog.AddOn) *instance {
	return workshop(bags...).with(func(_ *catalog.Frame, p *profile.Profile) { p.Cargo = profile.Given(cargo) })
}

// Seven of the dear one weigh a gram less than the cheap one and cost more
// than all else that a shop sells: who asks for the lightest gets them.
func TestLightestWhateverItCosts(t *testing.T) {
	t.Parallel()
	dear, cheap := bagFor("dear", "rear", 1*kg, 0), bagFor("cheap", "rear", 7*kg, 0)
	dear.Price, dear.UpTo, cheap.Price, cheap.Weight = 10_000_000, 8, 0, 7001*g
	in := carrying(7*kg, dear, cheap).checked(t)
	if b := compareWithEverySet(t, in); b == nil || b.AddOns[0] != "cheap" {
		t.Errorf("%s is the cheapest", said(b))
	}
}

// Of what costs and weighs the same, the codes decide, however much of it
// there is.
func TestCodesDecideAmongEquals(t *testing.T) {
	t.Parallel()
	var bags []catalog.AddOn
	for i := range 12 {
		bags = append(bags, bagFor(fmt.Sprintf("bag-%02d", (7*i+5)%12), "rear", 5*kg, 0))
	}
	in := carrying(20*kg, bags...).checked(t)
	for _, objective := range profile.Objectives {
		b := solve(t, in, objective, fitting.AllRules)
		if b == nil || !slices.Equal(b.AddOns, []string{"bag-00", "bag-01", "bag-02", "bag-03"}) {
			t.Errorf("%s: %s", objective, said(b))
		}
	}
	for i := range bags {
		bags[i].UpTo = 4
	}
	in = carrying(20*kg, bags...).checked(t)
	if b, _ := compareWithReference(t, in, profile.LeastCost); b == nil || !slices.Equal(b.AddOns, []string{"bag-00", "bag-00", "bag-00", "bag-00"}) {
		t.Errorf("%s", said(b))
	}
}

// A rating holds what it says, and not a gram more, whichever rating it is.
func TestAGramDecides(t *testing.T) {
	t.Parallel()
	rateOf := map[string]func(f *catalog.Frame, by measure.Mass){
		"gross": func(f *catalog.Frame, by measure.Mass) { f.GrossRating = 25*kg + 80*kg + 10*kg + 2*kg + by },
		"zone":  func(f *catalog.Frame, by measure.Mass) { f.Zones[1].Rating = 6*kg + by },
		"combined": func(f *catalog.Frame, by measure.Mass) {
			f.Combined = []catalog.Combined{{Zones: []string{"front", "rear"}, Rating: 12*kg + by}}
		},
		"axle": func(f *catalog.Frame, by measure.Mass) {
			f.Wheelbase, f.RiderAhead, f.BareFrontShare = 1000, 500, 40*measure.Percent
			f.RearAxleRating = 15*kg + 40*kg + 6*kg + by
		},
		"mount": func(f *catalog.Frame, by measure.Mass) { f.Mounts[0].Capacity = 24 + int(by) },
	}
	for name, rate := range rateOf {
		for _, by := range []measure.Mass{-1, 0, 1} {
			front, rear := bagFor("front", "front", 5*kg, 0), bagFor("rear", "rear", 5*kg, 0)
			front.Uses, rear.Uses = onMount("deck_cm", 12), onMount("deck_cm", 12)
			in := carrying(10*kg, front, rear).with(func(f *catalog.Frame, _ *profile.Profile) { rate(f, by) }).checked(t)
			if b, _ := compareWithReference(t, in, profile.LeastCost); (b != nil) != (by >= 0) {
				t.Errorf("%s, by %d: %s", name, by, said(b))
			}
			compareWithEverySet(t, in)
		}
	}
}

// Nothing to choose from, nothing to carry, and both.
func TestNothingThere(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		in    *instance
		holds bool
	}{{carrying(0), true}, {carrying(1 * g), false}, {carrying(0, bagFor("bag", "rear", 5*kg, 0)), true}} {
		b, _ := compareWithReference(t, c.in.checked(t), profile.LeastCost)
		if (b != nil) != c.holds || b != nil && len(b.AddOns) > 0 {
			t.Errorf("%s", said(b))
		}
		if ok := feasible(t, c.in.problem(), fitting.AllRules); ok != c.holds {
			t.Errorf("feasible: %v", ok)
		}
	}
}

// A shelf on which hardly anything is better than anything else, with as many
// of each as there may be: the best may take longer than anybody waits, but
// something that holds is found, with a bound.
func TestHugeShelves(t *testing.T) {
	t.Parallel()
	var bags []catalog.AddOn
	for i := range 60 {
		a := bagFor(fmt.Sprintf("bag-%02d", i), []string{"front", "rear"}[i%2], measure.Mass(1000+37*i%700), 0)
		a.UpTo, a.Weight, a.Price, a.FittingMinutes = 8, measure.Mass(100+11*i%90), measure.Money(9_000_000+1009*i%50_000), i%3
		a.Uses = onMount("deck_cm", 1+i%4)
		bags = append(bags, a)
	}
	in := carrying(40*kg, bags...).with(func(f *catalog.Frame, _ *profile.Profile) {
		f.Zones[0].Rating, f.Zones[1].Rating, f.Mounts[0].Capacity = 25*kg, 30*kg, 80
	}).checked(t)
	b, err := in.problem().Solve(enough(), profile.LeastCost, fitting.AllRules)
	if err != nil {
		t.Fatal(err)
	}
	if faults := broken(in, asOf, b); faults != nil || b.Unproved && (b.Least <= 0 || b.Least > b.Price+b.Labour) {
		t.Errorf("%s, and none below %d: %v", said(b), b.Least, faults)
	}
}
