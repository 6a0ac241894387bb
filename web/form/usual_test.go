package form

import (
	"slices"
	"testing"
)

func TestBring(t *testing.T) {
	t.Parallel()
	f := New()
	f.unknown["cargo_kg"] = true
	f.Bring("groceries", thisDay)
	f.Bring("crate", thisDay)
	f.Bring("dog", thisDay)
	f.Bring("piano", thisDay)
	if f.Get("cargo_kg") != "37 kg" || f.Get("cargo_litres") != "90 l" || f.Get("pet_kg") != "35 kg" || f.Unknown("cargo_kg") {
		t.Errorf("%q, %q, %q", f.Get("cargo_kg"), f.Get("cargo_litres"), f.Get("pet_kg"))
	}
	f.Set("cargo_kg", "lots")
	f.Bring("crate", thisDay)
	if f.Get("cargo_kg") != "lots" || f.Get("cargo_litres") != "90 l" {
		t.Errorf("what cannot be read became %q, %q", f.Get("cargo_kg"), f.Get("cargo_litres"))
	}
}

func TestAgain(t *testing.T) {
	t.Parallel()
	f := New()
	f.Add(Passengers)
	for field, value := range map[string]string{"label": "Q", "born": "5.2023", "weight_kg": "15", "stature_cm": "100", "sits_unaided": "yes"} {
		f.Set(At(Passengers, 0, field), value)
	}
	f.unknown[At(Passengers, 0, "joins")] = true
	f.Again(Passengers, 0)
	for field, want := range map[string]string{"label": "first child", "born": "5.2023", "weight_kg": "", "stature_cm": "", "sits_unaided": "yes"} {
		if got := f.Get(At(Passengers, 1, field)); got != want {
			t.Errorf("the twin's %s is %q, want %q", field, got, want)
		}
	}
	if !f.Unknown("passengers[1].joins") || f.Rows(Passengers) != 2 {
		t.Error("what is to be asked of one is to be asked of the other")
	}
	for _, row := range []int{-1, 7} {
		f.Again(Passengers, row)
	}
	for range 30 {
		f.Again(Passengers, 0)
	}
	if n := f.Rows(Passengers); n != maxRows {
		t.Errorf("%d rows", n)
	}
}

// TestMean chooses between the readings of what may mean two things.
func TestMean(t *testing.T) {
	t.Parallel()
	for _, c := range []struct{ line, reading, field, want string }{
		{"130", "height_cm", "riders[0].height_cm", "130 cm"},
		{"130", "weight_kg", "riders[0].weight_kg", "130 kg"},
		{"groceries 20", "cargo_litres", "cargo_litres", "20"},
		{"groceries 20", "cargo_kg", "cargo_kg", "20 kg"},
		{"30 kg", "pet_kg", "pet_kg", "30 kg"},
		{"kids 14 and 20 months", InMonths, "passengers[0].born", "9.2025"},
		{"kids 14 and 20 months", InYears, "passengers[0].born", "5.2012"},
		{"4 years", "born", "passengers[0].born", "5.2022"},
		{"4 years", Lasting, "years", "4"},
		{"130", "cargo_litres", "cargo_litres", "130"},
		{"tuba 4", "cargo_kg", "cargo_kg", ""},
		{"130", "budget_cents", "budget_cents", ""},
	} {
		f := New()
		f.Set(Line, "a red one, "+c.line)
		_, doubts, _ := f.Clone().Hear(c.line, thisDay)
		h, ok := f.Mean(c.reading, c.line, thisDay)
		if got := f.Get(c.field); got != c.want || ok != (c.want != "") || ok && (h.Field != c.field || h.Value != c.want) {
			t.Errorf("%q as %s: %q, %+v, %v", c.line, c.reading, got, h, ok)
		}
		if offered := slices.Contains(doubts[0].Readings(), c.reading); offered && !ok {
			t.Errorf("%q is offered as %s and cannot be", c.line, c.reading)
		}
		if f.ForgetWords(c.line); f.Get(Line) != "a red one" {
			t.Errorf("the line is %q", f.Get(Line))
		}
	}
}
