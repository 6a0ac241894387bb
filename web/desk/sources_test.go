package desk_test

import (
	"testing"

	"kinwain/web/webtest"
)

// TestLimitsSayWhereTheyComeFrom opens the frame of a child in a seat of which the
// demo shop has noted all limits but the greatest weight, then notes that one as
// well: said where who sits where is said, and in the list of limits.
func TestLimitsSayWhereTheyComeFrom(t *testing.T) {
	t.Parallel()
	s := webtest.Open(t)
	v := s.Staff()
	at := v.Interview(webtest.Customers(t)["two-parents"]) + "/frames/sedge"
	says := func(limits, from, row string) {
		t.Helper()
		a := v.Get(at)
		seat := a.Page.Find(`[aria-labelledby="seats"] .seats li`).First()
		if got := webtest.Words(seat.Find(".hint").First()); got != "For 12 to 72 months and 9 kg to 22 kg." {
			t.Errorf("who sits where: %q", got)
		}
		if got := webtest.Words(a.Page.Find(".limits-from li .hint")); got != limits {
			t.Errorf("each limit: %q", got)
		}
		if got := webtest.Words(seat.Find(".proof")); got != from {
			t.Errorf("and that is from %q", got)
		}
		if got := webtest.Words(a.Page.Find(`.zones th:contains("Place of first child") .proof`).First()); got != row {
			t.Errorf("in the list of limits: %q", got)
		}
		if got := webtest.Words(a.Page.Find(`.zones th:contains("The wire front basket") .proof`).First()); got != "manual, May 2026" {
			t.Errorf("an add-on: %q", got)
		}
	}
	says("For 12 to 72 months (manual, March 2026); 9 kg (manual, March 2026) to 22 kg (no source noted).", "", "no source noted")
	form := v.Get("/inventory/add-ons/seat-rear").Ware()
	for _, limit := range []string{"min_months", "max_months", "min_kg", "max_kg"} {
		form.Set("places[0]."+limit+".source", "manual")
	}
	form.Set("source_on", "2026-04")
	a := v.Save("/inventory/add-ons/seat-rear", form, "save")
	if a.Page.Find(`[name="sure"], [name="looked"], .consequences`).Length() > 0 { // whom it may concern
		v.Save("/inventory/add-ons/seat-rear", a.Ware(), "save")
	}
	says("", "Limits: manual, April 2026", "manual, April 2026")
}
