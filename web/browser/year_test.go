package browser_test

import (
	"fmt"
	"slices"
	"strings"
	"testing"

	"github.com/chromedp/chromedp"

	"kinwain/internal/catalog"
	"kinwain/internal/store"
	"kinwain/internal/wideshop"
	"kinwain/web/webtest"
)

// TestTheManagersYearInABrowser does what the morning asks for after next
// year's price lists came, in a shop of 60 frames and 400 add-ons: one task after
// the other, in any order.
func TestTheManagersYearInABrowser(t *testing.T) {
	c := browser(t)
	s := wide(t)
	for name, task := range map[string]func(*testing.T, *webtest.Shop, *counted){
		"one price in place":      onePrice,
		"all prices by per cent":  allPrices,
		"prices from a list":      listedPrices,
		"next year's family":      nextFamily,
		"an add-on among many":    amongMany,
		"a bike that is alike":    anotherFrame,
		"the dearest to the top":  dearest,
		"a column on a phone":     columnByTouch,
		"without script, as well": columnWithoutScript,
	} {
		t.Run(name, func(t *testing.T) {
			b := c.tab(s)
			b.T = t
			b.signIn()
			task(t, s, &counted{tab: b})
		})
	}
}

// wide is a shop of 60 frames and 400 add-ons.
func wide(t *testing.T) *webtest.Shop {
	t.Helper()
	s := webtest.Open(t)
	c, revision, err := s.Store.CatalogueAt(t.Context())
	if err != nil {
		t.Fatal(err)
	}
	if err := s.Store.ReplaceCatalogueAt(t.Context(), revision, wideshop.Of(c, 60, 400), store.Author{Who: "B", How: store.ByImport, At: s.Clock()}); err != nil {
		t.Fatal(err)
	}
	return s
}

// near puts the focus a few stops of the tab key before something and goes on
// from there: how many stops a wide shop has is not what is counted, and others
// walk through these pages from their beginning.
func (n *counted) near(selector string) {
	n.Helper()
	evaluate[chromedp.Void](n.tab, fmt.Sprintf(`{
		const stops = [...document.querySelectorAll("a[href], button, input, select, textarea, summary, [tabindex]")].filter((e) => e.tabIndex >= 0 && e.checkVisibility());
		stops[Math.max(0, stops.findIndex((e) => e.matches(%q)) - 3)].focus();
	}`, selector))
	n.pressTabTo(selector)
}

// goes reaches something with the tab key and presses Enter there.
func (n *counted) goes(selector string) {
	n.Helper()
	n.near(selector)
	n.taps++
	n.enter()
}

// types reaches a field with the tab key and types into it.
func (n *counted) types(selector, text string) {
	n.Helper()
	n.near(selector)
	n.fields++
	n.keys(text)
}

// atMost holds what was counted against what a task may take.
func (n *counted) atMost(fields, presses int) {
	n.Helper()
	n.Logf("%d fields, %d presses", n.fields, n.taps)
	if n.fields > fields || n.taps > presses {
		n.Errorf("%d fields and %d presses, where %d and %d would do", n.fields, n.taps, fields, presses)
	}
}

const addOns = "/inventory/add-ons"

// onePrice finds an add-on among 400, types its price in the list and saves.
func onePrice(t *testing.T, s *webtest.Shop, n *counted) {
	n.visit(addOns)
	n.types("#q", "lock-chain-7")
	n.enter()
	n.taps++
	n.goes(`form:has(#edit) button`)
	n.types(`.typed input[name="to"]`, "49,90")
	n.enter()
	n.taps++
	n.until(`document.querySelector(".done")`)
	if got := s.Catalogue().AddOn("lock-chain-7").Price; got != 4990 {
		t.Errorf("it costs %v", got)
	}
	n.atMost(3, 3)
}

// allPrices makes everything 3.5 per cent dearer, rounded as prices end.
func allPrices(t *testing.T, s *webtest.Shop, n *counted) {
	before := s.Catalogue()
	n.visit(addOns + "?edit=price_cents")
	n.types("#much", "3,5")
	n.choose("round", "0.95")
	n.fields++
	n.goes(`button[value="sum"]`)
	n.goes(`main form button.primary`)
	n.until(`document.querySelector(".done")`)
	after := s.Catalogue()
	for i := range before.AddOns {
		if was, is := before.AddOns[i].Price, after.AddOns[i].Price; is%100 != 95 || is < was || is > was+was/20+100 {
			t.Errorf("%s: %v became %v", before.AddOns[i].Code, was, is)
		}
	}
	n.atMost(2, 2)
}

func listedPrices(t *testing.T, s *webtest.Shop, n *counted) {
	n.visit(addOns + "?edit=price_cents")
	n.near("#list")
	n.fields++
	evaluate[chromedp.Void](n.tab, `document.activeElement.value = "lock-chain-2\t41,50\nseat-rear-3\t151\n"`)
	n.goes(`button[value="list"]`)
	n.goes(`main form button.primary`)
	n.until(`document.querySelector(".done")`)
	c := s.Catalogue()
	if c.AddOn("lock-chain-2").Price != 4150 || c.AddOn("seat-rear-3").Price != 15100 {
		t.Errorf("%v and %v", c.AddOn("lock-chain-2").Price, c.AddOn("seat-rear-3").Price)
	}
	n.atMost(1, 2)
}

// nextFamily makes next year's of a family, of which two figures are others.
func nextFamily(t *testing.T, s *webtest.Shop, n *counted) {
	before := s.Catalogue()
	n.visit("/inventory/frames/sedge-1")
	n.goes(`.send a[href*="family"]`)
	n.types(field("f0:gross_rating_kg"), "181")
	n.types(field("f0:price_cents"), "2150")
	n.enter()
	n.taps++
	n.until(`document.querySelector(".done")`)
	after := s.Catalogue()
	if len(after.Frames) <= len(before.Frames) {
		t.Fatal("no frame more")
	}
	f := after.Frames[len(before.Frames)]
	if f.Price != 215000 || f.GrossRating != 181_000 {
		t.Errorf("%v, %v", f.Price, f.GrossRating)
	}
	n.atMost(2, 2)
}

// amongMany names one of 400 add-ons by what people call it.
func amongMany(t *testing.T, s *webtest.Shop, n *counted) {
	n.visit("/inventory/add-ons/seat-rear-1")
	n.types(`input[name="excludes"][value=""]`, "lock-chain-4")
	n.enter()
	n.taps++
	n.until(`document.querySelector(".done, .consequences")`)
	if evaluate[bool](n.tab, `!!document.querySelector(".consequences")`) {
		n.goes(`.clashes button.primary`)
	}
	if got := s.Catalogue().AddOn("seat-rear-1").Excludes; !slices.Contains(got, "lock-chain-4") {
		t.Errorf("never together with %v", got)
	}
	n.atMost(1, 2)
}

func anotherFrame(t *testing.T, s *webtest.Shop, n *counted) {
	n.visit("/inventory/frames/sedge-1")
	n.goes(`.send a[href*="from=sedge-1"]`)
	n.types(field("code"), "sedge-tall")
	n.enter()
	n.taps++
	n.until(`document.querySelector(".done")`)
	fits := func(code string) (n int) {
		for _, a := range s.Catalogue().AddOns {
			if slices.Contains(a.Fits, code) {
				n++
			}
		}
		return n
	}
	if fits("sedge-tall") == 0 || fits("sedge-tall") != fits("sedge-1") {
		t.Errorf("%d fit it, %d the other", fits("sedge-tall"), fits("sedge-1"))
	}
	n.atMost(1, 2)
}

func dearest(t *testing.T, s *webtest.Shop, n *counted) {
	n.visit("/inventory/frames")
	n.goes(`th a[href*="sort=price_cents"]`)
	n.goes(`th[aria-sort="ascending"] a`)
	c := s.Catalogue()
	most := slices.MaxFunc(c.Frames, func(a, b catalog.Frame) int { return int(a.Price - b.Price) }).Price
	code := evaluate[string](n.tab, `document.querySelector(".wares tbody .kind").textContent`)
	if got := c.Frame(strings.TrimSpace(code)); got == nil || got.Price != most {
		t.Errorf("%s is first", code)
	}
	n.atMost(0, 2)
}

// columnByTouch types a weight in the list with a finger, on a phone held
// upright.
func columnByTouch(t *testing.T, s *webtest.Shop, n *counted) {
	n.do(chromedp.EmulateViewport(390, 844, chromedp.EmulateTouch, chromedp.EmulateMobile))
	n.visit(addOns + "?q=lock-chain-7")
	n.choose("edit", "weight_kg")
	n.fields++
	evaluate[chromedp.Void](n.tab, `window.before = true`)
	n.tap(`form:has(#edit) button`)
	n.until(`window.before === undefined`)
	n.tap(`.typed input[name="to"]`)
	n.fields++
	n.keys("1,25")
	evaluate[chromedp.Void](n.tab, `window.before = true`)
	n.tap(`#column .send button`)
	n.until(`window.before === undefined && document.querySelector(".done")`)
	if over := evaluate[int](n.tab, `document.documentElement.scrollWidth - innerWidth`); over > 0 {
		t.Errorf("%d px too wide", over)
	}
	if got := s.Catalogue().AddOn("lock-chain-7").Weight; got != 1250 {
		t.Errorf("it weighs %v", got)
	}
	n.atMost(2, 3)
}

func columnWithoutScript(t *testing.T, s *webtest.Shop, n *counted) {
	n.withoutScript()
	n.visit(addOns + "?edit=price_cents&q=lock-chain-7")
	n.click(`.typed input[name="to"]`)
	n.keys("51")
	n.click(`#column .send button`)
	n.until(`document.querySelector(".done")`)
	if got := s.Catalogue().AddOn("lock-chain-7").Price; got != 5100 {
		t.Errorf("it costs %v", got)
	}
}
