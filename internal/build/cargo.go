package build

import (
	"cmp"
	"math"
	"math/big"
	"slices"

	"kinhaul/internal/catalog"
	"kinhaul/internal/load"
	"kinhaul/internal/measure"
)

// share is the part of the cargo that one carrier takes.
type share struct {
	*stowage
	copy   int
	mass   measure.Mass
	volume measure.Volume
}

// hold is one carrier while the cargo is shared out, and how many portions it
// takes by its own kilograms, litres and rating.
type hold struct {
	*stowage
	copy int
	most int64
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
	c.holds(load)
	var room int64
	for i := range c.hold {
		room += c.hold[i].most
	}
	if room < load.total {
		return false
	}
	ok := c.fill(load) || c.tied(load) && c.spread(load)
	if ok && !c.asking {
		c.record(load)
	}
	return ok
}

// holds lists what can carry cargo now, in order.
func (c *seating) holds(load cargo) {
	c.hold = c.hold[:0]
	for i := range c.p.stowage {
		s := &c.p.stowage[i]
		if s.option < 0 {
			c.hold = append(c.hold, hold{stowage: s, most: s.portions(load)})
			continue
		}
		for copied := range c.set.counts[s.option] {
			at := c.first[s.option] + copied
			if at == c.pet {
				continue
			}
			h := hold{stowage: s, copy: copied, most: s.portions(load)}
			if bears := int64(c.p.options[s.option].MaxLoad); bears > 0 && load.mass > 0 && c.rules.Has(AddOnRating) {
				h.most = min(h.most, max(bears-c.carriers[at].load, 0)*load.mass)
			}
			c.hold = append(c.hold, h)
		}
	}
}

// portions returns how much of the cargo a carrier takes by its kilograms and
// its litres.
func (s *stowage) portions(load cargo) int64 {
	most := load.total
	if load.mass > 0 {
		most = min(most, int64(s.mass)*load.mass)
	}
	if load.bulk > 0 {
		most = min(most, int64(s.volume)*load.bulk)
	}
	return most
}

// fill hands every carrier in order all that it and its zone take. Where this
// stows everything it is the first stowing in order: each share is the
// greatest that any stowing with the same shares before it can have. Axles
// are only checked, not steered by.
func (c *seating) fill(load cargo) bool {
	c.order = c.order[:0]
	for i := range c.hold {
		c.order = append(c.order, i)
	}
	return c.fillBy(load) && c.axlesBear(load)
}

// fillBy fills the carriers in c.order, axles aside.
func (c *seating) fillBy(load cargo) bool {
	c.portions = c.portions[:0]
	for range c.hold {
		c.portions = append(c.portions, 0)
	}
	left := load.total
	for _, i := range c.order {
		most := min(c.hold[i].most, left)
		for l := range c.p.limits {
			if load.mass > 0 && c.hold[i].per[l] > 0 && c.steers(l) {
				most = min(most, (c.p.limits[l].Cap-c.load[l])*load.mass-c.booked(l))
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
		sum += c.hold[i].per[l] * c.portions[i]
	}
	return sum
}

// axlesBear checks the axles with the cargo on.
func (c *seating) axlesBear(load cargo) bool {
	for l := range c.p.limits {
		if c.weighs(l) && !c.bearsOn(l, load) {
			return false
		}
	}
	return true
}

// bearsOn checks one axle. The products outgrow 64 bits, so they are added up
// in floating point, and exactly where that is too close to tell.
func (c *seating) bearsOn(l int, load cargo) bool {
	spare := c.p.limits[l].Cap - c.load[l]
	if load.mass == 0 {
		return spare >= 0
	}
	room, sum := float64(spare)*float64(load.mass), 0.0
	size := math.Abs(room)
	for i := range c.portions {
		part := float64(c.hold[i].per[l]) * float64(c.portions[i])
		sum, size = sum+part, size+math.Abs(part)
	}
	if gap := room - sum; math.Abs(gap) > surely*size {
		return gap > 0
	}
	exact, part := new(big.Int), new(big.Int)
	for i := range c.portions {
		exact.Add(exact, part.Mul(big.NewInt(c.hold[i].per[l]), big.NewInt(c.portions[i])))
	}
	return exact.Cmp(part.Mul(big.NewInt(spare), big.NewInt(load.mass))) <= 0
}

// surely is far above the relative error of adding a few products in double
// precision (2⁻⁵³ each), and far below any difference that matters.
const surely = 1e-12

// weighs reports whether a limit is an enforced one of an axle.
func (c *seating) weighs(l int) bool {
	limit := &c.p.limits[l]
	return limit.Rule == load.Axle && c.rules.enforced(limit)
}

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
	}
	c.trials -= min(c.trials, sharingTrials)
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

// sharingTrials is how many seats an exact search for a sharing is worth.
const sharingTrials = 40

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
func (c *seating) record(load cargo) {
	d := c.p.Demand
	var sum int64
	var mass measure.Mass
	var volume measure.Volume
	for i := range c.hold {
		if c.portions[i] == 0 {
			continue
		}
		sum += c.portions[i]
		s := share{stowage: c.hold[i].stowage, copy: c.hold[i].copy, mass: part(d.Cargo, sum, load.total) - mass, volume: part(d.CargoSize, sum, load.total) - volume}
		mass, volume = mass+s.mass, volume+s.volume
		c.shares = append(c.shares, s)
	}
}

// part returns of/total of a quantity, rounded down.
func part[Q ~int64](quantity Q, of, total int64) Q {
	if of == total {
		return quantity
	}
	product := new(big.Int).Mul(big.NewInt(int64(quantity)), big.NewInt(of))
	return Q(product.Quo(product, big.NewInt(total)).Int64())
}
