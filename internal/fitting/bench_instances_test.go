// Problems for the benchmarks, drawn as a shop would meet them: seats that
// need stands and guards, racks and bags that share a mount, parts that the
// frame comes with, and a family with some luggage. The draw depends on the
// seed alone (PCG of math/rand/v2), so a slow seed stays the same slow seed.
package fitting_test

import (
	"fmt"
	"math/rand/v2"

	"kinwain/internal/catalog"
	"kinwain/internal/measure"
	"kinwain/internal/profile"
)

// plan is what the problems of one benchmark have in common.
type plan struct {
	name                             string
	addOns, passengers, riders       int
	zones                            []string // the first two always, the others as drawn where spare
	spare, pet, combined, axles, own bool
}

var (
	ordinary = plan{name: "ordinary", addOns: 15, passengers: 2, riders: 1, zones: []string{"front", "rear", "sides"}, spare: true}
	hard     = plan{name: "hard", addOns: 40, passengers: 5, riders: 2, zones: []string{"front", "rear", "sides", "box"}, pet: true, combined: true, own: true}
	rated    = plan{name: "rated", addOns: 40, passengers: 5, riders: 2, zones: []string{"front", "rear", "sides", "box"}, pet: true, combined: true, axles: true, own: true}
)

// growing is one step of a family of problems that differ in nothing but the
// choice of add-ons.
func growing(addOns int) plan {
	return plan{name: "growing", addOns: addOns, passengers: 2, riders: 2, zones: []string{"front", "rear", "sides", "box"}, combined: true}
}

// outfitter draws one problem.
type outfitter struct {
	*rand.Rand
	plan
}

func outfit(p plan, seed int) *outfitter {
	return &outfitter{rand.New(rand.NewPCG(uint64(seed), 2026)), p}
}

// equip returns the problem of a seed. From one in ten something is taken
// away, most of which then have no answer; others have none as they are.
func equip(p plan, seed int) *instance {
	o := outfit(p, seed)
	who := o.customer()
	f := o.bike("sedge", who)
	c := &catalog.Catalogue{Version: 1, Shop: catalog.Shop{Name: "Low Quay Load Works", Currency: "EUR", LabourPerHour: 6000}, Frames: []catalog.Frame{f}}
	for i := range p.addOns {
		c.AddOns = append(c.AddOns, o.ware(i))
	}
	o.settle(c)
	in := &instance{catalogue: c, frame: &c.Frames[0], profile: who}
	in.profile.Home = profile.Given(o.dwelling(in.frame))
	if o.chance(10) {
		o.pinch(in)
	}
	return in
}

// assortment is one catalogue of many ordinary frames. Of every kind of
// add-on it holds a dozen, and every frame takes one of each kind.
func assortment(frames int) (*catalog.Catalogue, *profile.Profile) {
	p := ordinary
	p.spare = false
	o := outfit(p, 1)
	who := o.customer()
	c := &catalog.Catalogue{Version: 1, Shop: catalog.Shop{Name: "Low Quay Load Works", Currency: "EUR", LabourPerHour: 6000}}
	const ofEach = 12
	for i := range ofEach * p.addOns {
		c.AddOns = append(c.AddOns, o.ware(i))
	}
	for i := range frames {
		f := o.bike(fmt.Sprintf("sedge-%d", i), who)
		for kind := range p.addOns {
			a := &c.AddOns[o.IntN(ofEach)*p.addOns+kind]
			a.Fits = append(a.Fits, f.Code)
			if kind == 0 {
				f.ComesWith = []string{a.Code}
			}
		}
		c.Frames = append(c.Frames, f)
	}
	who.Home = profile.Given(o.dwelling(&c.Frames[0]))
	return c, who
}

// settle puts everything on the one frame, where it finds its zone, and says
// what does not go together.
func (o *outfitter) settle(c *catalog.Catalogue) {
	f := &c.Frames[0]
	for i := range c.AddOns {
		a := &c.AddOns[i]
		a.Fits = []string{f.Code}
		if a.Zone == "sides" && f.ZoneIndex("sides") < 0 {
			a.Zone = "rear"
		}
		if other := c.AddOns[o.IntN(len(c.AddOns))].Code; o.chance(6) && other != a.Code && i > 0 && other != c.AddOns[0].Code {
			a.Excludes = []string{other}
		}
		if len(a.Needs) > 0 && o.chance(3) {
			a.Needs = append([][]string{{a.Needs[0][0], c.AddOns[o.IntN(len(c.AddOns))].Code}}, a.Needs[1:]...)
		}
	}
	f.ComesWith = []string{c.AddOns[0].Code}
	if o.chance(4) {
		f.Provides = []string{"wheel_guard"}
	}
}

// chance is true once in n times.
func (o *outfitter) chance(n int) bool { return o.IntN(n) == 0 }

// between draws a step of a range, both ends included.
func between[Q ~int | ~int64](o *outfitter, low, high, step Q) Q {
	return low + step*Q(o.Int64N(int64((high-low)/step)+1))
}

func (o *outfitter) customer() *profile.Profile {
	p := &profile.Profile{Version: 1, AsOf: asOf}
	for i := range o.riders {
		p.Riders = append(p.Riders, profile.Rider{Label: string(rune('A' + i)), Height: profile.Given(between(o, 155*cm, 190*cm, 1*cm)),
			Weight: profile.Given(between(o, 55*kg, 95*kg, 500*g)), Weighed: profile.Given(profile.Dressed)})
	}
	var children []profile.Passenger
	for i := range o.passengers {
		children = append(children, o.child(string(rune('p'+i))))
	}
	p.Passengers = profile.Given(children)
	p.Cargo, p.CargoSize = profile.Given(between(o, 4*kg, 18*kg, 500*g)), profile.Given(between(o, 10*measure.Litre, 50*measure.Litre, 5*measure.Litre))
	if o.pet && o.chance(3) {
		p.Pet = profile.Given(between(o, 4*kg, 14*kg, 500*g))
	}
	return p
}

// child draws an age from one to nine years and a weight for it by rule of
// thumb: twice the years and eight kilograms, give or take two.
func (o *outfitter) child(label string) profile.Passenger {
	age := between(o, 14, 108, 1)
	born := asOf.InMonth() - measure.Month(age)
	c := profile.Passenger{Label: label, Born: profile.Given(measure.Date{Year: born.Year(), Month: born.Month(), Day: 1 + o.IntN(28)}),
		Sex: profile.Given([]profile.Sex{profile.Girl, profile.Boy, profile.Unstated}[o.IntN(3)])}
	if !o.chance(4) {
		c.Weight = profile.Given(max(8*kg+measure.Mass(age)*kg/6+between(o, -2*kg, 2*kg, 100*g), 9500*g))
	}
	if o.chance(2) {
		c.Stature = profile.Given(75*cm + measure.Length(age)*6*measure.Millimetre)
	}
	return c
}

// bike draws a frame that can carry what the customer brings, as a whole; its
// zones and mounts may still be too few.
func (o *outfitter) bike(code string, who *profile.Profile) catalog.Frame {
	crowd := measure.Mass(o.passengers)
	f := catalog.Frame{
		Code: code, Name: "Sedge", RiderMin: 150 * cm, RiderMax: 195 * cm, Price: 300_000, PassengersMax: o.passengers + o.IntN(2),
		Length: between(o, 178*cm, 250*cm, 1*cm), Width: between(o, 60*cm, 80*cm, 1*cm), Height: between(o, 105*cm, 118*cm, 1*cm),
		BareWeight: between(o, 20*kg, 34*kg, 100*g),
	}
	f.GrossRating = f.BareWeight + ridesAlong(who) + between(o, 14*kg, 30*kg, 1*kg) + 4*kg*crowd
	for i, zone := range o.zones {
		if o.spare && i > 1 && o.chance(2) {
			break
		}
		f.Zones = append(f.Zones, o.stretch(zone))
	}
	if o.combined {
		f.Combined = append(f.Combined, catalog.Combined{Zones: []string{"rear", "sides"}, Rating: between(o, 80*kg, 120*kg, 5*kg)})
		if o.chance(2) {
			f.Combined = append(f.Combined, catalog.Combined{Zones: []string{"front", "sides", "box"}, Rating: between(o, 70*kg, 110*kg, 5*kg)})
		}
	}
	if o.axles {
		f.Wheelbase, f.RiderAhead, f.BareFrontShare = between(o, 110*cm, 190*cm, 1*cm), 40*cm, 45*measure.Percent
		f.FrontAxleRating, f.RearAxleRating = between(o, 110*kg, 150*kg, 5*kg), between(o, 170*kg, 230*kg, 5*kg)
	}
	for _, m := range [...]catalog.Mount{{Code: "head_tube", Capacity: 1}, {Code: "stem", Capacity: 1}, {Code: "belly", Capacity: 1}, {Code: "tube", Capacity: 1},
		{Code: "low", Capacity: 2}, {Code: "socket", Capacity: 4}, {Code: "side", Capacity: between(o, 2, 4, 1)},
		{Code: "deck_cm", Capacity: 70 + 12*between(o, 0, o.passengers, 1)}, {Code: "floor", Capacity: between(o, 2, 4, 2)}} {
		f.Mounts = append(f.Mounts, m)
	}
	if o.own && o.chance(4) {
		f.Places = []catalog.Place{{Zone: "box", Kind: "belted", MinMonths: 30, MaxMonths: 108, MaxMass: 30 * kg, Needs: [][]string{{"backrest"}}}}
	}
	return f
}

// stretch draws a zone with room for about one child, or for two at the rear.
func (o *outfitter) stretch(code string) catalog.Zone {
	z := catalog.Zone{Code: code, Rating: between(o, 20*kg, 35*kg, 1*kg), Height: between(o, 30*cm, 70*cm, 5*cm)}
	switch code {
	case "front":
		z.Steered, z.Ahead = true, 120*cm
	case "rear":
		z.Rating = between(o, 60*kg, 95*kg, 1*kg)
	case "box":
		z.Rating, z.Ahead = between(o, 60*kg, 100*kg, 1*kg), 95*cm
	}
	return z
}

// dwelling draws a place to sleep for the bike with some room to spare, so
// that what overhangs or is wide may be one part too many.
func (o *outfitter) dwelling(f *catalog.Frame) profile.Home {
	about := func(l, spare measure.Length) profile.Answer[measure.Length] {
		return profile.Given(l + between(o, 0, spare, 10))
	}
	h := profile.Home{Length: about(f.Length+12*cm, 30*cm), Width: about(f.Width+14*cm, 30*cm), Height: about(f.Height+10*cm, 90*cm)}
	if o.chance(2) {
		h.Doorways = profile.Given([]profile.Doorway{{Width: about(max(f.Width, 72*cm)+6*cm, 20*cm), Height: profile.Given(200 * cm)}})
	}
	if o.chance(4) {
		h.Corners = profile.Given([]profile.Corner{{In: about(f.Length*2/3, 40*cm), Out: about(f.Length*2/3, 40*cm)}})
	}
	return h
}

// pinch takes something away that most builds cannot do without.
func (o *outfitter) pinch(in *instance) {
	f, who := in.frame, in.profile
	ways := 5
	if o.passengers > 0 {
		ways = 6
	}
	switch o.IntN(ways) {
	case 0:
		f.GrossRating -= 24*kg + 4*kg*measure.Mass(o.passengers)
	case 1:
		for i := range f.Zones {
			f.Zones[i].Rating = f.Zones[i].Rating / 3
		}
	case 2:
		for i := range in.catalogue.AddOns {
			if a := &in.catalogue.AddOns[i]; len(a.Provides) > 0 && a.Provides[0] == "wheel_guard" {
				a.Fits = nil
			}
		}
	case 3:
		who.Cargo, who.CargoSize = profile.Given(50*kg), profile.Given(220*measure.Litre)
		f.GrossRating += 40 * kg
	case 4:
		h := who.Home.Or(profile.Home{})
		h.Doorways = profile.Given([]profile.Doorway{{Width: profile.Given(f.Width - 1*cm), Height: profile.Given(200 * cm)}})
		who.Home = profile.Given(h)
	case 5:
		c := &who.Passengers.Or(nil)[0]
		c.Weight, c.Born = profile.Given(48*kg), profile.Given(measure.Date{Year: 2015, Month: 3, Day: 9})
		f.GrossRating += 30 * kg
	}
}
