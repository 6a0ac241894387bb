package fitting

import (
	"cmp"
	"math"
	"math/big"
	"slices"

	"kinwain/internal/catalog"
	"kinwain/internal/load"
)

// tied reports whether another sharing might hold where filling in order does
// not. Where the sets of carriers that share a limit are nested or apart, and
// no axle is rated, there is none: filling in any order then stows as much as
// can be stowed (the limits make a polymatroid, on which the greedy way is the
// best; J. Edmonds, 1970, from memory). Combined ratings that overlap, and
// axles, which a load may also relieve, can make it so.
func (c *seating) tied(load cargo) bool {
	if load.mass == 0 {
		return false
	}
	tied := c.p.overlapping && c.rules.Has(CombinedRating)
	for l := range c.p.limits {
		if c.weighs(l) {
			tied = true
			if c.surelyOver(l, load) {
				return false
			}
		}
	}
	return tied
}

// surelyOver reports whether an axle is over its rating even with the cargo
// where it weighs least on it, the other limits aside.
func (c *seating) surelyOver(l int, load cargo) bool {
	c.lightestOn(l)
	left := load.total
	spare := float64(c.p.limits[l].Cap-c.load[l]) * float64(load.mass)
	sum, size := 0.0, math.Abs(spare)
	for _, i := range c.order {
		share := min(c.hold[i].most, left)
		left -= share
		part := float64(c.hold[i].per[l]) * float64(share)
		sum, size = sum+part, size+math.Abs(part)
	}
	return sum-spare > surely*size
}

// lightestOn orders the carriers by how little a load in them weighs on an
// axle.
func (c *seating) lightestOn(l int) {
	c.order = c.order[:0]
	for i := range c.hold {
		c.order = append(c.order, i)
	}
	slices.SortStableFunc(c.order, func(a, b int) int { return cmp.Compare(c.hold[a].per[l], c.hold[b].per[l]) })
}

// spread looks for a sharing under all limits at once. Where only the answer
// matters, it is often known without the exact search.
func (c *seating) spread(load cargo) bool {
	if c.asking {
		overlapping := c.p.overlapping && c.rules.Has(CombinedRating)
		switch {
		case !overlapping:
			return c.balances(load)
		case c.spreadsThin(load) && c.axlesBear(load):
			return true
		case len(c.p.Frame.Combined) == 2 && !c.p.relievable(c.rules) || c.wasHopeless():
			return false
		}
		if holds, known := c.guess(load); known {
			if !holds {
				c.hopeless = append(append(c.hopeless, c.load...), int64(c.pet))
			}
			return holds
		}
	}
	ok := c.spreadExactly(load)
	if !ok && c.asking {
		c.hopeless = append(append(c.hopeless, c.load...), int64(c.pet))
	}
	return ok
}

// balances answers whether the axles can be kept where no combined ratings
// overlap.
//
// Proof: the sharings are then the bases of a polymatroid, on which filling in
// the order of weight on an axle puts the least on it. Between the sharing
// that is lightest on the front and the one that is lightest on the rear lies
// a line of sharings; along it the load goes over from one axle to the other
// without a jump, and both together always bear the same. So if each axle can
// be kept alone, and both ratings together suffice, some sharing keeps both.
func (c *seating) balances(load cargo) bool {
	var spare int64
	axles := 0
	for l := range c.p.limits {
		if !c.weighs(l) {
			continue
		}
		if c.lightestOn(l); !c.fillBy(load) || !c.bearsOn(l, load) {
			return false
		}
		spare += c.p.limits[l].Cap - c.load[l]
		axles++
	}
	return axles < 2 || spare >= bothAxles(c.p.Frame)*int64(c.p.Demand.Cargo)
}

// spreadsThin fills first what is under the fewest combined ratings. Where two
// of them overlap, this stows as much as can be: a part under both takes room
// from both, and wherever it could be exchanged for one under fewer, the one
// under fewer was filled already.
func (c *seating) spreadsThin(load cargo) bool {
	c.order = c.order[:0]
	for i := range c.hold {
		c.order = append(c.order, i)
	}
	under := func(i int) (n int64) {
		for l := range c.p.limits {
			if c.p.limits[l].Rule == combined {
				n += c.hold[i].per[l]
			}
		}
		return n
	}
	slices.SortStableFunc(c.order, func(a, b int) int { return cmp.Compare(under(a), under(b)) })
	return c.fillBy(load)
}

const combined = load.Combined

// bothAxles is what a gram takes up of both axles together, wherever it is.
func bothAxles(f *catalog.Frame) int64 { return load.BothAxles(f) }

// wasHopeless reports whether the same loads on the same carriers were found
// not to leave room for the cargo already. Carriers with ratings of their own
// are not told apart by loads alone, so nothing is remembered with them.
func (c *seating) wasHopeless() bool {
	for i := range c.carriers {
		if c.p.options[c.carriers[i].option].MaxLoad > 0 {
			c.hopeless = c.hopeless[:0]
			return false
		}
	}
	size := len(c.load) + 1
	for at := 0; at+size <= len(c.hopeless); at += size {
		if slices.Equal(c.hopeless[at:at+size-1], c.load) && c.hopeless[at+size-1] == int64(c.pet) {
			return true
		}
	}
	return false
}

// spreadExactly finds the first sharing in order that keeps every limit.
func (c *seating) spreadExactly(load cargo) bool {
	var rows []row
	for l := range c.p.limits {
		if !c.steers(l) && !c.weighs(l) {
			continue
		}
		r := row{coefficients: make([]*big.Rat, len(c.hold))}
		for i := range c.hold {
			r.coefficients[i] = new(big.Rat).SetInt64(c.hold[i].per[l])
		}
		r.most = new(big.Rat).Mul(new(big.Rat).SetInt64(c.p.limits[l].Cap-c.load[l]), new(big.Rat).SetInt64(load.mass))
		rows = append(rows, r)
	}
	caps := make([]int64, len(c.hold))
	for i := range c.hold {
		caps[i] = c.hold[i].most
	}
	exact, ok := firstSharing(rows, caps, load.total, c.asking)
	if ok {
		c.portions = whole(exact, load.total)
	}
	return ok
}
