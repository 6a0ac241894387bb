package build

import (
	"math"
	"slices"

	"kinhaul/internal/measure"
	"kinhaul/internal/profile"
)

// lack is one demand that the present set cannot meet whatever the ratings
// say: a group of needs, places, a carrier for the pet, or cargo.
type lack struct {
	kind   lackKind
	group  *group
	units  int64  // places, grams or millilitres that are missing; 1 for the rest
	owner  int    // of a group: the option that needs it
	zones  []bool // of places and grams: where more of them would help; nil for everywhere
	choice int    // how many options serve it here
	// brings holds for every option that may be fitted here how many units a
	// copy brings, no more than are missing.
	brings []int64
}

type lackKind uint8

const (
	lackNeeds lackKind = iota
	lackPlaces
	lackPet
	lackMass
	lackVolume
	lackImplied
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
		return s.bringsPlaces(l, i)
	case lackPet:
		if s.takesPet(o) {
			return 1
		}
	case lackMass:
		if l.zones == nil || o.spot.Zone >= 0 && l.zones[o.spot.Zone] {
			return int64(o.Cargo)
		}
	case lackVolume:
		if o.Cargo > 0 {
			return int64(o.CargoVolume)
		}
	}
	return 0
}

// bringsPlaces returns how many more places could be used with a copy of an option:
// its own, and those that are there and need what it provides.
func (s *search) bringsPlaces(l *lack, i int) int64 {
	o := &s.p.options[i]
	var places int64
	if l.helpsIn(o.spot.Zone) {
		places = int64(s.places[i])
	}
	for _, u := range s.unusable {
		if l.helpsIn(u.place.spot.Zone) && u.needs(o, i) {
			places += int64(u.copies)
		}
	}
	return places
}

// helpsIn reports whether more in a zone would help.
func (l *lack) helpsIn(zone int) bool { return l.zones == nil || zone >= 0 && l.zones[zone] }

// locked is a place on the bike of which needs are not met.
type locked struct {
	*place
	copies int
	unmet  []*group
}

func (u *locked) needs(o *option, i int) bool {
	return slices.ContainsFunc(u.unmet, func(g *group) bool { return o.meets(g, i) })
}

// listUnusable gathers the places that are there and suit somebody, but of
// which needs are not met.
func (s *search) listUnusable() {
	s.unusable = s.unusable[:0]
	note := func(places []place, copies int) {
		for k := range places {
			pl := &places[k]
			if s.usable(pl) || !s.suitsSomebody(pl) {
				continue
			}
			u := locked{place: pl, copies: copies}
			for g := range pl.needs {
				if !s.state.met(pl.needs[g]) {
					u.unmet = append(u.unmet, &pl.needs[g])
				}
			}
			s.unusable = append(s.unusable, u)
		}
	}
	note(s.p.framed, 1)
	for i, n := range s.state.counts {
		if n > 0 {
			note(s.p.options[i].places, n)
		}
	}
}

func (s *search) suitsSomebody(pl *place) bool {
	return slices.ContainsFunc(s.stages, func(stage Stage) bool { return pl.suitsAny(stage, s.rules) })
}

// lacking finds every unmet demand and lists the steps for the one with the
// fewest of them; a demand with none ends the branch. It reports whether
// anything is unmet.
func (s *search) lacking() bool {
	s.lacks, s.arena = s.lacks[:0], s.arena[:0]
	s.look()
	s.listUnusable()
	s.lackNeeds()
	s.lackPlaces()
	s.lackCarriers()
	s.lackRoom()
	if len(s.lacks) == 0 {
		return false
	}
	for k := range s.lacks {
		if s.serve(&s.lacks[k]); s.lacks[k].units > 1 && s.short(&s.lacks[k]) {
			return true // and no step: nothing above this set has enough
		}
	}
	s.lackImplied()
	fewest := 0
	for k := range s.lacks {
		if s.lacks[k].choice < s.lacks[fewest].choice {
			fewest = k
		}
	}
	l, from := &s.lacks[fewest], len(s.steps)
	s.list(func(i int) bool { return l.brings[i] > 0 })
	if l.kind == lackNeeds && s.canTakeOff(l.owner) && !slices.Contains(s.steps[from:], takeOff(l.owner)) {
		s.steps = append(s.steps, takeOff(l.owner))
	}
	return true
}

// row returns a row of zeros, one for every option, from the arena.
func (s *search) row() []int64 {
	n := len(s.p.options)
	if cap(s.arena)-len(s.arena) < n {
		s.arena = make([]int64, 0, 2*cap(s.arena)+16*n) // rows in use keep the old one
	}
	s.arena = s.arena[:len(s.arena)+n]
	row := s.arena[len(s.arena)-n:]
	clear(row)
	return row
}

// serve fills in what every option brings toward a lack.
func (s *search) serve(l *lack) {
	l.brings = s.row()
	for i := range s.p.options {
		if s.may[i] > 0 {
			if n := min(s.serves(l, i), l.units); n > 0 {
				l.brings[i], l.choice = n, l.choice+1
			}
		}
	}
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
//
// Proof: a lack of u units, of which an option brings at most b at the price
// c, is worth y = min c/b a unit, and u·y in all. That is taken off the price
// of every option, b·y each, before the next lack is looked at, so no option
// is charged more than its price over all lacks, and the worths add up to no
// more than what any set of options that makes all lacks good costs. (The
// duals of the covering programme, raised one after the other.)
func (s *search) missing(of func(o *option) int64) int64 {
	if len(s.lacks) == 0 {
		return 0
	}
	for i := range s.p.options {
		s.prices[i] = float64(of(&s.p.options[i]))
	}
	sum := s.dearest(lackPlaces) + s.dearest(lackMass) + s.dearest(lackVolume)
	for k := range s.lacks {
		if l := &s.lacks[k]; l.units == 1 && (l.kind != lackNeeds || !s.canTakeOff(l.owner)) {
			sum += s.worth(l)
		}
	}
	return int64(sum * (1 - 1e-9))
}

// worth prices one lack and takes the price off the options that serve it.
func (s *search) worth(l *lack) float64 {
	worth := math.Inf(1)
	for i, b := range l.brings {
		if b > 0 {
			worth = min(worth, s.prices[i]/float64(b))
		}
	}
	if math.IsInf(worth, 1) {
		return 0 // nothing serves it: the branch ends anyway
	}
	for i, b := range l.brings {
		if b > 0 {
			s.prices[i] = max(s.prices[i]-worth*float64(b), 0)
		}
	}
	return worth * float64(l.units)
}
