package fitting_test

import (
	"slices"

	"pgregory.net/rapid"

	"kinwain/internal/catalog"
	"kinwain/internal/measure"
	"kinwain/internal/profile"
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
	for range d.upTo(2) {
		d.resemble(c)
	}
	if d.comeWith {
		d.deliver(c)
	}
	if d.oneIn(2) {
		slices.Reverse(c.AddOns)
	}
	in := &instance{catalogue: c, frame: &c.Frames[0], profile: p}
	for range d.upTo(3) {
		d.sharpen(in)
	}
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

// resemble adds an add-on that differs from another in one thing or two.
func (d *drawer) resemble(c *catalog.Catalogue) {
	a := of(d, c.AddOns...)
	a.Code, a.Name = a.Code+"-b", a.Code+"-b"
	if c.AddOn(a.Code) != nil {
		return
	}
	for range of(d, 1, 1, 2) {
		switch of(d, 0, 1, 2, 3, 3, 3, 4, 5, 6, 7, 8, 9) {
		case 0:
			a.Price += 1000
		case 1:
			a.Weight += 200
		case 2:
			a.FittingMinutes += 5
		case 3:
			a.MaxLoad = of(d, 12*kg, 20*kg, 0)
		case 4:
			a.Excludes = []string{of(d, c.AddOns...).Code}
		case 5:
			a.Uses = append([]catalog.Use{}, a.Uses[:d.upTo(len(a.Uses))]...)
		case 6:
			a.Provides = d.some(tags, 2)
		case 7:
			a.RearOverhang += 40
		case 8:
			a.Needs = d.needs()
		case 9:
			a.UpTo = of(d, 1, 2)
		}
	}
	if a.Excludes != nil && a.Excludes[0] == a.Code {
		a.Excludes = nil
	}
	c.AddOns = append(c.AddOns, a)
}

// sharpen sets one rating to what would be carried, or to a gram less.
func (d *drawer) sharpen(in *instance) {
	p, f, c := in.profile, in.frame, in.catalogue
	part, other := &c.AddOns[d.upTo(len(c.AddOns)-1)], &c.AddOns[d.upTo(len(c.AddOns)-1)]
	load := p.Pet.Or(0)
	if people := party(p, p.AsOf); len(people) > 0 {
		load = of(d, people...).load + of(d, 0, 0, of(d, people...).load)
	} else if load == 0 || d.oneIn(2) {
		load = p.Cargo.Or(0) / measure.Mass(1+d.upTo(1))
	}
	load -= of(d, 0, 0, 0, 1*g)
	switch d.upTo(2) {
	case 0:
		if load > 0 && part.OnFrame == nil {
			part.MaxLoad = load
		}
	case 1:
		if z := f.ZoneIndex(part.Zone); z >= 0 {
			f.Zones[z].Rating = max(part.Weight+load+of(d, 0, other.Weight), 1*kg)
		}
	case 2:
		f.GrossRating = max(f.BareWeight+ridesAlong(p)+part.Weight+other.Weight-of(d, 0, 1*g), 40*kg)
	}
}

// drawHauler draws an instance with cargo and little else, of which every zone
// carries some, and with ratings between which there is little room: whether
// and how it can be shared out then takes some thought.
func drawHauler(t *rapid.T) *instance {
	in := drawWide(t, wideCouriers)
	d := &drawer{T: t, shape: wideCouriers}
	p, f := in.profile, in.frame
	cargo := d.mass(5*kg, 25*kg)
	if d.mostly() {
		p.Passengers = profile.Answer[[]profile.Passenger]{}
	}
	p.Cargo, p.CargoSize = profile.Given(cargo), profile.Given(of(d, measure.Volume(0), 10_000, 30_000))
	f.GrossRating = max(f.GrossRating, f.BareWeight+ridesAlong(p)+5*kg)
	part := func(from int) measure.Mass { return cargo * measure.Mass(from+d.upTo(10-from)) / 10 }
	for i := range f.Zones {
		z := &f.Zones[i]
		z.Cargo, z.CargoVolume, z.Rating = part(2), 20_000, 0
		if d.mostly() {
			z.Rating = part(3) + of(d, 1*kg, 2*kg, 3*kg)
		}
	}
	f.Combined, f.FrontAxleRating, f.RearAxleRating = nil, 0, 0
	spare, sort := of(d, 3*kg, 3*kg, 0, 1*g), d.upTo(4)
	for _, zones := range [][]string{{"front", "rear"}, {"rear", "tray"}, {"front", "tray"}, {"front", "rear", "tray"}, {"tray", "box"}, {"front", "box"}} {
		if !slices.ContainsFunc(zones, func(code string) bool { return f.ZoneIndex(code) < 0 }) && d.oneIn(2) && sort > 1 {
			f.Combined = append(f.Combined, catalog.Combined{Zones: zones, Rating: part(3) + spare})
		}
	}
	if sort < 3 {
		d.balance(in, cargo, part(0))
	}
	if err := in.catalogue.Check(); err != nil {
		t.Fatalf("the drawn catalogue is faulty: %v", err)
	}
	return in
}

// balance rates the axles so that about the given part of the cargo may weigh
// on the front one and the rest on the rear one.
func (d *drawer) balance(in *instance, cargo, share measure.Mass) {
	f := in.frame
	f.Wheelbase, f.RiderAhead, f.BareFrontShare = 1100, of(d, measure.Length(350), 400), 45*measure.Percent
	rider := ridesAlong(in.profile) - cargo
	front := f.BareWeight*45/100 + rider*measure.Mass(f.RiderAhead)/1100
	f.FrontAxleRating = max(front+share+of(d, 0, 1*kg, 2*kg), 10*kg)
	f.RearAxleRating = max(f.BareWeight+rider-front+cargo-share+of(d, -1*kg, -1*g, 0, 1*kg, 2*kg), 10*kg)
}

// sampleWide returns the instance of a seed; the same seed gives the same one.
func sampleWide(s shape, seed int) *instance {
	return rapid.Custom(func(t *rapid.T) *instance { return drawWide(t, s) }).Example(seed)
}

func sampleHauler(seed int) *instance {
	return rapid.Custom(drawHauler).Example(seed)
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
