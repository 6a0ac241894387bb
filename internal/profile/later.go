package profile

import (
	"slices"

	"kinwain/internal/measure"
)

// Later returns the profile as it is on a later day on which nobody was asked
// anew: what was read of a child stays what it was on its own day, and whoever
// was to join later still does then, though born meanwhile. On the day of the
// profile itself, or before it, the profile is the answer.
func (p *Profile) Later(day measure.Date) *Profile {
	if !p.AsOf.Before(day) {
		return p
	}
	later := *p
	later.AsOf = day
	all, given := p.Passengers.Get()
	if !given {
		return &later
	}
	all = slices.Clone(all)
	for i := range all {
		c := &all[i]
		c.WeighedOn, c.TapedOn = c.ReadOn(p.AsOf)
		if joins, ok := c.JoinsOn(p.AsOf); ok && day.Before(joins) {
			c.Joins = Given(Month{joins.InMonth()})
		}
	}
	later.Passengers = Given(all)
	return &later
}

// ReadOn returns the days on which the weight and the stature were read, as a
// profile of a day has them.
func (p *Passenger) ReadOn(asOf measure.Date) (weighed, taped measure.Date) {
	weighed, taped = asOf, asOf
	if !p.WeighedOn.IsZero() {
		weighed = p.WeighedOn
	}
	if !p.TapedOn.IsZero() {
		taped = p.TapedOn
	}
	return weighed, taped
}

// Weigh takes a weight for one that was read on the day of the profile.
func (p *Passenger) Weigh(weight measure.Mass) {
	p.Weight, p.WeighedOn = Given(weight), measure.Date{}
}

// Measure takes a stature for one that was read on the day of the profile.
func (p *Passenger) Measure(stature measure.Length) {
	p.Stature, p.TapedOn = Given(stature), measure.Date{}
}
