// The shop's shelf of bags: many of different size and price, for a few
// mounts that are counted in centimetres, in zones with little to spare.
package fitting_test

import (
	"fmt"

	"kinwain/internal/catalog"
	"kinwain/internal/measure"
	"kinwain/internal/profile"
)

// bagged returns the problem of a seed with so many bags: a family of one
// child with 15 to 35 kg, 50 to 150 litres, of luggage.
func bagged(bags, seed int) *instance {
	o := outfit(plan{name: "bags", addOns: bags, passengers: 1, riders: 1}, seed)
	who := o.customer()
	who.Cargo, who.CargoSize = profile.Given(between(o, 15*kg, 35*kg, 500*g)), profile.Given(between(o, 50*measure.Litre, 150*measure.Litre, 5*measure.Litre))
	f := catalog.Frame{
		Code: "sedge", Name: "Sedge", RiderMin: 150 * cm, RiderMax: 195 * cm, Price: 300_000, PassengersMax: 2,
		Length: 190 * cm, Width: 66 * cm, Height: 110 * cm, BareWeight: 26 * kg,
		Mounts: []catalog.Mount{{Code: "deck_cm", Capacity: between(o, 70, 120, 5)}, {Code: "rail_cm", Capacity: between(o, 60, 140, 10)},
			{Code: "bar_cm", Capacity: between(o, 30, 60, 5)}, {Code: "belly", Capacity: 1}, {Code: "side", Capacity: 2}},
	}
	zones := []string{"rear", "front", "sides", "box"}[:2+o.IntN(3)]
	for _, code := range zones {
		f.Zones = append(f.Zones, catalog.Zone{Code: code, Rating: between(o, 16*kg, 36*kg, 500*g), Ahead: between(o, 0, 120*cm, 10*cm), Height: 60 * cm, Steered: code == "front"})
	}
	f.Zones[0].Rating += 30 * kg // the child sits there
	if len(zones) > 2 && o.chance(2) {
		f.Combined = []catalog.Combined{{Zones: zones[1:], Rating: between(o, 32*kg, 60*kg, 1*kg)}}
	}
	if o.chance(3) {
		f.Wheelbase, f.RiderAhead, f.BareFrontShare = 120*cm, 40*cm, 45*measure.Percent
		f.FrontAxleRating, f.RearAxleRating = between(o, 80*kg, 120*kg, 1*kg), between(o, 120*kg, 160*kg, 1*kg)
	}
	f.GrossRating = f.BareWeight + ridesAlong(who) + between(o, 16*kg, 36*kg, 500*g)
	c := &catalog.Catalogue{Version: 1, Shop: catalog.Shop{Name: "Low Quay Load Works", Currency: "EUR", LabourPerHour: 6000}, Frames: []catalog.Frame{f}}
	for _, i := range [...]int{0, 1, 2, 3, 7} { // stands, a seat, a guard, boards
		c.AddOns = append(c.AddOns, o.ware(i))
	}
	for i := range bags {
		c.AddOns = append(c.AddOns, o.bag(i, zones, f.Mounts))
	}
	for i := range c.AddOns {
		c.AddOns[i].Fits = []string{f.Code}
	}
	c.Frames[0].ComesWith = []string{c.AddOns[0].Code}
	return &instance{catalogue: c, frame: &c.Frames[0], profile: who}
}

// bag draws one bag. The larger take up more of their mount and cost more, but
// not in step.
func (o *outfitter) bag(i int, zones []string, mounts []catalog.Mount) catalog.AddOn {
	litres := between(o, 8, 60, 1)
	a := catalog.AddOn{Code: fmt.Sprintf("bag-%02d", i), Name: fmt.Sprintf("Bag %d", i), Zone: zones[o.IntN(len(zones))],
		Weight: measure.Mass(300+25*litres) * between(o, measure.Mass(80), 120, 1) / 100,
		Price:  measure.Money(2000+110*litres) * between(o, measure.Money(75), 130, 1) / 100 / 100 * 100, FittingMinutes: between(o, 0, 10, 5),
		Cargo: measure.Mass(litres) * between(o, 150*g, 420*g, 10*g), CargoVolume: measure.Volume(litres) * measure.Litre, UpTo: 1 + o.IntN(3)*o.IntN(2)}
	mount := mounts[o.IntN(3)] // one of those counted in centimetres
	a.Uses = onMount(mount.Code, min(12+litres*between(o, 4, 8, 1)/10, mount.Capacity))
	if o.chance(6) {
		a.Needs = [][]string{{fmt.Sprintf("bag-%02d", o.IntN(i+1)), "stand-two-0"}}
	}
	if o.chance(8) {
		a.MaxLoad = a.Cargo - 500*g
	}
	return a
}
