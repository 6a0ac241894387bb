package fitting

import (
	"cmp"
	"context"
	"errors"
	"math"
	"slices"
	"sync"

	"kinwain/internal/fitting/relax"
	"kinwain/internal/measure"
	"kinwain/internal/profile"
)

// aim is what a search looks for: the best set by an objective that holds
// under the rules on every one of the stages. Longest is not an aim of one
// search; see prolong.
type aim struct {
	objective profile.Objective
	rules     Rules
	stages    []Stage
	first     bool          // any set will do
	limited   bool          // only what costs no more than within, by the least cost
	within    measure.Money // price and labour
	loose     bool          // also what cannot be written in whole grams; see easier
}

// answer is what a search came to.
type answer struct {
	set *state // nil where none was found
	// proved tells that no other set is better, or where there is none that
	// none holds. Otherwise floor is what every set that holds costs at least,
	// in the unit of the objective.
	proved bool
	floor  float64
}

// search is branch and bound (A. Land and A. Doig, 1960) on the model. A node
// is all the sets whose counts lie between two ends each. Its linear
// relaxation says what its sets cost at least, its lower bound. Where the
// relaxation stands at whole counts, that set is settled exactly, by seating
// everyone and sharing the cargo out; else the node is branched into two that
// have all of its sets between them. The best set found so far is the
// incumbent.
//
// Inv: a set that holds and is better than the incumbent lies in an open node,
// and so does its seating. A node is closed for one of four reasons only: its
// relaxation is proved to be impossible, or to cost more than the incumbent;
// what all of its sets hold does not go together or does not get home; or it
// was one set, and that was settled. So it is no matter how well the
// relaxation is solved or where a node is branched: that decides about time
// alone.
type search struct {
	memory
	quest
}

// quest is what of a search is about what is looked for.
type quest struct {
	aim
	ctx     context.Context
	wanting *Stage          // one that has to be in the model, before the search goes on
	worst   Stage           // at least as hard as every stage, where that is all it takes; or nil
	base    state           // the frame as delivered
	failed  map[string]bool // sets that do not hold, by their counts
	found   bool
	value   float64 // of the incumbent
	ceiling float64 // what costs more is of no interest
	floor   float64 // the least bound of the nodes that were left open for want of time
	rounds  int
	covers  int   // how often rows were added by rounding
	blamed  Rules // on which it rests that nothing was found
	nodes   int   // how many there were, for tests
	err     error
}

// memory is what of a search serves again in the next one.
type memory struct {
	model
	seating seating
	looked  []Stage // the stages that are in the model
	useful  []bool
	outdone []rivals
	counted []int   // the columns of the model that count add-ons
	open    []*node // a stack
	spare   []*node // closed ones
	state   state   // the set at hand
	counts  []int
	best    state  // the incumbent
	name    []byte // scratch: the counts of a set, as bytes
	asked   []bool // scratch of findUseful: per group of needs
	groups  []int  // and those that are asked for
}

// node is a part of all sets.
type node struct {
	relax   relax.Relaxation
	bound   float64 // what its sets cost at least
	here    float64 // the same, by the multipliers that the relaxation has now
	settled bool    // the relaxation was solved to its optimum
}

// mostCovers bounds the rows that rounding adds: more of them gain less than
// they cost.
const mostCovers = 30

var searches = sync.Pool{New: func() any { return new(search) }}

// best returns the best set. The error is that of the context where it was
// cancelled; where its time is over, the answer is what was found until then.
func (p *Problem) best(ctx context.Context, a aim) (answer, error) {
	if err := ctx.Err(); err != nil && !errors.Is(err, context.DeadlineExceeded) {
		return answer{}, err
	}
	if p.only != nil {
		return answer{set: p.alone(a), proved: true}, nil
	}
	today := p.without&refuting == 0 && p.ofToday(&a)
	if today && p.refuted.has(a.rules, p.asks()) {
		return answer{proved: true}, nil
	}
	if set := p.withoutSearch(ctx, &a); set != nil {
		return answer{set: set, proved: true}, nil
	}
	s := searches.Get().(*search)
	defer s.end()
	s.begin(ctx, p, a)
	if s.crowded() {
		if today {
			p.refuted.add(PassengersMax)
		}
		return answer{proved: true}, nil
	}
	s.remember()
	for s.explore(); s.wanting != nil; s.explore() {
		s.looked = append(s.looked, *s.wanting)
	}
	if s.err != nil && !errors.Is(s.err, context.DeadlineExceeded) {
		return answer{}, s.err
	}
	out := answer{proved: s.err == nil, floor: s.floor}
	if s.found {
		set := p.empty()
		set.set(&s.best)
		out.set = &set
		p.known.keep(&set)
	} else if today && s.err == nil && !a.limited {
		p.refuted.add(s.blamed & a.rules)
	}
	return out, nil
}

// begin makes a search ready; what it keeps of one before is memory alone.
func (s *search) begin(ctx context.Context, p *Problem, a aim) {
	s.quest = quest{aim: a, ctx: ctx, base: p.base, floor: math.Inf(1), ceiling: math.Inf(1)}
	s.p, s.unit = p, p.unitOf(a.objective)
	p.clear(&s.state)
	p.clear(&s.best)
	s.counts = grown(s.counts, len(p.options))
	if a.limited {
		s.ceiling = s.unit.upTo(a.within)
	}
	s.seating.reset(p, true)
	s.seating.ctx, s.seating.loose = ctx, a.loose
	s.looked = append(s.looked[:0], a.stages[len(a.stages)-1])
	if len(s.stages) > 1 && p.heavierIsHarder(a.rules) {
		s.worst = s.stages[0]
		for _, stage := range s.stages[1:] {
			s.worst = worse(s.worst, stage)
		}
	}
	s.findUseful()
	s.findOutdone()
}

func (s *search) end() {
	s.quest = quest{}
	s.model.forget()
	s.seating.forget()
	clear(s.looked[:cap(s.looked)])
	searches.Put(s)
}

// crowded reports whether more ride along than the frame may carry.
func (s *search) crowded() bool {
	most := s.p.Frame.PassengersMax
	return most > 0 && s.aim.rules.Has(PassengersMax) && slices.ContainsFunc(s.stages, func(stage Stage) bool {
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

// explore sets the model up for the stages that are looked at and takes one
// open node after the other: of those made last the one with the least bound,
// so that something good is found soon and few nodes are open at a time.
func (s *search) explore() {
	s.wanting = nil
	s.root()
	for len(s.open) > 0 && !s.stop() {
		if s.p.observe != nil {
			s.p.observe(s)
		}
		last := len(s.open) - 1
		n := s.open[last]
		s.open = s.open[:last]
		if s.beaten(n.bound) {
			s.close(n)
		} else {
			s.branch(n)
		}
	}
	for _, n := range s.open {
		s.floor = min(s.floor, n.bound)
		s.close(n)
	}
	s.open = s.open[:0]
}

// root opens the node of all sets.
func (s *search) root() {
	s.formulate(s.p, &s.aim, s.looked, s.useful, s.outdone)
	s.counted = s.counted[:0]
	for i := range s.p.options {
		for _, c := range [...]int{s.off[i], s.bought[i]} {
			if c >= 0 {
				s.counted = append(s.counted, c)
			}
		}
	}
	n := s.fresh()
	n.relax.Start(&s.relax)
	s.bar(&n.relax)
	if s.raised {
		s.blamed |= sitting
	}
	s.add(n, math.Inf(-1))
}

// stop reports whether the search is over: something will do, the model lacks
// a stage, or nobody waits.
func (s *search) stop() bool {
	if s.rounds++; s.rounds%16 == 0 && s.err == nil {
		s.err = s.ctx.Err()
	}
	return s.err != nil || s.wanting != nil || s.first && s.found
}

// add opens a node whose sets cost at least bound, unless that can be closed
// at once.
func (s *search) add(n *node, bound float64) {
	s.nodes++
	if !s.exclude(&n.relax) || !s.reaches(&n.relax) || !s.solve(n) {
		s.close(n)
		return
	}
	if n.bound = max(bound, n.here); s.beaten(n.bound) {
		s.close(n)
		return
	}
	s.fixByCost(n)
	s.open = append(s.open, n)
}

// solve finds a lower bound for a node, with the rows that rounding gives. It
// reports false where nothing in the node holds.
func (s *search) solve(n *node) bool {
	n.relax.Extend()
	for {
		outcome := n.relax.Solve(s.enough())
		if outcome == relax.Impossible {
			s.blamed |= Rules(n.relax.Blamed())
			return false
		}
		n.settled = outcome == relax.Solved
		n.here = n.relax.Bound()
		if s.beaten(n.here) || s.covers >= mostCovers || s.p.without&covering != 0 {
			return true
		}
		for i := range s.blocks {
			s.blocks[i].cover(&n.relax)
		}
		if !n.relax.Extend() {
			return true
		}
		s.covers++
	}
}

// fresh returns a node to fill, copied one that stands where another does.
func (s *search) fresh() *node {
	last := len(s.spare) - 1
	if last < 0 {
		return new(node)
	}
	n := s.spare[last]
	s.spare = s.spare[:last]
	return n
}

func (s *search) copied(n *node) *node {
	c := s.fresh()
	c.relax.CopyFrom(&n.relax)
	return c
}

func (s *search) close(n *node) { s.spare = append(s.spare, n) }

// enough is a cost beyond which nothing is of interest.
func (s *search) enough() float64 {
	if !s.found {
		return s.ceiling
	}
	return s.value
}

// beaten reports whether what costs at least so much is worse than the
// incumbent. Costs are whole, so what costs as much may still have better
// codes.
func (s *search) beaten(bound float64) bool { return s.found && bound > s.value || bound > s.ceiling }

// keep makes the set at hand the incumbent if it is the best so far.
func (s *search) keep() {
	if s.limited && s.state.cost > s.within {
		return
	}
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
	s.found, s.value = true, s.unit.of(&s.state)
	s.best.set(&s.state)
}
