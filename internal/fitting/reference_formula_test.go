// A second opinion from a solver that knows nothing of bikes: a build as
// pseudo-Boolean inequalities, minimised by github.com/crillab/gophersat
// (conflict-driven clause learning on such inequalities; its optimum comes of
// asking for something cheaper until there is none).
package fitting_test

import (
	"math/bits"
	"slices"
	"sync"

	"github.com/crillab/gophersat/solver"
)

// term is weight × literal; a literal is a variable, counted from one, or its
// negative for the opposite.
type term struct {
	literal int
	weight  int64
}

// demanded is: the sum of the terms is at least degree. Every weight is above
// zero and no variable appears twice.
type demanded struct {
	terms  []term
	degree int64
}

// formula collects inequalities.
type formula struct {
	variables int
	rows      []demanded
	rounded   []demanded // those that the solver holds only roughly; see within
	hopeless  bool       // some inequality cannot hold at all
}

func (f *formula) variable() int {
	f.variables++
	return f.variables
}

// sum is a linear form over the variables.
type sum struct {
	constant int64
	terms    []term
}

func (s *sum) add(weight int64, literal int) {
	if weight != 0 {
		s.terms = append(s.terms, term{literal, weight})
	}
}

// atLeast asks for a form to reach a degree.
func (f *formula) atLeast(s sum, degree int64) {
	f.demand(normal(s, degree))
}

// atMost asks for a form not to exceed a limit.
func (f *formula) atMost(s sum, limit int64) {
	opposite := sum{constant: -s.constant}
	for _, t := range s.terms {
		opposite.add(-t.weight, t.literal)
	}
	f.atLeast(opposite, -limit)
}

// either asks for one of the literals at least.
func (f *formula) either(literals ...int) {
	var s sum
	for _, l := range literals {
		s.add(1, l)
	}
	f.atLeast(s, 1)
}

// normal adds up what a variable is weighed with in all, and turns round what
// counts for less than nothing: −w·x is w·(1−x) − w.
func normal(s sum, degree int64) demanded {
	weights := map[int]int64{}
	degree -= s.constant
	for _, t := range s.terms {
		if t.literal < 0 {
			weights[-t.literal] -= t.weight
			degree -= t.weight
		} else {
			weights[t.literal] += t.weight
		}
	}
	d := demanded{degree: degree}
	for v, w := range weights {
		switch {
		case w > 0:
			d.terms = append(d.terms, term{v, w})
		case w < 0:
			d.terms = append(d.terms, term{-v, -w})
			d.degree -= w
		}
	}
	slices.SortFunc(d.terms, func(a, b term) int { return max(a.literal, -a.literal) - max(b.literal, -b.literal) })
	return d
}

func (f *formula) demand(d demanded) {
	if d.degree <= 0 {
		return
	}
	reach := int64(0)
	for i := range d.terms {
		d.terms[i].weight = min(d.terms[i].weight, d.degree)
		reach += d.terms[i].weight
	}
	if reach < d.degree {
		f.hopeless = true
		return
	}
	if rough, exact := within(d); !exact {
		f.rounded = append(f.rounded, d)
		d = rough
	}
	f.rows = append(f.rows, d)
}

// mostDegree is what the solver has room for: it keeps the degree of an
// inequality in 30 bits.
const mostDegree = 1<<30 - 1

// within makes an inequality small enough for the solver. Where figures have
// to be divided they are rounded up, weights and degree alike: whatever keeps
// the inequality keeps the rough one too, because the sum of what is rounded
// up is at least the quotient of the sum, and is whole. What the rough one
// lets through in error is caught by lapses.
func within(d demanded) (rough demanded, exact bool) {
	if d.degree <= mostDegree {
		return d, true
	}
	by := int64(1) << (bits.Len64(uint64(d.degree)) - 29)
	up := func(n int64) int64 { return (n + by - 1) / by }
	rough.degree = up(d.degree)
	for _, t := range d.terms {
		rough.terms = append(rough.terms, term{t.literal, up(t.weight)})
	}
	return rough, false
}

// model says of every variable whether it is true; index 0 is unused.
type model []bool

func (m model) holds(literal int) bool {
	if literal < 0 {
		return !m[-literal]
	}
	return m[literal]
}

// lapses returns, for every rounded inequality that a model breaks, a clause
// that keeps it and that the model breaks too.
func (f *formula) lapses(m model) (clauses [][]int) {
	for _, d := range f.rounded {
		if clause := d.missing(m); clause != nil {
			clauses = append(clauses, clause)
		}
	}
	return clauses
}

// missing returns nil where a model keeps the inequality. Otherwise it returns
// as few literals as come of one pass, of which one at least has to be true:
// with all of them false the rest do not reach the degree.
func (d *demanded) missing(m model) []int {
	short := d.degree
	var falsehoods []term
	for _, t := range d.terms {
		if m.holds(t.literal) {
			short -= t.weight
		} else {
			falsehoods = append(falsehoods, t)
		}
	}
	if short <= 0 {
		return nil
	}
	slices.SortStableFunc(falsehoods, func(a, b term) int { return int(min(max(a.weight-b.weight, -1), 1)) })
	clause := []int{}
	for _, t := range falsehoods {
		if t.weight < short {
			short -= t.weight
		} else {
			clause = append(clause, t.literal)
		}
	}
	return clause
}

// alone lets one solver work at a time: what it learns it writes to variables
// of its package.
var alone sync.Mutex

// least returns a model of least cost, or false where there is none.
func (f *formula) least(cost sum) (model, bool) {
	if f.hopeless {
		return nil, false
	}
	rows := make([]solver.PBConstr, 0, len(f.rows)+1)
	for _, d := range f.rows {
		c := solver.PBConstr{AtLeast: int(d.degree)}
		for _, t := range d.terms {
			c.Lits, c.Weights = append(c.Lits, t.literal), append(c.Weights, int(t.weight))
		}
		rows = append(rows, c)
	}
	// The solver learns the number of variables from what it is told, true or
	// not: this says nothing of the last one.
	rows = append(rows, solver.PBConstr{Lits: []int{f.variables, -f.variables}, AtLeast: 0})
	problem := solver.ParsePBConstrs(rows)
	if goal := normal(cost, 0); len(goal.terms) > 0 {
		var literals []solver.Lit
		var weights []int
		for _, t := range goal.terms {
			literals, weights = append(literals, solver.IntToLit(int32(t.literal))), append(weights, int(t.weight))
		}
		problem.SetCostFunc(literals, weights)
	}
	alone.Lock()
	defer alone.Unlock()
	s := solver.New(problem)
	if s.Minimize() < 0 {
		return nil, false
	}
	return append(model{false}, s.Model()...), true
}

// of returns the value of a form under a model.
func (s *sum) of(m model) int64 {
	value := s.constant
	for _, t := range s.terms {
		if m.holds(t.literal) {
			value += t.weight
		}
	}
	return value
}
