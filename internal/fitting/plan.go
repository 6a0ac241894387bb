package fitting

import (
	"cmp"
	"math/bits"
	"slices"
)

// plan seats one stage: who sits where so far, and who is left.
type plan struct {
	stage                  Stage
	people                 []int  // passengers, in the order in which they are seated
	left                   uint64 // those of them who have no seat yet, as bits; and petBit
	carriers               []carrier
	used                   uint64 // carriers that are taken, as bits
	booked                 []booking
	load                   []int64 // per limit, what rides along: everyone in the gross rating
	seating                []int64 // the same, and everyone in the seats in which they were found to hold last
	half, manned, equipped visited // what was met already: with some seated, with all, and with every need met
	asked                  []int   // per group of needs, how many booked places ask for it
	chart                          // who can sit on what
	outlook                outlook
}

// petBit stands for the pet among those who are left.
const petBit = 1 << 63

// carrier is what was on the bike when the plan began: one place of the frame
// itself, or one copy of an option, which is taken as a whole.
type carrier struct {
	option int // -1 for the frame
	copy   int // of the option, or the place of the frame
	twin   int // one more than the index of the carrier before it that is the same, or 0
}

// booking is one passenger's place as the search has it.
type booking struct {
	person              int // an index of the stage
	option, copy, index int
}

func (s *search) newPlan(stage Stage) *plan {
	p := s.p
	sums := make([]int64, 2*len(p.limits))
	pl := &plan{stage: stage, load: sums[:len(p.limits)], seating: sums[len(p.limits):], asked: make([]int, len(p.groups)), people: make([]int, 0, len(stage))}
	total := int64(p.Demand.Pet + p.Demand.Cargo)
	for k := range stage {
		if stage[k].Present {
			total += int64(stage[k].Load)
			if s.rules.Has(PlaceMissing) {
				pl.people = append(pl.people, k)
			}
		}
	}
	pl.load[0] = total // the gross rating is always the first limit
	copy(pl.seating, pl.load)
	pl.left = 1<<len(pl.people) - 1
	if p.Demand.Pet > 0 && s.rules.Has(PetPlace) {
		pl.left |= petBit
	}
	pl.line(p, s.rules)
	pl.chart = s.findSittings(pl)
	pl.board(s)
	pl.outlook = outlook{s: s, plan: pl}
	return pl
}

// line puts those first whom the fewest places suit.
func (pl *plan) line(p *Problem, rules Rules) {
	suit := make([]int, len(pl.stage))
	for _, k := range pl.people {
		p.eachPlace(func(_ string, place *place) bool {
			suit[k] += b2i(place.suits(&pl.stage[k], rules))
			return false
		})
	}
	slices.SortStableFunc(pl.people, func(a, b int) int { return cmp.Compare(suit[a], suit[b]) })
}

// board lists what is on the bike already.
func (pl *plan) board(s *search) {
	for j := range s.p.framed {
		c := carrier{option: -1, copy: j}
		if like := s.p.framed[j].like; like > 0 {
			c.twin = like // the frame's places come first
		}
		pl.carriers = append(pl.carriers, c)
	}
	for i, n := range s.state.counts {
		o := &s.p.options[i]
		if len(o.places) == 0 && o.Pet == 0 {
			continue
		}
		for copied := range n {
			c := carrier{option: i, copy: copied}
			if copied > 0 {
				c.twin = len(pl.carriers)
			}
			pl.carriers = append(pl.carriers, c)
		}
	}
	if len(pl.carriers) > maxCarriers {
		s.err = ErrTooLarge
	}
}

// maxCarriers is how many carriers fit in the bits of plan.used.
const maxCarriers = 64

// free reports whether a carrier has nobody on it, and none that is the same
// before it has nobody either: that would be the mirror image.
func (pl *plan) free(c int, used uint64) bool {
	return used>>c&1 == 0 && (pl.carriers[c].twin == 0 || used>>(pl.carriers[c].twin-1)&1 == 1)
}

// occupied reports whether somebody sits on a copy of an option.
func (pl *plan) occupied(i, copied int) bool {
	for c := range pl.carriers {
		if at := &pl.carriers[c]; at.option == i && at.copy == copied && pl.used>>c&1 == 1 {
			return true
		}
	}
	return false
}

// book seats whom a step seats, or lets them get up again.
func (s *search) book(t step, sign int) {
	pl := s.plan
	var on carrier
	if t.kind == sit {
		on = pl.carriers[t.carrier]
		pl.used ^= 1 << t.carrier
	} else {
		on = carrier{option: t.option, copy: s.state.counts[t.option] - 1}
	}
	if t.pet {
		pl.left ^= petBit
		return
	}
	if t.sitting == nil {
		return
	}
	pl.left ^= t.sitting.who
	who := t.sitting.who
	for _, j := range t.sitting.at {
		k := pl.people[bits.TrailingZeros64(who)]
		who &= who - 1
		b := booking{person: k, option: on.option, copy: on.copy, index: int(j)}
		if on.option < 0 {
			b.index = on.copy
		}
		at := s.placeAt(b)
		for _, g := range at.needs {
			pl.asked[g] += sign
		}
		if sign > 0 {
			pl.booked = append(pl.booked, b)
		} else {
			pl.booked = pl.booked[:len(pl.booked)-1]
		}
	}
}

func (s *search) placeAt(b booking) *place {
	if b.option < 0 {
		return &s.p.framed[b.index]
	}
	return &s.p.options[b.option].places[b.index]
}

// holds reports whether the bike as it is holds with everyone where they are
// booked: it finds the pet and the cargo their carriers.
func (s *search) holds() bool {
	c := &s.seating
	c.trials = allTrials
	if !c.begin(&s.state, s.plan.stage, s.rules) {
		return false
	}
	for _, b := range s.plan.booked {
		i := c.seatOf(b)
		if i < 0 || !c.sit(b.person, i, int64(s.plan.stage[b.person].Load)) {
			return false // what it is on was taken off since, or does not bear it
		}
	}
	return c.stowPet()
}

// seatOf returns the index of a booked seat, or -1 where it is not there.
func (c *seating) seatOf(b booking) int {
	return slices.IndexFunc(c.seats, func(s seat) bool {
		if s.index != b.index || s.carrier < 0 {
			return s.index == b.index && b.option < 0 && s.carrier < 0
		}
		return c.carriers[s.carrier].option == b.option && c.carriers[s.carrier].copy == b.copy
	})
}
