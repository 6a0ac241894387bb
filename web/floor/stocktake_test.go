package floor_test

import (
	"net/http"
	"net/url"
	"strings"
	"testing"

	"kinwain/internal/staff"
	"kinwain/web/webtest"
)

// TestStocktakeByTwo scans on two tablets, twice the same, something unknown and
// something that is not to be there, and finishes.
func TestStocktakeByTwo(t *testing.T) {
	t.Parallel()
	s := webtest.Open(t)
	s.Hire("Ansa", staff.Manager)
	s.Hire("Belto", staff.Salesperson)
	ansa, belto := s.As("Ansa"), s.As("Belto")
	if text := ansa.Get("/stocktakes").Text("main"); !strings.Contains(text, "22 bikes are to be in the shop") {
		t.Errorf("before: %s", text)
	}
	at := ansa.StocktakeBegun()
	if same := belto.StocktakeBegun(); same != at {
		t.Errorf("the other one has begun %s beside %s", same, at)
	}
	scan := func(v *webtest.Visitor, read, said string) {
		t.Helper()
		if a := v.Post(at+"/scan", url.Values{"tag": {read}}).Is(http.StatusOK, at); a.Text(".said") != said {
			t.Errorf("%q: %q, want %q", read, a.Text(".said"), said)
		}
	}
	scan(ansa, webtest.Public+"/units/D-011", "D-011, Sedge: seen.")
	scan(belto, "d-011", "D-011, Sedge: seen already.")
	scan(belto, "S-113", "S-113, Osier M: seen.")
	scan(belto, "Z-9", "No bike has the tag “Z-9”. It is kept among the unknown tags.")
	scan(belto, "", "Nothing was read. Scan once more.")
	belto.Post("/units/D-013", nil) // an address that takes no form changes nothing
	camera := belto.Get("/units/D-013")
	belto.Post(camera.One(`form[action$="/scan"]`).AttrOr("action", ""), webtest.Sent(camera.One(`form[action$="/scan"]`))).Is(http.StatusOK, at)
	a := ansa.Get(at)
	if got := a.Text("h1"); got != "Stocktake: 3 seen, 20 not seen yet" {
		t.Errorf("it says %q", got)
	}
	if got := a.Text("section:has(#strange)"); !strings.Contains(got, "S-113 Osier M, mustard") || !strings.Contains(got, "Ordered, expected 14 December 2026") {
		t.Errorf("what is here and not expected: %s", got)
	}
	ansa.Post(at+"/unscan", url.Values{"tag": {"Z-9"}})
	ansa.Get(at).Count("#unknown", 0)
	for tag, list := range map[string]string{"D-014": "seen", "S-114": "strange"} { // a tag may be typed wrong and be another bike's
		scan(ansa, tag, tag+", Osier M: seen.")
		form := ansa.Get(at).One("section:has(#" + list + ") form:has([value=" + tag + "])")
		a := ansa.Post(form.AttrOr("action", ""), url.Values{"tag": {form.Find("button").AttrOr("value", "")}}).Is(http.StatusOK, at)
		if a.Text(".said") != tag+" is taken back." || strings.Contains(a.Text("section:has(#"+list+")"), tag) {
			t.Errorf("%s: %s", tag, a.Text("main"))
		}
	}
	if got := ansa.Get(at).Text("#finish button"); got != "Finish with 20 not seen" {
		t.Errorf("it is finished by %q", got)
	}
	done := ansa.Post(at+"/finish", nil).Is(http.StatusOK, at)
	done.Count(".scan, main form", 0)
	if got := done.Text("h1"); got != "Stocktake: 3 seen, 20 not seen" {
		t.Errorf("finished: %q", got)
	}
	if got := done.Text("section:has(#missing)"); !strings.Contains(got, "S-106") || strings.Contains(got, "D-011") || strings.Contains(got, "D-012") {
		t.Errorf("not seen: %s", got)
	}
	scan2 := belto.Post(at+"/scan", url.Values{"tag": {"D-014"}}).Is(http.StatusOK, at)
	if !strings.Contains(scan2.Text("section:has(#missing)"), "D-014") {
		t.Error("what is finished has changed")
	}
	history := ansa.Get("/inventory/history").Text("main")
	if !strings.Contains(history, "seen: 3; tags of no bike: 0; not seen: 20, D-014") {
		t.Errorf("the history: %.600s", history)
	}
	ansa.Get("/inventory/history").Count(`form[action^="/inventory/history/"]`, 0)
}

// TestWhoMissesWhatIsNotSeen holds one bike and books another, and looks for
// neither: the stocktake says for whom that matters, their pages that nobody has
// found it, and whoever looks for a bike to hold or to ride sees it, too. Once
// each is seen, nothing is left of it.
func TestWhoMissesWhatIsNotSeen(t *testing.T) {
	t.Parallel()
	s := webtest.Open(t)
	v := s.Staff()
	frame := v.Interview([]byte(webtest.Family)) + "/frames/osier-m"
	quote := v.Holds(v.Quoted(frame), "S-105", "2026-11-30")
	ride := v.Booked(frame, "D-014", "2026-11-27", "15:00")
	at := v.StocktakeBegun()
	pages := map[string]string{"quote": quote.Path + " .marks", "ride": ride.Path + " .marks", "hold": quote.Path + " .bikes", "demos": frame + "/ride .demos"}
	says := func(said string, want map[string]string) {
		t.Helper()
		for name, page := range pages {
			path, part, _ := strings.Cut(page, " ")
			if got := v.Get(path).Text(part); strings.Contains(got, "stocktake of") != (want != nil) || !strings.Contains(got, want[name]) {
				t.Errorf("%s, the %s: %q", said, name, got)
			}
		}
	}
	missing := webtest.Words(v.Get(at).Page.Find("section:has(#missing)"))
	for _, want := range []string{"Reserved Held for Q-2026-0001 until the end of 30 November 2026", "D-014 Osier M, chalk blue Test ride on 27 November 2026, 15:00"} {
		if !strings.Contains(missing, want) {
			t.Errorf("nothing says %q: %s", want, missing)
		}
	}
	says("while it goes on", nil)
	v.Post(at+"/finish", nil)
	says("finished", map[string]string{"quote": "The stocktake of 25 November 2026, 09:30 has not found S-105.", "ride": "The stocktake of 25 November 2026, 09:30 has not found D-014.",
		"hold": "not seen in the stocktake of 25 November 2026", "demos": "In the shop; not seen in the stocktake of 25 November 2026"})
	at = v.StocktakeBegun()
	for _, tag := range []string{"S-105", "D-014"} {
		v.Post(at+"/scan", url.Values{"tag": {tag}})
	}
	says("seen", nil)
}
