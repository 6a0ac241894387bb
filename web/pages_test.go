package web_test

import (
	"compress/gzip"
	"fmt"
	"io"
	"net/http"
	"net/url"
	"slices"
	"strings"
	"sync"
	"testing"

	"github.com/PuerkitoBio/goquery"

	"kinwain/web/webtest"
)

// everyPage returns every kind of page, by name, in every state that is drawn
// differently. They are asked for once, by the first test that wants them.
func everyPage(t *testing.T) map[string]*webtest.Answer {
	t.Helper()
	opened.Do(func() { opened.pages = openEveryPage(webtest.Open(t)) })
	if len(opened.pages) == 0 {
		t.Fatal("not every page opens; the test that asked first says which one does not")
	}
	pages := map[string]*webtest.Answer{}
	for name, a := range opened.pages {
		own := *a
		own.T = t
		pages[name] = &own
	}
	return pages
}

var opened struct {
	sync.Once
	pages map[string]*webtest.Answer
}

func openEveryPage(s *webtest.Shop) map[string]*webtest.Answer {
	s.Helper()
	v := s.Staff()
	pages := map[string]*webtest.Answer{
		"start, nothing to resume": v.Get("/").Is(http.StatusOK, "/"),
		"not signed in":            s.Stranger().Get("/").Is(http.StatusOK, "/sign-in"),
		"a link that is too old":   s.Stranger().Get("/sign-in/x").Is(http.StatusNotFound, "/sign-in/x"),
		"nothing here":             v.Get("/nowhere").Is(http.StatusNotFound, "/nowhere"),
		"not that way":             v.Post("/", nil).Is(http.StatusMethodNotAllowed, "/"),
	}
	address, f := v.Consultation()
	pages["a new profile"] = v.Get(address).Is(http.StatusOK, address)
	pages["frames before any answer"] = v.Get(address+"/frames").Is(http.StatusOK, address+"/frames")
	f.Set("riders[0].height_cm", "tall")
	f.Set("riders[0].weight_kg", "900")
	pages["a profile with faults"] = v.Press(f, address, "frames").Is(http.StatusOK, address+"?insist=yes")
	pages["frames of a profile with faults"] = v.Get(address+"/frames").Is(http.StatusOK, address+"/frames")
	address = v.Interview([]byte(webtest.Family))
	pages["a full profile"] = v.Get(address).Is(http.StatusOK, address)
	pages["frames"] = v.Get(address+"/frames").Is(http.StatusOK, address+"/frames")
	pages["start"] = v.Get("/").Is(http.StatusOK, "/")
	verdicts := map[string]string{}
	for _, one := range webtest.ToldByRanking(pages["frames"]) {
		verdicts[one.Verdict] = one.Frame
	}
	for verdict, code := range verdicts {
		path := address + "/frames/" + code
		pages["a frame that "+verdict] = v.Get(path).Is(http.StatusOK, path)
		pages["by hand, a frame that "+verdict] = v.Get(path+"/by-hand").Is(http.StatusOK, path+"/by-hand")
		pages["to take home, a frame that "+verdict] = v.Get(path+"/send").Is(http.StatusOK, path+"/send")
		pages["by hand, nothing on a frame that "+verdict] = v.Get(path+"/by-hand?chosen=yes").Is(http.StatusOK, path+"/by-hand?chosen=yes")
		if verdict == "does_not_fit" {
			pages["no quote for a frame that "+verdict] = v.Get(path+"/quote").Is(http.StatusUnprocessableEntity, path+"/quote")
			continue
		}
		pages["a quote for a frame that "+verdict] = v.Quoted(path)
	}
	webtest.ImportPages(v, pages)
	webtest.SourcePages(v, pages)
	webtest.ManagerPages(v, pages)
	webtest.FloorPages(v, pages)
	path := address + "/frames/osier-m"
	pages["a quote to be made, after others"] = v.Get(path+"/quote").Is(http.StatusOK, path+"/quote")
	pages["a quote that holds a bike"] = v.Holds(v.Quoted(path), "S-105", "2026-12-01")
	pages["a quote with a fault"] = v.Post(v.Quoted(path).Path+"/hold", url.Values{"hold": {"D-014"}, "until": {"soon"}})
	pages["a test ride to be booked"] = v.Get(path+"/ride").Is(http.StatusOK, path+"/ride")
	pages["a test ride with faults"] = v.Post(path+"/ride", url.Values{"date": {"soon"}}).Is(http.StatusUnprocessableEntity, path+"/ride")
	pages["a test ride"] = v.Booked(path, "D-014", "2026-11-26", "10:00")
	pages["start, with a ride to come"] = v.Get("/").Is(http.StatusOK, "/")
	for name, path := range map[string]string{"side by side": "/compare?frame=teasel&frame=osier-m&frame=knapweed-s&frame=yarrow-assist", "two side by side": "/compare?frame=osier-m&frame=osier-l"} {
		pages[name] = v.Get(address+path).Is(http.StatusOK, address+path)
	}
	pages["to be measured at home"] = v.Get(address+"/measure").Is(http.StatusOK, address+"/measure")
	pages["to be erased"] = v.Get(address+"/erase").Is(http.StatusOK, address+"/erase")
	pages["nothing to compare"] = v.Get(address+"/compare").Is(http.StatusUnprocessableEntity, address+"/compare")
	pages["what to own, of too few"] = v.Get("/inventory/own").Is(http.StatusOK, "/inventory/own")
	s.Talks(6)
	pages["what to own"] = v.Get("/inventory/own").Is(http.StatusOK, "/inventory/own")
	s.Talks(40)
	pages["what to own, while it is worked out"] = v.Get("/inventory/own").Is(http.StatusOK, "/inventory/own")
	if len(verdicts) < 2 {
		s.Fatalf("only these verdicts came up: %v", verdicts)
	}
	return pages
}

func TestSecurityHeadersOnEveryPage(t *testing.T) {
	t.Parallel()
	pages := everyPage(t)
	pages["style sheet that nothing names"] = webtest.Open(t).Stranger().Get("/static/app.css?v=anything")
	for name, a := range pages {
		for header, want := range map[string]string{
			"Content-Security-Policy": "default-src 'none'; style-src 'self'; script-src 'self'; img-src 'self'; connect-src 'self'; " +
				"manifest-src 'self'; worker-src 'self'; form-action 'self'; base-uri 'none'; frame-ancestors 'none'",
			"X-Content-Type-Options": "nosniff", "Referrer-Policy": "same-origin", "Cross-Origin-Opener-Policy": "same-origin",
			"Permissions-Policy": "camera=(), geolocation=(), microphone=()", "Cache-Control": "no-store",
		} {
			if name == "style sheet that nothing names" && header == "Cache-Control" {
				want = "no-cache"
			}
			if got := a.Header.Get(header); got != want {
				t.Errorf("%s: %s is %q", name, header, got)
			}
		}
		if got := a.Header.Get("Content-Type"); a.Page.Find("html[lang]").Length() > 0 && got != "text/html; charset=utf-8" {
			t.Errorf("%s: the type is %q", name, got)
		}
		if server := a.Header.Get("Server") + a.Header.Get("X-Powered-By"); server != "" {
			t.Errorf("%s: tells of %q", name, server)
		}
	}
}

// TestNothingInline walks every page for what the content policy forbids: a
// browser would leave it out, and nobody would see why.
func TestNothingInline(t *testing.T) {
	t.Parallel()
	for name, a := range everyPage(t) {
		a.Page.Find("*").Each(func(_ int, e *goquery.Selection) {
			element := goquery.NodeName(e)
			if element == "style" || element == "script" && (webtest.Words(e) != "" || e.AttrOr("src", "") == "") || slices.Contains([]string{"iframe", "object", "embed", "base"}, element) {
				t.Errorf("%s: a %s element", name, element)
			}
			for _, attribute := range e.Nodes[0].Attr {
				key, value := attribute.Key, strings.TrimSpace(attribute.Val)
				switch {
				case key == "style" || strings.HasPrefix(key, "on"):
					t.Errorf("%s: %s has the attribute %s", name, element, key)
				case slices.Contains([]string{"href", "src", "action", "formaction", "data-live"}, key) && !strings.HasPrefix(value, "/") && !strings.HasPrefix(value, "#") && e.AttrOr("rel", "") != "external noopener noreferrer":
					t.Errorf("%s: %s leads to %q", name, element, value)
				case strings.HasPrefix(value, "//"):
					t.Errorf("%s: %s leads to another host: %q", name, element, value)
				}
			}
		})
	}
}

// TestPagesAreWellBuilt checks what a screen reader and a keyboard rely on.
func TestPagesAreWellBuilt(t *testing.T) {
	t.Parallel()
	for name, a := range everyPage(t) {
		a.One("html[lang=en]")
		a.One("head title")
		a.One("main h1")
		a.One(`meta[name="viewport"]`)
		ids := map[string]int{}
		a.Page.Find("[id]").Each(func(_ int, e *goquery.Selection) { ids[e.AttrOr("id", "")]++ })
		for id, n := range ids {
			if id == "" || n > 1 || strings.ContainsAny(id, " \t\n") {
				t.Errorf("%s: id %q stands %d times", name, id, n)
			}
		}
		a.Page.Find("[for], [aria-labelledby], [aria-describedby], a[href^='#']").Each(func(_ int, e *goquery.Selection) {
			refers := strings.Fields(e.AttrOr("for", "") + " " + e.AttrOr("aria-labelledby", "") + " " + e.AttrOr("aria-describedby", ""))
			if e.Is("a") {
				refers = append(refers, strings.TrimPrefix(e.AttrOr("href", ""), "#"))
			}
			for _, id := range refers {
				if ids[id] != 1 {
					t.Errorf("%s: a %s refers to %q, which is not there", name, goquery.NodeName(e), id)
				}
			}
		})
		a.Page.Find("input:not([type=hidden]), select, textarea, button, a, summary, legend, th[scope=row], h1, h2, h3").Each(func(_ int, e *goquery.Selection) {
			if nameOf(a, e) == "" {
				t.Errorf("%s: a %s %v has no name", name, goquery.NodeName(e), e.Nodes[0].Attr)
			}
		})
		a.Page.Find("svg").Each(func(_ int, e *goquery.Selection) {
			if _, hidden := e.Attr("aria-hidden"); !hidden && e.AttrOr("aria-label", "") == "" && webtest.Words(e.Find("#"+e.AttrOr("aria-labelledby", "nothing"))) == "" {
				t.Errorf("%s: a drawing without words", name)
			}
		})
	}
}

// nameOf returns what a screen reader calls an element.
func nameOf(a *webtest.Answer, e *goquery.Selection) string {
	if label := e.AttrOr("aria-label", ""); label != "" {
		return label
	}
	if !e.Is("input, select, textarea") {
		return webtest.Words(e)
	}
	label := e.Closest("label")
	if id := e.AttrOr("id", ""); label.Length() == 0 && id != "" {
		label = a.Page.Find(fmt.Sprintf(`label[for="%s"]`, id))
	}
	return webtest.Words(label)
}

// TestFaultsOfListsHaveAPlace holds that wherever a fault can lie there is a
// place on the page to show it and to jump to.
func TestFaultsOfListsHaveAPlace(t *testing.T) {
	t.Parallel()
	s := webtest.Open(t)
	v := s.Staff()
	address, f := v.Consultation()
	for range 8 {
		f = v.Press(f, address, "add riders").Form()
	}
	a := v.Press(f, address, "frames").Is(http.StatusOK, address+"?insist=yes")
	if got := webtest.Words(a.One(`#riders > [data-error-for="riders"]`)); got != "at most 8 riders share a bike here" {
		t.Errorf("the fault is %q", got)
	}
	links := 0
	v.Get(address + "/frames").Page.Find(".faults a").Each(func(_ int, link *goquery.Selection) {
		links++
		_, id, _ := strings.Cut(link.AttrOr("href", ""), "#")
		a.One(webtest.ByID(id))
	})
	if links == 0 {
		t.Error("the frames do not say what is wrong")
	}
}

// TestRankingIsLight holds that the ranking with its style sheet and script
// stays well under 60 kB on its way to a tablet, and under 100 kB unpacked.
func TestRankingIsLight(t *testing.T) {
	t.Parallel()
	const most, sent = 100_000, 30_000
	s := webtest.Open(t)
	v := s.Staff()
	address := v.Interview([]byte(webtest.Family))
	a := v.Get(address + "/frames")
	addresses := []string{address + "/frames"}
	a.Page.Find(`link[rel="stylesheet"], script[src]`).Each(func(_ int, e *goquery.Selection) {
		addresses = append(addresses, e.AttrOr("href", e.AttrOr("src", "")))
	})
	if len(addresses) != 3 {
		t.Fatalf("the page loads %v", addresses)
	}
	plain, packed := 0, 0
	for _, address := range addresses {
		p, z := weigh(v, address)
		plain, packed = plain+p, packed+z
	}
	t.Logf("%d bytes of page, style sheet and script, %d as transferred", plain, packed)
	if plain >= most || packed >= sent {
		t.Errorf("%d bytes, want under %d, and %d as transferred, want under %d", plain, most, packed, sent)
	}
}

// weigh returns how large an answer is, and how large with gzip.
func weigh(v *webtest.Visitor, path string) (plain, packed int) {
	v.Helper()
	r := v.Request(http.MethodGet, path, nil)
	r.Header.Set("Accept-Encoding", "gzip")
	a := v.Send(r)
	if a.Status != http.StatusOK || a.Header.Get("Content-Encoding") != "gzip" {
		v.Fatalf("%s: %d, packed as %q", path, a.Status, a.Header.Get("Content-Encoding"))
	}
	reader, err := gzip.NewReader(strings.NewReader(string(a.Body)))
	if err != nil {
		v.Fatal(err)
	}
	all, err := io.ReadAll(reader)
	if err != nil {
		v.Fatal(err)
	}
	return len(all), len(a.Body)
}

func TestFilesMayBeKeptForGood(t *testing.T) {
	t.Parallel()
	s := webtest.Open(t)
	v := s.Stranger()
	a := v.Get("/sign-in")
	a.Page.Find(`link[href], script[src]`).Each(func(_ int, e *goquery.Selection) {
		address := e.AttrOr("href", e.AttrOr("src", ""))
		file := v.Get(address)
		if got := file.Header.Get("Cache-Control"); file.Status != http.StatusOK || got != "public, max-age=31536000, immutable" || !strings.Contains(address, "?v=") {
			t.Errorf("%s: %d, kept %q", address, file.Status, got)
		}
	})
	a.Count(`link[href], script[src]`, 5)
}
