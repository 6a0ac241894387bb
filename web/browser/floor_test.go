package browser_test

import (
	"testing"

	"github.com/chromedp/chromedp"

	"kinwain/web/webtest"
)

// strokes is a tab at which what is pressed is counted: each Tab, each text that
// is typed, each Enter.
type strokes struct {
	*tab
	steps int
}

func (c *strokes) tabTo(selector string) {
	c.Helper()
	for range 60 {
		if evaluate[bool](c.tab, `document.activeElement.matches('`+selector+`')`) {
			return
		}
		c.do(chromedp.KeyEvent("\t"))
		c.steps++
	}
	c.Fatalf("Tab does not reach %s", selector)
}

func (c *strokes) types(text string) {
	c.Helper()
	c.keys(text)
	c.steps++
}

func (c *strokes) press() {
	c.Helper()
	c.enter()
	c.steps++
}

func (c *strokes) within(most int, what string) {
	c.Helper()
	c.Logf("%s: %d steps", what, c.steps)
	if c.steps > most {
		c.Errorf("%s takes %d steps, want at most %d", what, c.steps, most)
	}
	c.steps = 0
}

// TestDeliveryByKeyboard adds ten bikes from the list of units.
func TestDeliveryByKeyboard(t *testing.T) {
	s := webtest.Open(t)
	b := &strokes{tab: browser(t).tab(s)}
	b.signIn()
	b.visit("/inventory/units")
	b.click(`a[href="/inventory/delivery"]`)
	b.until(`document.activeElement.id === "count"`) // nobody has to look for it
	b.steps = 1
	b.types("10")
	b.tabTo("#serials")
	evaluate[chromedp.Void](b.tab, `document.activeElement.setRangeText("A1\nA2\nA3\nA4\nA5\nA6\nA7\nA8\nA9\nA10")`) // pasted
	b.steps++
	b.tabTo("#frame")
	b.types("osier-l")
	b.tabTo("#colour")
	b.types("rust")
	b.press() // in any field but that of several lines
	b.until(`document.querySelector(".done")?.textContent.startsWith("10 bikes are in the inventory: S-117 to S-126.")`)
	b.within(12, "a delivery of ten")
	last := s.Catalogue().Units[39]
	if last.Tag != "S-126" || last.Serial != "A10" || last.Frame != "osier-l" || last.Status != "available" {
		t.Errorf("the last one is %+v", last)
	}
}

// TestStocktakeByKeyboard scans as a scanner does, with script and without: it
// types what it reads and presses Enter, and nobody touches the tablet between.
func TestStocktakeByKeyboard(t *testing.T) {
	s := webtest.Open(t)
	b := &strokes{tab: browser(t).tab(s)}
	b.signIn()
	b.visit("/stocktakes")
	b.tabTo(`main form button`)
	b.press()
	b.steps = 0
	for _, tag := range []string{"D-011", webtest.Public + "/units/D-013", "D-011", "Z-9"} {
		b.until(`document.activeElement.id === "tag"`)
		b.types(tag)
		b.press()
	}
	b.within(8, "four scans")
	if got := b.words("h1"); got != "Stocktake: 2 seen, 20 not seen yet" {
		t.Errorf("it says %q", got)
	}
	b.reload() // as after a sleep
	if got := b.words("h1"); got != "Stocktake: 2 seen, 20 not seen yet" {
		t.Errorf("after a reload: %q", got)
	}
	b.tabTo(`form[action$="/finish"] button`)
	b.press()
	b.until(`document.querySelector(".done")?.textContent.startsWith("Finished")`)
}

// TestScanForTheCustomerByKeyboard goes from the frames of a customer to the bike
// in front of them.
func TestScanForTheCustomerByKeyboard(t *testing.T) {
	s := webtest.Open(t)
	b := &strokes{tab: browser(t).tab(s)}
	b.signIn()
	address := s.Staff().Interview([]byte(webtest.Plain))
	b.visit(address + "/frames")
	b.click(`a[href="/units"]`)
	b.until(`document.activeElement.id === "tag"`)
	b.steps = 1
	b.types(webtest.Public + "/units/D-014")
	b.press()
	b.until(`location.pathname.endsWith("/frames/osier-m") && document.querySelector(".one-bike")`)
	b.within(3, "the bike in front of a customer")
}
