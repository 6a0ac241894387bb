package web_test

import (
	"encoding/json"
	"net/http"
	"net/url"
	"strings"
	"testing"
	"time"

	"kinwain/internal/catalog"
	"kinwain/internal/catalog/sheet"
	"kinwain/internal/measure"
	"kinwain/testdata"
)

// changedShop is the document of the demo shop after a change.
func changedShop(t *testing.T, change func(*catalog.Catalogue)) sheet.File {
	t.Helper()
	c, err := catalog.Parse(testdata.Demo)
	if err != nil {
		t.Fatal(err)
	}
	change(c)
	document, err := c.Document()
	if err != nil {
		t.Fatal(err)
	}
	return sheet.File{Name: "catalogue.json", Data: document}
}

// named gives the customer of a consultation a name.
func (v *visitor) named(address, name string) {
	v.Helper()
	f := v.get(address).form()
	f.set("customer", name)
	v.post(address, f.values).is(http.StatusOK, address)
}

// TestConsequencesOfAnImport takes weight from a rating, says whom that
// concerns before it is done, and marks them until they are seen.
func TestConsequencesOfAnImport(t *testing.T) {
	s := open(t)
	v := s.staff()
	address := v.interview([]byte(family))
	v.named(address, "family D")
	v.post(address+"/frames/osier-m/send", url.Values{"units": {"metric"}}).is(http.StatusOK, address+"/frames/osier-m/send")
	file := changedShop(t, func(c *catalog.Catalogue) {
		c.Frame("osier-m").GrossRating -= 35 * measure.Kilogram
		c.Frame("osier-m").Price += 100_00
	})
	a := v.upload(file)
	if a.status != http.StatusOK {
		t.Fatalf("%d: %s", a.status, a.text("main"))
	}
	t.Log(a.text(".consequences"))
	if got := a.text(".concerns"); !strings.HasPrefix(got, "1 consultation of the last 60 days") {
		t.Errorf("the summary is %q", got)
	}
	a.count(".concerned li", 2)
	for _, row := range a.page.Find(".concerned li").EachIter() {
		if got := words(row); !strings.HasPrefix(got, "Osier M for “family D”") || !strings.Contains(got, "fits with care → does not fit") && !strings.Contains(got, "until 20") {
			t.Errorf("a row says %q", got)
		}
	}
	if got := v.get(address + "/frames"); got.page.Find(".marks").Length() != 0 {
		t.Error("a dry run has left a mark")
	}
	v.confirm(a).is(http.StatusOK, importPath)
	if got := v.get("/").text(".mark-word"); got != "The shop has since changed 2 answers" {
		t.Errorf("on the start page: %q", got)
	}
	marks := v.get(address + "/frames")
	marks.count(".marks li", 2)
	if got := marks.text(".marks li"); !strings.Contains(got, "The Osier M: ") || !strings.Contains(got, "as sent home") {
		t.Errorf("the marks say %q", got)
	}
	for range 13 { // however many come after it
		v.consultation()
	}
	v.get("/").count(".resume .mark-word", 1)
	form := marks.one(".marks form")
	seen := url.Values{"up_to": {form.Find("input").AttrOr("value", "")}}
	v.post(form.AttrOr("action", ""), seen).is(http.StatusOK, address+"/frames").count(".marks", 0)
	v.get("/").count(".mark-word", 0)
	v.post(form.AttrOr("action", ""), url.Values{"up_to": {"all"}}).is(http.StatusBadRequest, address+"/marks")
}

// TestConsequencesAgreeWithTheMatch holds a row against what the API says by
// either catalogue.
func TestConsequencesAgreeWithTheMatch(t *testing.T) {
	s := open(t)
	v := s.staff()
	address := v.interview([]byte(family))
	verdict := func() (string, float64) {
		var d struct {
			Matches []struct {
				Frame   string  `json:"frame"`
				Verdict string  `json:"verdict"`
				Total   float64 `json:"total_cents"`
			} `json:"matches"`
		}
		r := v.request(http.MethodPost, "/matches", strings.NewReader(family))
		r.Header.Set("Content-Type", "application/json")
		if err := json.Unmarshal(v.send(r).body, &d); err != nil {
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
	a := v.upload(changedShop(t, func(c *catalog.Catalogue) { c.Frame("osier-m").GrossRating -= 60 * measure.Kilogram }))
	row := a.text(".concerned li")
	v.confirm(a)
	after, _ := verdict()
	if before == after || !strings.Contains(row, before+" → "+after) || !strings.HasPrefix(row, "Osier M for a customer without a name") {
		t.Errorf("the row says %q, the matches %q and then %q", row, before, after)
	}
	if got := v.get(address + "/frames").text(".marks li"); !strings.Contains(got, before+" → "+after) {
		t.Errorf("the mark says %q", got)
	}
}

// TestWhomNothingConcerns holds that what touches nobody's answer, and whoever
// was here too long ago, is left in peace.
func TestWhomNothingConcerns(t *testing.T) {
	s := open(t)
	v := s.staff()
	v.interview([]byte(family))
	dearer := changedShop(t, func(c *catalog.Catalogue) { c.Frame("osier-m").Price += 10_00 })
	v.upload(dearer).count(".concerned li", 1)
	v.upload(changedShop(t, func(c *catalog.Catalogue) { c.Units[0].Colour = "rust" })).count(".concerned li", 0)
	v.upload(changedShop(t, func(c *catalog.Catalogue) { c.Frame("osier-m").Notes = "New." })).count(".concerned li", 0)
	s.passes(61 * 24 * time.Hour)
	a := v.upload(dearer)
	a.count(".concerned li", 0)
	if got := a.text(".concerns"); !strings.HasPrefix(got, "Nothing changes for the consultations of the last 60 days") {
		t.Errorf("the summary is %q", got)
	}
}

func TestConsequencesOfLabour(t *testing.T) {
	const path = "/settings/shop"
	s := open(t)
	v := s.staff()
	address := v.interview([]byte(family))
	f := v.get(path).fields()
	f.Set("labour_cents_per_hour", "90")
	f.Set("do", "consequences")
	a := v.post(path, f).is(http.StatusOK, path)
	if a.page.Find(".concerned li").Length() == 0 || a.fields().Get("labour_cents_per_hour") != "90" {
		t.Errorf("%q", a.text(".consequences"))
	}
	v.get(address+"/frames").count(".marks", 0)
	v.post(path, a.fields()).is(http.StatusOK, path)
	v.get(address+"/frames").count(".marks", 1)
}

func TestQualityPage(t *testing.T) {
	const path = "/inventory/quality"
	s := open(t)
	v := s.staff()
	a := v.get(path).is(http.StatusOK, path)
	a.one(`a[href="/inventory/frames/sedge-s#mounts[3]"]`)
	if got := a.text(".summary"); got != "25 things to look at, the worst first." {
		t.Errorf("the summary is %q", got)
	}
	if a = v.get(path + "?chosen=yes"); !strings.HasPrefix(a.text("[role=status]"), "There is no consultation yet") {
		t.Errorf("%q", a.text("main"))
	}
	v.interview([]byte(family))
	v.consultation() // with no answers, so it cannot be judged
	a = v.get(path + "?chosen=yes")
	if got := a.text("[role=status]"); !strings.HasPrefix(got, "Of the last 2 consultations 1 could be judged") {
		t.Errorf("%q", got)
	}
	if a.page.Find(`a[href$="#fits"]`).Length() == 0 {
		t.Error("one family has chosen everything")
	}
	again, err := catalog.Parse(changedShop(t, func(c *catalog.Catalogue) { c.Units[0].Fitted = append(c.Units[0].Fitted, "box-deck") }).Data)
	if err == nil {
		err = s.store.ReplaceCatalogue(t.Context(), again)
	}
	if err != nil {
		t.Fatal(err)
	}
	if got := v.get(path).text("details:first-of-type .findings"); !strings.Contains(got, "D-011 Sedge") || !strings.Contains(got, "does not fit the Sedge") {
		t.Errorf("the worst is %q", got)
	}
}

// TestFrameThatIsGone takes a frame and an add-on out that customers were told
// of.
func TestFrameThatIsGone(t *testing.T) {
	s := open(t)
	v := s.staff()
	address := v.interview([]byte(family))
	frame := address + "/frames/osier-m"
	v.post(frame+"/send", url.Values{"units": {"metric"}}).is(http.StatusOK, frame+"/send")
	a := v.upload(changedShop(t, func(c *catalog.Catalogue) {
		*c = *without(c, nil, func(a catalog.AddOn) bool { return a.Code == "seat-front" })
	}))
	if got := a.text(".concerned"); !strings.Contains(got, "no longer has an add-on of it") {
		t.Errorf("without the seat: %q", got)
	}
	a = v.upload(changedShop(t, func(c *catalog.Catalogue) {
		*c = *without(c, func(f catalog.Frame) bool { return f.Code == "osier-m" }, nil)
	}))
	if got := a.text(".concerned"); strings.Count(got, "no longer in the catalogue") != 2 {
		t.Errorf("without the frame: %q %q", got, a.text("main"))
	}
	v.confirm(a).is(http.StatusOK, importPath)
	if got := v.get(address + "/frames").text(".marks"); !strings.Contains(got, "The Osier M: no longer in the catalogue, since 25 November 2026.") {
		t.Errorf("the marks say %q", got)
	}
}
