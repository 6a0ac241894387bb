package fitting

import "math/big"

// How cargo is shared out in fractions, the plain way: one programme for every
// carrier in turn.

// plainRow is one inequality: the sum of coefficient × x is at most most.
type plainRow struct {
	coefficients []*big.Rat
	most         *big.Rat
}

// plainFirst shares a total out among variables of which each has a cap, so
// that every row holds: the first as large as possible, then the second, and
// so on; or any sharing at all. It reports false where none holds. All
// arithmetic is exact.
func plainFirst(rows []plainRow, caps []int64, total int64) ([]*big.Rat, bool) {
	n := len(caps)
	unit := func(i int, sign int64) []*big.Rat {
		c := zeros(n)
		c[i].SetInt64(sign)
		return c
	}
	all := append([]plainRow{}, rows...)
	for i, most := range caps {
		all = append(all, plainRow{unit(i, 1), new(big.Rat).SetInt64(most)})
	}
	for _, sign := range [...]int64{1, -1} {
		r := plainRow{zeros(n), new(big.Rat).SetInt64(sign * total)}
		for i := range r.coefficients {
			r.coefficients[i].SetInt64(sign)
		}
		all = append(all, r)
	}
	var x []*big.Rat
	for i := range n {
		best, ok := plainMaximise(all, i, n)
		if !ok {
			return nil, false
		}
		x = best
		// Hold this one at its greatest while the next are pushed up.
		all = append(all, plainRow{unit(i, -1), new(big.Rat).Neg(best[i])})
	}
	return x, true
}

func zeros(n int) []*big.Rat {
	z := make([]*big.Rat, n)
	for i := range z {
		z[i] = new(big.Rat)
	}
	return z
}

// plainTableau is a linear programme in dictionary form: every basic variable is a
// constant plus a combination of the others, which are zero. Variables 0 to
// n-1 are those asked for, n is the auxiliary one of the first phase, and the
// rest are the slacks of the rows. (V. Chvátal, Linear Programming, 1983,
// chapters 2 and 3; Bland's rule keeps it from cycling.)
type plainTableau struct {
	basic, others []int
	constant      []*big.Rat
	body          [][]*big.Rat // per basic variable, per other
}

// plainMaximise finds the greatest value of one variable, none negative, under the
// rows; it reports false where no values hold.
func plainMaximise(rows []plainRow, variable, n int) ([]*big.Rat, bool) {
	t := plainTableau{}
	for i := range n + 1 {
		t.others = append(t.others, i)
	}
	worst := -1
	for i, r := range rows {
		t.basic = append(t.basic, n+1+i)
		t.constant = append(t.constant, new(big.Rat).Set(r.most))
		line := make([]*big.Rat, n+1)
		for j, c := range r.coefficients {
			line[j] = new(big.Rat).Neg(c)
		}
		line[n] = big.NewRat(1, 1)
		t.body = append(t.body, line)
		if r.most.Sign() < 0 && (worst < 0 || r.most.Cmp(rows[worst].most) < 0) {
			worst = i
		}
	}
	if worst >= 0 {
		t.pivot(worst, n)
		t.climb(t.gradient(n, -1))
		if t.value(n).Sign() != 0 {
			return nil, false
		}
		t.leave(n)
	}
	t.freeze(n)
	t.climb(t.gradient(variable, 1))
	x := zeros(n)
	for i := range x {
		x[i].Set(t.value(i))
	}
	return x, true
}

// gradient returns what each other variable adds to sign × the variable.
func (t *plainTableau) gradient(variable int, sign int64) func(other int) *big.Rat {
	s := new(big.Rat).SetInt64(sign)
	return func(other int) *big.Rat {
		if t.others[other] == variable {
			return s
		}
		for i, b := range t.basic {
			if b == variable {
				return new(big.Rat).Mul(s, t.body[i][other])
			}
		}
		return new(big.Rat)
	}
}

// climb pivots until no other variable improves what gradient measures.
func (t *plainTableau) climb(gradient func(int) *big.Rat) {
	for {
		enter := -1
		for j := range t.others {
			if gradient(j).Sign() > 0 && (enter < 0 || t.others[j] < t.others[enter]) {
				enter = j
			}
		}
		if enter < 0 {
			return
		}
		leave := t.tightest(enter)
		if leave < 0 {
			return // unbounded; caps make that impossible
		}
		t.pivot(leave, enter)
	}
}

// tightest returns the basic variable that reaches zero first as another one
// grows, the lowest-numbered of equals.
func (t *plainTableau) tightest(enter int) int {
	leave, least := -1, new(big.Rat)
	for i := range t.basic {
		if t.body[i][enter].Sign() >= 0 {
			continue
		}
		ratio := new(big.Rat).Quo(t.constant[i], new(big.Rat).Neg(t.body[i][enter]))
		if c := ratio.Cmp(least); leave < 0 || c < 0 || c == 0 && t.basic[i] < t.basic[leave] {
			leave, least = i, ratio
		}
	}
	return leave
}

// pivot swaps a basic variable with another one.
func (t *plainTableau) pivot(leave, enter int) {
	line, factor := t.body[leave], new(big.Rat).Inv(t.body[leave][enter])
	for j := range line {
		if j == enter {
			line[j] = new(big.Rat).Set(factor)
		} else {
			line[j] = new(big.Rat).Neg(new(big.Rat).Mul(line[j], factor))
		}
	}
	t.constant[leave] = new(big.Rat).Neg(new(big.Rat).Mul(t.constant[leave], factor))
	t.basic[leave], t.others[enter] = t.others[enter], t.basic[leave]
	for i := range t.body {
		if i == leave {
			continue
		}
		f := t.body[i][enter]
		t.constant[i] = new(big.Rat).Add(t.constant[i], new(big.Rat).Mul(f, t.constant[leave]))
		for j := range t.body[i] {
			product := new(big.Rat).Mul(f, line[j])
			if j == enter {
				t.body[i][j] = product
			} else {
				t.body[i][j] = new(big.Rat).Add(t.body[i][j], product)
			}
		}
	}
}

func (t *plainTableau) value(variable int) *big.Rat {
	for i, b := range t.basic {
		if b == variable {
			return t.constant[i]
		}
	}
	return new(big.Rat)
}

// leave makes the auxiliary variable, at zero, one of the others.
func (t *plainTableau) leave(auxiliary int) {
	for i, b := range t.basic {
		if b != auxiliary {
			continue
		}
		for j := range t.others {
			if t.body[i][j].Sign() != 0 {
				t.pivot(i, j)
				return
			}
		}
	}
}

// freeze keeps the auxiliary variable at zero for good.
func (t *plainTableau) freeze(auxiliary int) {
	for j, o := range t.others {
		if o == auxiliary {
			for i := range t.body {
				t.body[i][j] = new(big.Rat)
			}
		}
	}
}
