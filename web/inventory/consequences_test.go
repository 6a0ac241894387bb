package inventory_test

import (
	"encoding/json"
	"net/http"
	"net/url"
	"strings"
	"testing"
	"time"

	"kinwain/internal/catalog"
	"kinwain/internal/measure"
	"kinwain/web/webtest"
)

// named gives the customer of a consultation a name.
func named(v *webtest.Visitor, address, name string) {
	v.Helper()
	f := v.Get(address).Form()
	f.Set("customer", name)
	v.Post(address, f.Values).Is(http.StatusOK, address)
}

// TestConsequencesOfAnImport takes weight from a rating, says whom that
// concerns before it is done, and marks them until they are seen.
func TestConsequencesOfAnImport(t *testing.T) {
	t.Parallel()
	s := webtest.Open(t)
	v := s.Staff()
	address := v.Interview([]byte(webtest.Family))
	named(v, address, "family D")
	v.Post(address+"/frames/osier-m/send", url.Values{"units": {"metric"}}).Is(http.StatusOK, address+"/frames/osier-m/send")
	file := webtest.ChangedShop(t, func(c *catalog.Catalogue) {
		c.Frame("osier-m").GrossRating -= 35 * measure.Kilogram
		c.Frame("osier-m").Price += 100_00
	})
	a := v.Upload(file)
	if a.Status != http.StatusOK {
		t.Fatalf("%d: %s", a.Status, a.Text("main"))
	}
	if got := a.Text(".concerns"); !strings.HasPrefix(got, "It may concern 1 consultation of the last 60 days and 1 fit summary sent home at the most.") {
		t.Errorf("the summary is %q", got)
	}
	if got := v.Get(address + "/frames"); got.Page.Find(".marks").Length() != 0 {
		t.Error("a dry run has left a mark")
	}
	v.Confirm(a).Is(http.StatusOK, webtest.ImportPath)
	if got := v.Get("/").Text(".mark-word"); got != "To be checked: the shop has changed figures since" {
		t.Errorf("on the start page before it is judged: %q", got)
	}
	if got := v.Get("/inventory").Text(".checking"); !strings.Contains(got, "0 of 2 judged") {
		t.Errorf("in the inventory: %q", got)
	}
	v.Get(address+"/frames").Count(".marks li", 1)
	s.Settle()
	v.Get("/inventory").Count(".checking", 0)
	concerned := v.Get("/inventory/concerned").Is(http.StatusOK, "/inventory/concerned")
	concerned.Count(".concerned li.worse", 2)
	for _, row := range concerned.Page.Find(".concerned li").EachIter() {
		if got := webtest.Words(row); !strings.HasPrefix(got, "family D The Osier M") || !strings.Contains(got, "fits with care → does not fit") && !strings.Contains(got, "until December 2027 → December 2026") {
			t.Errorf("a row says %q", got)
		}
	}
	if got := v.Get("/").Text(".mark-word"); got != "The shop has since changed 2 answers" {
		t.Errorf("on the start page: %q", got)
	}
	marks := v.Get(address + "/frames")
	marks.Count(".marks li", 2)
	if got := marks.Text(".marks li"); !strings.Contains(got, "The Osier M: ") || !strings.Contains(got, "as sent home") {
		t.Errorf("the marks say %q", got)
	}
	for range 13 { // however many come after it
		v.Consultation()
	}
	v.Get("/").Count(".resume .mark-word", 1)
	form := marks.One(".marks form")
	seen := url.Values{"up_to": {form.Find("input").AttrOr("value", "")}}
	v.Post(form.AttrOr("action", ""), seen).Is(http.StatusOK, address+"/frames").Count(".marks", 0)
	v.Get("/").Count(".mark-word", 0)
	v.Post(form.AttrOr("action", ""), url.Values{"up_to": {"all"}}).Is(http.StatusBadRequest, address+"/marks")
}

// TestConsequencesAgreeWithTheMatch holds a row against what the API says by
// either catalogue.
func TestConsequencesAgreeWithTheMatch(t *testing.T) {
	t.Parallel()
	s := webtest.Open(t)
	v := s.Staff()
	address := v.Interview([]byte(webtest.Family))
	verdict := func() (string, float64) {
		var d struct {
			Matches []struct {
				Frame   string  `json:"frame"`
				Verdict string  `json:"verdict"`
				Total   float64 `json:"total_cents"`
			} `json:"matches"`
		}
		r := v.Request(http.MethodPost, "/matches", strings.NewReader(webtest.Family))
		r.Header.Set("Content-Type", "application/json")
		if err := json.Unmarshal(v.Send(r).Body, &d); err != nil {
			t.Fatal(err)
		}
		for _, m := range d.Matches {
			if m.Frame == "osier-m" {
				return strings.ReplaceAll(m.Verdict, "_", " "), m.Total
			}
		}
		t.Fatal("no osier-m")
		return "", 0
	}
	before, _ := verdict()
	a := v.Upload(webtest.ChangedShop(t, func(c *catalog.Catalogue) { c.Frame("osier-m").GrossRating -= 60 * measure.Kilogram }))
	v.Confirm(a)
	s.Settle()
	row := v.Get("/inventory/concerned").Text(".concerned li")
	after, _ := verdict()
	if before == after || !strings.Contains(row, before+" → "+after) || !strings.HasPrefix(row, "A customer without a name The Osier M: ") {
		t.Errorf("the row says %q, the matches %q and then %q", row, before, after)
	}
	if got := v.Get(address + "/frames").Text(".marks li"); !strings.Contains(got, before+" → "+after) {
		t.Errorf("the mark says %q", got)
	}
}

// TestWhomNothingConcerns holds that what touches nobody's answer, and whoever
// was here too long ago, is left in peace.
func TestWhomNothingConcerns(t *testing.T) {
	t.Parallel()
	s := webtest.Open(t)
	v := s.Staff()
	v.Interview([]byte(webtest.Family))
	dearer := webtest.ChangedShop(t, func(c *catalog.Catalogue) { c.Frame("osier-m").Price += 10_00 })
	says := func(a *webtest.Answer, want string) {
		t.Helper()
		if got := a.Text(".concerns"); !strings.HasPrefix(got, want) {
			t.Errorf("%q, want %q", got, want)
		}
	}
	const nobody = "It concerns nobody who was told anything."
	says(v.Upload(dearer), "It may concern 1 consultation of the last 60 days at the most.")
	says(v.Upload(webtest.ChangedShop(t, func(c *catalog.Catalogue) { c.Units[0].Colour = "rust" })), nobody)
	says(v.Upload(webtest.ChangedShop(t, func(c *catalog.Catalogue) { c.Frame("osier-m").Notes = "New." })), nobody)
	s.Passes(61 * 24 * time.Hour)
	says(v.Upload(dearer), nobody)
}

func TestConsequencesOfLabour(t *testing.T) {
	t.Parallel()
	const path = "/settings/shop"
	s := webtest.Open(t)
	v := s.Staff()
	address := v.Interview([]byte(webtest.Family))
	f := v.Get(path).Fields()
	f.Set("labour_cents_per_hour", "90")
	f.Set("do", "consequences")
	a := v.Post(path, f).Is(http.StatusOK, path)
	if got := a.Text(".consequences"); !strings.Contains(got, "Labour for an hourEUR 60.00EUR 90.00It may concern 1 consultation") || a.Fields().Get("labour_cents_per_hour") != "90" {
		t.Errorf("%q", got)
	}
	v.Get(address+"/frames").Count(".marks", 0)
	v.Post(path, a.Fields()).Is(http.StatusOK, path).Count(".checking", 1)
	s.Settle()
	v.Get(address+"/frames").Count(".marks form", 1)
	v.Get(path).Count(".checking", 0)
}

func TestQualityPage(t *testing.T) {
	t.Parallel()
	const path = "/inventory/quality"
	s := webtest.Open(t)
	v := s.Staff()
	a := v.Get(path).Is(http.StatusOK, path)
	a.One(`a[href="/inventory/frames/sedge-s#mounts[3]"]`)
	if got := a.Text(".summary"); got != "33 things to look at, the worst first." {
		t.Errorf("the summary is %q", got)
	}
	if a = v.Get(path + "?chosen=yes"); !strings.HasPrefix(a.Text("[role=status]"), "There is no consultation yet") {
		t.Errorf("%q", a.Text("main"))
	}
	v.Interview([]byte(webtest.Family))
	v.Consultation() // with no answers, so it cannot be judged
	a = v.Get(path + "?chosen=yes")
	if got := a.Text("[role=status]"); !strings.HasPrefix(got, "Of the last 2 consultations 1 could be judged") {
		t.Errorf("%q", got)
	}
	if a.Page.Find(`a[href$="#fits"]`).Length() == 0 {
		t.Error("one family has chosen everything")
	}
	again, err := catalog.Parse(webtest.ChangedShop(t, func(c *catalog.Catalogue) { c.Units[0].Fitted = append(c.Units[0].Fitted, "box-deck") }).Data)
	if err == nil {
		err = s.Store.ReplaceCatalogue(t.Context(), again)
	}
	if err != nil {
		t.Fatal(err)
	}
	if got := v.Get(path).Text("details:first-of-type .findings"); !strings.Contains(got, "D-011 Sedge") || !strings.Contains(got, "does not fit the Sedge") {
		t.Errorf("the worst is %q", got)
	}
}

// TestFrameThatIsGone takes a frame and an add-on out that customers were told
// of.
func TestFrameThatIsGone(t *testing.T) {
	t.Parallel()
	s := webtest.Open(t)
	v := s.Staff()
	address := v.Interview([]byte(webtest.Family))
	frame := address + "/frames/osier-m"
	v.Post(frame+"/send", url.Values{"units": {"metric"}}).Is(http.StatusOK, frame+"/send")
	imported := func(change func(c *catalog.Catalogue)) string {
		v.Confirm(v.Upload(webtest.ChangedShop(t, change))).Is(http.StatusOK, webtest.ImportPath)
		s.Settle()
		return v.Get("/inventory/concerned").Text(".concerned")
	}
	if got := imported(func(c *catalog.Catalogue) {
		*c = *webtest.Without(c, nil, func(a catalog.AddOn) bool { return a.Code == "seat-front" })
	}); !strings.Contains(got, "no longer has an add-on of it") {
		t.Errorf("without the seat: %q", got)
	}
	if got := imported(func(c *catalog.Catalogue) {
		*c = *webtest.Without(c, func(f catalog.Frame) bool { return f.Code == "osier-m" }, nil)
	}); strings.Count(got, "no longer in the catalogue") != 2 {
		t.Errorf("without the frame: %q", got)
	}
	if got := v.Get(address + "/frames").Text(".marks"); !strings.Contains(got, "The Osier M: no longer in the catalogue, since 25 November 2026.") {
		t.Errorf("the marks say %q", got)
	}
}
