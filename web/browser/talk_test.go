package browser_test

import (
	"fmt"
	"testing"

	"github.com/chromedp/cdproto/emulation"
	"github.com/chromedp/chromedp"

	"kinwain/web/webtest"
)

// TestTheTalkInABrowser talks as a salesperson does, with a tablet in hand.
func TestTheTalkInABrowser(t *testing.T) {
	c := browser(t)
	for name, walk := range map[string]func(*testing.T, *chromium){
		"from hello to the first ranking": countTheTalk,
		"one step after the other":        stepByStep,
		"what is folded":                  unfold,
		"what does not fit":               foldTheRest,
		"steps without script":            stepWithoutScript,
		"a line":                          typeALine,
		"a line without script":           typeALineWithoutScript,
		"no network, wherever":            dropTheNetworkBelow,
		"a month by the wheel":            pickAMonth,
	} {
		t.Run(name, func(t *testing.T) { walk(t, c) })
	}
}

// counted is a tab whose touches and filled fields are counted.
type counted struct {
	*tab
	taps, fields int
}

// tap touches something that is in sight; nothing opens it first.
func (n *counted) tap(selector string) {
	n.Helper()
	n.taps++
	n.do(chromedp.Click(chromedp.CSS(selector), chromedp.NodeVisible))
}

// fill types into the field that has the focus, after a touch where another has.
func (n *counted) fill(name, text string) {
	n.Helper()
	n.fields++
	if evaluate[string](n.tab, `document.activeElement.id`) != name {
		n.tap(field(name))
	}
	n.do(chromedp.KeyEvent(text))
}

// pick opens a choice and touches one of its words.
func (n *counted) pick(name, value string) {
	n.Helper()
	n.fields++
	n.taps += 2
	n.choose(name, value)
}

// countTheTalk goes from hello to the first honest ranking for two riders, two
// children and groceries.
func countTheTalk(t *testing.T, c *chromium) {
	n := &counted{tab: c.tab(webtest.Open(t))}
	n.signIn()
	n.tap(".start .primary")
	n.until(`document.querySelector("form[data-live]")`)
	n.fill("riders[0].height_cm", "180")
	n.fill("riders[0].weight_kg", "84")
	n.pick("riders[0].weighed", "dressed")
	n.tap(`button[value="add riders"]`)
	n.until(`document.activeElement.id === "riders[1].height_cm"`)
	n.fill("riders[1].height_cm", "5'5")
	n.fill("riders[1].weight_kg", "62")
	n.tap(`[data-step="riders"] .onward`)
	for i, born := range []string{"3 years", "14 months"} {
		n.tap(`button[value="add passengers"]`)
		n.until(fmt.Sprintf(`document.activeElement.id === "passengers[%d].born"`, i))
		n.fill(fmt.Sprintf("passengers[%d].born", i), born)
	}
	n.pick("passengers[1].sits_unaided", "yes")
	n.tap(`[data-step="passengers"] .onward`)
	n.until(`document.querySelector('[data-says="passengers"]').innerText.includes("14 months")`)
	n.tap(`button[value="bring groceries"]`)
	n.until(`document.getElementById("cargo_kg").value === "20 kg"`)
	n.saved()
	n.until(`document.querySelector("#ranking .short .line")?.innerText.includes("Carries")`)
	got := n.shop.Staff().Get(evaluate[string](n.tab, `location.pathname`)).Form().Values
	for name, want := range map[string]string{"riders[0].weight_kg": "84", "riders[1].height_cm": "5'5", "passengers[1].sits_unaided": "yes", "cargo_litres": "60 l"} {
		if got.Get(name) != want {
			t.Errorf("%s is %q, want %q", name, got.Get(name), want)
		}
	}
	t.Logf("%d fields and %d taps", n.fields, n.taps)
	if n.fields > 14 || n.taps > 20 {
		t.Errorf("%d fields and %d taps, want at most 14 and 20", n.fields, n.taps)
	}
}

// openSteps is which steps are open.
const openSteps = `[...document.querySelectorAll("details.step[open]")].map((s) => s.dataset.step).join(" ")`

// unfold comes to a field in a step that is closed while the page opens, and
// finds the other steps there when it has.
func unfold(t *testing.T, c *chromium) {
	b := c.tab(webtest.Open(t))
	b.signIn()
	b.click(".start .primary")
	b.until(openSteps + ` === "riders"`)
	address := evaluate[string](b, `location.pathname`)
	b.visit("/")
	b.visit(address + "#cargo_kg")
	b.until(openSteps + ` === "cargo" && document.getElementById("cargo_kg").checkVisibility({ visibilityProperty: true, contentVisibilityAuto: true })`)
	b.until(`[...document.querySelectorAll(".step:not([open]) > fieldset")].every((f) => getComputedStyle(f).display !== "none")`)
}

// stepByStep opens one step after the other, goes away and comes back.
func stepByStep(t *testing.T, c *chromium) {
	b := c.tab(webtest.Open(t))
	b.signIn()
	b.click(".start .primary")
	b.until(openSteps + ` === "riders"`)
	b.write("riders[0].height_cm", "1.80")
	b.until(`document.querySelector('[data-reads="riders[0].height_cm"]').innerText === "180 cm"`)
	b.write("riders[0].weight_kg", "84")
	b.click(`[data-step="riders"] .onward`)
	b.until(openSteps + ` === "passengers"`)
	b.until(`document.querySelector('[data-says="riders"]').innerText === "A 180 cm, 84 kg told"`)
	b.click(`[data-step="money"] > summary`)
	b.until(openSteps + ` === "money"`)
	b.until(`history.state?.step === "money"`)
	b.reload()
	b.until(openSteps + ` === "money"`)
	b.write("budget_cents", "much")
	b.until(`document.querySelector('[data-error-for="budget_cents"]').innerText !== ""`) // while the field has the focus
	b.click(`[data-step="home"] > summary`)
	b.until(`document.querySelector('[data-step="money"]').matches(".mend")`)
	if n := evaluate[int](b, `document.querySelectorAll(".bad").length`); n != 1 {
		t.Errorf("one answer cannot be right, and %d fields are marked", n)
	}
	if n := evaluate[int](b, `document.querySelectorAll("#ranking [data-frame]").length`); n != 14 {
		t.Errorf("a budget that cannot be read leaves %d frames", n)
	}
	b.click(".send .primary")
	b.until(openSteps + ` === "money" && document.activeElement.id === "budget_cents"`)
	b.write("budget_cents", "3000")
	b.saved()
	b.click(`[data-step="home"] > summary`)
	b.until(`history.state?.step === "home"`)
	b.click(".send .primary")
	b.until(`location.pathname.endsWith("/frames")`)
	evaluate[chromedp.Void](b, `history.back()`)
	b.until(openSteps + ` === "home"`)
}

// stepWithoutScript goes through the steps by the browser alone.
func stepWithoutScript(t *testing.T, c *chromium) {
	b := c.tab(webtest.Open(t))
	b.withoutScript()
	b.signIn()
	b.click(".start .primary")
	b.until(openSteps + ` === "riders"`)
	b.write("riders[0].height_cm", "178")
	b.write("riders[0].weight_kg", "82")
	b.click(`[data-step="riders"] .onward`)
	b.until(openSteps + ` === "passengers"`)
	b.click(`button[value="add passengers"]`)
	b.until(openSteps + ` === "passengers" && document.getElementById("passengers[0].born")`)
	b.write("passengers[0].born", "3 years")
	b.click(`button[value="again passengers 0"]`)
	b.until(openSteps + ` === "passengers" && document.getElementById("passengers[1].born")?.value`)
	b.click(`[data-step="cargo"] > summary`)
	b.until(openSteps + ` === "cargo"`)
	b.click(`button[value="bring groceries"]`)
	b.until(openSteps + ` === "cargo" && document.getElementById("cargo_kg").value === "20 kg"`)
	b.click(`[data-step="home"] > summary`)
	b.until(openSteps + ` === "home"`)
	b.write("home.length_cm", "long")
	b.click(".send .primary")
	b.until(openSteps + ` === "home" && document.querySelector('[data-error-for="home.length_cm"]').innerText !== ""`)
}

// withoutScript opens pages as where no script runs.
func (b *tab) withoutScript() {
	b.Helper()
	if _, err := chromedp.Call(b.ctx, emulation.SetScriptExecutionDisabled, emulation.SetScriptExecutionDisabledParams{Value: true}); err != nil {
		b.Fatal(err)
	}
}

// typeALine types as one hears it, and answers what it asks.
func typeALine(t *testing.T, c *chromium) {
	b := c.tab(webtest.Open(t))
	b.signIn()
	b.click(".start .primary")
	b.until(`document.querySelector("form[data-live]")`)
	b.write("line", "5'11 84 kg and 163 62 kg, kids 3 and 5, groceries 20, a red one, 5500")
	b.do(chromedp.KeyEvent("\r"))
	b.until(`document.querySelectorAll("[data-hearing] li").length === 7 && document.getElementById("passengers[1].born")?.value`)
	b.until(`document.querySelectorAll("#ranking [data-frame]").length === 14`)
	if b.value("line") != "groceries 20, a red one" || b.value("riders[1].weight_kg") != "62 kg" {
		t.Errorf("the line is %q", b.value("line"))
	}
	b.click(`[value="mean cargo_kg groceries 20"]`)
	b.until(`document.getElementById("line").value === "a red one" && document.getElementById("cargo_kg").value === "20 kg"`)
	if n := evaluate[int](b, `document.querySelectorAll("[id$='].born']").length`); n != 2 {
		t.Errorf("%d children come along", n)
	}
}

// typeALineWithoutScript does the same by its button.
func typeALineWithoutScript(t *testing.T, c *chromium) {
	b := c.tab(webtest.Open(t))
	b.withoutScript()
	b.signIn()
	b.click(".start .primary")
	b.until(`document.querySelector("form[data-live]")`)
	b.write("line", "178 82 kg, dog 30, a red one")
	b.click(`button[value="hear"]`)
	b.until(`document.querySelectorAll("[data-hearing] li").length === 3`)
	if b.value("line") != "a red one" || b.value("pet_kg") != "30 kg" {
		t.Errorf("the line is %q, the pet %q", b.value("line"), b.value("pet_kg"))
	}
}

// dropTheNetworkBelow loses the network on a phone that shows the end of the
// page, and reads so there.
func dropTheNetworkBelow(t *testing.T, c *chromium) {
	b := c.tab(webtest.Open(t))
	b.signIn()
	b.do(chromedp.EmulateViewport(390, 844))
	b.click(".start .primary")
	b.until(`document.querySelector("form[data-live]")`)
	b.write("riders[0].height_cm", "178")
	b.write("riders[0].weight_kg", "82")
	b.saved()
	b.expect("ERR_INTERNET_DISCONNECTED")
	b.offline(true)
	b.write("riders[0].weight_kg", "83")
	b.until(`document.querySelector("[data-state].trouble")`)
	for _, to := range []string{"0", "document.body.scrollHeight / 2", "document.body.scrollHeight"} {
		evaluate[chromedp.Void](b, `scrollTo(0, `+to+`)`)
		b.until(`(() => {
			const e = document.querySelector("[data-state]"), r = e.getBoundingClientRect();
			return r.top >= 0 && r.bottom <= innerHeight && e.contains(document.elementFromPoint(r.left + 20, r.top + 10));
		})()`)
	}
	b.offline(false)
	b.saved()
}

// foldTheRest opens and closes those that do not fit: as somebody has turned them
// they stay while others fit, and where nothing does they are open.
func foldTheRest(t *testing.T, c *chromium) {
	s := webtest.Open(t)
	b := c.tab(s)
	b.signIn()
	b.visit(s.Staff().Interview([]byte(webtest.Family)))
	const open = `document.querySelector("#ranking details.unfit").open`
	answered := func(name, text string) {
		was := evaluate[string](b, `document.querySelector("[data-version]").dataset.version`)
		b.write(name, text)
		b.until(fmt.Sprintf(`Number(document.querySelector("[data-version]").dataset.version) > %s`, was))
		b.saved()
	}
	for _, step := range []struct {
		cargo string
		turn  bool
		open  bool
	}{{"4", false, false}, {"400", false, true}, {"5", true, true}, {"6", false, true}, {"7", true, false}, {"8", false, false}, {"300", false, true}, {"9", false, false}} {
		answered("cargo_kg", step.cargo)
		if step.turn {
			b.click("#ranking details.unfit summary")
		}
		if is := evaluate[bool](b, open); is != step.open {
			t.Errorf("with %s kg of cargo those that do not fit are open: %t", step.cargo, is)
		}
	}
}

// pickAMonth tells a birth by the wheel of the device, which opens by keyboard at
// the month that the field has.
func pickAMonth(t *testing.T, c *chromium) {
	b := c.tab(webtest.Open(t))
	b.signIn()
	b.click(".start .primary")
	b.until(`document.querySelector("form[data-live]")`)
	b.click(`[data-step="riders"] .onward`)
	b.click(`button[value="add passengers"]`)
	b.until(`document.activeElement.id === "passengers[0].born"`)
	b.write("passengers[0].born", "14 months")
	b.until(`document.getElementById("passengers[0].born").value === "9.2025" || document.querySelector('[data-reads="passengers[0].born"]').innerText === "14 months"`)
	b.saved()
	b.do(chromedp.Focus(chromedp.CSS(field("passengers[0].born"))))
	// A busy tablet: keys come before timers.
	evaluate[bool](b, `((wait) => { window.setTimeout = (f, ms = 0) => wait(f, ms + 1000); return true; })(window.setTimeout)`)
	b.do(chromedp.KeyEvent("\t"))
	if got := evaluate[string](b, `document.activeElement.innerText.replace(/\s+/g, " ")`); got != "pick the month: Born" {
		t.Fatalf("after the field comes %q", got)
	}
	if size := evaluate[float64](b, `(({width, height}) => Math.min(width, height))(document.activeElement.getBoundingClientRect())`); size < 44 {
		t.Errorf("the button is %v px", size)
	}
	evaluate[bool](b, `(HTMLInputElement.prototype.showPicker = function () { window.openedAt = this.value; }, true)`)
	b.do(chromedp.KeyEvent("\r"))
	b.until(`window.openedAt`)
	if got := evaluate[string](b, `window.openedAt`); got != "2025-09" {
		t.Errorf("the wheel opens at %q", got)
	}
	evaluate[bool](b, `((wheel) => { wheel.value = "2024-03"; for (const told of ["input", "change"]) wheel.dispatchEvent(new Event(told, { bubbles: true })); return true; })(document.querySelector(".wheel"))`)
	if got := b.value("passengers[0].born"); got != "3.2024" {
		t.Errorf("the field holds %q", got)
	}
	b.until(`document.querySelector('[data-reads="passengers[0].born"]').innerText.includes("32 months")`)
	b.saved()
	if got := b.shop.Staff().Get(evaluate[string](b, `location.pathname`)).Form().Values.Get("passengers[0].born"); got != "3.2024" {
		t.Errorf("saved is %q", got)
	}
}
