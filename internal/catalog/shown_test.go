package catalog_test

import (
	"testing"

	"kinwain/internal/catalog"
)

func TestChangesAreShownInUnits(t *testing.T) {
	t.Parallel()
	for _, c := range []struct{ list, field, text, want string }{
		{"frames", "price_cents", "189000", "EUR\u00a01,890.00"},
		{"frames", "gross_rating_kg", "180.5", "180.5 kg"},
		{"frames", "rider_max_kg", "0", "not stated"},
		{"frames", "bare_front_share", "0.45", "45\u00a0%"},
		{"frames", "zones[rear].rating_kg", "60", "60 kg"},
		{"frames", "zones[rear]", `{"code": "rear", "rating_kg": 60, "steered": false}`, "code rear, rating 60 kg"},
		{"frames", "odd_wheel", "true", "yes"},
		{"frames", "upright.length_cm", "62", "62 cm"},
		{"add_ons", "needs", `[["tray", "bench"], ["two_leg_stand"]]`, "tray|bench two_leg_stand"},
		{"add_ons", "on_frame.sedge.fitting_minutes", "40", "40 minutes"},
		{"add_ons", "on_frame", `{"sedge": {"max_load_kg": 20}}`, "on sedge: load over all it carries 20 kg"},
		{"units", "colour", `""`, "empty"},
		{"shop", "labour_cents_per_hour", "6000", "EUR\u00a060.00"},
		{"shop", "tax_percent", "21", "21\u00a0%"},
		{"frames", "price_cents", "", "nothing"},
	} {
		change := catalog.Change{List: c.list, Code: "one", Field: c.field, Old: c.text, New: "1"}
		if got := change.Shown(c.text, "EUR"); got != c.want {
			t.Errorf("%s %s: %q, want %q", c.list, c.field, got, c.want)
		}
	}
}
