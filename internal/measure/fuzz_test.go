package measure_test

import (
	"testing"

	"kinwain/internal/measure"
)

// farBelowTheGreatest keeps a count away from the greatest that is read, where
// rounding to a shown tenth may step beyond it.
const farBelowTheGreatest = 100_000_000_000

func seeds(f *testing.F) {
	for _, text := range []string{"82 kg", "82,5", "180 lb", "12 st 4", "12 st 4 lb 4 oz", `5'10"`, "5 ft 10", "178 cm", "1.78 m", "1 m 78", "5’10”",
		"5′10″", "178\u00a0cm", "", "NaN", "-1", "1e5 kg", "82.5.5", "999999999999 kg", "0.0005", "EUR 3,500.00", "3.500,00", "0.500", "−5"} {
		for _, imperial := range []bool{false, true} {
			f.Add(text, imperial)
		}
	}
}

func system(imperial bool) measure.System {
	if imperial {
		return measure.Imperial
	}
	return measure.Metric
}

// refusedAnyhow holds what every refusal promises.
func refusedAnyhow(t *testing.T, text string, figure int64, err error, codes ...string) {
	t.Helper()
	if figure != 0 {
		t.Errorf("%q: refused, yet %d", text, figure)
	}
	for _, code := range codes {
		if e, ok := err.(*measure.Error); ok && e.Code == code {
			refused(t, text, err, code)
			return
		}
	}
	t.Errorf("%q: error %#v, want a *measure.Error with one of the codes %q", text, err, codes)
}

func FuzzParseMass(f *testing.F) {
	seeds(f)
	f.Fuzz(func(t *testing.T, text string, imperial bool) {
		m, err := measure.ParseMass(text, system(imperial))
		if err != nil {
			refusedAnyhow(t, text, int64(m), err, "quantity", "too_large")
			return
		}
		if m < 0 {
			t.Errorf("%q: %d g", text, int64(m))
		}
		if m > farBelowTheGreatest {
			return
		}
		for _, s := range []measure.System{measure.Metric, measure.Imperial} {
			shown := m.Show(s, measure.Nearest)
			if again, err := measure.ParseMass(shown, system(!imperial)); err != nil || again.Show(s, measure.Nearest) != shown {
				t.Errorf("%q: %d g shown as %q, parsed as %d g, %v", text, int64(m), shown, int64(again), err)
			}
		}
	})
}

func FuzzParseLength(f *testing.F) {
	seeds(f)
	f.Fuzz(func(t *testing.T, text string, imperial bool) {
		l, err := measure.ParseLength(text, system(imperial))
		if err != nil {
			refusedAnyhow(t, text, int64(l), err, "quantity", "too_large")
			return
		}
		if l < 0 {
			t.Errorf("%q: %d mm", text, int64(l))
		}
		if l > farBelowTheGreatest {
			return
		}
		if again, err := measure.ParseLength(l.Show(measure.Metric, measure.Nearest), system(!imperial)); err != nil || again != l {
			t.Errorf("%q: %d mm shown and parsed as %d mm, %v", text, int64(l), int64(again), err)
		}
		shown := l.Show(measure.Imperial, measure.Nearest)
		if again, err := measure.ParseLength(shown, system(!imperial)); err != nil || again.Show(measure.Imperial, measure.Nearest) != shown {
			t.Errorf("%q: %d mm shown as %q, parsed as %d mm, %v", text, int64(l), shown, int64(again), err)
		}
	})
}

func FuzzParseMoney(f *testing.F) {
	seeds(f)
	f.Fuzz(func(t *testing.T, text string, _ bool) {
		m, err := measure.ParseMoney(text)
		if err != nil {
			refusedAnyhow(t, text, int64(m), err, "money")
			return
		}
		if m < 0 {
			t.Errorf("%q: %d cents", text, int64(m))
		}
		for _, shown := range []string{m.Show("EUR"), m.String()} {
			if again, err := measure.ParseMoney(shown); err != nil || again != m {
				t.Errorf("%q: %d cents shown as %q, parsed as %d, %v", text, int64(m), shown, int64(again), err)
			}
		}
	})
}

// What is read as a date is one of the calendar, and is read again as it is
// written.
func FuzzParseDate(f *testing.F) {
	for _, text := range []string{"2026-11-25", "2026-11", "2024-02-29", "2023-02-29", "2026-13-01", "0000-01-01", "0001-01", "9999-12-31", "10000-01-01",
		"2026-1-1", " 2026-11-25", "2026-11-25T00:00:00Z", "25.11.2026", "11/25/2026", "", "-001-01-01", "２０２６-11-25"} {
		f.Add(text)
	}
	f.Fuzz(func(t *testing.T, text string) {
		d, err := measure.ParseDate(text)
		if err != nil {
			if e, ok := err.(*measure.Error); !ok || e.Code != "date" || !d.IsZero() {
				t.Errorf("%q: %v with %#v", text, d, err)
			}
			return
		}
		if again, err := measure.ParseDate(d.String()); err != nil || again != d || d.String() != text {
			t.Errorf("%q is written as %s and read again as %v, %v", text, d, again, err)
		}
		first, last := d.Earliest(), d.Latest()
		if first.Day < 1 || last.Day > 31 || last.Before(first) || first.Month != d.Month || last.Month != d.Month || d.Year < 1 {
			t.Errorf("%q may mean %v to %v", text, first, last)
		}
		if back := first.AddMonths(1).AddMonths(-1); back.Month != first.Month || back.Year != first.Year || first.Before(back) {
			t.Errorf("%q: a month on and back is %v", text, back)
		}
	})
}
