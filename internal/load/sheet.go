package load

import (
	"slices"
	"strings"

	"kinwain/internal/catalog"
	"kinwain/internal/measure"
)

// Kind says what an item of a load sheet is.
type Kind string

// The kinds of item. A Delivered part came with the frame: its weight is
// within the bare weight and counts in its zone only. A part TakenOff is
// taken from the bare weight.
const (
	Added     Kind = "add_on"
	Delivered Kind = "delivered"
	TakenOff  Kind = "taken_off"
	Passenger Kind = "passenger"
	Pet       Kind = "pet"
	Cargo     Kind = "cargo"
)

// Item is one mass on the bike besides the bare frame and the rider.
type Item struct {
	Kind  Kind
	Code  string // of an add-on; of what carries it, for the pet and cargo
	Label string // of a passenger
	Mass  measure.Mass
	Spot  Spot
}

// Carried reports whether the item is load that the rider carries, not bike.
func (i Item) Carried() bool { return i.Kind == Passenger || i.Kind == Pet || i.Kind == Cargo }

// ofGross returns what the item adds to the weight of the whole.
func (i *Item) ofGross() measure.Mass {
	switch i.Kind {
	case Delivered:
		return 0
	case TakenOff:
		return -i.Mass
	}
	return i.Mass
}

// ZoneLoad is what sits in one zone, or in several combined.
type ZoneLoad struct {
	Zone   string       `json:"zone"`
	Mass   measure.Mass `json:"kg"`
	Rating measure.Mass `json:"rating_kg"` // zero: not stated
}

// Sheet is the sum of all weights of a build under one rider.
type Sheet struct {
	Rider     Rider
	Bare      measure.Mass
	Items     []Item
	Total     measure.Mass
	Rating    measure.Mass
	Carried   measure.Mass
	Guideline measure.Mass // of Carried; rounded down to the gram
	Zones     []ZoneLoad   // in the order of the frame
	Combined  []ZoneLoad

	// Axles are stated where the frame states its geometry; Front and Rear
	// are to the nearest gram. Add-ons of which nobody states where they sit
	// are Unplaced: both axles hold them whole, so both together are more than
	// Total by that.
	Axles       bool
	Front, Rear measure.Mass
	Unplaced    measure.Mass
}

// Spare returns what is left under the gross rating, negative where it is
// exceeded.
func (s *Sheet) Spare() measure.Mass { return s.Rating - s.Total }

// HandlingMass returns what is lifted, pushed and stored: the bare weight and
// the add-ons.
func (s *Sheet) HandlingMass() measure.Mass {
	return s.Total - s.Carried - s.Rider.Riding
}

// NewSheet adds up a build under one rider. carryShare is the part of the
// rider's own weight that the carry guideline allows.
func NewSheet(f *catalog.Frame, items []Item, r Rider, carryShare measure.Share) Sheet {
	s := Sheet{Rider: r, Bare: f.BareWeight, Items: items, Rating: f.GrossRating, Total: f.BareWeight + r.Riding}
	s.Guideline = r.Own * measure.Mass(carryShare) / measure.Mass(measure.Whole)
	inZone := make([]measure.Mass, len(f.Zones))
	for i := range items {
		item := &items[i]
		s.Total += item.ofGross()
		if item.Carried() {
			s.Carried += item.Mass
		}
		if item.Kind != TakenOff && item.Spot.Zone != Nowhere {
			inZone[item.Spot.Zone] += item.Mass
		}
	}
	s.Zones = make([]ZoneLoad, len(f.Zones))
	for i := range f.Zones {
		s.Zones[i] = ZoneLoad{Zone: f.Zones[i].Code, Mass: inZone[i], Rating: f.Zones[i].Rating}
	}
	for i := range f.Combined {
		c := &f.Combined[i]
		sum := ZoneLoad{Zone: strings.Join(c.Zones, "+"), Rating: c.Rating}
		for z := range f.Zones {
			if slices.Contains(c.Zones, f.Zones[z].Code) {
				sum.Mass += inZone[z]
			}
		}
		s.Combined = append(s.Combined, sum)
	}
	if f.StatesAxles() {
		s.Axles = true
		s.weighAxles(f)
	}
	return s
}

// weighAxles finds the loads on both axles by the balance of moments. The rear
// axle has what the front has not, so that both add up to what has a place.
func (s *Sheet) weighAxles(f *catalog.Frame) {
	placed := f.BareWeight + s.Rider.Riding
	front := bareFront(f, s.Rider)
	for i := range s.Items {
		item := &s.Items[i]
		switch {
		case item.Spot.Placed():
			placed += item.ofGross()
			front.put(item)
		case item.Kind == Added:
			s.Unplaced += item.ofGross()
		}
	}
	s.Front = front.Mass()
	s.Rear = placed - s.Front
	s.Front += s.Unplaced
	s.Rear += s.Unplaced
}
