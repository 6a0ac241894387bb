package browser_test

import (
	"fmt"
	"slices"
	"strings"

	"kinwain/internal/catalog"
)

// nextFamily makes next year's of a family, of which two figures are others.
func nextFamily(y *year) {
	before := y.shop.Catalogue()
	y.visit("/inventory/frames/sedge-1")
	y.goes(`.ware-ways a[href*="family"]`)
	y.below(field("f0:gross_rating_kg"))
	y.fill(field("f0:gross_rating_kg"), "181")
	y.below(field("f0:price_cents"))
	y.fill(field("f0:price_cents"), "2150")
	y.sends(`.send.stuck button`)
	y.done("added")
	after := y.shop.Catalogue()
	if len(after.Frames) <= len(before.Frames) {
		y.Fatal("no frame more")
	}
	f := after.Frames[len(before.Frames)]
	if f.Price != 215000 || f.GrossRating != 181_000 {
		y.Errorf("%v, %v", f.Price, f.GrossRating)
	}
}

func anotherFrame(y *year) {
	y.visit("/inventory/frames/sedge-1")
	y.goes(`.ware-ways a[href*="from=sedge-1"]`)
	y.fill(field("code"), "sedge-tall")
	y.sends(`.stuck button.primary`)
	y.done("Added")
	fits := func(code string) (n int) {
		for _, a := range y.shop.Catalogue().AddOns {
			if slices.Contains(a.Fits, code) {
				n++
			}
		}
		return n
	}
	if fits("sedge-tall") == 0 || fits("sedge-tall") != fits("sedge-1") {
		y.Errorf("%d fit it, %d the other", fits("sedge-tall"), fits("sedge-1"))
	}
}

// amongMany names one of 400 add-ons by what people call it.
func amongMany(y *year) {
	y.visit("/inventory/add-ons/seat-rear-1")
	y.press(`.ware-parts a[href="#s-excludes"]`)
	y.fill(`input[name="excludes"][value=""]`, "lock-chain-4")
	y.sends(`.stuck button.primary`)
	y.done("Saved")
	if got := y.shop.Catalogue().AddOn("seat-rear-1").Excludes; !slices.Contains(got, "lock-chain-4") {
		y.Errorf("never together with %v", got)
	}
}

// newTag has an add-on provide what no other one does.
func newTag(y *year) {
	y.visit("/inventory/add-ons/rack-rear-2")
	y.press(`.ware-parts a[href="#s-excludes"]`)
	y.fill(`input[name="provides"][value=""]`, "lamp_bracket")
	y.sends(`.stuck button.primary`)
	y.done("Saved")
	if got := y.shop.Catalogue().AddOn("rack-rear-2").Provides; !slices.Contains(got, "lamp_bracket") {
		y.Errorf("it provides %v", got)
	}
}

// noteSource says of a figure that it is read from the rating plate.
func noteSource(y *year) {
	y.visit("/inventory/frames/teasel-2#gross_rating_kg.source")
	y.pick(field("gross_rating_kg.source"), "rating_plate")
	y.sends(`.stuck button.primary`)
	y.done("Saved")
	y.proved("teasel-2", "gross_rating_kg")
}

func (y *year) proved(frame, figure string) {
	y.Helper()
	e := catalog.Source(y.shop.Catalogue().Frame(frame).Evidence, figure)
	if e == nil || e.Kind != "rating_plate" || e.By == "" || e.On.IsZero() {
		y.Errorf("noted is %+v", e)
	}
}

// proveOne goes from the quality of the catalogue to the first figure without a
// source, and says where that comes from.
func proveOne(y *year) {
	y.visit("/inventory/quality")
	y.goes(`a[href$="/sources"]`)
	first := evaluate[string](y.tab, `document.querySelector(".unproved tbody a").getAttribute("href")`)
	y.goes(`.unproved tbody a`)
	frame, figure, _ := strings.Cut(strings.TrimPrefix(first, "/inventory/frames/"), "#")
	y.pick(field(figure), "rating_plate")
	y.sends(`.stuck button.primary`)
	y.done("Saved")
	y.proved(frame, strings.TrimSuffix(figure, ".source"))
}

// fitOne ticks that a lock fits a frame, in the grid.
func fitOne(y *year) {
	y.visit("/inventory/fits")
	y.fill("#of", "teasel-3")
	y.fill("#q", "lock-chain-2")
	y.sends(`form:has(#of) button`)
	box := `input[name="fit"][value="lock-chain-2 teasel-3"]`
	y.press(box)
	y.until(fmt.Sprintf(`document.querySelector(%q).checked`, box))
	y.sends(`button[value="save"]`)
	y.done("Saved")
	if got := y.shop.Catalogue().AddOn("lock-chain-2").Fits; !slices.Contains(got, "teasel-3") {
		y.Errorf("it fits %v", got)
	}
}

// ownFacts notes of one bike what it has of its own.
func ownFacts(y *year) {
	y.visit("/inventory/units/S-108-0")
	y.fill(field("serial"), "QX 4471")
	y.pick(field("status"), "in_repair")
	y.fill(field("arrival"), "2026-11-20")
	y.fill(field("price_cents"), "1990")
	y.sends(`.stuck button.primary`)
	y.done("4 fields")
	c := y.shop.Catalogue()
	u := c.Units[slices.IndexFunc(c.Units, func(u catalog.Unit) bool { return u.Tag == "S-108-0" })]
	if u.Serial != "QX 4471" || u.Price != 199000 || u.Arrival.String() != "2026-11-20" || u.Status != "in_repair" {
		y.Errorf("it is %+v", u)
	}
}

// storeRoom notes whom an add-on comes from and how many there are, and reads
// how many of them are promised.
func storeRoom(y *year) {
	const code = "stand-two-leg-0"
	y.visit("/inventory/add-ons/" + code)
	y.press(`.ware-parts a[href="#s-supplier"]`)
	y.fill(field("supplier"), "Quay Wholesale")
	y.fill(field("article"), "77-120")
	y.fill(field("stock"), "3")
	y.sends(`.stuck button.primary`)
	y.done("3 fields")
	a := y.shop.Catalogue().AddOn(code)
	if a.Supplier != "Quay Wholesale" || a.Article != "77-120" || a.Stock == nil || *a.Stock != 3 {
		y.Errorf("it is %+v", a)
	}
	if said := y.words("section:has(#promised)"); !strings.Contains(said, "3 counted, 1 promised, free: 2.") {
		y.Errorf("it says %q", said)
	}
}

// retirePromised takes a frame out of what is offered that a quote is for, sees
// whom that concerns, and brings it back.
func retirePromised(y *year) {
	y.visit("/inventory/frames/osier-m-0")
	y.press(`a[href="#life"]`)
	y.goes(`button[value="retire"]`)
	y.done("Retired")
	y.concerned("The Osier M", true)
	y.visit("/inventory/frames/osier-m-0")
	y.press(`a[href="#life"]`)
	y.goes(`button[value="back"]`)
	y.done("Brought back")
}
