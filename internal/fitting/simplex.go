package fitting

import (
	"math/big"
	"slices"
	"sync"
)

// row is one inequality over whole numbers: the sum of of[i] × x[i] is at most
// most.
type row struct {
	of   []int64
	most big.Int
}

// tableau is a linear programme in dictionary form: every basic variable is a
// constant plus a combination of the others, which are zero. Variables 0 to
// n-1 are those asked for, n is the auxiliary one of the first phase, and the
// rest are the slacks of the rows. (V. Chvátal, Linear Programming, 1983,
// chapters 2 and 3; Bland's rule keeps it from cycling.)
//
// All of it is whole numbers over one denominator, the last number that was
// divided by. Every entry is a minor of the rows as they were written, so that
// the division of a pivot leaves no rest (E. Bareiss, 1968). Its memory serves
// again.
type tableau struct {
	n             int
	rows          []row
	basic, others []int
	lines         [][]big.Int // per basic variable: its constant, then per other
	over          big.Int     // the denominator, above zero
	a, b, c       big.Int     // scratch
}

var tableaux = sync.Pool{New: func() any { return new(tableau) }}

// begin starts with n variables and no rows.
func (t *tableau) begin(n int) { t.n, t.rows = n, t.rows[:0] }

// row adds a row of zeros, which is good until the next one.
func (t *tableau) row() *row {
	t.rows = grown(t.rows, len(t.rows)+1)
	r := &t.rows[len(t.rows)-1]
	r.of = grown(r.of, t.n)
	clear(r.of)
	r.most.SetInt64(0)
	return r
}

// first finds values, none negative, that keep the rows: the first variable as
// large as possible, then the second, and so on, so that there is one answer.
// It reports false where no values do. The rows must bound every variable. All
// arithmetic is exact.
func (t *tableau) first() bool {
	t.write()
	if !t.enter(t.n) {
		return false
	}
	for variable := range t.n {
		t.climb(variable, 1)
		t.settle(variable)
	}
	return true
}

// value returns a variable rounded down, and whether that cut anything off.
func (t *tableau) value(variable int) (whole int64, cut bool) {
	at := slices.Index(t.basic, variable)
	if at < 0 {
		return 0, false
	}
	t.a.QuoRem(&t.lines[at][0], &t.over, &t.b)
	return t.a.Int64(), t.b.Sign() > 0
}

// write starts with every slack basic, and with the auxiliary variable in every
// row.
func (t *tableau) write() {
	t.basic, t.others = t.basic[:0], t.others[:0]
	for i := range t.n + 1 {
		t.others = append(t.others, i)
	}
	t.over.SetInt64(1)
	t.lines = grown(t.lines, len(t.rows))
	for i := range t.rows {
		t.basic = append(t.basic, t.n+1+i)
		line := grown(t.lines[i], t.n+2)
		line[0].Set(&t.rows[i].most)
		for j, of := range t.rows[i].of {
			line[1+j].SetInt64(-of)
		}
		line[1+t.n].SetInt64(1)
		t.lines[i] = line
	}
}

// grown returns a list of a length, with what it held before and can hold
// again.
func grown[T any](list []T, n int) []T {
	if more := n - cap(list); more > 0 {
		list = append(list[:cap(list)], make([]T, more)...)
	}
	return list[:n]
}

// enter goes to some values that hold: it makes the auxiliary variable as small
// as can be, and lets go of it at zero. It reports false where it stays above.
func (t *tableau) enter(auxiliary int) bool {
	worst := -1
	for i := range t.lines {
		if c := &t.lines[i][0]; c.Sign() < 0 && (worst < 0 || c.Cmp(&t.lines[worst][0]) < 0) {
			worst = i
		}
	}
	if worst >= 0 {
		t.pivot(worst, auxiliary)
		t.climb(auxiliary, -1)
	}
	if at := slices.Index(t.basic, auxiliary); at >= 0 {
		if t.lines[at][0].Sign() != 0 {
			return false
		}
		for j := range t.others {
			if t.lines[at][1+j].Sign() != 0 {
				t.pivot(at, j)
				break
			}
		}
	}
	t.drop(func(j int) bool { return t.others[j] == auxiliary })
	return true
}

// climb pivots until no other variable makes sign × the variable any larger.
func (t *tableau) climb(variable, sign int) {
	for {
		enter, at := -1, slices.Index(t.basic, variable)
		for j, other := range t.others {
			better := at < 0 && other == variable && sign > 0 || at >= 0 && t.lines[at][1+j].Sign() == sign
			if better && (enter < 0 || other < t.others[enter]) {
				enter = j
			}
		}
		if enter < 0 {
			return
		}
		leave := t.tightest(enter)
		if leave < 0 {
			return // unbounded; the rows make that impossible
		}
		t.pivot(leave, enter)
	}
}

// tightest returns the basic variable that reaches zero first as another one
// grows, the lowest-numbered of equals.
func (t *tableau) tightest(enter int) int {
	leave := -1
	for i := range t.lines {
		line := t.lines[i]
		if line[1+enter].Sign() >= 0 {
			continue
		}
		if leave >= 0 {
			// How far it goes is its constant over the entry; both entries are below zero.
			order := t.b.Mul(&t.lines[leave][0], &line[1+enter]).Cmp(t.a.Mul(&line[0], &t.lines[leave][1+enter]))
			if order > 0 || order == 0 && t.basic[i] > t.basic[leave] {
				continue
			}
		}
		leave = i
	}
	return leave
}

// settle keeps a variable at its greatest while others are made larger: what
// would make it smaller stays at zero for good.
func (t *tableau) settle(variable int) {
	if at := slices.Index(t.basic, variable); at >= 0 {
		t.drop(func(j int) bool { return t.lines[at][1+j].Sign() < 0 })
	}
}

// drop leaves out the variables that stay at zero.
func (t *tableau) drop(gone func(j int) bool) {
	for j := len(t.others) - 1; j >= 0; j-- {
		if !gone(j) {
			continue
		}
		last := len(t.others) - 1
		t.others[j] = t.others[last]
		t.others = t.others[:last]
		for i, line := range t.lines {
			line[1+j], line[1+last] = line[1+last], line[1+j] // so that no two share memory
			t.lines[i] = line[:1+last]
		}
	}
}

// pivot swaps a basic variable with another one.
func (t *tableau) pivot(leave, enter int) {
	line := t.lines[leave]
	former, sign := &t.b, line[1+enter].Sign()
	former.Set(&t.over)
	t.over.Abs(&line[1+enter])
	for j := range line {
		if sign > 0 {
			line[j].Neg(&line[j])
		}
	}
	line[1+enter].Set(former)
	if sign < 0 {
		line[1+enter].Neg(&line[1+enter])
	}
	t.basic[leave], t.others[enter] = t.others[enter], t.basic[leave]
	for i := range t.lines {
		if i != leave {
			t.put(t.lines[i], line, enter, sign, former)
		}
	}
}

// put puts the line of the variable that has entered in the place of it in
// another line.
func (t *tableau) put(other, line []big.Int, enter, sign int, former *big.Int) {
	factor := t.a.Set(&other[1+enter])
	same := t.over.Cmp(former) == 0
	for j := range other {
		switch touched := factor.Sign() != 0 && line[j].Sign() != 0; {
		case j == 1+enter:
			if sign < 0 {
				other[j].Neg(&other[j])
			}
			continue
		case !touched && same:
			continue
		case !touched:
			other[j].Mul(&other[j], &t.over)
		default:
			other[j].Mul(&other[j], &t.over)
			other[j].Add(&other[j], t.c.Mul(factor, &line[j]))
		}
		other[j].Quo(&other[j], former)
	}
}
