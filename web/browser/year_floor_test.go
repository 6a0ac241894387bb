package browser_test

import (
	"strings"

	"github.com/chromedp/chromedp"

	"kinwain/web/webtest"
)

// delivery adds ten bikes with their serial numbers, which are pasted.
func delivery(y *year) {
	y.visit("/inventory/units")
	y.goes(`a[href="/inventory/delivery"]`)
	y.fill("#count", "10")
	y.paste("#serials", "A1\nA2\nA3\nA4\nA5\nA6\nA7\nA8\nA9\nA10")
	y.fill("#frame", "osier-l-1")
	y.fill("#colour", "rust")
	y.sends(`.stuck button`)
	y.done("10 bikes are in the inventory")
	c := y.shop.Catalogue()
	if last := c.Units[len(c.Units)-1]; last.Serial != "A10" || last.Frame != "osier-l-1" || last.Colour != "rust" || last.Status != "available" {
		y.Errorf("the last one is %+v", last)
	}
}

// labels prints the labels of two bikes.
func labels(y *year) {
	y.visit("/labels")
	y.press(`input[name="tag"][value="D-013-0"]`)
	y.press(`input[name="tag"][value="S-109-0"]`)
	y.sends(`.choose-labels button`)
	evaluate[chromedp.Void](y.tab, `window.print = () => { window.printed = document.querySelectorAll(".labels li").length; }`)
	y.press(`[data-print]`)
	y.until(`window.printed === 2`)
}

// scanForCustomer opens the bike in front of a customer, whose frames were open.
func scanForCustomer(y *year) {
	y.visit(y.customer + "/frames")
	y.visit("/units")
	y.scan(webtest.Public + "/units/D-014-0")
	y.until(`location.pathname.endsWith("/frames/osier-m-0") && document.querySelector(".one-bike")`)
}

// scan types what a scanner reads, which presses Enter, too. Nobody touches
// anything: the field has the focus.
func (y *year) scan(read string) {
	y.Helper()
	y.until(`document.activeElement.id === "tag"`)
	y.fields++
	y.presses++
	y.keys(read)
	y.enter()
}

// stocktake scans three bikes of the shop and finishes: the others are not seen.
func stocktake(y *year) {
	y.visit("/stocktakes")
	y.goes(`main form button`)
	for _, tag := range []string{"D-011-0", webtest.Public + "/units/D-013-0", "S-106-0"} {
		y.scan(tag)
	}
	y.press(`a[href="#finish"]`)
	y.goes(`form[action$="/finish"] button`)
	y.done("Finished")
	if said := y.words("h1"); !strings.Contains(said, "3 seen") || strings.Contains(said, " 0 not seen") {
		y.Errorf("it says %q", said)
	}
	if missing := y.words("section:has(#missing)"); !strings.Contains(missing, "S-105-0") || strings.Contains(missing, "D-013-0") {
		y.Errorf("not seen: %q", missing)
	}
}

// labourRate makes an hour of work dearer.
func labourRate(y *year) {
	y.visit("/settings/shop")
	y.fill(field("labour_cents_per_hour"), "72,50")
	y.sends(`.send .primary`)
	y.done("Saved")
	if got := y.shop.Catalogue().Shop.LabourPerHour; got != 7250 {
		y.Errorf("the rate is %d cents an hour", got)
	}
}

// settingAndUndo changes a figure that a quote follows from, sees whom it
// concerns, and takes it back.
func settingAndUndo(y *year) {
	y.visit("/settings/figures")
	y.fill(field("clothing_g"), "19 lb")
	y.sends(`.send .primary`)
	y.until(`document.querySelector(".clashes .concerns")?.textContent.includes("quote")`)
	y.done("Saved")
	if got := y.shop.Settings()["clothing_g"]; got != 8618 { // 19 × 0.45359237 kg, to the gram
		y.Errorf("19 lb are kept as %d g", got)
	}
	y.concerned("as quoted in Q-2026-0001: fits with care → does not fit", true)
	y.visit("/inventory/history")
	y.goes(`main .history form button`)
	y.done("Undone")
	y.concerned("does not fit", false)
	if kept := y.shop.Settings(); len(kept) != 0 {
		y.Errorf("%v is kept", kept)
	}
}

// concerned looks whether somebody is concerned, as the page of all says.
func (y *year) concerned(words string, want bool) {
	y.Helper()
	y.shop.Settle()
	y.visit("/inventory/concerned")
	if said := y.words(".concerned"); strings.Contains(said, words) != want {
		y.Errorf("%q: want %v; it says %.300q", words, want, said)
	}
}

// whatToOwn reads which bikes the shop should own, and takes the counts along.
func whatToOwn(y *year) {
	y.visit("/inventory")
	y.goes(`.tabs a[href="/inventory/own"]`)
	y.until(`document.querySelector(".own-said")`)
	y.to(`main a[href="/inventory/own/counts"]`)
	evaluate[chromedp.Void](y.tab, `{ fetch(document.querySelector('main a[href="/inventory/own/counts"]').href).then((a) => { window.counts = a.headers.get("Content-Type"); }); }`)
	y.until(`window.counts?.startsWith("text/csv")`)
}

// whatProgramsAsk finds what other programs may ask of the shop.
func whatProgramsAsk(y *year) {
	y.expect("favicon.ico") // a document has no icon of its own, and the browser looks for one
	y.visit("/settings/tokens")
	y.goes(`a[href="/openapi.json"]`)
	y.until(`document.body.innerText.includes("openapi")`)
}
