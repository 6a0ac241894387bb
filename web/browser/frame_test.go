package browser_test

import (
	"bytes"
	"fmt"
	"net/http"
	"strings"
	"testing"

	"github.com/chromedp/cdproto/page"
	"github.com/chromedp/chromedp"
	"github.com/ledongthuc/pdf"

	"kinwain/web/webtest"
)

// TestAFrameAnswersOnOneScreen holds that a tablet held upright shows without
// scrolling whether a frame fits and why, the load, who sits where, the price
// and what to do next; that what is folded says its answer; and that paper has
// it all.
func TestAFrameAnswersOnOneScreen(t *testing.T) {
	c := browser(t)
	s := webtest.Open(t)
	v := s.Staff()
	address := v.Interview([]byte(webtest.Family))
	b := c.tab(s)
	b.signIn()
	for _, code := range []string{"teasel", "osier-m", "osier-assist"} {
		b.visit(address + "/frames/" + code)
		for _, part := range []string{".frame .verdict", ".frame header .line", ".sheet .bar.tall", ".sheet figcaption", ".seats li", "#price", ".actions .button"} {
			if below := evaluate[int](b, fmt.Sprintf(`[...document.querySelectorAll(%q)].filter((e) => e.getBoundingClientRect().bottom > innerHeight).length`, part)); below > 0 {
				b.Errorf("%s: %d of %s are below the first screen", code, below, part)
			}
			if n := evaluate[int](b, fmt.Sprintf(`document.querySelectorAll(%q).length`, part)); n == 0 {
				b.Errorf("%s: there is no %s", code, part)
			}
		}
		if line := b.words(".frame header .line"); !strings.Contains(line, "to spare; ") {
			b.Errorf("%s: no first limit in %q", code, line)
		}
		for id, want := range map[string]string{"price": "€", "addons": "add-on", "home": "fits, ", "time": "until the end of", "shop": "in stock"} {
			if head := b.words("#" + id); !strings.Contains(head, want) {
				b.Errorf("%s: the heading of %s is %q", code, id, head)
			}
		}
		if open := evaluate[int](b, `document.querySelectorAll(".fold[open]").length`); open > 0 {
			b.Errorf("%s: %d parts are unfolded", code, open)
		}
		if printed := b.printed(); !strings.Contains(printed, "Askedforby") || !strings.Contains(printed, "Grossratingoftheframe") || !strings.Contains(printed, "Beforeanyonerides") {
			b.Errorf("%s: paper leaves out what is folded: %s", code, printed)
		}
	}
}

// printed returns what the page says on paper, without its spaces.
func (b *tab) printed() string {
	b.Helper()
	printed, err := chromedp.Call(b.ctx, page.PrintToPDF, page.PrintToPDFParams{PaperWidth: 8.27, PaperHeight: 11.69})
	if err != nil {
		b.Fatal(err)
	}
	file, err := pdf.NewReader(bytes.NewReader(printed.Data), int64(len(printed.Data)))
	if err != nil {
		b.Fatal(err)
	}
	var text strings.Builder
	for i := range file.NumPage() {
		said, err := file.Page(i + 1).GetPlainText(nil)
		if err != nil {
			b.Fatal(err)
		}
		text.WriteString(said)
	}
	return strings.Join(strings.Fields(text.String()), "")
}

// TestASetByHandLeadsOn ticks an add-on and goes on to everything that may be
// done with the bike: each is about the set that is ticked.
func TestASetByHandLeadsOn(t *testing.T) {
	c := browser(t)
	s := webtest.Open(t)
	b := c.tab(s)
	b.signIn()
	address := s.Staff().Interview([]byte(webtest.Plain))
	byHand := address + "/frames/osier-m/by-hand"
	choose := func(label string) {
		b.visit(byHand)
		b.click(`.picks [value="tray-front"]`)
		b.until(`document.querySelector('#result .actions a[href*="tray-front"]')`)
		b.until(fmt.Sprintf(`[...document.querySelectorAll("#result .actions a")].find((a) => a.textContent.includes(%q))`, label))
		evaluate[chromedp.Void](b, fmt.Sprintf(`[...document.querySelectorAll("#result .actions a")].find((a) => a.textContent.includes(%q)).click()`, label))
	}
	choose("Quote")
	b.until(`location.pathname.endsWith("/quote")`)
	b.click(".make .primary")
	b.until(`location.pathname.startsWith("/quotes/")`)
	if bill := b.words(".bill"); !strings.Contains(bill, "Front tray rack") {
		b.Errorf("the quote leaves out what was ticked: %s", bill)
	}
	choose("Test ride")
	b.until(`location.pathname.endsWith("/ride") && document.querySelector('.book [name="on"][value="tray-front"]')`)
	if demo := b.words(".demos"); !strings.Contains(demo, "and front tray rack.") {
		b.Errorf("the demo is compared with another build: %s", demo)
	}
	choose("Send home")
	b.until(`location.pathname.endsWith("/send") && document.querySelector('.sending [name="on"][value="tray-front"]')`)
	b.click(".sending .primary")
	b.until(`document.querySelector(".handover .address a")`)
	choose("Compare")
	b.until(`document.querySelector('.compare-bar [name="frame"][value*="tray-front"]')?.checked`)
	b.click(`.ranked [value="osier-m"]`)
	b.click(".compare-bar .primary")
	b.until(`document.querySelector(".compare")`)
	if heads := b.words(".compare thead"); !strings.Contains(heads, "Osier M, built by hand") || strings.Count(heads, "Osier M") != 2 {
		b.Errorf("compared are %s", heads)
	}
	if added := b.words(`[data-row="add_ons"]`); !strings.Contains(added, "ront tray rack") {
		b.Errorf("added are %s", added)
	}
}

// TestChangesComeAfterTheRanking holds that a browser with a script gets the
// ranking first and then, into the same rows, what one without gets at once.
func TestChangesComeAfterTheRanking(t *testing.T) {
	c := browser(t)
	s := webtest.Open(t)
	v := s.Staff()
	address := v.Interview([]byte(webtest.Family))
	full := v.Get(address + "/frames")
	full.Count("[data-later]", 0)
	b := c.tab(s)
	b.signIn()
	b.visit(address) // where the script says that it runs
	b.until(`document.cookie.includes("script=yes")`)
	b.visit(address + "/frames")
	b.until(`!document.querySelector("[data-later]")?.textContent.startsWith("Looking")`)
	if said := b.words("[data-later]"); !strings.Contains(said, "would fit after one change") {
		t.Errorf("it says %q", said)
	}
	if n := evaluate[int](b, `document.querySelectorAll(".unfit .change").length`); n == 0 || n != full.Page.Find(".unfit .change").Length() {
		t.Errorf("%d changes came, want %d", n, full.Page.Find(".unfit .change").Length())
	}
	for _, part := range []string{".ranked .what .line", ".ranked .what .change"} {
		got := evaluate[string](b, fmt.Sprintf(`[...document.querySelectorAll(%q)].map((e) => e.textContent.trim()).join(" ")`, part))
		if want := full.Text(part); strings.Join(strings.Fields(got), "") != strings.ReplaceAll(want, " ", "") {
			t.Errorf("%s: %q came, want %q", part, got, want)
		}
	}
	later := evaluate[string](b, `document.querySelector("[data-later]").dataset.later`)
	r := v.Request(http.MethodGet, address+"/frames", nil)
	r.Header.Set("Cookie", "script=yes")
	for _, cookie := range v.Client.Jar.Cookies(r.URL) {
		r.Header.Set("Cookie", r.Header.Get("Cookie")+"; "+cookie.String())
	}
	v.Send(r).Count(".change", 0)
	v.Get(later).Count("[data-later]", 0)
}
