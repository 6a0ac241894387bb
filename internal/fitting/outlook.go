package fitting

import "math/bits"

// outlook works out the least that seating everyone who is left and meeting
// all needs costs from a position on, with ratings, exclusions, the cargo and
// the home left aside: a bound for the search, and exact for what it looks at.
// Positions come up again and again, so answers are remembered.
type outlook struct {
	s    *search
	plan *plan
	memo table
}

// key is a position. Needs holds the groups that are met and, 32 bits above,
// those that are asked for and not met.
type key struct{ left, used, needs, room uint64 }

// never is more than anything costs.
const never = int64(1) << 50

// key returns the present position. What only a part asks for that may come
// off is not counted.
func (s *search) key() key {
	k := key{left: s.plan.left, used: s.plan.used, room: s.room}
	for c := range s.plan.carriers {
		if at := &s.plan.carriers[c]; at.option >= 0 && at.copy >= s.state.counts[at.option] {
			k.used |= 1 << c // taken off
		}
	}
	for g := range min(len(s.asked), groupBits) {
		n := s.asked[g] + s.plan.asked[g]
		switch {
		case s.state.met[g] > 0:
			k.needs |= 1 << g
		case n > 0 && (len(s.needy) == 0 || n > s.askedByParts(g)):
			k.needs |= 1 << (g + 32)
		}
	}
	return k
}

// askedByParts returns how often parts that may come off ask for a group.
func (s *search) askedByParts(g int) (n int) {
	for _, i := range s.needy {
		if !s.canTakeOff(i) {
			continue
		}
		for _, need := range s.p.options[i].needs {
			n += b2i(need == g) * s.state.counts[i]
		}
	}
	return n
}

// fitting returns the position after one more of an option is bought.
func (s *search) fitting(k key, i int) (key, bool) {
	room, ok := s.rest(k.room, s.packed[i])
	k.room = room
	k.needs |= s.meets[i]
	k.needs = k.needs&^(s.meets[i]<<32) | (s.needs[i]&^k.needs)<<32
	return k, ok
}

// seating returns the position after a sitting.
func (t *sitting) seated(k key) key {
	k.left &^= t.who
	k.needs |= (t.needs &^ k.needs) << 32
	return k
}

func (o *outlook) least(k key) int64 {
	if k.left == 0 && k.needs>>32 == 0 {
		return 0
	}
	if v, ok := o.memo.get(k); ok {
		return v
	}
	best := never
	switch people := k.left &^ petBit; {
	case people != 0:
		best = o.seats(k, bits.TrailingZeros64(people))
	case k.left != 0:
		best = o.pet(k)
	default:
		for _, i := range o.s.providers[bits.TrailingZeros64(k.needs>>32)] {
			best = o.buy(k, i, best)
		}
	}
	o.memo.set(k, best)
	return best
}

// buy returns the least of a price and of going on after buying an option.
func (o *outlook) buy(k key, i int, best int64) int64 {
	if c := o.s.charges[i]; c < best {
		if next, ok := o.s.fitting(k, i); ok {
			return min(best, c+o.least(next))
		}
	}
	return best
}

func (o *outlook) seats(k key, person int) int64 {
	best := never
	for c := range o.plan.carriers {
		if !o.plan.free(c, k.used) {
			continue
		}
		next := k
		next.used |= 1 << c
		best = o.sit(next, o.plan.on(o.s.p, o.plan.carriers[c], person), 0, best)
	}
	for _, i := range o.s.seats {
		charge := o.s.charges[i]
		if charge >= best {
			break
		}
		list := o.plan.on(o.s.p, carrier{option: i}, person)
		if len(list) == 0 {
			continue
		}
		if next, ok := o.s.fitting(k, i); ok {
			best = o.sit(next, list, charge, best)
		}
	}
	return best
}

// sit tries sittings on what is there or was just bought. Of two of which one
// seats more and needs no more, only that one is looked at: with fewer left,
// no more is to be paid.
func (o *outlook) sit(k key, list []sitting, charge, best int64) int64 {
	for n := range list {
		if t := &list[n]; t.who&^k.left == 0 && !t.outdone(k.left) {
			best = min(best, charge+o.least(t.seated(k)))
		}
	}
	return best
}

func (o *outlook) pet(k key) int64 {
	best := never
	for c := range o.plan.carriers {
		if i := o.plan.carriers[c].option; i >= 0 && o.plan.free(c, k.used) && o.s.takesPet(&o.s.p.options[i]) {
			next := k
			next.used |= 1 << c
			next.left = 0
			best = min(best, o.least(next))
		}
	}
	k.left = 0
	for _, i := range o.s.pets {
		best = o.buy(k, i, best)
	}
	return best
}

// table is a hash table of positions: open addressing, a power of two of
// slots.
type table struct {
	slots []slot
	held  int
}

type slot struct {
	key
	value int64 // one more than what is remembered; zero for an empty slot
}

func (k key) hash() uint64 {
	h := k.left*0x9e3779b97f4a7c15 ^ k.used*0xc2b2ae3d27d4eb4f ^ k.needs*0x165667b19e3779f9 ^ k.room*0x27d4eb2f165667c5
	return h ^ h>>29
}

func (t *table) get(k key) (int64, bool) {
	if len(t.slots) == 0 {
		return 0, false
	}
	s := t.find(k)
	return s.value - 1, s.value > 0
}

func (t *table) find(k key) *slot {
	mask := uint64(len(t.slots) - 1)
	for i := k.hash() & mask; ; i = (i + 1) & mask {
		if s := &t.slots[i]; s.value == 0 || s.key == k {
			return s
		}
	}
}

func (t *table) set(k key, value int64) {
	if 2*(t.held+1) > len(t.slots) {
		old := t.slots
		t.slots = make([]slot, max(4*len(old), 16))
		for i := range old {
			if old[i].value > 0 {
				*t.find(old[i].key) = old[i]
			}
		}
	}
	t.held++
	*t.find(k) = slot{k, value + 1}
}
