package parking

import (
	"math"
	"testing"

	"pgregory.net/rapid"

	"kinwain/internal/measure"
)

// carver is the condition for a p × q rectangle to fit in an a × b rectangle,
// with p >= q and a >= b: W. Carver, American Mathematical Monthly 64, 1957;
// J. Wetzel, "Rectangles in Rectangles", Mathematics Magazine 73(3), 2000.
// Cited from memory.
func carver(p, q, a, b float64) bool {
	if p <= a && q <= b {
		return true
	}
	r := p*p + q*q
	return p > a && q <= b && b+1e-6 >= (2*p*q*a+(p*p-q*q)*math.Sqrt(r-a*a))/r
}

func TestSpaceAgainstCarver(t *testing.T) {
	t.Parallel()
	side := rapid.IntRange(1, 3000)
	rapid.Check(t, func(t *rapid.T) {
		p, q := ordered(measure.Length(side.Draw(t, "p")), measure.Length(side.Draw(t, "q")))
		// Sides near those of the bike, where angles decide.
		a := measure.Length(rapid.IntRange(1, int(p)+100).Draw(t, "a"))
		b := measure.Length(rapid.IntRange(1, int(p)+100).Draw(t, "b"))
		long, short := ordered(a, b)
		want := carver(float64(p), float64(q), float64(long), float64(short))
		fit := Check(Bike{Flat: Box{q, p, 0}}, Home{Space: Box{a, b, 0}})
		if fit.Fits != want {
			t.Fatalf("%d × %d in %d × %d: %+v, want %t", p, q, a, b, fit, want)
		}
	})
}

// TestTurnedAgainstCarver compares every width on both sides of the edge for
// bikes that fit at an angle or not at all.
func TestTurnedAgainstCarver(t *testing.T) {
	t.Parallel()
	for p := 1500; p <= 2600; p += 137 {
		for q := 300; q <= 800; q += 97 {
			for a := p - 400; a < p; a += 53 {
				for b := q; b <= a; b++ {
					want := carver(float64(p), float64(q), float64(a), float64(b))
					if got := turned(mm(p), mm(q), mm(a), mm(b)) >= 0; got != want {
						t.Fatalf("%d × %d in %d × %d: %t, want %t", p, q, a, b, got, want)
					}
				}
			}
		}
	}
}

func mm(n int) measure.Length { return measure.Length(n) }

// The longest ladder round a corner is (a^(2/3) + b^(2/3))^(3/2), an exercise
// of every calculus textbook, cited from memory.
func TestCornerAgainstLadder(t *testing.T) {
	t.Parallel()
	for a := 300; a <= 2500; a += 71 {
		for b := 300; b <= 2500; b += 83 {
			longest := math.Pow(math.Pow(float64(a), 2.0/3)+math.Pow(float64(b), 2.0/3), 1.5)
			whole := int(longest + 1e-9)
			if got := aroundCorner(mm(whole), 0, mm(a), mm(b)); got < 0 {
				t.Errorf("%d mm round %d and %d: slack %d, longest is %.3f", whole, a, b, got, longest)
			}
			if got := aroundCorner(mm(whole+1), 0, mm(a), mm(b)); got >= 0 {
				t.Errorf("%d mm round %d and %d: slack %d, longest is %.3f", whole+1, a, b, got, longest)
			}
		}
	}
}

// Between equal corridors the tightest angle is 45°, where the condition reads
// a√2 - W - L/2 >= 0: the longest rectangle is 2(a√2 - W), derived here.
func TestCornerAgainstEqualCorridors(t *testing.T) {
	t.Parallel()
	for a := 600; a <= 2500; a += 71 {
		for w := 0; w <= a; w += 13 {
			whole := int(2 * (float64(a)*math.Sqrt2 - float64(w)))
			if whole+1 < w {
				continue // the width would be the longer side
			}
			if got := aroundCorner(mm(whole), mm(w), mm(a), mm(a)); whole >= w && got < 0 {
				t.Errorf("%d × %d round %d: slack %d", whole, w, a, got)
			}
			if got := aroundCorner(mm(whole+1), mm(w), mm(a), mm(a)); got >= 0 {
				t.Errorf("%d × %d round %d: slack %d", whole+1, w, a, got)
			}
		}
	}
}

// TestCornerAgainstSamples takes the minimum of the turning condition over
// 20,000 angles. The true minimum is at most 1e-5 mm below it.
func TestCornerAgainstSamples(t *testing.T) {
	t.Parallel()
	side := rapid.IntRange(0, 3000)
	rapid.Check(t, func(t *rapid.T) {
		long, short := ordered(mm(side.Draw(t, "L")), mm(side.Draw(t, "W")))
		a, b := mm(rapid.IntRange(1, 3000).Draw(t, "a")), mm(rapid.IntRange(1, 3000).Draw(t, "b"))
		least := math.Inf(1)
		for i := range 20001 {
			sin, cos := math.Sincos(float64(i) / 20000 * math.Pi / 2)
			room := float64(a)*cos + float64(b)*sin - float64(short) - float64(long)*sin*cos
			least = min(least, room/(cos+sin))
		}
		got := float64(aroundCorner(long, short, a, b))
		if got > least+1e-5 || got <= least-1-1e-5 {
			t.Fatalf("%d × %d round %d and %d: %v, samples say %v", long, short, a, b, got, least)
		}
	})
}

// TestTurnedAgainstSamples takes the best of 20,000 angles, which is at most
// 0.3 mm worse than the best of all.
func TestTurnedAgainstSamples(t *testing.T) {
	t.Parallel()
	side := rapid.IntRange(1, 3000)
	rapid.Check(t, func(t *rapid.T) {
		p, q := mm(side.Draw(t, "p")), mm(side.Draw(t, "q"))
		a, b := mm(side.Draw(t, "a")), mm(side.Draw(t, "b"))
		most := math.Inf(-1)
		for i := range 20001 {
			sin, cos := math.Sincos(float64(i) / 20000 * math.Pi / 2)
			most = max(most, min(
				float64(a)-float64(p)*cos-float64(q)*sin,
				float64(b)-float64(p)*sin-float64(q)*cos))
		}
		got := float64(turned(p, q, a, b))
		if got < math.Floor(most-1e-6) || got > most+0.3 {
			t.Fatalf("%d × %d in %d × %d: %v, samples say %v", p, q, a, b, got, most)
		}
	})
}
