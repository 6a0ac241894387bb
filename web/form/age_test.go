package form

import (
	"testing"

	"kinwain/internal/measure"
	"kinwain/internal/profile"
)

func TestBorn(t *testing.T) {
	t.Parallel()
	for typed, want := range map[string]string{
		"5.2023": "2023-05", "14.5.2023": "2023-05-14", "May 2023": "2023-05",
		"14 months": "2025-09", "14 mois": "2025-09", "0 months": "2026-11", "4 years": "2022-05", "4 Jahre": "2022-05", "1 an": "2025-05", "2 jaar": "2024-05",
		"2025": "2025-07", "2026": "2026-06",
		"Sept 2025": "2025-09", "sep. 2025": "2025-09", "3. März 2024": "2024-03-03", "août 2024": "2024-08", "juin 2024": "2024-06", "juil. 2024": "2024-07", "mrt 2024": "2024-03",
		"jui 2024": "", "ma 2024": "", "4": "", "4 weeks": "", "4 moons": "", "31.2.2024": "",
	} {
		got, err := Born(typed, thisDay)
		if (err != nil) != (want == "") || err == nil && got.String() != want {
			t.Errorf("%q is %v, %v; want %s", typed, got, err, want)
		}
	}
}

// TestSettleKeepsAnAge holds that an age told today means the same birth when
// it is read again.
func TestSettleKeepsAnAge(t *testing.T) {
	t.Parallel()
	f := New()
	for _, typed := range []string{"4 years", "5.2023", "nonsense", ""} {
		row := f.Rows(Passengers)
		f.Add(Passengers)
		f.Set(At(Passengers, row, "born"), typed)
	}
	if wrote := f.Settle(thisDay); len(wrote) != 1 || wrote[0] != "passengers[0].born" {
		t.Errorf("wrote %v", wrote)
	}
	for row, want := range []string{"5.2022", "5.2023", "nonsense", ""} {
		if got := f.Get(At(Passengers, row, "born")); got != want {
			t.Errorf("child %d: %q, want %q", row, got, want)
		}
	}
}

func TestLengthsAsTheyAreSaid(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		units, field, typed string
		want                measure.Length
	}{
		{"", "riders[0].height_cm", "1.80", 1800}, {"", "riders[0].height_cm", "1,8", 1800}, {"", "riders[0].height_cm", "180", 1800},
		{"", "riders[0].height_cm", "5.11", 0}, {"", "riders[0].height_cm", "5.11 ft", 0}, {"", "riders[0].height_cm", "5'11", 1803},
		{Imperial, "riders[0].height_cm", "5.11", 0}, {Imperial, "riders[0].height_cm", "71", 1803},
		{"", "home.doorways[0].width_cm", "0.8", 800}, {"", "home.clearance_cm", "2.5", 25},
	} {
		f := New()
		f.Set(Units, c.units)
		f.Set("riders[0].weight_kg", "70 kg")
		f.Set("riders[0].height_cm", "180 cm")
		f.Set(c.field, c.typed)
		p, err := f.Profile(thisDay)
		if c.want == 0 {
			if faultAt(err, c.field) == "" {
				t.Errorf("%q is read in %s", c.typed, c.field)
			}
			continue
		}
		if err != nil {
			t.Errorf("%q: %v", c.typed, err)
			continue
		}
		got := p.Riders[0].Height
		if c.field != "riders[0].height_cm" {
			home := p.Home.Or(profile.Home{})
			if got = home.Clearance; !got.IsGiven() {
				got = home.Doorways.Or(nil)[0].Width
			}
		}
		if got.Or(0) != c.want {
			t.Errorf("%q is %v, want %v", c.typed, got.Or(0), c.want)
		}
	}
}
