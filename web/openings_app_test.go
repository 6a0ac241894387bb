package web_test

import (
	"net/http"
	"net/url"
	"slices"
	"strings"
	"testing"

	"github.com/PuerkitoBio/goquery"

	"kinwain/internal/staff"
	"kinwain/web/webtest"
)

// TestOpeningsAreCounted opens a fit summary as customers do, twice, and as
// everybody else does who is not to be counted.
func TestOpeningsAreCounted(t *testing.T) {
	t.Parallel()
	s := webtest.Open(t)
	s.Hire("Ansa", staff.Salesperson)
	v := s.Staff()
	at := v.Interview([]byte(webtest.Family))
	link := v.SendHome(at, "osier-m", nil)
	frame, send := at+"/frames/osier-m", at+"/frames/osier-m/send"
	says := func(want string) {
		t.Helper()
		s.Openings.Keep(t.Context())
		for path, where := range map[string]string{frame: ".next.actions small", send: ".revoking td", "/": ".resume span"} {
			said := v.Get(path).Page.Find(where).Map(func(_ int, e *goquery.Selection) string { return strings.ToLower(webtest.Words(e)) })
			if !slices.ContainsFunc(said, func(text string) bool { return text == want || strings.HasSuffix(text, ", "+want) }) {
				t.Errorf("%s says %q, want %q", path, said, want)
			}
		}
	}
	says("not opened yet")
	stranger := s.Stranger()
	look := func(method, path string, headers ...string) {
		t.Helper()
		r := stranger.Request(method, path, nil)
		for i := 0; i < len(headers); i += 2 {
			r.Header.Set(headers[i], headers[i+1])
		}
		stranger.Send(r)
	}
	stranger.Get(link).Is(http.StatusOK, link)
	says("opened once")
	stranger.Get(link)
	for range 2 { // drawn, and as it was drawn
		look(http.MethodHead, link)
		look(http.MethodGet, link, "Sec-Purpose", "prefetch;prerender")
		look(http.MethodGet, link, "Purpose", "prefetch")
		look(http.MethodGet, link, "X-Moz", "prefetch")
		look(http.MethodGet, link+"?lang=de&units=metric", "Sec-Fetch-Site", "same-origin")
		look(http.MethodGet, link+"/qr.svg")
		look(http.MethodGet, link+"/measure?lang=en")
		look(http.MethodGet, "/fit/"+strings.Repeat("a", 32))
		v.Get(link).Is(http.StatusOK, link)
		s.As("Ansa").Get(link).Is(http.StatusOK, link)
	}
	says("opened twice")
	look(http.MethodGet, link+"?lang=nl&units=metric", "Sec-Fetch-Site", "none")
	says("opened 3 times")
	v.Post("/sign-out", url.Values{})
	v.Get(link).Is(http.StatusOK, link)
	v = s.As("Ansa")
	says("opened 4 times")
	ranked := webtest.ToldByRanking(v.Get(at + "/frames"))
	other := v.SendHome(at, ranked[slices.IndexFunc(ranked, func(one webtest.Told) bool { return one.Frame != "osier-m" })].Frame, nil)
	stranger.Get(other)
	s.Openings.Keep(t.Context())
	if got := v.Get("/").Text(".resume"); !strings.Contains(got, "2 sent, opened 5 times") {
		t.Errorf("of two links the start says %q", got)
	}
	v.SendHome(at, "osier-m", nil)
	if got := v.Get(frame).Text(".next.actions"); !strings.Contains(got, ", not opened yet") {
		t.Errorf("a new link was opened already: %q", got)
	}
}

// TestWhoLooksWritesNothing opens a fit summary, drawn and as it was drawn: what
// is counted of it is written later.
func TestWhoLooksWritesNothing(t *testing.T) {
	t.Parallel()
	s := webtest.Open(t)
	v := s.Staff()
	link := v.SendHome(v.Interview([]byte(webtest.Family)), "osier-m", nil)
	version := func() string {
		version, err := s.Store.Version(t.Context())
		if err != nil {
			t.Fatal(err)
		}
		return version
	}
	before := version()
	for range 2 {
		s.Stranger().Get(link).Is(http.StatusOK, link).One(".foot .on-screen")
	}
	if version() != before {
		t.Error("who looked at a page has written")
	}
	if s.Openings.Keep(t.Context()); version() == before {
		t.Error("nothing is kept of it")
	}
}
