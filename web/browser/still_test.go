package browser_test

import (
	"fmt"
	"net/http"
	"strings"
	"sync/atomic"
	"testing"

	"github.com/chromedp/chromedp"

	"kinwain/web/webtest"
)

// watchShifts notes from the start of a page on what has moved by itself. What
// follows a touch or a key within half a second was asked for.
const watchShifts = `{
	window.shifts = [];
	new PerformanceObserver((list) => {
		for (const e of list.getEntries()) {
			if (e.hadRecentInput) continue;
			for (const s of e.sources) {
				const n = s.node?.nodeType === 1 ? s.node : s.node?.parentElement;
				const pressed = n && [n, ...n.querySelectorAll("*")].find((e) => e.matches("a, button, input, select, summary, label") && e.checkVisibility());
				if (pressed) window.shifts.push((n.outerHTML ?? "").slice(0, 90) + " " + s.previousRect.top.toFixed() + " -> " + s.currentRect.top.toFixed());
			}
		}
	}).observe({ type: "layout-shift", buffered: true });
}`

// TestNothingMovesInABrowser lets what takes a while come when it is in sight,
// and so is what stands below: nobody's finger may find another button than the
// eye has chosen.
func TestNothingMovesInABrowser(t *testing.T) {
	c := browser(t)
	var held atomic.Pointer[chan struct{}]
	s := webtest.OpenWith(t, func(next http.Handler) http.Handler {
		return http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
			if r.URL.Query().Has("part") {
				<-*held.Load()
			}
			next.ServeHTTP(w, r)
		})
	})
	address := s.Staff().Interview([]byte(webtest.Family))
	b := c.tab(s)
	b.signIn()
	for _, page := range []struct{ path, late, came string }{
		{"", "#ask", `document.getElementById("ask-form").elements.length`},
		{"/frames", "#ask", `document.getElementById("ask-form").elements.length`},
		{"/frames", "[data-later]", `!document.querySelector("[data-later]").textContent.startsWith("Looking")`},
		{"/frames?frame=sedge", ".unfit .ranked li:nth-child(2)", `!document.querySelector("[data-later]").textContent.startsWith("Looking")`},
		{"/frames/osier-m", "#ask", `document.getElementById("ask-form").elements.length`},
	} {
		for _, width := range []int{390, tabletWidth, 1280} {
			t.Run(fmt.Sprintf("%s %s %d", page.path, page.late, width), func(t *testing.T) {
				b.T = t
				come := make(chan struct{})
				held.Store(&come)
				b.do(chromedp.EmulateViewport(int64(width), tabletHeight))
				b.visit(address + page.path)
				b.until(`document.querySelector("` + page.late + `")`)
				evaluate[chromedp.Void](b, `document.querySelector("`+page.late+`").scrollIntoView({ block: "center" })`)
				evaluate[chromedp.Void](b, watchShifts)
				close(come)
				b.until(page.came)
				evaluate[bool](b, `new Promise((done) => requestAnimationFrame(() => setTimeout(() => done(true), 100)))`, chromedp.EvalAwaitPromise)
				if moved := evaluate[[]string](b, `window.shifts`); len(moved) > 0 {
					t.Errorf("moves by itself:\n%s", strings.Join(moved, "\n"))
				}
			})
		}
	}
}

// TestAnAnswerComesWhereThereIsRoomInABrowser types all that a step asks for,
// and looks at its button before and after the shop's computer has said what it
// understood.
func TestAnAnswerComesWhereThereIsRoomInABrowser(t *testing.T) {
	c := browser(t)
	var held atomic.Pointer[chan struct{}]
	s := webtest.OpenWith(t, func(next http.Handler) http.Handler {
		return http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
			if strings.HasSuffix(r.URL.Path, "/live") {
				<-*held.Load()
			}
			next.ServeHTTP(w, r)
		})
	})
	b := c.tab(s)
	b.signIn()
	b.click(".start .primary")
	b.until(`document.querySelector("form[data-live]")`)
	b.click(`button[value="add passengers"]`)
	b.until(`document.getElementById("passengers[0].born")`)
	for _, width := range []int{390, tabletWidth, 1280} {
		b.do(chromedp.EmulateViewport(int64(width), tabletHeight))
		for _, asked := range []struct{ name, text string }{
			{"riders[0].height_cm", "5'11"}, {"riders[0].weight_kg", "12 st 4"}, {"passengers[0].born", "11 months"}, {"pet_kg", "66 lb"}, {"cargo_kg", "30 lb"},
		} {
			come := make(chan struct{})
			held.Store(&come)
			b.write(asked.name, asked.text)
			below := `[...document.querySelectorAll("button, summary, input, select")].filter((e) => e.checkVisibility()).map((e) => (e.id || e.value || e.firstElementChild?.id) + " at " + e.getBoundingClientRect().top.toFixed()).join("\n")`
			before := evaluate[string](b, below)
			close(come)
			b.until(fmt.Sprintf(`document.querySelector('[data-reads="%s"]')?.textContent`, asked.name))
			b.saved()
			if after := evaluate[string](b, below); after != before {
				t.Errorf("%d px, %s: before\n%s\nafter\n%s", width, asked.name, before, after)
			}
			come = make(chan struct{})
			held.Store(&come)
			b.write(asked.name, "")
			close(come)
			b.until(fmt.Sprintf(`!document.querySelector('[data-reads="%s"]')?.textContent`, asked.name))
		}
	}
}
