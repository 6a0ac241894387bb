// How cargo may be shared out, decided by brute force: a sharing that holds
// exists where, and only where, one corner of the polytope of sharings does,
// and every corner is where enough of the inequalities are equalities. All of
// it is in exact fractions.
package fitting_test

import (
	"math/big"
	"testing"

	"kinwain/internal/fitting"
	"kinwain/internal/measure"
)

// inequality is: the sum of of[i] × x[i] is at most most.
type inequality struct {
	of   []*big.Rat
	most *big.Rat
}

func (q inequality) holds(x []*big.Rat) bool {
	sum := new(big.Rat)
	for i := range x {
		sum.Add(sum, new(big.Rat).Mul(q.of[i], x[i]))
	}
	return sum.Cmp(q.most) <= 0
}

func rat(n int64) *big.Rat { return new(big.Rat).SetInt64(n) }

func rats(n int) []*big.Rat {
	list := make([]*big.Rat, n)
	for i := range list {
		list[i] = new(big.Rat)
	}
	return list
}

// corners visits the corners of all x of length n that sum up to one and keep
// every inequality, until visit reports true.
func corners(n int, rows []inequality, visit func(x []*big.Rat) bool) bool {
	whole := inequality{rats(n), rat(1)}
	for i := range whole.of {
		whole.of[i].SetInt64(1)
	}
	chosen := []inequality{whole}
	var choose func(from int) bool
	choose = func(from int) bool {
		if len(chosen) == n {
			x := crossing(chosen)
			return x != nil && allHold(rows, x) && visit(x)
		}
		for i := from; i < len(rows); i++ {
			chosen = append(chosen, rows[i])
			found := choose(i + 1)
			chosen = chosen[:len(chosen)-1]
			if found {
				return true
			}
		}
		return false
	}
	return choose(0)
}

func allHold(rows []inequality, x []*big.Rat) bool {
	for _, q := range rows {
		if !q.holds(x) {
			return false
		}
	}
	return true
}

// crossing solves the rows as equations, by elimination; nil where they have
// no single solution.
func crossing(rows []inequality) []*big.Rat {
	n := len(rows)
	m := make([][]*big.Rat, n)
	for i, q := range rows {
		for _, v := range append(append([]*big.Rat{}, q.of...), q.most) {
			m[i] = append(m[i], new(big.Rat).Set(v))
		}
	}
	for col := range n {
		pivot := col
		for pivot < n && m[pivot][col].Sign() == 0 {
			pivot++
		}
		if pivot == n {
			return nil
		}
		m[col], m[pivot] = m[pivot], m[col]
		for i := range n {
			if i != col && m[i][col].Sign() != 0 {
				eliminate(m[i], m[col], col)
			}
		}
	}
	x := make([]*big.Rat, n)
	for i := range n {
		x[i] = new(big.Rat).Quo(m[i][n], m[i][i])
	}
	return x
}

func eliminate(row, by []*big.Rat, col int) {
	factor := new(big.Rat).Quo(row[col], by[col])
	for j := range row {
		row[j].Sub(row[j], new(big.Rat).Mul(factor, by[j]))
	}
}

// carrier is what can take cargo: how much of the whole, and in which zone.
type carrier struct {
	code  string
	zone  int
	share *big.Rat // of the whole cargo, by its kilograms, litres and rating
}

// bound is what a rating leaves for cargo.
type bound struct {
	rating *rating
	room   int64
}

// stowage is the question how a cargo may be shared out.
type stowage struct {
	w        *world
	mass     measure.Mass // of the cargo that counts
	carriers []carrier
	bounds   []bound
	lean     int64 // by which the left is heavier with all but the cargo on
}

// possible reports whether any sharing holds.
func (s *stowage) possible() bool {
	if ok, known := s.plainly(); known {
		return ok
	}
	return s.mostOf(-1, nil) != nil
}

// mostOf returns the greatest part that carrier k may take where those before
// it have taken theirs, or nil where nothing holds. With k at -1 the answer is
// any number at all. Carriers of one zone are alike but for their capacity, so
// each zone is one unknown, and k another.
func (s *stowage) mostOf(k int, before []*big.Rat) *big.Rat {
	zones := len(s.w.frame.Zones)
	n := zones + b2i(k >= 0)
	free, given := rats(n), rats(zones)
	at := make([]int, n)
	for z := range zones {
		at[z] = z
	}
	if k >= 0 {
		at[zones] = s.carriers[k].zone
		free[zones].Set(s.carriers[k].share)
	}
	left := rat(1)
	for i, c := range s.carriers {
		switch {
		case i < len(before):
			given[c.zone].Add(given[c.zone], before[i])
			left.Sub(left, before[i])
		case i != k:
			free[c.zone].Add(free[c.zone], c.share)
		}
	}
	return s.solve(n, k, at, free, given, left)
}

// solve asks the corners. The unknowns are parts of what is left, which is
// scaled to one.
func (s *stowage) solve(n, k int, at []int, free, given []*big.Rat, left *big.Rat) *big.Rat {
	if left.Sign() == 0 {
		if s.within(given) {
			return new(big.Rat)
		}
		return nil
	}
	var rows []inequality
	for i := range n {
		cap, floor := inequality{rats(n), new(big.Rat).Quo(free[i], left)}, inequality{rats(n), new(big.Rat)}
		cap.of[i].SetInt64(1)
		floor.of[i].SetInt64(-1)
		rows = append(rows, cap, floor)
	}
	for _, b := range s.bounds {
		q := inequality{rats(n), rat(b.room)}
		for z, part := range given {
			q.most.Sub(q.most, new(big.Rat).Mul(part, s.weighs(b, z)))
		}
		for i := range n {
			q.of[i].Mul(s.weighs(b, at[i]), left)
		}
		rows = append(rows, q)
	}
	var most *big.Rat
	corners(n, rows, func(x []*big.Rat) bool {
		if k < 0 {
			most = x[0]
			return true
		}
		if most == nil || x[n-1].Cmp(most) > 0 {
			most = x[n-1]
		}
		return false
	})
	if most == nil {
		return nil
	}
	return new(big.Rat).Mul(most, left)
}

func (s *stowage) within(given []*big.Rat) bool {
	for _, b := range s.bounds {
		sum := new(big.Rat)
		for z, part := range given {
			sum.Add(sum, new(big.Rat).Mul(part, s.weighs(b, z)))
		}
		if sum.Cmp(rat(b.room)) > 0 {
			return false
		}
	}
	return true
}

// weighs returns what the whole cargo in a zone would take of a bound.
func (s *stowage) weighs(b bound, zone int) *big.Rat {
	return rat(int64(s.mass) * b.rating.per(zone, s.w.frame.Zones[zone].Ahead))
}

// plainly answers possible where no bound ties zones together, by adding up;
// known is false where one does.
func (s *stowage) plainly() (ok, known bool) {
	room := make([]*big.Rat, len(s.w.frame.Zones))
	for z := range room {
		room[z] = new(big.Rat)
	}
	for _, c := range s.carriers {
		room[c.zone].Add(room[c.zone], c.share)
	}
	for _, b := range s.bounds {
		if b.rating.rule == fitting.CombinedRating || b.rating.rule == fitting.AxleRating || b.rating.rule == fitting.FrontLight {
			return false, false
		}
		if b.rating.rule != fitting.ZoneRating || s.mass == 0 {
			continue
		}
		z := b.rating.zones[0]
		if bears := big.NewRat(b.room, int64(s.mass)); bears.Cmp(room[z]) < 0 {
			room[z] = bears
		}
	}
	sum := new(big.Rat)
	for _, r := range room {
		sum.Add(sum, r)
	}
	return sum.Cmp(rat(1)) >= 0, true
}

// side is 1 for a zone on the left, −1 for one on the right.
func (w *world) side(zone int) int64 {
	if zone < 0 {
		return 0
	}
	return map[string]int64{"left": 1, "right": -1}[w.frame.Zones[zone].Side]
}

// apart bounds by how many grams the sides may differ.
func (s *stowage) apart(by int64) *stowage {
	even := *s
	even.bounds = append([]bound{}, s.bounds...)
	for _, sign := range [...]int64{1, -1} {
		even.bounds = append(even.bounds, bound{&rating{rule: fitting.CombinedRating, sides: func(zone int) int64 { return sign * s.w.side(zone) }}, by - sign*s.lean})
	}
	return &even
}

// even returns the sharing under the least whole grams by which the sides can
// differ, which halving finds.
func (s *stowage) even() *stowage {
	if s.mass == 0 || s.mostOf(-1, nil) == nil {
		return s
	}
	low, high := int64(0), int64(s.mass)+max(s.lean, -s.lean)
	for low < high {
		if middle := (low + high) / 2; s.apart(middle).mostOf(-1, nil) != nil {
			high = middle
		} else {
			low = middle + 1
		}
	}
	return s.apart(low)
}

// first returns the first sharing in the order of the carriers: of those with
// which the sides differ least the first one as much as can be, then the
// second, and so on.
func (s *stowage) first() []*big.Rat {
	s = s.even()
	var shares []*big.Rat
	for k := range s.carriers {
		shares = append(shares, s.mostOf(k, shares))
	}
	return shares
}

// The corners of a triangle, a segment of it and of nothing, worked out by
// hand: x + y + z = 1 with x ≤ ½; then also y + z ≤ ½, which leaves x = ½
// alone; then x ≤ ¼ as well, which leaves nothing.
func TestCorners(t *testing.T) {
	t.Parallel()
	row := func(x, y, z, numerator, denominator int64) inequality {
		return inequality{[]*big.Rat{rat(x), rat(y), rat(z)}, big.NewRat(numerator, denominator)}
	}
	rows := []inequality{row(-1, 0, 0, 0, 1), row(0, -1, 0, 0, 1), row(0, 0, -1, 0, 1), row(1, 0, 0, 1, 2)}
	for _, c := range []struct {
		more inequality
		want map[string]bool
	}{
		{row(0, 0, 0, 0, 1), map[string]bool{"0 1 0": true, "0 0 1": true, "1/2 1/2 0": true, "1/2 0 1/2": true}},
		{row(0, 1, 1, 1, 2), map[string]bool{"1/2 1/2 0": true, "1/2 0 1/2": true}},
		{row(1, 0, 0, 1, 4), map[string]bool{}},
	} {
		rows = append(rows, c.more)
		got := map[string]bool{}
		corners(3, rows, func(x []*big.Rat) bool {
			got[x[0].RatString()+" "+x[1].RatString()+" "+x[2].RatString()] = true
			return false
		})
		if len(got) != len(c.want) {
			t.Errorf("corners %v, want %v", got, c.want)
		}
		for at := range c.want {
			if !got[at] {
				t.Errorf("corners %v lack %s", got, at)
			}
		}
	}
}
