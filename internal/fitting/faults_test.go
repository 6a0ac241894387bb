// The checker itself: it accepts one good build and finds every kind of fault
// that is put into it, or into the bike under it.
package fitting_test

import (
	"slices"
	"testing"

	"kinwain/internal/catalog"
	"kinwain/internal/fitting"
	"kinwain/internal/measure"
	"kinwain/internal/profile"
)

// outing has everything on the bike with nothing to spare: a child on a seat
// that needs a stand, a dog in a crate, cargo in two bags, a home that just
// holds the bike.
func outing() *instance {
	seat := seatFor("seat", 1000, catalog.Place{MinMonths: 41, MaxMonths: 43, MinMass: 15 * kg, MaxMass: 16 * kg, MaxStature: 98 * cm, Needs: [][]string{{"wheel_guard"}}})
	seat.Needs, seat.Uses, seat.MaxLoad = [][]string{{"stand"}}, []catalog.Use{{Mount: "deck_cm", Count: 60}}, 16*kg
	stand := catalog.AddOn{Code: "stand", Price: 3000, FittingMinutes: 20, Weight: 2 * kg, Provides: []string{"wheel_guard"}, Uses: []catalog.Use{{Mount: "belly", Count: 1}}}
	crate := catalog.AddOn{Code: "crate", Zone: "front", Price: 1000, Pet: 5 * kg, MaxLoad: 5 * kg, Cargo: 9 * kg, CargoVolume: 9_000, FrontOverhang: 50}
	bag, sack := bagFor("bag", "rear", 6*kg, 12_000), bagFor("sack", "front", 8*kg, 16_000)
	leg := catalog.AddOn{Code: "leg", FittingMinutes: 10, Weight: 500 * g, Uses: []catalog.Use{{Mount: "belly", Count: 1}}}
	in := delivered(workshop(seat, stand, crate, bag, sack, leg), "leg")
	return in.with(func(f *catalog.Frame, p *profile.Profile) {
		small := child
		small.Stature = profile.Given(98 * cm)
		p.Passengers = profile.Given([]profile.Passenger{small})
		p.Pet, p.Cargo, p.CargoSize = profile.Given(5*kg), profile.Given(14*kg), profile.Given(measure.Volume(28_000))
		p.Home = profile.Given(profile.Home{Length: profile.Given(1850 * measure.Millimetre), Width: profile.Given(60 * cm)})
		f.Wheelbase, f.RiderAhead, f.BareFrontShare, f.PassengersMax = 1000, 500, 40*measure.Percent, 1
		f.Combined = []catalog.Combined{{Zones: []string{"front", "rear"}, Rating: 39 * kg}}
		// Front: crate 1 + 5, sack 1 + 8 = 15. Rear: seat 1 + 16, bag 1 + 6 = 24.
		f.Zones[0].Rating, f.Zones[1].Rating = 15*kg, 24*kg
		// 25 + 80 + 39 + stand 2 − leg 0.5
		f.GrossRating = 145500 * g
		// Front 10 + 40 + 15, rear 15 + 40 + 24, and the stand on both.
		f.FrontAxleRating, f.RearAxleRating = 67*kg, 81*kg
	})
}

// wares returns the add-on of a code in an instance.
func (in *instance) wares(code string) *catalog.AddOn { return in.catalogue.AddOn(code) }

func TestCheckerAcceptsAGoodBuild(t *testing.T) {
	t.Parallel()
	in := outing().checked(t)
	b := solve(t, in, profile.LeastCost, fitting.AllRules)
	if faults := broken(in, asOf, b); faults != nil || b == nil {
		t.Errorf("%s: %v", said(b), faults)
	}
}

func TestCheckerFindsFaultsInABuild(t *testing.T) {
	t.Parallel()
	for name, spoil := range map[string]func(b *fitting.Build){
		"an add-on too many":      func(b *fitting.Build) { b.AddOns = []string{"bag", "bag", "crate", "sack", "seat", "stand"} },
		"an add-on of no shop":    func(b *fitting.Build) { b.AddOns = append(b.AddOns, "wing") },
		"the seat left out":       func(b *fitting.Build) { b.AddOns = []string{"bag", "crate", "sack", "stand"} },
		"the stand left out":      func(b *fitting.Build) { b.AddOns = []string{"bag", "crate", "sack", "seat"} },
		"codes out of order":      func(b *fitting.Build) { slices.Reverse(b.AddOns) },
		"the leg left on":         func(b *fitting.Build) { b.TakenOff = nil },
		"taken off what is not":   func(b *fitting.Build) { b.TakenOff = []string{"leg", "leg"} },
		"a cent more":             func(b *fitting.Build) { b.Price++ },
		"a cent of labour less":   func(b *fitting.Build) { b.Labour-- },
		"a gram less":             func(b *fitting.Build) { b.Weight-- },
		"nobody seated":           func(b *fitting.Build) { b.Seating = nil },
		"somebody else seated":    func(b *fitting.Build) { b.Seating[0].Passenger = "q" },
		"a place that is not":     func(b *fitting.Build) { b.Seating[0].Place = 1 },
		"a copy that is not":      func(b *fitting.Build) { b.Seating[0].Copy = 1 },
		"a seat that is not":      func(b *fitting.Build) { b.Seating[0].AddOn = "" },
		"no pet":                  func(b *fitting.Build) { b.Pet = "" },
		"the pet in a bag":        func(b *fitting.Build) { b.Pet = "bag" },
		"cargo left behind":       func(b *fitting.Build) { b.Cargo = b.Cargo[:1] },
		"a gram of cargo lost":    func(b *fitting.Build) { b.Cargo[0].Mass-- },
		"a bag overfull":          func(b *fitting.Build) { b.Cargo[0].Mass++; b.Cargo[1].Mass-- },
		"a bag too full to close": func(b *fitting.Build) { b.Cargo[0].Volume++; b.Cargo[1].Volume-- },
		"cargo beside the pet":    func(b *fitting.Build) { b.Cargo[1].Carrier = "crate" },
		"cargo of two densities":  func(b *fitting.Build) { b.Cargo[0].Volume -= 2000; b.Cargo[1].Volume += 2000 },
	} {
		in := outing()
		b := solve(t, in, profile.LeastCost, fitting.AllRules)
		spoil(b)
		if broken(in, asOf, b) == nil {
			t.Errorf("%s: not found", name)
		}
	}
}

// The build was good until one figure of the documents moved by the least
// there is.
func TestCheckerFindsFaultsUnderABuild(t *testing.T) {
	t.Parallel()
	for name, spoil := range map[string]func(in *instance){
		"gross rating":       func(in *instance) { in.frame.GrossRating-- },
		"front zone":         func(in *instance) { in.frame.Zones[0].Rating -= 1 * g },
		"rear zone":          func(in *instance) { in.frame.Zones[1].Rating -= 1 * g },
		"combined":           func(in *instance) { in.frame.Combined[0].Rating -= 1 * g },
		"front axle":         func(in *instance) { in.frame.FrontAxleRating -= 1 * g },
		"rear axle":          func(in *instance) { in.frame.RearAxleRating -= 1 * g },
		"a heavier rider":    func(in *instance) { in.profile.Riders[0].Weight = profile.Given(80*kg + 1*g) },
		"passengers_max":     func(in *instance) { in.kids(child, kid("q", "2021-02", 15*kg)) },
		"max_load of a seat": func(in *instance) { in.wares("seat").MaxLoad-- },
		"max_load of a pet":  func(in *instance) { in.wares("crate").MaxLoad-- },
		"pet_kg":             func(in *instance) { in.wares("crate").Pet-- },
		"cargo_kg":           func(in *instance) { in.wares("bag").Cargo-- },
		"cargo_litres":       func(in *instance) { in.wares("bag").CargoVolume-- },
		"cargo max_load":     func(in *instance) { in.wares("bag").MaxLoad = 6*kg - 1*g },
		"a mount":            func(in *instance) { in.frame.Mounts[0].Capacity-- },
		"needs":              func(in *instance) { in.wares("seat").Needs = [][]string{{"stand"}, {"lamp"}} },
		"needs of a place":   func(in *instance) { in.wares("stand").Provides = nil },
		"excludes":           func(in *instance) { in.wares("bag").Excludes = []string{"sack"} },
		"fits":               func(in *instance) { in.wares("bag").Fits = nil },
		"min_months":         func(in *instance) { in.wares("seat").Places[0].MinMonths++ },
		"max_months":         func(in *instance) { in.wares("seat").Places[0].MaxMonths-- },
		"min_kg":             func(in *instance) { in.wares("seat").Places[0].MinMass++ },
		"max_kg":             func(in *instance) { in.wares("seat").Places[0].MaxMass-- },
		"max_stature":        func(in *instance) { in.wares("seat").Places[0].MaxStature-- },
		"length at home":     func(in *instance) { in.wares("crate").FrontOverhang++ },
		"width at home":      func(in *instance) { in.wares("bag").OverallWidth = 601 },
		"price":              func(in *instance) { in.wares("bag").Price++ },
		"minutes":            func(in *instance) { in.wares("leg").FittingMinutes++ },
		"weight":             func(in *instance) { in.wares("stand").Weight++ },
	} {
		in := outing()
		b := solve(t, in, profile.LeastCost, fitting.AllRules)
		if b == nil {
			t.Fatal("no build")
		}
		spoil(in)
		if broken(in, asOf, b) == nil {
			t.Errorf("%s: not found", name)
		}
	}
}
