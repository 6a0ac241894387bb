package fitting

import (
	"math"
	"slices"

	"kinwain/internal/fitting/relax"
)

// settle judges the one set at which a node stands, and opens what is left of
// the node. Any other of its sets differs from that one in the first count that
// is open; or is the same in it and differs in the second; and so on.
func (s *search) settle(n *node) {
	if column := s.judge(&n.relax); column >= 0 {
		s.split(n, column)
		return
	}
	s.fixByCost(n)
	for _, c := range s.counted {
		if s.err != nil || s.wanting != nil {
			s.floor = min(s.floor, n.bound)
			break
		}
		if s.beaten(n.bound) {
			break
		}
		low, high := n.relax.Ends(c)
		if low == high {
			continue
		}
		v := min(max(math.Round(n.relax.Value(c)), low), high)
		s.cut(n, c, low, v-1)
		s.cut(n, c, v+1, high)
		n.relax.Move(c, v, v)
	}
	s.close(n)
}

// judge settles the set at which the relaxation stands, and makes it the
// incumbent where it holds and is better. Of a set that does not hold it
// returns a column to branch on that may be why: of one of two that exclude
// each other, of what makes the bike too large for the home, or of somebody who
// sits in two places by parts; or -1.
func (s *search) judge(r *relax.Relaxation) int {
	if !s.countsAt(r, s.counts) {
		return -1
	}
	s.p.assemble(&s.state, &s.base, s.counts)
	if s.found && slices.Equal(s.state.counts, s.best.counts) {
		return -1
	}
	if s.holds() {
		s.keep()
		return -1
	}
	if c := s.clash(r); c >= 0 {
		return c
	}
	if c := s.bulk(r); c >= 0 {
		return c
	}
	return s.farthest(r, s.sitting)
}

// holds settles the set at hand on every stage.
func (s *search) holds() bool {
	s.name = s.name[:0]
	for _, n := range s.counts {
		s.name = append(s.name, byte(n), byte(n>>8))
	}
	if s.failed[string(s.name)] {
		s.blamed |= s.aim.rules
		return false
	}
	ok := s.p.goTogether(&s.state) && (!s.homely() || s.p.atHome(&s.state)) && s.holdsAlways()
	if !ok && s.err == nil {
		s.blamed |= s.aim.rules
		if s.failed == nil {
			s.failed = map[string]bool{}
		}
		s.failed[string(s.name)] = true
	}
	return ok
}

func (s *search) holdsAlways() bool {
	if s.worst != nil && s.settles(s.worst) {
		return true
	}
	for i := len(s.stages) - 1; i >= 0; i-- {
		if !s.settles(s.stages[i]) {
			s.want(i)
			return false
		}
	}
	return true
}

func (s *search) settles(stage Stage) bool {
	ok := s.seating.settle(&s.state, stage, s.aim.rules)
	if s.seating.err != nil {
		s.err = s.seating.err
	}
	return ok
}

// want has a stage on which a set does not hold put into the model, if it is
// not there yet.
func (s *search) want(i int) {
	for _, stage := range s.looked {
		if slices.Equal(stage, s.stages[i]) {
			return
		}
	}
	s.wanting = &s.stages[i]
}

// exclude takes off what is excluded by something that all sets of a node
// hold. It reports false where they hold that too.
func (s *search) exclude(r *relax.Relaxation) bool {
	for i := range s.p.options {
		if len(s.p.options[i].excludes) == 0 || s.fewest(r, i) < 1 {
			continue
		}
		for _, x := range s.p.options[i].excludes {
			if s.fewest(r, x) > 0 {
				return false
			}
			if c := s.bought[x]; c >= 0 {
				r.Move(c, 0, 0)
			}
			if c := s.off[x]; c >= 0 {
				_, high := r.Ends(c)
				r.Move(c, high, high)
			}
		}
	}
	return true
}

// fewest returns how many of an option every set of a node holds.
func (s *search) fewest(r *relax.Relaxation, i int) int {
	n := s.p.options[i].delivered
	if c := s.off[i]; c >= 0 {
		_, high := r.Ends(c)
		n -= int(high)
	}
	if c := s.bought[i]; c >= 0 {
		low, _ := r.Ends(c)
		n += int(low)
	}
	return n
}

// clash returns a column of one of two that exclude each other and are both in
// the set at hand, to branch on, or -1.
func (s *search) clash(r *relax.Relaxation) int {
	for i, n := range s.counts {
		for _, x := range s.p.options[i].excludes {
			if n == 0 || s.counts[x] == 0 {
				continue
			}
			for _, c := range [...]int{s.bought[i], s.off[i], s.bought[x], s.off[x]} {
				if c < 0 {
					continue
				}
				if low, high := r.Ends(c); low < high {
					return c
				}
			}
		}
	}
	return -1
}

// bulk returns a column of an add-on that makes the set at hand larger, where
// that does not get home: the first one without which it would, or else the first
// one; or -1.
func (s *search) bulk(r *relax.Relaxation) int {
	column := -1
	if s.p.without&shrinking != 0 || !s.homely() || s.p.atHome(&s.state) {
		return column
	}
	for i, n := range s.counts {
		if n == 0 || !s.p.options[i].bulky() {
			continue
		}
		for _, c := range [...]int{s.bought[i], s.off[i]} {
			if c < 0 {
				continue
			}
			if low, high := r.Ends(c); low == high {
				continue
			}
			s.counts[i] = 0
			s.p.assemble(&s.state, &s.base, s.counts)
			s.counts[i] = n
			if s.p.atHome(&s.state) {
				return c
			}
			if column < 0 {
				column = c
			}
		}
	}
	return column
}

func (s *search) homely() bool { return s.p.Demand.HasHome && s.aim.rules.Has(Storage) }

// bar keeps add-ons off the bike with which it does not get home even if all
// else that can be off is off.
func (s *search) bar(r *relax.Relaxation) {
	if !s.homely() {
		return
	}
	for i, barred := range s.p.barred() {
		if c := s.bought[i]; c >= 0 && barred {
			s.blamed |= Storage
			r.Move(c, 0, 0)
		}
	}
}

// reaches reports whether the bike gets home with the fewest add-ons that the
// sets of a node hold: more of them make it no smaller.
func (s *search) reaches(r *relax.Relaxation) bool {
	if !s.homely() {
		return true
	}
	s.least(r)
	if !s.p.atHome(&s.state) {
		s.blamed |= Storage
		return false
	}
	return true
}

// least makes the set at hand the one with the fewest add-ons between the
// ends of the relaxation.
func (s *search) least(r *relax.Relaxation) {
	s.state.set(&s.base)
	for i := range s.p.options {
		for n := s.p.options[i].delivered; n > s.fewest(r, i); n-- {
			s.p.remove(&s.state, i)
		}
		for n := s.p.options[i].delivered; n < s.fewest(r, i); n++ {
			s.p.add(&s.state, i)
		}
	}
}
