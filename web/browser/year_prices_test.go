package browser_test

import (
	"slices"
	"strings"

	"kinwain/internal/catalog"
)

const addOns = "/inventory/add-ons"

// onePrice finds an add-on among 400, types its price in the list and saves.
func onePrice(y *year) {
	y.visit(addOns)
	y.fill("#q", "lock-chain-7")
	y.sends(`form:has(#q) button`)
	y.goes(`form:has(#edit) button`)
	y.fill(`.typed input[name="to"]`, "49,90")
	y.sends(`#column .send button`)
	y.done("1 figure")
	if got := y.shop.Catalogue().AddOn("lock-chain-7").Price; got != 4990 {
		y.Errorf("it costs %v", got)
	}
}

// allPrices makes everything 3.5 per cent dearer, rounded as prices end.
func allPrices(y *year) {
	before := y.shop.Catalogue()
	y.visit(addOns + "?edit=price_cents")
	y.press(`a[href="#all"]`)
	y.fill("#much", "3,5")
	y.pick("#round", "0.95")
	y.goes(`button[value="sum"]`)
	y.done("figures")
	after := y.shop.Catalogue()
	for i := range before.AddOns {
		if was, is := before.AddOns[i].Price, after.AddOns[i].Price; is%100 != 95 || is < was || is > was+was/20+100 {
			y.Errorf("%s: %v became %v", before.AddOns[i].Code, was, is)
		}
	}
}

// dearerByOne makes what has a name in it dearer by a sum.
func dearerByOne(y *year) {
	before := y.shop.Catalogue()
	y.visit(addOns + "?edit=price_cents&q=pannier")
	y.press(`a[href="#all"]`)
	y.fill("#much", "1,20")
	y.pick("#how", "plus")
	y.goes(`button[value="sum"]`)
	y.done("figures")
	after := y.shop.Catalogue()
	for i := range before.AddOns {
		a, more := &before.AddOns[i], after.AddOns[i].Price-before.AddOns[i].Price
		if found := strings.Contains(strings.ToLower(a.Code+a.Name), "pannier"); found && more != 120 || !found && more != 0 {
			y.Errorf("%s costs %v more", a.Code, more)
		}
	}
}

// priceWithoutScript types a price in the list where no script runs.
func priceWithoutScript(y *year) {
	y.withoutScript()
	y.visit(addOns + "?edit=price_cents&q=lock-chain-6")
	y.fill(`.typed input[name="to"]`, "51")
	y.sends(`#column .send button`)
	y.done("1 figure")
	if got := y.shop.Catalogue().AddOn("lock-chain-6").Price; got != 5100 {
		y.Errorf("it costs %v", got)
	}
}

func listedPrices(y *year) {
	y.visit(addOns + "?edit=price_cents")
	y.press(`a[href="#pasted"]`)
	y.paste("#list", "lock-chain-2\t41,50\nseat-rear-3\t151\n")
	y.goes(`button[value="list"]`)
	y.done("2 figures")
	c := y.shop.Catalogue()
	if c.AddOn("lock-chain-2").Price != 4150 || c.AddOn("seat-rear-3").Price != 15100 {
		y.Errorf("%v and %v", c.AddOn("lock-chain-2").Price, c.AddOn("seat-rear-3").Price)
	}
}

func dearest(y *year) {
	y.visit("/inventory/frames")
	y.goes(`th a[href*="sort=price_cents"]`)
	y.goes(`th[aria-sort="ascending"] a`)
	c := y.shop.Catalogue()
	most := slices.MaxFunc(c.Frames, func(a, b catalog.Frame) int { return int(a.Price - b.Price) }).Price
	code := evaluate[string](y.tab, `document.querySelector(".wares tbody .kind").textContent`)
	if got := c.Frame(strings.TrimSpace(code)); got == nil || got.Price != most {
		y.Errorf("%s is first", code)
	}
}

// importAndUndo lands a list of a code and a price, and takes it back.
func importAndUndo(y *year) {
	was := y.shop.Catalogue().AddOn("lock-chain-8").Price
	y.visit("/inventory/import")
	y.upload("#files", "add_ons (1).csv", "code;price\nlock-chain-8;139,00\n")
	y.goes(`form .primary`)
	y.goes(`.confirm .primary`)
	y.done("Imported")
	if got := y.shop.Catalogue().AddOn("lock-chain-8").Price; got != 13900 {
		y.Errorf("imported, it costs %v", got)
	}
	y.goes(`.tabs a[href="/inventory/history"]`)
	y.goes(`main .history form button`)
	y.done("Undone")
	if got := y.shop.Catalogue().AddOn("lock-chain-8").Price; got != was {
		y.Errorf("undone, it costs %v", got)
	}
}

// whatAColumnHolds looks a column up from where files come in.
func whatAColumnHolds(y *year) {
	y.visit("/inventory/import")
	y.goes(`a[href$="/columns"]`)
	y.fill("#q", "gross_rating")
	y.sends(`form:has(#q) button`)
	if said := y.words("main tbody tr"); !strings.Contains(said, "gross_rating_kg") {
		y.Errorf("it says %q", said)
	}
}
