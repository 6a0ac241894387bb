package web_test

import (
	"compress/gzip"
	"fmt"
	"io"
	"net/http"
	"net/url"
	"slices"
	"strings"
	"testing"

	"github.com/PuerkitoBio/goquery"
)

// family is a customer who meets every verdict of the demo shop, with an open
// question and lists of everything.
const family = `{"profile": 1, "as_of": "2026-11-25",
 "riders": [{"label": "A", "height_cm": 178, "weight_kg": 82, "weighed": "dressed"}, {"label": "B", "height_cm": 168, "weight_kg": 64}],
 "passengers": [{"label": "first child", "born": "2023-05", "sits_unaided": true}, {"label": "second child", "born": "2025-09", "sits_unaided": null}],
 "cargo_kg": 12, "cargo_litres": 40,
 "home": {"length_cm": 260, "width_cm": 90, "doorways": [{"width_cm": 85, "height_cm": 210}], "corners": [{"in_cm": 130, "out_cm": null}]},
 "budget_cents": 550000, "years": 4}`

// everyPage returns every kind of page, by name, in every state that is drawn
// differently.
func everyPage(s *shop) map[string]*answer {
	s.Helper()
	v := s.staff()
	pages := map[string]*answer{
		"start, nothing to resume": v.get("/").is(http.StatusOK, "/"),
		"not signed in":            s.stranger().get("/").is(http.StatusForbidden, "/"),
		"a link that is too old":   s.stranger().get("/sign-in/x").is(http.StatusNotFound, "/sign-in/x"),
		"nothing here":             v.get("/nowhere").is(http.StatusNotFound, "/nowhere"),
		"not that way":             v.post("/", nil).is(http.StatusMethodNotAllowed, "/"),
	}
	address, f := v.consultation()
	pages["a new profile"] = v.get(address).is(http.StatusOK, address)
	pages["frames before any answer"] = v.get(address+"/frames").is(http.StatusOK, address+"/frames")
	f.set("riders[0].height_cm", "tall")
	f.set("riders[0].weight_kg", "900")
	pages["a profile with faults"] = v.press(f, address, "frames").is(http.StatusUnprocessableEntity, address)
	pages["frames of a profile with faults"] = v.get(address+"/frames").is(http.StatusOK, address+"/frames")
	address = v.interview([]byte(family))
	pages["a full profile"] = v.get(address).is(http.StatusOK, address)
	pages["frames"] = v.get(address+"/frames").is(http.StatusOK, address+"/frames")
	pages["start"] = v.get("/").is(http.StatusOK, "/")
	verdicts := map[string]string{}
	for _, one := range toldByRanking(pages["frames"]) {
		verdicts[one.Verdict] = one.Frame
	}
	for verdict, code := range verdicts {
		path := address + "/frames/" + code
		pages["a frame that "+verdict] = v.get(path).is(http.StatusOK, path)
		pages["by hand, a frame that "+verdict] = v.get(path+"/by-hand").is(http.StatusOK, path+"/by-hand")
		pages["to take home, a frame that "+verdict] = v.get(path+"/send").is(http.StatusOK, path+"/send")
		pages["by hand, nothing on a frame that "+verdict] = v.get(path+"/by-hand?chosen=yes").is(http.StatusOK, path+"/by-hand?chosen=yes")
		pages["a quote for a frame that "+verdict] = v.quoted(path)
	}
	importPages(v, pages)
	managerPages(v, pages)
	path := address + "/frames/osier-m"
	pages["a quote to be made, after others"] = v.get(path+"/quote").is(http.StatusOK, path+"/quote")
	pages["a quote that holds a bike"] = v.holds(v.quoted(path), "S-105", "2026-12-01")
	pages["a quote with a fault"] = v.post(v.quoted(path).path+"/hold", url.Values{"hold": {"D-014"}, "until": {"soon"}})
	pages["a test ride to be booked"] = v.get(path+"/ride").is(http.StatusOK, path+"/ride")
	pages["a test ride with faults"] = v.post(path+"/ride", url.Values{"date": {"soon"}}).is(http.StatusUnprocessableEntity, path+"/ride")
	pages["a test ride"] = v.booked(path, "D-014", "2026-11-26", "10:00")
	pages["start, with a ride to come"] = v.get("/").is(http.StatusOK, "/")
	for name, path := range map[string]string{"side by side": "/compare?frame=teasel&frame=osier-m&frame=knapweed-s&frame=yarrow-assist", "two side by side": "/compare?frame=osier-m&frame=osier-l"} {
		pages[name] = v.get(address+path).is(http.StatusOK, address+path)
	}
	pages["nothing to compare"] = v.get(address+"/compare").is(http.StatusUnprocessableEntity, address+"/compare")
	if len(verdicts) < 2 {
		s.Fatalf("only these verdicts came up: %v", verdicts)
	}
	return pages
}

func TestSecurityHeadersOnEveryPage(t *testing.T) {
	s := open(t)
	pages := everyPage(s)
	pages["style sheet"] = s.stranger().get("/static/app.css")
	for name, a := range pages {
		for header, want := range map[string]string{
			"Content-Security-Policy": "default-src 'none'; style-src 'self'; script-src 'self'; img-src 'self'; connect-src 'self'; " +
				"form-action 'self'; base-uri 'none'; frame-ancestors 'none'",
			"X-Content-Type-Options": "nosniff", "Referrer-Policy": "same-origin", "Cross-Origin-Opener-Policy": "same-origin",
			"Permissions-Policy": "camera=(), geolocation=(), microphone=()", "Cache-Control": "no-store",
		} {
			if got := a.header.Get(header); got != want {
				t.Errorf("%s: %s is %q", name, header, got)
			}
		}
		if got := a.header.Get("Content-Type"); a.page.Find("html[lang]").Length() > 0 && got != "text/html; charset=utf-8" {
			t.Errorf("%s: the type is %q", name, got)
		}
		if server := a.header.Get("Server") + a.header.Get("X-Powered-By"); server != "" {
			t.Errorf("%s: tells of %q", name, server)
		}
	}
}

// TestNothingInline walks every page for what the content policy forbids: a
// browser would leave it out, and nobody would see why.
func TestNothingInline(t *testing.T) {
	for name, a := range everyPage(open(t)) {
		a.page.Find("*").Each(func(_ int, e *goquery.Selection) {
			element := goquery.NodeName(e)
			if element == "style" || element == "script" && (words(e) != "" || e.AttrOr("src", "") == "") || slices.Contains([]string{"iframe", "object", "embed", "base"}, element) {
				t.Errorf("%s: a %s element", name, element)
			}
			for _, attribute := range e.Nodes[0].Attr {
				key, value := attribute.Key, strings.TrimSpace(attribute.Val)
				switch {
				case key == "style" || strings.HasPrefix(key, "on"):
					t.Errorf("%s: %s has the attribute %s", name, element, key)
				case slices.Contains([]string{"href", "src", "action", "formaction", "data-live"}, key) && !strings.HasPrefix(value, "/") && !strings.HasPrefix(value, "#"):
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
	for name, a := range everyPage(open(t)) {
		a.one("html[lang=en]")
		a.one("head title")
		a.one("main h1")
		a.one(`meta[name="viewport"]`)
		ids := map[string]int{}
		a.page.Find("[id]").Each(func(_ int, e *goquery.Selection) { ids[e.AttrOr("id", "")]++ })
		for id, n := range ids {
			if id == "" || n > 1 || strings.ContainsAny(id, " \t\n") {
				t.Errorf("%s: id %q stands %d times", name, id, n)
			}
		}
		a.page.Find("[for], [aria-labelledby], [aria-describedby], a[href^='#']").Each(func(_ int, e *goquery.Selection) {
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
		a.page.Find("input:not([type=hidden]), select, textarea, button, a, summary, legend, th[scope=row], h1, h2, h3").Each(func(_ int, e *goquery.Selection) {
			if nameOf(a, e) == "" {
				t.Errorf("%s: a %s %v has no name", name, goquery.NodeName(e), e.Nodes[0].Attr)
			}
		})
		a.page.Find("svg").Each(func(_ int, e *goquery.Selection) {
			if _, hidden := e.Attr("aria-hidden"); !hidden && e.AttrOr("aria-label", "") == "" {
				t.Errorf("%s: a drawing without words", name)
			}
		})
	}
}

// nameOf returns what a screen reader calls an element.
func nameOf(a *answer, e *goquery.Selection) string {
	if label := e.AttrOr("aria-label", ""); label != "" {
		return label
	}
	if !e.Is("input, select, textarea") {
		return words(e)
	}
	label := e.Closest("label")
	if id := e.AttrOr("id", ""); label.Length() == 0 && id != "" {
		label = a.page.Find(fmt.Sprintf(`label[for="%s"]`, id))
	}
	return words(label)
}

// TestFaultsOfListsHaveAPlace holds that wherever a fault can lie there is a
// place on the page to show it and to jump to.
func TestFaultsOfListsHaveAPlace(t *testing.T) {
	s := open(t)
	v := s.staff()
	address, f := v.consultation()
	for range 8 {
		f = v.press(f, address, "add riders").form()
	}
	a := v.press(f, address, "frames").is(http.StatusUnprocessableEntity, address)
	if got := words(a.one(`#riders > [data-error-for="riders"]`)); got != "at most 8 riders share a bike here" {
		t.Errorf("the fault is %q", got)
	}
	links := 0
	v.get(address + "/frames").page.Find(".faults a").Each(func(_ int, link *goquery.Selection) {
		links++
		_, id, _ := strings.Cut(link.AttrOr("href", ""), "#")
		a.one(byID(id))
	})
	if links == 0 {
		t.Error("the frames do not say what is wrong")
	}
}

// TestRankingIsLight holds that the ranking with its style sheet and script
// stays under 60 kB, and that before it is packed.
func TestRankingIsLight(t *testing.T) {
	const most = 60_000
	s := open(t)
	v := s.staff()
	address := v.interview([]byte(family))
	a := v.get(address + "/frames")
	addresses := []string{address + "/frames"}
	a.page.Find(`link[rel="stylesheet"], script[src]`).Each(func(_ int, e *goquery.Selection) {
		addresses = append(addresses, e.AttrOr("href", e.AttrOr("src", "")))
	})
	if len(addresses) != 3 {
		t.Fatalf("the page loads %v", addresses)
	}
	plain, packed := 0, 0
	for _, address := range addresses {
		p, z := v.weigh(address)
		plain, packed = plain+p, packed+z
	}
	t.Logf("%d bytes of page, style sheet and script, %d as transferred", plain, packed)
	if plain >= most || packed >= plain {
		t.Errorf("%d bytes, want under %d, and under as transferred, which is %d", plain, most, packed)
	}
}

// weigh returns how large an answer is, and how large with gzip.
func (v *visitor) weigh(path string) (plain, packed int) {
	v.Helper()
	r := v.request(http.MethodGet, path, nil)
	r.Header.Set("Accept-Encoding", "gzip")
	a := v.send(r)
	if a.status != http.StatusOK || a.header.Get("Content-Encoding") != "gzip" {
		v.Fatalf("%s: %d, packed as %q", path, a.status, a.header.Get("Content-Encoding"))
	}
	reader, err := gzip.NewReader(strings.NewReader(string(a.body)))
	if err != nil {
		v.Fatal(err)
	}
	all, err := io.ReadAll(reader)
	if err != nil {
		v.Fatal(err)
	}
	return len(all), len(a.body)
}

func TestFilesMayBeKeptForGood(t *testing.T) {
	s := open(t)
	v := s.stranger()
	a := v.get("/")
	a.page.Find(`link[href], script[src]`).Each(func(_ int, e *goquery.Selection) {
		address := e.AttrOr("href", e.AttrOr("src", ""))
		file := v.get(address)
		if got := file.header.Get("Cache-Control"); file.status != http.StatusOK || got != "public, max-age=31536000, immutable" || !strings.Contains(address, "?v=") {
			t.Errorf("%s: %d, kept %q", address, file.status, got)
		}
	})
	a.count(`link[href], script[src]`, 3)
}
