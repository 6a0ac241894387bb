// Package coverage says which bikes serve most customers: of a table of who fits
// what, the choice of so many bikes with which as many customers as possible have
// one that fits, exactly; which one more adds most, and which one is missed
// least. It also counts what kept the others from riding, by what was in the way,
// and never by whom.
//
// The choice is the problem of maximum coverage. search.go solves it by branch
// and bound, bound.go says how well any choice can do at the most: in whole
// numbers, so that no answer rests on a rounding.
package coverage

import (
	"cmp"
	"slices"

	"kinwain/internal/measure"
)

// Grade says how a bike fits a customer.
type Grade uint8

// The grades, from the worst. A customer is served by a bike that fits with care
// too: an answer that is still open is reason enough for care, and there is one
// in most consultations. How many are served without any is counted beside it.
const (
	No Grade = iota
	WithCare
	Well
)

// Bike is a frame that may be chosen.
type Bike struct {
	Code  string
	Price measure.Money
}

// Table says how each bike fits each customer: a row for every customer, a
// grade for every bike.
type Table struct {
	Bikes []Bike
	Rows  [][]Grade
}

// Count is how many customers are served, and how many of them without care.
type Count struct{ Served, Well int }

// Served counts whom any of some bikes fits.
func (t *Table) Served(bikes []int) Count {
	var n Count
	for _, row := range t.Rows {
		best := gradeOf(row, bikes)
		if best > No {
			n.Served++
		}
		if best == Well {
			n.Well++
		}
	}
	return n
}

// gradeOf is how well a customer is served by the best of some bikes.
func gradeOf(row []Grade, bikes []int) Grade {
	best := No
	for _, b := range bikes {
		best = max(best, row[b])
	}
	return best
}

// Step is one bike more, or one less, and how many customers that makes.
type Step struct{ Bike, Customers int }

// Next lists the bikes beside those there are that add customers, the one that
// adds most first; of equals the cheaper, then by code.
func (t *Table) Next(have []int) []Step {
	var steps []Step
	now := t.Served(have).Served
	for b := range t.Bikes {
		if slices.Contains(have, b) {
			continue
		}
		if added := t.Served(append(slices.Clone(have), b)).Served - now; added > 0 {
			steps = append(steps, Step{b, added})
		}
	}
	slices.SortFunc(steps, func(a, b Step) int {
		return cmp.Or(b.Customers-a.Customers, cmp.Compare(t.Bikes[a.Bike].Price, t.Bikes[b.Bike].Price), cmp.Compare(t.Bikes[a.Bike].Code, t.Bikes[b.Bike].Code))
	})
	return steps
}

// Without lists the bikes there are with the customers that none of the others
// fits, the one that is missed least first; of equals the dearer, then by code.
func (t *Table) Without(have []int) []Step {
	var steps []Step
	now := t.Served(have).Served
	for i, b := range have {
		steps = append(steps, Step{b, now - t.Served(slices.Delete(slices.Clone(have), i, i+1)).Served})
	}
	slices.SortFunc(steps, func(a, b Step) int {
		return cmp.Or(a.Customers-b.Customers, cmp.Compare(t.Bikes[b.Bike].Price, t.Bikes[a.Bike].Price), cmp.Compare(t.Bikes[a.Bike].Code, t.Bikes[b.Bike].Code))
	})
	return steps
}
