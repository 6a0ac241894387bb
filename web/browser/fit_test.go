package browser_test

import (
	"fmt"
	"strings"
	"testing"
	"time"

	"github.com/chromedp/cdproto/page"
	"github.com/chromedp/chromedp"

	"kinwain/internal/measure"
	"kinwain/web/say"
	"kinwain/web/webtest"
)

// TestFitInABrowser opens the summary in every language on a phone, a tablet
// and a desk, and prints it: two riders, two children, cargo and a way home.
func TestFitInABrowser(t *testing.T) {
	c := browser(t)
	s := webtest.Open(t)
	if err := s.Store.SetTexts(t.Context(), map[string]string{"contact_name": "Low Quay Load Works", "contact_address": "3 Low Quay, Marrowhithe", "contact_phone": "000 555 0142", "contact_email": "hello@lowquay.example", "contact_hours": "Tue to Fri 10–18"}); err != nil {
		t.Fatal(err)
	}
	v := s.Staff()
	address := v.Interview([]byte(webtest.Family))
	b := c.tab(s)
	for _, frame := range []string{"osier-m", "osier-assist"} {
		link := v.SendHome(address, frame, nil)
		for _, l := range say.Languages {
			b.visit(link + "?lang=" + string(l))
			if got := evaluate[string](b, `document.documentElement.lang`); got != string(l) {
				t.Errorf("asked for %s, got %s", l, got)
			}
			b.until(`document.querySelector(".code").naturalWidth > 0`)
			evaluate[chromedp.Void](b, `document.querySelectorAll("details").forEach((d) => { d.open = true; })`)
			b.lookIn(l, frame)
			if n := b.pages(); n < 1 || n > 2 {
				t.Errorf("%s in %s prints on %d pages", frame, l, n)
			}
		}
	}
	b.expect("status of 404")
	b.visit("/fit/never")
	b.do(chromedp.EmulateViewport(390, tabletHeight))
	if got := b.words("main"); got != "Nothing here This link opens nothing, or no longer does. Ask the shop for a new one." {
		t.Errorf("a link that opens nothing says %q", got)
	}
	if wide := evaluate[[]string](b, fmt.Sprintf(tooWide, "200%")); len(wide) > 0 {
		t.Errorf("a link that opens nothing: %q", wide)
	}
}

// TestEveryCustomersPaper prints the summary of every sample customer, for
// the frame that suits best, in the language with the longest words.
func TestEveryCustomersPaper(t *testing.T) {
	c := browser(t)
	s := webtest.Open(t)
	v := s.Staff()
	b := c.tab(s)
	printed := 0
	for name, document := range webtest.Customers(t) {
		address := v.Interview(document)
		ranked := webtest.ToldByRanking(v.Get(address + "/frames"))
		if ranked[0].Verdict == "does_not_fit" { // nothing is sent home of that
			continue
		}
		printed++
		b.visit(v.SendHome(address, ranked[0].Frame, nil) + "?lang=de")
		if n := b.pages(); n < 1 || n > 2 {
			t.Errorf("%s prints on %d pages", name, n)
		}
	}
	if printed < 8 {
		t.Errorf("only %d customers were sent something home", printed)
	}
}

// TestSharing offers to hand the page on only where the browser can.
func TestSharing(t *testing.T) {
	c := browser(t)
	s := webtest.Open(t)
	v := s.Staff()
	link := v.SendHome(v.Interview([]byte(webtest.Family)), "teasel", nil) + "?lang=fr"
	b := c.tab(s)
	if _, err := chromedp.Call(b.ctx, page.AddScriptToEvaluateOnNewDocument, page.AddScriptToEvaluateOnNewDocumentParams{
		Source: `Object.defineProperty(navigator, "share", { configurable: true, value: location.search.includes("units") ? undefined : (what) => { window.shared = what; return Promise.resolve(); } });`}); err != nil {
		t.Fatal(err)
	}
	b.visit(link + "&units=metric")
	b.until(`document.querySelector("[data-share]").children.length === 0`)
	b.visit(link)
	b.click("[data-share] button")
	b.until(`window.shared`)
	if got := b.words("[data-share]"); got != "Partager" {
		t.Errorf("it says %q", got)
	}
	if got := evaluate[string](b, `window.shared.url`); got != b.base+link {
		t.Errorf("it hands on %q", got)
	}
}

// TestFiguresAreThoseOfTheBrowser compares months, days, numbers and the forms
// for one with what the browser's Intl makes of the Unicode CLDR.
func TestFiguresAreThoseOfTheBrowser(t *testing.T) {
	c := browser(t)
	s := webtest.Open(t)
	b := c.tab(s)
	b.expect("status of 404")
	b.visit("/fit/never")
	plain := strings.NewReplacer("\u00a0", " ", "\u202f", " ")
	for _, l := range say.Languages {
		speaker, locale := say.New(l, measure.Metric), string(l)
		if l == say.English {
			locale = "en-GB"
		}
		for month := time.January; month <= time.December; month++ {
			for _, day := range []int{1, 2, 28} {
				want := evaluate[string](b, fmt.Sprintf(`new Date(Date.UTC(2027, %d, %d)).toLocaleDateString("%s", { timeZone: "UTC", dateStyle: "long" })`, month-1, day, locale))
				if l == say.French && day == 1 { // the first is written 1er (common practice of French print); Intl does without
					want = "1er" + strings.TrimPrefix(want, "1")
				}
				if got := speaker.Date(measure.Date{Year: 2027, Month: month, Day: day}); plain.Replace(got) != plain.Replace(want) {
					t.Errorf("%s: %q, the browser says %q", l, got, want)
				}
			}
			want := evaluate[string](b, fmt.Sprintf(`new Date(Date.UTC(2027, %d, 1)).toLocaleDateString("%s", { timeZone: "UTC", month: "long", year: "numeric" })`, month-1, locale))
			if got := speaker.Month(measure.MonthOf(2027, month)); plain.Replace(got) != plain.Replace(want) {
				t.Errorf("%s: %q, the browser says %q", l, got, want)
			}
		}
		for _, cents := range []int64{99, 189050, 123456789, -189050} {
			want := evaluate[string](b, fmt.Sprintf(`(%d / 100).toLocaleString("%s", { style: "currency", currency: "EUR" })`, cents, locale))
			if got := plain.Replace(speaker.Money(measure.Money(cents), "EUR")); got != plain.Replace(want) {
				t.Errorf("%s: %q, the browser says %q", l, got, want)
			}
		}
	}
}
