package growth_test

import (
	"encoding/csv"
	"math"
	"os"
	"strconv"
	"testing"

	"pgregory.net/rapid"

	"kinwain/internal/growth"
	"kinwain/internal/measure"
)

// Quantiles of the standard normal distribution to six decimals, as in
// Abramowitz and Stegun, Handbook of Mathematical Functions, 1964, chapter 26
// (from memory).
func TestZAgainstNormalTable(t *testing.T) {
	t.Parallel()
	for share, want := range map[measure.Share]float64{
		5000: 0, 6000: 0.253347, 7500: 0.674490, 8000: 0.841621, 9000: 1.281552,
		9500: 1.644854, 9700: 1.880794, 9750: 1.959964, 9900: 2.326348, 9950: 2.575829, 9990: 3.090232,
	} {
		for _, c := range []struct {
			share measure.Share
			want  float64
		}{{share, want}, {measure.Whole - share, -want}} {
			if got := growth.Z(c.share); math.Abs(got-c.want) > 5e-7 {
				t.Errorf("Z(%d) = %.7f, want %.6f", c.share, got, c.want)
			}
		}
	}
}

func TestZStaysFiniteAndRises(t *testing.T) {
	t.Parallel()
	if growth.Z(-5) != growth.Z(1) || growth.Z(10005) != growth.Z(9999) {
		t.Error("shares beyond 1 to 9999 are not held")
	}
	for p := measure.Share(1); p < measure.Whole-1; p++ {
		if !(growth.Z(p) < growth.Z(p+1)) {
			t.Fatalf("Z does not rise from %d to %d", p, p+1)
		}
	}
}

// published is one row of the percentile tables in testdata, whose head names
// the source.
type published struct {
	measure string
	sex     growth.Sex
	months  float64
	figures []float64
}

// percentiles are the columns of the published tables.
var percentiles = []measure.Share{300, 500, 1000, 2500, 5000, 7500, 9000, 9500, 9700}

func publishedTable(t *testing.T) []published {
	t.Helper()
	file, err := os.Open("../../testdata/growth/cdc2000-percentiles.csv")
	if err != nil {
		t.Fatal(err)
	}
	defer file.Close()
	reader := csv.NewReader(file)
	reader.Comment = '#'
	records, err := reader.ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	var table []published
	for _, record := range records[1:] {
		row := published{measure: record[0], sex: map[string]growth.Sex{"girl": growth.Girl, "boy": growth.Boy}[record[1]]}
		for i, field := range record[2:] {
			x, err := strconv.ParseFloat(field, 64)
			if err != nil {
				t.Fatal(err)
			}
			if i == 0 {
				row.months = x
			} else {
				row.figures = append(row.figures, x)
			}
		}
		table = append(table, row)
	}
	return table
}

func (p published) value(z float64) float64 {
	if p.measure == "weight" {
		return growth.Weight(p.sex, p.months, z)
	}
	return growth.Stature(p.sex, p.months, z)
}

func (p published) z(x float64) float64 {
	if p.measure == "weight" {
		return growth.WeightZ(p.sex, p.months, x)
	}
	return growth.StatureZ(p.sex, p.months, x)
}

// isKnot reports whether the table of the package states this age itself.
func isKnot(months float64) bool {
	switch months {
	case 12.5, 15.5, 18.5, 21.5, 24:
		return true
	}
	return math.Mod(months-30.5, 6) == 0
}

// tolerance is the error that a published figure may have: half a unit of its
// seventh digit, and a little for L, M and S, which are rounded too. The
// percentiles of length below 24 months were published from z-scores rounded
// to three decimals, which costs up to two units.
func (p published) tolerance(figure float64) float64 {
	unit := math.Pow(10, math.Floor(math.Log10(figure))-6)
	if p.measure == "stature" && p.months < 24 {
		return 2 * unit
	}
	return 0.55 * unit
}

func TestPublishedPercentilesAtEveryKnot(t *testing.T) {
	t.Parallel()
	knots := 0
	for _, row := range publishedTable(t) {
		if !isKnot(row.months) {
			continue
		}
		knots++
		for i, want := range row.figures {
			z := growth.Z(percentiles[i])
			if got := row.value(z); math.Abs(got-want) > row.tolerance(want) {
				t.Errorf("%s, sex %d, %v months, share %d: %.7g, published %.7g", row.measure, row.sex, row.months, percentiles[i], got, want)
			}
			if got := row.z(want); math.Abs(got-z) > 2e-5 {
				t.Errorf("%s, sex %d, %v months, published %v: z %.6f, want %.6f", row.measure, row.sex, row.months, want, got, z)
			}
		}
	}
	if want := 2 * 2 * 35; knots != want {
		t.Errorf("compared %d knots, want all %d", knots, want)
	}
}

// Between its knots the package works percentiles out that it has no figures of:
// the published ones are from months that its own table leaves out.
func TestPublishedPercentilesBetweenKnots(t *testing.T) {
	t.Parallel()
	limit := map[string]float64{"weight": 0.0015, "stature": 0.002}
	type of struct {
		measure string
		sex     growth.Sex
	}
	compared := map[of]int{}
	for _, row := range publishedTable(t) {
		if isKnot(row.months) {
			continue
		}
		for i, want := range row.figures {
			compared[of{row.measure, row.sex}]++
			if got := row.value(growth.Z(percentiles[i])); math.Abs(got-want) > limit[row.measure]*want {
				t.Errorf("%s, sex %d, %v months, share %d: %.5g, published %.5g", row.measure, row.sex, row.months, percentiles[i], got, want)
			}
		}
	}
	for _, measure := range []string{"weight", "stature"} {
		for _, sex := range []growth.Sex{growth.Girl, growth.Boy} {
			if n := compared[of{measure, sex}]; n < 40 {
				t.Errorf("only %d percentiles between knots were compared of the %s of sex %d", n, measure, sex)
			}
		}
	}
}

// formula is one measure of a child with its inverse.
type formula struct {
	name  string
	value func(growth.Sex, float64, float64) float64
	score func(growth.Sex, float64, float64) float64
}

var formulas = []formula{
	{"weight", growth.Weight, growth.WeightZ},
	{"stature", growth.Stature, growth.StatureZ},
}

func drawSex(t *rapid.T) growth.Sex {
	return rapid.SampledFrom([]growth.Sex{growth.Unstated, growth.Girl, growth.Boy}).Draw(t, "sex")
}

func TestScoreUndoesValue(t *testing.T) {
	t.Parallel()
	for _, f := range formulas {
		t.Run(f.name, rapid.MakeCheck(func(t *rapid.T) {
			sex := drawSex(t)
			months := rapid.Float64Range(0, 240).Draw(t, "months")
			z := rapid.Float64Range(-3, 3).Draw(t, "z")
			x := f.value(sex, months, z)
			if back := f.score(sex, months, x); math.Abs(back-z) > 1e-9 {
				t.Fatalf("z %v gives %v, which gives z %v", z, x, back)
			}
		}))
	}
}

func TestValueRisesWithZ(t *testing.T) {
	t.Parallel()
	for _, f := range formulas {
		t.Run(f.name, rapid.MakeCheck(func(t *rapid.T) {
			sex := drawSex(t)
			months := rapid.Float64Range(0, 240).Draw(t, "months")
			low := rapid.Float64().Draw(t, "low")
			high := rapid.Float64().Draw(t, "high")
			if low > high {
				low, high = high, low
			}
			a, b := f.value(sex, months, low), f.value(sex, months, high)
			switch median := f.value(sex, months, 0); {
			case a > b:
				t.Fatalf("falls from %v at z %v to %v at z %v", a, low, b, high)
			case low < high && math.Abs(low) < 3 && math.Abs(high) < 3 && high-low > 1e-9 && a == b:
				t.Fatalf("does not rise from z %v to z %v", low, high)
			case !(a > 0) || a < median/100.001 || b > median*100.001:
				t.Fatalf("%v or %v is out of proportion to the median %v", a, b, median)
			}
		}))
	}
}

// Within ±3.6 the reference itself makes every child heavier by the day; much
// further out it does not, which is why a projection takes care of it.
func TestWeightRisesWithAge(t *testing.T) {
	t.Parallel()
	for _, sex := range []growth.Sex{growth.Unstated, growth.Girl, growth.Boy} {
		for z := -3.6; z <= 3.6; z += 0.1 {
			before := 0.0
			for months := 12.5; months <= 204.5; months += 0.125 {
				kg := growth.Weight(sex, months, z)
				if kg <= before {
					t.Fatalf("sex %d, z %.1f: %v kg at %v months after %v kg", sex, z, kg, months, before)
				}
				before = kg
			}
		}
	}
}

func TestScoreOfAbsurdMeasuresIsFinite(t *testing.T) {
	t.Parallel()
	for _, f := range formulas {
		t.Run(f.name, rapid.MakeCheck(func(t *rapid.T) {
			sex := drawSex(t)
			months := rapid.Float64().Draw(t, "months")
			x := rapid.Float64().Draw(t, "measure")
			if z := f.score(sex, months, x); math.IsNaN(z) || math.IsInf(z, 0) {
				t.Fatalf("z of %v is %v", x, z)
			}
		}))
	}
}

func TestReferenceIsHeldBeyondItsEnds(t *testing.T) {
	t.Parallel()
	for _, f := range formulas {
		for _, sex := range []growth.Sex{growth.Unstated, growth.Girl, growth.Boy} {
			for _, c := range []struct{ beyond, end float64 }{{-3, 12.5}, {0, 12.5}, {12.49, 12.5}, {204.6, 204.5}, {999, 204.5}} {
				if got, want := f.value(sex, c.beyond, 1), f.value(sex, c.end, 1); got != want {
					t.Errorf("%s, sex %d at %v months: %v, want %v", f.name, sex, c.beyond, got, want)
				}
			}
		}
	}
}

// The median of both references is the mean of their medians. Elsewhere the
// unstated sex lies between the two as long as they differ; where their curves
// cross it may leave them by a trifle, because L and S are averaged as well.
func TestUnstatedLiesBetweenGirlAndBoy(t *testing.T) {
	t.Parallel()
	for _, f := range formulas {
		for months := 12.5; months <= 204.5; months += 0.25 {
			girl, boy := f.value(growth.Girl, months, 0), f.value(growth.Boy, months, 0)
			if got := f.value(growth.Unstated, months, 0); math.Abs(got-(girl+boy)/2) > 1e-12*got {
				t.Fatalf("%s at %v months: median %v, want the mean of %v and %v", f.name, months, got, girl, boy)
			}
			for _, z := range []float64{-2, -0.6745, 0.6745, 2} {
				girl, boy := f.value(growth.Girl, months, z), f.value(growth.Boy, months, z)
				got, slack := f.value(growth.Unstated, months, z), 0.01*girl
				if got < min(girl, boy)-slack || got > max(girl, boy)+slack {
					t.Fatalf("%s at %v months, z %v: %v is not between %v and %v", f.name, months, z, got, girl, boy)
				}
			}
		}
	}
}
