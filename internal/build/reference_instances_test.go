package build_test

import (
	"slices"

	"pgregory.net/rapid"

	"kinhaul/internal/catalog"
	"kinhaul/internal/profile"
)

// The shapes of the problems for the reference: with so many add-ons that not
// every set of them can be gone through.
var (
	wideAnything = shape{addOns: 5, passengers: 5, riders: 3, cargo: true, pet: true, axles: true, combined: true, home: true, comeWith: true}
	wideFamilies = shape{addOns: 5, passengers: 5, riders: 2, combined: true, home: true, comeWith: true}
	wideCouriers = shape{addOns: 5, passengers: 1, riders: 3, cargo: true, axles: true, combined: true, comeWith: true}
)

var wideCodes = []string{"bag", "rail", "seat", "stand", "tray", "bag-low", "bag-top", "box", "cushion", "hoop", "rack", "roof", "seat-low", "step"}

// drawWide draws an instance with eight to fourteen add-ons, one to four zones
// and one to three sets of combined ones.
func drawWide(t *rapid.T, s shape) *instance {
	d := &drawer{T: t, shape: s}
	p := d.profile()
	f := d.frame(p)
	if len(f.Zones) == 3 && d.oneIn(2) {
		f.Zones = append(f.Zones, d.zone("box"))
		if d.combined && d.oneIn(2) {
			f.Combined = append(f.Combined, catalog.Combined{Zones: []string{"front", "tray", "box"}, Rating: d.mass(15*kg, 90*kg)})
		}
	}
	for i := range f.Zones {
		if z := &f.Zones[i]; d.cargo && z.Cargo == 0 && d.oneIn(4) {
			z.Cargo, z.CargoVolume = d.mass(500*g, 5*kg), 15_000
		}
	}
	if n := len(p.Passengers.Or(nil)); d.mostly() && n > 2 {
		f.PassengersMax = 5
	}
	for i := range f.Mounts {
		f.Mounts[i].Capacity *= 1 + d.upTo(1)
	}
	c := &catalog.Catalogue{Version: 1, Shop: catalog.Shop{Name: "Low Quay Load Works", Currency: "EUR", LabourPerHour: 6000}, Frames: []catalog.Frame{f}}
	for _, code := range wideCodes[:8+d.upTo(6)] {
		c.AddOns = append(c.AddOns, d.addOn(&f, code))
	}
	d.exclude(c)
	if d.comeWith {
		d.deliver(c)
	}
	if d.oneIn(2) {
		slices.Reverse(c.AddOns)
	}
	in := &instance{catalogue: c, frame: &c.Frames[0], profile: p}
	if d.home && d.oneIn(3) {
		p.Home = profile.Given(d.homeFor(in.frame))
	}
	if err := c.Check(); err != nil {
		t.Fatalf("the drawn catalogue is faulty: %v", err)
	}
	if err := p.Check(); err != nil {
		t.Fatalf("the drawn profile is faulty: %v", err)
	}
	return in
}

// sampleWide returns the instance of a seed; the same seed gives the same one.
func sampleWide(s shape, seed int) *instance {
	return rapid.Custom(func(t *rapid.T) *instance { return drawWide(t, s) }).Example(seed)
}

// trip is a plan with eight to fourteen add-ons and up to five passengers,
// drawn as the benchmarks draw theirs: those are feasible more often.
func trip(seed int) plan {
	p := plan{name: "trip", addOns: 8 + seed%17, passengers: seed % 6, riders: 1 + seed%3, zones: []string{"front", "rear", "sides"}, spare: true, pet: true, axles: seed%5 == 0}
	if seed%4 > 0 {
		p.zones, p.spare, p.own, p.combined = append(p.zones, "box"), false, true, seed%2 == 0
	}
	return p
}
