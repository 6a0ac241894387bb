package catalog_test

import (
	"testing"

	"github.com/google/go-cmp/cmp"

	"kinwain/internal/catalog"
)

// TestLosses takes ratings, limits and needs away, one after the other, and
// changes what is none.
func TestLosses(t *testing.T) {
	t.Parallel()
	for name, c := range map[string]struct {
		change func(c *catalog.Catalogue)
		want   []string
	}{
		"a zone's rating":      {func(c *catalog.Catalogue) { zone(c).Rating = 0 }, []string{"zones[front].rating_kg 20"}},
		"another rating":       {func(c *catalog.Catalogue) { zone(c).Rating = 1 }, nil},
		"ratings together":     {func(c *catalog.Catalogue) { c.Frames[0].Combined = nil }, []string{"combined[front+rear].rating_kg 70"}},
		"the heaviest rider":   {func(c *catalog.Catalogue) { c.Frames[0].RiderMaxMass = 0 }, []string{"rider_max_kg 120"}},
		"a price":              {func(c *catalog.Catalogue) { seat(c).Price = 0 }, nil},
		"one of two needs":     {func(c *catalog.Catalogue) { seat(c).Needs = seat(c).Needs[1:] }, []string{`needs [["two_leg_stand"]]`}},
		"needs turned":         {func(c *catalog.Catalogue) { n := seat(c).Needs; seat(c).Needs = [][]string{n[1], n[0]} }, nil},
		"what it excludes":     {func(c *catalog.Catalogue) { seat(c).Excludes = nil }, []string{`excludes ["bench"]`}},
		"its load":             {func(c *catalog.Catalogue) { seat(c).MaxLoad = 0 }, []string{"max_load_kg 30"}},
		"a child's weight":     {func(c *catalog.Catalogue) { seat(c).Places[0].MaxMass = 0 }, []string{"places[#0].max_kg 22"}},
		"the place altogether": {func(c *catalog.Catalogue) { seat(c).Places = nil }, nil},
		"the seat altogether":  {func(c *catalog.Catalogue) { c.AddOns = c.AddOns[1:] }, nil},
		"a pair's load":        {func(c *catalog.Catalogue) { pairs(c, catalog.Pair{Note: "as it is"}) }, []string{"on_frame.sedge.max_load_kg 25"}},
		"all pairs":            {func(c *catalog.Catalogue) { seat(c).OnFrame = nil }, []string{"on_frame.sedge.max_load_kg 25"}},
	} {
		before, after := guarded(), guarded()
		c.change(after)
		changes, err := catalog.Edits(before, after)
		if err != nil || len(changes) == 0 {
			t.Fatalf("%s: %v %v", name, changes, err)
		}
		var got []string
		for _, change := range changes {
			for _, l := range change.Losses() {
				got = append(got, l.Path+" "+l.Old)
			}
		}
		if diff := cmp.Diff(c.want, got); diff != "" {
			t.Errorf("%s: %s", name, diff)
		}
	}
}

// guarded is a shop of a frame and an add-on with a limit of every kind.
func guarded() *catalog.Catalogue {
	load := 25 * kg
	return &catalog.Catalogue{Version: 1,
		Frames: []catalog.Frame{{Code: "sedge", RiderMaxMass: 120 * kg, Zones: []catalog.Zone{{Code: "front", Rating: 20 * kg}, {Code: "rear"}},
			Combined: []catalog.Combined{{Zones: []string{"front", "rear"}, Rating: 70 * kg}}}},
		AddOns: []catalog.AddOn{{Code: "seat", Price: 15900, MaxLoad: 30 * kg, Needs: [][]string{{"two_leg_stand"}, {"wheel_guard", "bench"}}, Excludes: []string{"bench"},
			Places: []catalog.Place{{Kind: "harnessed", MinMonths: 12, MaxMass: 22 * kg}}, OnFrame: map[string]catalog.Pair{"sedge": {MaxLoad: &load}}}, {Code: "bench"}}}
}

func zone(c *catalog.Catalogue) *catalog.Zone  { return &c.Frames[0].Zones[0] }
func seat(c *catalog.Catalogue) *catalog.AddOn { return &c.AddOns[0] }

func pairs(c *catalog.Catalogue, p catalog.Pair) {
	seat(c).OnFrame = map[string]catalog.Pair{"sedge": p}
}

// TestLeaps holds both edges of three times and a third.
func TestLeaps(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		field, old, new string
		want            bool
	}{
		{"price_cents", "8100", "24300", false}, {"price_cents", "8100", "24301", true}, {"price_cents", "24300", "8100", false}, {"price_cents", "24300", "8099", true},
		{"weight_kg", "8.1", "24.3", false}, {"weight_kg", "24.3", "8.1", false}, {"weight_kg", "2.4", "24", true},
		{"price_cents", "0", "15900", false}, {"price_cents", "15900", "0", false}, {"ahead_of_rear_axle_cm", "10", "-10", true},
		{"name", `"2"`, `"20"`, false}, {"on_frame.sedge.fitting_minutes", "5", "50", true}, {"places[#0].max_kg", "22", "220", true}, {"zone", "", `"rear"`, false}, {"", "{}", "", false},
	} {
		change := catalog.Change{List: "add_ons", Code: "seat", Field: c.field, Old: c.old, New: c.new}
		if _, got := change.Leap(); got != c.want {
			t.Errorf("%v: %v", change, got)
		}
	}
}
