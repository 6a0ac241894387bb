package browser_test

import (
	"fmt"
	"net/http"
	"strings"
	"sync/atomic"
	"testing"
	"time"

	"github.com/chromedp/chromedp"

	"kinwain/web/webtest"
)

// TestInABrowser walks through the app as people do, in a real browser.
func TestInABrowser(t *testing.T) {
	c := browser(t)
	for name, walk := range map[string]func(*testing.T, *chromium){
		"from the link to the load sheet": walkThrough,
		"a mistake":                       makeAMistake,
		"without script":                  walkWithoutScript,
		"by keyboard":                     walkByKeyboard,
		"network drops":                   dropTheNetwork,
		"draft is sent after all":         resumeADraft,
		"button waits":                    pressWhileSending,
		"two tablets":                     answerOnTwoTablets,
		"units":                           switchUnits,
		"add-ons by hand":                 buildByHand,
		"side by side":                    putSideBySide,
	} {
		t.Run(name, func(t *testing.T) { walk(t, c) })
	}
}

// walkThrough goes the whole way with every answer followed by the list.
func walkThrough(t *testing.T, c *chromium) {
	b := c.tab(webtest.Open(t))
	b.signIn()
	b.click(".start .primary")
	b.until(`document.querySelector("form[data-live]")`)
	if got := b.words("#ranking .empty"); !strings.HasPrefix(got, "One rider’s height and weight") {
		t.Errorf("before any answer: %q", got)
	}
	b.write("riders[0].height_cm", `5'10"`)
	b.write("riders[0].weight_kg", "82,5")
	b.until(`document.querySelectorAll("#ranking [data-frame]").length === 14`)
	first := b.order()
	b.write("cargo_kg", "60")
	b.until(fmt.Sprintf(`[...document.querySelectorAll("#ranking [data-frame]")].map((li) => li.dataset.frame).join(" ") !== "%s"`, first))
	if evaluate[int](b, `document.querySelectorAll("#ranking .moved").length`) == 0 {
		t.Error("nothing shows what moved")
	}
	b.saved()
	b.write("cargo_kg", "8")
	b.click(`button[value="add passengers"]`)
	b.until(`document.activeElement.id === "passengers[0].born"`)
	b.do(chromedp.KeyEvent("5.2023"))
	b.choose("passengers[0].sits_unaided", "yes")
	b.saved()
	b.until(`document.querySelector("#ranking .short .line")?.innerText.includes("both")`)
	b.reload()
	for name, want := range map[string]string{
		"riders[0].height_cm": `5'10"`, "riders[0].weight_kg": "82,5", "cargo_kg": "8", "passengers[0].born": "5.2023", "passengers[0].sits_unaided": "yes",
	} {
		if got := b.value(name); got != want {
			t.Errorf("after a reload %s is %q, want %q", name, got, want)
		}
	}
	list := b.order()
	b.click(".send .primary")
	b.until(`location.pathname.endsWith("/frames")`)
	if got := evaluate[string](b, `[...document.querySelectorAll(".ranked > [data-frame]")].map((li) => li.dataset.frame).join(" ")`); got != list {
		t.Errorf("the list was %s, the ranking is %s", list, got)
	}
	b.click(".ranked h3 a")
	b.until(`document.querySelector("figure.sheet tfoot .total td")`)
	b.click("figure.sheet summary")
	b.do(chromedp.ScrollIntoView(chromedp.CSS("figure.sheet .bar.tall")), chromedp.WaitVisible(chromedp.CSS("figure.sheet .bar.tall .line")), chromedp.WaitVisible(chromedp.CSS("figure.sheet table.sum tfoot")))
}

// makeAMistake types what cannot be right, and mends it.
func makeAMistake(t *testing.T, c *chromium) {
	b := c.tab(webtest.Open(t))
	b.signIn()
	b.click(".start .primary")
	b.until(`document.querySelector("form[data-live]")`)
	b.write("riders[0].height_cm", "178")
	b.write("riders[0].weight_kg", "900 kg")
	b.until(`document.querySelector('#ranking [data-fault="riders[0].weight_kg"]')?.textContent.includes("900 kg")`)
	b.click(`button[value="add riders"]`) // while the words that come up move the button away
	b.until(`document.getElementById("riders[1].height_cm")`)
	b.click(`button[value="remove riders 1"]`)
	b.until(`!document.getElementById("riders[1].height_cm")`)
	b.write("riders[0].weight_kg", "900 kg")
	b.click(field("riders[0].height_cm"))
	const slot = `[data-error-for="riders[0].weight_kg"]`
	b.until(`document.querySelector('` + slot + `').innerText.includes("900 kg")`)
	if evaluate[string](b, `document.getElementById("riders[0].weight_kg").getAttribute("aria-invalid")`) != "true" || b.value("riders[0].weight_kg") != "900 kg" {
		t.Error("the mistake is not marked, or what was typed is gone")
	}
	b.click(".send .primary")
	b.until(`document.activeElement.id === "riders[0].weight_kg" && document.querySelector(".alert")`)
	if got := b.words(slot); !strings.Contains(got, "900 kg") || b.value("riders[0].weight_kg") != "900 kg" || b.value("riders[0].height_cm") != "178" {
		t.Errorf("after sending: %q, typed %q", got, b.value("riders[0].weight_kg"))
	}
	b.write("riders[0].weight_kg", "90 kg")
	b.click(field("riders[0].height_cm"))
	b.until(`document.querySelectorAll("#ranking [data-frame]").length === 14`)
	if got := b.words(slot); got != "" || evaluate[bool](b, `document.getElementById("riders[0].weight_kg").hasAttribute("aria-invalid")`) {
		t.Errorf("mended, and still %q", got)
	}
}

// walkWithoutScript goes the whole way by buttons.
func walkWithoutScript(t *testing.T, c *chromium) {
	b := c.tab(webtest.Open(t))
	b.withoutScript()
	b.signIn()
	b.click(".start .primary")
	b.until(`document.querySelector("form[data-live]")`)
	if evaluate[bool](b, `document.documentElement.classList.contains("js")`) {
		t.Fatal("the script ran")
	}
	b.write("riders[0].height_cm", "178")
	b.write("riders[0].weight_kg", "82")
	for i, born := range []string{"5.2023", "9.2025"} {
		b.click(`button[value="add passengers"]`)
		b.until(fmt.Sprintf(`document.getElementById("passengers[%d].born")`, i))
		b.write(fmt.Sprintf("passengers[%d].born", i), born)
	}
	b.click(`button[value="remove passengers 0"]`)
	b.until(`!document.getElementById("passengers[1].born")`)
	if got := b.value("passengers[0].born"); got != "9.2025" || b.value("riders[0].weight_kg") != "82" {
		t.Errorf("who stays is born %q", got)
	}
	b.write("cargo_kg", "lots")
	b.click(".send .primary")
	b.until(`document.querySelector(".alert")`)
	if b.words(`[data-error-for="cargo_kg"]`) == "" || b.value("cargo_kg") != "lots" {
		t.Error("the mistake is not shown, or what was typed is gone")
	}
	b.write("cargo_kg", "8")
	b.click(".send .primary")
	b.until(`document.querySelectorAll(".ranked > [data-frame]").length === 14`)
	b.click(".ranked h3 a")
	b.until(`document.querySelector("figure.sheet tfoot .total td")`)
}

// dropTheNetwork types on without a network.
func dropTheNetwork(t *testing.T, c *chromium) {
	s := webtest.Open(t)
	b := c.tab(s)
	b.signIn()
	b.click(".start .primary")
	b.until(`document.querySelector("form[data-live]")`)
	b.write("riders[0].height_cm", "178")
	b.saved()
	b.expect("ERR_INTERNET_DISCONNECTED")
	b.offline(true)
	b.write("riders[0].weight_kg", "82")
	b.until(`document.querySelector("[data-state].trouble")?.innerText.includes("Kept on this tablet")`)
	evaluate[chromedp.Void](b, `document.querySelector("[data-state]").textContent = ""`)
	b.click(".send .primary") // leads nowhere for now, least of all away from what was typed
	b.until(`document.querySelector("[data-state].trouble")?.innerText.includes("Kept on this tablet")`)
	if b.value("riders[0].weight_kg") != "82" {
		t.Error("what was typed is gone")
	}
	inSight := `(() => { const r = document.querySelector("[data-state]").getBoundingClientRect(); return r.top >= 0 && r.bottom <= innerHeight; })()`
	evaluate[chromedp.Void](b, `scrollTo(0, 0)`)
	b.until(inSight)
	b.offline(false)
	b.saved()
	b.until(`document.querySelectorAll("#ranking [data-frame]").length === 14`)
	path := evaluate[string](b, `location.pathname`)
	if got := s.Staff().Get(path).Form().Values.Get("riders[0].weight_kg"); got != "82" {
		t.Errorf("kept is %q", got)
	}
}

// resumeADraft closes the tab while the shop's computer gives no answer, and
// comes back when it does.
func resumeADraft(t *testing.T, c *chromium) {
	var down atomic.Bool
	s := webtest.OpenWith(t, func(next http.Handler) http.Handler {
		return http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
			if down.Load() {
				panic(http.ErrAbortHandler)
			}
			next.ServeHTTP(w, r)
		})
	})
	b := c.tab(s)
	b.expect("net::ERR_")
	b.signIn()
	b.click(".start .primary")
	b.until(`document.querySelector("form[data-live]")`)
	path := evaluate[string](b, `location.pathname`)
	down.Store(true)
	b.write("riders[0].weight_kg", "12 st 4")
	b.click(`[name="unknown"][value="riders[0].height_cm"]`)
	b.until(`document.querySelector("[data-state].trouble")`)
	b.reopen()
	down.Store(false)
	if got := s.Staff().Get(path).Form().Values; got.Get("riders[0].weight_kg") != "" {
		t.Fatalf("it was sent after all: %v", got)
	}
	b.visit(path)
	b.saved()
	if got := b.value("riders[0].weight_kg"); got != "12 st 4" {
		t.Errorf("the page shows %q", got)
	}
	if got := s.Staff().Get(path).Form().Values; got.Get("riders[0].weight_kg") != "12 st 4" || got.Get("unknown") != "riders[0].height_cm" {
		t.Errorf("kept is %v", got)
	}
	// Where somebody has saved something else since, the page asks.
	down.Store(true)
	b.write("riders[0].weight_kg", "13 st")
	b.until(`document.querySelector("[data-state].trouble")`)
	b.reopen()
	down.Store(false)
	f := s.Staff().Get(path).Form()
	f.Set("riders[0].weight_kg", "11 st")
	s.Staff().Press(f, path, "save").Is(http.StatusOK, path)
	b.expect("status of 409")
	b.visit(path)
	b.until(`document.querySelectorAll("[data-clash] [type=radio]").length === 2`)
	if got := s.Staff().Get(path).Form().Values.Get("riders[0].weight_kg"); got != "11 st" {
		t.Errorf("unasked, %q is saved", got)
	}
	b.click(`[data-clash] [value="13 st"]`)
	b.click("[data-clash] .primary")
	b.until(`!localStorage.length`)
	if got := s.Staff().Get(path).Form().Values.Get("riders[0].weight_kg"); got != "13 st" {
		t.Errorf("chosen was 13 st, saved is %q", got)
	}
}

// pressWhileSending presses a button while an answer is still on its way, and
// holds that answer back until the button has done its work or clearly waits.
func pressWhileSending(t *testing.T, c *chromium) {
	held := make(chan struct{}, 100)
	pressed := make(chan struct{}, 100)
	s := webtest.OpenWith(t, func(next http.Handler) http.Handler {
		return http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
			if r.Method == http.MethodPost && strings.HasSuffix(r.URL.Path, "/live") {
				held <- struct{}{}
				select {
				case <-pressed:
				case <-time.After(time.Second):
				}
			}
			next.ServeHTTP(w, r)
			if r.Method == http.MethodPost && !strings.HasSuffix(r.URL.Path, "/live") {
				pressed <- struct{}{}
			}
		})
	})
	b := c.tab(s)
	b.signIn()
	b.click(".start .primary")
	b.until(`document.querySelector("form[data-live]")`)
	<-pressed // that was the new consultation
	b.write("cargo_kg", "12")
	<-held
	b.click(`button[value="add riders"]`)
	b.until(`document.getElementById("riders[1].height_cm")`)
	b.reload()
	if b.value("cargo_kg") != "12" || !evaluate[bool](b, `Boolean(document.getElementById("riders[1].height_cm"))`) {
		t.Error("the older answer came last and took the new row away")
	}
}

// switchUnits changes the units with figures typed in the former ones.
func switchUnits(t *testing.T, c *chromium) {
	b := c.tab(webtest.Open(t))
	b.signIn()
	b.click(".start .primary")
	b.until(`document.querySelector("form[data-live]")`)
	b.write("riders[0].height_cm", "178")
	b.write("riders[0].weight_kg", "82")
	b.choose("units", "imperial")
	b.until(`document.getElementById("riders[0].weight_kg").value === "82 kg"`)
	b.write("cargo_kg", "20")
	b.saved()
	b.click(".send .primary")
	b.until(`document.querySelector(".ranked .line")?.innerText.includes("lb to spare")`)
	b.click(".ranked h3 a")
	b.until(`document.querySelector("figure.sheet thead th:last-child")?.textContent === "lb"`)
	if got := b.words(".sum .cargo"); got != "" {
		t.Errorf("a swatch has words: %q", got)
	}
}

// buildByHand unticks what a passenger needs and ticks it again.
func buildByHand(t *testing.T, c *chromium) {
	s := webtest.Open(t)
	address := s.Staff().Interview([]byte(webtest.Family))
	b := c.tab(s)
	b.signIn()
	b.visit(address + "/frames/osier-m/by-hand")
	before := b.words("#result")
	box := `.picks input[value="stand-two-leg"]`
	if !evaluate[bool](b, fmt.Sprintf(`document.querySelector('%s').checked`, box)) {
		t.Fatal("the best set has no such stand")
	}
	b.click(box)
	b.until(`document.querySelector("#result .verdict.does_not_fit") && document.querySelector("[data-said]").textContent.includes("Does not fit")`)
	if evaluate[bool](b, `new URLSearchParams(location.search).getAll("on").includes("stand-two-leg")`) {
		t.Error("the address does not follow")
	}
	broken := b.words("#result")
	b.reload()
	if got := b.words("#result"); got != broken {
		t.Errorf("after a reload it says %q, before %q", got, broken)
	}
	b.click(box)
	b.until(`document.querySelector("#result .verdict:not(.does_not_fit)")`)
	if got := b.words("#result"); got != before {
		t.Errorf("ticked again it says %q, at first %q", got, before)
	}
}

// walkByKeyboard goes the whole way with Tab, Enter, Space and letters.
func walkByKeyboard(t *testing.T, c *chromium) {
	b := c.tab(webtest.Open(t))
	b.signIn()
	b.tabTo(".start .primary")
	b.do(chromedp.KeyEvent("\r"))
	b.until(`document.querySelector("form[data-live]")`)
	b.tabTo(field("riders[0].height_cm"))
	b.do(chromedp.KeyEvent("178"))
	b.tabTo(field("riders[0].weight_kg"))
	b.do(chromedp.KeyEvent("82"))
	b.tabTo(`[data-step="passengers"] > summary`)
	b.do(chromedp.KeyEvent("\r"))
	b.tabTo(`button[value="add passengers"]`)
	b.do(chromedp.KeyEvent(" "))
	b.until(`document.activeElement.id === "passengers[0].born"`)
	b.do(chromedp.KeyEvent("5.2023"))
	b.tabTo(`[value="passengers[0].weight_kg"]`)
	b.do(chromedp.KeyEvent(" "))
	b.until(`document.activeElement.checked`)
	b.saved()
	b.tabTo(".send .primary")
	b.do(chromedp.KeyEvent("\r"))
	b.until(`location.pathname.endsWith("/frames")`)
	b.tabTo(".points > summary")
	b.do(chromedp.KeyEvent(" "))
	b.until(`document.querySelector(".points").open`)
	b.visit(evaluate[string](b, `location.pathname`))
	b.tabTo(".ranked h3 a")
	b.do(chromedp.KeyEvent("\r"))
	b.until(`document.querySelector("figure.sheet tfoot .total td")`)
	b.tabTo(".back a")
}

// tabTo presses Tab until the element has the focus. Wherever the focus stops
// on the way it has to be seen.
func (b *tab) tabTo(selector string) {
	b.Helper()
	for range 150 {
		b.do(chromedp.KeyEvent("\t"))
		at := evaluate[struct {
			Found   bool
			Seen    bool
			Element string
		}](b, fmt.Sprintf(`(() => {
			const e = document.activeElement, r = e.getBoundingClientRect(), s = getComputedStyle(e);
			const on = document.elementFromPoint(Math.max(0, r.left + r.width / 2), r.top + r.height / 2);
			return { Found: e.matches(%q), Element: e.outerHTML.slice(0, 120),
				Seen: e === document.body || s.outlineStyle !== "none" && parseFloat(s.outlineWidth) >= 2 && r.width > 0 && r.bottom > 0 && r.top < innerHeight && (e === on || e.contains(on) || on?.contains(e)) };
		})()`, selector))
		if !at.Seen {
			b.Errorf("the focus is not seen on %s", at.Element)
		}
		if at.Found {
			return
		}
	}
	b.Fatalf("no Tab leads to %s", selector)
}
