package audit

import (
	"cmp"
	"slices"

	"kinwain/internal/catalog"
	"kinwain/internal/fitting"
	"kinwain/internal/load"
	"kinwain/internal/measure"
)

// seat checks that everyone of the party has a place of their own that suits,
// in profile order.
func (c *check) seat() {
	taken, next := map[fitting.Seat]bool{}, 0
	for i, st := range c.demand.Today {
		if !st.Present {
			continue
		}
		label := c.demand.Labels[i]
		if next == len(c.build.Seating) || c.build.Seating[next].Passenger != label {
			c.fault("%s has no place", label)
			continue
		}
		s := c.build.Seating[next]
		next++
		c.sit(s, st)
		if s.Passenger = ""; taken[s] {
			c.fault("%s sits where somebody else does", label)
		}
		taken[s] = true
	}
	if more := len(c.build.Seating) - next; more > 0 {
		c.fault("%d seats of nobody", more)
	}
	if most := c.frame.PassengersMax; most > 0 && next > most {
		c.fault("%d passengers of at most %d", next, most)
	}
}

// sit puts one passenger where the build says.
func (c *check) sit(s fitting.Seat, st fitting.Standing) {
	places, zone := c.frame.Places, ""
	if s.AddOn != "" {
		p := c.part(s.AddOn)
		if p == nil || s.Copy < 0 || s.Copy >= len(p.copies) {
			c.fault("%s sits on a %s that is not fitted", s.Passenger, s.AddOn)
			return
		}
		places, zone = p.Places, p.Zone
		p.copies[s.Copy].people++
		p.copies[s.Copy].load += st.Load
	}
	if s.Place < 0 || s.Place >= len(places) {
		c.fault("%s sits in place %d of %d", s.Passenger, s.Place, len(places))
		return
	}
	pl := &places[s.Place]
	if s.AddOn == "" {
		zone = pl.Zone
	}
	if !suits(st, pl) {
		c.fault("the place does not suit %s", s.Passenger)
	}
	c.meet("the place of "+s.Passenger, pl.Needs, func(p *part, tag string) bool {
		return !catalog.OfASeat(tag) || p.Code == s.AddOn || len(p.Places) == 0 && p.Zone == zone
	})
	c.put(zone, pl.Ahead, st.Load)
}

func suits(st fitting.Standing, pl *catalog.Place) bool {
	return st.Young >= pl.MinMonths && st.Light >= pl.MinMass && (pl.MaxMonths == 0 || st.Old <= pl.MaxMonths) &&
		(pl.MaxMass == 0 || st.Load <= pl.MaxMass) && (pl.MaxStature == 0 || st.Tall <= pl.MaxStature)
}

// leash gives the pet a carrier whole: a copy on which nobody sits. All copies
// without people are alike, so it is no matter which.
func (c *check) leash() {
	if c.demand.Pet == 0 {
		if c.build.Pet != "" {
			c.fault("%s carries no pet", c.build.Pet)
		}
		return
	}
	p := c.part(c.build.Pet)
	free := -1
	if p != nil {
		free = slices.IndexFunc(p.copies, func(k copied) bool { return k.people == 0 })
	}
	if free < 0 || p.Pet < c.demand.Pet {
		c.fault("the pet has no carrier of its own that takes it")
		return
	}
	p.copies[free] = copied{load: c.demand.Pet, pet: true}
	c.put(p.Zone, 0, c.demand.Pet)
}

// stow checks that the shares of the cargo add up, are of one density, and
// hold within a carrier each.
func (c *check) stow() {
	d := c.demand
	var mass measure.Mass
	var volume measure.Volume
	for _, s := range c.build.Cargo {
		mass, volume = mass+s.Mass, volume+s.Volume
		// The same part of both, each rounded by less than one.
		skew := int64(s.Mass)*int64(d.CargoSize) - int64(s.Volume)*int64(d.Cargo)
		if s.Mass < 0 || s.Volume < 0 || d.Cargo > 0 && d.CargoSize > 0 && max(skew, -skew) >= int64(d.Cargo)+int64(d.CargoSize) {
			c.fault("%d g and %d ml in %s are not of the cargo's density", s.Mass, s.Volume, s.Carrier)
		}
		c.put(s.Zone, 0, s.Mass)
	}
	if mass != d.Cargo || volume != d.CargoSize {
		c.fault("%d g and %d ml are stowed, of %d and %d", mass, volume, d.Cargo, d.CargoSize)
	}
	byCarrier := map[[2]string][]fitting.CargoShare{}
	for _, s := range c.build.Cargo {
		at := [2]string{s.Carrier, s.Zone}
		byCarrier[at] = append(byCarrier[at], s)
	}
	for at, shares := range byCarrier {
		if !c.holds(at[0], at[1], shares) {
			c.fault("%s in %q does not hold its shares", at[0], at[1])
		}
	}
}

// holds reports whether the copies of an add-on hold the shares, each another
// one. A zone that has the same code as an add-on in it may hold one more.
func (c *check) holds(carrier, zone string, shares []fitting.CargoShare) bool {
	var rooms []measure.Mass
	var volume measure.Volume
	if p := c.part(carrier); p != nil && p.Zone == zone && p.Cargo > 0 {
		volume = p.CargoVolume
		for _, k := range p.copies {
			switch {
			case k.pet:
			case p.MaxLoad > 0:
				rooms = append(rooms, min(p.Cargo, p.MaxLoad-k.load))
			default:
				rooms = append(rooms, p.Cargo)
			}
		}
	}
	if fill(rooms, volume, shares) {
		return true
	}
	z := c.frame.ZoneIndex(zone)
	if carrier != zone || z < 0 || c.frame.Zones[z].Cargo == 0 {
		return false
	}
	left, space := c.frame.Zones[z].Cargo, c.frame.Zones[z].CargoVolume
	for _, p := range c.parts {
		if p.Zone == zone {
			left, space = left-measure.Mass(len(p.copies))*p.DisplacesCargo, space-measure.Volume(len(p.copies))*p.DisplacesVolume
		}
	}
	for i, s := range shares {
		rest := slices.Concat(shares[:i], shares[i+1:])
		if left > 0 && s.Mass <= left && s.Volume <= max(space, 0) && fill(rooms, volume, rest) {
			return true
		}
	}
	return false
}

// fill reports whether every share finds a room of its own that bears it, all
// of one volume. With the heaviest in the widest it does if it does at all.
func fill(rooms []measure.Mass, volume measure.Volume, shares []fitting.CargoShare) bool {
	if len(shares) > len(rooms) {
		return false
	}
	rooms, shares = slices.Clone(rooms), slices.Clone(shares)
	slices.SortFunc(rooms, func(a, b measure.Mass) int { return cmp.Compare(b, a) })
	slices.SortFunc(shares, func(a, b fitting.CargoShare) int { return cmp.Compare(b.Mass, a.Mass) })
	for i, s := range shares {
		if s.Mass > rooms[i] || s.Volume > volume {
			return false
		}
	}
	return true
}

// mass is something on the bike at a spot. What came with the frame is within
// its bare weight already and counts in its zone only; what comes off is taken
// from the bare weight.
type mass struct {
	whole, inZone measure.Mass
	zone          int // -1: none
	ahead         measure.Length
	somewhere     bool // in no zone, and nobody states where
}

// put books a load in a zone, where no other spot is stated.
func (c *check) put(zone string, ahead measure.Length, m measure.Mass) {
	c.book(zone, ahead, m, m)
}

func (c *check) book(zone string, ahead measure.Length, whole, inZone measure.Mass) {
	z := c.frame.ZoneIndex(zone)
	if z >= 0 && ahead == 0 {
		ahead = c.frame.Zones[z].Ahead
	}
	c.masses = append(c.masses, mass{whole, inZone, z, ahead, z < 0 && ahead == 0})
}

// rate checks every rating with all on the bike, under every rider.
func (c *check) rate() {
	f := c.frame
	for _, p := range c.parts {
		c.book(p.Zone, p.Ahead, measure.Mass(p.bought-p.off)*p.Weight, measure.Mass(len(p.copies))*p.Weight)
		for _, k := range p.copies {
			if p.MaxLoad > 0 && k.load > p.MaxLoad {
				c.fault("%s carries %d g of at most %d", p.Code, k.load, p.MaxLoad)
			}
		}
	}
	whole, inZone := f.BareWeight, make([]measure.Mass, len(f.Zones))
	for _, m := range c.masses {
		if whole += m.whole; m.zone >= 0 {
			inZone[m.zone] += m.inZone
		}
	}
	for z := range f.Zones {
		c.within("zone "+f.Zones[z].Code, int64(inZone[z]), int64(f.Zones[z].Rating))
	}
	for _, together := range f.Combined {
		var sum measure.Mass
		for _, code := range together.Zones {
			sum += inZone[f.ZoneIndex(code)]
		}
		c.within("combined zones", int64(sum), int64(together.Rating))
	}
	riders := c.demand.Riders
	if len(riders) == 0 {
		riders = []load.Rider{{Label: "nobody"}}
	}
	for _, r := range riders {
		c.within("gross under "+r.Label, int64(whole+r.Riding), int64(f.GrossRating))
		c.balance(r)
	}
}

// within checks a sum against a rating; one that is not stated does not bind.
func (c *check) within(what string, sum, rating int64) {
	if rating > 0 && sum > rating {
		c.fault("%s: %d of at most %d", what, sum, rating)
	}
}

// balance checks both axles: times the wheelbase, an axle bears the moments of
// all masses about the other one. All is in grams × millimetres ×
// ten-thousandths, so that it stays whole. A mass that is nobody knows where
// counts against whatever is checked: what is put on is whole on either axle
// that is rated and holds nothing down, and what comes off relieves neither and
// held the front down whole.
func (c *check) balance(r load.Rider) {
	f, base, whole := c.frame, int64(c.frame.Wheelbase), int64(measure.Whole)
	if !f.StatesAxles() {
		return
	}
	front := int64(f.BareWeight)*int64(f.BareFrontShare)*base + int64(r.Riding)*int64(f.RiderAhead)*whole
	all, put, gone := int64(f.BareWeight+r.Riding), int64(0), int64(0)
	for _, m := range c.masses {
		if m.somewhere {
			put, gone = put+max(int64(m.whole), 0), gone+max(-int64(m.whole), 0)
			continue
		}
		front += int64(m.whole) * int64(m.ahead) * whole
		all += int64(m.whole)
	}
	c.within("front axle under "+r.Label, front+put*base*whole, int64(f.FrontAxleRating)*base*whole)
	c.within("rear axle under "+r.Label, (all+put)*base*whole-front, int64(f.RearAxleRating)*base*whole)
	if len(c.demand.Riders) > 0 && front < gone*base*whole {
		c.fault("the front lifts under %s: %d", r.Label, front-gone*base*whole)
	}
}
