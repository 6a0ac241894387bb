package fitting

import (
	"kinwain/internal/load"
)

// findUseful marks the options that a best set may hold: those that give
// somebody a place, take the pet, carry cargo or relieve an axle, and what
// meets a need of such, of a place, or of what the frame comes with.
//
// Proof: take all others out of a set that holds. What is left still seats and
// carries everything, and all that its needs name is useful. It weighs less
// and is no larger, which breaks no rating and no home, unless what was taken
// out relieved an axle; and it costs no more and weighs less.
func (s *search) findUseful() {
	s.useful, s.asked, s.groups = grown(s.useful, len(s.p.options)), grown(s.asked, len(s.p.groups)), s.groups[:0]
	clear(s.useful)
	clear(s.asked)
	ask := func(list []int) {
		for _, g := range list {
			if !s.asked[g] {
				s.asked[g] = true
				s.groups = append(s.groups, g)
			}
		}
	}
	use := func(i int) {
		if s.useful[i] {
			return
		}
		s.useful[i] = true
		o := &s.p.options[i]
		ask(o.needs)
		for k := range o.places {
			ask(o.places[k].needs)
		}
	}
	for k := range s.p.framed {
		ask(s.p.framed[k].needs)
	}
	for i := range s.p.options {
		if o := &s.p.options[i]; o.delivered > 0 || s.p.without&pruning != 0 || s.serves(o) {
			use(i)
		}
	}
	for next := 0; next < len(s.groups); next++ {
		g := s.groups[next]
		if s.p.offered[g] == 0 {
			for _, i := range s.p.groups[g].by {
				use(i)
			}
		}
	}
}

// serves reports whether an option does something that was asked for.
func (s *search) serves(o *option) bool {
	d, rules := s.p.Demand, s.aim.rules
	return o.Cargo > 0 && (d.Cargo > 0 && rules.Has(CargoWeight) || d.CargoSize > 0 && rules.Has(CargoVolume)) ||
		d.Pet > 0 && o.Pet >= d.Pet && rules.Has(PetPlace) ||
		s.p.relievable(rules) && o.lifts(s.p.limits) ||
		rules.Has(PlaceMissing) && s.seatsAnybody(o.places)
}

func (s *search) seatsAnybody(places []place) bool {
	for i := range places {
		for _, stage := range s.stages {
			for k := range stage {
				if stage[k].Present && places[i].suits(&stage[k], s.aim.rules) {
					return true
				}
			}
		}
	}
	return false
}

// lifts reports whether the option's own weight takes load off an axle that
// has a rating, since it hangs over the other one, or holds the front down.
func (o *option) lifts(limits []load.Limit) bool {
	for l := range limits {
		if limits[l].Relieved() && o.per[l] < 0 {
			return true
		}
	}
	return false
}

// relievable reports whether any limit that a load may relieve is enforced.
func (p *Problem) relievable(rules Rules) bool {
	for l := range p.limits {
		if limit := &p.limits[l]; limit.Relieved() && rules.enforced(limit) {
			return true
		}
	}
	return false
}
