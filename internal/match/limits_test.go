package match_test

import (
	"testing"

	gocmp "github.com/google/go-cmp/cmp"
	"github.com/google/go-cmp/cmp/cmpopts"

	"kinwain/internal/catalog"
	"kinwain/internal/load"
	"kinwain/internal/match"
	"kinwain/internal/profile"
)

// Riders of 80 and 70 kg on 25, with a child of 16 kg dressed on a seat of 1
// over the rear axle, 6 kg in a bag of 1 there and a pet of 5 in a crate of 1
// over the front axle: 30 of load, 135 in all. Front 10 + 40 + 6 = 56, rear
// 15 + 40 + 17 + 7 = 79, both under the heavier; without a rider 55.
func TestEveryLimitThatSomethingLeansOn(t *testing.T) {
	t.Parallel()
	k := atCounter()
	k.kids(kid("p", "2023-05"))
	k.p.Riders = append(k.p.Riders, profile.Rider{Label: "B", Height: given(1700), Weight: profile.Given(70 * kg), Weighed: profile.Given(profile.Dressed)})
	k.p.Pet, k.p.Cargo = profile.Given(5*kg), profile.Given(6*kg)
	k.f.FrontAxleRating, k.f.RearAxleRating = 70*kg, 100*kg
	k.f.Combined = []catalog.Combined{{Zones: []string{"front", "rear"}, Rating: 45 * kg}}
	k.seat().MaxLoad, k.seat().Places[0].MaxMass = 20*kg, 17*kg
	k.AddOn("bag").MaxLoad, k.AddOn("crate").MaxLoad = 12*kg, 8*kg
	k.seat().Provides, k.seat().StandMax = []string{"two_leg_stand"}, 80*kg
	m := k.judge(t)
	want := []match.Limit{
		{Rating: "place:seat", Passenger: "p", Mass: 16 * kg, Most: 17 * kg, Spare: 1 * kg},
		{Rating: "add_on:crate", Mass: 5 * kg, Most: 8 * kg, Spare: 3 * kg},
		{Rating: "add_on:seat", Mass: 16 * kg, Most: 20 * kg, Spare: 4 * kg},
		{Rating: "add_on:bag", Mass: 6 * kg, Most: 12 * kg, Spare: 6 * kg},
		{Rating: "front_axle", Rider: "A", Mass: 56 * kg, Most: 70 * kg, Spare: 14 * kg},
		{Rating: "combined:front+rear", Mass: 30 * kg, Most: 45 * kg, Spare: 15 * kg},
		{Rating: "rear_axle", Rider: "A", Mass: 79 * kg, Most: 100 * kg, Spare: 21 * kg},
		{Rating: "stand", Mass: 55 * kg, Most: 80 * kg, Spare: 25 * kg},
		{Rating: "gross", Rider: "A", Mass: 135 * kg, Most: 200 * kg, Spare: 65 * kg},
		{Rating: "zone:rear", Mass: 24 * kg, Most: 100 * kg, Spare: 76 * kg},
		{Rating: "zone:front", Mass: 6 * kg, Most: 100 * kg, Spare: 94 * kg},
	}
	if diff := gocmp.Diff(want, m.Limits, cmpopts.IgnoreUnexported(match.Limit{}), cmpopts.IgnoreFields(match.Limit{}, "Name")); diff != "" {
		t.Errorf("(− paper, + got): %s", diff)
	}
	if first, ok := m.First(); !ok || first.Rating != "place:seat" {
		t.Errorf("first %+v", first)
	}
}

// Two on seats of one kind lean on each seat by itself.
func TestCopiesLeanEachByItself(t *testing.T) {
	t.Parallel()
	k := atCounter()
	heavy := kid("q", "2021-05")
	heavy.Weight = profile.Given(20 * kg)
	k.kids(kid("p", "2023-05"), heavy)
	k.seat().MaxLoad = 25 * kg
	var spare []float64
	for _, l := range k.judge(t).Limits {
		if l.Rating == "add_on:seat" {
			spare = append(spare, float64(l.Spare)/float64(kg))
		}
	}
	if diff := gocmp.Diff([]float64{4, 9}, spare); diff != "" {
		t.Error(diff)
	}
}

// Over the demo shop no build that fits is over any limit, and every limit adds
// up.
func TestLimitsOverTheDemoShop(t *testing.T) {
	t.Parallel()
	c, profiles := demo(t)
	kinds := map[string]int{}
	for name, p := range profiles {
		for i := range c.Frames {
			k := &counter{c, &c.Frames[i], p, match.DefaultSettings(), nil}
			m := k.judge(t)
			for n, l := range m.Limits {
				kinds[l.Rating[:4]]++
				over := l.Spare < 0 && m.Verdict != match.DoesNotFit && l.Rating != "stand"
				if over || l.Mass+l.Spare != l.Most || n > 0 && m.Limits[n-1].Spare > l.Spare {
					t.Errorf("%s on %s: %+v", name, k.f.Code, l)
				}
			}
			for _, s := range m.Sheets {
				if first, _ := m.First(); first.Spare > s.Spare() || s.Axles && k.f.RearAxleRating > 0 && first.Spare > k.f.RearAxleRating-s.Rear {
					t.Errorf("%s on %s: %v is not the least of %v", name, k.f.Code, first, load.Gross)
				}
			}
		}
	}
	if len(kinds) < 7 {
		t.Errorf("of %v only", kinds)
	}
}
