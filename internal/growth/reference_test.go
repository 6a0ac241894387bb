package growth

import (
	"math"
	"testing"
)

func TestCurvesShareTheirAges(t *testing.T) {
	t.Parallel()
	for _, c := range []*curve{&weightForAge.girls, &weightForAge.boys, &statureForAge.girls, &statureForAge.boys} {
		for i, k := range c {
			if k.months != weightForAge.boys[i].months {
				t.Errorf("row %d: %v months, want %v", i, k.months, weightForAge.boys[i].months)
			}
			if i > 0 && k.months <= c[i-1].months {
				t.Errorf("row %d: %v months does not follow %v", i, k.months, c[i-1].months)
			}
			if k.m <= 0 || k.s <= 0 {
				t.Errorf("row %d: M and S must be positive: %v", i, k)
			}
		}
	}
}

func TestLocate(t *testing.T) {
	t.Parallel()
	for months, want := range map[float64]place{
		0: {0, 0}, 12.5: {0, 0}, 14: {0, 0.5}, 15.5: {1, 0}, 21.5: {3, 0}, 22.75: {3, 0.5}, 24: {4, 0}, 27.25: {4, 0.5},
		30.5: {5, 0}, 198.5: {33, 0}, 201.5: {33, 0.5}, 204.5: {33, 1}, 300: {33, 1}, math.Inf(1): {33, 1}, math.Inf(-1): {0, 0},
	} {
		if got := locate(months); got != want {
			t.Errorf("locate(%v) = %v, want %v", months, got, want)
		}
	}
}

// A skewness of 0 is the limit of a small one, from both sides and both ways.
func TestSkewnessNearZero(t *testing.T) {
	t.Parallel()
	zero := lms{l: 0, m: 20, s: 0.15}
	for _, z := range []float64{-4, -1, 0, 0.5, 3} {
		want := 20 * math.Exp(0.15*z)
		for _, l := range []float64{0, 1e-300, 1e-17, -1e-17, 1e-12, -1e-12, 1e-9, -1e-9} {
			d := lms{l: l, m: 20, s: 0.15}
			if got := d.value(z); math.Abs(got-want) > 1e-8 {
				t.Errorf("L %v, z %v: %v, want %v", l, z, got, want)
			}
			if got := d.score(zero.value(z)); math.Abs(got-z) > 1e-8 {
				t.Errorf("L %v: z %v comes back as %v", l, z, got)
			}
		}
	}
}

// The plain power of the published formula, away from L = 0.
func TestValueIsThePublishedFormula(t *testing.T) {
	t.Parallel()
	for _, l := range []float64{-1.8, -0.6, 0.3, 1, 2.2} {
		d := lms{l: l, m: 30, s: 0.12}
		for z := -3.0; z <= 3; z += 0.25 {
			want := 30 * math.Pow(1+l*0.12*z, 1/l)
			if got := d.value(z); math.Abs(got-want) > 1e-12*want {
				t.Errorf("L %v, z %v: %v, want %v", l, z, got, want)
			}
		}
	}
}

func TestValueBeyondThePole(t *testing.T) {
	t.Parallel()
	up, down := lms{-1.8, 50, 0.16}, lms{1.8, 50, 0.16}
	for _, z := range []float64{4, 1e9, math.MaxFloat64, math.Inf(1)} {
		if got := up.value(z); math.Abs(got-5000) > 1e-6 {
			t.Errorf("negative L at z %v: %v, want 5000", z, got)
		}
		if got := down.value(-z); math.Abs(got-0.5) > 1e-9 {
			t.Errorf("positive L at z %v: %v, want 0.5", -z, got)
		}
	}
}

// Projections rely on it: at one z-score, however odd, the weight between two
// neighbouring ages changes its direction at most once.
func TestWeightTurnsAtMostOnceBetweenKnots(t *testing.T) {
	t.Parallel()
	for _, sex := range []Sex{Unstated, Girl, Boy} {
		for i := range knots - 1 {
			for z := -40.0; z <= 40; z += 0.1 {
				if n := turns(sex, i, z); n > 1 {
					t.Fatalf("sex %d from %v months on, z %.1f: turns %d times", sex, weightForAge.boys[i].months, z, n)
				}
			}
		}
	}
}

// turns counts how often the weight at a z-score changes its direction from a
// knot to the next, apart from the noise of floating-point arithmetic.
func turns(sex Sex, knot int, z float64) (n int) {
	const steps = 64
	direction, before := 0.0, weightForAge.at(sex, place{knot, 0}).value(z)
	for step := 1; step <= steps; step++ {
		kg := weightForAge.at(sex, place{knot, float64(step) / steps}).value(z)
		change := kg - before
		if math.Abs(change) > 1e-9*kg {
			if direction*change < 0 {
				n++
			}
			direction = math.Copysign(1, change)
		}
		before = kg
	}
	return n
}
