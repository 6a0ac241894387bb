package fitting

import (
	"slices"

	"kinwain/internal/measure"
)

// What the frame comes with, and taking it off.

// canTakeOff reports whether a delivered copy may come off here. As long as
// people are being seated, nobody may sit on the last one.
func (s *search) canTakeOff(i int) bool {
	o, n := &s.p.options[i], s.state.counts[i]
	if o.delivered == 0 || s.kept[i] || n == 0 || n > o.delivered {
		return false
	}
	return s.plan == nil || s.seated || !s.plan.occupied(i, n-1)
}

// decide splits the answers into those in which a delivered part stays and
// those in which it comes off.
func (s *search) decide(i int) {
	t := step{kind: takeOff, option: i}
	s.kept[i] = true
	s.room -= s.packed[i] * uint64(s.state.counts[i])
	s.expand()
	s.room += s.packed[i] * uint64(s.state.counts[i])
	s.kept[i] = false
	s.take(t)
	s.expand()
	s.undo(t)
}

// inTheWay returns a part that may come off and shares a mount with an option,
// or excludes it; -1 where none does.
func (s *search) inTheWay(i int) int {
	o := &s.p.options[i]
	for _, j := range s.parts {
		if j == i || !s.canTakeOff(j) {
			continue
		}
		shares := slices.ContainsFunc(o.uses, func(u use) bool {
			return s.state.used[u.mount]+u.count > s.p.capacity[u.mount] &&
				slices.ContainsFunc(s.p.options[j].uses, func(v use) bool { return u.mount == v.mount })
		})
		if shares || slices.Contains(o.excludes, j) {
			return j
		}
	}
	return -1
}

// listOff adds the steps that take off the wanted delivered parts.
func (s *search) listOff(wanted func(o *option) bool) {
	for _, i := range s.parts {
		if s.canTakeOff(i) && wanted(&s.p.options[i]) {
			s.steps = append(s.steps, step{kind: takeOff, option: i})
		}
	}
}

// listWeights adds the steps that take off what weighs on anything but the
// whole.
func (s *search) listWeights() {
	s.listOff(func(o *option) bool { return slices.ContainsFunc(o.per[1:], func(n int64) bool { return n != 0 }) })
}

// removable returns the weight of all that may yet come off.
func (s *search) removable() measure.Mass {
	var sum measure.Mass
	for _, i := range s.parts {
		if s.canTakeOff(i) {
			sum += measure.Mass(s.state.counts[i]) * s.p.options[i].Weight
		}
	}
	return sum
}
