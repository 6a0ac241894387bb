package inventory_test

import (
	"net/http"
	"slices"
	"strings"
	"testing"

	"github.com/PuerkitoBio/goquery"

	"kinwain/internal/catalog"
	"kinwain/internal/store"
	"kinwain/internal/wideshop"
	"kinwain/web/webtest"
)

// offered are the values of a list that a form offers.
func offered(a *webtest.Answer, list string) []string {
	var all []string
	a.Page.Find("datalist" + webtest.ByID(list) + " option").Each(func(_ int, s *goquery.Selection) { all = append(all, s.AttrOr("value", "")) })
	return all
}

// TestAddOnsAreTyped: by code or by name; a name that two have stays as it was
// typed, and is told.
func TestAddOnsAreTyped(t *testing.T) {
	t.Parallel()
	v := webtest.Open(t).Staff()
	c := v.Catalogue()
	var clear, stands *catalog.AddOn
	for i := range c.AddOns {
		switch c.AddOns[i].Code {
		case "lock-chain":
			clear = &c.AddOns[i]
		case "stand-one-leg":
			stands = &c.AddOns[i]
		}
	}
	const path = "/inventory/add-ons/seat-rear"
	page := v.Get(path)
	if got := offered(page, "offered-add-ons"); len(got) != len(c.AddOns) {
		t.Errorf("%d offered of %d", len(got), len(c.AddOns))
	}
	form := page.Ware()
	form.Values["excludes"] = []string{strings.ToUpper(clear.Name), stands.Code, ""}
	form.Values.Set("do", "save")
	v.Sure(path, form.Values).Is(http.StatusOK, path)
	if got := v.Catalogue().AddOn("seat-rear").Excludes; !slices.Equal(got, []string{clear.Code, stands.Code}) {
		t.Errorf("never together with %v", got)
	}
	form = v.Get(path).Ware()
	form.Values["excludes"] = []string{"Nothing like it"}
	form.Values.Set("do", "save")
	a := v.Post(path, form.Values).Is(http.StatusUnprocessableEntity, path)
	if !strings.Contains(a.Text(".error"), "Nothing like it") || !slices.Contains(a.Ware().Values["excludes"], "Nothing like it") {
		t.Errorf("told %q", a.Text(".error"))
	}
}

// TestANewTagAsks: what nothing has may be a slip; confirmed, it is saved, also
// where the change concerns somebody and the page asks about that, too.
func TestANewTagAsks(t *testing.T) {
	t.Parallel()
	v := webtest.Open(t).Staff()
	v.Talks(1)
	const path = "/inventory/add-ons/seat-rear"
	was := v.Catalogue().AddOn("seat-rear").Provides
	form := v.Get(path).Ware()
	form.Values["provides"] = append(slices.Clone(was), "foot_suport", "wheel_guard")
	form.Values.Set("do", "save")
	a := v.Post(path, form.Values).Is(http.StatusOK, path)
	if got := a.Text("#new-tags ~ ul"); got != "foot_suport" {
		t.Fatalf("asks about %q", got)
	}
	if known := a.Text(".clashes .hint"); !strings.Contains(known, "foot_support") {
		t.Errorf("known: %q", known)
	}
	if got := v.Catalogue().AddOn("seat-rear").Provides; !slices.Equal(got, was) {
		t.Fatalf("saved: %v", got)
	}
	a.One("#consequences")
	again := a.Ware()
	again.Values.Set("do", "save")
	again.Values.Del("seen") // as where it is another change by now
	a = v.Post(path, again.Values).Is(http.StatusOK, path)
	a.Count("#new-tags", 0)
	last := a.Ware()
	last.Values.Set("do", "save")
	v.Post(path, last.Values).Is(http.StatusOK, path)
	if got := v.Catalogue().AddOn("seat-rear").Provides; !slices.Contains(got, "foot_suport") || !slices.Contains(got, "wheel_guard") {
		t.Errorf("provides %v", got)
	}
	v.Get(path).Count("#new-tags", 0)
}

// TestWhatTheFramesHave: zones and mounts are those of the frames that an
// add-on fits.
func TestWhatTheFramesHave(t *testing.T) {
	t.Parallel()
	v := webtest.Open(t).Staff()
	c := v.Catalogue()
	one := c.Frames[0]
	form := v.Get("/inventory/add-ons/new").Ware()
	all := offered(v.Get("/inventory/add-ons/new"), "offered-mounts")
	form.Values["fits"] = []string{one.Code}
	form.Values.Set("do", "add uses")
	a := v.Post("/inventory/add-ons/new", form.Values)
	var want []string
	for _, m := range one.Mounts {
		want = append(want, m.Code)
	}
	slices.Sort(want)
	if got := offered(a, "offered-mounts"); !slices.Equal(got, want) || len(all) <= len(want) {
		t.Errorf("mounts %v of %v, want %v", got, all, want)
	}
	if list := a.One(webtest.ByID("uses[0].mount")).AttrOr("list", ""); list != "offered-mounts" {
		t.Errorf("a mount is typed beside %q", list)
	}
	zones := a.One(`select[name="zone"]`).Find("option").Length()
	if zones != len(one.Zones)+1 {
		t.Errorf("%d zones to choose, want %d", zones, len(one.Zones)+1)
	}
}

// TestAFormOfManyAddOns: 400 are offered while one types, and the form is short
// enough.
func TestAFormOfManyAddOns(t *testing.T) {
	t.Parallel()
	s := webtest.Open(t)
	v := s.Staff()
	c, revision, err := s.Store.CatalogueAt(t.Context())
	if err != nil {
		t.Fatal(err)
	}
	if err := s.Store.ReplaceCatalogueAt(t.Context(), revision, wideshop.Of(c, 60, 400), store.Author{Who: "B", How: store.ByImport, At: s.Clock()}); err != nil {
		t.Fatal(err)
	}
	for _, path := range []string{"/inventory/add-ons/seat-rear-3", "/inventory/frames/osier-m-2", "/inventory/units/D-014-1"} {
		a := v.Get(path).Is(http.StatusOK, path)
		if n := len(offered(a, "offered-add-ons")); n < 400 || len(a.Body) > 150_000 {
			t.Errorf("%s: %d offered, %d bytes", path, n, len(a.Body))
		}
	}
}
