package fitting_test

import (
	"math/big"
	"testing"

	"pgregory.net/rapid"
)

// sharing looks for values of zero or more for which every row of a table
// holds: the sum of entry × value is at most the last entry. Where there are
// none it returns weights for the rows instead, each zero or more, under which
// every column adds up to zero or more and the last to less.
//
// It is the simplex method on the slacks: as long as some variable is
// negative, the first such is exchanged with the first one that raises it.
// Taking the first keeps it from running in circles (the criss-cross method of
// T. Terlaky, 1985, without an objective). Where nothing raises it its row is
// the proof, and the entries for the slacks are the weights.
func sharing(table [][]*big.Rat) (values, weights []*big.Rat) {
	t := newTable(table)
	for {
		row := t.firstShort()
		if row < 0 {
			return t.now(), nil
		}
		column := t.firstRaising(row)
		if column < 0 {
			return nil, t.proof(row)
		}
		t.exchange(row, column)
	}
}

// slackTable holds every row as: slack + sum of entry × variable = last entry.
// Variables are numbered first the values, then the slacks.
type slackTable struct {
	values  int
	rows    [][]*big.Rat
	basic   []int // per row, the variable that it determines
	outside []int // per column, the variable that is zero
}

func newTable(table [][]*big.Rat) *slackTable {
	t := &slackTable{values: len(table[0]) - 1}
	for c := range t.values {
		t.outside = append(t.outside, c)
	}
	for r, row := range table {
		t.basic = append(t.basic, t.values+r)
		copied := make([]*big.Rat, len(row))
		for c := range row {
			copied[c] = new(big.Rat).Set(row[c])
		}
		t.rows = append(t.rows, copied)
	}
	return t
}

// firstShort returns the row of the first variable that is negative, or -1.
func (t *slackTable) firstShort() int {
	short := -1
	for r := range t.rows {
		if t.rows[r][t.values].Sign() < 0 && (short < 0 || t.basic[r] < t.basic[short]) {
			short = r
		}
	}
	return short
}

// firstRaising returns the column of the first variable that raises the one of
// a row as it grows, or -1.
func (t *slackTable) firstRaising(row int) int {
	raising := -1
	for c := range t.values {
		if t.rows[row][c].Sign() < 0 && (raising < 0 || t.outside[c] < t.outside[raising]) {
			raising = c
		}
	}
	return raising
}

// exchange lets a row determine the variable of a column.
func (t *slackTable) exchange(row, column int) {
	line := t.rows[row]
	inverse := new(big.Rat).Inv(line[column])
	for c := range line {
		if c != column {
			line[c].Mul(line[c], inverse)
		}
	}
	line[column].Set(inverse)
	product := new(big.Rat)
	for r, other := range t.rows {
		if r == row || other[column].Sign() == 0 {
			continue
		}
		factor := new(big.Rat).Set(other[column])
		for c := range other {
			if c != column {
				other[c].Sub(other[c], product.Mul(factor, line[c]))
			}
		}
		other[column].Neg(product.Mul(factor, inverse))
	}
	t.basic[row], t.outside[column] = t.outside[column], t.basic[row]
}

// now returns the values as they are.
func (t *slackTable) now() []*big.Rat {
	values := rats(t.values)
	for r, v := range t.basic {
		if v < t.values {
			values[v].Set(t.rows[r][t.values])
		}
	}
	return values
}

// proof returns the weights of the rows at the start that add up to the row.
func (t *slackTable) proof(row int) []*big.Rat {
	weights := rats(len(t.rows))
	give := func(variable int, entry *big.Rat) {
		if variable >= t.values {
			weights[variable-t.values].Set(entry)
		}
	}
	for c, v := range t.outside {
		give(v, t.rows[row][c])
	}
	give(t.basic[row], rat(1))
	return weights
}

// Whatever the simplex method says is checked here on its own: values are put
// into the rows, and weights are added up.
func TestReferenceSharingIsProven(t *testing.T) {
	t.Parallel()
	possible, ruledOut := 0, 0
	rapid.Check(t, func(t *rapid.T) {
		n, rows := rapid.IntRange(1, 4).Draw(t, "values"), rapid.IntRange(1, 6).Draw(t, "rows")
		table := make([][]*big.Rat, rows)
		for r := range table {
			for range n + 1 {
				table[r] = append(table[r], big.NewRat(int64(rapid.IntRange(-6, 6).Draw(t, "over")), int64(rapid.IntRange(1, 3).Draw(t, "under"))))
			}
		}
		values, weights := sharing(table)
		if weights == nil {
			possible++
			checkValues(t, table, values)
		} else {
			ruledOut++
			checkWeights(t, table, weights)
		}
	})
	if possible == 0 || ruledOut == 0 {
		t.Errorf("%d possible and %d ruled out are too few to tell", possible, ruledOut)
	}
}

func checkValues(t *rapid.T, table [][]*big.Rat, values []*big.Rat) {
	for _, row := range table {
		total := new(big.Rat)
		for c, v := range values {
			if v.Sign() < 0 {
				t.Fatalf("a value below zero: %v", values)
			}
			total.Add(total, new(big.Rat).Mul(row[c], v))
		}
		if total.Cmp(row[len(values)]) > 0 {
			t.Fatalf("the values %v do not keep %v", values, row)
		}
	}
}

func checkWeights(t *rapid.T, table [][]*big.Rat, weights []*big.Rat) {
	last := len(table[0]) - 1
	for c := range last + 1 {
		total := new(big.Rat)
		for r, w := range weights {
			if w.Sign() < 0 {
				t.Fatalf("a weight below zero: %v", weights)
			}
			total.Add(total, new(big.Rat).Mul(w, table[r][c]))
		}
		if sign := total.Sign(); c < last && sign < 0 || c == last && sign >= 0 {
			t.Fatalf("the weights %v prove nothing about %v", weights, table)
		}
	}
}
