package growth

import "math"

// knots is the number of ages that each curve states.
const knots = 35

// knot is one row of the reference: an age in months and what is known there.
type knot struct{ months, l, m, s float64 }

// curve is the reference of one sex, by rising age. Every curve has the same
// ages, so a place found on one holds on all.
type curve [knots]knot

// reference is one measure of a child for both sexes.
type reference struct{ girls, boys curve }

// youngest and oldest are the ends of the reference in months.
var (
	youngest = weightForAge.boys[0].months
	oldest   = weightForAge.boys[knots-1].months
)

// place is an age on the curves: the knot at or before it, never the last
// one, and how far it lies toward the next, from 0 to 1.
type place struct {
	knot   int
	toward float64
}

// locate finds the place of an age in months; ages beyond the reference fall
// on its ends.
func locate(months float64) place {
	switch ages := &weightForAge.boys; {
	case months <= youngest:
		return place{0, 0}
	case months >= oldest:
		return place{knots - 2, 1}
	default:
		// Inv: ages[low] <= months < ages[high].
		low, high := 0, knots-1
		for high-low > 1 {
			if middle := (low + high) / 2; ages[middle].months <= months {
				low = middle
			} else {
				high = middle
			}
		}
		return place{low, (months - ages[low].months) / (ages[high].months - ages[low].months)}
	}
}

// outside reports whether an age in months lies beyond the reference.
func outside(months float64) bool { return months < youngest || months > oldest }

// at returns L, M and S of a sex at a place.
func (r *reference) at(sex Sex, p place) lms {
	switch sex {
	case Girl:
		return r.girls.at(p)
	case Boy:
		return r.boys.at(p)
	default:
		return between(r.girls.at(p), r.boys.at(p), 0.5)
	}
}

func (c *curve) at(p place) lms {
	a, b := &c[p.knot], &c[p.knot+1]
	return between(lms{a.l, a.m, a.s}, lms{b.l, b.m, b.s}, p.toward)
}

// lms is the distribution of a measure at one age: skewness L, median M in the
// unit of the measure, and spread S.
type lms struct{ l, m, s float64 }

// between goes the given part of the way from a to b. The two products make
// both ends exact, which a + t·(b−a) does not.
func between(a, b lms, t float64) lms {
	u := 1 - t
	return lms{u*a.l + t*b.l, u*a.m + t*b.m, u*a.s + t*b.s}
}

// farthest bounds the logarithm of a measure over its median. Heaviest and
// lightest people ever weighed lie well within a hundredfold; what lies
// outside is a slip of the keyboard, which must not become an infinity.
var farthest = math.Log(100)

func hold(logarithm float64) float64 { return min(max(logarithm, -farthest), farthest) }

// value returns the measure at a z-score, in the unit of M. The logarithmic
// forms lose no digits where L is nearly 0, as the power would.
func (d lms) value(z float64) float64 {
	if d.l == 0 {
		return d.m * math.Exp(hold(d.s*z))
	}
	y := d.l * d.s * z
	if y <= -1 {
		// The formula has passed its pole: upward where L is negative,
		// downward where L is positive.
		return d.m * math.Exp(math.Copysign(farthest, -d.l))
	}
	return d.m * math.Exp(hold(math.Log1p(y)/d.l))
}

// score returns the z-score of a measure in the unit of M.
func (d lms) score(x float64) float64 {
	r := hold(math.Log(max(x, 0) / d.m))
	if d.l == 0 {
		return r / d.s
	}
	return math.Expm1(d.l*r) / (d.l * d.s)
}
