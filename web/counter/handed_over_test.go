package counter_test

import (
	"net/http"
	"net/url"
	"strings"
	"testing"

	"kinwain/web/webtest"
)

// TestNotHandedOverAfterAll hands a held bike over, takes it back by two presses
// of one button, and says what came back. Once somebody else has the bike, it
// says why not.
func TestNotHandedOverAfterAll(t *testing.T) {
	t.Parallel()
	s := webtest.Open(t)
	v := s.Staff()
	made := v.Holds(v.Quoted(v.Interview([]byte(webtest.Family))+"/frames/osier-m"), "S-105", "2026-11-30")
	path := made.Path
	stock := func() (n int) {
		for _, a := range v.Catalogue().AddOns {
			if a.Stock != nil {
				n += *a.Stock
			}
		}
		return n
	}
	before := stock()
	v.Post(path+"/accepted", url.Values{"accepted": {"yes"}})
	v.Post(path+"/handed-over", nil)
	done := v.Get(path)
	if line := unitLine(done, "S-105"); line != "" || stock() == before || !strings.Contains(done.Text("#handed"), "Handed over on 25 November 2026") {
		t.Errorf("handed over: %q, %q, %d in the store room of %d", line, done.Text("#handed"), stock(), before)
	}
	done.Count(".hold button", 0)
	if a := v.Post(path+"/accepted", url.Values{"accepted": {"no"}}).Is(http.StatusConflict, path+"/accepted"); !strings.Contains(a.Text(".alert"), "Take that back first") {
		t.Errorf("not accepted after all: %q", a.Text(".alert"))
	}
	form := done.One("#handed")
	sent := webtest.Sent(form)
	for range 2 {
		back := v.Post(form.AttrOr("action", ""), sent).Is(http.StatusOK, path)
		if got := back.Text(".done"); !strings.HasPrefix(got, "The quote is open again.") {
			t.Errorf("it says %q", got)
		}
		if line := unitLine(back, "S-105"); !strings.Contains(line, "Reserved until 30 November 2026 for this customer, Q-2026-0001") || stock() != before {
			t.Errorf("%q; %d in the store room of %d", line, stock(), before)
		}
		back.Count("#handed input", 0)
		back.Count(".marks", 0)
	}
	v.Get(path).Count(".done", 0)
	v.Post(form.AttrOr("action", ""), nil).Is(http.StatusBadRequest, path+"/taken-back")

	v.Post(path+"/handed-over", nil)
	sent = webtest.Sent(v.Get(path).One("#handed"))
	unit := v.Get("/inventory/units/S-105").Ware()
	unit.Values.Set("status", "available")
	unit.Values.Set("do", "save")
	v.Sure("/inventory/units/S-105", unit.Values)
	v.Holds(v.Quoted(v.Interview([]byte(webtest.Family))+"/frames/osier-m"), "S-105", "2026-12-02")
	a := v.Post(path+"/taken-back", sent).Is(http.StatusConflict, path+"/taken-back")
	if got := a.Text(".alert"); got != "Not taken back: the bike S-105 is held for Q-2026-0002 by now." {
		t.Errorf("%q", got)
	}
}

// TestWhatCameBackIsSaid says which add-ons are counted back.
func TestWhatCameBackIsSaid(t *testing.T) {
	t.Parallel()
	v := webtest.Open(t).Staff()
	frame := v.Interview([]byte(webtest.Plain)) + "/frames/osier-m"
	draft := v.Get(frame + "/quote?" + url.Values{"chosen": {"yes"}, "on": {"stand-one-leg", "tray-front"}, "unit": {"S-105"}}.Encode())
	path := v.Post(frame+"/quote", webtest.Sent(draft.One("form.make"))).Path
	v.Post(path+"/accepted", url.Values{"accepted": {"yes"}})
	v.Post(path+"/handed-over", nil)
	back := v.Post(path+"/taken-back", webtest.Sent(v.Get(path).One("#handed")))
	if got := back.Text(".done"); got != "The quote is open again. S-105 is available. Counted back into the store room: 1 × front tray rack." {
		t.Errorf("it says %q", got)
	}
}
