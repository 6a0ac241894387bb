package build

// promising reports whether the present set could hold if all that may yet be
// fitted were there at once, weighed nothing and took no room, and all that
// may come off were off. If not even then, nothing above it holds: a further
// add-on brings places, carriers and tags, which are all there, and otherwise
// only weight, which zones and the whole never have too little of. Axles may
// be relieved by weight, so their ratings are left out where that can be.
func (s *search) promising() bool {
	rules := s.rules &^ Storage
	s.look()
	w := &s.wish
	w.set(&s.state)
	for i := range s.p.options {
		o := &s.p.options[i]
		if s.canTakeOff(i) {
			for l := range w.load {
				w.load[l] -= int64(s.state.counts[i]) * max(o.per[l], 0)
			}
		}
		if !s.useful[i] || s.barred[i] {
			continue
		}
		if rules.Has(AxleRating) && o.lifts(s.p.limits) {
			rules &^= AxleRating
		}
		if more := s.may[i]; more > 0 {
			w.counts[i] += more
			for _, t := range o.tags {
				w.provided[t]++
			}
		}
	}
	for _, stage := range s.ends() {
		if !s.seating.mayHold(w, stage, rules) {
			return false
		}
	}
	return true
}

// look works out for the present set how much of every mount is free, or may
// yet be freed, and how many more copies of every option could ever be fitted
// on its mounts by themselves.
func (s *search) look() {
	for m := range s.free {
		s.free[m] = s.p.capacity[m] - s.state.used[m]
	}
	for i := range s.p.options {
		if o := &s.p.options[i]; o.delivered > 0 && s.canTakeOff(i) {
			for _, u := range o.uses {
				s.free[u.mount] += s.state.counts[i] * u.count
			}
		}
	}
	for i := range s.p.options {
		o := &s.p.options[i]
		s.may[i] = 0
		if !s.useful[i] || s.barred[i] || !o.buyable {
			continue
		}
		more := o.most - s.state.counts[i]
		for _, u := range o.uses {
			more = min(more, s.free[u.mount]/u.count)
		}
		s.may[i] = max(more, 0)
	}
}

// markUseful marks the options that can be part of a best set: those that
// seat, carry, or relieve an axle, and those that they need, in turn.
// Anything else only adds cost and weight, and leaving it out breaks nothing.
func (s *search) markUseful() {
	relieve := s.p.relievable(s.rules)
	for i := range s.p.framed {
		s.useNeeds(s.p.framed[i].needs)
	}
	for i := range s.p.options {
		o := &s.p.options[i]
		if o.delivered > 0 || s.carries(i) || relieve && o.lifts(s.p.limits) {
			s.use(i)
		}
	}
}

func (s *search) use(i int) {
	if s.useful[i] {
		return
	}
	s.useful[i] = true
	s.useNeeds(s.p.options[i].needs)
	for j := range s.p.options[i].places {
		s.useNeeds(s.p.options[i].places[j].needs)
	}
}

func (s *search) useNeeds(groups []group) {
	for k := range groups {
		for j := range s.p.options {
			if !s.useful[j] && s.p.options[j].meets(&groups[k], j) {
				s.use(j)
			}
		}
	}
}

func (s *search) carries(i int) bool {
	o, d := &s.p.options[i], s.p.Demand
	return s.rules.Has(PlaceMissing) && s.places[i] > 0 || s.rules.Has(PetPlace) && d.Pet > 0 && s.takesPet(o) ||
		o.Cargo > 0 && (s.rules.Has(CargoWeight) && d.Cargo > 0 || s.rules.Has(CargoVolume) && d.CargoSize > 0)
}

// countPlaces prepares what does not change during a search.
func (s *search) countPlaces() {
	for i := range s.p.options {
		for k := range s.p.options[i].places {
			pl := &s.p.options[i].places[k]
			if s.suitsSomebody(pl) {
				s.places[i]++
			}
		}
	}
	if len(s.stages) > 1 && s.p.heavierIsHarder(s.rules) {
		s.worst = s.stages[0]
		for _, stage := range s.stages[1:] {
			s.worst = worse(s.worst, stage)
		}
	}
}
