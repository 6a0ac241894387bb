package picture

import (
	"slices"

	"kinwain/internal/catalog"
	"kinwain/internal/load"
	"kinwain/internal/match"
	"kinwain/internal/measure"
)

const (
	mm = measure.Millimetre
	cm = measure.Centimetre
)

// What is usual where a frame does not state it (common practice, no published
// source).
const (
	usualRadius  = 30 * cm  // of a wheel
	usualRider   = 40 * cm  // ahead of the rear axle
	usualDeck    = 65 * cm  // above the ground
	bracket      = 28 * cm  // the bottom bracket above the ground
	crank        = 17 * cm  // its length
	bareCentre   = 50 * cm  // the height of the bare bike's centre of mass
	across       = 400 * mm // the width of a block of a stated volume
	depth        = 30 * cm  // of the greatest axle load below the ground
	headAngle    = 72 * degree
	seatAngle    = 73 * degree
	litresPerKg  = 4 // of cargo whose bulk is not stated
	inseamShare  = 0.47
	saddleFactor = 0.883
)

// Sitter is what a picture needs to know of the rider.
type Sitter struct {
	Height measure.Length // 0 where it is not known
	Inseam measure.Length
	// Discreet leaves out what the rider weighs and whatever tells it: what
	// the axles bear, where it all balances, and how the cargo is shared out.
	Discreet bool
}

// Side draws a build from the side under one rider: wheels, frame, add-ons,
// everyone in their place, cargo as boxes of its litres, what the axles bear
// against their ratings, and where all of it balances. Without a load sheet,
// as long as no rider is weighed, the axles and the balance are left out.
func Side(m *match.Match, sheet *load.Sheet, rider Sitter) Picture {
	d := &side{f: m.Frame, m: m, sheet: sheet, discreet: rider.Discreet, taken: map[Point]int{}}
	if sheet == nil {
		d.sheet = &load.Sheet{Items: items(m)}
	}
	d.measure(rider)
	d.zones()
	d.bike()
	d.loads()
	d.rider(rider)
	if !d.discreet {
		d.axles()
		d.balance()
	}
	low, high := d.extent()
	d.Shapes = append([]Shape{{Kind: Ground, Points: []Point{{low, 0}, {high, 0}}}}, d.Shapes...)
	d.fit(5 * cm)
	return d.Picture
}

// side is a picture from the side while it is drawn.
type side struct {
	Picture
	f     *catalog.Frame
	m     *match.Match
	sheet *load.Sheet

	discreet                bool
	taken                   map[Point]int // how many sit at a point
	wheelbase               measure.Length
	rear, front             Point // the axles
	hip, bracket, bar, foot Point
	moments, masses         int64 // of heights above the ground
}

func (d *side) assume(a Assumption) {
	if !slices.Contains(d.Assumed, a) {
		d.Assumed = append(d.Assumed, a)
	}
}

// radius of a wheel with its tyre: half the bead seat diameter and the width
// of the tyre (ISO 5775).
func (d *side) radius(tyre string) measure.Length {
	bead, width := catalog.BeadSeat(tyre), catalog.TyreWidth(tyre)
	if bead == 0 {
		d.assume(AssumedWheels)
		return usualRadius
	}
	return bead/2 + width
}

// boxed reports whether the load sits ahead of the handlebar.
func (d *side) boxed() bool { return d.f.Type == "front_loader" || d.f.Type == "tricycle" }

// measure places the axles, the saddle and the handlebar.
func (d *side) measure(r Sitter) {
	rear, front := d.radius(d.f.RearTyre), d.radius(d.f.FrontTyre)
	d.wheelbase = d.f.Wheelbase
	if d.wheelbase == 0 {
		d.assume(AssumedWheelbase)
		d.wheelbase = max(d.f.Length-rear-front, rear+front)
	}
	ahead := d.f.RiderAhead
	if ahead == 0 {
		d.assume(AssumedRider)
		ahead = usualRider
	}
	d.rear, d.front = Point{0, rear}, Point{d.wheelbase, front}
	saddle := d.saddle(r)
	d.hip = Point{ahead - 5*cm, bracket + along(saddle, 0.956)} // the sine of the seat angle
	d.bracket = Point{d.hip.X + along(saddle, 0.292), bracket}  // and its cosine
	d.foot = Point{d.bracket.X, bracket - crank}
	top := max(d.f.Height-2*cm, front+20*cm)
	d.bar = Point{d.wheelbase - along(top-front, 0.325), top} // the cotangent of the head angle
	if d.boxed() {
		d.bar.X = d.bracket.X + 30*cm
	}
}

// saddle returns how far the saddle is from the bottom bracket.
func (d *side) saddle(r Sitter) measure.Length {
	inseam := r.Inseam
	if inseam == 0 {
		inseam = along(r.Height, inseamShare)
	}
	high := along(inseam, saddleFactor)
	if d.f.SaddleMin > 0 {
		high = max(high, d.f.SaddleMin)
	}
	if d.f.SaddleMax > 0 {
		high = min(high, d.f.SaddleMax)
	}
	if high == 0 {
		return 70 * cm
	}
	return high
}

// bike draws wheels and tubes.
func (d *side) bike() {
	d.circle(Wheel, load.RearAxle, d.rear, d.rear.Y)
	d.circle(Wheel, load.FrontAxle, d.front, d.front.Y)
	post := between(d.bracket, d.hip, 0.75)
	d.line(Tube, "", d.rear, d.bracket, post, d.rear)
	d.line(Tube, "", post, d.hip)
	if d.boxed() {
		column := Point{d.bar.X + 8*cm, bracket + 10*cm}
		d.line(Tube, "", d.bracket, column, Point{d.front.X, max(d.front.Y, bracket)}, d.front)
		d.line(Tube, "", post, between(column, d.bar, 0.55))
		d.line(Tube, "", column, d.bar)
		return
	}
	top, low := between(d.bar, d.front, 0.3), between(d.bar, d.front, 0.45)
	d.line(Tube, "", post, top)
	d.line(Tube, "", d.bracket, low)
	d.line(Tube, "", d.bar, d.front)
}

// aheadOf returns where load sits in a zone. Where the maker does not state it,
// what is steered sits over the front axle, a box ahead of the handlebar, and
// all else over the rear axle, which a stated 0 means too.
func (d *side) aheadOf(z *catalog.Zone) measure.Length {
	switch {
	case z.Ahead != 0:
		return z.Ahead
	case z.Steered:
		d.assume(AssumedZones)
		return d.wheelbase
	case z.CargoVolume > 0 && d.boxed():
		d.assume(AssumedZones)
		return (d.bar.X + d.wheelbase) / 2
	}
	return 0
}

// heightOf returns how high load sits in a zone.
func (d *side) heightOf(z *catalog.Zone) measure.Length {
	if z.Height > 0 {
		return z.Height
	}
	d.assume(AssumedHeights)
	return usualDeck
}

// zones draws where load may sit.
func (d *side) zones() {
	for i := range d.f.Zones {
		z := &d.f.Zones[i]
		at := Point{d.aheadOf(z), d.heightOf(z)}
		if z.CargoVolume > 0 {
			width, height := blockOf(z.CargoVolume)
			at.Y = max(at.Y-height/2, d.front.Y/2)
			d.add(Shape{Kind: Zone, Of: z.Code, Closed: true, Points: box(at, width, height), Limit: z.Rating})
			continue
		}
		d.add(Shape{Kind: Zone, Of: z.Code, Points: []Point{{at.X - 18*cm, at.Y}, {at.X + 18*cm, at.Y}}, Limit: z.Rating})
	}
}

// blockOf returns the sides of a block of a volume, half as long again as
// high.
func blockOf(v measure.Volume) (width, height measure.Length) {
	area := float64(v) * 1000 / float64(across) // a millilitre is a thousand cubic millimetres
	height = along(mm, root(area/1.5))
	return along(height, 1.5), max(height, 1)
}

// rider draws who rides, hands on the bar and a foot down at the pedal.
func (d *side) rider(r Sitter) {
	if r.Height == 0 {
		return
	}
	bar := d.bar
	d.person(Rider, d.sheet.Rider.Label, d.told(d.sheet.Rider.Riding), d.hip, r.Height, 15*degree, d.foot, &bar)
	d.weigh(d.sheet.Rider.Riding, d.hip.Y+10*cm)
}

// told is a mass as the picture tells it: not at all where that is asked.
func (d *side) told(m measure.Mass) measure.Mass {
	if d.discreet {
		return 0
	}
	return m
}

// weigh adds a mass at a height to what balances.
func (d *side) weigh(m measure.Mass, height measure.Length) {
	d.moments += int64(m) * int64(height)
	d.masses += int64(m)
}

// extent returns how far the shapes reach.
func (d *side) extent() (low, high measure.Length) {
	for i := range d.Shapes {
		a, b := d.Shapes[i].Bounds()
		low, high = min(low, a.X), max(high, b.X)
	}
	return low - 10*cm, high + 10*cm
}

// axles draws what each axle bears as an arrow into the ground, both at one
// scale, and the line of its rating, which the tip may not pass.
func (d *side) axles() {
	if !d.sheet.Axles {
		return
	}
	most := max(d.sheet.Front, d.sheet.Rear, d.f.FrontAxleRating, d.f.RearAxleRating)
	if most <= 0 {
		return
	}
	for _, axle := range []struct {
		of            string
		at            measure.Length
		bears, rating measure.Mass
	}{{load.RearAxle, 0, d.sheet.Rear, d.f.RearAxleRating}, {load.FrontAxle, d.wheelbase, d.sheet.Front, d.f.FrontAxleRating}} {
		deep := func(m measure.Mass) measure.Length {
			return measure.Length(int64(depth) * int64(max(m, 0)) / int64(most))
		}
		d.add(Shape{Kind: AxleLoad, Of: axle.of, Closed: true, Mass: axle.bears, Limit: axle.rating,
			Points: arrow(Point{axle.at, 0}, deep(axle.bears))})
		if axle.rating > 0 {
			y := -deep(axle.rating)
			d.add(Shape{Kind: Rating, Of: axle.of, Limit: axle.rating, Points: []Point{{axle.at - 14*cm, y}, {axle.at + 14*cm, y}}})
		}
	}
}

// arrow points straight down, to a depth.
func arrow(from Point, deep measure.Length) []Point {
	const shaft, wide = 3 * cm, 8 * cm
	neck, tip := from.Y-deep+min(deep, 9*cm), from.Y-deep
	return []Point{{from.X - shaft, from.Y}, {from.X + shaft, from.Y}, {from.X + shaft, neck}, {from.X + wide, neck}, {from.X, tip}, {from.X - wide, neck}, {from.X - shaft, neck}}
}

// balance marks the centre of mass of all that has a place: ahead of the rear
// axle by what the front axle bears, at the height that the masses have.
func (d *side) balance() {
	front := d.sheet.Front - d.sheet.Unplaced // which counts whole on either axle
	placed := front + d.sheet.Rear - d.sheet.Unplaced
	if !d.sheet.Axles || placed <= 0 || d.masses == 0 {
		return
	}
	d.weigh(d.f.BareWeight, bareCentre)
	x := measure.Length(int64(front) * int64(d.wheelbase) / int64(placed))
	d.add(Shape{Kind: Balance, Radius: 35 * mm, Mass: placed, Points: []Point{{x, measure.Length(d.moments / d.masses)}}})
}
