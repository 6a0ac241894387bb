// Package load adds up what a build weighs and holds it against every rating
// that the maker states: the gross rating, each zone, combined zones and each
// axle. All sums are in grams and exact.
package load

import (
	"strings"

	"kinwain/internal/catalog"
	"kinwain/internal/measure"
)

// Rule names the kind of a rating.
type Rule string

// The kinds of rating.
const (
	Gross    Rule = "gross_rating"
	InZone   Rule = "zone_rating"
	Combined Rule = "combined_rating"
	Axle     Rule = "axle_rating"
)

// The names of the axles.
const (
	FrontAxle = "front"
	RearAxle  = "rear"
)

// Nowhere is the zone of what sits in none: it counts toward the gross rating
// and on the axles.
const Nowhere = -1

// Spot is where on a frame a mass sits: the index of its zone, or Nowhere,
// and how far ahead of the rear axle.
type Spot struct {
	Zone  int
	Ahead measure.Length
}

// Placed reports whether it is known how far ahead the spot is: of what sits in
// no zone, zero means that nobody states it.
func (s Spot) Placed() bool { return s.Zone != Nowhere || s.Ahead != 0 }

// AddOnSpot returns where the weight of an add-on sits.
func AddOnSpot(f *catalog.Frame, a *catalog.AddOn) Spot {
	s := ZoneSpot(f, a.Zone)
	if a.Zone == "" {
		s.Ahead = a.Ahead
	}
	return s
}

// ZoneSpot returns where things fixed to a zone sit; an empty code or one
// that the frame does not have is Nowhere.
func ZoneSpot(f *catalog.Frame, zone string) Spot {
	i := f.ZoneIndex(zone)
	if i < 0 {
		return Spot{Zone: Nowhere}
	}
	return Spot{Zone: i, Ahead: f.Zones[i].Ahead}
}

// PlaceSpot returns where somebody sits in a place that lies in the zone.
func PlaceSpot(f *catalog.Frame, zone string, p *catalog.Place) Spot {
	s := ZoneSpot(f, zone)
	if p.Ahead != 0 {
		s.Ahead = p.Ahead
	}
	return s
}

// Limit is one rating as a linear inequality over everything that is put on
// the delivered bike: the sum of mass × Per(spot) must not exceed Cap.
type Limit struct {
	Rule   Rule
	Name   string       // the zone, the zones joined by +, or the axle; empty for the gross rating
	Rating measure.Mass // as the maker states it
	Cap    int64        // what the delivered bike and the rider leave of the rating

	zones     []bool // by index, for InZone and Combined
	wheelbase int64
}

// axleScale keeps the axle inequalities in integers: the front share of the
// bare weight is stated in ten-thousandths.
const axleScale = int64(measure.Whole)

// Relieved reports whether a load may also relieve the limit: one behind the
// rear axle lifts the front.
func (l *Limit) Relieved() bool { return l.Rule == Axle || l.Rule == Lift }

// Per returns how much of the limit a gram that is put at the spot takes up,
// less than nothing where it relieves an axle. What sits nobody knows where
// counts whole on whichever axle has a rating, and does not hold the front
// down.
func (l *Limit) Per(s Spot) int64 {
	switch {
	case l.Rule == Gross:
		return 1
	case !l.Relieved():
		if s.Zone != Nowhere && l.zones[s.Zone] {
			return 1
		}
		return 0
	case !s.Placed():
		if l.Rule == Lift {
			return 0
		}
		return axleScale * l.wheelbase
	case l.Rule == Lift:
		return -axleScale * int64(s.Ahead)
	case l.Name == FrontAxle:
		return axleScale * int64(s.Ahead)
	}
	return axleScale * (l.wheelbase - int64(s.Ahead))
}

// PerOff returns how much of the limit a gram frees that comes off the spot.
// Where nobody knows where that is it relieves no axle, and all of it may have
// held the front down.
func (l *Limit) PerOff(s Spot) int64 {
	switch {
	case !l.Relieved() || s.Placed():
		return l.Per(s)
	case l.Rule == Lift:
		return -axleScale * l.wheelbase
	}
	return 0
}

// BothAxles returns what a gram takes up of the limits of both axles together,
// wherever on the frame it sits.
func BothAxles(f *catalog.Frame) int64 { return axleScale * int64(f.Wheelbase) }

// Over returns by how many grams an amount that exceeds Cap is over the
// rating, rounded up; negative or zero where it is not.
func (l *Limit) Over(amount int64) measure.Mass {
	unit := int64(1)
	if l.Relieved() {
		unit = axleScale * l.wheelbase
	}
	excess := amount - l.Cap
	if excess <= 0 {
		return measure.Mass(excess / unit)
	}
	return measure.Mass((excess + unit - 1) / unit)
}

// Limits returns every rating that the frame states, under every one of the
// riders. What the frame comes with is within its bare weight but counts in
// its zone. A rating that is not stated does not bind and is left out, and so
// are the axles of a frame that does not state its geometry.
func Limits(f *catalog.Frame, delivered []catalog.AddOn, riders []Rider) []Limit {
	heaviest := Heaviest(riders)
	limits := []Limit{{Rule: Gross, Rating: f.GrossRating, Cap: int64(f.GrossRating - f.BareWeight - heaviest)}}
	for i := range f.Zones {
		if f.Zones[i].Rating > 0 {
			limits = append(limits, zoneLimit(f, InZone, f.Zones[i].Rating, delivered, f.Zones[i].Code))
		}
	}
	for _, c := range f.Combined {
		limits = append(limits, zoneLimit(f, Combined, c.Rating, delivered, c.Zones...))
	}
	if f.StatesAxles() {
		limits = append(limits, axleLimits(f, riders)...)
	}
	return limits
}

func zoneLimit(f *catalog.Frame, rule Rule, rating measure.Mass, delivered []catalog.AddOn, zones ...string) Limit {
	l := Limit{Rule: rule, Name: strings.Join(zones, "+"), Rating: rating, Cap: int64(rating), zones: make([]bool, len(f.Zones))}
	for _, z := range zones {
		l.zones[f.ZoneIndex(z)] = true
	}
	for i := range delivered {
		l.Cap -= int64(delivered[i].Weight) * l.Per(ZoneSpot(f, delivered[i].Zone))
	}
	return l
}

// axleLimits returns the ratings of the axles under the rider who loads each
// most. By the balance of moments about the other axle, a mass m at x ahead
// of the rear axle puts m·x/wheelbase on the front axle and the rest on the
// rear; multiplied out, all of it stays in integers.
func axleLimits(f *catalog.Frame, riders []Rider) []Limit {
	var limits []Limit
	wheelbase, share := int64(f.Wheelbase), int64(f.BareFrontShare)
	for _, axle := range [...]struct {
		name      string
		rating    measure.Mass
		bareShare int64
		riderArm  int64
	}{
		{FrontAxle, f.FrontAxleRating, share, int64(f.RiderAhead)},
		{RearAxle, f.RearAxleRating, axleScale - share, wheelbase - int64(f.RiderAhead)},
	} {
		if axle.rating == 0 {
			continue
		}
		l := Limit{Rule: Axle, Name: axle.name, Rating: axle.rating, wheelbase: wheelbase}
		bare := int64(f.BareWeight) * axle.bareShare * wheelbase
		worst := int64(0)
		for i, r := range riders {
			if moment := int64(r.Riding) * axle.riderArm * axleScale; i == 0 || moment > worst {
				worst = moment
			}
		}
		l.Cap = int64(axle.rating)*axleScale*wheelbase - bare - worst
		limits = append(limits, l)
	}
	return limits
}
