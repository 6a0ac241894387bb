package web_test

import (
	"bytes"
	"fmt"
	"net/http"
	"net/url"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"
	"time"

	"github.com/PuerkitoBio/goquery"
	"github.com/google/go-cmp/cmp"

	"kinhaul/internal/catalog"
	"kinhaul/web/say"
)

// sendHome makes a fit summary of a frame and returns the path of its link.
func (v *visitor) sendHome(address, frame string, values url.Values) string {
	v.Helper()
	path := address + "/frames/" + frame + "/send"
	a := v.post(path, values).is(http.StatusOK, path)
	link, found := strings.CutPrefix(a.one(".handover .address a").AttrOr("href", ""), public)
	if !found || a.text(".handover .address") != public+link {
		v.Fatalf("the link is %q", a.text(".handover .address"))
	}
	return link
}

// asked asks for a page in a language, as a browser does.
func (v *visitor) asked(path, language string) *answer {
	r := v.request(http.MethodGet, path, nil)
	r.Header.Set("Accept-Language", language)
	return v.send(r)
}

// TestFitShowsWhatStaffSaw compares the summary with the page of the frame.
func TestFitShowsWhatStaffSaw(t *testing.T) {
	s := open(t)
	v := s.staff()
	address := v.interview([]byte(family))
	for _, one := range toldByRanking(v.get(address + "/frames")) {
		link := v.sendHome(address, one.Frame, nil)
		frame, fit := v.get(address+"/frames/"+one.Frame), s.stranger().get(link).is(http.StatusOK, link)
		fit.count(".since", 0)
		if got := verdictOf(fit.one(".fit > header .verdict")); got != one.Verdict {
			t.Errorf("%s: %s, staff saw %s", one.Frame, got, one.Verdict)
		}
		for _, part := range []string{".sheet", ".seats", `[aria-labelledby="time"]`, `[aria-labelledby="home"]`, `[aria-labelledby="price"]`, ".stack tbody"} {
			if diff := cmp.Diff(frame.text(part), fit.text(part)); diff != "" {
				t.Errorf("%s, %s: %s", one.Frame, part, diff)
			}
		}
		if fit.text(".sheet") == "" || fit.text(".cautions") != frame.text(".cautions") {
			t.Errorf("%s: %s", one.Frame, fit.text("main"))
		}
		for _, r := range frame.page.Find(".reasons li").EachIter() {
			text := strings.TrimSpace(strings.TrimPrefix(words(r), words(r.Find(".tag"))))
			if !strings.Contains(fit.text(".reasons, [aria-labelledby=again]"), text) {
				t.Errorf("%s: nothing is said of: %s", one.Frame, text)
			}
		}
	}
}

// TestFitOfAChoiceByHand keeps the add-ons that were ticked.
func TestFitOfAChoiceByHand(t *testing.T) {
	s := open(t)
	v := s.staff()
	address := v.interview([]byte(family))
	query := url.Values{"chosen": {"yes"}, "on": {"stand-one-leg"}}
	next := v.get(address + "/frames/osier-m/by-hand?" + query.Encode())
	send := v.get(address+"/frames/osier-m/send?"+query.Encode()).is(http.StatusOK, address+"/frames/osier-m/send?"+query.Encode())
	if got := send.one(`.sending input[name="on"]`).AttrOr("value", ""); got != "stand-one-leg" {
		t.Errorf("kept is %q", got)
	}
	fit := s.stranger().get(v.sendHome(address, "osier-m", query))
	if got, want := fit.text(`[aria-labelledby="price"] tfoot td`), next.text("#result > .figures tfoot td"); got != want {
		t.Errorf("%s, by hand it was %s", got, want)
	}
	if verdictOf(fit.one(".fit > header .verdict")) != "does_not_fit" || fit.page.Find(".reasons .stop").Length() == 0 {
		t.Errorf("no seat fits: %s", fit.text("header"))
	}
}

// unlike drops what differs between two answers of the same kind.
func unlike(h http.Header) http.Header {
	h = h.Clone()
	h.Del("Date")
	return h
}

// TestLinksThatOpenNothing holds that nobody can tell a link that was never
// there from one that has ended.
func TestLinksThatOpenNothing(t *testing.T) {
	s := open(t)
	v := s.staff()
	address := v.interview([]byte(family))
	replaced := v.sendHome(address, "teasel", nil)
	revoked := v.sendHome(address, "teasel", nil)
	list := address + "/frames/teasel/send"
	v.post(list, url.Values{"revoke": {v.get(list).one(`button[name="revoke"]`).AttrOr("value", "")}}).is(http.StatusOK, list)
	expired := v.sendHome(address, "osier-m", nil)
	s.passes(60 * 24 * time.Hour)
	live := v.sendHome(address, "yarrow", nil)
	v.get(live).is(http.StatusOK, live)
	paths := []string{"/fit/" + strings.Repeat("a", 32), live[:len(live)-1], live + "a", "/fit/" + strings.ToUpper(live[len("/fit/"):]), "/fit/%00", "/fit/" + strings.Repeat("z", 3000), "/fit", "/fit/", live + "/", live + "/qr", live + "/qr.svg/x",
		replaced, revoked, expired, replaced + "/qr.svg", revoked + "/qr.svg", expired + "/qr.svg", "/fit/x/qr.svg"}
	for _, language := range []string{"", "fr"} {
		want := s.stranger().asked("/fit/never", language)
		if want.status != http.StatusNotFound || want.page.Find("a, form, nav").Length() > 0 || want.text("h1") == "" {
			t.Fatalf("%d: %s", want.status, want.text("body"))
		}
		for _, path := range paths {
			got := s.stranger().asked(path, language)
			if got.status != want.status || !bytes.Equal(got.body, want.body) {
				t.Errorf("%.80s: %d %s", path, got.status, got.text("body"))
			}
			if diff := cmp.Diff(unlike(want.header), unlike(got.header)); diff != "" {
				t.Errorf("%.80s: %s", path, diff)
			}
		}
	}
}

// TestFitHeaders holds that nobody is told of the page: no search engine, no
// other site, no shared computer; and that it knows no session.
func TestFitHeaders(t *testing.T) {
	s := open(t)
	v := s.staff()
	address := v.interview([]byte(family))
	link := v.sendHome(address, "teasel", nil)
	for path, status := range map[string]int{link: 200, link + "/qr.svg": 200, "/fit/x": 404, link + "?lang=nl": 200} {
		for _, who := range []*visitor{s.stranger(), v} {
			a := who.get(path).is(status, path)
			for header, want := range map[string]string{"X-Robots-Tag": "noindex, nofollow", "Referrer-Policy": "no-referrer", "Cache-Control": "no-store", "Set-Cookie": "", "X-Content-Type-Options": "nosniff"} {
				if got := strings.Join(a.header.Values(header), "|"); got != want {
					t.Errorf("%s: %s is %q", path, header, got)
				}
			}
			if strings.HasSuffix(path, ".svg") {
				continue
			}
			if a.one(`meta[name="robots"]`).AttrOr("content", "") != "noindex, nofollow" || a.one(`meta[name="referrer"]`).AttrOr("content", "") != "no-referrer" {
				t.Errorf("%s: the page itself does not say so", path)
			}
			a.page.Find("[href]").Each(func(_ int, e *goquery.Selection) {
				if href := e.AttrOr("href", ""); !strings.HasPrefix(href, "/static/") && !strings.HasPrefix(href, "?lang=") && !strings.HasPrefix(href, "tel:") && !strings.HasPrefix(href, "mailto:") {
					t.Errorf("%s leads to %s", path, href)
				}
			})
			a.count("form, [style], script:not([src])", 0)
		}
	}
	if a := v.send(v.request(http.MethodPost, link, nil)); a.status != http.StatusMethodNotAllowed {
		t.Errorf("posting to it: %d", a.status)
	}
}

// bare returns what stands on a summary besides what has changed since.
func bare(a *answer) string {
	a.Helper()
	a.page.Find(".since").Remove()
	html, err := a.one("main").Html()
	if err != nil {
		a.Fatal(err)
	}
	return html
}

// TestSnapshotDoesNotChange changes the shop under a summary: its figures stay
// and it says in plain words what is different.
func TestSnapshotDoesNotChange(t *testing.T) {
	s := open(t)
	v := s.staff()
	address := v.interview([]byte(family))
	link := v.sendHome(address, "osier-m", nil)
	before := s.stranger().get(link)
	want := bare(before)
	demo, err := s.store.Catalogue(t.Context())
	if err != nil {
		t.Fatal(err)
	}
	fitted := before.text(".stack tbody")
	for name, c := range map[string]struct {
		change func(c *catalog.Catalogue)
		says   []string
	}{
		"nothing":              {func(*catalog.Catalogue) {}, nil},
		"another frame":        {func(c *catalog.Catalogue) { c.Frame("sedge").Price += 10000 }, nil},
		"a name":               {func(c *catalog.Catalogue) { c.Frame("osier-m").Notes = "new" }, nil},
		"its price":            {func(c *catalog.Catalogue) { c.Frame("osier-m").Price += 10000 }, []string{"changed the price: now EUR 3,028.00."}},
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
		"labour":  {func(c *catalog.Catalogue) { c.Shop.LabourPerHour += 600 }, []string{"changed the price: now EUR"}},
		"no such frame": {func(c *catalog.Catalogue) {
			*c = *without(c, func(f catalog.Frame) bool { return f.Code == "osier-m" }, nil)
		}, []string{"no longer offers this bike"}},
		"no such seat": {func(c *catalog.Catalogue) {
			*c = *without(c, nil, func(a catalog.AddOn) bool { return a.Code == "seat-front" })
		}, []string{"no longer fits to this bike: Harnessed child seat ahead of the rider."}},
	} {
		if !strings.Contains(fitted, "Harnessed child seat ahead of the rider") {
			t.Fatalf("the test is of another build: %s", fitted)
		}
		s.sells(demo, c.change)
		a := s.stranger().get(link).is(http.StatusOK, link)
		said := words(a.page.Find(".since li"))
		if len(c.says) == 0 && said != "" {
			t.Errorf("%s: says %q", name, said)
		}
		if n := a.page.Find(".since li").Length(); n != len(c.says) {
			t.Errorf("%s: says %d things: %q", name, n, said)
		}
		for _, text := range c.says {
			if !strings.Contains(said, text) {
				t.Errorf("%s: says %q, not %q", name, said, text)
			}
		}
		if got := bare(a); got != want {
			t.Errorf("%s: %s", name, cmp.Diff(want, got))
		}
	}
	s.sells(demo, func(*catalog.Catalogue) {})
	if err := s.store.SetSettings(t.Context(), map[string]int64{"clothing_g": 2000}); err != nil {
		t.Fatal(err)
	}
	a := s.stranger().get(link)
	if said := a.text(".since"); !strings.Contains(said, "under rider A: 33.5 kg to spare.") {
		t.Errorf("says %q of other settings", said)
	}
	if got := bare(a); got != want {
		t.Error(cmp.Diff(want, got))
	}
}

// sells replaces the catalogue by a changed copy.
func (s *shop) sells(c *catalog.Catalogue, change func(*catalog.Catalogue)) {
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
	if err := s.store.ReplaceCatalogue(s.Context(), changed); err != nil {
		s.Fatal(err)
	}
}

// without returns a catalogue without some frames or add-ons, and without all
// that speaks of them.
func without(c *catalog.Catalogue, frame func(catalog.Frame) bool, addOn func(catalog.AddOn) bool) *catalog.Catalogue {
	left := *c
	if frame != nil {
		left.Frames = slices.DeleteFunc(slices.Clone(c.Frames), frame)
	}
	if addOn != nil {
		left.AddOns = slices.DeleteFunc(slices.Clone(c.AddOns), addOn)
	}
	gone := func(code string) bool {
		return c.Frame(code) != nil && left.Frame(code) == nil || c.AddOn(code) != nil && left.AddOn(code) == nil
	}
	for i := range left.AddOns {
		a := &left.AddOns[i]
		a.Fits, a.Excludes = slices.DeleteFunc(slices.Clone(a.Fits), gone), slices.DeleteFunc(slices.Clone(a.Excludes), gone)
		for code := range a.OnFrame {
			if gone(code) {
				delete(a.OnFrame, code)
			}
		}
	}
	left.Units = slices.DeleteFunc(slices.Clone(c.Units), func(u catalog.Unit) bool { return gone(u.Frame) || slices.ContainsFunc(u.Fitted, gone) })
	return &left
}

// TestRevokeAndIssueAnew goes through the life of a link at the counter.
func TestRevokeAndIssueAnew(t *testing.T) {
	s := open(t)
	v := s.staff()
	address := v.interview([]byte(family))
	send := address + "/frames/teasel/send"
	a := v.get(address + "/frames/teasel")
	if got := a.page.Find(".next a").FilterFunction(func(_ int, e *goquery.Selection) bool { return words(e) == "Send home" }).AttrOr("href", ""); got != send {
		t.Errorf("send home leads to %q", got)
	}
	a = v.get(send).is(http.StatusOK, send)
	a.count(".handover", 0)
	a.count("table", 0)
	first := v.sendHome(address, "teasel", nil)
	again := v.get(send)
	if strings.Contains(string(again.body), strings.TrimPrefix(first, "/fit/")) {
		t.Error("the link is shown again")
	}
	s.passes(time.Hour)
	second := v.sendHome(address, "teasel", nil)
	s.stranger().get(first).is(http.StatusNotFound, first)
	s.stranger().get(second).is(http.StatusOK, second)
	v.sendHome(address, "osier-m", nil)
	list := v.get(send)
	if got := list.text(".revoking tbody tr:last-child"); got != "Teasel25 November 2026, 10:3024 January 2027, 10:30Revoke" {
		t.Errorf("the list says %q", got)
	}
	list.count(".revoking tbody tr", 2)
	other := v.interview([]byte(family))
	id := list.page.Find(`.revoking tbody tr:last-child button`).AttrOr("value", "")
	v.post(other+"/frames/teasel/send", url.Values{"revoke": {id}})
	s.stranger().get(second).is(http.StatusOK, second) // not theirs to revoke
	for range 2 {
		v.post(send, url.Values{"revoke": {id}}).is(http.StatusOK, send).count(".revoking tbody tr", 1)
		s.stranger().get(second).is(http.StatusNotFound, second)
	}
	if a := v.post(send, url.Values{"revoke": {"all"}}); a.status != http.StatusBadRequest {
		t.Errorf("%d", a.status)
	}
}

// TestFitDays holds that the shop says how long a link opens.
func TestFitDays(t *testing.T) {
	s := open(t)
	v := s.staff()
	if err := s.store.SetSettings(t.Context(), map[string]int64{"fit_summary_days": 3}); err != nil {
		t.Fatal(err)
	}
	link := v.sendHome(v.interview([]byte(family)), "teasel", nil)
	if got := s.stranger().get(link).text(".foot p:first-child"); got != "Made on 25 November 2026. This link opens until 28 November 2026." {
		t.Error(got)
	}
	s.passes(3*24*time.Hour - time.Millisecond)
	s.stranger().get(link).is(http.StatusOK, link)
	s.passes(time.Millisecond)
	s.stranger().get(link).is(http.StatusNotFound, link)
}

// TestLinkIsKeptNowhere looks for the secret in a copy of the store, after the
// link was made and opened.
func TestLinkIsKeptNowhere(t *testing.T) {
	s := open(t)
	v := s.staff()
	link := v.sendHome(v.interview([]byte(family)), "teasel", nil)
	v.get(link).is(http.StatusOK, link)
	file := filepath.Join(t.TempDir(), "copy.db")
	if err := s.store.Backup(t.Context(), file); err != nil {
		t.Fatal(err)
	}
	copied, err := os.ReadFile(file)
	if err != nil {
		t.Fatal(err)
	}
	if !bytes.Contains(copied, []byte(`"fit_summary":1`)) {
		t.Error("the summary is not in the copy")
	}
	if secret := strings.TrimPrefix(link, "/fit/"); len(secret) != 32 || bytes.Contains(bytes.ToLower(copied), []byte(secret)) {
		t.Errorf("the copy holds the secret %q", secret)
	}
}

// TestHiddenWeights looks for every figure that a rider's weight could be
// worked out from.
func TestHiddenWeights(t *testing.T) {
	s := open(t)
	v := s.staff()
	heavy := strings.Replace(family, `"weight_kg": 64`, `"weight_kg": 41`, 1) // over the carry guideline
	address := v.interview([]byte(heavy))
	const code = "teasel"
	shown := s.stranger().get(v.sendHome(address, code, nil))
	hidden := v.sendHome(address, code, url.Values{"hide": {"yes"}})
	if text := shown.text("main"); !strings.Contains(text, "82.0") || !strings.Contains(text, "of their own weight") {
		t.Fatalf("the test looks for nothing: %s", text)
	}
	frame := v.get(address + "/frames/" + code)
	var telling []string
	frame.page.Find(".sheet .sum td").Each(func(i int, cell *goquery.Selection) {
		if cell.Closest(".spare").Length() == 0 {
			telling = append(telling, strings.TrimSuffix(strings.TrimPrefix(words(cell), "-"), ".0"))
		}
	})
	if len(telling) < 16 || !slices.Contains(telling, "82") || !slices.Contains(telling, "47") {
		t.Fatalf("the sums are %v", telling)
	}
	for _, l := range say.Languages {
		a := s.stranger().get(hidden + "?lang=" + string(l))
		a.count(".sheet table, .zones, .sum", 0)
		a.count(".sheet .bar rect", 2) // one for each rider
		html, err := a.one("main").Html()
		if err != nil {
			t.Fatal(err)
		}
		for _, figure := range telling {
			for _, shown := range []string{figure + "\u00a0kg", strings.ReplaceAll(figure, ".", ",") + "\u00a0kg", figure + " kg"} {
				if strings.Contains(strings.ReplaceAll(html, "&nbsp;", "\u00a0"), ">"+shown) || strings.Contains(html, " "+shown) {
					t.Errorf("%s: tells %s", l, shown)
				}
			}
		}
		for _, card := range a.page.Find(".sheet figcaption strong").EachIter() {
			if !strings.Contains(words(card), "kg") {
				t.Errorf("%s: nothing is said to be spare: %s", l, words(card))
			}
		}
	}
	if a := s.stranger().get(hidden); !strings.Contains(a.text(".reasons"), "Rider B would carry more than the usual guideline for their own weight.") || !strings.Contains(a.text("[aria-labelledby=again]"), "First child is not weighed and counts with an estimate.") {
		t.Errorf("%s", a.text("main"))
	}
}

// TestFitSpeaks asks for a summary in every way there is to ask.
func TestFitSpeaks(t *testing.T) {
	s := open(t)
	v := s.staff()
	address := v.interview([]byte(family))
	anyhow, german := v.sendHome(address, "teasel", nil), v.sendHome(address, "osier-m", url.Values{"language": {"de"}, "units": {"imperial"}})
	for _, c := range []struct{ path, accept, lang, unit string }{
		{anyhow, "", "en", "kg"}, {anyhow, "nl-BE, en;q=0.4", "nl", "kg"}, {anyhow, "ja", "en", "kg"}, {anyhow + "?lang=fr", "nl", "fr", "kg"}, {anyhow + "?lang=xx&units=stone", "nl", "nl", "kg"},
		{anyhow + "?units=imperial", "fr", "fr", "lb"}, {german, "fr", "de", "lb"}, {german + "?lang=fr", "", "fr", "lb"}, {german + "?units=metric", "", "de", "kg"}, {german + "?lang=nl&units=metric", "", "nl", "kg"},
	} {
		a := s.stranger().asked(c.path, c.accept)
		if got := a.one("html").AttrOr("lang", ""); got != c.lang {
			t.Errorf("%s for %q is in %s, want %s", c.path, c.accept, got, c.lang)
		}
		if got := words(a.page.Find(".sum thead th:last-child").First()); got != c.unit {
			t.Errorf("%s for %q is in %s, want %s", c.path, c.accept, got, c.unit)
		}
		current := map[string]bool{}
		a.page.Find(".switches a").Each(func(_ int, link *goquery.Selection) {
			query, err := url.ParseQuery(strings.TrimPrefix(link.AttrOr("href", ""), "?"))
			if err != nil || len(query) != 2 {
				t.Errorf("%s leads to %s", words(link), link.AttrOr("href", ""))
			}
			if _, is := link.Attr("aria-current"); is {
				current[query.Encode()] = true
			}
		})
		if want := (url.Values{"lang": {c.lang}, "units": {map[string]string{"kg": "metric", "lb": "imperial"}[c.unit]}}).Encode(); len(current) != 1 || !current[want] {
			t.Errorf("%s: current is %v, want %s", c.path, current, want)
		}
		a.count(".switches a", len(say.Languages)+2)
	}
}

// TestNoEnglishLeft draws the summary of every sample customer, for the frame
// that suits best and the one that suits least, and looks for English.
func TestNoEnglishLeft(t *testing.T) {
	s := open(t)
	v := s.staff()
	for name, document := range customers(t) {
		address := v.interview(document)
		ranked := toldByRanking(v.get(address + "/frames"))
		for _, one := range []told{ranked[0], ranked[len(ranked)-1]} {
			link := v.sendHome(address, one.Frame, nil)
			english := texts(s.stranger().get(link + "?lang=en"))
			for _, l := range say.Languages[1:] {
				for text := range texts(s.stranger().get(link + "?lang=" + string(l))) {
					if english[text] && strings.Contains(text, " ") && !ofTheShop(s, text) {
						t.Errorf("%s, %s, %s: %q", name, one.Frame, l, text)
					}
				}
			}
		}
	}
}

// texts returns every text of a page, and what is said to a screen reader.
func texts(a *answer) map[string]bool {
	all := map[string]bool{}
	a.page.Find("main *, title").Each(func(_ int, e *goquery.Selection) {
		for _, attribute := range []string{"alt", "aria-label", "data-share"} {
			all[e.AttrOr(attribute, "")] = true
		}
		e.Contents().Each(func(_ int, n *goquery.Selection) {
			if goquery.NodeName(n) == "#text" {
				all[words(n)] = true
			}
		})
	})
	delete(all, "")
	return all
}

// ofTheShop reports whether a text is in the shop's own words, or in none.
func ofTheShop(s *shop, text string) bool {
	if !strings.ContainsFunc(text, func(r rune) bool { return r >= 'a' && r <= 'z' }) {
		return true
	}
	c, err := s.store.Catalogue(s.Context())
	if err != nil {
		s.Fatal(err)
	}
	own := []string{c.Shop.Name}
	for i := range c.Frames {
		own = append(own, c.Frames[i].Name)
	}
	for i := range c.AddOns {
		own = append(own, c.AddOns[i].Name, fmt.Sprint("2 × ", c.AddOns[i].Name))
		for _, pair := range c.AddOns[i].OnFrame {
			own = append(own, pair.Note)
		}
	}
	return slices.ContainsFunc(own, func(name string) bool { return strings.EqualFold(name, text) }) ||
		strings.HasSuffix(text, "kg") || strings.HasSuffix(text, "cm") || strings.HasSuffix(text, "EUR") || text == "kg, cm" || text == "lb, in"
}

// TestContact shows how the shop is reached, and its name where it has not
// said.
func TestContact(t *testing.T) {
	s := open(t)
	v := s.staff()
	address := v.interview([]byte(family))
	none := v.sendHome(address, "teasel", nil)
	if got := s.stranger().get(none).text(`[aria-labelledby="shop"] p`); got != "Low Quay Load Works, Marrowhithe" {
		t.Error(got)
	}
	texts := map[string]string{"contact_name": "<b>Quay</b>", "contact_phone": "000 555 0142", "contact_email": "hello@lowquay.example", "contact_hours": " ", "other": "not shown"}
	if err := s.store.SetTexts(t.Context(), texts); err != nil {
		t.Fatal(err)
	}
	a := s.stranger().get(v.sendHome(address, "osier-m", nil) + "?lang=fr")
	if got := a.text(`[aria-labelledby="shop"] p`); got != "<b>Quay</b>Téléphone : 000 555 0142E-mail : hello@lowquay.example" {
		t.Error(got)
	}
	if a.one(`a[href="tel:0005550142"]`).Length()+a.one(`a[href="mailto:hello@lowquay.example"]`).Length() != 2 {
		t.Error("it cannot be called")
	}
}

// TestSevenCautions holds that all of them are said, in every language.
func TestSevenCautions(t *testing.T) {
	s := open(t)
	v := s.staff()
	link := v.sendHome(v.interview([]byte(`{"profile": 1, "as_of": "2026-11-25", "riders": [{"label": "A", "height_cm": 178, "weight_kg": 82}]}`)), "teasel", nil)
	for l, parts := range map[say.Language][]string{
		say.English: {"manual and the rating plates", "Local law", "helmet on every head", "under 12 months", "Weigh again", "Practise without a load", "qualified mechanic"},
		say.French:  {"notice du fabricant et les plaques", "loi locale", "casque sur chaque tête", "moins de 12 mois", "Pesez à nouveau", "sans charge", "mécanicien qualifié"},
		say.German:  {"Anleitung des Herstellers und die Lastangaben", "örtliche Recht", "Helm auf jeden Kopf", "unter 12 Monaten", "Wiegen Sie noch einmal", "ohne Last", "Fachwerkstatt"},
		say.Dutch:   {"handleiding van de fabrikant en de lastplaatjes", "plaatselijke wet", "helm op elk hoofd", "jonger dan 12 maanden", "Weeg nog eens", "zonder lading", "vakbekwame monteur"},
	} {
		text := s.stranger().get(link + "?lang=" + string(l)).text(".cautions")
		for _, part := range parts {
			if !strings.Contains(text, part) {
				t.Errorf("%s: %q is not in %q", l, part, text)
			}
		}
	}
}
