package takehome_test

import (
	"net/http"
	"net/url"
	"strings"
	"testing"

	"kinwain/web/webtest"
)

// card is a home of which one measure is open of every part.
const card = `{"profile": 1, "as_of": "2026-11-25", "riders": [{"label": "A", "height_cm": 178, "weight_kg": 82, "weighed": "dressed", "grip": "full"}],
 "home": {"length_cm": null, "width_cm": 90, "height_cm": 240, "doorways": [{"width_cm": null, "height_cm": 205}], "corners": [{"in_cm": 120, "out_cm": null}],
  "lift": {"length_cm": 220, "width_cm": 110, "height_cm": 210, "door_cm": null}, "steps": null}, "cargo_kg": 10, "cargo_litres": 30}`

// TestMeasureAtHome prints what is open and nothing else, with a sketch and a
// line for each, and the figures at which a verdict changes as the salesperson
// is told them.
func TestMeasureAtHome(t *testing.T) {
	t.Parallel()
	s := webtest.Open(t)
	v := s.Staff()
	address := v.Interview([]byte(card))
	a := v.Get(address+"/measure").Is(http.StatusOK, address+"/measure")
	a.Count("section.measured", 5)
	a.Count("section.measured svg[role=img]", 5)
	a.Count(".write .blank", 5)
	a.Count("path.measured", 5) // a line in every sketch
	for _, question := range []string{"How long is the place where it will stand?", "How wide is the narrowest doorway?", "How wide is the corridor after the corner?", "How wide is the door of the lift?", "How many steps are there on the way in?"} {
		if !strings.Contains(a.Text("main"), question) {
			t.Errorf("it does not ask: %s", question)
		}
	}
	if text := a.Text("main"); !strings.Contains(text, "does not fit.") && !strings.Contains(text, "do not fit.") {
		t.Errorf("nothing says where a verdict changes: %s", text)
	}
	link := v.SendHome(address, "sedge", nil)
	fit := s.Stranger().Get(link).Is(http.StatusOK, link)
	if got := fit.One("[aria-labelledby=again] .button").AttrOr("href", ""); got != link+"/measure?lang=en" {
		t.Errorf("the card is at %q", got)
	}
	speaksNoEnglish(s, link+"/measure", english(demo(s)), "the card")
	s.Stranger().Get("/fit/never/measure").Is(http.StatusNotFound, "/fit/never/measure")
}

// TestNothingLeftToMeasure says so on the card, and no page leads there.
func TestNothingLeftToMeasure(t *testing.T) {
	t.Parallel()
	s := webtest.Open(t)
	v := s.Staff()
	known := strings.NewReplacer(`"length_cm": null`, `"length_cm": 260`, `"width_cm": null`, `"width_cm": 90`, `"out_cm": null`, `"out_cm": 140`, `"door_cm": null`, `"door_cm": 90`, `"steps": null`, `"steps": 0`).Replace(card)
	address := v.Interview([]byte(known))
	if a := v.Get(address + "/measure"); a.Text(".empty") != "Everything at home is measured." {
		t.Errorf("it says %s", a.Text("main"))
	}
	s.Stranger().Get(v.SendHome(address, "sedge", nil)).Count("[aria-labelledby=again] .button", 0)
}

// TestCardWithoutWeights says no figure that decides where the riders' weights
// are left out: what is decided beside it may turn on one.
func TestCardWithoutWeights(t *testing.T) {
	t.Parallel()
	s := webtest.Open(t)
	v := s.Staff()
	link := v.SendHome(v.Interview([]byte(card)), "sedge", url.Values{"hide": {"yes"}})
	a := s.Stranger().Get(link + "/measure")
	a.Count("section.measured", 5)
	a.Count("section.measured .hint", 0)
}
