package fitting

import (
	"math"
	"slices"

	"kinwain/internal/fitting/relax"
)

// tied reports whether another sharing might hold where filling in order does
// not. Where the sets of carriers that share a limit are nested or apart, and
// no axle is rated, there is none: filling in any order then stows as much as
// can be stowed (the limits make a polymatroid, on which the greedy way is the
// best; J. Edmonds, 1970, from memory). Combined ratings that overlap, and
// axles, which a load may also relieve, can make it so.
func (c *seating) tied(goods cargo) bool {
	if goods.mass == 0 {
		return false
	}
	if c.p.overlapping && c.rules.Has(CombinedRating) {
		return true
	}
	for l := range c.p.limits {
		if c.weighs(l) {
			return true
		}
	}
	return false
}

// spread finds the first sharing in order that keeps every limit and records
// it. Where ratings leave less than grams to choose from, the grams of that one
// may pass one of them; then it tries what puts the most on one carrier after
// the other. If none of those can be written in grams, no gram is to spare,
// and the answer is no.
func (c *seating) spread(goods cargo) bool {
	switch holds, known := c.roughly(goods); {
	case known && !holds:
		return false
	case known && c.asking:
		return true
	}
	return c.firstInGrams(goods, false)
}

// roughly looks for any sharing by the relaxation, which is quick, and only
// says what is proved: that none keeps the limits, or that the one found does,
// in grams.
func (c *seating) roughly(goods cargo) (holds, known bool) {
	p, total := &c.program, float64(goods.total)
	p.Reset()
	for i := range c.bins {
		p.Column(0, 0, float64(c.bins[i].most)/total*(1+1e-15))
	}
	for l := range c.p.limits {
		if !c.steers(l) && !c.weighs(l) {
			continue
		}
		for i := range c.bins {
			p.Term(i, float64(c.bins[i].per[l])*float64(c.p.Demand.Cargo))
		}
		p.AtMost(float64(c.p.limits[l].Cap - c.load[l]))
	}
	for i := range c.bins {
		p.Term(i, 1)
	}
	p.Equal(1)
	c.relaxed.Start(p)
	switch c.relaxed.Solve(math.Inf(1)) {
	case relax.Impossible:
		return false, true
	case relax.Unsure:
		return false, false
	}
	ok := c.takeFrom(goods) && c.record(goods)
	return ok, ok
}

// takeFrom makes portions of the shares at which the relaxation stands, and
// reports whether they add up and keep the limits.
func (c *seating) takeFrom(goods cargo) bool {
	left := goods.total
	c.portions = c.portions[:0]
	for i := range c.bins {
		portion := min(max(int64(c.relaxed.Value(i)*float64(goods.total)), 0), c.bins[i].most, left)
		c.portions = append(c.portions, portion)
		left -= portion
	}
	for i := range c.portions {
		more := min(left, c.bins[i].most-c.portions[i])
		c.portions[i] += more
		left -= more
	}
	for l := range c.p.limits {
		if c.steers(l) && c.booked(l) > (c.p.limits[l].Cap-c.load[l])*goods.mass {
			return false
		}
	}
	return left == 0 && c.axlesBear(goods)
}

// firstInGrams records the first sharing that can be written in grams: of
// those that put the most on the first carrier, then on the second, and so on;
// or first on another one.
func (c *seating) firstInGrams(goods cargo, even bool) bool {
	t := tableaux.Get().(*tableau)
	defer tableaux.Put(t)
	for lead := range c.bins {
		if !c.firstWith(t, lead, goods, even) {
			return false
		}
		if c.record(goods) {
			return true
		}
	}
	return false
}

// firstWith makes portions of the first sharing that keeps every limit, in the
// order that has a certain carrier before all others; where the sides are to be
// even, of those with which they differ least.
func (c *seating) firstWith(t *tableau, lead int, goods cargo, even bool) bool {
	c.order = c.order[:0]
	for i := range c.bins {
		if c.bins[i].most > 0 {
			c.order = append(c.order, i)
		}
	}
	if at := slices.Index(c.order, lead); at > 0 {
		copy(c.order[1:at+1], c.order[:at])
		c.order[0] = lead
	}
	sides := b2i(even)
	t.begin(sides + len(c.order))
	if even {
		c.sideRows(t, goods)
	}
	c.limitRows(t, goods, sides)
	if !t.first() {
		return false
	}
	c.portions = grown(c.portions, len(c.bins))
	clear(c.portions)
	left := goods.total
	for k, i := range c.order {
		c.portions[i], _ = t.value(sides + k)
		left -= c.portions[i]
	}
	c.handOut(t, left, sides)
	return true
}

// handOut hands the portions that rounding down left over to the first carriers
// of which something was cut off. A portion is far less than a gram, so this is
// below anything shown.
func (c *seating) handOut(t *tableau, left int64, from int) {
	for i := range c.bins {
		if k := slices.Index(c.order, i); left > 0 && k >= 0 {
			if _, cut := t.value(from + k); cut {
				c.portions[i]++
				left--
			}
		}
	}
}

// limitRows writes down what bounds how the cargo is shared out: all of it is,
// each carrier by itself, and the ratings. What no sharing breaks is left out.
func (c *seating) limitRows(t *tableau, goods cargo, from int) {
	for _, sign := range [...]int64{1, -1} {
		r := t.row()
		for k := range c.order {
			r.of[from+k] = sign
		}
		r.most.SetInt64(sign * goods.total)
	}
	for k, i := range c.order {
		if most := c.bins[i].most; most < goods.total {
			r := t.row()
			r.of[from+k] = 1
			r.most.SetInt64(most)
		}
	}
	for l := range c.p.limits {
		room := c.p.limits[l].Cap - c.load[l]
		if !c.steers(l) && !c.weighs(l) || c.bearsAnywhere(l, room) {
			continue
		}
		r := t.row()
		for k, i := range c.order {
			r.of[from+k] = c.bins[i].per[l]
		}
		r.most.Mul(r.most.SetInt64(room), t.a.SetInt64(goods.mass))
	}
}

// bearsAnywhere reports whether a limit has room for all of the cargo wherever
// it lies.
func (c *seating) bearsAnywhere(l int, room int64) bool {
	for _, i := range c.order {
		if c.bins[i].per[l]*int64(c.p.Demand.Cargo) > room {
			return false
		}
	}
	return len(c.order) > 0
}
