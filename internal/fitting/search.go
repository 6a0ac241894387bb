package fitting

import (
	"cmp"
	"context"
	"slices"

	"kinwain/internal/load"
	"kinwain/internal/measure"
	"kinwain/internal/profile"
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

// search builds sets of add-ons up from the delivered frame, one demand after
// the other: a place for a passenger, a carrier for the pet, something that
// meets a need, room for the cargo. For each it tries every way there is.
//
// Inv: let B be the best answer, with the seating in which it holds. As long
// as all that is fitted belongs to B and everyone sits as in that seating, one
// of the ways to the next demand is B's own, so B is reached: each demand is
// met in B by something. What is reached then is B itself, since a part of B
// that meets all demands holds wherever B does and is better.
//
// Only axles make an exception, where a load can relieve them; see haul.
type search struct {
	aim
	p       *Problem
	ctx     context.Context
	seating seating
	market
	*plan          // of the stage that is seated now
	worst   Stage  // at least as hard as every stage, where that is all it takes; or nil
	barred  []int  // per option, above zero: not one more for the cargo here
	kept    []bool // per option: no further delivered copy comes off here
	state   state
	room    uint64  // what is left of the mounts, see packing
	asked   []int   // per group of needs, how many fitted add-ons ask for it
	hauling int     // how many add-ons were fitted for the cargo alone
	seated  bool    // everyone is
	wish    state   // scratch of promising
	written []int16 // scratch of trace
	steps   []step  // a stack of the steps of all open branches
	free    []int   // per mount; this and the next are scratch of haulage
	onMount []int64
	rooms   []int64
	found   bool
	best    state
	nodes   int
	err     error
}

// step is one way on.
type step struct {
	kind    stepKind
	option  int
	carrier int      // of sit: an index of plan.carriers
	sitting *sitting // who sits down, or nil
	pet     bool     // the pet goes there
	bound   int64    // the least that the demands after it cost, and the step itself
}

type stepKind uint8

const (
	fit     stepKind = iota // fit one more of an option, and perhaps sit on it
	sit                     // sit on what is there
	takeOff                 // take a delivered part off
)

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
	s := &search{aim: a, p: p, ctx: ctx, state: p.delivered(), best: p.empty(), wish: p.empty(),
		kept: make([]bool, n), onMount: make([]int64, len(p.capacity))}
	ints := make([]int, n+len(p.groups)+len(p.capacity))
	s.barred, s.asked, s.free = ints[:n], ints[n:n+len(p.groups)], ints[n+len(p.groups):]
	s.seating = p.newSeating(true)
	for i, copies := range s.state.counts {
		for range copies {
			s.ask(&p.options[i], 1)
		}
	}
	s.findWorst()
	s.listParts()
	if s.crowded() || !s.promising() {
		return nil, nil
	}
	s.openMarket()
	s.steps = make([]step, 0, 24)
	s.plan = s.newPlan(a.stages[len(a.stages)-1])
	s.expand()
	if !s.found {
		return nil, s.err
	}
	return &s.best, s.err
}

// crowded reports whether more ride along than the frame may carry.
func (s *search) crowded() bool {
	most := s.p.Frame.PassengersMax
	return most > 0 && s.rules.Has(PassengersMax) && slices.ContainsFunc(s.stages, func(stage Stage) bool {
		heads := 0
		for i := range stage {
			heads += b2i(stage[i].Present)
		}
		return heads > most
	})
}

func b2i(b bool) int {
	if b {
		return 1
	}
	return 0
}

// findWorst merges the stages where more weight is always harder.
func (s *search) findWorst() {
	if len(s.stages) < 2 || !s.p.heavierIsHarder(s.rules) {
		return
	}
	s.worst = s.stages[0]
	for _, stage := range s.stages[1:] {
		s.worst = worse(s.worst, stage)
	}
}

// stop reports whether the search is over: something will do, or nobody
// waits.
func (s *search) stop() bool {
	if s.nodes++; s.nodes%512 == 0 && s.err == nil {
		s.err = s.ctx.Err()
	}
	return s.err != nil || s.first && s.found
}

// expand goes on from what is fitted and who is seated.
func (s *search) expand() {
	if s.stop() {
		return
	}
	from := len(s.steps)
	defer func() { s.steps = s.steps[:from] }()
	if s.broken() {
		s.branch(from)
		return
	}
	if s.beaten() {
		return
	}
	k := s.key()
	switch {
	case k.left != 0:
		if s.plan.half.add(s.trace(k)) {
			s.seatNext(k)
		}
	case s.seated:
		s.equip(k)
	case s.plan.manned.add(s.trace(key{})):
		s.seated = true
		if s.seatable() {
			s.equip(k)
		} else {
			s.listWeights()
			s.branch(from)
		}
		s.seated = false
	}
}

// trace writes down all that what follows depends on: the set, what is to stay
// of the delivered parts, who is left, what is taken, and what the places ask
// for. It is left open who sits where, so the many ways to seat people in the
// same seats are one.
func (s *search) trace(k key) []int16 {
	t := s.written[:0]
	for _, n := range s.state.counts {
		t = append(t, int16(n))
	}
	for _, i := range s.parts {
		t = append(t, int16(b2i(s.kept[i])))
	}
	for _, n := range s.plan.asked {
		t = append(t, int16(b2i(n > 0)))
	}
	for _, word := range [...]uint64{k.left, k.used} {
		t = append(t, int16(word), int16(word>>16), int16(word>>32), int16(word>>48))
	}
	s.written = t
	return t
}

func (s *search) equip(k key) {
	if k.needs>>32 != 0 || s.unmet() >= 0 {
		s.meetNext(k)
	} else {
		s.haul()
	}
}

// beaten reports whether nothing from here on can be better than the best
// found.
func (s *search) beaten() bool {
	least := s.outlook.least(s.key())
	haulage := s.haulage()
	if least >= never || haulage >= never {
		return true
	}
	return s.found && s.worse(least+haulage)
}

// worse reports whether a set that costs, or weighs, so much more than the
// present one is no better than the best.
//
// Fitting never lowers cost or weight. Taking a part off never lowers cost,
// but does lower weight; so all that may yet come off is taken off the bound.
func (s *search) worse(more int64) bool {
	cost, weight := s.state.cost, s.state.weight-s.removable()
	if s.objective == profile.Lightest {
		weight += measure.Mass(more)
		return cmp.Or(cmp.Compare(weight, s.best.weight), cmp.Compare(cost, s.best.cost)) > 0
	}
	cost += measure.Money(more)
	return cmp.Or(cmp.Compare(cost, s.best.cost), cmp.Compare(weight, s.best.weight)) > 0
}

// keep remembers the present set if it is the best so far.
func (s *search) keep() {
	if s.found {
		a, b := &s.state, &s.best
		order := cmp.Or(cmp.Compare(a.cost, b.cost), cmp.Compare(a.weight, b.weight))
		if s.objective == profile.Lightest {
			order = cmp.Or(cmp.Compare(a.weight, b.weight), cmp.Compare(a.cost, b.cost))
		}
		if order > 0 || order == 0 && s.p.compareCodes(a.counts, b.counts) >= 0 {
			return
		}
	}
	s.found = true
	s.best.set(&s.state)
}

// branch takes each of the steps listed since from, in order, and goes on
// from there. A part that comes off in one stays on in those after it.
func (s *search) branch(from int) {
	until := len(s.steps)
	for k := from; k < until; k++ {
		step := s.steps[k]
		if s.found && step.kind != takeOff && s.worse(step.bound) {
			continue
		}
		s.take(step)
		s.expand()
		s.undo(step)
		if step.kind == takeOff {
			s.kept[step.option] = true
		}
	}
	for k := from; k < until; k++ {
		if step := s.steps[k]; step.kind == takeOff {
			s.kept[step.option] = false
		}
	}
}

func (s *search) take(t step) {
	switch t.kind {
	case takeOff:
		s.ask(&s.p.options[t.option], -1)
		s.p.remove(&s.state, t.option)
		return
	case fit:
		s.p.add(&s.state, t.option)
		s.ask(&s.p.options[t.option], 1)
		s.room -= s.packed[t.option]
	}
	s.book(t, 1)
}

func (s *search) undo(t step) {
	switch t.kind {
	case takeOff:
		s.p.add(&s.state, t.option)
		s.ask(&s.p.options[t.option], 1)
		return
	case sit:
		s.book(t, -1)
		return
	}
	s.book(t, -1)
	s.room += s.packed[t.option]
	s.ask(&s.p.options[t.option], -1)
	s.p.remove(&s.state, t.option)
}

// ask books the needs of an add-on, in or out.
func (s *search) ask(o *option, sign int) {
	for _, g := range o.needs {
		s.asked[g] += sign
	}
}

// unmet returns a group of needs that something asks for and nothing meets,
// or -1.
func (s *search) unmet() int {
	for g, n := range s.asked {
		if n+s.plan.asked[g] > 0 && s.state.met[g] == 0 {
			return g
		}
	}
	return -1
}

// broken lists what may mend a rule that fitting more can only break further:
// a rating of the whole or of zones exceeded by what is on the bike, or a bike
// too large for the home. Only a part taken off can.
func (s *search) broken() bool {
	if s.rules.Has(Storage) && !s.p.atHome(&s.state) {
		s.listOff(func(o *option) bool {
			return o.FrontOverhang > 0 || o.RearOverhang > 0 || o.OverallWidth > 0 || o.OverallHeight > 0 || o.BlocksUpright
		})
		return true
	}
	if l := s.exceeded(s.plan.load); l >= 0 {
		s.listOff(func(o *option) bool { return o.per[l] > 0 })
		return true
	}
	if s.seated && s.exceeded(s.plan.seating) >= 0 && !s.seatable() {
		s.listWeights()
		return true
	}
	return false
}

// exceeded returns a limit that what is fitted exceeds together with what is
// booked, axles aside, or -1.
func (s *search) exceeded(booked []int64) int {
	for l := range s.p.limits {
		limit := &s.p.limits[l]
		if limit.Rule != load.Axle && s.state.load[l]+booked[l] > limit.Cap && s.rules.enforced(limit) {
			return l
		}
	}
	return -1
}

// seatable reports whether everyone finds a seat within the ratings, once what
// the places need is met.
func (s *search) seatable() bool {
	rules := s.rules &^ (PetPlace | CargoWeight | CargoVolume)
	if s.p.relievable(rules) {
		rules &^= AxleRating
	}
	s.seating.trusting = true
	ok := s.seating.settle(&s.state, s.plan.stage, rules)
	s.seating.trusting = false
	if ok {
		for l := range s.plan.seating {
			s.plan.seating[l] = s.seating.load[l] - s.state.load[l]
		}
	}
	return ok
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
