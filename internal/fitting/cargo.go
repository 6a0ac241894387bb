package fitting

import (
	"math"
	"math/big"

	"kinwain/internal/load"
	"kinwain/internal/measure"
)

// share is the part of the cargo that one carrier takes.
type share struct {
	*stowage
	copy   int
	mass   measure.Mass
	volume measure.Volume
}

// bin is one carrier while the cargo is shared out, and how many portions it
// takes by its own kilograms, litres and rating.
type bin struct {
	*stowage
	copy int
	most int64
}

// The cargo is one divisible load of uniform density. Its parts are counted
// in portions, grams × millilitres of the whole or parts of such, so that what a
// carrier's kilograms allow and what its litres allow are both whole numbers.
type cargo struct {
	total int64 // portions in all
	mass  int64 // portions that a gram makes; zero where the cargo weighs nothing
	bulk  int64 // portions that a millilitre makes; zero where it has no volume
}

// fine is how many portions a gram makes where there are no millilitres to
// multiply it by.
const fine = 1_000_000

func (c *seating) cargo() cargo { return c.cargoOf(c.rules) }

func (c *seating) cargoOf(rules Rules) cargo {
	d := c.p.Demand
	mass, volume := int64(d.Cargo), int64(d.CargoSize)
	if !rules.Has(CargoWeight) {
		mass = 0
	}
	if !rules.Has(CargoVolume) {
		volume = 0
	}
	switch {
	case mass == 0:
		return cargo{total: volume, bulk: 1}
	case volume == 0:
		return cargo{total: mass * fine, mass: fine}
	}
	finer := max(1, fine/volume) // so that a portion is far less than a gram however little room the whole takes
	return cargo{total: mass * volume * finer, mass: volume * finer, bulk: mass * finer}
}

// stow shares the cargo out: so that the sides differ least, then as much as
// possible to the first carrier in order, then to the next, and so on, in whole
// grams and millilitres.
func (c *seating) stow() bool {
	c.shares = c.shares[:0]
	goods := c.cargo()
	if goods.total == 0 {
		return c.axlesHold()
	}
	c.listBins(goods)
	var room int64
	for i := range c.bins {
		room += c.bins[i].most
	}
	if room < goods.total {
		return false
	}
	if !c.asking && !c.uneven && c.sided(goods) && c.firstInGrams(goods, true) {
		return true
	}
	return c.fill(goods) && c.record(goods) || c.tied(goods) && c.spread(goods)
}

// listBins lists what can carry cargo now, in order.
func (c *seating) listBins(goods cargo) {
	c.bins = c.bins[:0]
	for i := range c.p.stowage {
		s := &c.p.stowage[i]
		if s.option < 0 {
			mass, volume := c.p.roomOf(s, c.set.counts)
			c.bins = append(c.bins, bin{stowage: s, most: portions(goods, mass, volume)})
			continue
		}
		for copied := range c.set.counts[s.option] {
			at := c.first[s.option] + copied
			if at == c.pet {
				continue
			}
			h := bin{stowage: s, copy: copied, most: portions(goods, s.mass, s.volume)}
			if bears := int64(c.p.options[s.option].MaxLoad); bears > 0 && goods.mass > 0 && c.rules.Has(AddOnRating) {
				h.most = min(h.most, max(bears-c.carriers[at].load, 0)*goods.mass)
			}
			c.bins = append(c.bins, h)
		}
	}
}

// portions returns how much of the cargo a carrier takes by its kilograms and
// its litres. One that is left no kilograms carries nothing.
func portions(goods cargo, mass measure.Mass, volume measure.Volume) int64 {
	if mass == 0 {
		return 0
	}
	most := goods.total
	if goods.mass > 0 {
		most = min(most, int64(mass)*goods.mass)
	}
	if goods.bulk > 0 {
		most = min(most, int64(volume)*goods.bulk)
	}
	return most
}

// roomOf returns what a zone has for cargo of its own beside so many of every
// option.
func (p *Problem) roomOf(s *stowage, counts []int) (measure.Mass, measure.Volume) {
	mass, volume := s.mass, s.volume
	for _, i := range s.displacing {
		mass -= measure.Mass(counts[i]) * p.options[i].DisplacesCargo
		volume -= measure.Volume(counts[i]) * p.options[i].DisplacesVolume
	}
	return max(mass, 0), max(volume, 0)
}

// fill hands every carrier in order all that it and its zone take. Where this
// stows everything it is the first stowing in order: each share is the
// greatest that any stowing with the same shares before it can have. Axles
// are only checked, not steered by.
func (c *seating) fill(goods cargo) bool {
	c.order = c.order[:0]
	for i := range c.bins {
		c.order = append(c.order, i)
	}
	return c.fillBy(goods) && c.axlesBear(goods)
}

// fillBy fills the carriers in c.order, axles aside.
func (c *seating) fillBy(goods cargo) bool {
	c.portions = c.portions[:0]
	for range c.bins {
		c.portions = append(c.portions, 0)
	}
	left := goods.total
	for _, i := range c.order {
		most := min(c.bins[i].most, left)
		for l := range c.p.limits {
			if goods.mass > 0 && c.bins[i].per[l] > 0 && c.steers(l) {
				most = min(most, (c.p.limits[l].Cap-c.load[l])*goods.mass-c.booked(l))
			}
		}
		c.portions[i] = max(most, 0)
		left -= c.portions[i]
	}
	return left == 0
}

// steers reports whether a limit bounds how the cargo is shared out: an
// enforced one of a zone or of combined zones.
func (c *seating) steers(l int) bool {
	limit := &c.p.limits[l]
	return (limit.Rule == load.InZone || limit.Rule == load.Combined) && c.rules.enforced(limit)
}

// booked returns what the portions so far take up of a limit of zones.
func (c *seating) booked(l int) int64 {
	var sum int64
	for i := range c.portions {
		sum += c.bins[i].per[l] * c.portions[i]
	}
	return sum
}

// axlesBear checks the axles with the cargo on.
func (c *seating) axlesBear(goods cargo) bool {
	for l := range c.p.limits {
		if c.weighs(l) && !c.bearsOn(l, goods) {
			return false
		}
	}
	return true
}

// bearsOn checks one axle. The products outgrow 64 bits, so they are added up
// in floating point, and exactly where that is too close to tell.
func (c *seating) bearsOn(l int, goods cargo) bool {
	spare := c.p.limits[l].Cap - c.load[l]
	if goods.mass == 0 {
		return spare >= 0
	}
	room, sum := float64(spare)*float64(goods.mass), 0.0
	size := math.Abs(room)
	for i := range c.portions {
		part := float64(c.bins[i].per[l]) * float64(c.portions[i])
		sum, size = sum+part, size+math.Abs(part)
	}
	if gap := room - sum; math.Abs(gap) > surely*size {
		return gap > 0
	}
	exact, part := new(big.Int), new(big.Int)
	for i := range c.portions {
		exact.Add(exact, part.Mul(big.NewInt(c.bins[i].per[l]), big.NewInt(c.portions[i])))
	}
	return exact.Cmp(part.Mul(big.NewInt(spare), big.NewInt(goods.mass))) <= 0
}

// surely is far above the relative error of adding a few products in double
// precision (2⁻⁵³ each), and far below any difference that matters.
const surely = 1e-12

// weighs reports whether a limit is an enforced one of an axle.
func (c *seating) weighs(l int) bool {
	limit := &c.p.limits[l]
	return limit.Relieved() && c.rules.enforced(limit)
}

// record writes the shares down to the gram and the millilitre. It reports
// false where the grams pass a rating however they are rounded.
func (c *seating) record(goods cargo) bool {
	d := c.p.Demand
	if c.loose || c.asking && c.roomy(goods) {
		return true
	}
	masses, ok := c.rounded(int64(d.Cargo), goods.total, c.keepsLimits)
	if !ok || c.asking {
		return ok
	}
	volumes, _ := c.rounded(int64(d.CargoSize), goods.total, func([]int64) bool { return true })
	c.shares = c.shares[:0]
	for i := range c.bins {
		if c.portions[i] > 0 {
			c.shares = append(c.shares, share{stowage: c.bins[i].stowage, copy: c.bins[i].copy, mass: measure.Mass(masses[i]), volume: measure.Volume(volumes[i])})
		}
	}
	return true
}

// roomy reports whether the portions can surely be written in whole grams.
// Where the sets of carriers that share a rating are nested or apart, some
// rounding keeps all of them: the ratings are whole, and the rows are totally
// unimodular. An axle bears any rounding where it has a gram to spare for each
// carrier.
func (c *seating) roomy(goods cargo) bool {
	if goods.mass == 0 {
		return true
	}
	if c.p.overlapping && c.rules.Has(CombinedRating) {
		return false
	}
	for l := range c.p.limits {
		if !c.weighs(l) {
			continue
		}
		spare := float64(c.p.limits[l].Cap-c.load[l]) * float64(goods.mass)
		for i := range c.portions {
			spare -= float64(c.bins[i].per[l])*float64(c.portions[i]) + math.Abs(float64(c.bins[i].per[l]))*float64(goods.mass)
		}
		if spare < 0 {
			return false
		}
	}
	return true
}

// rounded writes the portions as whole parts of a quantity that add up to it:
// each is rounded down, and the few that are missing go to the first ones cut
// off with which the parts are kept. It reports false where there are none
// such. A carrier's own limits are whole, so none is passed by rounding up
// what is below it.
func (c *seating) rounded(quantity, total int64, keeps func(parts []int64) bool) ([]int64, bool) {
	parts, left := make([]int64, len(c.portions)), quantity
	var cut []int
	product, rest, whole := new(big.Int), new(big.Int), big.NewInt(total)
	for i, of := range c.portions {
		if of == 0 {
			continue
		}
		product.Mul(big.NewInt(quantity), big.NewInt(of))
		product.QuoRem(product, whole, rest)
		parts[i] = product.Int64()
		left -= parts[i]
		if rest.Sign() > 0 {
			cut = append(cut, i)
		}
	}
	return parts, roundUp(parts, cut, left, keeps)
}

// roundUp adds one to as many of the parts cut off as are left to give, to
// the first ones that are kept.
func roundUp(parts []int64, cut []int, left int64, keeps func([]int64) bool) bool {
	if left == 0 {
		return keeps(parts)
	}
	for k, i := range cut {
		if int64(len(cut)-k) < left {
			break
		}
		if parts[i]++; roundUp(parts, cut[k+1:], left-1, keeps) {
			return true
		}
		parts[i]--
	}
	return false
}

// keepsLimits reports whether shares in grams keep the ratings of zones, alone
// and combined, and of axles.
func (c *seating) keepsLimits(grams []int64) bool {
	if !c.rules.Has(CargoWeight) {
		return true // then it weighs on nothing but the whole
	}
	for l := range c.p.limits {
		if !c.steers(l) && !c.weighs(l) {
			continue
		}
		sum := c.load[l]
		for i := range c.bins {
			sum += c.bins[i].per[l] * grams[i]
		}
		if sum > c.p.limits[l].Cap {
			return false
		}
	}
	return true
}
