package relax

import "math"

// Hopeless reports whether one step shows already that nothing is left, or
// nothing as cheap as enough, with other ends for a column. The relaxation
// stays as it is.
func (r *Relaxation) Hopeless(column int, low, high, enough float64) bool {
	row := -1 - r.where[column]
	if row < 0 || r.where[column] == settled {
		return false
	}
	by, below := low-r.value[row], true
	if by <= 0 {
		by, below = r.value[row]-high, false
	}
	if by <= tolerance {
		return false
	}
	was := [2]float64{r.lower[column], r.upper[column]}
	r.lower[column], r.upper[column] = low, high
	defer func() { r.lower[column], r.upper[column] = was[0], was[1] }()
	enter := r.entering(row, below)
	if enter < 0 {
		return r.impossible(row, below)
	}
	line := r.table[row*r.width : (row+1)*r.width]
	ratio := r.reduced[enter] / line[enter]
	if r.cost+math.Abs(ratio)*by <= enough {
		return false
	}
	for i := range r.y {
		r.y[i] = 0
		if j := r.where[len(r.p.cost)+i]; j >= 0 {
			r.y[i] = r.reduced[j] - ratio*line[j]
		}
	}
	return r.proved(&r.ahead).bound(1, r.y) > enough
}

// Bound returns a cost that no point of the programme between the ends as they
// are comes below. It is proved; see proof.bound.
func (r *Relaxation) Bound() float64 {
	for i := range r.y {
		r.y[i] = 0
		if j := r.where[len(r.p.cost)+i]; j >= 0 {
			r.y[i] = r.reduced[j]
		}
	}
	return r.proved(&r.proof).bound(1, r.y)
}

// Reduced returns, after Bound, what the column adds to the bound for each
// whole step from where it stands, about.
func (r *Relaxation) Reduced(column int) float64 { return r.proof.reduced[column] }

func (r *Relaxation) proved(f *proof) *proof {
	n := len(r.p.cost)
	f.p, f.lower, f.upper = r.p, r.lower[:n], r.upper[:n]
	f.reduced, f.sizes = grown(f.reduced, n), grown(f.sizes, n)
	return f
}

// impossible reports whether the row, whose variable nothing takes back to its
// end, proves that no point keeps the rows. Its entries under the slacks are
// the multipliers.
func (r *Relaxation) impossible(row int, below bool) bool {
	sign := 1.0
	if !below {
		sign = -1
	}
	for i := range r.y {
		v := len(r.p.cost) + i
		switch j := r.where[v]; {
		case j >= 0:
			r.y[i] = sign * r.table[row*r.width+j]
		case j == -1-row:
			r.y[i] = sign
		default:
			r.y[i] = 0
		}
	}
	if !r.proved(&r.ahead).impossible(r.y) {
		return false
	}
	r.blamed = 0
	for i, y := range r.y {
		if y != 0 {
			r.blamed |= r.p.rows[i].about
		}
	}
	return true
}

// Blamed returns what the rows rest on by which Solve or Hopeless last proved
// that no point keeps all of them: none keeps those and the ends as they were.
func (r *Relaxation) Blamed() Tags { return r.blamed }
