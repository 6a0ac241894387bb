package browser_test

import (
	"bytes"
	"context"
	"strings"
	"testing"

	"github.com/chromedp/cdproto/page"
	"github.com/chromedp/chromedp"
	"github.com/ledongthuc/pdf"

	"kinwain/web/webtest"
)

// TestQuoteAndRideInABrowser goes from a frame's page to a quote with a bike
// held for it, and to a test ride that is booked and back, as on a tablet.
func TestQuoteAndRideInABrowser(t *testing.T) {
	c := browser(t)
	s := webtest.Open(t)
	frame := s.Staff().Interview([]byte(webtest.Family)) + "/frames/osier-m"
	b := c.tab(s)
	b.signIn()
	b.visit(frame)
	b.press("Quote")
	b.until(`document.querySelector("form.make")`)
	b.write("customer", "A and B")
	b.press("Make this quote")
	b.until(`location.pathname.startsWith("/quotes/")`)
	if got := b.words(".quote header"); !strings.Contains(got, "Quote Q-2026-0001") || !strings.Contains(got, "For A and B") {
		t.Errorf("the head of the quote is %q", got)
	}
	if pages := b.pages(); pages != 1 {
		t.Errorf("the quote is printed on %d pages", pages)
	}
	b.press("Hold D-014")
	b.until(`document.querySelector('button[name="release"][value="D-014"]')`)
	b.visit(frame)
	b.press("Test ride")
	b.until(`document.querySelector("form.book")`)
	b.choose("minutes", "45")
	b.choose("rider", "Rider A")
	b.press("Book the ride")
	b.until(`location.pathname.startsWith("/rides/")`)
	b.click(`input[value="helmet"]`)
	b.click(`input[value="brakes"]`)
	b.press("Off they go")
	b.until(`document.querySelector(".status.out")`)
	if n := evaluate[int](b, `document.querySelectorAll("input[name=checked]:checked").length`); n != 2 {
		t.Errorf("%d ticks are kept", n)
	}
	b.choose("feel", "good")
	b.write("felt", "Light, and it turns well.")
	b.press("Back in the shop")
	b.until(`document.querySelector(".status.back")`)
	if got := b.value("felt"); got != "Light, and it turns well." {
		t.Errorf("it felt %q", got)
	}
	b.visit("/")
	if got := b.words(".coming"); got != "" {
		t.Errorf("rides to come: %q", got)
	}
}

// TestLongQuoteInABrowser prints a quote with far more on it than any customer
// of the demo shop is offered, and with what quotes of before were told of a
// frame that did not fit.
func TestLongQuoteInABrowser(t *testing.T) {
	c := browser(t)
	s := webtest.Open(t)
	v := s.Staff()
	made := v.Quoted(v.Interview([]byte(webtest.Family)) + "/frames/osier-m")
	q, err := s.Store.Quote(t.Context(), strings.TrimPrefix(made.Path, "/quotes/"))
	if err != nil {
		t.Fatal(err)
	}
	for of := len(q.Lines); len(q.Lines) < 28; {
		q.Lines = append(q.Lines, q.Lines[len(q.Lines)%of])
	}
	q.ID, q.Customer = "", strings.Repeat("long name ", 12)
	for range 2 {
		q.Warnings = append(q.Warnings, "The front tray rack and the crate do not go together.")
	}
	if q, err = s.Store.CreateQuote(t.Context(), q, s.Clock()); err != nil {
		t.Fatal(err)
	}
	a := v.Get("/quotes/" + q.ID)
	lines := a.Page.Find(".bill tbody tr").Length()
	if lines < 28 || a.Page.Find("#warnings").Length() == 0 {
		t.Fatalf("only %d lines", lines)
	}
	b := c.tab(s)
	b.signIn()
	b.visit(a.Path)
	t.Logf("%d lines and %d warnings", lines, a.Page.Find("[aria-labelledby=warnings] li").Length())
	if pages := b.pages(); pages != 1 {
		t.Errorf("%d lines are printed on %d pages", lines, pages)
	}
}

// press clicks what has these words on it: a button or a link.
func (b *tab) press(words string) {
	b.Helper()
	mark := `[...document.querySelectorAll("main button, main a")].filter((e) => e.textContent.trim() === "` + words + `")`
	b.until(mark + `.length === 1`)
	evaluate[chromedp.Void](b, mark+`[0].setAttribute("data-pressed", "")`)
	b.click("[data-pressed]")
}

// pages prints the page on A4, as ISO 216 has it, and counts the sheets.
func (b *tab) pages() int {
	b.Helper()
	ctx, cancel := context.WithTimeout(b.ctx, patience)
	defer cancel()
	printed, err := chromedp.Call(ctx, page.PrintToPDF, page.PrintToPDFParams{PaperWidth: 210 / 25.4, PaperHeight: 297 / 25.4})
	if err != nil {
		b.Fatal(err)
	}
	r, err := pdf.NewReader(bytes.NewReader(printed.Data), int64(len(printed.Data)))
	if err != nil {
		b.Fatal(err)
	}
	return r.NumPage()
}
