package web_test

import (
	"net/http"
	"net/url"
	"strings"
	"testing"
	"time"

	"kinwain/internal/staff"
	"kinwain/web/webtest"
)

// TestPagesOfBeforeAreNotShown looks at pages twice, so that they are known,
// and then changes what they follow from: another answer, another shop,
// another day, another visitor.
func TestPagesOfBeforeAreNotShown(t *testing.T) {
	t.Parallel()
	s := webtest.Open(t)
	s.Hire("Ansa", staff.Salesperson)
	v := s.Staff()
	at := v.Interview([]byte(webtest.Family))
	link := v.SendHome(at, "osier-m", nil)
	look := func() map[string]string {
		seen := map[string]string{}
		for _, path := range []string{at, at + "/frames", at + "/frames/osier-m", link} {
			v.Get(path)
			seen[path] = string(tokens.ReplaceAll(v.Get(path).Is(http.StatusOK, path).Body, nil))
		}
		return seen
	}
	first := look()
	f := v.Get(at).Form()
	f.Set("riders[0].weight_kg", "90 kg")
	v.Press(f, at, "save")
	second := look()
	for _, path := range []string{at, at + "/frames", at + "/frames/osier-m"} {
		if first[path] == second[path] {
			t.Errorf("%s: as before another answer", path)
		}
	}
	if first[link] != second[link] {
		t.Error("a summary that was sent is another one after the answers changed")
	}
	if got := s.As("Ansa").Get(at + "/frames").Text(".me"); !strings.HasSuffix(got, "Ansa") {
		t.Errorf("shown to Ansa is the page of %q", got)
	}
	stranger := s.Stranger()
	if a := stranger.Get(at + "/frames"); a.Status != http.StatusForbidden || strings.Contains(string(a.Body), "Osier") {
		t.Errorf("%d to nobody", a.Status)
	}
	stranger.Get(link).Is(http.StatusOK, link)
	s.Passes(400 * 24 * time.Hour)
	stranger.Get(link).Is(http.StatusNotFound, link)
}

// TestTwoLooksAtTheStartMakeTwo begins a consultation from each of two looks
// at the same page: two tablets serve two families.
func TestTwoLooksAtTheStartMakeTwo(t *testing.T) {
	t.Parallel()
	s := webtest.Open(t)
	v := s.Staff()
	begin := `form[action="/consultations"] [name="once"]`
	v.Get("/").One(begin)
	one, other := v.Get("/").One(begin).AttrOr("value", ""), v.Get("/").One(begin).AttrOr("value", "")
	a, b := v.Post("/consultations", url.Values{"once": {one}}), v.Post("/consultations", url.Values{"once": {other}})
	if same := v.Post("/consultations", url.Values{"once": {one}}); same.Path != a.Path {
		t.Errorf("sent twice it made %s and %s", a.Path, same.Path)
	}
	if a.Path == b.Path || a.Path == "/" {
		t.Errorf("made %s and %s", a.Path, b.Path)
	}
}
