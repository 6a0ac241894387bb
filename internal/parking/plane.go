package parking

import (
	"math"

	"kinwain/internal/measure"
)

// unlimited stands for a dimension that is not stated and for the slack where
// none is. It is so far above every length in use that it can take part in
// the arithmetic: a slack above half of it comes from unstated lengths alone.
const unlimited measure.Length = 1 << 40

// open returns a stated dimension, or unlimited for one that is not.
func open(dimension measure.Length) measure.Length {
	if dimension <= 0 {
		return unlimited
	}
	return dimension
}

// limited returns the slack, or exactly unlimited where no stated length took
// part in it.
func limited(slack measure.Length) measure.Length {
	if slack > unlimited/2 {
		return unlimited
	}
	return slack
}

// ordered returns the longer of two sides first.
func ordered(a, b measure.Length) (long, short measure.Length) {
	return max(a, b), min(a, b)
}

// down rounds a computed slack down to the whole millimetre. The last bits of
// the floating-point arithmetic (below 1e-8 mm for anything under a kilometre)
// must not cost a millimetre where the true value is whole.
func down(slack float64) measure.Length {
	return measure.Length(math.Floor(slack + 1e-6))
}

// aligned returns the slack of a rectangle, given by its sides, square to the
// walls of an a × b rectangle, longer side along longer side. That is the
// better of the two orders: the other one asks the longer side of the
// rectangle to stay within the shorter wall.
func aligned(length, width, a, b measure.Length) measure.Length {
	p, q := ordered(length, width)
	a, b = ordered(a, b)
	return min(a-p, b-q)
}

// turned returns the slack of a p × q rectangle at its best angle in an a × b
// rectangle, square to the walls included.
//
// Let p >= q and a >= b. At an angle t between the longer sides, the rectangle
// spans p cos t + q sin t of a and p sin t + q cos t of b, and the slack is the
// lesser of
//
//	f(t) = a - p cos t - q sin t
//	g(t) = b - p sin t - q cos t
//
// Both are convex over [0°, 90°], so on a stretch where one of them stays the
// lesser it is greatest at an end of the stretch. If a-b >= p-q then g is the
// lesser one everywhere and the aligned place at 0° is the best. Otherwise f is
// the lesser one from 0° up to the angle below 45° where cos t - sin t equals
// k = (a-b)/(p-q), and g from there on. As g(90°) = b - p is no more than
// f(0°) = a - p, the best place is the aligned one or the crossing. There
// cos t + sin t = sqrt(2 - k²), and half the sum of f and g is
//
//	(a + b - (p+q) sqrt(2 - k²)) / 2
func turned(length, width, a, b measure.Length) measure.Length {
	square := aligned(length, width, a, b)
	p, q := ordered(length, width)
	a, b = ordered(a, b)
	if a-b >= p-q {
		return square
	}
	k := float64(a-b) / float64(p-q)
	return max(square, down((float64(a+b)-float64(p+q)*math.Sqrt(2-k*k))/2))
}

// aroundCorner returns the slack of a rectangle that turns round a right-angled
// corner between corridors of the widths a and b, entering and leaving with
// its longer side along the corridor.
//
// Put the outer corner at the origin and the outer walls along the axes, so
// that the inner corner is the point (a, b), and let L >= W be the sides. When
// the rectangle is turned by t, its outer long side lies as deep in the corner
// as the walls let it with its ends on them, at (L sin t, 0) and (0, L cos t),
// on the line x cos t + y sin t = L sin t cos t. The inner long side lies W
// further out and must not go beyond the inner corner:
//
//	a cos t + b sin t - W - L sin t cos t >= 0  for all t from 0° to 90°
//
// Narrowing both corridors by s takes s (cos t + sin t) from the left side, so
//
//	slack = min over t of (a cos t + b sin t - W - L sin t cos t) / (cos t + sin t)
//
// The ends of the range give a - W and b - W, in whole millimetres; narrowest
// finds the minimum between them.
func aroundCorner(length, width, a, b measure.Length) measure.Length {
	long, short := ordered(max(length, 0), max(width, 0))
	wide, narrow := ordered(a, b)
	end := narrow - short
	if long == 0 || wide > unlimited/2 {
		return end
	}
	return min(end, down(narrowest(float64(long), float64(short), float64(narrow), float64(wide))))
}

// narrowest returns the slack at the tightest angle of a turn inside the range,
// or a value not below a - W where the tightest place is an end of the range.
//
// Let a <= b. With T = tan(45° - t), h = sqrt(1 + T²), d = (b-a)/2 and
// K = W - L/2 the slack at T is
//
//	s(T) = (a+b)/2 - d T - K h/√2 - (L/√2)/h
//
// Only d T changes with the sign of T and it is least favourable for T >= 0,
// so T runs from 0 to 1, where s(1) = a - W. The derivative is s'(T) = G(T) - d
// with
//
//	G(T) = (L T/h³ - K T/h) / √2
//	G'(T) = (L (1 - 2T²) - K (1 + T²)) / (√2 h⁵)
//
// G starts at 0 and, as L - K = 3L/2 - W > 0, rises up to
// T² = (L-K)/(2L+K), which is at most 1, and falls from there. Hence s falls
// until G reaches d, rises until G has dropped to d again, and falls to the
// end: its minimum is at the first of the two points or at T = 1. The first is
// found by halving the range in which G rises; if G never reaches d there, s
// falls all the way.
func narrowest(long, short, a, b float64) float64 {
	d, k := (b-a)/2, short-long/2
	low, high := 0.0, math.Sqrt((long-k)/(2*long+k))
	for range 32 {
		middle := (low + high) / 2
		h := math.Sqrt(1 + middle*middle)
		if (long/(h*h)-k)*middle/(h*math.Sqrt2) < d {
			low = middle
		} else {
			high = middle
		}
	}
	h := math.Sqrt(1 + low*low)
	return (a+b)/2 - d*low - k*h/math.Sqrt2 - long/(h*math.Sqrt2)
}
