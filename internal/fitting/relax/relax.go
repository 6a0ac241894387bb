package relax

import (
	"math"
	"slices"
)

// Relaxation solves a programme and goes on from there when the ends of its
// columns are moved. The zero Relaxation is not ready; see Start.
//
// Every variable is a column or the slack of a row: row + slack = most. The
// table writes every basic variable, and the cost, as a constant less a
// combination of the others, which each stand at one of their ends:
//
//	basic = constant − Σ table × other,  cost = constant + Σ reduced × other
//
// Inv: reduced is none below zero where the other is at its lower end, and
// none above where it is at its upper end, so the cost is a bound throughout.
// The method takes one basic variable after the other to the end that it is
// beyond, and raises the cost on the way (bounded dual simplex; A. Koberstein,
// The Dual Simplex Method, 2005, chapter 3). The next one is that which is the
// farthest beyond for how long its row is, of which weight is an estimate from
// below (devex; P. Harris, 1973, from memory): of long rows many are far beyond
// that others take back with them.
type Relaxation struct {
	p       *Program
	width   int       // columns of the table
	table   []float64 // one row after the other
	value   []float64 // per row, of its basic variable
	reduced []float64 // per column of the table
	basic   []int     // per row, its variable
	others  []int     // per column of the table, its variable
	where   []int     // per variable, its column of the table, or −1 − its row
	raised  []bool    // per variable, while it is none of the basic: at its upper end
	lower   []float64 // per variable
	upper   []float64
	cost    float64
	weight  []float64 // per row, about the square of its length over what it was at the start
	filled  []int     // scratch: where a row of the table is not zero
	y       []float64
	blamed  Tags
	proof   proof // of Bound
	ahead   proof // of everything else
}

// Outcome says what solving came to.
type Outcome int

// The outcomes.
const (
	Solved     Outcome = iota // Value is an optimum of the relaxation, about
	Impossible                // proved: no point keeps the rows
	Unsure                    // rounding, or the number of steps, got in the way
)

// tolerance is how far beyond an end a variable counts as at it: rows are
// scaled so that their terms are about one.
const (
	tolerance = 1e-9
	pivotal   = 1e-7 // what is smaller is no good to divide by
	heaviest  = 1e12 // no row weighs more
)

// Start makes the relaxation stand at the lower ends of all columns that cost
// something and at the upper ends of those that earn something.
func (r *Relaxation) Start(p *Program) {
	n, m := len(p.cost), len(p.rows)
	r.p, r.width, r.cost = p, n, 0
	r.table = grown(r.table, n*m)
	clear(r.table)
	r.value, r.reduced, r.y = grown(r.value, m), grown(r.reduced, n), grown(r.y, m)
	r.weight = grown(r.weight, m)
	for i := range r.weight {
		r.weight[i] = 1
	}
	r.basic, r.others, r.where, r.raised = grown(r.basic, m), grown(r.others, n), grown(r.where, n+m), grown(r.raised, n+m)
	r.lower, r.upper = append(r.lower[:0], p.lower...), append(r.upper[:0], p.upper...)
	for j, c := range p.cost {
		r.others[j], r.where[j], r.reduced[j], r.raised[j] = j, j, c, c < 0
		r.cost += c * r.at(j)
	}
	for i := range p.rows {
		row := &p.rows[i]
		r.basic[i], r.where[n+i], r.raised[n+i] = n+i, -1-i, false
		most := math.Inf(1)
		if row.equal {
			most = 0
		}
		r.lower, r.upper = append(r.lower, 0), append(r.upper, most)
		value := row.most
		for _, t := range p.terms[row.from:row.to] {
			r.table[i*n+t.column] += t.value
			value -= t.value * r.at(t.column)
		}
		r.value[i] = value
	}
}

// Extend takes in the rows that the programme was given since Start. It
// reports whether there are any.
func (r *Relaxation) Extend() bool {
	n, before := len(r.p.cost), len(r.y)
	for i := len(r.y); i < len(r.p.rows); i++ {
		row := &r.p.rows[i]
		r.table = slices.Grow(r.table, r.width)[:len(r.table)+r.width]
		line := r.table[len(r.table)-r.width:]
		clear(line)
		value := row.most
		for _, t := range r.p.terms[row.from:row.to] {
			value -= t.value * r.Value(t.column)
			where := r.where[t.column]
			if where == settled {
				continue
			}
			if where >= 0 {
				line[where] += t.value
				continue
			}
			at := -1 - where
			for j, x := range r.table[at*r.width : (at+1)*r.width] {
				line[j] -= t.value * x
			}
		}
		most := math.Inf(1)
		if row.equal {
			most = 0
		}
		r.lower, r.upper, r.raised = append(r.lower, 0), append(r.upper, most), append(r.raised, false)
		r.where, r.basic = append(r.where, -1-len(r.basic)), append(r.basic, n+i)
		r.value, r.y = append(r.value, value), append(r.y, 0)
		r.weight = append(r.weight, 1)
	}
	return len(r.y) > before
}

// CopyFrom makes the relaxation stand where another one does. What is settled
// there for good takes up no room here: columns whose two ends are the same,
// and rows that hold wherever the columns are.
func (r *Relaxation) CopyFrom(o *Relaxation) {
	n := len(o.p.cost)
	r.p, r.cost = o.p, o.cost
	r.where = append(r.where[:0], o.where...)
	r.raised, r.lower, r.upper = append(r.raised[:0], o.raised...), append(r.lower[:0], o.lower...), append(r.upper[:0], o.upper...)
	r.y = grown(r.y, len(o.y))
	r.others, r.reduced, r.filled = r.others[:0], r.reduced[:0], r.filled[:0]
	for j, v := range o.others {
		if v < n && o.lower[v] == o.upper[v] {
			r.where[v] = settled
			continue
		}
		r.where[v] = len(r.others)
		r.others, r.reduced, r.filled = append(r.others, v), append(r.reduced, o.reduced[j]), append(r.filled, j)
	}
	r.width = len(r.others)
	r.basic, r.value, r.table = r.basic[:0], r.value[:0], r.table[:0]
	r.weight = r.weight[:0]
	for i, v := range o.basic {
		if v >= n && o.idle(v-n) {
			r.where[v] = settled
			continue
		}
		r.where[v] = -1 - len(r.basic)
		r.basic, r.value = append(r.basic, v), append(r.value, o.value[i])
		r.weight = append(r.weight, o.weight[i])
		line := o.table[i*o.width : (i+1)*o.width]
		if r.width == o.width {
			r.table = append(r.table, line...)
			continue
		}
		for _, j := range r.filled {
			r.table = append(r.table, line[j])
		}
	}
}

// settled is where a variable is that takes no part any more.
const settled = math.MinInt

// idle reports whether a row holds wherever the columns are.
func (r *Relaxation) idle(i int) bool {
	row := &r.p.rows[i]
	if row.equal {
		return false
	}
	greatest := 0.0
	for _, t := range r.p.terms[row.from:row.to] {
		if t.value > 0 {
			greatest += t.value * r.upper[t.column]
		} else {
			greatest += t.value * r.lower[t.column]
		}
	}
	return greatest <= row.most
}

func grown[T any](s []T, n int) []T {
	if cap(s) < n {
		return make([]T, n)
	}
	return s[:n]
}

// at returns the end at which a variable stands that is none of the basic.
func (r *Relaxation) at(v int) float64 {
	if r.raised[v] {
		return r.upper[v]
	}
	return r.lower[v]
}

// Value returns where a column stands.
func (r *Relaxation) Value(column int) float64 {
	if at := r.where[column]; at < 0 && at != settled {
		return r.value[-1-at]
	}
	return r.at(column)
}

// Ends returns the ends of a column.
func (r *Relaxation) Ends(column int) (lower, upper float64) {
	return r.lower[column], r.upper[column]
}

// Move gives a column other ends, within those of the programme.
func (r *Relaxation) Move(column int, lower, upper float64) {
	before := 0.0
	j := r.where[column]
	if j >= 0 {
		before = r.at(column)
	}
	r.lower[column], r.upper[column] = lower, upper
	if j < 0 {
		return
	}
	by := r.at(column) - before
	if by == 0 {
		return
	}
	for i := range r.value {
		r.value[i] -= r.table[i*r.width+j] * by
	}
	r.cost += r.reduced[j] * by
}

// Solve takes every basic variable between its ends, or until the cost has
// surely passed the given one.
func (r *Relaxation) Solve(enough float64) Outcome {
	for range 50 + 10*(len(r.value)+r.width) {
		row, below := r.beyond()
		if row < 0 {
			return Solved
		}
		column := r.entering(row, below)
		if column < 0 {
			if r.impossible(row, below) {
				return Impossible
			}
			return Unsure
		}
		r.step(row, column, below)
		if r.cost > enough && r.Bound() > enough {
			return Solved
		}
	}
	return Unsure
}

// beyond returns the row whose variable is farthest beyond an end for its
// weight, and which end, or -1.
func (r *Relaxation) beyond() (row int, below bool) {
	row = -1
	most := 0.0
	for i, v := range r.basic {
		at := r.value[i]
		by, under := r.lower[v]-at, true
		if by <= tolerance { // it is beyond one end at the most
			if by, under = at-r.upper[v], false; by <= tolerance {
				continue
			}
		}
		if by*by > most*r.weight[i] {
			row, below, most = i, under, by*by/r.weight[i]
		}
	}
	return row, below
}

// entering returns the column of the table that takes the row's variable back
// and keeps every reduced cost on its side: the one whose own reaches zero
// first, and of about equals the one that is safest to divide by.
func (r *Relaxation) entering(row int, below bool) int {
	line := r.table[row*r.width : (row+1)*r.width]
	column, least, size := -1, math.Inf(1), 0.0
	for j, t := range line {
		if math.Abs(t) < pivotal {
			continue
		}
		v := r.others[j]
		if (t > 0) != (r.raised[v] == below) || r.lower[v] == r.upper[v] {
			continue
		}
		ratio := math.Abs(r.reduced[j] / t)
		if ratio < least-tolerance*(1+least) || ratio <= least+tolerance*(1+least) && math.Abs(t) > size {
			column, least, size = j, min(ratio, least), math.Abs(t)
		}
	}
	return column
}

// step exchanges the variables of a row and a column; the former basic one
// then stands at the end that it was beyond.
func (r *Relaxation) step(row, column int, below bool) {
	n := r.width
	line := r.table[row*n : (row+1)*n]
	out, in := r.basic[row], r.others[column]
	end := r.upper[out]
	if below {
		end = r.lower[out]
	}
	pivot := line[column]
	by := (r.value[row] - end) / pivot
	entered := r.at(in) + by
	r.cost += r.reduced[column] * by
	r.divide(line, column, pivot)
	weight := r.weight[row] / (pivot * pivot)
	r.weight[row] = min(max(weight, 1), heaviest)
	whole := 3*len(r.filled) > n // then to go through all of a row is quicker
	for i := range r.value {
		other := r.table[i*n:][:len(line)]
		f := other[column]
		if f == 0 || i == row {
			continue
		}
		r.value[i] -= f * by
		if w := f * f * weight; w > r.weight[i] {
			r.weight[i] = min(w, heaviest)
		}
		if other[column] = 0; whole {
			for j, t := range line {
				other[j] -= f * t
			}
			continue
		}
		for _, j := range r.filled {
			other[j] -= f * line[j]
		}
		other[column] = -f * line[column]
	}
	f := r.reduced[column]
	for _, j := range r.filled {
		r.reduced[j] -= f * line[j]
	}
	r.reduced[column] = -f * line[column]
	r.value[row] = entered
	r.basic[row], r.others[column] = in, out
	r.where[in], r.where[out] = -1-row, column
	r.raised[out] = !below
}

// divide turns the row of a table into that of the entering variable, and
// notes where else it is not zero.
func (r *Relaxation) divide(line []float64, column int, pivot float64) {
	r.filled = r.filled[:0]
	for j, t := range line {
		if j == column || t == 0 {
			continue
		}
		if math.Abs(t) < 1e-13 {
			line[j] = 0
			continue
		}
		line[j] = t / pivot
		r.filled = append(r.filled, j)
	}
	line[column] = 1 / pivot
}
