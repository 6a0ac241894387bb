package fitting

import (
	"cmp"
	"math"
	"slices"
)

// guess looks for a sharing in floating point, and only says what it can then
// prove: that the sharing found holds, or that none does. Where rounding hides
// both, it leaves the answer open.
func (c *seating) guess(load cargo) (holds, known bool) {
	t := c.slackTable(load)
	shares, weights := t.solve()
	switch {
	case shares != nil:
		ok := c.try(shares, load)
		return ok, ok
	case weights != nil:
		return false, c.surelyOverTogether(weights, load)
	}
	return false, false
}

// slackTable holds rows of: slack + sum of entry × share = last entry. Shares
// are parts of the whole cargo; they come first, then the slacks: one for
// every limit, for every carrier's own cap, and two for the whole.
type slackTable struct {
	shares, limits int
	rows           [][]float64
	basic          []int // per row, the variable that it determines
	outside        []int // per column, the variable that is zero
}

func (c *seating) slackTable(load cargo) *slackTable {
	n := len(c.hold)
	t := &slackTable{shares: n, limits: len(c.p.limits)}
	height := t.limits + n + 2
	entries := make([]float64, height*(n+1))
	for range height {
		t.rows = append(t.rows, entries[:n+1:n+1])
		entries = entries[n+1:]
		t.basic = append(t.basic, n+len(t.basic))
	}
	total, whole := float64(load.total), t.limits+n
	for l, row := range t.rows[:t.limits] {
		if !c.steers(l) && !c.weighs(l) {
			row[n] = 1 // 0 ≤ 1
			continue
		}
		scale := c.scale(l)
		for i := range c.hold {
			row[i] = float64(c.hold[i].per[l]) / scale
		}
		row[n] = float64(c.p.limits[l].Cap-c.load[l]) * float64(load.mass) / total / scale
	}
	for i := range c.hold {
		t.outside = append(t.outside, i)
		t.rows[t.limits+i][i], t.rows[t.limits+i][n] = 1, float64(c.hold[i].most)/total
		t.rows[whole][i], t.rows[whole+1][i] = 1, -1
	}
	t.rows[whole][n], t.rows[whole+1][n] = 1, -1
	return t
}

// scale returns the greatest of what a gram takes up of a limit.
func (c *seating) scale(l int) float64 {
	most := int64(1)
	for i := range c.hold {
		most = max(most, c.hold[i].per[l], -c.hold[i].per[l])
	}
	return float64(most)
}

// tiny is taken for zero among entries that are about one.
const tiny = 1e-9

// solve exchanges the first variable that is negative with the first one that
// raises it, which does not run in circles (the criss-cross method of T.
// Terlaky, 1985, without an objective; from memory). It returns the shares;
// or, where nothing raises a variable, the weights of the limits in the row
// that proves it; or, where rounding gets in the way, neither.
func (t *slackTable) solve() (shares, weights []float64) {
	for range 50 * len(t.rows) {
		row := t.first(func(r int) bool { return t.rows[r][t.shares] < -tiny }, t.basic)
		if row < 0 {
			return t.now(), nil
		}
		column := t.first(func(j int) bool { return t.rows[row][j] < -tiny }, t.outside)
		if column < 0 {
			return nil, t.proof(row)
		}
		t.exchange(row, column)
	}
	return nil, nil
}

// first returns the index with the lowest variable of those wanted, or -1.
func (t *slackTable) first(wanted func(int) bool, variables []int) int {
	best := -1
	for i, v := range variables {
		if wanted(i) && (best < 0 || v < variables[best]) {
			best = i
		}
	}
	return best
}

func (t *slackTable) exchange(row, column int) {
	line := t.rows[row]
	factor := 1 / line[column]
	for j := range line {
		line[j] *= factor
	}
	line[column] = factor
	for r, other := range t.rows {
		f := other[column]
		if r == row || f == 0 {
			continue
		}
		for j := range other {
			other[j] -= f * line[j]
		}
		other[column] = -f * factor
	}
	t.basic[row], t.outside[column] = t.outside[column], t.basic[row]
}

func (t *slackTable) now() []float64 {
	shares := make([]float64, t.shares)
	for r, v := range t.basic {
		if v < t.shares {
			shares[v] = max(t.rows[r][t.shares], 0)
		}
	}
	return shares
}

func (t *slackTable) proof(row int) []float64 {
	weights := make([]float64, t.limits)
	note := func(v int, weight float64) {
		if l := v - t.shares; l >= 0 && l < t.limits {
			weights[l] = max(weight, 0)
		}
	}
	note(t.basic[row], 1)
	for j, v := range t.outside {
		note(v, t.rows[row][j])
	}
	return weights
}

// try rounds shares to portions that add up to the whole and reports whether
// they keep every limit.
func (c *seating) try(shares []float64, load cargo) bool {
	left := load.total
	c.portions = c.portions[:0]
	for i, s := range shares {
		portion := min(int64(s*float64(load.total)), c.hold[i].most, left)
		c.portions = append(c.portions, portion)
		left -= portion
	}
	for i := range c.portions {
		more := min(left, c.hold[i].most-c.portions[i])
		c.portions[i] += more
		left -= more
	}
	if left > 0 {
		return false
	}
	for l := range c.p.limits {
		if c.steers(l) && c.booked(l) > (c.p.limits[l].Cap-c.load[l])*load.mass {
			return false
		}
	}
	return c.axlesBear(load)
}

// surelyOverTogether reports whether the limits, added up with weights, are
// exceeded wherever the cargo goes: even with all of it where it takes up
// least of that sum. What rounding can do to it is far less than surely × size.
func (c *seating) surelyOverTogether(weights []float64, load cargo) bool {
	takes, sizes := make([]float64, len(c.hold)), make([]float64, len(c.hold))
	spare, size := 0.0, 0.0
	for l, weight := range weights {
		if weight == 0 || !c.steers(l) && !c.weighs(l) {
			continue
		}
		weight /= c.scale(l)
		room := weight * float64(c.p.limits[l].Cap-c.load[l]) * float64(load.mass)
		spare, size = spare+room, size+math.Abs(room)
		for i := range c.hold {
			part := weight * float64(c.hold[i].per[l])
			takes[i], sizes[i] = takes[i]+part, sizes[i]+math.Abs(part)
		}
	}
	c.order = c.order[:0]
	for i := range c.hold {
		c.order = append(c.order, i)
	}
	slices.SortStableFunc(c.order, func(a, b int) int { return cmp.Compare(takes[a], takes[b]) })
	left, sum := load.total, 0.0
	for _, i := range c.order {
		share := min(c.hold[i].most, left)
		left -= share
		sum, size = sum+takes[i]*float64(share), size+sizes[i]*float64(share)
	}
	return sum-spare > surely*size
}
