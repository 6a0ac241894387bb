package build

import (
	"cmp"
	"context"
	"math/bits"
	"slices"

	"kinhaul/internal/load"
	"kinhaul/internal/measure"
	"kinhaul/internal/profile"
)

// aim is what a search looks for: the best set by an objective that holds
// under the rules on every one of the stages. Longest is not an aim of one
// search; see Solve.
type aim struct {
	objective profile.Objective
	rules     Rules
	stages    []Stage
	first     bool // any set will do
}

// search walks the sets of add-ons that answer a demand. It starts from the
// delivered frame with some parts taken off, and at every set asks what is
// unmet: each thing that may meet it is one branch. Branch i may not use what
// branches before it chose, so no set is met twice and none is missed: a
// feasible set that holds the present one must hold one of the choices.
type search struct {
	aim
	p       *Problem
	ctx     context.Context
	seating seating
	useful  []bool // per option: may be part of a best set
	barred  []bool // per option: no further copy in this branch
	state   state
	best    *state
	steps   int
	err     error
}

// best returns the best set, or nil where none is feasible. The error is that
// of the context.
func (p *Problem) best(ctx context.Context, a aim) (*state, error) {
	s := &search{aim: a, p: p, ctx: ctx, barred: make([]bool, len(p.options)), state: p.delivered()}
	s.seating.p = p
	s.useful = s.usefulOptions()
	s.takeOff(s.removable(), 0)
	return s.best, s.err
}

// removable lists every delivered copy once.
func (s *search) removable() []int {
	var list []int
	for i := range s.p.options {
		for range s.p.options[i].delivered {
			list = append(list, i)
		}
	}
	return list
}

// takeOff tries every subset of the delivered parts, the whole set first.
// Copies of one part are taken off in order only: list[k:] never goes back.
func (s *search) takeOff(list []int, k int) {
	if s.beaten() {
		return
	}
	s.expand()
	for ; k < len(list); k++ {
		s.p.remove(&s.state, list[k])
		s.takeOff(list, k+1)
		s.p.add(&s.state, list[k])
		for k+1 < len(list) && list[k+1] == list[k] {
			k++
		}
	}
}

// compare orders two sets by the objective: negative where the first is
// better. Cost never falls and weight always grows as add-ons are added, so a
// set that compares worse than the best so far has nothing better above it.
func (s *search) compare(a, b *state) int {
	cost, weight := cmp.Compare(a.cost, b.cost), cmp.Compare(a.weight, b.weight)
	if s.objective == profile.Lightest {
		return cmp.Or(weight, cost)
	}
	return cmp.Or(cost, weight)
}

func (s *search) beaten() bool {
	if s.steps++; s.steps%256 == 0 && s.err == nil {
		s.err = s.ctx.Err()
	}
	return s.err != nil || s.best != nil && (s.first || s.objective != profile.Lightest && s.state.cost > s.best.cost)
}

// expand judges the present set and branches where it lacks something.
func (s *search) expand() {
	if s.beaten() {
		return
	}
	order := -1
	if s.best != nil {
		order = s.compare(&s.state, s.best)
	}
	if order > 0 || s.hopeless() {
		return
	}
	choices, lacking := s.lacks()
	if !lacking && s.holds() {
		if order < 0 || s.p.compareCodes(s.state.counts, s.best.counts) < 0 {
			s.keep()
		}
		return
	}
	if order == 0 {
		return // anything more is heavier
	}
	if !lacking {
		choices = s.anything()
	}
	s.branch(choices)
}

func (s *search) branch(choices []int) {
	slices.SortStableFunc(choices, func(a, b int) int {
		return cmp.Compare(s.p.options[a].Price+s.p.options[a].labour, s.p.options[b].Price+s.p.options[b].labour)
	})
	var tried []int
	for _, i := range choices {
		if s.barred[i] {
			continue
		}
		if s.p.canAdd(&s.state, i) {
			s.p.add(&s.state, i)
			s.expand()
			s.p.remove(&s.state, i)
		}
		s.barred[i] = true
		tried = append(tried, i)
	}
	for _, i := range tried {
		s.barred[i] = false
	}
}

func (s *search) keep() {
	s.best = &state{counts: slices.Clone(s.state.counts), used: slices.Clone(s.state.used), provided: slices.Clone(s.state.provided),
		load: slices.Clone(s.state.load), cost: s.state.cost, weight: s.state.weight}
}

// hopeless reports whether something is broken that no further add-on can
// mend: a rating of the whole or of zones exceeded by what is fitted alone, or
// a bike too large for the home. Sizes and those sums only grow.
func (s *search) hopeless() bool {
	if s.rules.Has(Storage) && !s.p.atHome(&s.state) {
		return true
	}
	for l := range s.p.limits {
		limit := &s.p.limits[l]
		amount := s.state.load[l]
		if limit.Rule == load.Axle || !s.rules.enforced(limit) {
			continue
		}
		if limit.Rule == load.Gross {
			amount += s.riding()
		}
		if amount > limit.Cap {
			return true
		}
	}
	return false
}

// riding returns the least weight of all that rides along on any one stage,
// in grams; every stage must hold, so the greatest of the stages counts.
func (s *search) riding() int64 {
	var most measure.Mass
	for _, stage := range s.stages {
		var sum measure.Mass
		for i := range stage {
			if stage[i].Present {
				sum += stage[i].Load
			}
		}
		most = max(most, sum)
	}
	return int64(most + s.p.Demand.Pet + s.p.Demand.Cargo)
}

// holds asks the one question for every stage.
func (s *search) holds() bool {
	for _, stage := range s.stages {
		if !s.seating.settle(&s.state, stage, s.rules) {
			return false
		}
	}
	return true
}

// lacks names the first demand that the present set cannot meet whatever the
// ratings say, and the add-ons that may meet it.
func (s *search) lacks() ([]int, bool) {
	for i, n := range s.state.counts {
		if n == 0 {
			continue
		}
		for _, g := range s.p.options[i].needs {
			if !s.state.met(g) {
				return s.pick(func(j int) bool { return s.p.options[j].meets(g, j) }), true
			}
		}
	}
	if s.rules.Has(PlaceMissing) {
		for _, stage := range s.stages {
			if !s.seatable(stage) {
				return s.pick(func(j int) bool { return s.p.options[j].seats(stage, s.rules) }), true
			}
		}
	}
	if s.rules.Has(PetPlace) && s.p.Demand.Pet > 0 && !s.any(s.takesPet) {
		return s.pick(s.takesPet), true
	}
	if s.shortOfCargo() {
		return s.pick(func(j int) bool { return s.p.options[j].Cargo > 0 }), true
	}
	return nil, false
}

// anything lists every useful option: the set meets each demand by itself but
// not all ratings at once, and what would mend that cannot be told apart.
func (s *search) anything() []int { return s.pick(func(int) bool { return true }) }

func (s *search) pick(wanted func(int) bool) []int {
	var list []int
	for i := range s.p.options {
		if s.useful[i] && !s.barred[i] && wanted(i) {
			list = append(list, i)
		}
	}
	return list
}

func (s *search) any(wanted func(int) bool) bool {
	for i, n := range s.state.counts {
		if n > 0 && wanted(i) {
			return true
		}
	}
	return false
}

func (s *search) takesPet(i int) bool {
	o := &s.p.options[i]
	return o.Pet > 0 && o.Pet >= s.p.Demand.Pet
}

// meets reports whether the option, of index i, meets a group of needs.
func (o *option) meets(g group, i int) bool {
	return slices.Contains(g.options, i) || slices.ContainsFunc(o.tags, func(t int) bool { return slices.Contains(g.tags, t) })
}

// seats reports whether one of the option's places suits one of the party.
func (o *option) seats(stage Stage, rules Rules) bool {
	for i := range o.places {
		for k := range stage {
			if stage[k].Present && o.places[i].suits(&stage[k], rules) {
				return true
			}
		}
	}
	return false
}

// shortOfCargo reports whether the carriers could not hold the cargo even if
// zones had no ratings.
func (s *search) shortOfCargo() bool {
	d := s.p.Demand
	var mass measure.Mass
	var volume measure.Volume
	for i := range s.p.own {
		mass, volume = mass+s.p.own[i].mass, volume+s.p.own[i].volume
	}
	for i, n := range s.state.counts {
		o := &s.p.options[i]
		if o.Cargo > 0 {
			mass, volume = mass+measure.Mass(n)*o.Cargo, volume+measure.Volume(n)*o.CargoVolume
		}
	}
	return s.rules.Has(CargoWeight) && mass < d.Cargo || s.rules.Has(CargoVolume) && volume < d.CargoSize
}

// seatable reports whether everyone could have a place of their own if needs
// and ratings were no matter: a bipartite matching by augmenting paths.
func (s *search) seatable(stage Stage) bool {
	var seats []*place
	for i := range s.p.framed {
		seats = append(seats, &s.p.framed[i])
	}
	for i, n := range s.state.counts {
		for range n {
			for j := range s.p.options[i].places {
				seats = append(seats, &s.p.options[i].places[j])
			}
		}
	}
	m := matching{stage: stage, seats: seats, rules: s.rules, taken: make([]int, len(seats))}
	for i := range m.taken {
		m.taken[i] = -1
	}
	for k := range stage {
		if stage[k].Present && !m.augment(k, make([]bool, len(seats))) {
			return false
		}
	}
	return true
}

type matching struct {
	stage Stage
	seats []*place
	rules Rules
	taken []int // per seat, by whom
}

func (m *matching) augment(k int, visited []bool) bool {
	for i, s := range m.seats {
		if visited[i] || !s.suits(&m.stage[k], m.rules) {
			continue
		}
		visited[i] = true
		if m.taken[i] < 0 || m.augment(m.taken[i], visited) {
			m.taken[i] = k
			return true
		}
	}
	return false
}

// usefulOptions marks the options that can be part of a best set: those that
// seat, carry, or relieve an axle, and those that they need, in turn.
// Anything else only adds cost and weight, and leaving it out breaks nothing.
func (s *search) usefulOptions() []bool {
	useful := make([]bool, len(s.p.options))
	var visit func(i int)
	want := func(groups []group) {
		for _, g := range groups {
			for j := range s.p.options {
				if s.p.options[j].meets(g, j) {
					visit(j)
				}
			}
		}
	}
	visit = func(i int) {
		if useful[i] {
			return
		}
		useful[i] = true
		want(s.p.options[i].needs)
		for j := range s.p.options[i].places {
			want(s.p.options[i].places[j].needs)
		}
	}
	for i := range s.p.framed {
		want(s.p.framed[i].needs)
	}
	for i := range s.p.options {
		o := &s.p.options[i]
		if o.delivered > 0 || s.carries(i) || s.relieves(o) {
			visit(i)
		}
	}
	return useful
}

func (s *search) carries(i int) bool {
	o, d := &s.p.options[i], s.p.Demand
	return s.rules.Has(PlaceMissing) && slices.ContainsFunc(s.stages, func(st Stage) bool { return o.seats(st, s.rules) }) ||
		s.rules.Has(PetPlace) && d.Pet > 0 && s.takesPet(i) ||
		s.rules&(CargoWeight|CargoVolume) != 0 && d.Cargo+measure.Mass(d.CargoSize) > 0 && o.Cargo > 0
}

// relieves reports whether the option's own weight takes load off an axle
// that has a rating.
func (s *search) relieves(o *option) bool {
	if !s.rules.Has(AxleRating) {
		return false
	}
	for l := range s.p.limits {
		if s.p.limits[l].Rule == load.Axle && o.per[l] < 0 {
			return true
		}
	}
	return false
}

// single reports whether the set holds exactly one rule.
func (r Rules) single() bool { return bits.OnesCount16(uint16(r)) == 1 }
