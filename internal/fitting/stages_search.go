package fitting

import (
	"context"
	"errors"
	"slices"

	"kinwain/internal/measure"
	"kinwain/internal/profile"
)

// planner finds a plan by branch and bound over what is owned: how many of
// each add-on are ever bought, and how many that came with the frame are ever
// off it. A node is all that lies between a least and a most of each.
//
// Whatever is owned is put on at least once, and what is ever off is taken off
// at least once. So a plan costs at least what is owned by its price and its
// labour once each: its standing cost. And it owns all that the set of each
// period has. So no plan of a node costs less than the standing cost of the
// least, with the cheapest completion of that by a set for the period for which
// this is dearest. That completion is asked of the search for a single set, in
// which what is owned already costs nothing.
//
// Where what is owned is all that is needed, schedule finds the cheapest order
// in which to put it on and take it off, exactly.
//
// Inv: the owned of every plan that is better than the best so far lies in an
// open node. A node is closed where its bound is above the best plan, where
// some period has no set in it, or when it has become nodes that hold all of
// it but its own least, which was scheduled.
type planner struct {
	p       *Problem
	ctx     context.Context
	periods []Period
	parties [][]Stage // per period
	like    []int     // per period: the first with the same parties
	settler *seating
	known   map[string]*knownSet
	open    []*holding
	best    *sequence
	tried   map[string]bool // what was scheduled
	floor   measure.Money   // the least bound of what was left open for want of time
	nodes   int             // how many there were, for tests
	err     error
}

// holding is a node. Its lists have one entry an option for what is bought,
// and then one an option for what is off.
type holding struct {
	least, most []int
	sets        []completion // per period
	bound       measure.Money
}

// completion is the cheapest set for one period, where what the node owns
// costs nothing.
type completion struct {
	counts []int
	cost   measure.Money // at least
	stale  bool          // another may be cheaper by now, but not below cost
}

// begin divides the months and finds the root. Where nothing serves a period
// any more, it is cut short, and those after it are left out.
func (s *planner) begin(months int) (*holding, error) {
	n := len(s.p.options)
	root := &holding{least: make([]int, 2*n), most: make([]int, 2*n)}
	for i := range s.p.options {
		o := &s.p.options[i]
		if o.buyable {
			root.most[i] = max(o.most-o.delivered, 0)
		}
		root.most[n+i] = o.delivered
	}
	for _, period := range s.p.halfYears(months) {
		whole := period.To
		served := s.take(root, period)
		for !served && s.err == nil && period.To > period.From {
			period = s.p.period(period.From, int(period.To-period.From))
			served = s.take(root, period)
		}
		switch {
		case errors.Is(s.err, context.DeadlineExceeded):
			return nil, ErrUnsettled
		case s.err != nil:
			return nil, s.err
		case len(s.periods) == 0:
			return nil, ErrInfeasible
		}
		if !served || period.To < whole {
			break
		}
	}
	return root, nil
}

// take adds a period to those that are planned for, where any set serves it.
func (s *planner) take(root *holding, period Period) bool {
	parties := s.p.Demand.parties(period)
	like := slices.IndexFunc(s.parties, func(other []Stage) bool {
		return slices.EqualFunc(other, parties, func(a, b Stage) bool { return slices.Equal(a, b) })
	})
	var c completion
	if like >= 0 {
		c = root.sets[like]
	} else {
		like = len(s.parties)
		var ok bool
		if c, ok = s.complete(root, parties); !ok {
			return false
		}
	}
	s.periods, s.parties, s.like = append(s.periods, period), append(s.parties, parties), append(s.like, like)
	root.sets = append(root.sets, c)
	return true
}

// explore takes the open node with the least bound, one after the other.
func (s *planner) explore(root *holding) {
	s.add(root)
	for len(s.open) > 0 && s.err == nil {
		at := 0
		for i, h := range s.open {
			if h.bound < s.open[at].bound {
				at = i
			}
		}
		h := s.open[at]
		s.open = slices.Delete(s.open, at, at+1)
		if !s.beaten(h.bound) {
			s.branch(h)
		}
	}
	for _, h := range s.open {
		s.floor = min(s.floor, h.bound)
	}
}

// beaten reports whether what costs at least so much is worse than the best
// plan; what costs the same may still be better.
func (s *planner) beaten(bound measure.Money) bool {
	return s.best != nil && bound > s.best.price+s.best.labour
}

// add opens a node, unless that can be closed at once.
func (s *planner) add(h *holding) {
	s.nodes++
	standing := s.standing(h.least)
	for k := range h.sets {
		h.bound = max(h.bound, standing+h.sets[k].cost)
	}
	if s.beaten(h.bound) {
		return
	}
	for k := range h.sets {
		if !h.sets[k].stale {
			continue
		}
		if at := s.like[k]; at < k {
			h.sets[k] = h.sets[at]
			continue
		}
		c, ok := s.complete(h, s.parties[k])
		if s.err != nil {
			s.open = append(s.open, h) // its bound is open still
			return
		}
		if !ok {
			return
		}
		h.sets[k] = c
		if h.bound = max(h.bound, standing+c.cost); s.beaten(h.bound) {
			return
		}
	}
	s.open = append(s.open, h)
}

// branch tries what the node owns at the least together with what its sets
// need, and parts the node by one of these.
func (s *planner) branch(h *holding) {
	all := slices.Clone(h.least)
	for k := range h.sets {
		s.cover(all, h.sets[k].counts)
	}
	serves := slices.Equal(all, h.least)
	tried := s.schedule(all)
	switch {
	case s.err != nil:
		s.open = append(s.open, h)
		return
	case serves && !tried:
		s.floor = min(s.floor, h.bound)
		return
	case serves:
		s.beyond(h)
		return
	}
	item := -1
	for j := range all {
		if all[j] > h.least[j] && (item < 0 || s.price(j) > s.price(item)) {
			item = j
		}
	}
	s.add(s.without(h, item))
	s.add(s.owning(h, item))
}

// beyond parts a node of which the least was scheduled into those that own
// more of the first thing, or none more of that but more of the second, and so
// on.
func (s *planner) beyond(h *holding) {
	standing := s.standing(h.least)
	for j := range h.least {
		if h.least[j] == h.most[j] {
			continue
		}
		if !s.beaten(standing + s.price(j)) {
			s.add(s.owning(h, j))
			if s.err != nil {
				s.open = append(s.open, h) // what is left of it is open still
				return
			}
		}
		h = s.without(h, j)
	}
}

// price is what owning one of a thing costs at least: its price, and its
// labour once; of what is off, that labour.
func (s *planner) price(j int) measure.Money {
	if n := len(s.p.options); j >= n {
		return s.p.options[j-n].labour
	}
	return s.p.options[j].Price + s.p.options[j].labour
}

func (s *planner) standing(owned []int) measure.Money {
	var sum measure.Money
	for j, n := range owned {
		sum += measure.Money(n) * s.price(j)
	}
	return sum
}

// cover raises what is owned to what a set has.
func (s *planner) cover(owned, counts []int) {
	n := len(counts)
	for i, c := range counts {
		owned[i] = max(owned[i], c-s.p.options[i].delivered)
		owned[n+i] = max(owned[n+i], s.p.options[i].delivered-c)
	}
}

// uses returns how many of a thing a set has.
func (s *planner) uses(counts []int, j int) int {
	if n := len(counts); j >= n {
		return max(s.p.options[j-n].delivered-counts[j-n], 0)
	}
	return max(counts[j]-s.p.options[j].delivered, 0)
}

// without returns the part of a node that owns no more of a thing.
func (s *planner) without(h *holding, j int) *holding {
	c := &holding{least: h.least, most: slices.Clone(h.most), sets: slices.Clone(h.sets), bound: h.bound}
	c.most[j] = h.least[j]
	for k := range c.sets {
		// Where the cheapest does without, it is the cheapest of those that do.
		c.sets[k].stale = c.sets[k].stale || s.uses(c.sets[k].counts, j) > c.most[j]
	}
	return c
}

// owning returns the part of a node that owns one more of a thing at least.
func (s *planner) owning(h *holding, j int) *holding {
	c := &holding{least: slices.Clone(h.least), most: h.most, sets: slices.Clone(h.sets), bound: h.bound}
	c.least[j]++
	single := h.most[j] == 1 && s.p.options[j%len(s.p.options)].delivered == 0
	for k := range c.sets {
		set := &c.sets[k]
		if single && !set.stale && s.uses(set.counts, j) == 1 {
			set.cost -= s.price(j) // no other can become cheaper by more
			continue
		}
		set.stale, set.cost = true, 0
	}
	return c
}

// complete finds the cheapest set for some parties within a node. What is
// owned costs nothing, nor does more of it, which can only make the bound
// lower.
func (s *planner) complete(h *holding, parties []Stage) (completion, bool) {
	p := *s.p
	n := len(p.options)
	p.options, p.known, p.bars = slices.Clone(p.options), new(known), nil // what a set costs here, and what has to stay, is its own
	for i := range p.options {
		o := &p.options[i]
		if h.least[i]+h.least[n+i] > 0 {
			o.labour = 0
		}
		if h.least[i] > 0 {
			free := *o.AddOn
			free.Price = 0
			o.AddOn = &free
		}
		o.most, o.stay = o.delivered+h.most[i], o.delivered-h.most[n+i]
	}
	found, err := p.best(s.ctx, aim{objective: profile.LeastCost, rules: AllRules, stages: parties})
	s.p.homes = p.homes
	if err == nil && !found.proved {
		err = context.DeadlineExceeded
	}
	if s.err = err; err != nil || found.set == nil {
		return completion{}, false
	}
	return completion{counts: found.set.counts, cost: found.set.cost}, true
}
