package fitting

import (
	"cmp"
	"math"
	"math/big"
	"slices"
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
	tied := c.p.overlapping && c.rules.Has(CombinedRating)
	for l := range c.p.limits {
		if c.weighs(l) {
			tied = true
			if c.surelyOver(l, goods) {
				return false
			}
		}
	}
	return tied
}

// surelyOver reports whether an axle is over its rating even with the cargo
// where it weighs least on it, the other limits aside.
func (c *seating) surelyOver(l int, goods cargo) bool {
	c.lightestOn(l)
	left := goods.total
	spare := float64(c.p.limits[l].Cap-c.load[l]) * float64(goods.mass)
	sum, size := 0.0, math.Abs(spare)
	for _, i := range c.order {
		share := min(c.bins[i].most, left)
		left -= share
		part := float64(c.bins[i].per[l]) * float64(share)
		sum, size = sum+part, size+math.Abs(part)
	}
	return sum-spare > surely*size
}

// lightestOn orders the carriers by how little a load in them weighs on an
// axle.
func (c *seating) lightestOn(l int) {
	c.order = c.order[:0]
	for i := range c.bins {
		c.order = append(c.order, i)
	}
	slices.SortStableFunc(c.order, func(a, b int) int { return cmp.Compare(c.bins[a].per[l], c.bins[b].per[l]) })
}

// spread finds the first sharing in order that keeps every limit and records
// it. Where ratings leave less than grams to choose from, the grams of that one
// may pass one of them; then it tries what puts the most on one carrier after
// the other. If none of those can be written in grams, no gram is to spare,
// and the answer is no.
func (c *seating) spread(goods cargo) bool {
	for lead := range c.bins {
		exact, ok := c.firstWith(lead, goods)
		if !ok {
			return false
		}
		if c.portions = whole(exact, goods.total); c.record(goods) {
			return true
		}
	}
	return false
}

// firstWith returns the first sharing that keeps every limit, in the order
// that has a certain carrier before all others.
func (c *seating) firstWith(lead int, goods cargo) ([]*big.Rat, bool) {
	order := []int{lead}
	for i := range c.bins {
		if i != lead {
			order = append(order, i)
		}
	}
	var rows []row
	for l := range c.p.limits {
		if !c.steers(l) && !c.weighs(l) {
			continue
		}
		r := row{most: new(big.Rat).Mul(new(big.Rat).SetInt64(c.p.limits[l].Cap-c.load[l]), new(big.Rat).SetInt64(goods.mass))}
		for _, i := range order {
			r.coefficients = append(r.coefficients, new(big.Rat).SetInt64(c.bins[i].per[l]))
		}
		rows = append(rows, r)
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
