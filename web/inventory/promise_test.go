package inventory_test

import (
	"net/http"
	"net/url"
	"strings"
	"testing"

	"kinwain/web/webtest"
)

// undoOf is where the newest change that a page of the history lists is undone.
func undoOf(v *webtest.Visitor, list string) string {
	v.Helper()
	return v.Get("/inventory/history?list="+list).Page.Find(`form[action^="/inventory/history/"]`).First().AttrOr("action", "")
}

// TestPromisesAreToldAndUndone quotes, holds and books an Osier, retires it, and
// brings it back by the history: each is asked about before it is done.
func TestPromisesAreToldAndUndone(t *testing.T) {
	t.Parallel()
	s := webtest.Open(t)
	v := s.Staff()
	address := v.Interview([]byte(webtest.Family))
	quote := v.Quoted(address + "/frames/osier-m")
	quote = v.Holds(quote, "S-105", "2026-11-30")
	ride := v.Booked(address+"/frames/osier-m", "D-014", "2026-11-27", "15:00")
	const retire = "/inventory/frames/osier-m/retire"
	a := v.Post(retire, url.Values{"do": {"retire"}}).Is(http.StatusOK, retire)
	if got := a.Text(".consequences"); !strings.Contains(got, "Frame osier-m Offeredyesno, it is retired") ||
		!strings.Contains(got, "1 consultation of the last 60 days, 1 quote, 1 bike that is held and 1 test ride to come at the most") {
		t.Errorf("it asks %q", got)
	}
	v.Sure(retire, url.Values{"do": {"retire"}}).Is(http.StatusOK, "/inventory/frames/osier-m")
	pages := map[string]string{"the quote": quote.Path, "the ride": ride.Path, "the bike that is held": "/inventory/units/S-105", "the consultation": address + "/frames"}
	for name, path := range pages {
		if got := v.Get(path).Text(".marks"); !strings.Contains(got, "To be checked") {
			t.Errorf("%s, before it is judged: %q", name, got)
		}
	}
	s.Settle()
	for name, path := range pages {
		got := v.Get(path).Text(".marks")
		if strings.Contains(got, "To be checked") || !strings.Contains(got, "retired, and no longer offered, since 25 November 2026.") {
			t.Errorf("%s: %q", name, got)
		}
		if promised := name == "the quote" || name == "the ride"; promised != strings.Contains(got, "The shop has retired the Osier M") {
			t.Errorf("%s: %q", name, got)
		}
	}
	v.Get("/inventory/concerned").Count(".concerned li", 3)
	undo := undoOf(v, "frames")
	a = v.Post(undo, url.Values{}).Is(http.StatusOK, undo)
	if got := a.Text(".consequences"); !strings.Contains(got, "no, it is retired") || a.Text(".send button") != "Undo it" && a.Text(".send button") != "" {
		t.Errorf("it asks %q, %q", got, a.Text(".send button"))
	}
	v.Sure(undo, url.Values{})
	s.Settle()
	for name, path := range pages {
		if got := v.Get(path).Text(".marks"); got != "" {
			t.Errorf("%s is still marked: %q", name, got)
		}
	}
}

// TestABikesOwnFactsAreToldAndUndone holds one Osier and books another, makes
// the first dearer and takes the second into repair: each is asked about, told on
// the page of whom it concerns at once and in figures, and gone when it is undone.
func TestABikesOwnFactsAreToldAndUndone(t *testing.T) {
	t.Parallel()
	s := webtest.Open(t)
	v := s.Staff()
	address := v.Interview([]byte(webtest.Family))
	quote := v.Holds(v.Quoted(address+"/frames/osier-m"), "S-105", "2026-11-30")
	ride := v.Booked(address+"/frames/osier-m", "D-014", "2026-11-27", "15:00")
	set := func(tag, field, value, asks string) {
		t.Helper()
		path := "/inventory/units/" + tag
		form := v.Get(path).Ware()
		form.Values.Set(field, value)
		a := v.Save(path, form, "save").Is(http.StatusOK, path)
		if got := a.Text(".consequences"); !strings.Contains(got, "It may concern "+asks+" at the most") || !strings.Contains(got, tag+", Osier M") {
			t.Errorf("%s: it asks %q", tag, got)
		}
		form.Values.Set("do", "save")
		v.Sure(path, form.Values).Is(http.StatusOK, path)
	}
	set("S-105", "price_cents", "2200", "1 quote and 1 bike that is held")
	set("D-014", "status", "in_repair", "1 test ride to come")
	if got := v.Get(ride.Path).Text(".marks"); !strings.Contains(got, "D-014 is in repair.") {
		t.Errorf("before it is judged: %q", got)
	}
	s.Settle()
	for path, want := range map[string]string{
		quote.Path: "The Osier M, as quoted in Q-2026-0001: the bike S-105, held for it, costs EUR 2,200.00 instead of EUR 2,290.00, since 25 November 2026.",
		ride.Path:  "The test ride on the Osier M, D-014: the bike is in repair, since 25 November 2026.",
	} {
		if got := v.Get(path).Text(".marks"); !strings.Contains(got, want) {
			t.Errorf("%s says %q, want %q", path, got, want)
		}
	}
	v.Get("/inventory/concerned").Count(".concerned li", 2)
	for _, form := range v.Get("/inventory/history?list=units").Page.Find(`form[action^="/inventory/history/"]`).EachIter() {
		v.Sure(form.AttrOr("action", ""), url.Values{})
	}
	s.Settle()
	for _, path := range []string{quote.Path, ride.Path} {
		v.Get(path).Count(".marks", 0)
	}
}

// TestSettingsAreInTheHistory changes a figure from which answers follow: it is
// asked about, marks whom it concerns, stands in the history in its unit, and is
// undone from there.
func TestSettingsAreInTheHistory(t *testing.T) {
	t.Parallel()
	const path = "/settings/figures"
	s := webtest.Open(t)
	v := s.Staff()
	address := v.Interview([]byte(webtest.Family))
	f := v.Get(path).Fields()
	f.Set("clothing_g", "9 kg")
	a := v.Post(path, f).Is(http.StatusOK, path)
	if got := a.Text(".consequences"); !strings.Contains(got, "Helmet and clothes of a passenger1 kg9 kgIt may concern 1 consultation") {
		t.Errorf("it asks %q", got)
	}
	if len(s.Settings()) != 0 {
		t.Errorf("it is saved before anybody has looked: %v", s.Settings())
	}
	other := a.Fields()
	other.Set("clothing_g", "8 kg")
	if v.Post(path, other); len(s.Settings()) != 0 {
		t.Errorf("another change than the one looked at is saved: %v", s.Settings())
	}
	v.Post(path, a.Fields()).Is(http.StatusOK, path).Count(".done", 1)
	if s.Settings()["clothing_g"] != 9000 {
		t.Errorf("%v", s.Settings())
	}
	s.Settle()
	v.Get(address+"/frames").Count(".marks form", 1)
	if got := v.Get("/inventory/history?list=settings").Text(".history tbody"); !strings.Contains(got, "Helmet and clothes of a passenger1 kg (default)9 kg") {
		t.Errorf("the history says %q", got)
	}
	undo := undoOf(v, "settings")
	v.Post(undo, url.Values{}).Is(http.StatusOK, undo).Count(".consequences", 1)
	if got := v.Sure(undo, url.Values{}).Text(".done"); got != "Undone. Helmet and clothes of a passenger is 1 kg (default) again." {
		t.Errorf("%q", got)
	}
	if len(s.Settings()) != 0 {
		t.Errorf("%v", s.Settings())
	}
	s.Settle()
	v.Get(address+"/frames").Count(".marks", 0)
	if a := v.Post(undo, url.Values{}); a.Status != http.StatusConflict || !strings.Contains(a.Text(".alert"), "1 kg (default) now") {
		t.Errorf("%d %q", a.Status, a.Text(".alert"))
	}
}
