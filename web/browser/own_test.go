package browser_test

import (
	"slices"
	"testing"

	"github.com/chromedp/chromedp"

	"kinwain/internal/catalog"
	"kinwain/web/webtest"
)

// TestOwnByKeyboard has a manager ask what to own while it is still being worked
// out, and read it when it has come by itself, without any script.
func TestOwnByKeyboard(t *testing.T) {
	s := webtest.Open(t)
	c := *s.Catalogue()
	c.Units = slices.DeleteFunc(slices.Clone(c.Units), func(u catalog.Unit) bool {
		return u.Kind == "demo" && slices.Contains([]string{"osier-assist", "yarrow", "sedge"}, u.Frame)
	})
	if err := s.Store.ReplaceCatalogue(t.Context(), &c); err != nil {
		t.Fatal(err)
	}
	s.Talks(100)
	b := browser(t).tab(s)
	b.signIn()
	b.visit("/inventory")
	b.withoutScript()
	b.pressTabTo(`.tabs a[href="/inventory/own"]`)
	b.enter()
	b.until(`document.querySelector(".working progress")`)
	b.until(`location.hash === "#working"`) // it has looked again by itself
	b.until(`document.querySelector(".own-said")`)
	for _, width := range []int64{390, 820, 1280} {
		b.do(chromedp.EmulateViewport(width, 900))
		if over := evaluate[int](b, `document.documentElement.scrollWidth - innerWidth`); over > 0 {
			t.Errorf("at %d: %d px too wide", width, over)
		}
		small := evaluate[string](b, `[...document.querySelectorAll("main a, main button")].filter((e) => e.checkVisibility() && e.getBoundingClientRect().height < 43.5)
			.map((e) => e.outerHTML.slice(0, 80)).slice(0, 3).join("\n")`)
		if small != "" {
			t.Errorf("at %d: too small: %s", width, small)
		}
	}
	b.pressTabTo(`main a[href="/inventory/own/counts"]`)
	b.pressTabTo(`#demo ~ .ware-box tbody a`)
	b.enter()
	b.until(`location.pathname.startsWith("/inventory/frames/")`)
}
