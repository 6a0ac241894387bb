package fitting

import (
	"context"
	"math"
	"slices"

	"kinwain/internal/fitting/relax"
	"kinwain/internal/load"
	"kinwain/internal/profile"
)

// Without returns the same problem, whose searches do without the shortcuts of
// which the bits are set.
func (p *Problem) Without(shortcuts uint16) *Problem {
	p.without = shortcut(shortcuts)
	return p
}

// Shortcuts names the shortcuts, by their bits.
var Shortcuts = []string{"covering", "heading", "zoning", "fixing", "lookahead", "diving", "pruning", "recalling", "refuting", "parting", "shrinking", "outdoing", "leaving", "gathering"}

// Search is a search under way, as tests see it.
type Search struct{ *search }

// Observe has every search of the problem seen before each of its nodes.
func (p *Problem) Observe(see func(Search)) {
	p.observe = func(s *search) { see(Search{s}) }
}

// Aimed reports the objective and how many nodes there are so far.
func (s Search) Aimed() (objective profile.Objective, nodes int) { return s.objective, s.nodes }

// Better reports whether a set, given by its counts, would take the place of
// the incumbent if it holds.
func (s Search) Better(counts []int) bool {
	if !s.found {
		return true
	}
	other := s.p.empty()
	s.p.assemble(&other, &s.p.base, counts)
	a, b := [2]int64{int64(other.cost), int64(other.weight)}, [2]int64{int64(s.best.cost), int64(s.best.weight)}
	if s.objective == profile.Lightest {
		a[0], a[1], b[0], b[1] = a[1], a[0], b[1], b[0]
	}
	if order := slices.Compare(a[:], b[:]); order != 0 {
		return order < 0
	}
	return s.p.compareCodes(counts, s.best.counts) < 0
}

// Value returns what a set comes to in the unit of the search.
func (s Search) Value(counts []int) float64 {
	other := s.p.empty()
	s.p.assemble(&other, &s.p.base, counts)
	return s.unit.of(&other)
}

// Covers reports whether a set has nothing in it that the search takes to be
// of no use, nor anything before all there may be of what outdoes it.
func (s Search) Covers(counts []int) bool {
	for i, n := range counts {
		if n > s.p.options[i].delivered && s.bought[i] < 0 {
			return false
		}
	}
	return !slices.ContainsFunc(s.outdone, func(r rivals) bool {
		return counts[r.worse] > 0 && counts[r.better] < s.p.options[r.better].most
	})
}

// Outdone says how many options are outdone by others in what is looked for.
func (s Search) Outdone() int { return len(s.outdone) }

// Open calls yield with the bound of every open node that has a set between
// its ends.
func (s Search) Open(counts []int) (bounds []float64) {
	for _, n := range s.open {
		if s.within(&n.relax, counts) {
			bounds = append(bounds, n.bound)
		}
	}
	return bounds
}

func (s Search) within(r *relax.Relaxation, counts []int) bool {
	return s.eachCount(counts, func(column int, n float64) bool {
		low, high := r.Ends(column)
		return low <= n && n <= high
	})
}

// eachCount visits the columns that count add-ons with what a set has in them.
func (s Search) eachCount(counts []int, visit func(column int, n float64) bool) bool {
	for i, n := range counts {
		more := float64(n - s.p.options[i].delivered)
		if c := s.bought[i]; c >= 0 && !visit(c, max(more, 0)) {
			return false
		}
		if c := s.off[i]; c >= 0 && !visit(c, max(-more, 0)) {
			return false
		}
	}
	return true
}

// Held solves the model, with every row that it has by now, for one set alone.
// It reports whether it is possible, and what it costs at least.
func (s Search) Held(counts []int) (possible bool, bound float64) {
	var r relax.Relaxation
	r.Start(&s.model.relax)
	s.eachCount(counts, func(column int, n float64) bool {
		r.Move(column, n, n)
		return true
	})
	possible = r.Solve(math.Inf(1)) != relax.Impossible
	return possible, r.Bound()
}

// Rows returns how many rows the model has.
func (s Search) Rows() int { return s.model.relax.Rows() }

// Nodes solves the problem and returns how many nodes that takes, and whether
// it came to an end.
func (p *Problem) Nodes(ctx context.Context, objective profile.Objective, rules Rules) (nodes int, proved bool) {
	s := new(search)
	s.begin(ctx, p, aim{objective: objective, rules: rules, stages: []Stage{p.Demand.Today}})
	if s.crowded() {
		return 0, true
	}
	for s.explore(); s.wanting != nil; s.explore() {
		s.looked = append(s.looked, *s.wanting)
	}
	return s.nodes, s.err == nil
}

// Unsettle has some open nodes stand where a relaxation stands of which
// solving was broken off: after a step or two, anywhere between the ends.
func (s Search) Unsettle(pick func() bool) {
	for _, n := range s.open {
		if !pick() {
			continue
		}
		was := n.relax
		n.relax = relax.Relaxation{}
		n.relax.Start(&s.model.relax)
		for n.relax.Solve(math.Inf(-1)) == relax.Solved && pick() {
		}
		for j := range s.model.relax.Columns() {
			low, high := was.Ends(j)
			n.relax.Move(j, low, high)
		}
		n.settled, n.here = false, n.relax.Bound()
	}
}

// Refuted returns the sets of rules that the problem knows to be too much.
func (p *Problem) Refuted() []Rules { return p.refuted.all() }

// Refutes reports whether it follows from them that nothing keeps the rules.
func (p *Problem) Refutes(rules Rules) bool { return p.refuted.has(rules, p.asks()) }

// Limits returns the ratings of the problem.
func (p *Problem) Limits() []load.Limit { return p.limits }

// Gather returns the counts of a set that is put together without a search, or
// nil.
func (p *Problem) Gather(rules Rules) []int {
	set := p.gather(context.Background(), &aim{rules: rules, stages: []Stage{p.Demand.Today}, first: true})
	if set == nil {
		return nil
	}
	return set.counts
}
