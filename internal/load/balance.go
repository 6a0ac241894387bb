package load

import (
	"kinwain/internal/catalog"
	"kinwain/internal/measure"
)

// Lift is the rule that the front axle bears no less than nothing.
const Lift Rule = "front_light"

// FrontStays returns that rule as a limit, under the rider who holds the front
// down least. It is false where the frame does not state its geometry, or
// nobody rides whose weight is known.
func FrontStays(f *catalog.Frame, riders []Rider) (Limit, bool) {
	if !f.StatesAxles() || len(riders) == 0 {
		return Limit{}, false
	}
	l := Limit{Rule: Lift, Name: FrontAxle, wheelbase: int64(f.Wheelbase)}
	for i, r := range riders {
		if held := axleScale * int64(r.Riding) * int64(f.RiderAhead); i == 0 || held < l.Cap {
			l.Cap = held
		}
	}
	l.Cap += int64(f.BareWeight) * int64(f.BareFrontShare) * l.wheelbase
	return l, true
}

// Front is the exact load on the front axle: a moment about the rear axle over
// the wheelbase.
type Front struct{ moment, unit int64 }

// FrontOf returns the load on the front axle of a build under one rider, by
// the balance of moments about the rear axle. What sits nobody knows where does
// not hold it down; and when it comes off, it may have. The frame must state its
// geometry.
func FrontOf(f *catalog.Frame, items []Item, r Rider) Front {
	front := bareFront(f, r)
	for i := range items {
		switch item := &items[i]; {
		case item.Spot.Placed():
			front.put(item)
		case item.Kind == TakenOff:
			front.moment -= int64(item.Mass) * front.unit
		}
	}
	return front
}

// bareFront returns the load on the front axle of a frame and its rider.
func bareFront(f *catalog.Frame, r Rider) Front {
	unit := axleScale * int64(f.Wheelbase)
	return Front{int64(f.BareWeight)*int64(f.BareFrontShare)*int64(f.Wheelbase) + axleScale*int64(r.Riding)*int64(f.RiderAhead), unit}
}

// put adds what an item puts on the axle that sits in a known spot.
func (l *Front) put(item *Item) {
	l.moment += axleScale * int64(item.ofGross()) * int64(item.Spot.Ahead)
}

// Mass returns the load to the nearest gram, negative where the front lifts.
func (l Front) Mass() measure.Mass {
	half := l.unit / 2
	if l.moment < 0 {
		half = -half
	}
	return measure.Mass((l.moment + half) / l.unit)
}

// Lifts reports whether the axle bears less than nothing, and by how much,
// rounded up.
func (l Front) Lifts() (measure.Mass, bool) {
	if l.moment >= 0 {
		return 0, false
	}
	return measure.Mass((l.unit - 1 - l.moment) / l.unit), true
}

// Under reports whether the axle bears less than a share of a whole.
func (l Front) Under(share measure.Share, whole measure.Mass) bool {
	return l.moment < int64(share)*int64(whole)*(l.unit/axleScale)
}

// Sides returns what sits in the zones of the left side and in those of the
// right: add-ons, passengers, pet and cargo.
func (s *Sheet) Sides(f *catalog.Frame) (left, right measure.Mass) {
	for i := range s.Zones {
		switch f.Zones[i].Side {
		case catalog.LeftSide:
			left += s.Zones[i].Mass
		case catalog.RightSide:
			right += s.Zones[i].Mass
		}
	}
	return left, right
}

// Standing returns what a stand bears: the loaded bike without its rider.
func (s *Sheet) Standing() measure.Mass { return s.Total - s.Rider.Riding }
