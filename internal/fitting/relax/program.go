// Package relax bounds an integer programme from below by its linear
// relaxation.
//
// A Program is: the least cost of its columns, each between two ends, under
// rows that are each at most, or exactly, a number. A Relaxation solves it by
// the dual simplex method on a dense table, in floating point, and goes on
// from where it was when an end is moved. What it says of a programme does not
// rest on that table: a bound, and that nothing holds, are each worked out
// anew from the rows as they were given and from one multiplier a row, with
// the error of that sum taken off. So the table may be as wrong as it likes;
// the worst that comes of it is a bound that is too low.
package relax

import "math"

// Program is a linear programme. The zero Program is empty.
type Program struct {
	cost, lower, upper []float64 // per column
	rows               []row
	terms              []term
	begun              int // where the terms of the row being written begin
	about              Tags
}

// Tags say what rows rest on, in bits of whoever writes them.
type Tags uint16

// row is: the sum of its terms is at most most, or exactly that.
type row struct {
	from, to int // of the terms
	most     float64
	equal    bool
	about    Tags
}

type term struct {
	column int
	value  float64
}

// Reset empties the programme and keeps its memory.
func (p *Program) Reset() {
	p.cost, p.lower, p.upper = p.cost[:0], p.lower[:0], p.upper[:0]
	p.rows, p.terms, p.begun, p.about = p.rows[:0], p.terms[:0], 0, 0
}

// About says what the rows rest on that are written from now on.
func (p *Program) About(tags Tags) { p.about = tags }

// Column adds a column between two ends, both finite, and returns its number.
func (p *Program) Column(cost, lower, upper float64) int {
	p.cost, p.lower, p.upper = append(p.cost, cost), append(p.lower, lower), append(p.upper, upper)
	return len(p.cost) - 1
}

// Columns returns how many there are, and Rows how many rows.
func (p *Program) Columns() int { return len(p.cost) }

// Rows returns how many rows there are.
func (p *Program) Rows() int { return len(p.rows) }

// Raise has a column at its upper end.
func (p *Program) Raise(column int) { p.lower[column] = p.upper[column] }

// Cost returns what a column costs.
func (p *Program) Cost(column int) float64 { return p.cost[column] }

// Term adds a term to the row that AtMost or Equal ends.
func (p *Program) Term(column int, value float64) {
	if value != 0 {
		p.terms = append(p.terms, term{column, value})
	}
}

// AtMost ends a row: the terms since the last one add up to at most most. A
// row that holds wherever the columns are is left out, and it reports false.
func (p *Program) AtMost(most float64) bool {
	greatest := 0.0
	for _, t := range p.terms[p.begun:] {
		greatest += max(t.value*p.lower[t.column], t.value*p.upper[t.column])
	}
	if greatest <= most {
		p.terms = p.terms[:p.begun]
		return false
	}
	p.end(most, false)
	return true
}

// Equal ends a row: the terms since the last one add up to sum.
func (p *Program) Equal(sum float64) { p.end(sum, true) }

// Drop forgets the terms since the last row.
func (p *Program) Drop() { p.terms = p.terms[:p.begun] }

// end scales the row by a power of two, which changes nothing in its figures
// but the exponent, so that its greatest term is about one.
func (p *Program) end(most float64, equal bool) {
	greatest := 0.0
	for _, t := range p.terms[p.begun:] {
		greatest = max(greatest, math.Abs(t.value))
	}
	if greatest > 0 {
		_, exponent := math.Frexp(greatest)
		scale := math.Ldexp(1, -exponent)
		for i := range p.terms[p.begun:] {
			p.terms[p.begun+i].value *= scale
		}
		most *= scale
	}
	p.rows = append(p.rows, row{p.begun, len(p.terms), most, equal, p.about})
	p.begun = len(p.terms)
}
