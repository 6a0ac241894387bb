package build

import (
	"cmp"
	"context"
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

// search walks the sets of add-ons from the delivered frame on. One step
// fits an add-on or takes a delivered part off. At every set it asks what
// keeps the set from being an answer, and lists the steps of which every
// better answer must take at least one: each is one branch.
//
// Inv: a branch may not take the steps of the branches before it, so no set
// is met twice; and none is missed, because an answer that holds the present
// set takes one of the steps listed, and is found in the branch of the first
// of them that it takes.
type search struct {
	aim
	p        *Problem
	ctx      context.Context
	seating  seating
	useful   []bool // per option: may be part of a best set
	places   []int  // per option: how many places of one copy suit somebody on some stage
	worst    Stage  // at least as hard as every stage, where that is all it takes; or nil
	barred   []bool // per option: no further copy here
	kept     []bool // per option: no further delivered copy comes off here
	state    state
	wish     state // scratch: the present set with all that may yet come
	found    bool
	best     state
	steps    []int // a stack of the steps of all open branches
	seats    matching
	lacks    []lack
	unusable []locked
	offers   []offer
	onMount  []float64
	free     []int // per mount, see look
	may      []int // per option, see look
	prices   []float64
	arena    []int64
	roomy    []room  // scratch of rooms
	inZone   []int64 // scratch of lackRoom, per zone
	loads    []int64 // scratch of lackSeats
	nodes    int
	err      error
}

// A step is the index of an option to fit, or the complement of one to take
// off.
func takeOff(i int) int { return ^i }

// best returns the best set, or nil where none is feasible. The error is that
// of the context.
func (p *Problem) best(ctx context.Context, a aim) (*state, error) {
	if err := ctx.Err(); err != nil {
		return nil, err
	}
	if p.only != nil {
		return p.alone(a), nil
	}
	n := len(p.options)
	flags := make([]bool, 3*n)
	s := &search{aim: a, p: p, ctx: ctx, useful: flags[:n:n], barred: flags[n : 2*n : 2*n], kept: flags[2*n:],
		places: make([]int, n), state: p.delivered(), wish: p.empty(), best: p.empty(), inZone: make([]int64, len(p.Frame.Zones)), onMount: make([]float64, len(p.capacity)), prices: make([]float64, n), free: make([]int, len(p.capacity)), may: make([]int, n)}
	s.seating.p, s.seating.asking = p, true
	s.countPlaces()
	s.markUseful()
	if s.promising() {
		s.expand()
	}
	if !s.found {
		return nil, s.err
	}
	return &s.best, s.err
}

// compare orders two sets by the objective: negative where the first is
// better.
func (s *search) compare(cost, otherCost measure.Money, weight, otherWeight measure.Mass) int {
	if s.objective == profile.Lightest {
		return cmp.Or(cmp.Compare(weight, otherWeight), cmp.Compare(cost, otherCost))
	}
	return cmp.Or(cmp.Compare(cost, otherCost), cmp.Compare(weight, otherWeight))
}

// stop reports whether the search is over: something will do, or nobody
// waits.
func (s *search) stop() bool {
	if s.nodes++; s.nodes%512 == 0 && s.err == nil {
		s.err = s.ctx.Err()
	}
	return s.err != nil || s.first && s.found
}

// expand judges the present set and branches where it is no answer yet.
func (s *search) expand() {
	if s.stop() {
		return
	}
	s.lacks = s.lacks[:0]
	from := len(s.steps)
	defer func() { s.steps = s.steps[:from] }()
	if s.broken() || s.lacking() {
		if s.found && s.beaten() {
			return
		}
		s.branch(from)
		return
	}
	if s.found && s.beaten() {
		return
	}
	if s.answers() {
		s.keep()
		s.improve()
	} else if s.promising() {
		s.mend()
	}
	s.branch(from)
}

// answers asks the one question for every stage.
func (s *search) answers() bool {
	if s.worst != nil && s.seating.settle(&s.state, s.worst, s.rules) {
		return true
	}
	for _, stage := range s.stages {
		if !s.seating.settle(&s.state, stage, s.rules) {
			return false
		}
	}
	return true
}

// ends returns the first and the last stage: enough for what only has to be
// true of every answer.
func (s *search) ends() []Stage {
	if len(s.stages) < 3 {
		return s.stages
	}
	return []Stage{s.stages[0], s.stages[len(s.stages)-1]}
}

// keep remembers the present set if it is the best so far.
func (s *search) keep() {
	if s.found {
		order := s.compare(s.state.cost, s.best.cost, s.state.weight, s.best.weight)
		if order > 0 || order == 0 && s.p.compareCodes(s.state.counts, s.best.counts) >= 0 {
			return
		}
	}
	s.found = true
	s.best.set(&s.state)
}

// branch takes each of the steps listed since from, in order, and bars it
// for those after it.
func (s *search) branch(from int) {
	until := len(s.steps)
	for k := from; k < until; k++ {
		if step := s.steps[k]; step >= 0 {
			s.p.add(&s.state, step)
			s.expand()
			s.p.remove(&s.state, step)
			s.barred[step] = true
		} else {
			s.p.remove(&s.state, ^step)
			s.expand()
			s.p.add(&s.state, ^step)
			s.kept[^step] = true
		}
	}
	for k := from; k < until; k++ {
		if step := s.steps[k]; step >= 0 {
			s.barred[step] = false
		} else {
			s.kept[^step] = false
		}
	}
}

// outdone reports whether an option waits for a better one to be fitted as
// often as it may be. A best set holds it only then, and that set is found by
// fitting the better one first: it serves whatever this one serves and finds
// room wherever this one does. Where the better one is barred, no best set
// lies in this branch with this one either.
func (s *search) outdone(i int) bool {
	for _, b := range s.p.options[i].betters {
		if s.state.counts[b] < s.p.options[b].most {
			return true
		}
	}
	return false
}

// canTakeOff reports whether a delivered copy may come off here.
func (s *search) canTakeOff(i int) bool {
	o := &s.p.options[i]
	return o.delivered > 0 && !s.kept[i] && s.state.counts[i] > 0 && s.state.counts[i] <= o.delivered
}

// list adds the steps that fit one of the wanted options, and those that take
// off a delivered part which keeps one from being fitted; cheapest first.
func (s *search) list(wanted func(i int) bool) {
	from := len(s.steps)
	for i := range s.p.options {
		o := &s.p.options[i]
		switch {
		case !s.useful[i] || s.barred[i] || !wanted(i) || s.outdone(i):
		case s.p.canAdd(&s.state, i):
			s.steps = append(s.steps, i)
		case o.buyable && s.state.counts[i] >= o.delivered && s.state.counts[i] < o.most:
			s.listInTheWay(from, i)
		}
	}
	slices.SortStableFunc(s.steps[from:], func(a, b int) int { return cmp.Compare(s.price(a), s.price(b)) })
}

// listInTheWay adds the steps that take off what shares a mount with an
// option, or excludes it.
func (s *search) listInTheWay(from, i int) {
	o := &s.p.options[i]
	for j := range s.p.options {
		if !s.canTakeOff(j) || slices.Contains(s.steps[from:], takeOff(j)) {
			continue
		}
		shares := slices.ContainsFunc(o.uses, func(u use) bool {
			return slices.ContainsFunc(s.p.options[j].uses, func(v use) bool { return u.mount == v.mount })
		})
		if shares || slices.Contains(o.excludes, j) {
			s.steps = append(s.steps, takeOff(j))
		}
	}
}

// listOff adds the steps that take off the wanted delivered parts, where they
// are not among the steps since from.
func (s *search) listOff(from int, wanted func(o *option) bool) {
	for i := range s.p.options {
		if s.canTakeOff(i) && wanted(&s.p.options[i]) && !slices.Contains(s.steps[from:], takeOff(i)) {
			s.steps = append(s.steps, takeOff(i))
		}
	}
}

// cheapest returns the least that one of the steps since from costs.
func (s *search) cheapest(from int) measure.Money {
	least := s.price(s.steps[from])
	for _, step := range s.steps[from+1:] {
		least = min(least, s.price(step))
	}
	return least
}

func (s *search) price(step int) measure.Money {
	if step < 0 {
		return s.p.options[^step].labour
	}
	return s.p.options[step].Price + s.p.options[step].labour
}

// broken lists what may mend a rule that fitting more can only break further:
// a rating of the whole or of zones exceeded by what is fitted, or a bike too
// large for the home. Only a part taken off can.
func (s *search) broken() bool {
	if s.rules.Has(Storage) && !s.p.atHome(&s.state) {
		s.listOff(len(s.steps), func(o *option) bool {
			return o.FrontOverhang > 0 || o.RearOverhang > 0 || o.OverallWidth > 0 || o.OverallHeight > 0 || o.BlocksUpright
		})
		return true
	}
	for l := range s.p.limits {
		limit := &s.p.limits[l]
		if limit.Rule == load.Axle || !s.rules.enforced(limit) {
			continue
		}
		amount := s.state.load[l]
		if limit.Rule == load.Gross {
			amount += s.riding()
		}
		if amount > limit.Cap {
			s.listOff(len(s.steps), func(o *option) bool { return o.per[l] > 0 })
			return true
		}
	}
	return false
}

// riding returns the greatest weight of all that rides along on one of the
// stages, in grams.
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

// improve lists what may make an answer better still: a part taken off for
// nothing weighs less, and where weight comes first any part taken off does.
// Whatever is fitted only adds to both.
func (s *search) improve() {
	s.listOff(len(s.steps), func(o *option) bool { return !s.first && (s.objective == profile.Lightest || o.labour == 0) })
}

// mend lists the steps after which a set that meets every demand by itself,
// but not all rules at once, may hold. It looks for the first part of the
// question that fails: seats alone, then with the pet, then with the cargo. A
// pet or cargo may take load off an axle, so what fails without them fails
// with them only as far as no axle is rated.
func (s *search) mend() {
	relieve := s.p.relievable(s.rules)
	unmet := s.unmetPlaces()
	seats := func(i int) bool {
		o := &s.p.options[i]
		return s.places[i] > 0 || relieve && o.lifts(s.p.limits) ||
			slices.ContainsFunc(unmet, func(g *group) bool { return o.meets(g, i) })
	}
	wanted, part := seats, s.rules
	if relieve {
		part &^= AxleRating
	}
	for _, stage := range s.stages {
		if s.seating.settle(&s.state, stage, s.rules) {
			continue
		}
		if !s.seating.settle(&s.state, stage, part&^(PetPlace|CargoWeight|CargoVolume)) {
			break
		}
		if !s.seating.settle(&s.state, stage, part&^(CargoWeight|CargoVolume)) {
			wanted = func(i int) bool { return seats(i) || s.p.options[i].Pet > 0 }
			break
		}
		wanted = func(i int) bool { return seats(i) || s.p.options[i].Pet > 0 || s.p.options[i].Cargo > 0 }
		break
	}
	from := len(s.steps)
	s.list(wanted)
	s.listOff(from, func(o *option) bool { return slices.ContainsFunc(o.per[1:], func(n int64) bool { return n != 0 }) })
	if s.found && s.objective != profile.Lightest && len(s.steps) > from && s.cheapest(from) > s.best.cost-s.state.cost {
		s.steps = s.steps[:from]
	}
}

// unmetPlaces returns the needs of fitted places that are not met: a place that
// cannot be used yet might be what is missing.
func (s *search) unmetPlaces() []*group {
	var unmet []*group
	note := func(places []place) {
		for k := range places {
			for g := range places[k].needs {
				if !s.state.met(places[k].needs[g]) {
					unmet = append(unmet, &places[k].needs[g])
				}
			}
		}
	}
	note(s.p.framed)
	for i, n := range s.state.counts {
		if n > 0 {
			note(s.p.options[i].places)
		}
	}
	return unmet
}

// lifts reports whether the option's own weight takes load off an axle that
// has a rating: it hangs over the other one.
func (o *option) lifts(limits []load.Limit) bool {
	for l := range limits {
		if limits[l].Rule == load.Axle && o.per[l] < 0 {
			return true
		}
	}
	return false
}

// relievable reports whether axles are rated and the rule is enforced.
func (p *Problem) relievable(rules Rules) bool {
	return rules.Has(AxleRating) && slices.ContainsFunc(p.limits, func(l load.Limit) bool { return l.Rule == load.Axle })
}
