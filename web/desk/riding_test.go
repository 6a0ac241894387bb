package desk_test

import (
	"net/http"
	"strings"
	"testing"

	"kinwain/web/webtest"
)

// uphill is a customer with an inseam, a hill and a load, without passengers.
const uphill = `{"profile": 1, "as_of": "2026-11-25", "riders": [{"label": "A", "height_cm": 178, "inseam_cm": 82, "weight_kg": 82, "weighed": "dressed"}],
 "cargo_kg": 20, "cargo_litres": 40, "hill_percent": 7}`

// TestHowItRides holds the section to figures worked by hand. The Osier
// weighs 28.9 kg and 38 × 36 on 50-507 goes π × 607 × 38 / 36 = 2.013 m a turn;
// 0.883 × 82 = 72.4 cm.
func TestHowItRides(t *testing.T) {
	t.Parallel()
	v := webtest.Open(t).Staff()
	address := v.Interview([]byte(uphill))
	a := v.Get(address + "/frames/osier-m")
	text := a.Text(".rides")
	for _, want := range []string{"From 2.01 m to 6.59 m", "38 × 36", "Brakes: hydraulic disc in front", "7 % hill", "1.8 W for every kilogram", "148 W", "without a motor", "72.4 cm", "no published source", "chart of tyres", "rpm", "bar", "sidewall", "qualified mechanic", "never a child first", "a starting point"} {
		if !strings.Contains(text, want) {
			t.Errorf("%q is missing in %q", want, text)
		}
	}
	if strings.Contains(text, "foot down") || strings.Contains(text, "150 W") {
		t.Errorf("nobody sits behind, and 150 W is nobody's effort: %q", text)
	}
	family := v.Get(v.Interview([]byte(strings.Replace(webtest.Family, `"height_cm"`, `"inseam_cm": 80, "height_cm"`, 1))) + "/frames/osier-m")
	if got := family.Text(".rides"); !strings.Contains(got, "low enough to put a foot down") {
		t.Errorf("with children: %q", got)
	}
	if full := a.Text(".rides table:last-of-type"); !strings.Contains(full, "kg") {
		t.Errorf("the ballast is %q", full)
	}
}

// TestHowItRidesWithoutFigures holds that what is missing is said and never
// counts as zero.
func TestHowItRidesWithoutFigures(t *testing.T) {
	t.Parallel()
	v := webtest.Open(t).Staff()
	address := v.Interview([]byte(`{"profile": 1, "as_of": "2026-11-25", "riders": [{"label": "A", "height_cm": 178, "weight_kg": 82}]}`))
	text := v.Get(address+"/frames/teasel-short").Is(http.StatusOK, address+"/frames/teasel-short").Text(".rides")
	if !strings.Contains(text, "No hill on the way is known") {
		t.Errorf("no hill: %q", text)
	}
	for _, unwanted := range []string{" 0 W", "0.0", "bar", "Saddle", "First half", "NaN", "Inf"} {
		if strings.Contains(text, unwanted) {
			t.Errorf("%q stands in %q", unwanted, text)
		}
	}
	trike := v.Get(address + "/frames/yarrow").Text(".rides")
	if strings.Contains(trike, "Tyres") || !strings.Contains(trike, "One gear, 33 × 22") {
		t.Errorf("three wheels, one gear: %q", trike)
	}
	assisted := v.Interview([]byte(uphill))
	if text := v.Get(assisted + "/frames/osier-assist").Text(".rides"); !strings.Contains(text, "250 W that the maker states") {
		t.Errorf("with a motor: %q", text)
	}
}
