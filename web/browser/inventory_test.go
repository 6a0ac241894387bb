package browser_test

import (
	"fmt"
	"net/http"
	"net/url"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/chromedp/chromedp"
	"github.com/chromedp/chromedp/kb"

	"kinwain/web/webtest"
)

// pressTabTo presses Tab until an element has the focus, as somebody without a
// mouse does.
func (b *tab) pressTabTo(selector string) {
	b.Helper()
	for range 400 {
		if evaluate[bool](b, fmt.Sprintf(`document.activeElement.matches(%q)`, selector)) {
			return
		}
		b.do(chromedp.KeyEvent("\t"))
	}
	b.Fatalf("Tab never reaches %s", selector)
}

// keys types into what has the focus, over what is there.
func (b *tab) keys(text string) {
	b.Helper()
	evaluate[chromedp.Void](b, `document.activeElement.select?.()`)
	b.do(chromedp.KeyEvent(text))
}

// enter presses the Enter key and waits for another page.
func (b *tab) enter() {
	b.Helper()
	evaluate[chromedp.Void](b, `window.before = true`)
	b.do(chromedp.KeyEvent("\r"))
	b.until(`window.before === undefined`)
}

func TestInventoryByKeyboard(t *testing.T) {
	s := webtest.Open(t)
	b := browser(t).tab(s)
	b.signIn()
	b.visit("/inventory/frames")
	frame := s.Catalogue().Frames[3]

	// Search as you type, and go on to the frame.
	b.pressTabTo("#q")
	b.keys(frame.Code)
	b.until(`[...document.querySelectorAll(".wares tbody tr")].filter((r) => !r.hidden).length < 4`)
	if said := b.words("[data-narrowed]"); !strings.HasSuffix(said, fmt.Sprintf("of %d", len(s.Catalogue().Frames))) {
		t.Errorf("said %q", said)
	}
	path := "/inventory/frames/" + frame.Code
	b.pressTabTo(`.wares a[href="` + path + `"]`)
	b.enter()

	// One figure, saved by Enter in its field.
	b.pressTabTo(field("bare_weight_kg"))
	b.keys("30,4")
	b.enter()
	b.until(`document.querySelector(".done")`)
	if got := s.Catalogue().Frame(frame.Code).BareWeight; got != 30400 {
		t.Errorf("bare weight %v", got)
	}

	// A zone more: the focus is in its first field.
	b.pressTabTo(`button[value="add zones"]`)
	b.enter()
	code := fmt.Sprintf("zones[%d].code", len(frame.Zones))
	b.until(fmt.Sprintf(`document.activeElement.id === %q`, code))
	b.keys("keel")
	b.pressTabTo(field(fmt.Sprintf("zones[%d].rating_kg", len(frame.Zones))))
	b.keys("6")
	b.enter()
	b.until(`document.querySelector(".done")`)

	// Undone from the frame's own page, and told so.
	b.pressTabTo(`.history button`)
	b.enter()
	b.until(`document.querySelector(".done")?.textContent.startsWith("Undone.")`)
	if zones := s.Catalogue().Frame(frame.Code).Zones; len(zones) != len(frame.Zones) {
		t.Errorf("%d zones", len(zones))
	}
}

func TestFitsByKeyboard(t *testing.T) {
	s := webtest.Open(t)
	b := browser(t).tab(s)
	b.signIn()
	b.visit("/inventory/fits")
	seat := s.Catalogue().AddOns[0]
	var never string
	for _, f := range s.Catalogue().Frames {
		for _, use := range seat.Uses {
			if f.Capacity(use.Mount) < use.Count {
				never = f.Code
			}
		}
	}
	pair := seat.Code + " " + never
	box := `input[name="fit"][value="` + pair + `"]`
	// The grid is one stop of the tab key; arrows go on within it.
	const stands = `document.querySelector(".fit-grid").offsetTop`
	before := evaluate[float64](b, stands)
	b.pressTabTo(`input[name="fit"]`)
	b.arrowTo(box)
	b.do(chromedp.KeyEvent(" "))
	b.until(`document.querySelector(".misfits .faulty")`) // at once, without a button
	if after := evaluate[float64](b, stands); after != before {
		t.Errorf("what is said moves the grid by %g px", after-before)
	}
	b.until(`document.querySelector('` + box + `').closest("td").matches(".misfit")`)
	b.expect("422")
	b.enter() // in any box, without a way through all of them
	b.until(`document.querySelector(".alert")`)
	if !evaluate[bool](b, `document.querySelector('`+box+`').checked`) {
		t.Error("the tick is lost")
	}
	b.pressTabTo(`input[name="fit"]`)
	b.arrowTo(box)
	b.do(chromedp.KeyEvent(" "))
	b.until(`!document.querySelector(".misfits .faulty")`)
	b.enter() // in any box, without a way through all of them
	b.until(`document.querySelector(".done")`)
}

// arrowTo presses the arrow to the right until a box of the grid's first row
// has the focus, from the first box of the row on.
func (b *tab) arrowTo(selector string) {
	b.Helper()
	b.do(chromedp.KeyEvent(kb.Home))
	for range 40 {
		if evaluate[bool](b, fmt.Sprintf(`document.activeElement.matches(%q)`, selector)) {
			return
		}
		b.do(chromedp.KeyEvent(kb.ArrowRight))
	}
	b.Fatalf("the arrows never reach %s", selector)
}

func TestClashByKeyboard(t *testing.T) {
	s := webtest.Open(t)
	b := browser(t).tab(s)
	b.signIn()
	tag := s.Catalogue().Units[0].Tag
	path := "/inventory/units/" + tag
	b.visit(path)
	v := s.Staff()
	theirs := v.Get(path).Ware()
	theirs.Set("colour", "moss")
	v.Save(path, theirs, "save")
	b.pressTabTo(field("colour"))
	b.keys("rust")
	b.expect("409")
	b.enter()
	b.until(`document.activeElement.matches(".clashes")`) // what went wrong is read first
	b.pressTabTo(`.clashes input[type="radio"]`)
	b.do(chromedp.KeyEvent(" "))
	b.pressTabTo(`.clashes button`)
	b.enter()
	b.until(`document.querySelector(".done")`)
	if got := s.Catalogue().Units[0].Colour; got != "rust" {
		t.Errorf("colour %q", got)
	}
}

// TestInventoryFitsEveryScreen looks for what hangs over the edge, and for
// targets that are too small to hit.
func TestInventoryFitsEveryScreen(t *testing.T) {
	s := webtest.Open(t)
	b := browser(t).tab(s)
	b.signIn()
	c := s.Catalogue()
	for _, path := range []string{"", "/frames", "/frames?edit=type", "/add-ons?edit=price_cents", "/family?of=" + c.Frames[0].Code, "/add-ons", "/units", "/fits", "/history", "/own", "/frames/" + c.Frames[0].Code, "/add-ons/" + c.AddOns[0].Code, "/units/" + c.Units[0].Tag} {
		b.visit("/inventory" + path)
		for _, width := range []int64{390, 820, 1280} {
			b.do(chromedp.EmulateViewport(width, 900))
			if over := evaluate[int](b, `document.documentElement.scrollWidth - innerWidth`); over > 0 {
				t.Errorf("%s at %d: %d px too wide", path, width, over)
			}
			small := evaluate[string](b, `[...document.querySelectorAll("main a, main button, main input:not([type=hidden]), main select, main textarea")]
				.filter((e) => e.checkVisibility() && !e.matches(".default")).filter((e) => (e.closest("label") ?? e).getBoundingClientRect().height < 43.5)
				.map((e) => e.outerHTML.slice(0, 80)).slice(0, 3).join("\n")`)
			if small != "" {
				t.Errorf("%s at %d: too small: %s", path, width, small)
			}
		}
	}
}

// inventoryPaths are the pages of an inventory in which something was
// changed, retired and photographed.
func inventoryPaths(v *webtest.Visitor) []string {
	v.Helper()
	frame, addOn, unit := v.AnyCode()
	path := "/inventory/frames/" + frame
	form := v.Get(path).Ware()
	form.Set("notes", "Held against the new sheet of the maker.")
	form.Set("zones[0].rating_kg", "14")
	form.Values.Set("do", "save")
	v.Sure(path, form.Values).Is(http.StatusOK, path)
	v.SendPhoto(path, "From the left, on the quay", webtest.PictureOf(v.T, 300, 200))
	v.Sure("/inventory/units/"+unit+"/retire", url.Values{"do": {"retire"}})
	v.Talks(6)
	return []string{"/inventory", "/inventory/own", "/inventory?q=" + frame, "/inventory/frames", "/inventory/add-ons", "/inventory/units", "/inventory/fits", "/inventory/history", "/inventory/concerned",
		path, "/inventory/add-ons/" + addOn, "/inventory/units/" + unit, "/inventory/units/new",
		"/inventory/add-ons?edit=price_cents&sort=price_cents", "/inventory/family?of=" + frame, "/inventory/frames/new?from=" + frame}
}

// TestLifeByKeyboard makes another add-on like one, gives it a photo, retires
// it, brings it back and deletes it.
func TestLifeByKeyboard(t *testing.T) {
	s := webtest.Open(t)
	b := browser(t).tab(s)
	b.signIn()
	b.visit("/inventory/add-ons/lock-chain")
	b.pressTabTo(`.ware-ways a[href*="from=lock-chain"]`)
	b.enter()
	b.pressTabTo(field("code"))
	b.keys("lock-ring")
	b.enter()
	b.until(`document.querySelector(".done")`)
	if s.Catalogue().AddOn("lock-ring") == nil {
		t.Fatal("there is no other one like it")
	}

	file := filepath.Join(t.TempDir(), "lock.png")
	if err := os.WriteFile(file, webtest.PictureOf(t, 40, 30), 0o600); err != nil {
		t.Fatal(err)
	}
	b.do(chromedp.SetUploadFiles("#picture", []string{file})) // the browser's own window takes no keys here
	b.pressTabTo("#alt")
	b.keys("A ring that locks the rear wheel")
	b.pressTabTo(`#photo button[value="save"]`)
	b.enter()
	b.until(`document.querySelector(".ware-photo")?.naturalWidth > 0`)

	b.pressTabTo(`button[value="retire"]`)
	b.enter()
	b.until(`document.querySelector("h1 .verdict")`)
	b.pressTabTo(`button[value="back"]`)
	b.enter()
	b.until(`!document.querySelector("h1 .verdict")`)
	b.pressTabTo(`form[action$="/delete"] button`)
	b.enter()
	if s.Catalogue().AddOn("lock-ring") != nil {
		t.Error("it is not deleted")
	}
}

// TestLeavingUnsavedEdits asks before a form is left while something in it is
// not saved, and never after a save.
func TestLeavingUnsavedEdits(t *testing.T) {
	s := webtest.Open(t)
	b := browser(t).tab(s)
	b.signIn()
	frame := s.Catalogue().Frames[3]
	b.visit("/inventory/frames/" + frame.Code)
	asks := func(when string, want bool) {
		t.Helper()
		if got := evaluate[bool](b, `!dispatchEvent(new Event("beforeunload", { cancelable: true }))`); got != want {
			t.Errorf("%s it asks: %v", when, got)
		}
	}
	weight := b.value("bare_weight_kg")
	asks("untouched", false)
	b.write("bare_weight_kg", "31.5")
	asks("with another weight", true)
	b.write("bare_weight_kg", weight)
	asks("with the weight of before", false)
	b.write("alt", "Seen from the left")
	asks("with words for a photo", true)
	b.write("alt", "")
	b.write("bare_weight_kg", "31.5")
	b.click(`button[value="add zones"]`)
	b.until(`document.querySelector("form[data-unsaved]")`)
	asks("with a row more", true)
	b.click(`button[value="remove zones ` + fmt.Sprint(len(frame.Zones)) + `"]`)
	b.until(fmt.Sprintf(`!document.getElementById("zones[%d].code")`, len(frame.Zones)))
	b.click(`.stuck button[value="save"]`)
	b.until(`document.querySelector(".done")`)
	asks("saved", false)
	if got := s.Catalogue().Frame(frame.Code).BareWeight; got != 31500 {
		t.Errorf("bare weight %v", got)
	}
	for _, path := range []string{"/inventory/frames?edit=price_cents", "/inventory/family?of=" + frame.Code, "/settings/figures"} {
		b.visit(path)
		asks(path+", untouched,", false)
		b.click(`form[data-guard] input[type=text]`)
		b.do(chromedp.KeyEvent("7"))
		asks(path, true)
		b.do(chromedp.KeyEvent("\b"))
		asks(path+", as it was,", false)
	}
}
