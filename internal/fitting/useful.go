package fitting

// promising reports whether the present set could hold if all that may yet be
// fitted were there at once, weighed nothing and took no room, and all that
// may come off were off. If not even then, nothing above it holds: a further
// add-on brings places, carriers and tags, which are all there, and otherwise
// only weight, which zones and the whole never have too little of. Axles may
// be relieved by weight, so their ratings are left out where that can be. Once
// everyone is seated only what carries cargo may yet come.
func (s *search) promising() bool {
	rules := s.rules &^ Storage
	s.freeMounts()
	w := &s.wish
	w.set(&s.state)
	for i := range s.p.options {
		o := &s.p.options[i]
		if o.delivered > 0 && s.canTakeOff(i) {
			for l := range w.load {
				w.load[l] -= int64(s.state.counts[i]) * max(o.per[l], 0)
			}
		}
		if !o.buyable || s.barred[i] > 0 {
			continue
		}
		if rules.Has(AxleRating) && o.lifts(s.p.limits) {
			rules &^= AxleRating
		}
		if s.plan != nil && o.Cargo == 0 {
			continue
		}
		if more, _ := s.mayCome(o, i); more > 0 {
			w.counts[i] += more
			for _, g := range o.meets {
				w.met[g]++
			}
		}
	}
	stages := s.ends()
	if s.plan != nil {
		stages = []Stage{s.plan.stage}
	}
	for _, stage := range stages {
		if !s.seating.mayHold(w, stage, rules) {
			return false
		}
	}
	return true
}

// freeMounts works out how much of every mount is free once all is off that
// may come off.
func (s *search) freeMounts() {
	for m, capacity := range s.p.capacity {
		s.free[m] = capacity - s.state.used[m]
	}
	for _, i := range s.parts {
		if s.canTakeOff(i) {
			for _, u := range s.p.options[i].uses {
				s.free[u.mount] += u.count * s.state.counts[i]
			}
		}
	}
}

// mayCome returns how many more of an option find room on the free mounts, and
// the mount that it takes most of, or -1.
func (s *search) mayCome(o *option, i int) (more int, mount int) {
	more, mount = o.most-s.state.counts[i], -1
	most := 0
	for _, u := range o.uses {
		more = min(more, s.free[u.mount]/u.count)
		if part := u.count * wholeMount / max(s.free[u.mount], 1); part > most {
			most, mount = part, u.mount
		}
	}
	return max(more, 0), mount
}

const wholeMount = 1 << 20

// ends returns the first and the last stage: enough for what only has to be
// true of every answer.
func (s *search) ends() []Stage {
	if len(s.stages) < 3 {
		return s.stages
	}
	return []Stage{s.stages[0], s.stages[len(s.stages)-1]}
}
