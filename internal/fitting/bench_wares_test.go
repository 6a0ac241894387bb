// The add-ons that the benchmark problems choose from, and how one of a kind
// is drawn.
package fitting_test

import (
	"fmt"

	"kinwain/internal/catalog"
	"kinwain/internal/measure"
)

// wares holds one add-on of every kind, in the order in which a small choice
// has them; the first is what a frame comes with. Weight, price and what it
// carries are the middle of what is drawn.
var wares = []catalog.AddOn{
	{Code: "stand-one", Weight: 900, Price: 2900, FittingMinutes: 10, Uses: onMount("belly", 1)},
	{Code: "stand-two", Weight: 2200, Price: 8900, FittingMinutes: 20, Uses: onMount("belly", 1), Provides: []string{"two_leg_stand"}},
	{Code: "seat-rear", Weight: 4100, Price: 15900, FittingMinutes: 25, Uses: onMount("deck_cm", 34), Zone: "rear", UpTo: 2,
		Needs: allOf("two_leg_stand"), Provides: []string{"foot_support"}, Places: []catalog.Place{harnessedFor(12, 72, 9, 22, "wheel_guard")}},
	{Code: "guard", Weight: 1800, Price: 8900, FittingMinutes: 25, Uses: onMount("side", 1), Zone: "rear", Provides: []string{"wheel_guard"}},
	{Code: "tray-front", Weight: 2400, Price: 11900, FittingMinutes: 30, Uses: onMount("head_tube", 1), Zone: "front",
		Cargo: 12 * kg, CargoVolume: 45_000, FrontOverhang: 8 * cm},
	{Code: "hoop", Weight: 2900, Price: 12900, FittingMinutes: 30, Uses: onMount("socket", 4), Zone: "rear",
		Provides: []string{"hand_hold", "backrest"}, OverallHeight: 116 * cm},
	{Code: "seat-belted", Weight: 2600, Price: 10900, FittingMinutes: 20, Uses: onMount("deck_cm", 30), Zone: "rear", UpTo: 2,
		Needs: allOf("two_leg_stand"), Places: []catalog.Place{beltedFor(30, 130, 35, "hand_hold", "foot_support", "wheel_guard")}},
	{Code: "boards", Weight: 1600, Price: 6900, FittingMinutes: 20, Uses: onMount("side", 1), Zone: "rear",
		Provides: []string{"foot_support"}, OverallWidth: 68 * cm},
	{Code: "pannier", Weight: 1300, Price: 5900, FittingMinutes: 5, Uses: onMount("side", 1), Zone: "sides", UpTo: 2,
		Cargo: 9 * kg, CargoVolume: 22_000, OverallWidth: 70 * cm},
	{Code: "seat-front", Weight: 2900, Price: 9900, FittingMinutes: 25, Uses: onMount("stem", 1), Zone: "front",
		Places: []catalog.Place{harnessedFor(12, 36, 9, 15)}},
	{Code: "box-top", Weight: 3200, Price: 13900, FittingMinutes: 15, Uses: onMount("deck_cm", 40), Zone: "rear",
		Cargo: 20 * kg, CargoVolume: 70_000, RearOverhang: 6 * cm},
	{Code: "basket", Weight: 1100, Price: 4900, FittingMinutes: 15, Uses: onMount("head_tube", 1), Zone: "front", Cargo: 7 * kg, CargoVolume: 28_000},
	{Code: "bench", Weight: 4400, Price: 18900, FittingMinutes: 30, Uses: onMount("deck_cm", 64), Zone: "rear", MaxLoad: 75 * kg,
		Needs: allOf("two_leg_stand", "backrest"), Places: []catalog.Place{
			beltedFor(36, 168, 45, "hand_hold", "foot_support", "wheel_guard"), beltedFor(36, 168, 45, "hand_hold", "foot_support", "wheel_guard")}},
	{Code: "crate", Weight: 2500, Price: 9900, FittingMinutes: 10, Uses: onMount("deck_cm", 36), Zone: "rear", Pet: 15 * kg, Cargo: 12 * kg, CargoVolume: 45_000},
	{Code: "bag-tube", Weight: 500, Price: 3900, FittingMinutes: 5, Uses: onMount("tube", 1), Zone: "front", Cargo: 3 * kg, CargoVolume: 7_000},
	{Code: "seat-box", Weight: 3300, Price: 17900, FittingMinutes: 25, Uses: onMount("floor", 1), Zone: "box", UpTo: 2, Needs: allOf("backrest"),
		Places: []catalog.Place{harnessedFor(12, 48, 9, 18)}},
	{Code: "bench-box", Weight: 3600, Price: 14900, FittingMinutes: 30, Uses: onMount("floor", 2), Zone: "box", UpTo: 2, MaxLoad: 62 * kg,
		Places: []catalog.Place{beltedFor(24, 108, 30), beltedFor(24, 108, 30)}},
	{Code: "rack-low", Weight: 1500, Price: 7900, FittingMinutes: 30, Uses: onMount("low", 2), Zone: "sides", Cargo: 10 * kg, CargoVolume: 20_000},
	{Code: "crate-box", Weight: 3000, Price: 12900, FittingMinutes: 10, Uses: onMount("floor", 1), Zone: "box", Pet: 25 * kg, Cargo: 25 * kg, CargoVolume: 90_000},
	{Code: "roof", Weight: 2700, Price: 16900, FittingMinutes: 20, Uses: onMount("socket", 2), Zone: "box", Provides: []string{"backrest"}, OverallHeight: 135 * cm},
}

func onMount(code string, count int) []catalog.Use { return []catalog.Use{{Mount: code, Count: count}} }

// allOf asks for every one of the tags.
func allOf(tags ...string) [][]string {
	var groups [][]string
	for _, tag := range tags {
		groups = append(groups, []string{tag})
	}
	return groups
}

func beltedFor(from, to int, heaviest measure.Mass, needs ...string) catalog.Place {
	return catalog.Place{Kind: "belted", MinMonths: from, MaxMonths: to, MaxMass: heaviest * kg, Needs: allOf(needs...)}
}

func harnessedFor(from, to int, lightest, heaviest measure.Mass, needs ...string) catalog.Place {
	p := beltedFor(from, to, heaviest, needs...)
	p.Kind, p.MinMass = "harnessed", lightest*kg
	return p
}

// ware draws the add-on of a number: one of every kind, then a second one of
// every kind and so on, each a little different.
func (o *outfitter) ware(i int) catalog.AddOn {
	kinds := wares
	if len(o.zones) < 4 {
		kinds = wares[:15] // the others lie in a box
	}
	a := kinds[i%len(kinds)]
	a.Code = fmt.Sprintf("%s-%d", a.Code, i/len(kinds))
	a.Name = a.Code
	a.Price = a.Price * between(o, measure.Money(80), 130, 1) / 100 / 100 * 100
	a.Weight = a.Weight * between(o, measure.Mass(85), 120, 1) / 100
	a.FittingMinutes += between(o, 0, 15, 5)
	a.Cargo = a.Cargo * between(o, measure.Mass(3), 5, 1) / 4
	a.CargoVolume = a.CargoVolume * between(o, measure.Volume(3), 5, 1) / 4
	if a.Pet > 0 {
		a.Pet += between(o, -4*kg, 4*kg, 1*kg)
	}
	places := make([]catalog.Place, len(a.Places))
	for k, p := range a.Places {
		if p.MinMass == 0 || o.chance(2) {
			p.MaxMass += between(o, -3*kg, 3*kg, 1*kg)
		}
		if o.chance(8) {
			p.MaxStature = between(o, 115*cm, 140*cm, 5*cm)
		}
		places[k] = p
	}
	a.Places = places
	if a.UpTo == 2 && o.chance(6) {
		a.UpTo = 1
	}
	return a
}
