package web_test

import (
	"net/http"
	"slices"
	"strings"
	"testing"

	"github.com/PuerkitoBio/goquery"

	"kinwain/internal/store"
	"kinwain/internal/wideshop"
	"kinwain/web/webtest"
)

// mostPage is how large a page may be, before it is compressed.
const mostPage = 100_000

// TestNoPageOfAWideShopIsLong opens the pages of a shop with a thousand frames
// and five thousand add-ons, and follows each list to its end.
func TestNoPageOfAWideShopIsLong(t *testing.T) {
	t.Parallel()
	s := webtest.Open(t)
	in := s.Staff()
	c, revision, err := s.Store.CatalogueAt(t.Context())
	if err != nil {
		t.Fatal(err)
	}
	if err := s.Store.ReplaceCatalogueAt(t.Context(), revision, wideshop.Of(c, 1000, 5000), store.Author{Who: "B", How: store.ByImport, At: s.Clock()}); err != nil {
		t.Fatal(err)
	}
	for _, path := range []string{"/", "/inventory", "/inventory?q=child", "/inventory/frames", "/inventory/frames?page=13", "/inventory/add-ons?page=999", "/inventory/units?q=D-014",
		"/inventory/add-ons?edit=price_cents&sort=-price_cents", "/inventory/frames?edit=type", "/inventory/fits", "/inventory/fits?of=sedge&q=seat", "/inventory/fits?page=40&frames=20", "/inventory/history", "/inventory/frames/sedge-3", "/inventory/add-ons/seat-rear-3"} {
		a := in.Get(path)
		if a.Status != http.StatusOK || len(a.Body) > mostPage {
			t.Errorf("%s: %d, %d bytes", path, a.Status, len(a.Body))
		}
	}
	seen := map[string]bool{}
	pages := 0
	for path := "/inventory/add-ons?q=child"; path != ""; pages++ {
		a := in.Get(path)
		a.Page.Find("table.wares .kind").Each(func(_ int, code *goquery.Selection) {
			if seen[code.Text()] {
				t.Errorf("%s is on two pages", code.Text())
			}
			seen[code.Text()] = true
		})
		path = a.Page.Find(`.ware-pages a:contains("Next page")`).AttrOr("href", "")
	}
	want := 0
	wide := in.Catalogue()
	for i := range wide.AddOns {
		if strings.Contains(strings.ToLower(wide.AddOns[i].Code+" "+wide.AddOns[i].Name), "child") {
			want++
		}
	}
	if len(seen) < want || want < 100 || pages < 2 {
		t.Errorf("%d add-ons on %d pages, want %d", len(seen), pages, want)
	}
}

// TestNoRankingOfAWideShopIsLong answers for a family in a shop with a thousand
// frames and five thousand add-ons, follows the ranking to its end, and finds
// every frame that fits once and every other one in its family.
func TestNoRankingOfAWideShopIsLong(t *testing.T) {
	t.Parallel()
	s := webtest.Open(t)
	in := s.Staff()
	address := in.Interview(webtest.Customers(t)["two-parents"])
	if err := s.Store.ReplaceCatalogue(t.Context(), wideshop.Of(in.Catalogue(), 1000, 5000)); err != nil {
		t.Fatal(err)
	}
	short := func(path string) *webtest.Answer {
		a := in.Get(path)
		if a.Status != http.StatusOK || len(a.Body) > mostPage {
			t.Errorf("%s: %d, %d bytes", path, a.Status, len(a.Body))
		}
		return a
	}
	short(address)
	list := address + "/frames"
	seen := map[string]bool{}
	see := func(a *webtest.Answer, rows string) {
		a.Page.Find(rows).Each(func(_ int, row *goquery.Selection) {
			code := row.AttrOr("data-frame", "")
			if seen[code] {
				t.Errorf("%s is listed twice", code)
			}
			seen[code] = true
		})
	}
	next := func(a *webtest.Answer, which, family string) string {
		more := a.Page.Find(`button[name="` + which + `"]:contains("More frames")`)
		if more.Length() == 0 {
			return ""
		}
		return more.AttrOr("formaction", "") + "?family=" + family + "&" + which + "=" + more.AttrOr("value", "")
	}
	families := map[string]bool{}
	for path := list; path != ""; {
		a := short(path)
		see(a, "form.comparing > ol.ranked > li")
		path = next(a, "fit", "")
	}
	fit := len(seen)
	for path := list; path != ""; {
		a := short(path)
		a.Page.Find(`details.unfit a[href*="family="]`).Each(func(_ int, l *goquery.Selection) {
			families[l.AttrOr("href", "")] = true
		})
		path = next(a, "unfit", "")
	}
	for path := range families {
		_, family, _ := strings.Cut(path, "family=")
		for path != "" {
			a := short(path)
			see(a, "details.unfit li")
			path = next(a, "unfit", family)
		}
	}
	if all := len(in.Catalogue().Frames); len(seen) != all || fit < 41 || fit == all || len(families) < 2 {
		t.Errorf("%d of %d frames listed, %d fit, %d families", len(seen), all, fit, len(families))
	}
	ticked := short(list + "?fit=20&frame=sedge-3&frame=sedge-4&frame=osier-m-60")
	if n := ticked.Page.Find(`input[name="frame"][checked]`).Length(); n != 3 {
		t.Errorf("%d frames are still ticked on another page, want 3", n)
	}
}

// TestTypedCodes saves, in a shop too wide to choose from, another frame that
// an add-on fits by its code, and says which code is none.
func TestTypedCodes(t *testing.T) {
	t.Parallel()
	s := webtest.Open(t)
	in := s.Staff()
	if err := s.Store.ReplaceCatalogue(t.Context(), wideshop.Of(in.Catalogue(), 1000, 1000)); err != nil {
		t.Fatal(err)
	}
	const path = "/inventory/add-ons/seat-rear-3"
	form := in.Get(path).Ware()
	form.Values["fits"] = append(form.Values["fits"], "sedge-7")
	in.Save(path, form, "save")
	if fits := in.Catalogue().AddOn("seat-rear-3").Fits; !slices.Contains(fits, "sedge-7") || !slices.Contains(fits, "sedge-3") {
		t.Errorf("fits %v", fits)
	}
	form = in.Get(path).Ware()
	form.Values["fits"] = append(form.Values["fits"], "nettle")
	if a := in.Save(path, form, "save"); a.Status != http.StatusUnprocessableEntity || !strings.Contains(a.Text("main"), "nettle") {
		t.Errorf("%d: %s", a.Status, a.Text(".error"))
	}
}
