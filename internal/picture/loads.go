package picture

import (
	"math"
	"slices"

	"kinwain/internal/catalog"
	"kinwain/internal/load"
	"kinwain/internal/match"
	"kinwain/internal/measure"
)

func root(x float64) float64 { return math.Sqrt(max(x, 0)) }

// items lists what is on a build that nobody has weighed a rider for.
func items(m *match.Match) []load.Item {
	var list []load.Item
	zones := map[string]string{}
	for i := range m.Fitted {
		a := &m.Fitted[i]
		zones[a.Code] = a.Zone
		list = append(list, load.Item{Kind: load.Added, Code: a.Code, Mass: a.Weight, Spot: load.AddOnSpot(m.Frame, a)})
	}
	for _, share := range m.Build.Cargo {
		list = append(list, load.Item{Kind: load.Cargo, Code: share.Carrier, Mass: share.Mass, Spot: load.ZoneSpot(m.Frame, share.Zone)})
	}
	for _, s := range m.Seated {
		zone := zones[s.AddOn]
		if s.AddOn == "" {
			zone = s.Place.Zone
		}
		list = append(list, load.Item{Kind: load.Passenger, Label: s.Passenger, Mass: s.Standing.Load, Spot: load.PlaceSpot(m.Frame, zone, s.Place)})
	}
	return list
}

// loads draws the add-ons in their zones, then the cargo within them, and last
// who sits there.
func (d *side) loads() {
	beside := map[int]measure.Length{} // by zone, how far blocks reach already
	for _, kinds := range [][]load.Kind{{load.Added, load.Delivered}, {load.Cargo}, {load.Pet, load.Passenger}} {
		for _, item := range d.sheet.Items {
			if item.Spot.Zone == load.Nowhere || !slices.Contains(kinds, item.Kind) {
				continue
			}
			switch item.Kind {
			case load.Cargo:
				d.cargo(item)
			case load.Pet:
				d.pet(item)
			case load.Passenger:
				d.passenger(item)
			default:
				d.addOn(item, beside)
			}
		}
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
	z := &d.f.Zones[item.Spot.Zone]
	at := Point{item.Spot.Ahead, d.heightOf(z)}
	if at.X == 0 {
		at.X = d.aheadOf(z)
	}
	return at
}

// seatAt reports whether somebody sits about where a point is.
func (d *side) seatAt(at Point) bool {
	return slices.ContainsFunc(d.sheet.Items, func(item load.Item) bool {
		return item.Kind == load.Passenger && item.Spot.Zone != load.Nowhere && max(at.X-d.at(item).X, d.at(item).X-at.X) < 40*cm
	})
}

// addOn draws a block: of the litres that it holds, of the seats that it has,
// or a plain one. Blocks of one zone stand side by side, from its middle to
// the rear; where somebody sits on the deck, what holds cargo hangs beside it.
func (d *side) addOn(item load.Item, beside map[int]measure.Length) {
	at := d.at(item)
	d.weigh(item.Mass, at.Y)
	a := d.addOnOf(item.Code)
	if a != nil && len(a.Places) > 0 {
		for i := range a.Places {
			d.seat(item, a, &a.Places[i])
		}
		return
	}
	width, height := 25*cm, 4*cm
	if a != nil && a.CargoVolume > 0 {
		width, height = blockOf(a.CargoVolume)
	}
	switch {
	case height > 4*cm && d.seatAt(at) && d.f.Zones[item.Spot.Zone].CargoVolume == 0:
		at.Y = max(at.Y-height, 15*cm)
	case height > 4*cm && !d.hasBlock(item.Code): // the second of a pair hangs on the other side
		at.X -= beside[item.Spot.Zone]
		beside[item.Spot.Zone] += width
	case height > 4*cm:
		at.X -= beside[item.Spot.Zone] - width
	}
	d.add(Shape{Kind: AddOn, Of: item.Code, Mass: d.told(item.Mass), Closed: true, Points: box(at, width, height)})
}

// hasBlock reports whether an add-on is drawn already.
func (d *side) hasBlock(code string) bool {
	return slices.ContainsFunc(d.Shapes, func(s Shape) bool { return s.Kind == AddOn && s.Of == code })
}

// seat draws one place of an add-on: what is sat on, and a back.
func (d *side) seat(item load.Item, a *catalog.AddOn, p *catalog.Place) {
	at := d.at(load.Item{Spot: load.PlaceSpot(d.f, a.Zone, p)})
	if p.Height > 0 {
		at.Y = p.Height
	}
	d.add(Shape{Kind: AddOn, Of: item.Code, Mass: d.told(item.Mass), Closed: true, Points: box(Point{at.X, at.Y - 8*cm}, 30*cm, 6*cm)})
	d.line(AddOn, item.Code, Point{at.X - 15*cm, at.Y - 2*cm}, Point{at.X - 18*cm, at.Y + 40*cm})
}

// abreast is how far whoever sits beside somebody is drawn behind them.
const abreast = 12 * cm

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
		d.assume(AssumedStature)
	}
	d.taken[hip]++
	hip.X -= abreast * measure.Length(d.taken[hip]-1)
	knee := towards(hip, along(stature, thigh), -5*degree)
	foot := towards(knee, along(stature, shank), -80*degree)
	d.person(Passenger, item.Label, d.told(item.Mass), hip, stature, 0, foot, nil)
	d.weigh(item.Mass, hip.Y)
}

// pet draws an animal as a body and a head of its weight.
func (d *side) pet(item load.Item) {
	at := d.at(item)
	body := along(mm, 130*math.Cbrt(max(float64(item.Mass)/1000, 1))) // as long as a body of that weight
	d.add(Shape{Kind: Pet, Of: item.Code, Mass: d.told(item.Mass), Closed: true, Points: box(at, body, body/2)})
	d.circle(Pet, item.Code, Point{at.X + body/2, at.Y + body*7/10}, body/5)
	d.weigh(item.Mass, at.Y+body/4)
}

// hiddenBulk is drawn of cargo where its share would tell what somebody weighs.
const hiddenBulk = 20 * measure.Litre

// cargo draws a share as a box of its litres, within the block of what carries
// it, and in a box ahead of whoever sits there.
func (d *side) cargo(item load.Item) {
	width, height := blockOf(d.bulk(item))
	at := d.at(item)
	for _, s := range d.Shapes {
		if s.Of == item.Code && s.Closed && (s.Kind == AddOn || s.Kind == Zone) {
			low, high := s.Bounds()
			at = Point{(low.X + high.X) / 2, low.Y}
			if s.Kind == Zone {
				at.X = max(high.X-width/2, at.X)
			}
		}
	}
	d.add(Shape{Kind: Cargo, Of: item.Code, Mass: d.told(item.Mass), Closed: true, Points: box(at, width, height)})
	d.weigh(item.Mass, at.Y+height/2)
}

// bulk is how much room a share of the cargo takes.
func (d *side) bulk(item load.Item) measure.Volume {
	if d.discreet {
		d.assume(HiddenShares)
		return hiddenBulk
	}
	drawn := 0 // of the shares of carriers that are alike
	for _, s := range d.Shapes {
		if s.Kind == Cargo && s.Of == item.Code {
			drawn++
		}
	}
	for _, share := range d.m.Build.Cargo {
		if share.Carrier != item.Code {
			continue
		}
		if drawn == 0 && share.Volume > 0 {
			return share.Volume
		}
		drawn--
	}
	d.assume(AssumedBulk)
	return measure.Volume(int64(item.Mass) * litresPerKg) // grams, and millilitres
}
