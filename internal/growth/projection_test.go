package growth_test

import (
	"fmt"
	"math"
	"testing"
	"time"

	"pgregory.net/rapid"

	"kinwain/internal/growth"
	"kinwain/internal/measure"
)

// The shares that most shops plan with.
var planning, minimum = growth.Z(7500), growth.Z(2500)

func plan(c growth.Child) growth.Projection { return growth.Plan(c, planning, minimum) }

// A child born on 1 June has 36.5 months on 16 June three years later, and
// 60.5 five years later: ages whose percentiles are published (CDC Growth
// Charts 2000, tables weight for age and stature for age 2 to 20 years).
func TestUnmeasuredChildFollowsPublishedPercentiles(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		sex  growth.Sex
		day  string
		want growth.State
	}{
		// 75th and 25th of weight 15.55987 and 13.37875 kg, 75th of stature 97.9287 cm.
		{growth.Boy, "2026-06-16", growth.State{Heavy: 15560, Light: 13378, Tall: 980}},
		// 20.26086, 16.99698 and 112.2998.
		{growth.Boy, "2028-06-16", growth.State{Heavy: 20261, Light: 16996, Tall: 1123}},
		// 15.16452, 12.90222 and 96.90071.
		{growth.Girl, "2026-06-16", growth.State{Heavy: 15165, Light: 12902, Tall: 970}},
		// 19.95048, 16.47471 and 111.2321.
		{growth.Girl, "2028-06-16", growth.State{Heavy: 19951, Light: 16474, Tall: 1113}},
	} {
		c.want.Estimated, c.want.StatureEstimated = true, true
		child := growth.Child{Born: date(t, "2023-06-01"), Sex: c.sex}
		if got := plan(child).On(date(t, c.day)); got != c.want {
			t.Errorf("sex %d on %s: %+v, want %+v", c.sex, c.day, got, c.want)
		}
	}
}

// A boy at the published 75th percentile stays there: 15.560 kg at 36.5 months
// become 20.261 kg at 60.5, and 97.9 cm become 112.3 cm.
func TestMeasuredChildKeepsItsPercentile(t *testing.T) {
	t.Parallel()
	child := growth.Child{Born: date(t, "2023-06-01"), Sex: growth.Boy, Measured: date(t, "2026-06-16"), Weight: 15560, Stature: 979}
	got := plan(child).On(date(t, "2028-06-16"))
	if got.Heavy < 20261 || got.Heavy > 20262 || got.Light < 20260 || got.Light > 20261 || got.Tall != 1123 {
		t.Errorf("%+v", got)
	}
	if !got.Projected || got.Estimated || got.StatureEstimated || got.Beyond {
		t.Errorf("flags of %+v", got)
	}
}

func TestReadingsStandUntilTheDayAfter(t *testing.T) {
	t.Parallel()
	child := growth.Child{Born: date(t, "2023-05"), Measured: date(t, "2026-11-25"), Weight: 15200, Stature: 1010}
	want := growth.State{Heavy: 15200, Light: 15200, Tall: 1010}
	for _, day := range []string{"2026-01-01", "2026-11-24", "2026-11-25"} {
		if got := plan(child).On(date(t, day)); got != want {
			t.Errorf("on %s: %+v, want %+v", day, got, want)
		}
	}
	got := plan(child).On(date(t, "2026-11-26"))
	if !got.Projected || got.Heavy < 15200 || got.Heavy > 15220 || got.Light < 15200 || got.Tall < 1010 || got.Tall > 1011 {
		t.Errorf("the day after: %+v", got)
	}
}

// One of two readings leaves the other to the estimate.
func TestOneReadingOnly(t *testing.T) {
	t.Parallel()
	born, measured, later := date(t, "2023-06-01"), date(t, "2026-06-16"), date(t, "2028-06-16")
	weighed := plan(growth.Child{Born: born, Sex: growth.Girl, Measured: measured, Weight: 14000}).On(later)
	if weighed.Estimated || !weighed.Projected || !weighed.StatureEstimated || weighed.Tall != 1113 {
		t.Errorf("weighed only: %+v", weighed)
	}
	taped := plan(growth.Child{Born: born, Sex: growth.Girl, Measured: measured, Stature: 950}).On(later)
	if !taped.Estimated || taped.Projected || taped.StatureEstimated || taped.Heavy != 19951 || taped.Light != 16474 {
		t.Errorf("taped only: %+v", taped)
	}
}

// Each of two readings of different days is carried forward from its own.
func TestReadingsOfTwoDays(t *testing.T) {
	t.Parallel()
	born, sooner, later, day := date(t, "2023-06-01"), date(t, "2024-02-11"), date(t, "2026-06-16"), date(t, "2028-01-05")
	const heavy, tall = 14000, 950
	weighedAt := func(on string) growth.State {
		return plan(growth.Child{Born: born, Sex: growth.Girl, Measured: date(t, on), Weight: heavy}).On(day)
	}
	tapedAt := func(on string) growth.State {
		return plan(growth.Child{Born: born, Sex: growth.Girl, Measured: date(t, on), Stature: tall}).On(day)
	}
	if weighedAt("2024-02-11") == weighedAt("2026-06-16") || tapedAt("2024-02-11") == tapedAt("2026-06-16") {
		t.Fatal("the day of a reading makes no difference, so that is not tried")
	}
	for _, c := range []struct{ weighed, taped measure.Date }{{sooner, later}, {later, sooner}} {
		got := plan(growth.Child{Born: born, Sex: growth.Girl, Measured: c.weighed, Weight: heavy, Taped: c.taped, Stature: tall}).On(day)
		weight, stature := weighedAt(c.weighed.String()), tapedAt(c.taped.String())
		if got.Heavy != weight.Heavy || got.Light != weight.Light || got.Tall != stature.Tall || got.Estimated || got.StatureEstimated {
			t.Errorf("weighed on %v and taped on %v: %+v, want the weight of %+v and the stature of %+v", c.weighed, c.taped, got, weight, stature)
		}
	}
}

func TestBeyondTheReference(t *testing.T) {
	t.Parallel()
	child := growth.Child{Born: date(t, "2025-06-01"), Sex: growth.Boy}
	end := plan(child).On(date(t, "2042-06-16"))
	for day, beyond := range map[string]bool{
		"2026-06-15": true, "2026-06-16": false, // 12.5 months on the 16th
		"2042-06-16": false, "2042-06-17": true, // 204.5 months on the 16th
	} {
		if got := plan(child).On(date(t, day)); got.Beyond != beyond {
			t.Errorf("on %s: beyond %v", day, got.Beyond)
		}
	}
	// 75th and 25th of weight 72.82297 and 58.18918 kg, 75th of stature
	// 180.1896 cm (CDC Growth Charts 2000 at 204.5 months).
	if end.Heavy != 72823 || end.Light != 58189 || end.Tall != 1802 {
		t.Errorf("at the end of the reference: %+v", end)
	}
	held := plan(child).On(date(t, "2047-01-01"))
	held.Beyond = false
	if held != end {
		t.Errorf("beyond: %+v, want the end value %+v", held, end)
	}
}

func TestOlderThanTheReferenceDoesNotGrow(t *testing.T) {
	t.Parallel()
	child := growth.Child{Born: date(t, "2008-01"), Sex: growth.Girl, Measured: date(t, "2026-11-25"), Weight: 61_234, Stature: 1655}
	want := growth.State{Heavy: 61_234, Light: 61_234, Tall: 1655, Projected: true, Beyond: true}
	for _, day := range []string{"2026-11-26", "2030-01-01", "2036-11-25"} {
		if got := plan(child).On(date(t, day)); got != want {
			t.Errorf("on %s: %+v, want %+v", day, got, want)
		}
	}
}

// A boy of six months at the median (7.9 kg, from memory) is no small child.
func TestReadingOfAnInfantDoesNotMakeItSmall(t *testing.T) {
	t.Parallel()
	infant := growth.Child{Born: date(t, "2023-06-01"), Sex: growth.Boy, Measured: date(t, "2023-12-01"), Weight: 7900, Stature: 670}
	got := plan(infant).On(date(t, "2026-06-16"))
	unread := plan(growth.Child{Born: infant.Born, Sex: growth.Boy}).On(date(t, "2026-06-16"))
	if got.Heavy != unread.Heavy || got.Tall != unread.Tall {
		t.Errorf("upper figures %+v, want those of %+v", got, unread)
	}
	if got.Light > unread.Light || !got.Projected || !got.Beyond {
		t.Errorf("%+v", got)
	}
	// From the first birthday on the own z-score holds.
	infant.Measured = date(t, "2024-06-01")
	if got := plan(infant).On(date(t, "2026-06-16")); got.Heavy >= unread.Light {
		t.Errorf("a very small child of one year: %+v", got)
	}
}

// Where a shop sets the minimum percentile above the planning one, the lower
// of both counts for minima.
func TestMinimumAbovePlanning(t *testing.T) {
	t.Parallel()
	child := growth.Child{Born: date(t, "2023-06-01"), Sex: growth.Boy}
	if got := growth.Plan(child, minimum, planning).On(date(t, "2026-06-16")); got.Heavy != 13379 || got.Light != 13378 {
		t.Errorf("%+v", got)
	}
}

// A load that fits today must not be judged by less tomorrow, however odd the
// reading.
func TestLoadsNeverShrink(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(t *rapid.T) {
		born := time.Date(2020, 1, 1+rapid.IntRange(0, 365).Draw(t, "birth"), 0, 0, 0, 0, time.UTC)
		day := born.AddDate(0, 0, rapid.IntRange(200, 7000).Draw(t, "age in days"))
		child := growth.Child{
			Born: measure.DateOf(born), Sex: drawSex(t), Measured: measure.DateOf(day),
			Weight:  measure.Mass(rapid.IntRange(1, 300_000).Draw(t, "grams")),
			Stature: measure.Length(rapid.IntRange(1, 2500).Draw(t, "millimetres")),
		}
		p := plan(child)
		before := p.On(measure.DateOf(day))
		if before.Heavy != child.Weight || before.Light != child.Weight || before.Tall != child.Stature {
			t.Fatalf("on the day of the reading: %+v", before)
		}
		for range 3000 {
			day = day.AddDate(0, 0, 1)
			s := p.On(measure.DateOf(day))
			if s.Heavy < before.Heavy || s.Light > s.Heavy || s.Tall < child.Stature {
				t.Fatalf("on %v: %+v after %+v", measure.DateOf(day), s, before)
			}
			before = s
		}
	})
}

func FuzzPlan(f *testing.F) {
	f.Add(uint16(1200), uint16(900), uint16(1400), int64(15200), int64(1010), uint8(1), int64(7500), int64(2500), false)
	f.Add(uint16(0), uint16(0), uint16(0), int64(0), int64(0), uint8(0), int64(9999), int64(1), true)
	f.Add(uint16(300), uint16(200), uint16(7000), int64(1), int64(1), uint8(2), int64(0), int64(10000), true)
	f.Add(uint16(300), uint16(400), uint16(5000), int64(1)<<40-1, int64(1)<<40-1, uint8(2), int64(7500), int64(2500), false)
	f.Add(uint16(31), uint16(4000), uint16(4001), int64(-5), int64(-5), uint8(7), int64(7500), int64(2500), false)
	f.Fuzz(func(t *testing.T, birth, read, asked uint16, weight, stature int64, sex uint8, plan, least int64, monthOnly bool) {
		born := time.Date(1990, 1, 1+int(birth), 0, 0, 0, 0, time.UTC)
		child := growth.Child{
			Born: measure.DateOf(born), Sex: growth.Sex(sex), Measured: measure.DateOf(born.AddDate(0, 0, int(read))),
			Weight: measure.Mass(weight % (1 << 40)), Stature: measure.Length(stature % (1 << 40)),
		}
		if monthOnly {
			child.Born.Day = 0
		}
		day := born.AddDate(0, 0, int(asked))
		p := growth.Plan(child, growth.Z(measure.Share(plan)), growth.Z(measure.Share(least)))
		s := p.On(measure.DateOf(day))
		checkState(t, child, s)
		if next := p.On(measure.DateOf(day.AddDate(0, 0, 1))); child.Weight > 0 && next.Heavy < s.Heavy {
			t.Errorf("%+v, a day later %+v", s, next)
		}
	})
}

// checkState checks what holds of every child on every day: nothing negative,
// nothing more than the reading or a hundred times the greatest median, and
// the lower weight not above the upper.
func checkState(t *testing.T, child growth.Child, s growth.State) {
	t.Helper()
	if s.Light < 0 || s.Light > s.Heavy || s.Heavy <= 0 || s.Heavy > max(child.Weight, 100*65*measure.Kilogram) {
		t.Errorf("weights of %+v for %+v", s, child)
	}
	if s.Tall <= 0 || s.Tall > max(child.Stature, 100*176*measure.Centimetre) {
		t.Errorf("stature of %+v for %+v", s, child)
	}
	if s.Estimated != (child.Weight <= 0) || s.StatureEstimated != (child.Stature <= 0) || s.Projected && s.Estimated {
		t.Errorf("flags of %+v for %+v", s, child)
	}
}

func ExamplePlan() {
	child := growth.Child{
		Born:     measure.Date{Year: 2023, Month: time.May}, // the day is not known
		Sex:      growth.Girl,
		Measured: measure.Date{Year: 2026, Month: time.November, Day: 25},
		Weight:   15200,
	}
	plan := growth.Plan(child, growth.Z(7500), growth.Z(2500))
	for year := 2026; year <= 2028; year++ {
		s := plan.On(measure.Date{Year: year, Month: time.November, Day: 25})
		fmt.Println(year, int64(s.Heavy), "g", int64(s.Tall), "mm")
	}
	// Output:
	// 2026 15200 g 1007 mm
	// 2027 17316 g 1078 mm
	// 2028 19619 g 1151 mm
}

func BenchmarkPlan(b *testing.B) {
	child := growth.Child{Born: date(b, "2023-05"), Measured: date(b, "2026-11-25"), Weight: 15200, Stature: 1010}
	b.ReportAllocs()
	for b.Loop() {
		growth.Plan(child, planning, minimum)
	}
}

func BenchmarkPlanOn(b *testing.B) {
	p := plan(growth.Child{Born: date(b, "2023-05"), Measured: date(b, "2026-11-25"), Weight: 15200, Stature: 1010})
	day := date(b, "2029-04-30")
	b.ReportAllocs()
	for b.Loop() {
		p.On(day)
	}
}

// Whoever grows apart from their own z-score is never lighter than the reading,
// and is what they were read at on that day.
func TestPlanApart(t *testing.T) {
	t.Parallel()
	child := growth.Child{Born: measure.Date{Year: 2024, Month: 11, Day: 1}, Sex: growth.Girl, Measured: measure.Date{Year: 2026, Month: 11, Day: 1},
		Weight: 12 * measure.Kilogram, Stature: 85 * measure.Centimetre}
	planned, fast, slow := growth.Plan(child, 0.67, -0.67), growth.PlanApart(child, 0.67, -0.67, 0.67), growth.PlanApart(child, 0.67, -0.67, -0.67)
	for _, p := range []growth.Projection{planned, fast, slow} {
		if s := p.On(child.Measured); s.Heavy != child.Weight || s.Light != child.Weight || s.Tall != child.Stature {
			t.Errorf("on the day of the reading %+v", s)
		}
	}
	for month := 1; month < 100; month++ {
		day := child.Measured.AddMonths(month)
		a, b, c := slow.On(day), planned.On(day), fast.On(day)
		if a.Light < child.Weight || a.Light > a.Heavy || a.Heavy > b.Heavy || b.Heavy > c.Heavy || a.Tall > b.Tall || b.Tall > c.Tall {
			t.Fatalf("after %d months %+v, %+v, %+v", month, a, b, c)
		}
		own := growth.WeightZ(growth.Girl, 24, 12)
		if want := growth.Weight(growth.Girl, float64(24+month), own+0.67); math.Abs(float64(c.Heavy)/1000-want) > 0.001 {
			t.Fatalf("after %d months %v, want %.3f", month, c.Heavy, want)
		}
	}
	// Without a reading there is nothing to be apart from.
	child.Weight, child.Stature = 0, 0
	if a, b := growth.Plan(child, 0.67, -0.67), growth.PlanApart(child, 0.67, -0.67, 0.67); a.On(child.Measured) != b.On(child.Measured) {
		t.Error("a child that was not weighed grows apart from a z-score that nobody knows")
	}
}
