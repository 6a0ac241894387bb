package browser_test

import (
	"bytes"
	"fmt"
	"strings"
	"testing"

	"github.com/chromedp/cdproto/page"
	"github.com/chromedp/chromedp"
	"github.com/ledongthuc/pdf"

	"kinwain/web/webtest"
)

// putSideBySide ticks frames in the ranking, compares them and goes back.
func putSideBySide(t *testing.T, c *chromium) {
	s := webtest.Open(t)
	address := s.Staff().Interview([]byte(webtest.Family))
	b := c.tab(s)
	b.signIn()
	b.visit(address + "/frames")
	tick := func(code string) {
		b.do(chromedp.ScrollIntoView(chromedp.CSS(fmt.Sprintf(`[data-frame="%s"] .tick-frame`, code))))
		b.click(fmt.Sprintf(`[data-frame="%s"] .tick-frame`, code))
	}
	tick("teasel")
	b.expect("status of 422")
	b.click(".compare-bar button")
	b.until(`document.querySelector(".say .button")`)
	b.click(".say .button")
	b.until(`document.querySelector('.ranked [value="teasel"]')?.checked`)
	tick("osier-m")
	inSight := `(() => { const r = document.querySelector(".compare-bar button").getBoundingClientRect(); return r.top >= 0 && r.bottom <= innerHeight; })()`
	if !evaluate[bool](b, inSight) {
		t.Error("the button is out of sight")
	}
	b.click(".compare-bar button")
	b.until(`document.querySelectorAll(".compare thead th[scope=col] a").length === 2`)
	if b.words(".win") == "" {
		t.Error("nobody is better in anything")
	}
	b.click(".same summary")
	b.do(chromedp.WaitVisible(chromedp.CSS(".same dt")))
	b.do(chromedp.NavigateBack())
	b.until(`document.querySelector('.ranked [value="teasel"]')?.checked && document.querySelector('.ranked [value="osier-m"]')?.checked`)
	tick("osier-m")
	if got := evaluate[int](b, `document.querySelectorAll(".ranked :checked").length`); got != 1 {
		t.Errorf("%d ticked", got)
	}
	onAPhone(b, address)
	b.printsOnTwoPages(address+"/compare?frame=teasel&frame=osier-m&frame=osier-assist&frame=yarrow-assist", "brakes above all")
	b.printsOnTwoPages(address+"/compare?frame=teasel-short&frame=teasel-assist&frame=sedge-s&frame=knapweed-s", "brakes above all")
}

// onAPhone scrolls four frames sideways: the first column stays in sight, and
// the keyboard can scroll too.
func onAPhone(b *tab, address string) {
	b.Helper()
	b.do(chromedp.EmulateViewport(390, 844))
	b.visit(address + "/compare?frame=teasel&frame=osier-m&frame=osier-assist&frame=yarrow-assist")
	const region = `document.querySelector(".side > .scroll")`
	if !evaluate[bool](b, region+`.scrollWidth > `+region+`.clientWidth && `+region+`.tabIndex === 0`) {
		b.Error("four frames need no scrolling, or only a finger can scroll them")
	}
	evaluate[chromedp.Void](b, region+`.focus(); `+region+`.scrollLeft = 200`)
	b.until(region + `.scrollLeft === 200`)
	if left := evaluate[float64](b, `document.querySelector("tr[data-row=spare] th").getBoundingClientRect().left`); left < 0 || left > 20 {
		b.Errorf("the first column is at %.0f px", left)
	}
	b.do(chromedp.EmulateViewport(tabletWidth, tabletHeight))
}

// printsOnTwoPages prints a page on A4 and reads what came out with a reader of
// such files.
func (b *tab) printsOnTwoPages(path, last string) {
	b.Helper()
	b.visit(path)
	css := true
	printed, err := chromedp.Call(b.ctx, page.PrintToPDF, page.PrintToPDFParams{PaperWidth: 8.27, PaperHeight: 11.69, PreferCSSPageSize: &css})
	if err != nil {
		b.Fatal(err)
	}
	file, err := pdf.NewReader(bytes.NewReader(printed.Data), int64(len(printed.Data)))
	if err != nil {
		b.Fatal(err)
	}
	if n := file.NumPage(); n > 2 {
		b.Errorf("%s prints on %d pages", path, n)
	}
	box := file.Page(1).V.Key("MediaBox")
	if box.Len() != 4 || box.Index(2).Float64() <= box.Index(3).Float64() {
		b.Errorf("%s is not printed across: %v", path, box)
	}
	if box.Index(2).Float64() > 900 {
		b.Errorf("%s is wider than A4: %v", path, box)
	}
	text, err := file.Page(file.NumPage()).GetPlainText(nil)
	if err != nil || !strings.Contains(strings.Join(strings.Fields(text), ""), strings.ReplaceAll(last, " ", "")) {
		b.Errorf("%s does not say %q: %v, …%s", path, last, err, text[max(0, len(text)-300):])
	}
}
