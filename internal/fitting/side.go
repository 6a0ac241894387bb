package fitting

import (
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

// sideRows writes down by how much the sides differ. The first variable is what
// is left, in either direction, of more than they ever differ by: it is as large
// as can be where they differ least.
func (c *seating) sideRows(t *tableau, goods cargo) {
	lean := c.lean() * goods.mass
	most := max(lean, -lean) + goods.total
	for _, sign := range [...]int64{1, -1} {
		r := t.row()
		r.of[0] = 1
		for k, i := range c.order {
			r.of[1+k] = sign * c.p.side(c.bins[i].spot.Zone)
		}
		r.most.SetInt64(most - sign*lean)
	}
}
