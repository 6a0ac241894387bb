package growth

import (
	"math"

	"kinwain/internal/measure"
)

// Projection foretells one child. It is made by [Plan] once and then asked for
// many days; asking neither allocates nor changes it.
type Projection struct {
	child Child
	// weighed and taped are the readings, each with the age on its day.
	weighed, taped reading
	// heavy, light and tall are the z-scores that the child is carried at.
	heavy, light, tall float64
	// least is what the child does not weigh less than any more; see PlanApart.
	least measure.Mass
	// peak is, for a child that was weighed, the greatest weight in kilograms
	// at the z-score heavy and the knots after the reading, up to each knot.
	peak [knots]float64
}

// reading is what a scale or a tape has read, if it has.
type reading struct {
	done   bool
	on     measure.Date // its first day, where the month alone is known
	months float64      // the age on that day
}

// baby reports whether the reading is of a child too young for it to foretell.
func (r reading) baby() bool { return r.months < infant }

// past reports whether a day is after that of the reading.
func (r reading) past(day measure.Date) bool { return r.on.Before(day) }

// grown reports whether the child has grown by a day since the reading.
func (r reading) grown(day measure.Date) bool { return r.past(day) && r.months < oldest }

// odd reports whether what a day takes from the reading was read outside the
// reference.
func (r reading) odd(day measure.Date) bool { return r.done && r.past(day) && outside(r.months) }

// State is a child on one day.
type State struct {
	// Heavy is the weight for loads and upper limits: the scale's reading
	// carried at its own z-score, or else the planning percentile. Rounded up
	// to a gram. It never falls from one day to the next where there is a
	// reading, and on the day of the reading it is the reading. [Plan] says
	// what a baby's reading is worth.
	Heavy measure.Mass
	// Light is the weight for lower limits: as Heavy where there is a
	// reading, or else the minimum percentile. Rounded down to a gram, never
	// above Heavy.
	Light measure.Mass
	// Tall is the stature for upper limits: the measured one carried at its
	// own z-score and never below it, or else the planning percentile.
	// Rounded up to a millimetre.
	Tall measure.Length
	// Estimated tells that no scale had a part in Heavy and Light.
	Estimated bool
	// StatureEstimated tells that no tape had a part in Tall.
	StatureEstimated bool
	// Projected tells that Heavy and Light are carried forward from an
	// earlier reading.
	Projected bool
	// Beyond tells that the age on the day, or on the day of a reading that
	// is carried forward, lies outside the reference, whose end is held.
	Beyond bool
}

// infant is the age in months below which a reading does not foretell. The
// reference begins after it, and against its first month a healthy baby would
// count as a very small child for years.
const infant = 12

// Plan prepares the projection of a child. A child without a reading is
// planned at the z-score planning, and where a minimum must be reached at
// minimum, or at planning if that is the lower; see [Z].
//
// A weight or stature read before the child was 12 months old is carried
// forward at no less than planning for upper limits, and the weight at no more
// than minimum for lower ones.
func Plan(c Child, planning, minimum float64) Projection {
	return PlanApart(c, planning, minimum, 0)
}

// PlanApart prepares the projection of a child who from the day of the reading
// on grows so far above the own z-score, or below it where that is negative,
// and never gets lighter than the reading. A child without a reading is planned
// as by Plan.
func PlanApart(c Child, planning, minimum, apart float64) Projection {
	p := Projection{child: c, heavy: planning, light: min(minimum, planning), tall: planning}
	if c.Weight > 0 {
		p.weighed = reading{true, c.Measured.Earliest(), c.MonthsOn(c.Measured)}
		own := WeightZ(c.Sex, p.weighed.months, kilograms(c.Weight)) + apart
		if apart != 0 {
			p.least = c.Weight
		}
		if p.weighed.baby() {
			p.heavy, p.light = max(own, planning), min(own, p.light)
		} else {
			p.heavy, p.light = own, own
		}
		p.climb()
	}
	if c.Stature > 0 {
		on := c.Measured
		if !c.Taped.IsZero() {
			on = c.Taped
		}
		p.taped = reading{true, on.Earliest(), c.MonthsOn(on)}
		p.tall = StatureZ(c.Sex, p.taped.months, centimetres(c.Stature)) + apart
		if p.taped.baby() {
			p.tall = max(p.tall, planning)
		}
	}
	return p
}

// climb fills peak. Where the own z-score lies far out (from about 3.7), the
// reference makes weights fall with age; a load must not.
func (p *Projection) climb() {
	top := 0.0
	for i := range p.peak {
		if months := weightForAge.boys[i].months; months > p.weighed.months {
			top = max(top, Weight(p.child.Sex, months, p.heavy))
		}
		p.peak[i] = top
	}
}

// On returns the child on a day; a month alone counts as its first day. On and
// before the day of measuring the readings stand as they were read. A reading
// from beyond the upper end of the reference stands for ever.
func (p Projection) On(day measure.Date) State {
	day = day.Earliest()
	months := p.child.MonthsOn(day)
	s := State{
		Estimated:        !p.weighed.done,
		StatureEstimated: !p.taped.done,
		Projected:        p.weighed.done && p.weighed.past(day),
		Beyond:           outside(months) || p.weighed.odd(day) || p.taped.odd(day),
	}
	at := locate(months)
	s.Heavy, s.Light = p.weights(at, p.weighed.grown(day))
	s.Tall = p.stature(at, p.taped.grown(day))
	return s
}

// weights returns Heavy and Light at a place; grown tells that the child has
// grown since the reading.
func (p *Projection) weights(at place, grown bool) (heavy, light measure.Mass) {
	if p.weighed.done && !grown {
		return p.child.Weight, p.child.Weight
	}
	reference := weightForAge.at(p.child.Sex, at)
	kg, least := reference.value(p.heavy), reference.value(p.light)
	if !p.weighed.done {
		return grams(kg), gramsDown(least)
	}
	// Between two knots the weight at one z-score turns at most once. Held
	// between the peaks of both it is flat up to a trough and flat from a
	// crest on, so it never falls. The reading itself is kept in grams: a
	// detour through kilograms might add one.
	kg = min(max(kg, p.peak[at.knot]), p.peak[at.knot+1])
	return max(grams(kg), p.child.Weight), max(gramsDown(min(least, kg)), p.least)
}

// stature returns Tall at a place. Nobody shrinks: the measured stature is the
// least.
func (p *Projection) stature(at place, grown bool) measure.Length {
	if p.taped.done && !grown {
		return p.child.Stature
	}
	cm := statureForAge.at(p.child.Sex, at).value(p.tall)
	return max(millimetres(cm), p.child.Stature)
}

// noise is the part of a gram or a millimetre that is taken for the error of
// floating-point arithmetic: far above it, and far below what is weighed.
const noise = 1e-6

func grams(kg float64) measure.Mass {
	return measure.Mass(math.Ceil(kg*float64(measure.Kilogram) - noise))
}

func gramsDown(kg float64) measure.Mass {
	return measure.Mass(math.Floor(kg*float64(measure.Kilogram) + noise))
}

func millimetres(cm float64) measure.Length {
	return measure.Length(math.Ceil(cm*float64(measure.Centimetre) - noise))
}

func kilograms(m measure.Mass) float64 { return float64(m) / float64(measure.Kilogram) }

func centimetres(l measure.Length) float64 { return float64(l) / float64(measure.Centimetre) }
