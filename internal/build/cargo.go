package build

import (
	"math/big"
	"slices"

	"kinhaul/internal/load"
	"kinhaul/internal/measure"
)

// share is the part of the cargo that one carrier takes.
type share struct {
	carrier carrier
	mass    measure.Mass
	volume  measure.Volume
}

// The cargo is one divisible load of uniform density. Its parts are counted
// in portions, grams × millilitres of the whole, so that what a carrier's
// kilograms allow and what its litres allow are both whole numbers.
type cargo struct {
	total int64 // portions in all
	mass  int64 // portions that a gram makes; zero where the cargo weighs nothing
	bulk  int64 // portions that a millilitre makes; zero where it has no volume
}

func (c *seating) cargo() cargo {
	d := c.p.Demand
	mass, volume := int64(d.Cargo), int64(d.CargoSize)
	if !c.rules.Has(CargoWeight) {
		mass = 0
	}
	if !c.rules.Has(CargoVolume) {
		volume = 0
	}
	switch {
	case mass == 0:
		return cargo{total: volume, bulk: 1}
	case volume == 0:
		return cargo{total: mass, mass: 1}
	}
	return cargo{total: mass * volume, mass: volume, bulk: mass}
}

// stow shares the cargo out: as much as possible to the first carrier in
// order, then to the next, and so on.
func (c *seating) stow() bool {
	c.shares = c.shares[:0]
	load := c.cargo()
	if load.total == 0 {
		return c.axlesHold()
	}
	carriers, caps := c.stowage(load)
	var room int64
	for _, most := range caps {
		room += most
	}
	if room < load.total {
		return false
	}
	portions, ok := c.fill(load, carriers, caps)
	if !ok {
		portions, ok = c.fillExactly(load, carriers, caps)
	}
	if ok {
		c.record(load, carriers, portions)
	}
	return ok
}

// stowage lists what can carry cargo now, in order, and how many portions
// each takes by its own kilograms, litres and rating.
func (c *seating) stowage(load cargo) ([]carrier, []int64) {
	carriers := slices.Clone(c.p.own)
	bearing := make(map[rank]int64)
	for i := range c.carriers {
		f := &c.carriers[i]
		o := &c.p.options[f.option]
		if o.Cargo == 0 || i == c.pet {
			continue
		}
		k := c.p.carrier(o.Code, f.copy, o.Zone, o.Cargo, o.CargoVolume)
		if o.MaxLoad > 0 && c.rules.Has(AddOnRating) {
			bearing[k.rank] = int64(o.MaxLoad) - f.load
		}
		carriers = append(carriers, k)
	}
	slices.SortFunc(carriers, func(a, b carrier) int { return a.rank.compare(b.rank) })
	caps := make([]int64, len(carriers))
	for i := range carriers {
		k := &carriers[i]
		caps[i] = load.total
		if load.mass > 0 {
			caps[i] = min(caps[i], int64(k.mass)*load.mass)
			if left, ok := bearing[k.rank]; ok {
				caps[i] = min(caps[i], max(left, 0)*load.mass)
			}
		}
		if load.bulk > 0 {
			caps[i] = min(caps[i], int64(k.volume)*load.bulk)
		}
	}
	return carriers, caps
}

// fill hands every carrier in order all that it and its zone take. Where this
// stows everything it is the first stowing in order: each share is the
// greatest that any stowing with the same shares before it can have. Axles
// are only checked, not steered by.
func (c *seating) fill(load cargo, carriers []carrier, caps []int64) ([]int64, bool) {
	portions := make([]int64, len(carriers))
	left := load.total
	for i := range carriers {
		most := min(caps[i], left)
		for l := range c.p.limits {
			if c.steers(l) && carriers[i].per[l] > 0 && load.mass > 0 {
				most = min(most, (c.p.limits[l].Cap-c.load[l])*load.mass-c.booked(l, carriers, portions))
			}
		}
		portions[i] = max(most, 0)
		left -= portions[i]
	}
	return portions, left == 0 && c.axlesBear(load, carriers, portions)
}

// steers reports whether a limit bounds how the cargo is shared out: an
// enforced one of a zone or of combined zones.
func (c *seating) steers(l int) bool {
	limit := &c.p.limits[l]
	return (limit.Rule == load.InZone || limit.Rule == load.Combined) && c.rules.enforced(limit)
}

// booked returns what the portions so far take up of a limit of zones.
func (c *seating) booked(l int, carriers []carrier, portions []int64) int64 {
	var sum int64
	for i := range carriers {
		sum += carriers[i].per[l] * portions[i]
	}
	return sum
}

// axlesBear checks the axles with the cargo on. The products outgrow 64 bits.
func (c *seating) axlesBear(load cargo, carriers []carrier, portions []int64) bool {
	for l := range c.p.limits {
		if !c.weighs(l) {
			continue
		}
		sum, part := new(big.Int), new(big.Int)
		if load.mass > 0 {
			for i := range carriers {
				sum.Add(sum, part.Mul(big.NewInt(carriers[i].per[l]), big.NewInt(portions[i])))
			}
		}
		room := new(big.Int).Mul(big.NewInt(c.p.limits[l].Cap-c.load[l]), big.NewInt(max(load.mass, 1)))
		if sum.Cmp(room) > 0 {
			return false
		}
	}
	return true
}

// weighs reports whether a limit is an enforced one of an axle.
func (c *seating) weighs(l int) bool {
	limit := &c.p.limits[l]
	return limit.Rule == load.Axle && c.rules.enforced(limit)
}

// fillExactly answers where filling in order fails although another sharing
// might do: only combined zones, which tie carriers of several zones
// together, and axles, which a load may also relieve, can make that so.
func (c *seating) fillExactly(load cargo, carriers []carrier, caps []int64) ([]int64, bool) {
	var rows []row
	tied := false
	for l := range c.p.limits {
		if load.mass == 0 || !c.steers(l) && !c.weighs(l) {
			continue
		}
		tied = tied || c.p.limits[l].Rule != inZone
		r := row{coefficients: make([]*big.Rat, len(carriers))}
		for i := range carriers {
			r.coefficients[i] = new(big.Rat).SetInt64(carriers[i].per[l])
		}
		r.most = new(big.Rat).Mul(new(big.Rat).SetInt64(c.p.limits[l].Cap-c.load[l]), new(big.Rat).SetInt64(load.mass))
		rows = append(rows, r)
	}
	if !tied {
		return nil, false
	}
	exact, ok := firstSharing(rows, caps, load.total)
	if !ok {
		return nil, false
	}
	return whole(exact, load.total), true
}

const inZone = load.InZone

// whole rounds portions down and hands what is missing to the first ones cut
// off. A portion is a billionth of a gram or less, so this is below anything
// shown.
func whole(exact []*big.Rat, total int64) []int64 {
	portions := make([]int64, len(exact))
	for i, r := range exact {
		portions[i] = new(big.Int).Quo(r.Num(), r.Denom()).Int64()
		total -= portions[i]
	}
	for i := 0; total > 0 && i < len(exact); i++ {
		if !exact[i].IsInt() {
			portions[i]++
			total--
		}
	}
	return portions
}

// record writes the shares down to the gram and the millilitre, so that they
// add up to the whole: each is what lies between two rounded running sums.
func (c *seating) record(load cargo, carriers []carrier, portions []int64) {
	d := c.p.Demand
	var sum int64
	var mass measure.Mass
	var volume measure.Volume
	for i := range carriers {
		if portions[i] == 0 {
			continue
		}
		sum += portions[i]
		s := share{carrier: carriers[i], mass: part(d.Cargo, sum, load.total) - mass, volume: part(d.CargoSize, sum, load.total) - volume}
		mass, volume = mass+s.mass, volume+s.volume
		c.shares = append(c.shares, s)
	}
}

// part returns of/total of a quantity, rounded down.
func part[Q ~int64](quantity Q, of, total int64) Q {
	product := new(big.Int).Mul(big.NewInt(int64(quantity)), big.NewInt(of))
	return Q(product.Quo(product, big.NewInt(total)).Int64())
}
