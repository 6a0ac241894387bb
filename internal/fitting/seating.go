package fitting

import (
	"context"
	"slices"
	"sync"

	"kinwain/internal/fitting/relax"
	"kinwain/internal/load"
)

// seating settles who sits where and what carries the pet and the cargo, for
// one set on one day. Its buffers are reused from check to check.
type seating struct {
	question
	load     []int64 // per limit
	carriers []fitted
	first    []int // per option, where its copies begin in carriers
	seats    []seat
	turns    []int // passengers who need a seat, in the order in which they are seated
	chosen   []int // per passenger, an index of seats, or -1
	shares   []share
	program  relax.Program // this and the next are scratch of roughly
	relaxed  relax.Relaxation
	bins     []bin // buffers of stow
	portions []int64
	order    []int
}

// question is what of a seating is about what is asked; all else is memory that
// serves again.
type question struct {
	p      *Problem
	rules  Rules
	set    *state
	stage  Stage
	pet    int             // an index of carriers, or -1
	ctx    context.Context // nil: there is all the time in the world
	err    error           // of the context, once it is over
	uneven bool            // it is no matter by how much the sides differ
	trials int             // how many seats were tried
	asking bool            // only the answer matters, not which seating or sharing
	loose  bool            // nor whether a sharing can be written in whole grams
}

// fitted is one copy of an option that can carry something.
type fitted struct {
	option, copy int
	people       int
	load         int64 // grams carried
}

// seat is one place on the bike.
type seat struct {
	*place
	carrier int // an index of carriers, or -1 for the frame's own place
	index   int // of the place within the add-on or the frame
	taken   bool
}

// reset makes the seating one of a problem, in the memory that it has.
func (c *seating) reset(p *Problem, asking bool) {
	c.question = question{p: p, asking: asking}
}

// forget lets go of what the seating was about, and keeps its memory.
func (c *seating) forget() {
	clear(c.seats[:cap(c.seats)])
	clear(c.shares[:cap(c.shares)])
	clear(c.bins[:cap(c.bins)])
	c.reset(nil, false)
}

// seatings keep the memory of those that are done with.
var seatings = sync.Pool{New: func() any { return new(seating) }}

// newSeating returns a seating of a problem, to be given back by done.
func (p *Problem) newSeating(asking bool) *seating {
	c := seatings.Get().(*seating)
	c.reset(p, asking)
	return c
}

func (c *seating) done() {
	c.forget()
	seatings.Put(c)
}

// settle reports whether the set is feasible on the day under the rules, and
// leaves the first seating in profile order.
func (c *seating) settle(set *state, stage Stage, rules Rules) bool {
	return c.begin(set, stage, rules) && c.seat(0)
}

// begin books what sits nowhere in particular, and lists seats and carriers.
// It reports false where that alone breaks a rule.
func (c *seating) begin(set *state, stage Stage, rules Rules) bool {
	c.set, c.stage, c.rules = set, stage, rules
	c.load = append(c.load[:0], set.load...)
	if !c.addGross() || !c.addOnsHold() {
		return false
	}
	c.list()
	c.pet = -1
	c.chosen = c.chosen[:0]
	for range stage {
		c.chosen = append(c.chosen, -1)
	}
	c.line()
	return true
}

// line sets the order in which people are seated: that of the profile, or
// where only the answer matters the heaviest first, since they find room in
// the fewest zones.
func (c *seating) line() {
	c.turns = c.turns[:0]
	for k := range c.stage {
		if !c.stage[k].Present || !c.rules.Has(PlaceMissing) {
			continue
		}
		at := len(c.turns)
		for c.asking && at > 0 && c.stage[c.turns[at-1]].Load < c.stage[k].Load {
			at--
		}
		c.turns = slices.Insert(c.turns, at, k)
	}
}

// addGross books everything that rides along against the gross rating, where
// it counts wherever it sits, and counts heads.
func (c *seating) addGross() bool {
	d, heads := c.p.Demand, 0
	total := int64(d.Pet + d.Cargo)
	for i := range c.stage {
		if c.stage[i].Present {
			heads++
			total += int64(c.stage[i].Load)
		}
	}
	c.load[0] += total // the gross rating is always the first limit
	most := c.p.Frame.PassengersMax
	return most == 0 || heads <= most || !c.rules.Has(PassengersMax)
}

// addOnsHold checks the limits that only grow from here on.
func (c *seating) addOnsHold() bool {
	for i := range c.p.limits {
		l := &c.p.limits[i]
		if !l.Relieved() && c.load[i] > l.Cap && c.rules.enforced(l) {
			return false
		}
	}
	return true
}

// list gathers seats and carriers in the order of add-on code and place; the
// frame's own come first.
func (c *seating) list() {
	c.carriers, c.seats, c.first = c.carriers[:0], c.seats[:0], c.first[:0]
	for i := range c.p.framed {
		c.seats = append(c.seats, seat{place: &c.p.framed[i], carrier: -1, index: i})
	}
	for i, n := range c.set.counts {
		o := &c.p.options[i]
		first := len(c.carriers)
		c.first = append(c.first, first)
		if len(o.places) == 0 && o.Pet == 0 && o.Cargo == 0 {
			continue
		}
		for copied := range n {
			c.carriers = append(c.carriers, fitted{option: i, copy: copied})
		}
		for j := range o.places {
			for copied := range n {
				c.seats = append(c.seats, seat{place: &o.places[j], carrier: first + copied, index: j})
			}
		}
	}
}

// suits reports whether a place takes a passenger, ratings aside.
func (pl *place) suits(st *Standing, rules Rules) bool {
	if !rules.Has(PlaceLimits) {
		return true
	}
	return st.Young >= pl.MinMonths && (pl.MaxMonths == 0 || st.Old <= pl.MaxMonths) &&
		st.Light >= pl.MinMass && (pl.MaxMass == 0 || st.Load <= pl.MaxMass) &&
		(pl.MaxStature == 0 || st.Tall <= pl.MaxStature)
}

// seat seats whose turn it is and everyone after; it tries the seats in order,
// so in the order of the profile the first seating it completes is the first
// there is.
func (c *seating) seat(turn int) bool {
	if turn == len(c.turns) {
		return c.stowPet()
	}
	k := c.turns[turn]
	st := &c.stage[k]
	for i := range c.seats {
		s := &c.seats[i]
		if s.taken || !s.suits(st, c.rules) || c.twin(i) || !c.set.metAll(s.needs) {
			continue
		}
		if c.over() {
			return false
		}
		if c.sit(k, i, st) {
			if c.seat(turn + 1) {
				return true
			}
		}
		c.rise(k, i, st)
	}
	return false
}

// over reports whether the time is.
func (c *seating) over() bool {
	if c.trials++; c.trials%256 == 0 && c.ctx != nil && c.err == nil {
		c.err = c.ctx.Err()
	}
	return c.err != nil
}

// twin reports whether an earlier copy of the same add-on is as empty as this
// one, or an earlier place of the same kind on it is free: sitting there would
// only be the mirror image.
func (c *seating) twin(i int) bool {
	at := c.seats[i].carrier
	if before := c.seats[i].like; before > 0 {
		for j := i - 1; j >= 0; j-- {
			if c.seats[j].carrier == at && c.seats[j].index == before-1 {
				if !c.seats[j].taken {
					return true
				}
				break
			}
		}
	}
	if at < 1 || c.carriers[at].people > 0 {
		return false
	}
	before := &c.carriers[at-1]
	return before.option == c.carriers[at].option && before.people == 0
}

// sit books a passenger into a seat and reports whether every limit that can
// only grow still holds.
func (c *seating) sit(k, i int, st *Standing) bool {
	s := &c.seats[i]
	s.taken = true
	c.chosen[k] = i
	ok := true
	for l := range c.load {
		if l == 0 {
			continue // the gross rating has everyone already
		}
		c.load[l] += st.takes(s.per[l])
		limit := &c.p.limits[l]
		ok = ok && (limit.Relieved() || c.load[l] <= limit.Cap || !c.rules.enforced(limit))
	}
	if s.carrier >= 0 {
		f := &c.carriers[s.carrier]
		f.people++
		f.load += int64(st.Load)
		ok = ok && c.bears(f)
	}
	return ok
}

func (c *seating) rise(k, i int, st *Standing) {
	s := &c.seats[i]
	s.taken = false
	c.chosen[k] = -1
	for l := 1; l < len(c.load); l++ {
		c.load[l] -= st.takes(s.per[l])
	}
	if s.carrier >= 0 {
		c.carriers[s.carrier].people--
		c.carriers[s.carrier].load -= int64(st.Load)
	}
}

// bears reports whether a carrier's own rating over all that it carries
// holds.
func (c *seating) bears(f *fitted) bool {
	most := c.p.options[f.option].MaxLoad
	return most == 0 || f.load <= int64(most) || !c.rules.Has(AddOnRating)
}

// stowPet gives the pet a carrier of its own and then stows the cargo.
func (c *seating) stowPet() bool {
	pet := int64(c.p.Demand.Pet)
	if pet == 0 || !c.rules.Has(PetPlace) {
		return c.stow()
	}
	for i := range c.carriers {
		f := &c.carriers[i]
		o := &c.p.options[f.option]
		if o.Pet == 0 || int64(o.Pet) < pet || f.people > 0 {
			continue
		}
		c.pet = i
		ok := c.carry(f, o.spot, pet) && c.stow()
		if ok {
			return true
		}
		c.carry(f, o.spot, -pet)
		c.pet = -1
	}
	return false
}

func (c *seating) carry(f *fitted, s load.Spot, mass int64) bool {
	f.load += mass
	ok := c.bears(f)
	for l := 1; l < len(c.load); l++ {
		limit := &c.p.limits[l]
		c.load[l] += limit.Per(s) * mass
		ok = ok && (limit.Relieved() || c.load[l] <= limit.Cap || !c.rules.enforced(limit))
	}
	return ok
}

// axlesHold checks the limits that a load may also relieve.
func (c *seating) axlesHold() bool {
	for i := range c.p.limits {
		l := &c.p.limits[i]
		if l.Relieved() && c.load[i] > l.Cap && c.rules.enforced(l) {
			return false
		}
	}
	return true
}

// seated is one passenger's place in an answer.
type seated struct {
	passenger, option, copy, index int // option -1: the frame's own place
}

// places returns who sits where.
func (c *seating) places() []seated {
	var list []seated
	for k, i := range c.chosen {
		if i < 0 {
			continue
		}
		s := &c.seats[i]
		at := seated{passenger: k, option: -1, index: s.index}
		if s.carrier >= 0 {
			at.option, at.copy = c.carriers[s.carrier].option, c.carriers[s.carrier].copy
		}
		list = append(list, at)
	}
	return slices.Clip(list)
}
