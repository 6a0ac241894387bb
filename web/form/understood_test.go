package form

import (
	"strings"
	"testing"
)

// TestUnderstood says back what was typed in another way than the form asks.
func TestUnderstood(t *testing.T) {
	t.Parallel()
	for _, c := range []struct{ units, name, typed, want string }{
		{"", "riders[0].height_cm", "5'11", "180.3 cm"},
		{"", "riders[0].height_cm", "1.80", "180 cm"},
		{"", "riders[0].height_cm", "180", ""},
		{"", "riders[0].height_cm", " 180 cm ", ""},
		{"", "riders[0].height_cm", "5.11", ""}, // it asks
		{"", "riders[0].height_cm", "tall", ""},
		{"", "riders[0].weight_kg", "12 st 4", "78 kg"},
		{"", "riders[0].weight_kg", "82,5", ""},
		{Imperial, "riders[0].weight_kg", "82 kg", "180.8 lb"},
		{Imperial, "riders[0].height_cm", "71", ""},
		{Imperial, "riders[0].height_cm", "5'11", "71 inches"},
		{"", "passengers[0].born", "5.2023", "3 years"},
		{"", "passengers[0].born", "14 months", "14 months"},
		{"", "passengers[0].born", "27.10.2026", "0 months"},
		{"", "passengers[0].born", "26.10.2026", "1 month"},
		{"", "passengers[0].born", "26.11.2025", "12 months"},
		{"", "passengers[0].born", "27.11.2025", "11 months"},
		{"", "passengers[0].born", "5.2027", "expected"},
		{"", "passengers[0].sex", "girl", ""},
		{"", "cargo_kg", "", ""},
	} {
		f := New()
		f.Set(Units, c.units)
		f.Set(c.name, c.typed)
		if got := f.Understood(c.name, thisDay); got != c.want {
			t.Errorf("%s %q: %q, want %q", c.name, c.typed, got, c.want)
		}
	}
}

// TestABareAgeIsAskedAbout holds that a bare number at a birth is asked about,
// and that a fault repeats what was typed.
func TestABareAgeIsAskedAbout(t *testing.T) {
	t.Parallel()
	for typed, want := range map[string]string{"4": "months or years", "31.2.2023": `"31.2.2023" is neither`, "4 years": ""} {
		f := New()
		f.Set("passengers[0].born", typed)
		if got := f.Fault("passengers[0].born", thisDay); !strings.Contains(got, want) || want == "" && got != "" {
			t.Errorf("%q: %q, want %q", typed, got, want)
		}
	}
}
