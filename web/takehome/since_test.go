package takehome_test

import (
	"net/http"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"kinwain/internal/catalog"
	"kinwain/web/webtest"
)

// bare returns what stands on a summary besides its head and what has changed
// since.
func bare(a *webtest.Answer) string {
	a.Helper()
	a.Page.Find(".since, article > header").Remove()
	html, err := a.One("main").Html()
	if err != nil {
		a.Fatal(err)
	}
	return html
}

// headed holds what the head of a summary says of its verdict: that it is as it
// was told, or, where that matters to it, to ask first, with what has changed.
func headed(a *webtest.Answer, name string, matters bool) {
	a.Helper()
	head, title := a.Text(".fit > header"), a.Text("head title")
	if !matters {
		if webtest.VerdictOf(a.One(".fit > header .verdict")) != "fits_with_care" || title != "Osier M" {
			a.Errorf("%s: %s: %s", name, title, head)
		}
		return
	}
	const ask = "Ask the shop before you rely on this"
	if a.Text(".fit > header .verdict") != ask || title != "Osier M: "+ask || a.One(".fit > header .since li:first-child").Length() != 1 {
		a.Errorf("%s: the old verdict is the headline: %s: %s", name, title, head)
	}
	if !strings.Contains(a.Text(".fit > header .was"), "Told on 25 November 2026: Fits with care.") {
		a.Errorf("%s: nothing is said of what was told: %s", name, head)
	}
	if strings.Index(head, ask) > strings.Index(head, "Fits with care") || a.Page.Find(".fit > header .line").Length() > 0 {
		a.Errorf("%s: what was told comes first: %s", name, head)
	}
}

// TestSnapshotDoesNotChange changes the shop under a summary: its figures stay
// and it says in plain words what is different.
func TestSnapshotDoesNotChange(t *testing.T) {
	t.Parallel()
	s := webtest.Open(t)
	v := s.Staff()
	address := v.Interview([]byte(webtest.Family))
	link := v.SendHome(address, "osier-m", nil)
	before := s.Stranger().Get(link)
	want := bare(before)
	demo, err := s.Store.Catalogue(t.Context())
	if err != nil {
		t.Fatal(err)
	}
	fitted := before.Text(".stack tbody")
	for name, c := range map[string]struct {
		change func(c *catalog.Catalogue)
		says   []string
	}{
		"nothing":              {func(*catalog.Catalogue) {}, nil},
		"another frame":        {func(c *catalog.Catalogue) { c.Frame("sedge").Price += 10000 }, nil},
		"a name":               {func(c *catalog.Catalogue) { c.Frame("osier-m").Notes = "new" }, nil},
		"its price":            {func(c *catalog.Catalogue) { c.Frame("osier-m").Price += 10000 }, []string{"changed the price: now €3,028.00."}},
		"its rating":           {func(c *catalog.Catalogue) { c.Frame("osier-m").GrossRating -= 5000 }, []string{"under rider A: 30.5 kg to spare.", "under rider B: 42.5 kg to spare."}},
		"its rating, far less": {func(c *catalog.Catalogue) { c.Frame("osier-m").GrossRating -= 40000 }, []string{"today the answer is: Does not fit. Everything together is 4.5 kg over the gross rating of 160 kg"}},
		"a zone": {func(c *catalog.Catalogue) {
			f := c.Frame("osier-m")
			f.Zones[0].Rating += 1000
		}, []string{"has since changed weights or ratings"}},
		"a seat": {func(c *catalog.Catalogue) {
			c.AddOn("seat-front").Places[0].MaxMass += 1000
		}, []string{"today it lasts until the end of"}},
		"its width": {func(c *catalog.Catalogue) { c.Frame("osier-m").Width += 100 }, []string{"today it gets home with 11 cm to spare."}},
		"its width, far": {func(c *catalog.Catalogue) {
			f := c.Frame("osier-m")
			f.Width, f.Upright = f.Width+300, catalog.Box{}
		}, []string{"today the answer is: Does not fit. 9 cm too large for doorway 1."}},
		"the tax": {func(c *catalog.Catalogue) { c.Shop.Tax -= 200 }, []string{"changed the tax: now 19 %."}},
		"labour":  {func(c *catalog.Catalogue) { c.Shop.LabourPerHour += 600 }, []string{"changed the price: now €"}},
		"no such frame": {func(c *catalog.Catalogue) {
			*c = *webtest.Without(c, func(f catalog.Frame) bool { return f.Code == "osier-m" }, nil)
		}, []string{"no longer offers this bike"}},
		"no such seat": {func(c *catalog.Catalogue) {
			*c = *webtest.Without(c, nil, func(a catalog.AddOn) bool { return a.Code == "seat-front" })
		}, []string{"no longer fits to this bike: Harnessed child seat ahead of the rider."}},
	} {
		if !strings.Contains(fitted, "Harnessed child seat ahead of the rider") {
			t.Fatalf("the test is of another build: %s", fitted)
		}
		sells(s, demo, c.change)
		a := s.Stranger().Get(link).Is(http.StatusOK, link)
		said := webtest.Words(a.Page.Find(".since li"))
		if len(c.says) == 0 && said != "" {
			t.Errorf("%s: says %q", name, said)
		}
		if n := a.Page.Find(".since li").Length(); n != len(c.says) {
			t.Errorf("%s: says %d things: %q", name, n, said)
		}
		for _, text := range c.says {
			if !strings.Contains(said, text) {
				t.Errorf("%s: says %q, not %q", name, said, text)
			}
		}
		only := strings.Contains(said, "changed the price") || strings.Contains(said, "changed the tax")
		headed(a, name, len(c.says) > 0 && !only)
		if got := bare(a); got != want {
			t.Errorf("%s: %s", name, cmp.Diff(want, got))
		}
	}
	sells(s, demo, func(*catalog.Catalogue) {})
	if err := s.Store.SetSettings(t.Context(), map[string]int64{"clothing_g": 2000}); err != nil {
		t.Fatal(err)
	}
	a := s.Stranger().Get(link)
	if said := a.Text(".since"); !strings.Contains(said, "under rider A: 33.5 kg to spare.") {
		t.Errorf("says %q of other settings", said)
	}
	if got := bare(a); got != want {
		t.Error(cmp.Diff(want, got))
	}
}

// sells replaces the catalogue by a changed copy.
func sells(s *webtest.Shop, c *catalog.Catalogue, change func(*catalog.Catalogue)) {
	s.Helper()
	document, err := c.Document()
	if err != nil {
		s.Fatal(err)
	}
	changed, err := catalog.Parse(document)
	if err != nil {
		s.Fatal(err)
	}
	change(changed)
	if err := s.Store.ReplaceCatalogue(s.Context(), changed); err != nil {
		s.Fatal(err)
	}
}
