package measure_test

import (
	"encoding/json"
	"fmt"
	"testing"
	"time"

	"pgregory.net/rapid"

	"kinwain/internal/measure"
)

func day(t testing.TB, s string) measure.Date {
	t.Helper()
	d, err := measure.ParseDate(s)
	if err != nil {
		t.Fatal(err)
	}
	return d
}

func TestAddMonths(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		from   string
		months int
		want   string
	}{
		{"2026-01-31", 1, "2026-02-28"},
		{"2024-01-31", 1, "2024-02-29"},
		{"2026-03-31", 1, "2026-04-30"},
		{"2026-08-31", 1, "2026-09-30"},
		{"2026-10-31", -1, "2026-09-30"},
		{"2026-12-31", 1, "2027-01-31"},
		{"2026-01-01", -1, "2025-12-01"},
		{"2024-02-29", 12, "2025-02-28"},
		{"2024-02-29", 48, "2028-02-29"},
		{"2023-02-28", 12, "2024-02-28"},
		{"2096-02-29", 48, "2100-02-28"}, // 2100 has no leap day
		{"1996-02-29", 48, "2000-02-29"}, // 2000 had one
		{"2026-11-25", 0, "2026-11-25"},
		{"2026-11-25", 204, "2043-11-25"},
		{"2026-11", 2, "2027-01"},
		{"2026-01", -13, "2024-12"},
	} {
		if got := day(t, c.from).AddMonths(c.months).String(); got != c.want {
			t.Errorf("%s and %d months: %s, want %s", c.from, c.months, got, c.want)
		}
	}
}

func drawDay(t *rapid.T, name string) (measure.Date, time.Time) {
	days := rapid.IntRange(0, 130_000).Draw(t, name)
	at := time.Date(1850, 1, 1, 0, 0, 0, 0, time.UTC).AddDate(0, 0, days)
	return measure.DateOf(at), at
}

// TestDateAgainstTime holds dates and months against the calendar of the
// standard library.
func TestDateAgainstTime(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(t *rapid.T) {
		d, at := drawDay(t, "d")
		e, other := drawDay(t, "e")
		if d.Compare(e) != at.Compare(other) || d.Before(e) != at.Before(other) || d.Compare(d) != 0 {
			t.Errorf("%v and %v: compare %d, before %v", d, e, d.Compare(e), d.Before(e))
		}
		if d.String() != at.Format("2006-01-02") || d.InMonth().String() != at.Format("2006-01") {
			t.Errorf("%v in %v, want %v", d, d.InMonth(), at)
		}
		if back, err := measure.ParseDate(d.String()); err != nil || back != d {
			t.Errorf("%v became %v, %v", d, back, err)
		}
		first := at.AddDate(0, 0, 1-at.Day())
		last := first.AddDate(0, 1, -1)
		if m := d.InMonth(); m.First() != measure.DateOf(first) || m.Last() != measure.DateOf(last) ||
			m.Year() != at.Year() || m.Month() != at.Month() || m != measure.MonthOf(at.Year(), at.Month()) {
			t.Errorf("%v: from %v to %v", m, m.First(), m.Last())
		}
		n := rapid.IntRange(-1200, 1200).Draw(t, "months")
		want := first.AddDate(0, n, 0)
		want = want.AddDate(0, 0, min(at.Day(), want.AddDate(0, 1, -1).Day())-1)
		if got := d.AddMonths(n); got != measure.DateOf(want) {
			t.Errorf("%v and %d months: %v, want %v", d, n, got, want)
		}
		if d.InMonth()+measure.Month(n) != measure.DateOf(want).InMonth() {
			t.Errorf("%v and %d months is not %v", d.InMonth(), n, want)
		}
	})
}

func TestDateOfKeepsTheZone(t *testing.T) {
	t.Parallel()
	evening := time.Date(2026, 12, 31, 23, 30, 0, 0, time.UTC)
	if got := measure.DateOf(evening.In(time.FixedZone("east", 3600))); got != (measure.Date{Year: 2027, Month: 1, Day: 1}) {
		t.Errorf("an hour east: %v", got)
	}
	if got := measure.DateOf(evening); got != (measure.Date{Year: 2026, Month: 12, Day: 31}) {
		t.Errorf("at home: %v", got)
	}
}

func TestMonthAlone(t *testing.T) {
	t.Parallel()
	m := day(t, "2024-02")
	if m.Day != 0 || m.String() != "2024-02" || m.IsZero() {
		t.Errorf("month alone: %#v", m)
	}
	if m.Earliest() != day(t, "2024-02-01") || m.Latest() != day(t, "2024-02-29") {
		t.Errorf("%v may mean %v to %v", m, m.Earliest(), m.Latest())
	}
	if d := day(t, "2024-02-10"); d.Earliest() != d || d.Latest() != d {
		t.Errorf("%v may mean %v to %v", d, d.Earliest(), d.Latest())
	}
	if !m.Before(day(t, "2024-02-01")) || m.Before(day(t, "2024-01-31")) {
		t.Error("a month alone does not lie just before its first day")
	}
	if zero := (measure.Date{}); !zero.IsZero() || zero.String() != "" || !zero.Before(day(t, "0001-01")) {
		t.Errorf("no date: %q", zero)
	}
}

func TestParseDateRefuses(t *testing.T) {
	t.Parallel()
	for _, text := range []string{"", "2026", "2026-13", "2026-00", "2026-1", "2026-2-3", "26-02-03", "2026-02-30", "2025-02-29", "1900-02-29",
		"2026-04-31", "2026-11-00", "0000-01", "0000-01-01", "-001-01", "12026-01-01", "2026-11-25T00:00:00Z", " 2026-11", "2026-11-25 ",
		"2026/11/25", "25-11-2026", "2026-11-2x", "soon"} {
		d, err := measure.ParseDate(text)
		refused(t, fmt.Sprintf("%q", text), err, "date")
		if !d.IsZero() {
			t.Errorf("%q: refused, yet %v", text, d)
		}
		m, err := measure.ParseMonth(text)
		refused(t, fmt.Sprintf("%q", text), err, "month")
		if m != 0 {
			t.Errorf("%q: refused, yet %v", text, m)
		}
	}
	_, err := measure.ParseMonth("2026-11-25")
	refused(t, "a day where a month belongs", err, "month")
}

func TestDateInDocuments(t *testing.T) {
	t.Parallel()
	for _, text := range []string{`""`, `"2024-02-29"`, `"2026-11"`, `"0001-01-01"`, `"9999-12-31"`} {
		d := day(t, "2000-01-01")
		if err := json.Unmarshal([]byte(text), &d); err != nil {
			t.Errorf("%s: %v", text, err)
		}
		if back, err := json.Marshal(d); err != nil || string(back) != text {
			t.Errorf("%s became %s, %v", text, back, err)
		}
	}
	d := day(t, "2000-01-01")
	if err := d.UnmarshalText([]byte("2026-02-30")); !d.IsZero() {
		t.Errorf("refused with %v, yet %v", err, d)
	} else {
		refused(t, "2026-02-30", err, "date")
	}
}
