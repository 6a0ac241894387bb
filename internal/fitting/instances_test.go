// Small random problems for the tests of the solver: one frame, a handful of
// add-ons and one family. They are drawn so that edges are common: masses come
// in halves of a kilogram or a gram beside them, prices repeat, and a home is
// about as large as the bike.
//
// Every property draws afresh; "go test -rapid.seed=N" repeats a run. The
// sweeps use sample, which is the same for the same seed.
package fitting_test

import (
	"slices"
	"time"

	"pgregory.net/rapid"

	"kinwain/internal/catalog"
	"kinwain/internal/fitting"
	"kinwain/internal/measure"
	"kinwain/internal/profile"
)

const (
	g  = measure.Gram
	kg = measure.Kilogram
	cm = measure.Centimetre
)

// instance is one small problem.
type instance struct {
	catalogue *catalog.Catalogue
	frame     *catalog.Frame
	profile   *profile.Profile
	flies     bool         // it is no matter whether the front lifts
	downBy    measure.Mass // by which the front is held down at the least
}

var settings = fitting.DefaultSettings()

func (in *instance) demand() *fitting.Demand {
	return fitting.NewDemand(in.profile, in.profile.AsOf, settings)
}

func (in *instance) problem() *fitting.Problem {
	return fitting.New(in.catalogue, in.frame, in.demand())
}

// show writes the documents of an instance where a test has failed.
func (in *instance) show(t tester) {
	if t.Failed() {
		c, _ := in.catalogue.Document()
		p, _ := in.profile.Document()
		t.Logf("%s\n%s", c, p)
	}
}

// shape bounds what an instance holds.
type shape struct {
	addOns, passengers, riders                  int // at most
	cargo, pet, axles, combined, home, comeWith bool
}

// The shapes that the properties draw: of every kind, and of one kind at a
// time, so that enough of them are feasible with somebody or something on.
var (
	anything = shape{addOns: 5, passengers: 3, riders: 3, cargo: true, pet: true, axles: true, combined: true, home: true, comeWith: true}
	families = shape{addOns: 5, passengers: 4, riders: 2, home: true, comeWith: true}
	couriers = shape{addOns: 5, riders: 2, cargo: true, axles: true, combined: true, comeWith: true}
	outings  = shape{addOns: 5, passengers: 2, riders: 1, cargo: true, pet: true, axles: true, combined: true}
	choosers = shape{addOns: 8, passengers: 2, riders: 1, cargo: true, pet: true, axles: true, comeWith: true}
)

// sample returns the instance of a seed; the same seed gives the same one.
func sample(s shape, seed int) *instance {
	return rapid.Custom(func(t *rapid.T) *instance { return drawInstance(t, s) }).Example(seed)
}

// drawInstance draws documents that would pass at the counter: a catalogue and
// a profile with a fault are drawn again.
func drawInstance(t *rapid.T, s shape) *instance {
	d := &drawer{T: t, shape: s}
	p := d.profile()
	f := d.frame(p)
	in := &instance{catalogue: d.catalogue(f), profile: p}
	in.frame = &in.catalogue.Frames[0]
	if d.home && d.oneIn(3) {
		in.profile.Home = profile.Given(d.homeFor(in.frame))
	}
	if err := in.catalogue.Check(); err != nil {
		t.Fatalf("the drawn catalogue is faulty: %v", err)
	}
	if err := in.profile.Check(); err != nil {
		t.Fatalf("the drawn profile is faulty: %v", err)
	}
	return in
}

type drawer struct {
	*rapid.T
	shape
}

func of[V any](d *drawer, values ...V) V { return rapid.SampledFrom(values).Draw(d.T, "of") }

// digits are drawn from evenly; a drawn range would keep to its ends.
var digits = [...]int{0, 1, 2, 3, 4, 5, 6, 7, 8, 9, 10, 11, 12, 13, 14, 15, 16, 17, 18, 19}

func (d *drawer) upTo(n int) int   { return of(d, digits[:n+1]...) }
func (d *drawer) oneIn(n int) bool { return d.upTo(n-1) == n-1 }
func (d *drawer) mostly() bool     { return !d.oneIn(4) }

// mass draws halves of a kilogram and, now and then, a gram beside one.
func (d *drawer) mass(low, high measure.Mass) measure.Mass {
	halves := rapid.IntRange(int(low/500), int(high/500)).Draw(d.T, "halves")
	return min(max(measure.Mass(halves)*500+of(d, 0, 0, 0, -1*g, 1*g), low), high)
}

var asOf = measure.Date{Year: 2026, Month: time.November, Day: 25}

func (d *drawer) profile() *profile.Profile {
	p := &profile.Profile{Version: 1, AsOf: asOf}
	for i := range 1 + d.upTo(d.riders-1) {
		p.Riders = append(p.Riders, profile.Rider{
			Label: string(rune('A' + i)), Height: profile.Given(170 * cm), Weight: profile.Given(d.mass(45*kg, 110*kg)),
			Weighed: profile.Given(of(d, profile.Dressed, profile.Undressed, profile.Stated)),
		})
	}
	var passengers []profile.Passenger
	for i := range d.upTo(d.passengers) {
		passengers = append(passengers, d.passenger(string(rune('p'+i))))
	}
	if passengers != nil {
		p.Passengers = profile.Given(passengers)
	}
	if d.pet && d.oneIn(6) {
		p.Pet = profile.Given(of(d, 5*kg, 6*kg, 6*kg+1*g, 10*kg, 10*kg+1*g))
	}
	if d.cargo && (d.passengers == 0 || d.oneIn(2)) {
		p.Cargo = profile.Given(of(d, 0, d.mass(500*g, 25*kg)))
		p.CargoSize = profile.Given(of(d, 0, 1, 7, 10_000, 20_000, 33_333, measure.Volume(d.upTo(18))*3*measure.Litre))
	}
	return p
}

func (d *drawer) passenger(label string) profile.Passenger {
	p := profile.Passenger{Label: label, Sex: profile.Given(of(d, profile.Girl, profile.Boy, profile.Unstated))}
	age := of(d, 24, 36, 48, 12, 13, 47, 60, 72, 90, 120)
	if d.oneIn(3) {
		age = 12 + 7*d.upTo(18)
	}
	month := asOf.InMonth() - measure.Month(age)
	day := of(d, 0, 1, 24, 25, 26, 28)
	p.Born = profile.Given(measure.Date{Year: month.Year(), Month: month.Month(), Day: day})
	if d.mostly() {
		p.Weight = profile.Given(of(d, 12*kg, 14*kg, 14*kg+1*g, 15200*g, 9*kg, 9*kg-1*g, 21*kg, 21*kg+1*g, 25*kg, 25*kg+1*g))
	}
	if d.oneIn(2) {
		p.Stature = profile.Given(of(d, 80*cm, 95*cm, 95*cm+1, 110*cm, 110*cm+1, 125*cm))
	}
	if d.oneIn(6) {
		p.LeavesAtYears = profile.Given(of(d, 3, 4, 5, 6, 8, 11))
	}
	if d.oneIn(8) {
		earliest := p.Born.Or(measure.Date{}).Latest().AddMonths(profile.FirstRideMonths).InMonth()
		p.Joins = profile.Given(profile.Month{Month: max(earliest, asOf.InMonth()) + measure.Month(3*d.upTo(6))})
	}
	if d.oneIn(20) && p.Weight.IsGiven() {
		p.Born, p.Joins = profile.Unknown[measure.Date](), profile.Answer[profile.Month]{}
	}
	return p
}

// ridesAlong sums up what a profile brings, roughly: readings count as read.
func ridesAlong(p *profile.Profile) measure.Mass {
	heaviest, sum := measure.Mass(0), p.Pet.Or(0)+p.Cargo.Or(0)
	for _, r := range p.Riders {
		heaviest = max(heaviest, r.Weight.Or(0)+map[profile.Weighed]measure.Mass{profile.Undressed: 4 * kg, profile.Stated: 6 * kg}[r.Weighed.Or("")])
	}
	for _, c := range p.Passengers.Or(nil) {
		sum += c.Weight.Or(15*kg) + 1*kg
	}
	return heaviest + sum
}

var tags = []string{"two_leg_stand", "hand_hold", "wheel_guard"}

func (d *drawer) some(list []string, chance int) []string {
	var some []string
	for _, s := range list {
		if d.oneIn(chance) {
			some = append(some, s)
		}
	}
	return some
}

func (d *drawer) frame(p *profile.Profile) catalog.Frame {
	f := catalog.Frame{
		Code: "sedge", Name: "Sedge", RiderMin: 150 * cm, RiderMax: 200 * cm, Price: 200_000,
		Length: of(d, 180*cm, 200*cm, 250*cm), Width: of(d, 60*cm, 85*cm), Height: 110 * cm,
		BareWeight: d.mass(15*kg, 40*kg), PassengersMax: of(d, 0, 0, 0, 3, 2, 1),
		Provides: d.some(tags, 3),
		Mounts:   []catalog.Mount{{Code: "belly", Capacity: 1}, {Code: "boss", Capacity: of(d, 2, 3)}, {Code: "deck", Capacity: of(d, 30, 40, 60)}},
	}
	slack := of(d, 40*kg, 40*kg, 25*kg, 25*kg, 15*kg, 15*kg, 8*kg, 4*kg, 0, -1*g)
	f.GrossRating = max(f.BareWeight+ridesAlong(p)+slack, 40*kg)
	if d.oneIn(3) {
		f.Upright = catalog.Box{Length: 60 * cm, Width: 64 * cm, Height: f.Length}
	}
	for _, code := range []string{"front", "rear", "tray"}[:1+d.upTo(2)] {
		f.Zones = append(f.Zones, d.zone(code))
	}
	if d.combined {
		f.Combined = d.together(len(f.Zones))
	}
	if d.axles && d.oneIn(3) {
		f.Wheelbase, f.RiderAhead, f.BareFrontShare = 1100, of(d, measure.Length(350), 350, 400, 500, -50, 1150), of(d, 45*measure.Percent, 3333, 1)
		d.rateAxles(&f, p)
	}
	if d.oneIn(3) {
		f.Places = d.places(1, f.Zones[0].Code)
	}
	return f
}

// rateAxles rates either axle, or both, for about what they bear.
func (d *drawer) rateAxles(f *catalog.Frame, p *profile.Profile) {
	load := ridesAlong(p)
	rider := min(load, p.Riders[0].Weight.Or(0))
	front := f.BareWeight*measure.Mass(f.BareFrontShare)/10_000 + rider*measure.Mass(f.RiderAhead)/1100
	rest, spare := load-rider, of(d, 20*kg, 5*kg, 1*kg, 0, -1*kg, -2*kg)
	part := of(d, measure.Mass(5), 5, 2, 8, 10, 0) // tenths of the rest in front
	if d.mostly() {
		f.FrontAxleRating = max(front+rest*part/10+spare, 10*kg)
	}
	if d.mostly() {
		f.RearAxleRating = max(f.BareWeight+rider-front+rest*(10-part)/10+spare, 10*kg)
	}
}

// together draws combined ratings that may be apart, nested or overlap.
func (d *drawer) together(zones int) []catalog.Combined {
	var list []catalog.Combined
	for i, some := range [][]string{{"front", "rear"}, {"rear", "tray"}, {"front", "tray"}, {"front", "rear", "tray"}} {
		if zones > 2 && d.oneIn(3) || zones == 2 && i == 0 && d.oneIn(2) {
			list = append(list, catalog.Combined{Zones: some, Rating: d.mass(15*kg, 90*kg)})
		}
	}
	return list
}

func (d *drawer) zone(code string) catalog.Zone {
	z := catalog.Zone{Code: code, Ahead: of(d, measure.Length(-400), -100, 0, 300, 550, 800, 1300), Height: of(d, 0, 40*cm, 70*cm), Steered: d.oneIn(3)}
	if d.mostly() {
		z.Rating = d.mass(15*kg, 90*kg)
	}
	if d.cargo && d.oneIn(3) {
		z.Side = of(d, "left", "right", "right", "left", "centre")
	}
	if d.cargo && d.oneIn(3) {
		z.Cargo, z.CargoVolume = d.mass(500*g, 20*kg), of(d, measure.Volume(0), 10_000, 25_000)
	}
	return z
}

// places draws one place or a few; zone is empty for those of an add-on.
func (d *drawer) places(most int, zone string) []catalog.Place {
	var list []catalog.Place
	for range 1 + d.upTo(most) {
		p := catalog.Place{
			Zone: zone, Kind: "harnessed", MinMonths: of(d, 0, 0, 12, 12, 24), MaxMonths: of(d, 0, 0, 0, 96, 120, 72, 48),
			MinMass: of(d, 0, 0, 9*kg, 9*kg, 12*kg), MaxMass: of(d, 0, 22*kg, 22*kg, 26*kg, 35*kg, 15*kg), MaxStature: of(d, 0, 0, 0, 0, 125*cm, 110*cm, 95*cm),
			Ahead: of(d, measure.Length(0), 0, 400, 900, -200),
		}
		if p.MinMonths == 0 || p.MinMass == 0 || p.MaxMass == 0 {
			p.Kind = "belted"
		}
		if p.Unlimited() {
			p.MaxMass = 200 * kg // as good as no limit
		}
		if d.oneIn(4) {
			p.Needs = d.needs()
		}
		list = append(list, p)
	}
	return list
}

var codes = []string{"tray", "seat", "bag", "stand", "rail", "basket", "crate", "trunk"}

// needs draws one group, seldom two, of codes and tags; nothing provides the
// tag "lamp".
func (d *drawer) needs() [][]string {
	var groups [][]string
	members := append(append(slices.Clone(tags), codes[:d.addOns]...), "lamp")
	for range 1 + d.upTo(5)/5 {
		group := []string{of(d, members...)}
		if d.mostly() {
			group = append(group, of(d, members...))
		}
		groups = append(groups, group)
	}
	return groups
}

func (d *drawer) catalogue(f catalog.Frame) *catalog.Catalogue {
	c := &catalog.Catalogue{
		Version: 1,
		Shop:    catalog.Shop{Name: "Low Quay Load Works", Currency: "EUR", LabourPerHour: of(d, measure.Money(0), 6000, 6001, 5999)},
		Frames:  []catalog.Frame{f},
	}
	for i, code := range codes[:1+max(d.upTo(d.addOns-1), d.upTo(d.addOns-1))] {
		if i > 0 && d.oneIn(3) {
			c.AddOns = append(c.AddOns, d.alike(&f, code, c.AddOns))
		} else {
			c.AddOns = append(c.AddOns, d.addOn(&f, code))
		}
	}
	d.exclude(c)
	if d.comeWith {
		d.deliver(c)
	}
	// The order of a catalogue means nothing.
	if d.oneIn(2) {
		slices.Reverse(c.AddOns)
	}
	return c
}

func (d *drawer) addOn(f *catalog.Frame, code string) catalog.AddOn {
	a := catalog.AddOn{
		Code: code, Name: code, Weight: of(d, 500*g, 1*kg, 1500*g, 2*kg, 2*kg+1*g), Price: of(d, measure.Money(0), 1000, 2000, 2000, 5000),
		FittingMinutes: of(d, 0, 10, 10, 15, 20), Fits: []string{"sedge"}, UpTo: of(d, 0, 1, 2, 2, 3), Provides: d.some(tags, 4),
		FrontOverhang: of(d, measure.Length(0), 0, 0, 80), RearOverhang: of(d, measure.Length(0), 0, 0, 40, 120),
		OverallWidth: of(d, measure.Length(0), 0, 0, 700, 900), OverallHeight: of(d, measure.Length(0), 0, 0, 1300), BlocksUpright: d.oneIn(6),
	}
	for _, m := range f.Mounts {
		if d.oneIn(4) {
			a.Uses = append(a.Uses, catalog.Use{Mount: m.Code, Count: of(d, 1, max(m.Capacity/3, 1), max(m.Capacity/2, 1), m.Capacity)})
		}
	}
	if d.oneIn(4) {
		a.Needs = d.needs()
	}
	if d.oneIn(12) {
		a.Fits = nil
	}
	if d.mostly() {
		a.Zone = of(d, f.Zones...).Code
		d.carries(&a)
	} else {
		a.Ahead = of(d, measure.Length(0), 0, 350, -150)
	}
	if a.Fits != nil && d.oneIn(6) {
		a.OnFrame = map[string]catalog.Pair{"sedge": d.pair()}
	}
	return a
}

// alike draws an add-on that differs from an earlier one in a thing or two, so
// that one often outdoes the other but for that.
func (d *drawer) alike(f *catalog.Frame, code string, drawn []catalog.AddOn) catalog.AddOn {
	fresh := d.addOn(f, code)
	a := of(d, drawn...)
	a.Code, a.Name, a.Places = code, code, slices.Clone(a.Places)
	for range 1 + d.upTo(1) {
		of(d,
			func() { a.Weight = fresh.Weight }, func() { a.Price = fresh.Price }, func() { a.FittingMinutes = fresh.FittingMinutes },
			func() { a.Uses = fresh.Uses }, func() { a.Needs = fresh.Needs }, func() { a.Provides = fresh.Provides }, func() { a.UpTo = fresh.UpTo },
			func() { a.MaxLoad = fresh.MaxLoad }, func() { a.Cargo = fresh.Cargo }, func() { a.CargoVolume = fresh.CargoVolume }, func() { a.Pet = fresh.Pet },
			func() {
				a.Zone, a.MaxLoad, a.Places, a.Cargo, a.Pet = fresh.Zone, fresh.MaxLoad, fresh.Places, fresh.Cargo, fresh.Pet
				a.DisplacesCargo, a.DisplacesVolume, a.Ahead = fresh.DisplacesCargo, fresh.DisplacesVolume, fresh.Ahead
			},
			func() { a.FrontOverhang, a.OverallWidth = fresh.FrontOverhang, fresh.OverallWidth }, func() { a.BlocksUpright = fresh.BlocksUpright },
			func() { a.OnFrame = fresh.OnFrame; a.Fits = fresh.Fits }, func() { d.replace(a.Places, fresh.Places) },
		)()
	}
	if a.Zone != "" {
		a.Ahead = 0
	} else {
		a.Places, a.Cargo, a.Pet, a.DisplacesCargo, a.DisplacesVolume = nil, 0, 0, 0, 0
	}
	return a
}

// replace puts one limit of one place in the place of another's.
func (d *drawer) replace(places, fresh []catalog.Place) {
	if len(places) == 0 || len(fresh) == 0 {
		return
	}
	p, q := &places[0], &fresh[0]
	p.Kind = "belted"
	of(d, func() { p.MinMonths = q.MinMonths }, func() { p.MaxMonths = q.MaxMonths }, func() { p.MinMass = q.MinMass }, func() { p.MaxMass = q.MaxMass },
		func() { p.MaxStature = q.MaxStature }, func() { p.Ahead = q.Ahead }, func() { p.Needs = q.Needs })()
	if p.Unlimited() {
		p.MaxMass = 200 * kg
	}
}

func (d *drawer) carries(a *catalog.AddOn) {
	if d.mostly() {
		a.Places = d.places(1, "")
	}
	if d.cargo && d.oneIn(2) {
		a.Cargo, a.CargoVolume = of(d, 3*kg, 6*kg, 10*kg, 15*kg), of(d, measure.Volume(0), 7, 10_000, 20_000, 40_000)
	}
	if d.pet && d.oneIn(2) {
		a.Pet = of(d, 6*kg, 10*kg, 20*kg)
	}
	if d.cargo && d.oneIn(3) {
		a.DisplacesCargo, a.DisplacesVolume = of(d, measure.Mass(0), 1*kg, 5*kg, 30*kg), of(d, measure.Volume(0), 5_000, 10_000, 30_000)
	}
	if d.oneIn(3) {
		a.MaxLoad = of(d, 30*kg, 40*kg, 24*kg, 16*kg, 12*kg, 8*kg)
	}
}

func (d *drawer) pair() catalog.Pair {
	minutes, most, width, height, front, rear, blocks := of(d, 0, 25), of(d, 10*kg, 16*kg), of(d, measure.Length(0), 800), of(d, measure.Length(0), 1250),
		of(d, measure.Length(0), 100), of(d, measure.Length(0), 100), d.oneIn(2)
	return catalog.Pair{FittingMinutes: &minutes, MaxLoad: &most, OverallWidth: &width, OverallHeight: &height, FrontOverhang: &front, RearOverhang: &rear, BlocksUpright: &blocks}
}

func (d *drawer) exclude(c *catalog.Catalogue) {
	for i := range c.AddOns {
		if other := of(d, c.AddOns...).Code; other != c.AddOns[i].Code && d.oneIn(4) {
			c.AddOns[i].Excludes = []string{other}
		}
	}
}

// deliver lets the frame come with some parts that go together.
func (d *drawer) deliver(c *catalog.Catalogue) {
	f := &c.Frames[0]
	for i := range c.AddOns {
		a := &c.AddOns[i]
		for range of(d, 0, 0, 0, 1, 2) {
			if goesOn(c, a) {
				f.ComesWith = append(f.ComesWith, a.Code)
			}
		}
		if a.OnFrame == nil && slices.Contains(f.ComesWith, a.Code) && d.oneIn(2) {
			a.Fits = nil // the maker's part alone; no more can be bought
		}
	}
}

// goesOn reports whether one more of the part can come with the frame.
func goesOn(c *catalog.Catalogue, a *catalog.AddOn) bool {
	f, count := &c.Frames[0], 0
	for _, code := range f.ComesWith {
		if code == a.Code {
			count++
		}
		if slices.Contains(a.Excludes, code) || slices.Contains(c.AddOn(code).Excludes, a.Code) {
			return false
		}
	}
	for _, u := range a.Uses {
		used := u.Count
		for _, code := range f.ComesWith {
			for _, v := range c.AddOn(code).Uses {
				if v.Mount == u.Mount {
					used += v.Count
				}
			}
		}
		if used > f.Capacity(u.Mount) {
			return false
		}
	}
	return count < a.Most()
}

// homeFor draws a home about as large as the bare frame.
func (d *drawer) homeFor(f *catalog.Frame) profile.Home {
	about := func(l measure.Length) profile.Answer[measure.Length] {
		return profile.Given(l + of(d, measure.Length(300), 300, 300, 120, 119, 80, 40, 0, 0, -1))
	}
	var h profile.Home
	if d.mostly() {
		h.Length, h.Width, h.Height = about(f.Length), about(f.Width), about(f.Height+100)
	}
	if d.oneIn(8) {
		h.MustStandUpright = profile.Given(true)
		h.Height = about(f.Length + 100)
	}
	if d.oneIn(3) {
		h.Doorways = profile.Given([]profile.Doorway{{Width: about(f.Width), Height: about(f.Height + 100)}})
	}
	if d.oneIn(6) {
		h.Corners = profile.Given([]profile.Corner{{In: about(f.Length / 2), Out: about(f.Length / 2)}})
	}
	if d.oneIn(6) {
		h.Lift = profile.Given(profile.Lift{Length: about(f.Length), Width: about(f.Width + 50), Height: about(f.Height + 200), Door: about(f.Width)})
	}
	return h
}
