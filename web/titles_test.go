package web_test

import (
	"net/http"
	"strings"
	"testing"

	"kinwain/web/webtest"
)

// TestTitlesNameTheCustomer holds that whoever has several customers open at
// once tells their pages apart, and the sizes of a frame as well.
func TestTitlesNameTheCustomer(t *testing.T) {
	t.Parallel()
	v := webtest.Open(t).Staff()
	at := v.Interview([]byte(webtest.Family))
	f := v.Get(at).Form()
	f.Set("customer", "Family Ärl")
	v.Press(f, at, "save")
	frame := at + "/frames/osier-m"
	pages := map[string]*webtest.Answer{"a quote": v.Quoted(frame), "a ride": v.Booked(frame, "D-014", "2026-11-27", "10:00")}
	for _, path := range []string{at, at + "/frames", frame, frame + "/by-hand", frame + "/quote", frame + "/ride", frame + "/send",
		at + "/compare?frame=osier-m&frame=teasel", at + "/compare?frame=osier-m", at + "/measure", at + "/erase", at + "/weigh/0"} {
		pages[path] = v.Get(path)
	}
	for name, a := range pages {
		if title := a.Text("head title"); a.Status != http.StatusOK && a.Status != http.StatusUnprocessableEntity || !strings.Contains(title, "Family Ärl") {
			t.Errorf("%s, %d, is called %q", name, a.Status, title)
		}
		if said := a.Text("main"); strings.Contains(said, "Osier") != strings.Contains(said, "Osier M") || strings.Contains(said, "Osier,") {
			t.Errorf("%s does not say which Osier", name)
		}
	}
	for _, name := range []string{"a quote", "a ride", frame, frame + "/by-hand", frame + "/quote", frame + "/ride", frame + "/send"} {
		if said := pages[name].Text("h1"); !strings.Contains(said, "Osier M") && !strings.HasPrefix(said, "Quote Q-") {
			t.Errorf("%s is headed %q", name, said)
		}
	}
	link := v.SendHome(at, "osier-m", nil)
	if a := v.Get(link); a.Text("head title") != "Osier M" || a.Text("h1") != "Osier M" || !strings.HasPrefix(v.Get(link+"?lang=de").Text("h1"), "Osier M") {
		t.Errorf("the customer reads %q", a.Text("h1"))
	}
}
