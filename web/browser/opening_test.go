package browser_test

import (
	"fmt"
	"testing"

	"github.com/chromedp/cdproto/page"
	"github.com/chromedp/chromedp"

	"kinwain/web/webtest"
)

// TestWordsThatAreFoldedAwayAreFound holds that what is folded, which is not
// there while a page opens, is there to be found as soon as somebody presses a
// key, points at something or goes into a field, without a wait.
func TestWordsThatAreFoldedAwayAreFound(t *testing.T) {
	c := browser(t)
	s := webtest.Open(t)
	address := s.Staff().Interview([]byte(webtest.Family))
	b := c.tab(s)
	b.signIn()
	const waitsForNothing = `const wait = window.setTimeout; window.setTimeout = (then, after, ...more) => after >= 3000 ? 0 : wait(then, after, ...more);`
	if _, err := chromedp.Call(b.ctx, page.AddScriptToEvaluateOnNewDocument, page.AddScriptToEvaluateOnNewDocumentParams{Source: waitsForNothing}); err != nil {
		t.Fatal(err)
	}
	const folded, laidOut = "details:not([open]) > :is(div, ol)", `getComputedStyle(document.querySelector(%q)).display !== "none"`
	for name, sign := range map[string]func(){
		"a key":              func() { b.do(chromedp.KeyEvent("f", chromedp.KeyModifiers(chromedp.ModifierCtrl))) },
		"a pointer":          func() { b.do(chromedp.MouseClickXY(5, 5)) },
		"a focus":            func() { evaluate[bool](b, `document.querySelector("main a").focus() ?? true`) },
		"the browser’s menu": func() { evaluate[bool](b, `window.dispatchEvent(new Event("blur"))`) },
	} {
		b.visit(address + "/frames/teasel")
		if evaluate[bool](b, fmt.Sprintf(laidOut, folded)) {
			t.Errorf("%s: what is folded is laid out while the page opens", name)
		}
		sign()
		if !evaluate[bool](b, fmt.Sprintf(laidOut, folded)) {
			t.Errorf("after %s what is folded is not there", name)
		}
	}
}
