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
		"/inventory/fits", "/inventory/fits?of=sedge&q=seat", "/inventory/fits?page=40&frames=20", "/inventory/history", "/inventory/frames/sedge-3", "/inventory/add-ons/seat-rear-3"} {
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
