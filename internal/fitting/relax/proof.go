package relax

import "math"

// surely is far above what rounding does to a sum of a few thousand products
// in double precision, as a part of the sum of their sizes (2⁻⁵³ for each of
// them), and far below any difference that matters.
const surely = 1e-12

// proof works out what multipliers prove of a programme.
type proof struct {
	p            *Program
	lower, upper []float64 // the ends of the columns now
	reduced      []float64 // per column, what it costs with the multipliers
	sizes        []float64 // per column, the sum of the sizes of what reduced adds up
}

// bound returns a number that no point of the programme costs less than, with
// the costs times scale.
//
// Proof: let y be one multiplier a row, none below zero where the row is an
// inequality. At every point that keeps the rows, y·(rows − most) is at most
// zero. So the cost c·x is at least c·x + y·(Ax − b), which is −y·b plus, for
// every column, (c + yA) times where it is: at least that times the end at
// which the product is less. The sum is worked out in floating point; the
// error of that is less than surely times the sum of the sizes of all that was
// added, which is taken off.
func (f *proof) bound(scale float64, y []float64) float64 {
	sum, size := 0.0, 0.0
	for j, c := range f.p.cost {
		f.reduced[j], f.sizes[j] = scale*c, math.Abs(scale*c)
	}
	for r := range y { // a row that is newer has none
		row := &f.p.rows[r]
		m := y[r]
		if m == 0 || m < 0 && !row.equal {
			continue
		}
		part := m * row.most
		sum, size = sum-part, size+math.Abs(part)
		for _, t := range f.p.terms[row.from:row.to] {
			part := m * t.value
			f.reduced[t.column] += part
			f.sizes[t.column] += math.Abs(part)
		}
	}
	for j, d := range f.reduced {
		sum += min(d*f.lower[j], d*f.upper[j])
		size += f.sizes[j] * max(math.Abs(f.lower[j]), math.Abs(f.upper[j]))
	}
	return sum - surely*size
}

// impossible reports whether the multipliers prove that no point keeps the
// rows: they then cost nothing more than nothing.
func (f *proof) impossible(y []float64) bool { return f.bound(0, y) > 0 }
