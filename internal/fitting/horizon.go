package fitting

import (
	"slices"

	"kinwain/internal/measure"
)

// Horizon is how long a build lasts.
type Horizon struct {
	// Ends is false where nothing is outgrown within ten years.
	Ends bool
	// Month is the last one at whose end the build still carries everyone.
	Month measure.Month
	// Months counts from the month of the demand, that one included, to
	// Month; HorizonMonths where nothing is outgrown.
	Months int
	// Limit is what gives out first: a rule, and what it is about.
	Limit Cause
}

// Cause is a rule that fails and the part of the bike that it is about.
type Cause struct {
	Rule  string // a rule's code, or place_weight, place_age or place_stature
	About string // a zone, an axle, or an add-on's code; may be empty
}

// String writes the cause as documents do: place_weight:seat-rear.
func (c Cause) String() string {
	if c.Rule == "" || c.About == "" {
		return c.Rule
	}
	return c.Rule + ":" + c.About
}

// Horizon returns how long the build carries the growing family. It keeps the
// add-ons, and seats and stows anew each month.
func (p *Problem) Horizon(b *Build) Horizon {
	set := p.stateOf(b.counts)
	failing := p.failsIn(&set, b.rules)
	if failing > HorizonMonths {
		return Horizon{Months: HorizonMonths}
	}
	first := p.Demand.Day.InMonth()
	h := Horizon{Ends: true, Month: first + measure.Month(failing-1), Months: failing}
	h.Limit = p.causeIn(&set, failing, b)
	return h
}

// failsIn returns the first month, counted from that of the demand, at whose
// end the set no longer holds, or HorizonMonths+1 where it always does.
func (p *Problem) failsIn(set *state, rules Rules) int {
	c := p.newSeating(true)
	defer c.done()
	if p.heavierIsHarder(rules) {
		if m := p.firstFailing(c, set, rules, 1, 0, spanMonths); m >= 0 {
			return m
		}
		return HorizonMonths + 1
	}
	for m, stage := range p.Demand.Months() {
		if !c.settle(set, stage, rules) {
			return m
		}
	}
	return HorizonMonths + 1
}

// heavierIsHarder reports whether a build that holds with some people on it
// also holds with fewer or lighter ones: not where an axle has a rating and a
// place hangs over the other one.
func (p *Problem) heavierIsHarder(rules Rules) bool {
	if !p.relievable(rules) {
		return true
	}
	ok := true
	p.eachPlace(func(_ string, pl *place) bool {
		ok = ok && !slices.ContainsFunc(pl.per, func(n int64) bool { return n < 0 })
		return !ok
	})
	return ok
}

// firstFailing looks for the first failing month among those of a span, given
// as a node of the demand's tree of spans with its first month and length, or
// returns -1. Where the worst of all its months holds, every one holds.
func (p *Problem) firstFailing(c *seating, set *state, rules Rules, node, from, months int) int {
	if from > HorizonMonths || c.settle(set, p.Demand.ahead().spans[node], rules) {
		return -1
	}
	if months == 1 {
		return from
	}
	half := months / 2
	if m := p.firstFailing(c, set, rules, 2*node, from, half); m >= 0 {
		return m
	}
	return p.firstFailing(c, set, rules, 2*node+1, from+half, half)
}

// causeIn finds the first rule without which the set would still hold at the
// end of the month.
func (p *Problem) causeIn(set *state, month int, b *Build) Cause {
	stage := p.Demand.Months()[month]
	c := p.newSeating(false)
	defer c.done()
	for rule := range b.rules.Each {
		if rule == PlaceMissing || !c.settle(set, stage, b.rules&^rule) {
			continue
		}
		if rule == PlaceLimits {
			return p.outgrown(b, stage)
		}
		return Cause{Rule: rule.Code(), About: p.about(set, stage, rule, c)}
	}
	return Cause{Rule: PlaceMissing.Code()}
}

// outgrown says which limit of which place is passed first, as everyone sits
// today.
func (p *Problem) outgrown(b *Build, stage Stage) Cause {
	for _, s := range b.seats {
		st, pl := &stage[s.passenger], p.placeOf(s)
		about := ""
		if s.option >= 0 {
			about = p.options[s.option].Code
		}
		switch {
		case !st.Present || pl.suits(st, AllRules):
		case pl.MaxMass > 0 && st.Load > pl.MaxMass:
			return Cause{"place_weight", about}
		case pl.MaxMonths > 0 && st.Old > pl.MaxMonths:
			return Cause{"place_age", about}
		default:
			return Cause{"place_stature", about}
		}
	}
	return Cause{Rule: PlaceLimits.Code()}
}

// about names what the failing rating is of: the first limit of the rule that
// is exceeded in the seating that ignores it.
func (p *Problem) about(set *state, stage Stage, rule Rules, c *seating) string {
	for l, amount := range p.amounts(set, stage, c) {
		limit := &p.limits[l]
		if amount > limit.Cap && rule.enforced(limit) {
			return limit.Name
		}
	}
	if rule == AddOnRating {
		for i := range c.carriers {
			o := &p.options[c.carriers[i].option]
			if o.MaxLoad > 0 && c.carriers[i].load > int64(o.MaxLoad) {
				return o.Code
			}
		}
	}
	return ""
}

// amounts returns what a settled seating takes up of every limit, cargo
// included.
func (p *Problem) amounts(set *state, stage Stage, c *seating) []int64 {
	amounts := slices.Clone(c.load)
	for _, s := range c.shares {
		for l := 1; l < len(amounts); l++ {
			amounts[l] += s.per[l] * int64(s.mass)
		}
	}
	return amounts
}
