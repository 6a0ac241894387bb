package fitting

import (
	"math/big"
	"slices"

	"kinwain/internal/catalog"
)

// side returns 1 for a zone of the left side, −1 for one of the right, and 0
// for any other.
func (p *Problem) side(zone int) int64 {
	if zone < 0 {
		return 0
	}
	switch p.Frame.Zones[zone].Side {
	case catalog.LeftSide:
		return 1
	case catalog.RightSide:
		return -1
	}
	return 0
}

// sided reports whether it is for the cargo to say how far the sides differ.
func (c *seating) sided(goods cargo) bool {
	return goods.mass > 0 && slices.ContainsFunc(c.bins, func(b bin) bool { return b.most > 0 && c.p.side(b.spot.Zone) != 0 })
}

// lean returns by how many grams the left side is heavier than the right with
// all but the cargo on.
func (c *seating) lean() int64 {
	var sum int64
	for i, n := range c.set.counts {
		o := &c.p.options[i]
		sum += c.p.side(o.spot.Zone) * int64(n) * int64(o.Weight)
	}
	for k, i := range c.chosen {
		if i >= 0 {
			sum += c.p.side(c.seats[i].spot.Zone) * int64(c.stage[k].Load)
		}
	}
	if c.pet >= 0 {
		sum += c.p.side(c.p.options[c.carriers[c.pet].option].spot.Zone) * int64(c.p.Demand.Pet)
	}
	return sum
}

// even records the first sharing of those with which the sides differ least. It
// reports false where none keeps the limits, or none of those tried does in
// grams.
func (c *seating) even(goods cargo) bool {
	left := row{most: new(big.Rat)}
	for i := range c.bins {
		left.coefficients = append(left.coefficients, new(big.Rat).SetInt64(c.p.side(c.bins[i].spot.Zone)))
	}
	lean := new(big.Rat).Mul(new(big.Rat).SetInt64(c.lean()), new(big.Rat).SetInt64(goods.mass))
	least, ok := c.leastApart(goods, left.coefficients, lean)
	if !ok {
		return false
	}
	right := row{most: new(big.Rat).Add(least, lean)}
	for _, of := range left.coefficients {
		right.coefficients = append(right.coefficients, new(big.Rat).Neg(of))
	}
	left.most.Sub(least, lean)
	for lead := range c.bins {
		exact, ok := c.firstWith(lead, goods, []row{left, right})
		if !ok {
			return false
		}
		if c.portions = whole(exact, goods.total); c.record(goods) {
			return true
		}
	}
	return false
}

// leastApart returns the least that the sides can differ by, in portions. One
// more variable, kept within what is left of a bound in either direction, is as
// large as can be where they differ least.
func (c *seating) leastApart(goods cargo, side []*big.Rat, lean *big.Rat) (*big.Rat, bool) {
	n := len(c.bins)
	one, most := big.NewRat(1, 1), new(big.Rat).Add(new(big.Rat).Abs(lean), new(big.Rat).SetInt64(goods.total))
	var rows []row
	add := func(coefficients []*big.Rat, last, most *big.Rat) {
		rows = append(rows, row{append(slices.Clone(coefficients), last), most})
	}
	for _, r := range c.limitRows(goods) {
		add(r.coefficients, new(big.Rat), r.most)
	}
	all, less, other := zeros(n), zeros(n), zeros(n)
	for i := range c.bins {
		cap := zeros(n)
		cap[i].SetInt64(1)
		add(cap, new(big.Rat), new(big.Rat).SetInt64(c.bins[i].most))
		all[i].SetInt64(1)
		less[i].SetInt64(-1)
		other[i].Neg(side[i])
	}
	add(all, new(big.Rat), new(big.Rat).SetInt64(goods.total))
	add(less, new(big.Rat), new(big.Rat).SetInt64(-goods.total))
	add(side, one, new(big.Rat).Sub(most, lean))
	add(other, one, new(big.Rat).Add(most, lean))
	x, ok := maximise(rows, n, n+1)
	if !ok {
		return nil, false
	}
	return most.Sub(most, x[n]), true
}
