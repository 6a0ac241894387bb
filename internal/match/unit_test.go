// A frame as one unit of it stands in the shop.
package match_test

import (
	"slices"
	"testing"

	gocmp "github.com/google/go-cmp/cmp"

	"kinwain/internal/catalog"
	"kinwain/internal/match"
	"kinwain/internal/measure"
	"kinwain/internal/profile"
)

// TestOnBike names what is on the demo shop's bikes: the two stands of D-011
// want the same mount, so the delivered one made room; D-012 still has the
// stand that it came with.
func TestOnBike(t *testing.T) {
	t.Parallel()
	c, _ := demo(t)
	for tag, want := range map[string][]string{
		"D-011": {"seat-rear", "stand-two-leg"},
		"D-012": {"seat-rear", "seat-rear", "stand-two-leg"},
		"D-013": {"basket-front", "stand-one-leg"},
		"D-021": {"cover-rain"},
		"S-109": {},
	} {
		got := match.OnBike(c, unit(t, c, tag))
		slices.Sort(got)
		if !slices.Equal(got, want) {
			t.Errorf("%s: %v, want %v", tag, got, want)
		}
	}
}

func unit(t *testing.T, c *catalog.Catalogue, tag string) *catalog.Unit {
	t.Helper()
	i := slices.IndexFunc(c.Units, func(u catalog.Unit) bool { return u.Tag == tag })
	if i < 0 {
		t.Fatalf("there is no %s", tag)
	}
	return &c.Units[i]
}

// TestOnUnitWeighsAsTheScaleSays holds the sheet of every unit to its weight:
// the scale's, or else the makers' figures.
func TestOnUnitWeighsAsTheScaleSays(t *testing.T) {
	t.Parallel()
	c, profiles := demo(t)
	p := profiles["two-parents"]
	weighed := 0
	for i := range c.Units {
		u := &c.Units[i]
		m, err := match.OnUnit(t.Context(), c, u, p, match.DefaultSettings())
		if err != nil {
			t.Fatal(err)
		}
		bike := m.Frame.BareWeight + m.Build.Weight
		got, scale := match.UnitWeight(c, u)
		if scale != (u.Weighed > 0) || got != bike || scale && bike != u.Weighed {
			t.Errorf("%s weighs %v on the sheet and %v by itself, the scale says %v", u.Tag, bike, got, u.Weighed)
		}
		if scale {
			weighed++
			continue
		}
		byHand, err := match.ByHand(t.Context(), c, c.Frame(u.Frame), p, match.DefaultSettings(), match.OnBike(c, u))
		if err != nil {
			t.Fatal(err)
		}
		if diff := gocmp.Diff(shown(t, byHand), shown(t, m)); diff != "" {
			t.Errorf("%s, never weighed (− by hand, + as it stands): %s", u.Tag, diff)
		}
	}
	if weighed < 5 {
		t.Errorf("%d units are weighed", weighed)
	}
}

// TestOnUnitKeepsTheCatalogue holds that judging a weighed bike changes
// nothing for the next.
func TestOnUnitKeepsTheCatalogue(t *testing.T) {
	t.Parallel()
	c, profiles := demo(t)
	u := unit(t, c, "D-011")
	before := c.Frame("sedge").BareWeight
	u.Weighed = 60 * measure.Kilogram
	for range 2 {
		m, err := match.OnUnit(t.Context(), c, u, profiles["two-parents"], match.DefaultSettings())
		if err != nil || m.Frame.BareWeight+m.Build.Weight != u.Weighed {
			t.Fatal(err)
		}
	}
	if got := c.Frame("sedge").BareWeight; got != before {
		t.Errorf("the frame now weighs %v", got)
	}
}

// TestTestRide lets nobody ride along today who is to join later: a frame that
// is judged with that child at that month says nothing about today.
func TestTestRide(t *testing.T) {
	t.Parallel()
	c, _ := demo(t)
	p, err := profile.Parse([]byte(`{"profile": 1, "as_of": "2026-11-25", "riders": [{"label": "A", "height_cm": 178, "weight_kg": 82, "weighed": "dressed"}],
		"passengers": [{"label": "first", "born": "2023-05", "weight_kg": 15, "sits_unaided": true},
			{"label": "second", "born": "2026-03", "joins": "2027-04"}, {"label": "third", "born": "2025-11", "weight_kg": 10, "sits_unaided": true, "joins": "2026-11"},
			{"label": "fourth", "born": "2025-11", "weight_kg": 10, "sits_unaided": true}],
		"home": {"length_cm": 10}, "cargo_kg": 300, "pet_kg": 50, "budget_cents": 1, "budget_firm": true}`))
	if err != nil {
		t.Fatal(err)
	}
	ride, behind := match.TestRide(p)
	if !slices.Equal(behind, []string{"second", "third"}) || len(ride.Passengers.Or(nil)) != 2 || len(p.Passengers.Or(nil)) != 4 || p.Passengers.Or(nil)[2].Joins.IsZero() {
		t.Errorf("%v stay behind; %+v ride", behind, ride.Passengers)
	}
	m, err := match.OnUnit(t.Context(), c, unit(t, c, "D-014"), ride, match.DefaultSettings())
	if err != nil {
		t.Fatal(err)
	}
	// Born in November 2025, on an unknown day: not surely 12 months old on
	// the 25th (rule of the least age, by the last day of the month). Who joins
	// in that month therefore stays behind, and who is to ride today may not.
	if m.Verdict != match.DoesNotFit || !slices.ContainsFunc(m.Reasons, func(r match.Reason) bool { return r.Code == "infant" && r.Passenger == "fourth" }) {
		t.Errorf("%s: %+v", m.Verdict, m.Reasons)
	}
	for _, r := range m.Reasons {
		if slices.Contains([]match.Code{"storage_space", "cargo_weight", "pet_place", "budget", "joins_later"}, r.Code) {
			t.Errorf("a test ride is asked about %s", r.Code)
		}
	}
	if alone := match.RideAlone(p); len(alone.Passengers.Or(nil)) != 0 || len(alone.Riders) != 1 {
		t.Errorf("%+v", alone)
	}
}
