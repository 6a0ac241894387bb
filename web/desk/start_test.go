package desk_test

import (
	"net/http"
	"net/url"
	"strings"
	"testing"
	"time"

	"kinwain/web/webtest"
)

// TestTheFirstRunIsAStory opens a shop without a customer, looks over the
// shoulder of an invented family and sends all of them away again.
func TestTheFirstRunIsAStory(t *testing.T) {
	t.Parallel()
	s := webtest.Open(t)
	v := s.Staff()
	a := v.Get("/")
	if n := a.Page.Find(".samples button").Length(); n < 8 {
		t.Fatalf("%d families are offered", n)
	}
	values := webtest.Sent(a.One("form.samples"))
	values.Set("sample", "two-parents")
	ranking := v.Post("/consultations/samples", values)
	if ranking.Status != http.StatusOK || !strings.HasSuffix(ranking.Path, "/frames") || len(webtest.ToldByRanking(ranking)) < 8 {
		t.Fatalf("%d at %s: %s", ranking.Status, ranking.Path, ranking.Text("main"))
	}
	if got := ranking.Text("title"); !strings.HasPrefix(got, "Ranked frames, Two parents (invented) · ") {
		t.Errorf("the page is called %q", got)
	}
	if again := v.Post("/consultations/samples", values); again.Path != ranking.Path {
		t.Errorf("the same tap leads to %s and %s", ranking.Path, again.Path)
	}
	a = v.Get("/")
	a.Count(".resume a", 1)
	if got := a.Text(".resume"); !strings.Contains(got, "(invented)") || a.Page.Find(".samples").Length() != 1 {
		t.Errorf("it stands there as %q", got)
	}
	real := v.Interview([]byte(webtest.Plain))
	v.Get("/").Count(".samples", 0)
	a = v.Post("/consultations/samples/erase", nil).Is(http.StatusOK, "/")
	a.Count(".resume a", 1)
	a.One(`.resume a[href="` + real + `"]`)
	if a.Text(".done") != "The invented families are gone." || strings.Contains(a.Text("main"), "Away with") {
		t.Errorf("after it the start says %q", a.Text("main"))
	}
	if a := v.Post("/consultations/samples", url.Values{"sample": {"../demo"}}); a.Status != http.StatusNotFound {
		t.Errorf("a family that is none: %d", a.Status)
	}
}

// TestConsultationsAreFound looks for customers by name, day and frame.
func TestConsultationsAreFound(t *testing.T) {
	t.Parallel()
	s := webtest.Open(t)
	v := s.Staff()
	named := func(name string) string {
		address, f := v.Consultation()
		f.Set("customer", name)
		v.Press(f, address, "save")
		return address
	}
	first := named("Family Ärl")
	s.Passes(48 * time.Hour)
	second := v.Interview([]byte(webtest.Family))
	v.SendHome(second, "osier-m", nil)
	third := named("100% of B")
	for query, want := range map[string][]string{
		"family": {first}, "FAMILY": {first}, "0%": {third}, "%": {third}, "nobody": nil,
		"2026-11-25": {first}, "25 November": {first}, "25.11.": {first}, "today": {third, second}, "2026-11-27": {third, second}, "yesterday": nil,
		"Osier": {second}, "osier m": {second}, "Osier L": nil,
	} {
		a := v.Get("/?" + url.Values{"find": {query}}.Encode())
		var got []string
		for _, link := range a.Page.Find(".resume a").EachIter() {
			got = append(got, link.AttrOr("href", ""))
		}
		if strings.Join(got, " ") != strings.Join(want, " ") || a.One("#find").AttrOr("value", "") != query {
			t.Errorf("%q finds %v, want %v", query, got, want)
		}
	}
}
