package picture

import (
	"math"

	"kinwain/internal/catalog"
	"kinwain/internal/load"
	"kinwain/internal/measure"
)

func root(x float64) float64 { return math.Sqrt(max(x, 0)) }

// loads draws the add-ons in their zones, then who sits in them and what they
// carry.
func (d *side) loads() {
	var shares []load.Item
	beside := map[int]measure.Length{} // by zone, how far blocks reach already
	for _, item := range d.sheet.Items {
		if item.Spot.Zone == load.Nowhere {
			continue
		}
		switch item.Kind {
		case load.Added, load.Delivered:
			d.addOn(item, beside)
		case load.Passenger:
			d.passenger(item)
		case load.Pet:
			d.pet(item)
		case load.Cargo:
			shares = append(shares, item)
		}
	}
	for _, item := range shares {
		d.cargo(item)
	}
}

func (d *side) addOnOf(code string) *catalog.AddOn {
	for i := range d.m.Fitted {
		if d.m.Fitted[i].Code == code {
			return &d.m.Fitted[i]
		}
	}
	return nil
}

// at returns where an item sits.
func (d *side) at(item load.Item) Point {
	return Point{item.Spot.Ahead, d.heightOf(&d.f.Zones[item.Spot.Zone])}
}

// addOn draws a block: of the litres that it holds, of the seats that it has,
// or a plain one. Blocks of one zone stand side by side, from its middle to
// the rear.
func (d *side) addOn(item load.Item, beside map[int]measure.Length) {
	at := d.at(item)
	d.weigh(item.Mass, at.Y)
	a := d.addOnOf(item.Code)
	width, height := 25*cm, 4*cm
	if a != nil && a.CargoVolume > 0 {
		width, height = blockOf(a.CargoVolume)
	}
	if a != nil && len(a.Places) > 0 {
		for _, p := range a.Places {
			spot := load.PlaceSpot(d.f, a.Zone, &p)
			seat := Point{spot.Ahead, at.Y}
			if p.Height > 0 {
				seat.Y = p.Height
			}
			d.add(Shape{Kind: AddOn, Of: item.Code, Mass: item.Mass, Closed: true, Points: box(Point{seat.X, seat.Y - 8*cm}, 30*cm, 6*cm)})
			d.line(AddOn, item.Code, Point{seat.X - 15*cm, seat.Y - 2*cm}, Point{seat.X - 18*cm, seat.Y + 40*cm})
		}
		return
	}
	at.X -= beside[item.Spot.Zone]
	if height > 4*cm {
		beside[item.Spot.Zone] += width
	}
	d.add(Shape{Kind: AddOn, Of: item.Code, Mass: item.Mass, Closed: true, Points: box(at, width, height)})
}

// usualStature is that of a child whose own is not known, at five years.
const usualStature = 110 * cm

// passenger draws somebody in their place, or where their load counts if the
// build has no place for them.
func (d *side) passenger(item load.Item) {
	hip, stature := d.at(item), measure.Length(0)
	for _, s := range d.m.Seated {
		if s.Passenger == item.Label {
			stature = s.Standing.Tall
			if s.Place.Height > 0 {
				hip.Y = s.Place.Height
			}
		}
	}
	if stature == 0 {
		stature = usualStature
		d.assume(AssumedBulk)
	}
	knee := towards(hip, along(stature, thigh), -5*degree)
	foot := towards(knee, along(stature, shank), -80*degree)
	d.person(Passenger, item.Label, item.Mass, hip, stature, 0, foot, nil)
	d.weigh(item.Mass, hip.Y)
}

// pet draws an animal as a body and a head of its weight.
func (d *side) pet(item load.Item) {
	at := d.at(item)
	body := along(mm, 130*math.Cbrt(max(float64(item.Mass)/1000, 1))) // as long as a body of that weight
	d.add(Shape{Kind: Pet, Of: item.Code, Mass: item.Mass, Closed: true, Points: box(at, body, body/2)})
	d.circle(Pet, item.Code, Point{at.X + body/2, at.Y + body*7/10}, body/5)
	d.weigh(item.Mass, at.Y+body/4)
}

// cargo draws a share as a box of its litres.
func (d *side) cargo(item load.Item) {
	at := d.at(item)
	for _, s := range d.Shapes { // within the block of what carries it
		if s.Of == item.Code && s.Closed && (s.Kind == AddOn || s.Kind == Zone) {
			low, high := s.Bounds()
			at = Point{(low.X + high.X) / 2, low.Y}
		}
	}
	volume := measure.Volume(0)
	for _, share := range d.m.Build.Cargo {
		if share.Carrier == item.Code {
			volume = share.Volume
		}
	}
	if volume == 0 {
		volume = measure.Volume(int64(item.Mass) * litresPerKg) // grams, and millilitres
		d.assume(AssumedBulk)
	}
	width, height := blockOf(volume)
	d.add(Shape{Kind: Cargo, Of: item.Code, Mass: item.Mass, Closed: true, Points: box(at, width, height)})
	d.weigh(item.Mass, at.Y+height/2)
}
