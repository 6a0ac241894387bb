// Bags in several sizes for the same few mounts, in zones that have little to
// spare: what the choice of carriers is hard about. Ratings are drawn around
// what one set of bags would need, so that a gram often decides.
package fitting_test

import (
	"fmt"

	"kinwain/internal/catalog"
	"kinwain/internal/measure"
	"kinwain/internal/profile"
)

// packer draws one problem of bags.
type packer struct {
	*outfitter
	bags   []catalog.AddOn
	counts []int // per bag, how many the intended set has
	most   measure.Mass
}

// packed returns the problem of a seed with two to nine bags.
func packed(seed int) *instance {
	k := &packer{outfitter: outfit(plan{name: "packed", riders: 1}, seed), most: 24 * kg}
	if k.chance(20) {
		k.most = 150 * kg
	}
	who := k.packs()
	f := catalog.Frame{
		Code: "sedge", Name: "Sedge", RiderMin: 150 * cm, RiderMax: 195 * cm, Price: 300_000,
		Length: 190 * cm, Width: 66 * cm, Height: 110 * cm, BareWeight: between(k.outfitter, 20*kg, 30*kg, 100*g),
	}
	for _, code := range []string{"rear", "front", "sides", "box"}[:2+k.IntN(3)] {
		f.Zones = append(f.Zones, catalog.Zone{Code: code, Ahead: between(k.outfitter, -30*cm, 130*cm, 10*cm), Height: between(k.outfitter, 30*cm, 60*cm, 10*cm), Steered: code == "front"})
	}
	for _, code := range []string{"deck_cm", "rail_cm", "bar_cm"}[:1+k.IntN(3)] {
		f.Mounts = append(f.Mounts, catalog.Mount{Code: code, Capacity: between(k.outfitter, 30, 90, 5)})
	}
	c := &catalog.Catalogue{Version: 1, Shop: catalog.Shop{Name: "Low Quay Load Works", Currency: "EUR", LabourPerHour: 6000}}
	if !k.chance(60) {
		k.fill(&f)
		c.AddOns = k.bags
	}
	if !k.chance(4) {
		k.lighten(who)
	}
	k.rate(&f, who)
	c.Frames = []catalog.Frame{f}
	k.parts(c, who)
	return &instance{catalogue: c, frame: &c.Frames[0], profile: who}
}

// one draws one of some values.
func one[V any](k *packer, values ...V) V { return values[k.IntN(len(values))] }

// packs draws a rider with luggage of which the kilograms, the litres or both
// bind; and now and then a child, a dog, or nothing at all.
func (k *packer) packs() *profile.Profile {
	p := &profile.Profile{Version: 1, AsOf: asOf}
	for i := range one(k, 1, 1, 1, 2) {
		p.Riders = append(p.Riders, profile.Rider{Label: string(rune('A' + i)), Height: profile.Given(170 * cm),
			Weight: profile.Given(between(k.outfitter, 55*kg, 95*kg, 500*g)), Weighed: profile.Given(profile.Dressed)})
	}
	mass := between(k.outfitter, 3*kg, k.most, 500*g) + one(k, 0, 0, 0, 1*g, -1*g)
	volume := measure.Volume(mass) * between(k.outfitter, measure.Volume(15), 60, 5) / 10 / 100 * 100
	p.Cargo, p.CargoSize = profile.Given(mass), profile.Given(min(volume, 300*measure.Litre))
	switch k.IntN(16) {
	case 0:
		p.Cargo = profile.Given(measure.Mass(0))
	case 1, 2:
		p.CargoSize = profile.Given(measure.Volume(0))
	case 3:
		p.Cargo, p.CargoSize = profile.Answer[measure.Mass]{}, profile.Answer[measure.Volume]{}
	}
	if k.chance(4) {
		k.outfitter.passengers = 1
		p.Passengers = profile.Given([]profile.Passenger{k.child("p")})
	}
	if k.chance(6) {
		p.Pet = profile.Given(between(k.outfitter, 4*kg, 9*kg, 500*g))
	}
	return p
}

// fill draws two to four lines of bags, each in up to three sizes.
func (k *packer) fill(f *catalog.Frame) {
	for line := range 1 + k.IntN(4) {
		zone, mount := one(k, f.Zones...).Code, one(k, f.Mounts...)
		base := catalog.AddOn{Zone: zone, Weight: one(k, 600*g, 800*g, 1*kg), Price: one(k, measure.Money(2000), 2500, 4000), FittingMinutes: one(k, 0, 0, 5),
			Cargo: between(k.outfitter, k.most/8, k.most/3, 500*g), CargoVolume: between(k.outfitter, measure.Volume(k.most/4), measure.Volume(k.most), 1000)}
		if k.most > 100*kg {
			base.Price = between(k.outfitter, measure.Money(3_000_000), 6_000_000, 1_000_000)
		}
		width, step := between(k.outfitter, 10, 26, 2), one(k, 3, 4, 5, 6)
		for size := range 1 + k.IntN(3) {
			a := base
			a.Code = fmt.Sprintf("bag-%d-%c", line, "sml"[size])
			a.Cargo, a.CargoVolume = a.Cargo*measure.Mass(4+size)/4, a.CargoVolume*measure.Volume(4+size)/4
			a.Weight, a.Price = a.Weight+100*g*measure.Mass(size*k.IntN(3)), min(a.Price+a.Price*measure.Money(size*k.IntN(3))/4, 9_000_000)
			a.Uses, a.UpTo = onMount(mount.Code, min(width+step*size, mount.Capacity)), 1+k.IntN(3)
			if size > 0 && k.chance(4) {
				a.Zone = one(k, f.Zones...).Code
			}
			k.trim(&a)
			k.bags = append(k.bags, a)
		}
	}
	k.intend(f)
}

// trim gives a bag something of its own.
func (k *packer) trim(a *catalog.AddOn) {
	switch k.IntN(9) {
	case 0:
		a.MaxLoad = a.Cargo - one(k, 0, 1*g, 500*g)
	case 1, 2:
		a.Needs = [][]string{{"rack"}}
	case 3:
		if len(k.bags) > 0 {
			a.Needs = [][]string{{one(k, k.bags...).Code, "rail"}}
		}
	case 4:
		a.Provides = []string{one(k, "rail", "rack")}
	case 5:
		if len(k.bags) > 0 {
			a.Excludes = []string{one(k, k.bags...).Code}
		}
	case 6:
		a.Cargo, a.CargoVolume = a.Cargo+1*g, a.CargoVolume-1
	case 7:
		a.Pet = 10 * kg
	}
}

// intend picks bags for as long as the mounts have room.
func (k *packer) intend(f *catalog.Frame) {
	used := map[string]int{}
	k.counts = make([]int, len(k.bags))
	for range 1 + k.IntN(5) {
		i := k.IntN(len(k.bags))
		u := k.bags[i].Uses[0]
		if used[u.Mount]+u.Count <= f.Capacity(u.Mount) && k.counts[i] < k.bags[i].UpTo {
			used[u.Mount] += u.Count
			k.counts[i]++
		}
	}
}

// lighten leaves no more luggage than the intended bags hold.
func (k *packer) lighten(who *profile.Profile) {
	var mass measure.Mass
	var volume measure.Volume
	for i, n := range k.counts {
		mass, volume = mass+k.bags[i].Cargo*measure.Mass(n), volume+k.bags[i].CargoVolume*measure.Volume(n)
	}
	if mass < who.Cargo.Or(0) {
		who.Cargo = profile.Given(max(mass-one(k, 0, 0, 1*g, 500*g), 0))
	}
	if volume < who.CargoSize.Or(0) {
		who.CargoSize = profile.Given(max(volume-one[measure.Volume](k, 0, 0, 1, 500), 0))
	}
}

// rate rates zones, some of them together, and the axles for about what the
// intended bags weigh with the cargo in them.
func (k *packer) rate(f *catalog.Frame, who *profile.Profile) {
	cargo, room := who.Cargo.Or(0), measure.Mass(0)
	for i, n := range k.counts {
		room += k.bags[i].Cargo * measure.Mass(n)
	}
	loads, all := make([]measure.Mass, len(f.Zones)), measure.Mass(0)
	for i, n := range k.counts {
		a := &k.bags[i]
		z := f.ZoneIndex(a.Zone)
		loads[z] += a.Weight * measure.Mass(n)
		if room > 0 {
			loads[z] += cargo * a.Cargo * measure.Mass(n) / room
		}
		all += a.Weight * measure.Mass(n)
	}
	spare := func() measure.Mass { return one(k, 0, 1*g, -1*g, 500*g, 2*kg, 5*kg, 5*kg, 8*kg) }
	for z := range f.Zones {
		if !k.chance(4) {
			f.Zones[z].Rating = max(loads[z]+spare(), 1*kg)
		}
		if k.chance(6) {
			f.Zones[z].Cargo, f.Zones[z].CargoVolume = between(k.outfitter, 1*kg, 3*kg, 500*g), 5000
		}
	}
	k.join(f, loads, spare)
	f.GrossRating = max(f.BareWeight+ridesAlong(who)+all+one(k, 0, -1*g, 1*kg, 5*kg, 8*kg, 8*kg, 12*kg), 40*kg)
	if k.chance(3) {
		k.balance(f, who, loads, spare)
	}
	if pet := who.Pet.Or(0); pet > 0 {
		for z := range f.Zones {
			f.Zones[z].Rating += (pet + 1*kg) * measure.Mass(b2i(f.Zones[z].Rating > 0))
		}
	}
}

// join rates some zones together; two such ratings may overlap.
func (k *packer) join(f *catalog.Frame, loads []measure.Mass, spare func() measure.Mass) {
	for from := range loads {
		for to := from + 2; to <= len(loads); to++ {
			if !k.chance(4) {
				continue
			}
			c := catalog.Combined{}
			for z := from; z < to; z++ {
				c.Zones, c.Rating = append(c.Zones, f.Zones[z].Code), c.Rating+loads[z]
			}
			c.Rating = max(c.Rating+spare(), 1*kg)
			f.Combined = append(f.Combined, c)
		}
	}
}

func (k *packer) balance(f *catalog.Frame, who *profile.Profile, loads []measure.Mass, spare func() measure.Mass) {
	f.Wheelbase, f.RiderAhead, f.BareFrontShare = 110*cm, 40*cm, 45*measure.Percent
	rider, front, all := who.Riders[0].Weight.Or(0), f.BareWeight*45/100, measure.Mass(0)
	front += rider * 40 / 110
	for z, load := range loads {
		front, all = front+load*measure.Mass(f.Zones[z].Ahead)/measure.Mass(f.Wheelbase), all+load
	}
	f.FrontAxleRating = max(front+spare(), 10*kg)
	if !k.chance(3) {
		f.RearAxleRating = max(f.BareWeight+rider+all-front+spare(), 10*kg)
	}
}

// parts adds what bags and children need, and what the frame comes with.
func (k *packer) parts(c *catalog.Catalogue, who *profile.Profile) {
	f := &c.Frames[0]
	if len(c.AddOns) > 0 {
		deck := f.Mounts[0].Code
		c.AddOns = append(c.AddOns,
			catalog.AddOn{Code: "rack-low", Weight: 1 * kg, Price: 3000, Zone: f.Zones[0].Code, Provides: []string{"rack"}, Uses: onMount(deck, 4)},
			catalog.AddOn{Code: "rack-top", Weight: 700 * g, Price: 4000, FittingMinutes: 5, Zone: one(k, f.Zones...).Code, Provides: []string{"rack", "rail"}})
		if who.Passengers.IsGiven() {
			seat := catalog.AddOn{Code: "seat", Weight: 3 * kg, Price: 9000, Zone: f.Zones[0].Code, Uses: onMount(deck, 20), Places: []catalog.Place{beltedFor(12, 130, 40)}}
			f.Zones[0].Rating += one(k, 15*kg, 25*kg, 32*kg, 40*kg)
			c.AddOns = append(c.AddOns, seat)
		}
	}
	if one(k, false, true) {
		c.AddOns = append(c.AddOns, catalog.AddOn{Code: "leg", Weight: 500 * g, Price: 1500, FittingMinutes: 5, Uses: onMount(f.Mounts[0].Code, one(k, 2, 10))})
		f.ComesWith = append(f.ComesWith, "leg")
	}
	for i := range c.AddOns {
		a := &c.AddOns[i]
		a.Name, a.Fits = a.Code, []string{f.Code}
		for range one(k, 0, 0, 0, 0, 1, 2) {
			if goesOn(c, a) {
				f.ComesWith = append(f.ComesWith, a.Code)
			}
		}
	}
}
