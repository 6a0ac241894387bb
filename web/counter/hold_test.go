package counter_test

import (
	"net/url"
	"slices"
	"strings"
	"testing"

	"kinwain/internal/catalog"
	"kinwain/web/webtest"
)

// TestWhatIsHeldCanBeReleased lets a bike that is held be sold, retired, and
// leave the catalogue: the page says so, and still releases it.
func TestWhatIsHeldCanBeReleased(t *testing.T) {
	t.Parallel()
	s := webtest.Open(t)
	v := s.Staff()
	const unit = "/inventory/units/S-105"
	set := func(status string) {
		form := v.Get(unit).Ware()
		form.Values.Set("status", status)
		form.Values.Set("do", "save")
		v.Sure(unit, form.Values)
	}
	for _, test := range []struct {
		happens, after func()
		page, line     string
	}{
		{func() { set("sold") }, func() { set("available") }, "S-105 is sold.", "Sold; reserved until 30 November 2026"},
		{func() { v.Sure(unit+"/retire", url.Values{"do": {"retire"}}) }, func() { v.Sure(unit+"/retire", url.Values{"do": {"back"}}) }, "The shop has retired S-105", "Reserved until 30 November 2026"},
		{func() {
			v.Confirm(v.Upload(webtest.ChangedShop(t, func(c *catalog.Catalogue) {
				c.Units = slices.DeleteFunc(c.Units, func(u catalog.Unit) bool { return u.Tag == "S-105" })
			})))
		}, func() {}, "S-105 is no longer in the shop’s list.", "No longer in the shop’s list"},
	} {
		made := v.Holds(v.Quoted(v.Interview([]byte(webtest.Family))+"/frames/osier-m"), "S-105", "2026-11-30")
		test.happens()
		a := v.Get(made.Path)
		if got, line := a.Text(".marks"), unitLine(a, "S-105"); !strings.Contains(got, test.page) || !strings.Contains(line, test.line) {
			t.Errorf("%q; among the bikes %q", got, line)
		}
		v.Post(made.Path+"/hold", url.Values{"release": {"S-105"}})
		if a := v.Get(made.Path); strings.Contains(unitLine(a, "S-105"), "Release") || strings.Contains(a.Text(".marks"), test.page) {
			t.Errorf("released: %q, %q", unitLine(a, "S-105"), a.Text(".marks"))
		}
		test.after()
	}
}

// TestHoldingWhatSomebodyComesToRide holds the demo that another family has
// booked: it is said before, and on the page of their ride after it.
func TestHoldingWhatSomebodyComesToRide(t *testing.T) {
	t.Parallel()
	s := webtest.Open(t)
	v := s.Staff()
	ride := v.Booked(v.Interview([]byte(webtest.Family))+"/frames/osier-m", "D-014", "2026-11-27", "15:00")
	made := v.Quoted(v.Interview([]byte(webtest.Family)) + "/frames/osier-m")
	if line := unitLine(made, "D-014"); !strings.Contains(line, "In the shop; somebody comes to ride it on 27 November 2026, 15:00") {
		t.Errorf("before: %q", line)
	}
	v.Holds(made, "D-014", "2026-11-30")
	if got := v.Get(ride.Path).Text(".marks"); !strings.Contains(got, "D-014 is held for Q-2026-0001 until the end of 30 November 2026.") {
		t.Errorf("the ride: %q", got)
	}
	v.Post(made.Path+"/hold", url.Values{"release": {"D-014"}})
	v.Get(ride.Path).Count(".marks", 0)
}
