package fitting

import (
	"slices"

	"kinwain/internal/load"
	"kinwain/internal/profile"
)

// haul ends the way of a set in which everyone has a place and every need is
// met: it holds, or wants more room for the cargo. Who sits where is no matter
// from here on, so a set that was met before need not be looked at again.
//
// Where axles are rated, a set may also fail because a load is wanted where it
// takes weight off one; then whatever carries cargo, or itself hangs over the
// other axle, may mend it. Everything else that an answer holds was found on
// the way, so the rest of it is made of such.
func (s *search) haul() {
	if s.hauling == 0 && !s.plan.equipped.add(s.trace(key{})) {
		return
	}
	bears := s.bearsCargo()
	if bears && (s.holds() || s.seating.settle(&s.state, s.plan.stage, s.rules)) {
		s.judge()
		return
	}
	relieve := s.p.relievable(s.rules)
	if (bears || s.hauling == 0) && !s.promising() {
		return
	}
	from, block := len(s.steps), -1
	k := s.key()
	for i := range s.p.options {
		o := &s.p.options[i]
		if !o.buyable || s.barred[i] > 0 || s.outdone(i) || !(s.hauls(o) || relieve && o.lifts(s.p.limits)) {
			continue
		}
		if next, ok := s.mayFit(k, i, &block); ok {
			s.list(step{kind: fit, option: i, bound: s.charges[i] + s.outlook.least(next)})
		}
	}
	if block >= 0 {
		s.steps = s.steps[:from]
		s.decide(block)
		return
	}
	s.listWeights()
	s.choose(from)
}

// bearsCargo reports whether all carriers together are enough for the cargo,
// ratings aside.
func (s *search) bearsCargo() bool {
	cargo := s.seating.cargoOf(s.rules)
	missing := cargo.total
	for i := range s.p.stowage {
		w := &s.p.stowage[i]
		n := int64(1)
		if w.option >= 0 {
			n = int64(s.state.counts[w.option])
		}
		missing -= n * w.portions(cargo)
	}
	return missing <= 0
}

func (s *search) hauls(o *option) bool {
	return o.Cargo > 0 && (s.cargoMass() > 0 || s.cargoVolume() > 0)
}

// choose takes the steps listed since from one by one. What was fitted for the
// cargo in one is not fitted for it in those after it, so no set is met twice.
func (s *search) choose(from int) {
	slices.SortStableFunc(s.steps[from:], func(a, b step) int {
		if d := int(a.kind) - int(b.kind); d != 0 {
			return d
		}
		return int(min(max(a.bound-b.bound, -1), 1))
	})
	until := len(s.steps)
	for n := from; n < until; n++ {
		t := s.steps[n]
		if !(s.found && s.worse(t.bound)) || t.kind == takeOff {
			s.take(t)
			s.hauling += b2i(t.kind == fit)
			s.expand()
			s.hauling -= b2i(t.kind == fit)
			s.undo(t)
		}
		if t.kind == takeOff {
			s.kept[t.option] = true
		} else {
			s.barred[t.option]++
		}
	}
	for _, t := range s.steps[from:until] {
		if t.kind == takeOff {
			s.kept[t.option] = false
		} else {
			s.barred[t.option]--
		}
	}
}

// judge keeps a set that holds on the stage at hand if it does on all of them.
func (s *search) judge() {
	if len(s.stages) > 1 && !(s.worst != nil && s.seating.settle(&s.state, s.worst, s.rules)) {
		for _, stage := range s.stages {
			if !s.seating.settle(&s.state, stage, s.rules) {
				s.another(stage)
				return
			}
		}
	}
	s.keep()
	s.improve()
}

// improve looks for what makes an answer better still: a part taken off for
// nothing weighs less, and where weight comes first any part taken off does.
// Whatever is fitted only adds to both.
func (s *search) improve() {
	from := len(s.steps)
	s.listOff(func(o *option) bool { return !s.first && (s.objective == profile.Lightest || o.labour == 0) })
	s.branch(from)
}

// haulage returns the least that room for the rest of the cargo costs, or
// never where there cannot be enough of it.
//
// Proof: the grams that are missing are bought from the option with the lowest
// price a gram on, of each as many as it, its mounts and the room in its zone
// allow; no set brings more of any, and so none pays less. The same holds of
// millilitres. What is bought for another purpose too counts as free.
//
// All that is fitted to one mount brings no more than the best of it would
// with the whole of the mount: a copy of any of them brings no more for its
// part of it.
func (s *search) haulage() int64 {
	byMass := s.cheapest(s.cargoMass(), true)
	if byMass >= never {
		return never
	}
	return max(byMass, s.cheapest(s.cargoVolume(), false))
}

func (s *search) cheapest(missing int64, mass bool) int64 {
	if missing == 0 {
		return 0
	}
	s.spare(mass)
	for i := range s.p.stowage {
		w := &s.p.stowage[i]
		n := int64(1)
		if w.option >= 0 {
			n = int64(s.state.counts[w.option])
		}
		missing -= s.takeFrom(w.spot.Zone, n*w.units(mass))
	}
	if missing <= 0 {
		return 0
	}
	haulers := s.byVolume
	if mass {
		haulers = s.byMass
	}
	s.onMounts(haulers, mass)
	var sum int64
	for _, i := range haulers {
		o := &s.p.options[i]
		if s.barred[i] > 0 && !s.serves[i] {
			continue
		}
		more, mount := s.mayCome(o, i)
		if more == 0 {
			continue
		}
		units := o.hauls(mass)
		n := min(units*int64(more), missing)
		if mount >= 0 {
			n = min(n, s.onMount[mount])
		}
		if n = s.takeFrom(o.spot.Zone, n); mount >= 0 {
			s.onMount[mount] -= n
		}
		sum += s.haulingCharge(i) * n / units
		if missing -= n; missing == 0 {
			return sum
		}
	}
	return never
}

// onMounts works out what all that can be fitted to each mount can carry
// together: no more than the best of it would with the whole of the mount.
func (s *search) onMounts(haulers []int, mass bool) {
	s.freeMounts()
	clear(s.onMount)
	for _, i := range haulers {
		o := &s.p.options[i]
		if more, mount := s.mayCome(o, i); more > 0 && mount >= 0 && (s.barred[i] == 0 || s.serves[i]) {
			for _, u := range o.uses {
				if u.mount == mount {
					s.onMount[mount] = max(s.onMount[mount], o.hauls(mass)*int64(s.free[mount])/int64(u.count))
				}
			}
		}
	}
}

// hauls returns the grams, or the millilitres, that one of an option carries.
func (o *option) hauls(mass bool) int64 {
	if mass {
		return int64(o.Cargo)
	}
	return int64(o.CargoVolume)
}

// haulingCharge is what an option costs that is bought for the cargo: nothing
// where it may be bought for something else too.
func (s *search) haulingCharge(i int) int64 {
	if s.serves[i] {
		return 0
	}
	return s.charges[i]
}

func (w *stowage) units(mass bool) int64 {
	if mass {
		return int64(w.mass)
	}
	return int64(w.volume)
}

// spare sets rooms to the grams that each zone has left, with all off that may
// come off; millilitres have none.
func (s *search) spare(mass bool) {
	s.rooms = s.rooms[:0]
	for range s.p.Frame.Zones {
		s.rooms = append(s.rooms, endless)
	}
	if !mass {
		return
	}
	for l := range s.p.limits {
		if limit := &s.p.limits[l]; limit.Rule == load.InZone && s.rules.enforced(limit) {
			s.rooms[s.p.zonesOf[l][0]] = s.remaining(l)
		}
	}
}

// endless is more than any load, and far from overflowing a sum of them.
const endless = int64(1) << 40

func (s *search) takeFrom(zone int, units int64) int64 {
	if zone < 0 {
		return units
	}
	units = max(min(units, s.rooms[zone]), 0)
	s.rooms[zone] -= units
	return units
}

// remaining returns what a limit of zones leaves, with all off that may come off.
func (s *search) remaining(l int) int64 {
	left := s.p.limits[l].Cap - s.state.load[l] - s.plan.load[l]
	for _, i := range s.parts {
		if s.canTakeOff(i) {
			left += int64(s.state.counts[i]) * s.p.options[i].per[l]
		}
	}
	return left
}
