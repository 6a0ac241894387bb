package measure_test

import (
	"testing"

	"kinwain/internal/measure"
)

func TestParsePercentage(t *testing.T) {
	t.Parallel()
	for text, want := range map[string]measure.Percentage{
		"21": 2100, "21 %": 2100, "8,5 percent": 850, ".25%": 25, "0": 0, " 100\u00a0% ": 10000, "0.005": 1, "33.333": 3333,
	} {
		if got, err := measure.ParsePercentage(text); err != nil || got != want {
			t.Errorf("%q: %d, %v, want %d", text, got, err, want)
		}
	}
	for _, text := range []string{"", "%", "-3", "3 kg", "1.2.3", "1e3", "99999999999999999999"} {
		if got, err := measure.ParsePercentage(text); err == nil {
			t.Errorf("%q is read as %d", text, got)
		}
	}
	for n := range measure.Percentage(10001) { // what is shown is read again as it is
		if got, err := measure.ParsePercentage(n.String()); err != nil || got != n {
			t.Fatalf("%v: %v, %v", n, got, err)
		}
	}
}
