package build

import (
	"slices"

	"kinhaul/internal/measure"
	"kinhaul/internal/profile"
)

// lack is one demand that the present set cannot meet whatever the ratings
// say: a group of needs, places, a carrier for the pet, or cargo.
type lack struct {
	kind   lackKind
	group  *group
	units  int64 // places, grams or millilitres that are missing; 1 for the rest
	owner  int   // of a group: the option that needs it
	choice int   // how many steps there are
}

type lackKind uint8

const (
	lackNeeds lackKind = iota
	lackPlaces
	lackPet
	lackMass
	lackVolume
)

// serves returns how many units of the lack a copy of an option brings.
func (s *search) serves(l *lack, i int) int64 {
	o := &s.p.options[i]
	switch l.kind {
	case lackNeeds:
		if o.meets(l.group, i) {
			return 1
		}
	case lackPlaces:
		return int64(s.places[i])
	case lackPet:
		if s.takesPet(o) {
			return 1
		}
	case lackMass:
		return int64(o.Cargo)
	case lackVolume:
		if o.Cargo > 0 {
			return int64(o.CargoVolume)
		}
	}
	return 0
}

// lacking finds every unmet demand and lists the steps for the one with the
// fewest of them; a demand with none ends the branch. It reports whether
// anything is unmet.
func (s *search) lacking() bool {
	s.lacks = s.lacks[:0]
	s.lackNeeds()
	s.lackPlaces()
	s.lackCarriers()
	if len(s.lacks) == 0 {
		return false
	}
	fewest := 0
	for k := range s.lacks {
		s.lacks[k].choice = s.choices(&s.lacks[k])
		if s.lacks[k].choice < s.lacks[fewest].choice {
			fewest = k
		}
	}
	l, from := &s.lacks[fewest], len(s.steps)
	s.list(func(i int) bool { return s.serves(l, i) > 0 })
	if l.kind == lackNeeds && s.canTakeOff(l.owner) && !slices.Contains(s.steps[from:], takeOff(l.owner)) {
		s.steps = append(s.steps, takeOff(l.owner))
	}
	return true
}

func (s *search) choices(l *lack) int {
	n := 0
	for i := range s.p.options {
		if s.useful[i] && !s.barred[i] && s.serves(l, i) > 0 {
			n++
		}
	}
	return n
}

func (s *search) lackNeeds() {
	for i, n := range s.state.counts {
		if n == 0 {
			continue
		}
		needs := s.p.options[i].needs
		for k := range needs {
			if !s.state.met(needs[k]) {
				s.lacks = append(s.lacks, lack{kind: lackNeeds, group: &needs[k], units: 1, owner: i})
			}
		}
	}
}

// lackPlaces compares each stage with the places there are, needs and ratings
// aside.
func (s *search) lackPlaces() {
	if !s.rules.Has(PlaceMissing) {
		return
	}
	for _, stage := range s.ends() {
		if missing := s.unseated(stage); missing > 0 {
			s.lacks = append(s.lacks, lack{kind: lackPlaces, units: int64(missing)})
			return
		}
	}
}

// lackCarriers compares the pet and the cargo with what could hold them if
// zones had no ratings.
func (s *search) lackCarriers() {
	d := s.p.Demand
	mass, volume, pet := d.Cargo, d.CargoSize, d.Pet > 0 && s.rules.Has(PetPlace)
	for i := range s.p.stowage {
		w := &s.p.stowage[i]
		n := 1
		if w.option >= 0 {
			n = s.state.counts[w.option]
		}
		mass, volume = mass-measure.Mass(n)*w.mass, volume-measure.Volume(n)*w.volume
	}
	for i, n := range s.state.counts {
		pet = pet && (n == 0 || !s.takesPet(&s.p.options[i]))
	}
	if pet {
		s.lacks = append(s.lacks, lack{kind: lackPet, units: 1})
	}
	if s.rules.Has(CargoWeight) && d.Cargo > 0 && mass > 0 {
		s.lacks = append(s.lacks, lack{kind: lackMass, units: int64(mass)})
	}
	if s.rules.Has(CargoVolume) && d.CargoSize > 0 && volume > 0 {
		s.lacks = append(s.lacks, lack{kind: lackVolume, units: int64(volume)})
	}
}

func (s *search) takesPet(o *option) bool { return o.Pet > 0 && o.Pet >= s.p.Demand.Pet }

// meets reports whether the option, of index i, meets a group of needs.
func (o *option) meets(g *group, i int) bool {
	if slices.Contains(g.articles, i) {
		return true
	}
	for _, t := range o.tags {
		if slices.Contains(g.tags, t) {
			return true
		}
	}
	return false
}

func (pl *place) suitsAny(stage Stage, rules Rules) bool {
	for k := range stage {
		if stage[k].Present && pl.suits(&stage[k], rules) {
			return true
		}
	}
	return false
}

// beaten reports whether nothing at or above the present set can be better
// than the best found.
//
// Fitting never lowers cost or weight. Taking a part off never lowers cost,
// but does lower weight; where weight comes first, all that may yet come off
// is taken off the bound.
//
// Proof of the part for what is lacking: let c be an option's cost and split
// it evenly among the k lacks that it serves now. A set of options that makes
// good a lack of u units pays, of the parts split off for that lack, at least
// u times the least of c/k per unit that any option offers. Added up over all
// lacks this is at most what the set pays in all, each option being counted
// once over its k parts. Rounding down keeps it a lower bound.
func (s *search) beaten() bool {
	cost, weight := s.state.cost, s.state.weight
	if s.objective == profile.Lightest {
		weight -= s.removable()
		weight += measure.Mass(s.missing(func(o *option) int64 { return int64(o.Weight) }))
		if weight > s.best.weight {
			return true
		}
		return weight == s.best.weight && cost > s.best.cost
	}
	cost += measure.Money(s.missing(func(o *option) int64 { return int64(o.Price + o.labour) }))
	if cost != s.best.cost {
		return cost > s.best.cost
	}
	return weight-s.removable() > s.best.weight
}

// removable returns the weight of all that may yet come off.
func (s *search) removable() measure.Mass {
	var sum measure.Mass
	for i := range s.p.options {
		if o := &s.p.options[i]; s.canTakeOff(i) {
			sum += measure.Mass(s.state.counts[i]) * o.Weight
		}
	}
	return sum
}

// missing returns the least that the lacks cost by a measure of options. The
// needs of a part that may come off are left out: that would meet them too.
func (s *search) missing(of func(o *option) int64) int64 {
	if len(s.lacks) == 0 {
		return 0
	}
	const none = int64(-1)
	var sum int64
	for k := range s.lacks {
		l := &s.lacks[k]
		if l.kind == lackNeeds && s.canTakeOff(l.owner) {
			continue
		}
		least := none
		for i := range s.p.options {
			if !s.useful[i] || s.barred[i] {
				continue
			}
			serves := min(s.serves(l, i), l.units)
			if serves == 0 {
				continue
			}
			// units × cost ÷ (serves × lacks served), rounded down.
			part := l.units * of(&s.p.options[i]) / (serves * s.served(i))
			if least == none || part < least {
				least = part
			}
		}
		if least != none {
			sum += least
		}
	}
	return sum
}

// served returns how many of the lacks an option serves.
func (s *search) served(i int) int64 {
	var n int64
	for k := range s.lacks {
		if s.serves(&s.lacks[k], i) > 0 {
			n++
		}
	}
	return n
}

// promising reports whether the present set could hold if all that may yet be
// fitted were there at once, weighed nothing and took no room, and all that
// may come off were off. If not even then, nothing above it holds: a further
// add-on brings places, carriers and tags, which are all there, and otherwise
// only weight, which zones and the whole never have too little of. Axles may
// be relieved by weight, so their ratings are left out where that can be.
func (s *search) promising() bool {
	rules := s.rules &^ Storage
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
		if more := s.mayCome(i); more > 0 {
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

// mayCome returns how many more copies of an option could ever be fitted here
// on its mounts by themselves.
func (s *search) mayCome(i int) int {
	o := &s.p.options[i]
	if !o.buyable {
		return 0
	}
	more := o.most - s.state.counts[i]
	for _, u := range o.uses {
		free := s.p.capacity[u.mount] - s.state.used[u.mount] + s.freeable(u.mount)
		more = min(more, free/u.count)
	}
	return max(more, 0)
}

// freeable returns how much of a mount the parts that may come off take up.
func (s *search) freeable(mount int) int {
	sum := 0
	for j := range s.p.options {
		if !s.canTakeOff(j) {
			continue
		}
		for _, u := range s.p.options[j].uses {
			if u.mount == mount {
				sum += s.state.counts[j] * u.count
			}
		}
	}
	return sum
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
			if slices.ContainsFunc(s.stages, func(stage Stage) bool { return pl.suitsAny(stage, s.rules) }) {
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
