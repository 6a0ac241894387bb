package browser_test

import (
	"testing"

	"github.com/chromedp/chromedp"

	"kinwain/internal/catalog"
	"kinwain/web/webtest"
)

// TestASourceInFourKeys goes from the list of what has no source to the figure,
// says where it comes from, and saves that, without a mouse: Enter on the link,
// a letter in the choice, Tab to the next field, and Enter.
func TestASourceInFourKeys(t *testing.T) {
	s := webtest.Open(t)
	b := browser(t).tab(s)
	b.signIn()
	b.visit("/inventory/quality/sources")
	b.look("figures without a source")
	const figure = "gross_rating_kg"
	b.pressTabTo(`.unproved tbody a[href$="/yarrow-assist#` + figure + `.source"]`)
	pressed := 0
	press := func(key string) {
		pressed++
		b.do(chromedp.KeyEvent(key))
	}
	pressed++
	b.enter()
	b.until(`document.activeElement.id === "` + figure + `.source"`)
	press("r")
	if got := b.value(figure + ".source"); got != "rating_plate" {
		t.Fatalf("chosen is %q", got)
	}
	press("\t")
	pressed++
	b.enter()
	b.until(`document.querySelector(".done")`)
	e := catalog.Source(s.Catalogue().Frame("yarrow-assist").Evidence, figure)
	if e == nil || e.Kind != "rating_plate" || e.By == "" || e.On.IsZero() {
		t.Errorf("noted is %+v", e)
	}
	if pressed != 4 {
		t.Errorf("%d keys", pressed)
	}
	b.look("a frame with its sources")
}
