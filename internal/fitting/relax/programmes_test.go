package relax_test

import (
	"math"
	"math/big"

	"pgregory.net/rapid"

	"kinwain/internal/fitting/relax"
)

// programme is a small one in whole numbers, all of whose points can be gone
// through.
type programme struct {
	cost, low, high []int64
	rows            []line
}

// line is: the sum of of × column is at most most, or exactly that.
type line struct {
	of    []int64
	most  int64
	equal bool
}

// drawer draws evenly, where rapid's own ranges would keep to their ends.
type drawer struct{ *rapid.T }

func of[V any](d drawer, values ...V) V { return rapid.SampledFrom(values).Draw(d.T, "of") }

func (d drawer) within(low, high int64) int64 {
	return low + of[int64](d, 0, 1, 2, 3, 4, 5, 6, 7, 8, 9, 10)%(high-low+1)
}

func (d drawer) programme(columns int64) *programme {
	p := &programme{}
	scale := of[int64](d, 1, 1, 1, 1_000, 1_000_000_000_000)
	for range d.within(1, columns) {
		low := d.within(-2, 1)
		p.low, p.high = append(p.low, low), append(p.high, low+d.within(0, 3))
		p.cost = append(p.cost, d.within(-4, 5)*of[int64](d, 1, 1, scale)+of[int64](d, 0, 0, 1))
	}
	for range d.within(0, 5) {
		p.rows = append(p.rows, d.line(p))
	}
	return p
}

// line draws a row about as wide as one whole point asks for.
func (d drawer) line(p *programme) line {
	l, scale := line{equal: of(d, false, false, false, false, true)}, of[int64](d, 1, 1, 1, 997, 1_000_000, 1_000_000_000_000)
	for j := range p.cost {
		n := d.within(-5, 5) * of[int64](d, 1, 1, 0) * of(d, 1, scale, scale)
		l.of = append(l.of, n)
		l.most += n * d.within(p.low[j], p.high[j])
	}
	if !l.equal {
		l.most += of[int64](d, 0, 0, 0, 1, -1, 3)
	}
	return l
}

// written returns the programme in the package's own form.
func (p *programme) written() *relax.Program {
	w := new(relax.Program)
	for j := range p.cost {
		w.Column(float64(p.cost[j]), float64(p.low[j]), float64(p.high[j]))
	}
	for _, l := range p.rows {
		l.write(w)
	}
	return w
}

func (l *line) write(w *relax.Program) {
	for j, n := range l.of {
		w.Term(j, float64(n))
	}
	if l.equal {
		w.Equal(float64(l.most))
	} else {
		w.AtMost(float64(l.most))
	}
}

func (l *line) holds(x []int64) bool {
	sum := int64(0)
	for j, n := range l.of {
		sum += n * x[j]
	}
	return sum == l.most || sum < l.most && !l.equal
}

// least returns the least cost of a whole point between the ends, or false
// where there is none.
func (p *programme) least(low, high []int64) (cost int64, found bool) {
	x := make([]int64, len(p.cost))
	var visit func(j int, sum int64)
	visit = func(j int, sum int64) {
		if j < len(x) {
			for x[j] = low[j]; x[j] <= high[j]; x[j]++ {
				visit(j+1, sum+p.cost[j]*x[j])
			}
			return
		}
		if found && sum >= cost {
			return
		}
		for i := range p.rows {
			if !p.rows[i].holds(x) {
				return
			}
		}
		cost, found = sum, true
	}
	visit(0, 0)
	return cost, found
}

// leastOfAll returns the least cost of any point between the ends, whole or
// not: that of the cheapest corner, of which each lies where as many rows and
// ends are equalities as there are columns. All of it is in exact fractions.
func (p *programme) leastOfAll(low, high []int64) (cost *big.Rat, found bool) {
	n := len(p.cost)
	all := append([]line{}, p.rows...)
	for j := range n {
		up, down := line{of: make([]int64, n), most: high[j]}, line{of: make([]int64, n), most: -low[j]}
		up.of[j], down.of[j] = 1, -1
		all = append(all, up, down)
	}
	var chosen []line
	var choose func(from int)
	choose = func(from int) {
		if len(chosen) == n {
			if x := crossing(chosen); x != nil && keeps(all, x) {
				if sum := times(p.cost, x); !found || sum.Cmp(cost) < 0 {
					cost, found = sum, true
				}
			}
			return
		}
		for i := from; i < len(all); i++ {
			chosen = append(chosen, all[i])
			choose(i + 1)
			chosen = chosen[:len(chosen)-1]
		}
	}
	choose(0)
	return cost, found
}

func times(of []int64, x []*big.Rat) *big.Rat {
	sum := new(big.Rat)
	for j, n := range of {
		sum.Add(sum, new(big.Rat).Mul(new(big.Rat).SetInt64(n), x[j]))
	}
	return sum
}

func keeps(rows []line, x []*big.Rat) bool {
	for i := range rows {
		if order := times(rows[i].of, x).Cmp(new(big.Rat).SetInt64(rows[i].most)); order > 0 || order < 0 && rows[i].equal {
			return false
		}
	}
	return true
}

// crossing solves rows as equations, by elimination; nil where they have no
// single solution.
func crossing(rows []line) []*big.Rat {
	n := len(rows)
	m := make([][]*big.Rat, n)
	for i, l := range rows {
		for _, v := range l.of {
			m[i] = append(m[i], new(big.Rat).SetInt64(v))
		}
		m[i] = append(m[i], new(big.Rat).SetInt64(l.most))
	}
	for column := range n {
		at := column
		for at < n && m[at][column].Sign() == 0 {
			at++
		}
		if at == n {
			return nil
		}
		m[column], m[at] = m[at], m[column]
		for i := range n {
			if i != column && m[i][column].Sign() != 0 {
				factor := new(big.Rat).Quo(m[i][column], m[column][column])
				for j := range m[i] {
					m[i][j].Sub(m[i][j], new(big.Rat).Mul(factor, m[column][j]))
				}
			}
		}
	}
	x := make([]*big.Rat, n)
	for i := range n {
		x[i] = new(big.Rat).Quo(m[i][n], m[i][i])
	}
	return x
}

// even reports whether the terms of every row are of about one size. Of others
// a bound is right, but by the tolerance of the table it need not be near.
func (p *programme) even() bool {
	for _, l := range p.rows {
		least, most := int64(math.MaxInt64), int64(0)
		for _, n := range l.of {
			if n != 0 {
				least, most = min(least, max(n, -n)), max(most, n, -n)
			}
		}
		if most > 0 && most/least > 5000 {
			return false
		}
	}
	return true
}

// size is what the costs can come to, for what counts as near.
func (p *programme) size() float64 {
	sum := 1.0
	for j, c := range p.cost {
		sum += math.Abs(float64(c)) * float64(max(p.high[j], -p.low[j], 1))
	}
	return sum
}
