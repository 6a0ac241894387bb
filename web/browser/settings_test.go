package browser_test

import (
	"fmt"
	"testing"

	"github.com/chromedp/chromedp"
	"github.com/chromedp/chromedp/kb"

	"kinwain/web/webtest"
)

// reach presses the tabulator until an element has the focus, as who has no
// mouse does.
func (b *tab) reach(selector string) {
	b.Helper()
	for range 80 {
		if evaluate[bool](b, fmt.Sprintf(`document.activeElement.matches('%s')`, selector)) {
			return
		}
		b.do(chromedp.KeyEvent(kb.Tab))
	}
	b.Fatalf("the keyboard never comes to %s\n%s", selector, b.describe())
}

// retype replaces what stands in the field that has the focus.
func (b *tab) retype(text string) {
	b.Helper()
	evaluate[chromedp.Void](b, `document.activeElement.select()`)
	b.do(chromedp.KeyEvent(text))
}

// TestSettingsByKeyboard weighs the criteria anew, sees what that changes as
// it is typed, and saves it, with no mouse at all.
func TestSettingsByKeyboard(t *testing.T) {
	c := browser(t)
	s := webtest.Open(t)
	b := c.tab(s)
	b.signIn()
	b.visit("/settings")
	b.reach(`a[href="/settings/criteria"]`)
	b.do(chromedp.KeyEvent(kb.Enter))
	b.until(`document.querySelector("#preview .orders")`)
	b.reach(field("horizon_weight"))
	const stands = `Math.round(document.getElementById("handling_mass_weight").getBoundingClientRect().top + scrollY)`
	before := evaluate[int](b, stands)
	b.retype("many")
	b.until(`document.querySelector('[id="horizon_weight-error"]').textContent === "Write a whole number."`)
	if after := evaluate[int](b, stands); after != before {
		t.Errorf("what is wrong moves the fields below by %d px", after-before)
	}
	b.retype("0")
	b.reach(field("handling_mass_weight"))
	b.retype("90")
	b.until(`document.querySelectorAll("#preview .shift").length > 0`)
	if len(s.Settings()) != 0 {
		t.Errorf("%v was saved by looking", s.Settings())
	}
	if focus := evaluate[string](b, `document.activeElement.id`); focus != "handling_mass_weight" {
		t.Errorf("the preview has moved the focus to %q", focus)
	}
	b.retype("many")
	b.until(`document.querySelector('[id="handling_mass_weight-error"]').textContent === "Write a whole number."`)
	b.retype("90")
	b.until(`document.querySelector('[id="handling_mass_weight-error"]').textContent === "" && document.querySelectorAll("#preview .shift").length > 0`)
	order := b.words("#preview tbody tr:nth-child(3) td:nth-child(3) li:first-child")
	b.do(chromedp.KeyEvent(kb.Enter)) // saves, and is no button of a default
	b.until(`document.querySelector(".done")`)
	if got := s.Settings(); got["handling_mass_weight"] != 90 || len(got) != 2 {
		t.Errorf("%v is saved", got)
	}
	if now := b.words("#preview tbody tr:nth-child(3) td:nth-child(2) li:first-child"); len(now) < 4 || len(order) < len(now) || order[:len(now)] != now {
		t.Errorf("%q was foretold and %q came", order, now)
	}
	b.reach(`button[name="reset"][value="handling_mass_weight"]`)
	b.do(chromedp.KeyEvent(kb.Enter))
	b.until(`document.querySelector(".done")?.textContent.includes("is back at 1")`)
	b.reach(".send .primary")
	b.do(chromedp.KeyEvent(kb.Enter))
	b.until(`document.querySelector(".done")?.textContent.startsWith("Saved.")`)
	if got := s.Settings(); len(got) != 1 {
		t.Errorf("%v is saved", got)
	}
}
