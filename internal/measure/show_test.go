package measure_test

import (
	"math/big"
	"regexp"
	"testing"

	"pgregory.net/rapid"

	"kinwain/internal/measure"
)

func TestShowRounds(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		what              interface{ String() string }
		show              func(measure.Rounding) string
		down, nearest, up string
	}{
		{measure.Mass(82449), metric(82449), "82.4 kg", "82.4 kg", "82.5 kg"},
		{measure.Mass(82450), metric(82450), "82.4 kg", "82.5 kg", "82.5 kg"},
		{measure.Mass(82400), metric(82400), "82.4 kg", "82.4 kg", "82.4 kg"},
		{measure.Mass(82000), metric(82000), "82 kg", "82 kg", "82 kg"},
		{measure.Mass(1), metric(1), "0 kg", "0 kg", "0.1 kg"},
		{measure.Mass(0), metric(0), "0 kg", "0 kg", "0 kg"},
		{measure.Mass(-1), metric(-1), "-0.1 kg", "0 kg", "0 kg"},
		{measure.Mass(-1001), metric(-1001), "-1.1 kg", "-1 kg", "-1 kg"},
		{measure.Mass(999_999), metric(999_999), "999.9 kg", "1000 kg", "1000 kg"},
	} {
		got := [3]string{c.show(measure.Down), c.show(measure.Nearest), c.show(measure.Up)}
		if want := [3]string{c.down, c.nearest, c.up}; got != want || c.what.String() != c.nearest {
			t.Errorf("%q and %v, want %q", got, c.what, want)
		}
	}
}

func metric(m measure.Mass) func(measure.Rounding) string {
	return func(r measure.Rounding) string { return m.Show(measure.Metric, r) }
}

// An adult of 82 kg weighs 180.779 lb and one of 178 cm is 70.079 in tall.
func TestShowImperial(t *testing.T) {
	t.Parallel()
	for got, want := range map[string]string{
		measure.Mass(82000).Show(measure.Imperial, measure.Down):        "180.7 lb",
		measure.Mass(82000).Show(measure.Imperial, measure.Nearest):     "180.8 lb",
		measure.Mass(82000).Show(measure.Imperial, measure.Up):          "180.8 lb",
		measure.Mass(-82000).Show(measure.Imperial, measure.Down):       "-180.8 lb",
		measure.Mass(-82000).Show(measure.Imperial, measure.Up):         "-180.7 lb",
		measure.Length(1780).Show(measure.Imperial, measure.Down):       "70 inches",
		measure.Length(1780).Show(measure.Imperial, measure.Nearest):    "70.1 inches",
		measure.Length(1780).Show(measure.Imperial, measure.Up):         "70.1 inches",
		measure.Length(254).Show(measure.Imperial, measure.Up):          "10 inches",
		measure.Length(1783).Show(measure.Metric, measure.Down):         "178.3 cm",
		measure.Length(1780).String():                                   "178 cm",
		measure.Volume(60050).Show(measure.Down):                        "60 l",
		measure.Volume(60050).String():                                  "60.1 l",
		measure.Volume(60001).Show(measure.Up):                          "60.1 l",
		measure.Metric.MassUnit() + measure.Metric.LengthUnit():         "kgcm",
		measure.Imperial.MassUnit() + measure.Imperial.LengthUnit():     "lbin",
		measure.Length(25).Show(measure.Imperial, measure.Up):           "1 inch",
		measure.Percentage(2150).String():                               "21.5\u00a0%",
		measure.Percentage(2100).String():                               "21\u00a0%",
		measure.Mass(100*45_359_237).Show(measure.Imperial, measure.Up): "10000000 lb",
	} {
		if got != want {
			t.Errorf("%q, want %q", got, want)
		}
	}
}

// systems pairs each system with the exact size of a shown tenth.
var systems = []struct {
	system       measure.System
	mass, length *big.Rat
}{
	{measure.Metric, big.NewRat(100, 1), big.NewRat(1, 1)},
	{measure.Imperial, big.NewRat(45359237, 1000000), big.NewRat(254, 100)},
}

// tenths reads a shown figure back as a whole number of tenths.
func tenths(t *rapid.T, shown, unit string) *big.Rat {
	figure, ok := new(big.Rat).SetString(shown[:len(shown)-len(unit)])
	if !ok || shown[len(shown)-len(unit):] != unit {
		t.Fatalf("%q is no figure with the unit %q", shown, unit)
	}
	figure.Mul(figure, big.NewRat(10, 1))
	if !figure.IsInt() {
		t.Fatalf("%q has more than one decimal", shown)
	}
	return figure
}

var inches = regexp.MustCompile(` inch(es)?$`)

// TestShowErrsToTheSafeSide holds every shown figure against the exact one:
// up is never below it, down never above, nearest at most half a tenth off,
// and none is a whole tenth off.
func TestShowErrsToTheSafeSide(t *testing.T) {
	t.Parallel()
	one, half := big.NewRat(1, 1), big.NewRat(1, 2)
	rapid.Check(t, func(t *rapid.T) {
		n := rapid.Int64Range(-400_000, 400_000).Draw(t, "count")
		for _, s := range systems {
			check := func(show func(measure.System, measure.Rounding) string, tenth *big.Rat, unit string) {
				off := func(r measure.Rounding) *big.Rat {
					exact := new(big.Rat).Quo(big.NewRat(n, 1), tenth)
					return exact.Sub(tenths(t, show(s.system, r), unit), exact)
				}
				up, down, nearest := off(measure.Up), off(measure.Down), off(measure.Nearest)
				if up.Sign() < 0 || up.Cmp(one) >= 0 || down.Sign() > 0 || down.Neg(down).Cmp(one) >= 0 || nearest.Abs(nearest).Cmp(half) > 0 {
					t.Errorf("%d in %s: up by %v, down by %v, nearest by %v tenths", n, unit, up, down, nearest)
				}
			}
			check(measure.Mass(n).Show, s.mass, " "+s.system.MassUnit())
			check(func(system measure.System, r measure.Rounding) string {
				return inches.ReplaceAllString(measure.Length(n).Show(system, r), " in")
			}, s.length, " "+s.system.LengthUnit())
		}
	})
}

// TestShownParsesBack holds that what is shown in either system reads as the
// same figure, however the reader's own system is set.
func TestShownParsesBack(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(t *rapid.T) {
		m := measure.Mass(rapid.Int64Range(0, 600_000).Draw(t, "grams"))
		l := measure.Length(rapid.Int64Range(0, 20_000).Draw(t, "millimetres"))
		assume := rapid.SampledFrom([]measure.System{measure.Metric, measure.Imperial}).Draw(t, "assume")
		for _, s := range systems {
			shown := m.Show(s.system, measure.Nearest)
			if got, err := measure.ParseMass(shown, assume); err != nil || got.Show(s.system, measure.Nearest) != shown {
				t.Errorf("%q: %d g, %v", shown, int64(got), err)
			}
			shown = l.Show(s.system, measure.Nearest)
			got, err := measure.ParseLength(shown, assume)
			if err != nil || got.Show(s.system, measure.Nearest) != shown || s.system == measure.Metric && got != l {
				t.Errorf("%q: %d mm, %v", shown, int64(got), err)
			}
		}
		v := measure.Volume(rapid.Int64Range(0, 2_000_000).Draw(t, "millilitres"))
		if got, err := measure.ParseVolume(v.String()); err != nil || got.String() != v.String() {
			t.Errorf("%q: %d ml, %v", v, int64(got), err)
		}
	})
}

// TestShowOver holds that a shown difference is that of the figures shown:
// 41.24 kg less 10.19 kg is 31.05 kg, but 41.2 less 10.1 is 31.1. In pounds
// they are 90.91 and 22.46, shown as 90.9 and 22.4.
func TestShowOver(t *testing.T) {
	t.Parallel()
	for _, c := range []struct{ got, want string }{
		{measure.Mass(41_240).ShowOver(10_190, measure.Metric, measure.Down), "31.1 kg"},
		{measure.Mass(41_240).ShowOver(10_190, measure.Imperial, measure.Down), "68.5 lb"},
		{measure.Mass(41_240).ShowOver(10_190, measure.Metric, measure.Up), "31.1 kg"},
		{measure.Mass(5_000).ShowOver(-3_000, measure.Metric, measure.Down), "8 kg"},
		{measure.Length(2560).ShowOver(2380, measure.Metric, measure.Up), "18 cm"},
		{measure.Length(2560).ShowOver(2380, measure.Imperial, measure.Up), "7 inches"}, // 100.787 and 93.701
	} {
		if c.got != c.want {
			t.Errorf("%s, want %s", c.got, c.want)
		}
	}
}
