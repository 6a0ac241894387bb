package fitting

import (
	"math"
	"math/big"

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
	for lead := range c.bins {
		exact, ok := c.firstWith(lead, goods, nil)
		if !ok {
			return false
		}
		if c.portions = whole(exact, goods.total); c.record(goods) {
			return true
		}
	}
	return false
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

// firstWith returns the first sharing that keeps every limit and some more
// rows, in the order that has a certain carrier before all others.
func (c *seating) firstWith(lead int, goods cargo, more []row) ([]*big.Rat, bool) {
	order := []int{lead}
	for i := range c.bins {
		if i != lead {
			order = append(order, i)
		}
	}
	var rows []row
	for _, r := range append(c.limitRows(goods), more...) {
		ordered := row{most: r.most}
		for _, i := range order {
			ordered.coefficients = append(ordered.coefficients, r.coefficients[i])
		}
		rows = append(rows, ordered)
	}
	caps := make([]int64, len(order))
	for k, i := range order {
		caps[k] = c.bins[i].most
	}
	ordered, ok := firstSharing(rows, caps, goods.total)
	if !ok {
		return nil, false
	}
	shares := make([]*big.Rat, len(order))
	for k, i := range order {
		shares[i] = ordered[k]
	}
	return shares, true
}

// limitRows are the ratings that bound how the cargo is shared out, over the
// portions of every carrier.
func (c *seating) limitRows(goods cargo) []row {
	var rows []row
	for l := range c.p.limits {
		if !c.steers(l) && !c.weighs(l) {
			continue
		}
		r := row{most: new(big.Rat).Mul(new(big.Rat).SetInt64(c.p.limits[l].Cap-c.load[l]), new(big.Rat).SetInt64(goods.mass))}
		for i := range c.bins {
			r.coefficients = append(r.coefficients, new(big.Rat).SetInt64(c.bins[i].per[l]))
		}
		rows = append(rows, r)
	}
	return rows
}
