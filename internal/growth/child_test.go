package growth_test

import (
	"math"
	"testing"
	"time"

	"pgregory.net/rapid"

	"kinwain/internal/growth"
	"kinwain/internal/measure"
)

func date(t testing.TB, s string) measure.Date {
	t.Helper()
	d, err := measure.ParseDate(s)
	if err != nil {
		t.Fatal(err)
	}
	return d
}

func TestMonthsOn(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		born, day string
		want      float64
	}{
		{"2023-05-14", "2023-05-14", 0},
		{"2023-05-14", "2023-05-29", 15.0 / 31}, // 14 May to 14 June is 31 days
		{"2023-05-14", "2024-05-13", 11 + 29.0/30},
		{"2023-05-14", "2024-05-14", 12},
		{"2023-05-14", "2024-05-30", 12 + 16.0/31},
		{"2023-05", "2024-05-01", 12}, // a month alone began on its first day
		{"2023-05", "2024-05-31", 12 + 30.0/31},
		{"2023-05-14", "2024-06", 12 + 18.0/31}, // so does a day asked for
		{"2023-01-31", "2023-02-28", 1},         // the shorter month ends the count
		{"2023-01-31", "2023-03-01", 1 + 1.0/31},
		{"2023-01-31", "2023-03-30", 1 + 30.0/31},
		{"2023-01-31", "2023-03-31", 2},
		{"2024-02-29", "2025-02-28", 12},
		{"2024-02-29", "2025-02-27", 11 + 29.0/30}, // 29 January to 28 February is 30 days
		{"2024-02-29", "2028-02-28", 47 + 30.0/31},
		{"2024-02-29", "2028-02-29", 48},
		{"2023-05-14", "2023-05-13", -1.0 / 30}, // before birth
		{"2023-05-14", "2022-05-14", -12},
	} {
		child := growth.Child{Born: date(t, c.born)}
		if got := child.MonthsOn(date(t, c.day)); math.Abs(got-c.want) > 1e-12 {
			t.Errorf("born %s, on %s: %v months, want %v", c.born, c.day, got, c.want)
		}
	}
}

func TestMonthsRiseDayByDay(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(t *rapid.T) {
		birth := time.Date(2000, 1, 1+rapid.IntRange(0, 20000).Draw(t, "birth"), 0, 0, 0, 0, time.UTC)
		child := growth.Child{Born: measure.DateOf(birth)}
		day := birth.AddDate(0, 0, rapid.IntRange(-500, 9000).Draw(t, "age in days"))
		today, tomorrow := child.MonthsOn(measure.DateOf(day)), child.MonthsOn(measure.DateOf(day.AddDate(0, 0, 1)))
		if step := tomorrow - today; step < 1/31.001 || step > 1/27.999 {
			t.Fatalf("born %v: from %v on %v to %v the day after", child.Born, today, day, tomorrow)
		}
	})
}

func TestAgeLimits(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		born, on       string
		months         int
		old, notTooOld bool
	}{
		{"2025-11-25", "2026-11-24", 12, false, true},
		{"2025-11-25", "2026-11-25", 12, true, true},
		{"2025-11-25", "2026-11-26", 12, true, false},
		// The month alone: born on the 30th to be old enough, on the 1st not to be too old.
		{"2025-11", "2026-11-01", 12, false, true},
		{"2025-11", "2026-11-02", 12, false, false},
		{"2025-11", "2026-11-29", 12, false, false},
		{"2025-11", "2026-11-30", 12, true, false},
		{"2025-11", "2026-10-31", 12, false, true},
		// Months of unequal length, and leap days.
		{"2025-08", "2026-02-27", 6, false, false},
		{"2025-08", "2026-02-28", 6, true, false},
		{"2025-08-31", "2026-02-28", 6, true, true},
		{"2025-08-31", "2026-03-01", 6, true, false},
		{"2024-02-29", "2025-02-27", 12, false, true},
		{"2024-02-29", "2025-02-28", 12, true, true},
		{"2024-02-29", "2025-03-01", 12, true, false},
		{"2024-02", "2025-02-27", 12, false, false},
		{"2024-02", "2025-02-28", 12, true, false},
		{"2023-02", "2024-02-28", 12, true, false},
		{"2024-02-29", "2028-02-28", 48, false, true},
		{"2024-02-29", "2028-02-29", 48, true, true},
		// A month asked for: its first day for the minimum, its last for the maximum.
		{"2025-11-25", "2026-11", 12, false, false},
		{"2025-11-01", "2026-11", 12, true, false},
		{"2025-11-30", "2026-11", 12, false, true},
	} {
		child := growth.Child{Born: date(t, c.born)}
		if got := child.OldEnough(c.months, date(t, c.on)); got != c.old {
			t.Errorf("born %s, %d months on %s: old enough %v", c.born, c.months, c.on, got)
		}
		if got := child.NotTooOld(c.months, date(t, c.on)); got != c.notTooOld {
			t.Errorf("born %s, %d months on %s: not too old %v", c.born, c.months, c.on, got)
		}
	}
}
