package browser_test

import (
	"testing"

	"github.com/chromedp/chromedp"

	"kinwain/internal/store"
	"kinwain/internal/wideshop"
	"kinwain/web/webtest"
)

// year is a shop of 60 frames, 400 add-ons and 40 bikes on the morning after
// next year's price lists came, and the hand of its manager.
type year struct {
	*hand
	shop     *webtest.Shop
	customer string // the address of one who was promised something
}

// TestTheManagersYearInABrowser does what that morning and the year after it ask
// for, by keyboard alone and by touch alone, and holds each task to the fewest
// fields and presses that do it. Each leaves alone what the others look at.
func TestTheManagersYearInABrowser(t *testing.T) {
	c := browser(t)
	for name, touches := range map[string]bool{"by keyboard": false, "by touch": true} {
		t.Run(name, func(t *testing.T) {
			t.Parallel()
			y := openYear(t, c, touches)
			for _, task := range tasks {
				t.Run(task.name, func(t *testing.T) { y.does(t, task) })
			}
		})
	}
}

// task is one of them.
type task struct {
	name string
	// fields and presses are the fewest that do it; way is how often Tab is
	// pressed at most on the way between them.
	fields, presses, way int
	do                   func(*year)
}

// tasks are in the order of the year.
var tasks = []task{
	{"one price in place", 2, 4, 8, onePrice},
	{"all prices by per cent", 2, 3, 25, allPrices},
	{"all prices by a sum", 2, 3, 20, dearerByOne},
	{"prices from a list", 1, 3, 15, listedPrices},
	{"the dearest to the top", 0, 2, 25, dearest},
	{"next year's family", 2, 2, 35, nextFamily},
	{"a bike that is alike", 1, 2, 20, anotherFrame},
	{"an add-on among many", 1, 3, 12, amongMany},
	{"a new tag", 1, 3, 15, newTag},
	{"where a figure comes from", 1, 2, 5, noteSource},
	{"what is unproved", 1, 4, 5, proveOne},
	{"what fits what", 2, 4, 5, fitOne},
	{"a delivery of ten", 4, 2, 10, delivery},
	{"one bike's own facts", 4, 1, 10, ownFacts},
	{"where add-ons come from and how many there are", 3, 2, 12, storeRoom},
	{"labels", 0, 4, 45, labels},
	{"the bike in front of a customer", 1, 1, 0, scanForCustomer},
	{"a stocktake", 3, 6, 15, stocktake},
	{"an import, and back", 1, 5, 20, importAndUndo},
	{"the rate of labour", 1, 2, 20, labourRate},
	{"a setting, and back", 1, 4, 25, settingAndUndo},
	{"a promised frame retired, and back", 0, 6, 35, retirePromised},
	{"what to own", 0, 1, 5, whatToOwn},
	{"what a column holds", 1, 2, 8, whatAColumnHolds},
	{"what programs may ask", 0, 1, 10, whatProgramsAsk},
	{"a price without script", 1, 2, 60, priceWithoutScript}, // the last: no script runs from then on
}

// does carries out one task.
func (y *year) does(t *testing.T, of task) {
	all := y.T
	y.T, y.shop.T = t, t
	defer func() {
		y.T, y.shop.T = all, all
		if t.Failed() { // with what it may not have saved
			y.reopen()
			y.fits()
		}
	}()
	y.fields, y.presses, y.way = 0, 0, 0
	of.do(y)
	t.Logf("%d fields, %d presses, %d between", y.fields, y.presses, y.way)
	if y.fields > of.fields || y.presses > of.presses {
		t.Errorf("it takes %d fields and %d presses, where %d and %d would do", y.fields, y.presses, of.fields, of.presses)
	}
	if !y.touches && y.way > of.way {
		t.Errorf("it takes %d steps of Tab between them, where %d would do", y.way, of.way)
	}
	y.heard()
}

func openYear(t *testing.T, c *chromium, touches bool) *year {
	t.Helper()
	s := wide(t)
	y := &year{hand: &hand{tab: c.tab(s), touches: touches}, shop: s}
	v := s.Staff()
	y.customer = v.Interview([]byte(webtest.Family))
	quote := v.Quoted(y.customer + "/frames/osier-m-0")
	v.Holds(quote, "S-105-0", "2026-12-01")
	s.Talks(4)
	y.fits()
	y.signIn()
	return y
}

// fits makes the tab a tablet held upright, or the screen of a desk.
func (y *year) fits() {
	if y.touches {
		y.do(chromedp.EmulateViewport(tabletWidth, tabletHeight, chromedp.EmulateTouch, chromedp.EmulateMobile))
		return
	}
	y.do(chromedp.EmulateViewport(1280, 900))
}

// wide is a shop of 60 frames, 400 add-ons and 40 bikes.
func wide(t *testing.T) *webtest.Shop {
	t.Helper()
	s := webtest.Open(t)
	c, revision, err := s.Store.CatalogueAt(t.Context())
	if err != nil {
		t.Fatal(err)
	}
	many := wideshop.Of(c, 60, 400)
	many.Units = many.Units[:40]
	if err := s.Store.ReplaceCatalogueAt(t.Context(), revision, many, store.Author{Who: "B", How: store.ByImport, At: s.Clock()}); err != nil {
		t.Fatal(err)
	}
	return s
}
