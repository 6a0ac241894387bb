package counter_test

import (
	"net/http"
	"net/url"
	"strings"
	"testing"

	"github.com/PuerkitoBio/goquery"

	"kinwain/internal/catalog"
	"kinwain/testdata"
	"kinwain/web/webtest"
)

// TestQuoteForOneBike quotes a bike that has a price and a serial number of its
// own: the frame's line is that price, everything else stays.
func TestQuoteForOneBike(t *testing.T) {
	t.Parallel()
	s := webtest.Open(t)
	v := s.Staff()
	frame := v.Interview([]byte(webtest.Plain)) + "/frames/osier-l"
	plain := v.Get(frame + "/quote")
	if got := webtest.Words(plain.Page.Find(`select[name="unit"] option`).FilterFunction(func(_ int, o *goquery.Selection) bool { return o.AttrOr("value", "") == "S-106" })); !strings.Contains(got, "S-106 for €2,140.00") {
		t.Errorf("the bike is offered as %q", got)
	}
	one := v.Get(frame + "/quote?unit=S-106&lang=nl")
	if less := cents(t, plain.Text(".bill tfoot .total td")) - cents(t, v.Get(frame+"/quote?unit=S-106").Text(".bill tfoot .total td")); less != 22_000 {
		t.Errorf("it costs %d cents less, want 220.00", less)
	}
	made := v.Post(frame+"/quote", webtest.Sent(one.One("form.make")))
	if text := made.Text(".bill tbody tr:first-child"); !strings.Contains(text, "Fiets S-106, framenummer OL26-0260") {
		t.Errorf("the line of the frame says %q", text)
	}
	if line := unitLine(made, "S-106"); !strings.Contains(line, "for €2,140.00") || !strings.Contains(line, "Hold S-106") {
		t.Errorf("among the bikes it is %q", line)
	}
	// A bike that is gone by then is asked about, not quoted for another price.
	sent := webtest.Sent(one.One("form.make"))
	sent.Set("unit", "S-999")
	gone := v.Post(frame+"/quote", sent)
	if gone.Status != http.StatusConflict || !strings.Contains(gone.Text(".which .error"), "S-999") {
		t.Errorf("%d, %q", gone.Status, gone.Text(".which .error"))
	}
	if got := v.Get(frame + "/quote?unit=D-011"); !strings.Contains(got.Text(".which .error"), "D-011") {
		t.Errorf("a bike of another frame: %q", got.Text(".which .error"))
	}
}

// TestHoldOfWhatIsOrdered says when the bikes of a frame come, and holds one.
func TestHoldOfWhatIsOrdered(t *testing.T) {
	t.Parallel()
	s := webtest.Open(t)
	v := s.Staff()
	made := v.Quoted(v.Interview([]byte(webtest.Plain)) + "/frames/osier-m")
	if line := unitLine(made, "S-113"); !strings.Contains(line, "Ordered, expected 14 December 2026") {
		t.Errorf("before: %q", line)
	}
	held := v.Holds(made, "S-113", "2026-11-28")
	if line := unitLine(held, "S-113"); !strings.Contains(line, "Ordered, expected 14 December 2026; reserved until 28 November 2026 for this customer, Q-2026-0001") || !strings.Contains(line, "Release") {
		t.Errorf("held: %q", line)
	}
}

// TestRideOnWhatIsInRepair says of a demo that nobody can ride it, and refuses.
func TestRideOnWhatIsInRepair(t *testing.T) {
	t.Parallel()
	s := webtest.Open(t)
	v := s.Staff()
	frame := v.Interview([]byte(webtest.Plain)) + "/frames/teasel-short"
	a := v.Get(frame + "/ride")
	if text := a.Text(".demos"); !strings.Contains(text, "D-023") || !strings.Contains(text, "In repair") {
		t.Errorf("the demos: %s", text)
	}
	values := webtest.Sent(a.One("form.book"))
	values.Set("unit", "D-023")
	refused := v.Post(frame+"/ride", values)
	if refused.Status != http.StatusConflict || !strings.Contains(refused.Text("#unit-error"), "in repair") {
		t.Errorf("%d, %q", refused.Status, refused.Text("#unit-error"))
	}
}

// TestToBeOrdered lets two customers want the last seats of the store room, and
// hands them over to the first.
func TestToBeOrdered(t *testing.T) {
	t.Parallel()
	s := webtest.Open(t)
	c, err := catalog.Parse(testdata.Demo)
	if err != nil {
		t.Fatal(err)
	}
	n := 1
	c.AddOn("tray-front").Stock = &n
	if err := s.Store.ReplaceCatalogue(t.Context(), c); err != nil {
		t.Fatal(err)
	}
	v := s.Staff()
	query := "?" + url.Values{"chosen": {"yes"}, "on": {"stand-one-leg", "tray-front"}}.Encode()
	tray := func(a *webtest.Answer) string {
		return webtest.Words(a.Page.Find(".bill tbody tr").FilterFunction(func(_ int, tr *goquery.Selection) bool {
			return strings.HasPrefix(webtest.Words(tr), "Front tray")
		}))
	}
	frame := v.Interview([]byte(webtest.Plain)) + "/frames/osier-m"
	draft := v.Get(frame + "/quote" + query)
	if line := tray(draft); line == "" || strings.Contains(line, "ordered") {
		t.Errorf("the first: %q", line)
	}
	first := v.Post(frame+"/quote", webtest.Sent(draft.One("form.make")))
	if line := tray(v.Get(frame + "/quote" + query)); strings.Contains(line, "ordered") {
		t.Errorf("the same customer once more: %q", line)
	}
	other := v.Interview([]byte(webtest.Plain)) + "/frames/osier-m"
	if line := tray(v.Get(other + "/quote" + query)); !strings.Contains(line, "To be ordered.") {
		t.Errorf("the second: %q", line)
	}
	if line := v.Get(other + "/quote" + query + "&lang=de").Text(".bill"); !strings.Contains(line, "Muss bestellt werden.") {
		t.Errorf("in German: %q", line)
	}
	path, _, _ := strings.Cut(first.Path, "#")
	first.Count("#handed", 0)
	if a := v.Post(path+"/handed-over", nil); a.Status != http.StatusConflict {
		t.Errorf("before it is accepted: %d", a.Status)
	}
	v.Post(path+"/accepted", url.Values{"accepted": {"yes"}})
	v.Post(path+"/handed-over", nil)
	done := v.Get(path)
	if text := done.Text("#handed"); !strings.Contains(text, "Handed over on 25 November 2026") {
		t.Errorf("after it: %q", text)
	}
	done.Count(`#accepted button`, 0)
	if c, err := s.Store.Catalogue(t.Context()); err != nil || *c.AddOn("tray-front").Stock != 0 {
		t.Errorf("%d are left, %v", *c.AddOn("tray-front").Stock, err)
	}
}
