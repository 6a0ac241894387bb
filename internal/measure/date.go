package measure

import (
	"fmt"
	"time"
)

// Month is a month of the calendar, counted from January of the year 0.
type Month int

// MonthOf returns the given month of a year.
func MonthOf(year int, month time.Month) Month { return Month(year*12 + int(month) - 1) }

// ParseMonth reads a month written "2006-01".
func ParseMonth(s string) (Month, error) {
	t, err := time.Parse("2006-01", s)
	if err != nil || t.Year() < 1 {
		return 0, &Error{Code: "month", Text: fmt.Sprintf("%q is not a month; write it like 2026-11", s)}
	}
	return MonthOf(t.Year(), t.Month()), nil
}

// Year returns the year that the month lies in.
func (m Month) Year() int { return int(m) / 12 }

// Month returns the month within its year.
func (m Month) Month() time.Month { return time.Month(int(m)%12 + 1) }

// First returns the first day of the month.
func (m Month) First() Date { return Date{m.Year(), m.Month(), 1} }

// Last returns the last day of the month.
func (m Month) Last() Date { return Date{m.Year(), m.Month(), daysIn(m.Year(), m.Month())} }

// String returns the month as "2006-01".
func (m Month) String() string { return fmt.Sprintf("%04d-%02d", m.Year(), m.Month()) }

// Date is a day of the calendar without a time of day. Day 0 means that only
// the month is known. The zero Date means none.
type Date struct {
	Year  int
	Month time.Month
	Day   int
}

// ParseDate reads a day written "2006-01-02", or a month written "2006-01".
func ParseDate(s string) (Date, error) {
	if t, err := time.Parse("2006-01-02", s); err == nil && t.Year() >= 1 {
		return DateOf(t), nil
	}
	m, err := ParseMonth(s)
	if err != nil {
		return Date{}, &Error{Code: "date", Text: fmt.Sprintf("%q is not a date; write it like 2026-11-25, or 2026-11 for the month alone", s)}
	}
	return Date{m.Year(), m.Month(), 0}, nil
}

// DateOf returns the day of a time in that time's own zone.
func DateOf(t time.Time) Date {
	y, m, d := t.Date()
	return Date{y, m, d}
}

// IsZero reports whether there is no date.
func (d Date) IsZero() bool { return d == Date{} }

// InMonth returns the month that the date lies in.
func (d Date) InMonth() Month { return MonthOf(d.Year, d.Month) }

// Earliest returns the first day that the date may mean.
func (d Date) Earliest() Date {
	if d.Day == 0 {
		return d.InMonth().First()
	}
	return d
}

// Latest returns the last day that the date may mean.
func (d Date) Latest() Date {
	if d.Day == 0 {
		return d.InMonth().Last()
	}
	return d
}

// AddMonths returns the same day n months later, or the last day of that
// month where it is shorter.
func (d Date) AddMonths(n int) Date {
	m := d.InMonth() + Month(n)
	return Date{m.Year(), m.Month(), min(d.Day, daysIn(m.Year(), m.Month()))}
}

// Compare returns -1, 0 or 1 as d lies before, on or after e. A date without
// a day lies before the first day of its month.
func (d Date) Compare(e Date) int {
	for _, diff := range [...]int{d.Year - e.Year, int(d.Month) - int(e.Month), d.Day - e.Day} {
		if diff != 0 {
			return min(max(diff, -1), 1)
		}
	}
	return 0
}

// Before reports whether d lies before e.
func (d Date) Before(e Date) bool { return d.Compare(e) < 0 }

// String returns the date as "2006-01-02", or "2006-01" where the day is not
// known, or nothing where there is no date.
func (d Date) String() string {
	switch {
	case d.IsZero():
		return ""
	case d.Day == 0:
		return d.InMonth().String()
	}
	return fmt.Sprintf("%04d-%02d-%02d", d.Year, d.Month, d.Day)
}

// MarshalText writes the date as String does.
func (d Date) MarshalText() ([]byte, error) { return []byte(d.String()), nil }

// UnmarshalText reads what MarshalText writes.
func (d *Date) UnmarshalText(text []byte) error {
	*d = Date{}
	if len(text) == 0 {
		return nil
	}
	var err error
	*d, err = ParseDate(string(text))
	return err
}

func daysIn(year int, month time.Month) int {
	return time.Date(year, month+1, 0, 0, 0, 0, 0, time.UTC).Day()
}
