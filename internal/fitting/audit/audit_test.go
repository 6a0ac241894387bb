// A build that uses every rule up to its edge, added up by hand, and one
// figure after the other moved by one beyond it.
package audit_test

import (
	"slices"
	"strings"
	"testing"

	"kinwain/internal/catalog"
	"kinwain/internal/fitting"
	"kinwain/internal/fitting/audit"
	"kinwain/internal/load"
	"kinwain/internal/measure"
	"kinwain/internal/parking"
)

const (
	g  = measure.Gram
	kg = measure.Kilogram
)

// bench is one frame with its add-ons, a family and their build.
type bench struct {
	*catalog.Catalogue
	*fitting.Demand
	*fitting.Build
}

func (b *bench) frame() *catalog.Frame { return &b.Frames[0] }

func (b *bench) check() error { return audit.New(b.Catalogue).Check(b.frame(), b.Demand, b.Build) }

// full returns a bike with nothing to spare anywhere. In kilograms:
//
//	bare 25, less the stand that it came with 1, two-leg stand 2; a rider of 80
//	front: tray 2, cargo 6
//	rear: two seats 4 each, guard 1, crate 2, children 16 and 17, pet 7, cargo 4
//
// So there are 8 in the front and 55 in the rear, and 169 in all. The front
// zone is on the front axle, the rear zone on the rear axle, and the children
// sit a tenth of the wheelbase behind it: the front axle bears
// 0.4·25 + 0.4·80 + 8 − 3.3 = 46.7, the rear axle the rest of the 168 that are
// in a zone. Labour is 59.90 an hour: three minutes are 2.995, a cent more.
func full() *bench {
	tag := func(tags ...string) [][]string { return [][]string{tags} }
	seat := catalog.Place{Kind: "harnessed", MinMonths: 24, MaxMonths: 60, MinMass: 14 * kg, MaxMass: 17 * kg, MaxStature: 1100, Needs: tag("wheel_guard"), Ahead: -100}
	c := &catalog.Catalogue{
		Shop: catalog.Shop{LabourPerHour: 5990},
		Frames: []catalog.Frame{{
			Code: "sedge", GrossRating: 169 * kg, BareWeight: 25 * kg, PassengersMax: 2, Length: 1800, Width: 600, Height: 1100,
			Wheelbase: 1000, RiderAhead: 400, BareFrontShare: 40 * measure.Percent, FrontAxleRating: 48_700, RearAxleRating: 123_300,
			Zones:    []catalog.Zone{{Code: "front", Rating: 8 * kg, Ahead: 1000}, {Code: "rear", Rating: 55 * kg, Cargo: 4 * kg, CargoVolume: 16_000}},
			Combined: []catalog.Combined{{Zones: []string{"front", "rear"}, Rating: 63 * kg}},
			Mounts:   []catalog.Mount{{Code: "belly", Capacity: 1}, {Code: "deck", Capacity: 80}, {Code: "head", Capacity: 1}},
			Places:   []catalog.Place{{Zone: "rear", Kind: "bench"}}, ComesWith: []string{"stand-one"},
		}},
		AddOns: []catalog.AddOn{
			{Code: "crate", Weight: 2 * kg, Price: 300, Zone: "rear", Uses: []catalog.Use{{Mount: "deck", Count: 20}}, Pet: 7 * kg, Cargo: 5 * kg, CargoVolume: 20_000, MaxLoad: 7 * kg, RearOverhang: 60, OverallWidth: 700},
			{Code: "guard", Weight: 1 * kg, Price: 500, Zone: "rear", Provides: []string{"wheel_guard"}},
			{Code: "seat", Weight: 4 * kg, Price: 700, FittingMinutes: 3, Zone: "rear", Uses: []catalog.Use{{Mount: "deck", Count: 30}}, UpTo: 2, MaxLoad: 17 * kg,
				Needs: tag("stand-two", "two_leg_stand"), Places: []catalog.Place{seat}},
			{Code: "stand-one", Weight: 1 * kg, Price: 100, FittingMinutes: 3, Uses: []catalog.Use{{Mount: "belly", Count: 1}}},
			{Code: "stand-two", Weight: 2 * kg, Price: 900, Uses: []catalog.Use{{Mount: "belly", Count: 1}}},
			{Code: "tray", Weight: 2 * kg, Price: 1100, Zone: "front", Uses: []catalog.Use{{Mount: "head", Count: 1}}, Cargo: 6 * kg, CargoVolume: 24_000, FrontOverhang: 80},
		},
	}
	for i := range c.AddOns {
		if c.AddOns[i].Code != "stand-one" {
			c.AddOns[i].Fits = []string{"sedge"}
		}
	}
	d := &fitting.Demand{
		Riders: []load.Rider{{Label: "A", Riding: 60 * kg}, {Label: "B", Riding: 80 * kg}}, Labels: []string{"p", "gone", "q"},
		Today: fitting.Stage{{Present: true, Load: 16 * kg, Light: 15 * kg, Tall: 1000, Young: 30, Old: 31}, {},
			{Present: true, Load: 17 * kg, Light: 14 * kg, Tall: 1100, Young: 24, Old: 60}},
		Pet: 7 * kg, Cargo: 10 * kg, CargoSize: 40_000, HasHome: true, Home: parking.Home{Space: parking.Box{Length: 1940, Width: 700, Height: 1100}},
	}
	return &bench{c, d, &fitting.Build{
		AddOns: []string{"crate", "guard", "seat", "seat", "stand-two", "tray"}, TakenOff: []string{"stand-one"},
		Price: 300 + 500 + 2*700 + 900 + 1100, Labour: 3 * 300, Weight: 14 * kg,
		Seating: []fitting.Seat{{Passenger: "p", AddOn: "seat"}, {Passenger: "q", AddOn: "seat", Copy: 1}}, Pet: "crate",
		Cargo: []fitting.CargoShare{{Carrier: "rear", Zone: "rear", Mass: 4 * kg, Volume: 16_000}, {Carrier: "tray", Zone: "front", Mass: 6 * kg, Volume: 24_000}},
	}}
}

// broken lists changes of the full bike, each by one, and what is said then.
var broken = []struct {
	name, says string
	change     func(b *bench)
}{
	{"gross", "gross under B", func(b *bench) { b.frame().GrossRating -= 1 * g }},
	{"gross under the other rider", "gross under A", func(b *bench) { b.Riders[0].Riding = 80*kg + 1*g }},
	{"gross without a rider", "gross under nobody", func(b *bench) { b.Riders, b.frame().GrossRating = nil, 89*kg-1*g }},
	{"bare weight", "gross", func(b *bench) { b.frame().BareWeight += 1 * g }},
	{"front zone", "zone front", func(b *bench) { b.frame().Zones[0].Rating -= 1 * g }},
	{"rear zone", "zone rear", func(b *bench) { b.frame().Zones[1].Rating -= 1 * g }},
	{"combined zones", "combined zones", func(b *bench) { b.frame().Combined[0].Rating -= 1 * g }},
	{"front axle", "front axle under B", func(b *bench) { b.frame().FrontAxleRating -= 1 * g }},
	{"rear axle", "rear axle under B", func(b *bench) { b.frame().RearAxleRating -= 1 * g }},
	{"front axle by a tenth of a gram", "front axle", func(b *bench) { b.AddOn("seat").Places[0].Ahead++; b.frame().Zones[1].Ahead-- }},
	{"a stand further ahead than the front axle", "front axle", func(b *bench) { b.AddOn("stand-two").Ahead = 1001 }},
	{"a stand behind the rear axle", "rear axle", func(b *bench) { b.AddOn("stand-two").Ahead = -1 }},
	{"the front lifts", "the front lifts under B", func(b *bench) { b.lean(-172) }},
	{"the front lifts under the other rider", "the front lifts under A", func(b *bench) { b.lean(-171); b.Riders[0].Riding = 80_200 }},
	{"the front lifts without the old stand", "the front lifts under B", func(b *bench) { b.lean(-171); b.AddOn("stand-one").Ahead = 1100 }},
	{"a tray a millimetre further ahead", "front axle", func(b *bench) { b.frame().Zones[0].Ahead++ }},
	{"a delivered part counts in its zone", "zone rear", func(b *bench) { b.stay("rear") }},
	{"load of a seat", "seat carries", func(b *bench) { b.AddOn("seat").MaxLoad -= 1 * g }},
	{"load of the crate", "crate carries", func(b *bench) { b.AddOn("crate").MaxLoad -= 1 * g }},
	{"load of the seat on this frame", "seat carries", func(b *bench) {
		less := 17*kg - 1*g
		b.AddOn("seat").OnFrame = map[string]catalog.Pair{"sedge": {MaxLoad: &less}}
	}},

	{"too many passengers", "2 passengers of at most 1", func(b *bench) { b.frame().PassengersMax = 1 }},
	{"too young", "does not suit q", func(b *bench) { b.Today[2].Young-- }},
	{"too old", "does not suit q", func(b *bench) { b.Today[2].Old++ }},
	{"too light", "does not suit q", func(b *bench) { b.Today[2].Light-- }},
	{"too heavy", "does not suit q", func(b *bench) { b.AddOn("seat").Places[0].MaxMass-- }},
	{"too tall", "does not suit q", func(b *bench) { b.Today[2].Tall++ }},
	{"a place lacks its need", "the place of p needs", func(b *bench) { b.AddOn("guard").Provides = nil }},
	{"the foot rests of another seat", "the place of p needs", func(b *bench) {
		b.AddOn("seat").Places[0].Needs, b.AddOn("crate").Provides = [][]string{{"foot_support"}}, []string{"foot_support"}
		b.AddOn("crate").Places = []catalog.Place{{MinMonths: 12}}
	}},
	{"foot rests in another zone", "the place of q needs", func(b *bench) {
		b.AddOn("seat").Places[0].Needs, b.AddOn("tray").Provides = [][]string{{"foot_support"}}, []string{"foot_support"}
	}},
	{"foot rests in no zone", "the place of q needs", func(b *bench) {
		b.AddOn("seat").Places[0].Needs, b.AddOn("stand-two").Provides = [][]string{{"foot_support"}}, []string{"foot_support"}
	}},
	{"two in one place", "q sits where somebody else does", func(b *bench) { b.Seating[1].Copy = 0 }},
	{"a seat that is not fitted", "q sits on a seat that is not", func(b *bench) { b.Seating[1].Copy = 2 }},
	{"a seat of another shop", "q sits on a throne that is not", func(b *bench) { b.Seating[1].AddOn = "throne" }},
	{"no such place", "q sits in place 1 of 1", func(b *bench) { b.Seating[1].Place = 1 }},
	{"no such place of the frame", "p sits in place 2 of 1", func(b *bench) { b.Seating[0] = fitting.Seat{Passenger: "p", Place: 2} }},
	{"one stands", "q has no place", func(b *bench) { b.Seating = b.Seating[:1] }},
	{"one too many", "1 seats of nobody", func(b *bench) { b.Seating = append(b.Seating, fitting.Seat{Passenger: "r"}) }},
	{"another order", "p has no place", func(b *bench) { b.Seating[0].Passenger, b.Seating[1].Passenger = "q", "p" }},
	{"one who rides alone by now", "gone has no place", func(b *bench) { b.Today[1].Present = true }},

	{"no pet carrier", "the pet has no carrier", func(b *bench) { b.Build.Pet = "" }},
	{"a carrier that is not fitted", "the pet has no carrier", func(b *bench) { b.Build.Pet = "kennel" }},
	{"a pet too heavy", "the pet has no carrier", func(b *bench) { b.AddOn("crate").Pet-- }},
	{"a pet beside somebody", "the pet has no carrier", func(b *bench) {
		b.AddOn("crate").Places = []catalog.Place{{}}
		b.Seating[0] = fitting.Seat{Passenger: "p", AddOn: "crate"}
	}},
	{"a pet beside cargo", "crate in \"rear\" does not hold", func(b *bench) { b.Build.Cargo[0].Carrier = "crate" }},
	{"a pet that stays at home", "crate carries no pet", func(b *bench) { b.Demand.Pet = 0 }},

	{"cargo left behind", "9999 g and 40000 ml are stowed", func(b *bench) { b.Build.Cargo[0].Mass-- }},
	{"volume left behind", "10000 g and 39999 ml are stowed", func(b *bench) { b.Build.Cargo[1].Volume-- }},
	{"a gram too much in the tray", "tray in \"front\" does not hold", func(b *bench) { b.AddOn("tray").Cargo-- }},
	{"a millilitre too much in the tray", "tray in \"front\" does not hold", func(b *bench) { b.AddOn("tray").CargoVolume-- }},
	{"what the tray bears in all", "tray in \"front\" does not hold", func(b *bench) { b.AddOn("tray").MaxLoad = 6*kg - 1*g }},
	{"a gram too much in the zone", "rear in \"rear\" does not hold", func(b *bench) { b.frame().Zones[1].Cargo-- }},
	{"a millilitre too much in the zone", "rear in \"rear\" does not hold", func(b *bench) { b.frame().Zones[1].CargoVolume-- }},
	{"a gram too much beside a guard", "rear in \"rear\" does not hold", func(b *bench) { b.frame().Zones[1].Cargo += 3; b.AddOn("guard").DisplacesCargo = 4 }},
	{"a millilitre too much beside two seats", "rear in \"rear\" does not hold", func(b *bench) { b.frame().Zones[1].CargoVolume += 3; b.AddOn("seat").DisplacesVolume = 2 }},
	{"no kilograms left", "rear in \"rear\" does not hold", func(b *bench) { b.Build.Cargo[0].Mass, b.Demand.Cargo, b.AddOn("guard").DisplacesCargo = 0, 6*kg, 4*kg }},
	{"two shares in one tray", "tray in \"front\" does not hold", func(b *bench) { b.Build.Cargo[0] = b.Build.Cargo[1] }},
	{"a carrier that is not fitted", "bag in \"rear\" does not hold", func(b *bench) { b.Build.Cargo[0].Carrier = "bag" }},
	{"a carrier in another zone", "tray in \"rear\" does not hold", func(b *bench) { b.Build.Cargo[1].Zone = "rear" }},
	{"a zone without cargo of its own", "front in \"front\" does not hold", func(b *bench) { b.Build.Cargo[1].Carrier = "front" }},
	{"stones in one, feathers in the other", "density", func(b *bench) { b.Build.Cargo[0].Volume -= 5; b.Build.Cargo[1].Volume += 5 }},
	{"a share of less than nothing", "density", func(b *bench) {
		b.Build.Cargo = append(b.Build.Cargo, fitting.CargoShare{Carrier: "tray", Zone: "front", Mass: -1})
	}},

	{"a full mount", "mount deck: 80 of 79", func(b *bench) { b.frame().Mounts[1].Capacity-- }},
	{"a mount that is not there", "no mount head", func(b *bench) { b.frame().Mounts = b.frame().Mounts[:2] }},
	{"the old stand still on", "mount belly: 2 of 1", func(b *bench) { b.TakenOff = nil }},
	{"a need", "seat needs one of", func(b *bench) { b.AddOn("seat").Needs[0] = []string{"two_leg_stand"} }},
	{"a need of what came off", "seat needs one of", func(b *bench) { b.AddOn("seat").Needs[0] = []string{"stand-one"} }},
	{"a tag with the name of an add-on", "seat needs one of", func(b *bench) {
		b.AddOn("seat").Needs[0], b.AddOn("guard").Provides = []string{"stand-one"}, []string{"wheel_guard", "stand-one"}
	}},
	{"an exclusion", "tray and seat exclude", func(b *bench) { b.AddOn("tray").Excludes = []string{"seat"} }},
	{"three of two", "3 of seat are fitted", func(b *bench) { b.Build.AddOns = append(b.Build.AddOns, "seat") }},
	{"two where nothing is said", "2 of tray are fitted", func(b *bench) { b.Build.AddOns = append(b.Build.AddOns, "tray") }},
	{"an add-on for another frame", "tray does not fit", func(b *bench) { b.AddOn("tray").Fits = []string{"osier"} }},
	{"an add-on of another shop", "throne is not in the catalogue", func(b *bench) { b.Build.AddOns = append(b.Build.AddOns, "throne") }},
	{"off more often than it came", "2 of stand-one come off", func(b *bench) { b.TakenOff = append(b.TakenOff, "stand-one") }},
	{"bought and taken off", "bought and taken off", func(b *bench) {
		b.Build.AddOns, b.AddOn("stand-one").Fits = append(b.Build.AddOns, "stand-one"), []string{"sedge"}
	}},

	{"price", "4201 and 900 cents", func(b *bench) { b.Price++ }},
	{"labour", "4200 and 899 cents", func(b *bench) { b.Labour-- }},
	{"weight", "and 14001 g are said", func(b *bench) { b.Weight++ }},
	{"price of an add-on", "of 4201,", func(b *bench) { b.AddOn("tray").Price++ }},
	{"fitting of an add-on", "of 4200, 1200", func(b *bench) { b.AddOn("tray").FittingMinutes = 3 }},

	{"length", "does not get home", func(b *bench) { b.Home.Space.Length-- }},
	{"width", "does not get home", func(b *bench) { b.Home.Space.Width-- }},
	{"height", "does not get home", func(b *bench) { b.frame().Height++ }},
	{"overhang in front", "does not get home", func(b *bench) { b.AddOn("tray").FrontOverhang++ }},
	{"overhang behind", "does not get home", func(b *bench) { b.AddOn("crate").RearOverhang++ }},
	{"overall height", "does not get home", func(b *bench) { b.AddOn("guard").OverallHeight = 1101 }},
	{"doorway", "does not get home", func(b *bench) { b.Home.Doorways = []parking.Doorway{{Width: 699}} }},
	{"on end, and cannot", "does not get home", func(b *bench) { b.Home.MustStandUpright = true }},
	{"on end, and blocked", "does not get home", func(b *bench) { b.onEnd(); b.AddOn("tray").BlocksUpright = true }},
	{"on end, and too high", "does not get home", func(b *bench) { b.onEnd(); b.Home.Space.Height-- }},
	{"on end, and too deep", "does not get home", func(b *bench) { b.onEnd(); b.AddOn("guard").OverallHeight = 1101 }},
	{"on end, and longer behind", "does not get home", func(b *bench) { b.onEnd(); b.AddOn("crate").RearOverhang++ }},
	{"on end, and too wide", "does not get home", func(b *bench) { b.onEnd(); b.AddOn("crate").OverallWidth++ }},
}

// stay leaves the delivered stand on, in a zone, beside the other one.
func (b *bench) stay(zone string) {
	b.frame().Mounts[0].Capacity = 2
	b.AddOn("stand-one").Zone, b.TakenOff, b.Labour, b.Weight = zone, nil, 600, 15*kg
	b.frame().GrossRating += 1 * kg
}

// lean has the riders sit behind the rear axle, of which nobody rates the load.
// Bare frame and tray hold 18 kg down, the children lift 3.3, and the stand
// that came off held 1: 13.7 are left for 80 kg at 171.25 mm behind.
func (b *bench) lean(ahead measure.Length) {
	b.frame().RiderAhead, b.frame().RearAxleRating = ahead, 0
}

// onEnd stands the bike on end in a space as high as it is then.
func (b *bench) onEnd() {
	b.frame().Upright = catalog.Box{Length: 700, Width: 600, Height: 1850}
	b.Home.MustStandUpright, b.Home.Space = true, parking.Box{Length: 700, Width: 700, Height: 1990}
}

func TestAFullBikeHolds(t *testing.T) {
	b := full()
	if err := b.check(); err != nil {
		t.Error(err)
	}
	b.onEnd()
	if err := b.check(); err != nil {
		t.Errorf("on end: %v", err)
	}
	leaning := full()
	if leaning.lean(-171); leaning.check() != nil {
		t.Errorf("leaning back: %v", leaning.check())
	}
	nobody := full()
	nobody.lean(-172)
	if nobody.Riders = nil; nobody.check() != nil {
		t.Errorf("nobody rides: %v", nobody.check())
	}
	for _, code := range []string{"guard", "seat"} {
		b := full()
		b.AddOn("seat").Places[0].Needs, b.AddOn(code).Provides = [][]string{{"backrest"}}, []string{"backrest", "wheel_guard"}
		if err := b.check(); err != nil {
			t.Errorf("a backrest of the %s: %v", code, err)
		}
	}
}

func TestEveryFaultIsFound(t *testing.T) {
	for _, c := range broken {
		t.Run(c.name, func(t *testing.T) {
			b := full()
			c.change(b)
			if err := b.check(); err == nil || !strings.Contains(err.Error(), c.says) {
				t.Errorf("said %q, want %q", err, c.says)
			}
		})
	}
}

// What is alike may change places, and what binds nothing may be left out.
func TestWhatMakesNoDifferenceIsNoFault(t *testing.T) {
	for name, change := range map[string]func(b *bench){
		"the children change seats":      func(b *bench) { b.Seating[0].Copy, b.Seating[1].Copy = 1, 0 },
		"one sits on the frame itself":   func(b *bench) { b.frame().Places[0].Ahead = -100; b.Seating[0] = fitting.Seat{Passenger: "p"} },
		"a frame that states no axles":   func(b *bench) { b.frame().BareFrontShare, b.frame().RearAxleRating = 0, 1 },
		"a rating that is not stated":    func(b *bench) { b.frame().Zones[1].Rating = 0 },
		"the stand provides what is due": func(b *bench) { b.AddOn("seat").Needs[0], b.frame().Provides = []string{"stays"}, []string{"stays"} },
		"the old stand stays":            func(b *bench) { b.stay("") },
		"no home is asked for":           func(b *bench) { b.HasHome, b.Home.Space.Length = false, 1 },
		"a zone called like an add-on": func(b *bench) {
			b.frame().Zones[1].Code, b.frame().Combined[0].Zones[1], b.frame().Places[0].Zone = "tray", "tray", "tray"
			for i := range b.Catalogue.AddOns {
				if b.Catalogue.AddOns[i].Zone == "rear" {
					b.Catalogue.AddOns[i].Zone = "tray"
				}
			}
			b.Build.Cargo[0].Carrier, b.Build.Cargo[0].Zone = "tray", "tray"
		},
		"shares of two copies in any order": func(b *bench) {
			tray := b.AddOn("tray")
			tray.UpTo, tray.Cargo, tray.MaxLoad, tray.Weight, tray.Uses = 2, 3*kg, 3*kg, 1*kg, nil
			b.Build.AddOns, b.Price = append(b.Build.AddOns, "tray"), b.Price+1100
			b.Build.Cargo = slices.Insert(b.Build.Cargo, 1, b.Build.Cargo[1])
			b.Build.Cargo[1].Mass, b.Build.Cargo[2].Mass, b.Build.Cargo[1].Volume, b.Build.Cargo[2].Volume = 3*kg, 3*kg, 12_000, 12_000
		},
	} {
		b := full()
		change(b)
		if err := b.check(); err != nil {
			t.Errorf("%s: %v", name, err)
		}
	}
}
