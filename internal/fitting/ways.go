package fitting

import (
	"cmp"
	"math/bits"
	"slices"
)

// seatNext tries every place for the next passenger, or every carrier for the
// pet.
func (s *search) seatNext(k key) {
	people := k.left &^ petBit
	if people == 0 {
		s.follow(s.waysForPet(k))
		return
	}
	person := bits.TrailingZeros64(people)
	from := len(s.steps)
	for c := range s.plan.carriers {
		if !s.plan.free(c, k.used) {
			continue
		}
		next := k
		next.used |= 1 << c
		at := s.plan.carriers[c]
		s.listSittings(step{kind: sit, option: at.option, carrier: c}, next, s.plan.on(s.p, at, person))
	}
	block := -1
	for _, i := range s.seats {
		list := s.plan.on(s.p, carrier{option: i}, person)
		if len(list) == 0 {
			continue
		}
		if next, ok := s.mayFit(k, i, &block); ok {
			s.listSittings(step{kind: fit, option: i, bound: s.charges[i]}, next, list)
		}
	}
	s.follow(from, block)
}

// mayFit returns the position after one more of an option is bought; where
// only a delivered part is in its way, it notes which.
func (s *search) mayFit(k key, i int, block *int) (key, bool) {
	if s.p.canAdd(&s.state, i) {
		return s.fitting(k, i)
	}
	if o := &s.p.options[i]; *block < 0 && s.state.counts[i] >= o.delivered && s.state.counts[i] < o.most {
		*block = s.inTheWay(i)
	}
	return k, false
}

// outdone reports whether an option that meets a need or carries cargo waits
// for a better one to be fitted as often as it may be. A best set holds it
// only then, and that set is found by fitting the better one first: it serves
// whatever this one serves and finds room wherever this one does. Where the
// better one is barred, no best set lies in this branch with this one either.
func (s *search) outdone(i int) bool {
	for _, b := range s.p.options[i].betters {
		if s.state.counts[b] < s.p.options[b].most {
			return true
		}
	}
	return false
}

func (s *search) listSittings(t step, k key, list []sitting) {
	charge := t.bound
	for n := range list {
		t.sitting = &list[n]
		if t.sitting.who&^k.left == 0 {
			t.bound = charge + s.outlook.least(t.sitting.seated(k))
			s.list(t)
		}
	}
}

// list adds a step where it leads anywhere.
func (s *search) list(t step) {
	if t.bound < never && !(s.found && s.worse(t.bound)) {
		s.steps = append(s.steps, t)
	}
}

func (s *search) waysForPet(k key) (from, block int) {
	from, block = len(s.steps), -1
	for c := range s.plan.carriers {
		i := s.plan.carriers[c].option
		if i < 0 || !s.plan.free(c, k.used) || !s.takesPet(&s.p.options[i]) {
			continue
		}
		next := k
		next.used, next.left = next.used|1<<c, 0
		s.list(step{kind: sit, option: i, carrier: c, pet: true, bound: s.outlook.least(next)})
	}
	for _, i := range s.pets {
		if next, ok := s.mayFit(k, i, &block); ok {
			next.left = 0
			s.list(step{kind: fit, option: i, pet: true, bound: s.charges[i] + s.outlook.least(next)})
		}
	}
	return from, block
}

// meetNext tries everything that meets the next need, and to do without the
// part that asks for it.
func (s *search) meetNext(k key) {
	g := s.unmet()
	from, block := len(s.steps), -1
	for _, i := range s.providers[g] {
		if s.outdone(i) {
			continue
		}
		if next, ok := s.mayFit(k, i, &block); ok {
			s.list(step{kind: fit, option: i, bound: s.charges[i] + s.outlook.least(next)})
		}
	}
	for _, i := range s.needy {
		if s.canTakeOff(i) && slices.Contains(s.p.options[i].needs, g) {
			s.steps = append(s.steps, step{kind: takeOff, option: i})
		}
	}
	s.follow(from, block)
}

// follow takes the steps listed since from, the most hopeful first; where a
// delivered part is in the way of another, it decides about that one instead.
func (s *search) follow(from, block int) {
	if block >= 0 {
		s.steps = s.steps[:from]
		s.decide(block)
		return
	}
	slices.SortStableFunc(s.steps[from:], func(a, b step) int { return cmp.Compare(a.bound, b.bound) })
	s.branch(from)
}

// another goes on with a stage on which the present set does not hold.
func (s *search) another(stage Stage) {
	before, seated, hauling := s.plan, s.seated, s.hauling
	s.plan, s.seated, s.hauling = s.newPlan(stage), false, 0
	s.expand()
	s.plan, s.seated, s.hauling = before, seated, hauling
}
