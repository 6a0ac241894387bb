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
	done := ansa.Post(at+"/finish", nil).Is(http.StatusOK, at)
	done.Count(".scan", 0)
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
