package catalog_test

import (
	"math/big"
	"testing"

	"pgregory.net/rapid"

	"kinwain/internal/catalog"
	"kinwain/internal/measure"
)

func TestLabour(t *testing.T) {
	for _, c := range []struct {
		rate    measure.Money
		minutes int
		want    measure.Money
	}{
		{6000, 25, 2500}, {6000, 60, 6000}, {6000, 0, 0}, {0, 600, 0}, {6000, 1440, 144000},
		{29, 1, 0}, {30, 1, 1}, {31, 1, 1}, {89, 1, 1}, {90, 1, 2}, // 0.48, 0.5, 0.52, 1.48 and 1.5 cents
		{6050, 7, 706}, {6090, 1, 102}, // 705.83 and 101.5 cents
	} {
		if got := (catalog.Shop{LabourPerHour: c.rate}).Labour(c.minutes); got != c.want {
			t.Errorf("%d minutes at %d: %d, want %d", c.minutes, int64(c.rate), int64(got), int64(c.want))
		}
	}
	rapid.Check(t, func(t *rapid.T) {
		rate, minutes := rapid.Int64Range(0, 100_000).Draw(t, "rate"), rapid.IntRange(0, 24*60).Draw(t, "minutes")
		got := (catalog.Shop{LabourPerHour: measure.Money(rate)}).Labour(minutes)
		// FloatString rounds halves away from zero.
		if want := big.NewRat(rate*int64(minutes), 60).FloatString(0); big.NewInt(int64(got)).String() != want {
			t.Errorf("%d minutes at %d: %d, want %s", minutes, rate, int64(got), want)
		}
	})
}

// The bead seat diameters of ISO 5775 by the size that people call a wheel by
// (from the standard's designation tables, from memory).
func TestBeadSeat(t *testing.T) {
	for tyre, want := range map[string]measure.Length{
		"50-406":  406, // 20 inch
		"47-305":  305, // 16 inch
		"57-507":  507, // 24 inch
		"60-559":  559, // 26 inch
		"54-584":  584, // 27.5 inch, 650B
		"28-622":  622, // 28 inch, 700C, 29 inch
		"32-630":  630, // 27 inch
		"100-559": 559,
		"":        0, "50": 0, "50-": 0, "-": 0, "20 x 2.0": 0, "50-abc": 0, "50--406": 0, "50-406-1": 0, "50/406": 0,
	} {
		if got := catalog.BeadSeat(tyre); got != want {
			t.Errorf("%q: %d mm, want %d mm", tyre, int64(got), int64(want))
		}
	}
	_, c := demo(t)
	for _, f := range c.Frames {
		for _, tyre := range []string{f.FrontTyre, f.RearTyre} {
			if seat := catalog.BeadSeat(tyre); tyre != "" && (seat < 203 || seat > 635) {
				t.Errorf("%s: a tyre %q of bead seat %d mm", f.Code, tyre, int64(seat))
			}
		}
	}
}

func TestFrameLookups(t *testing.T) {
	f := small().Frames[0]
	for zone, want := range map[string]int{"front": 0, "rear": 1, "box": -1, "": -1} {
		if got := f.ZoneIndex(zone); got != want {
			t.Errorf("zone %q: %d, want %d", zone, got, want)
		}
	}
	for mount, want := range map[string]int{"deck_cm": 63, "belly": 1, "head_tube": 0, "": 0} {
		if got := f.Capacity(mount); got != want {
			t.Errorf("mount %q: %d, want %d", mount, got, want)
		}
	}
	if !f.CanStand() {
		t.Error("a frame with an upright size cannot stand")
	}
	if f.Upright = (catalog.Box{}); f.CanStand() {
		t.Error("a frame without an upright size can stand")
	}
	for name, forget := range map[string]func(f *catalog.Frame){
		"wheelbase": func(f *catalog.Frame) { f.Wheelbase = 0 }, "rider": func(f *catalog.Frame) { f.RiderAhead = 0 },
		"share": func(f *catalog.Frame) { f.BareFrontShare = 0 },
	} {
		f := small().Frames[0]
		if !f.StatesAxles() {
			t.Error("a frame with every figure does not state its axles")
		}
		if forget(&f); f.StatesAxles() {
			t.Errorf("without the %s the axles are stated", name)
		}
	}
}
