package catalog_test

import (
	"maps"
	"slices"
	"strings"

	"pgregory.net/rapid"

	"kinwain/internal/catalog"
	"kinwain/internal/measure"
)

var (
	frameCodes = []string{"sedge", "osier", "teasel-2", "9yarrow"}
	zoneCodes  = []string{"front", "rear", "box"}
	mountCodes = []string{"deck_cm", "belly", "head_tube"}
	addOnCodes = []string{"seat-rear", "tray-front", "stand-two-leg", "dog_box", "bag"}
	tags       = []string{"two_leg_stand", "wheel_guard", "foot_support", "hand_hold", "backrest", "shop-tag"}
)

func figure[T ~int | ~int64](t *rapid.T, name string, least, most T) T {
	return T(rapid.Int64Range(int64(least), int64(most)).Draw(t, name))
}

// stated draws zero as often as a figure.
func stated[T ~int | ~int64](t *rapid.T, name string, least, most T) T {
	if rapid.Bool().Draw(t, "no "+name) {
		return 0
	}
	return figure(t, name, least, most)
}

func some[T comparable](t *rapid.T, name string, of []T, least int) []T {
	return rapid.SliceOfNDistinct(rapid.SampledFrom(of), least, len(of), rapid.ID[T]).Draw(t, name)
}

func word(t *rapid.T, name string, words []string) string {
	return rapid.SampledFrom(words).Draw(t, name)
}

func maybe(words []string) []string { return append([]string{""}, words...) }

func text(t *rapid.T, name string, most int) string { return rapid.StringN(0, most, -1).Draw(t, name) }

func flag(t *rapid.T, name string) bool { return rapid.Bool().Draw(t, name) }

// drawCatalogue draws a catalogue without a fault.
func drawCatalogue(t *rapid.T) *catalog.Catalogue {
	c := &catalog.Catalogue{Version: 1, Shop: catalog.Shop{
		Name: "x" + text(t, "shop", 20), Currency: rapid.StringMatching("[A-Z]{3}").Draw(t, "currency"),
		LabourPerHour: figure[measure.Money](t, "labour", 0, 1_000_00), Tax: figure[measure.Percentage](t, "tax", 0, 100_00),
		PricesIncludeTax: flag(t, "with tax"),
	}}
	for _, code := range some(t, "frames", frameCodes, 0) {
		c.Frames = append(c.Frames, drawFrame(t, code))
	}
	for _, code := range some(t, "add-ons", addOnCodes, 0) {
		c.AddOns = append(c.AddOns, drawAddOn(t, code))
	}
	for i := range c.AddOns {
		connect(t, c, &c.AddOns[i])
	}
	for i := range c.Frames {
		deliver(t, c, &c.Frames[i])
	}
	for _, tag := range some(t, "units", []string{"D-014", "s.1", "7/2"}, 0) {
		if len(c.Frames) > 0 {
			c.Units = append(c.Units, drawUnit(t, c, tag))
		}
	}
	for _, list := range []string{"frames", "add_ons", "units"} {
		for _, thing := range c.Things(list) {
			drawEvidence(t, list, thing.Of)
		}
	}
	return c
}

// drawEvidence draws where some of the figures of a thing come from.
func drawEvidence(t *rapid.T, list string, thing any) {
	all := catalog.EvidenceOf(thing)
	for _, f := range catalog.Figures(list, thing) {
		if !flag(t, "evidence") {
			continue
		}
		*all = append(*all, catalog.Evidence{
			Figure: f.Path, Kind: word(t, "source", catalog.EvidenceKinds), On: measure.Date{Year: 2026, Month: 3, Day: figure(t, "day", 0, 31)},
			By: text(t, "by", 10), Link: word(t, "link", []string{"", "https://maker.example/plate"}), Reference: text(t, "reference", 10),
			Photo: word(t, "photo", []string{"", "0123456789abcdef0123456789abcdef"}),
		})
	}
	slices.SortFunc(*all, func(a, b catalog.Evidence) int { return strings.Compare(a.Figure, b.Figure) })
}

func drawSpoken(t *rapid.T, name string) catalog.Spoken {
	return catalog.Spoken{French: text(t, name+" fr", 10), German: text(t, name+" de", 10), Dutch: text(t, name+" nl", 10)}
}

func drawFrame(t *rapid.T, code string) catalog.Frame {
	f := catalog.Frame{
		Code: code, Name: "x" + text(t, "name", 20), Family: text(t, "family", 20), Type: word(t, "type", maybe(catalog.Types)),
		Material: text(t, "material", 10), Size: text(t, "size", 10), Notes: text(t, "notes", 40),
		BareWeight: figure(t, "bare", 5*kg, 39*kg), GrossRating: figure(t, "gross", 40*kg, 600*kg),
		RiderMin: figure(t, "rider min", 80*cm, 150*cm), RiderMax: figure(t, "rider max", 151*cm, 230*cm),
		RiderMaxMass: stated(t, "rider mass", 30*kg, 300*kg), PassengersMax: figure(t, "passengers", 0, 12),
		Standover: stated(t, "standover", 10*cm, 120*cm), SaddleMin: stated(t, "saddle min", 20*cm, 70*cm), SaddleMax: stated(t, "saddle max", 70*cm, 120*cm),
		Price:  figure[measure.Money](t, "price", 1, 100_000_00),
		Length: figure(t, "length", 80*cm, 500*cm), Width: figure(t, "width", 20*cm, 200*cm), Height: figure(t, "height", 50*cm, 250*cm),
		Wheelbase: stated(t, "wheelbase", 50*cm, 350*cm), RiderAhead: figure(t, "ahead", -50*cm, 250*cm),
		BareFrontShare:  figure(t, "share", 0, measure.Whole),
		FrontAxleRating: stated(t, "front axle", 10*kg, 600*kg), RearAxleRating: stated(t, "rear axle", 10*kg, 600*kg),
		FrontTyre: word(t, "front tyre", []string{"", "50-406", "100-507"}), RearTyre: word(t, "rear tyre", []string{"", "50-406", "28-622"}),
		OddWheel: flag(t, "odd"), FrontBrake: word(t, "front brake", maybe(catalog.Brakes)), RearBrake: word(t, "rear brake", maybe(catalog.Brakes)),
		Chainrings: rapid.SliceOfN(rapid.IntRange(10, 80), 0, 3).Draw(t, "chainrings"), Sprockets: rapid.SliceOfN(rapid.IntRange(8, 60), 0, 3).Draw(t, "sprockets"),
		Manual: word(t, "manual", []string{"", "https://maker.example/m?a=1,2", "http://maker.example"}), Names: drawSpoken(t, "names"), NotesIn: drawSpoken(t, "notes in"),
		AssistWatts: figure(t, "watts", 0, 2000), Provides: some(t, "provides", tags, 0),
	}
	if flag(t, "stands") {
		f.Upright = catalog.Box{Length: figure(t, "up length", 20*cm, 300*cm), Width: figure(t, "up width", 20*cm, 200*cm), Height: figure(t, "up height", 50*cm, 400*cm)}
	}
	for _, zone := range some(t, "zones", zoneCodes, 1) {
		f.Zones = append(f.Zones, catalog.Zone{
			Code: zone, Rating: stated(t, "rating", 1*kg, 400*kg), Ahead: figure(t, "ahead", -150*cm, 350*cm), Height: figure(t, "height", 0, 200*cm),
			Steered: flag(t, "steered"), Side: word(t, "side", maybe(catalog.Sides)),
			Cargo: stated(t, "cargo", 0, 400*kg), CargoVolume: stated(t, "litres", 0, 2000*measure.Litre),
		})
	}
	if len(f.Zones) > 1 {
		f.Combined = []catalog.Combined{{Zones: []string{f.Zones[1].Code, f.Zones[0].Code}, Rating: figure(t, "combined", 1*kg, 400*kg)}}
	}
	for _, mount := range some(t, "mounts", mountCodes, 0) {
		f.Mounts = append(f.Mounts, catalog.Mount{Code: mount, Capacity: figure(t, "capacity", 1, 70)})
	}
	if flag(t, "own place") {
		f.Places = []catalog.Place{drawPlace(t, f.Zones[0].Code)}
	}
	return f
}

func drawPlace(t *rapid.T, zone string) catalog.Place {
	p := catalog.Place{
		Zone: zone, Kind: word(t, "kind", catalog.PlaceKinds), MinMonths: figure(t, "min months", 1, 240), MaxMonths: stated(t, "max months", 240, 1200),
		MinMass: figure(t, "min mass", 1*kg, 20*kg), MaxMass: figure(t, "max mass", 20*kg, 150*kg), MaxStature: stated(t, "stature", 1, 230*cm),
		Needs: drawNeeds(t), Ahead: figure(t, "ahead", -150*cm, 350*cm), Height: figure(t, "height", 0, 200*cm),
	}
	if p.Kind != "harnessed" && flag(t, "one limit") {
		p.MinMass = 0
		if flag(t, "of age") {
			p.MaxMass = 0
		} else {
			p.MinMonths = 0
		}
	}
	return p
}

func drawNeeds(t *rapid.T) [][]string {
	group := rapid.SliceOfN(rapid.SampledFrom(append(slices.Clone(tags), addOnCodes...)), 1, 3)
	return rapid.SliceOfN(group, 0, 2).Draw(t, "needs")
}

func drawAddOn(t *rapid.T, code string) catalog.AddOn {
	a := catalog.AddOn{
		Code: code, Name: "x" + text(t, "name", 20), Weight: figure(t, "weight", 1, 100*kg), Price: figure[measure.Money](t, "price", 0, 100_000_00),
		FittingMinutes: figure(t, "minutes", 0, 24*60), Needs: drawNeeds(t), Provides: some(t, "provides", tags, 0),
		Zone: word(t, "zone", maybe(zoneCodes)), MaxLoad: stated(t, "max load", 0, 400*kg), UpTo: figure(t, "up to", 0, 8),
		FrontOverhang: figure(t, "front", 0, 200*cm), RearOverhang: figure(t, "rear", 0, 200*cm),
		OverallWidth: figure(t, "width", 0, 200*cm), OverallHeight: figure(t, "height", 0, 250*cm),
		BlocksUpright: flag(t, "blocks"), RemovableSeconds: figure(t, "seconds", 0, 3600), Names: drawSpoken(t, "names"),
	}
	if a.Zone == "" {
		a.Ahead = figure(t, "ahead", -150*cm, 350*cm)
	} else {
		a.DisplacesCargo, a.DisplacesVolume = figure(t, "displaces", 0, 400*kg), figure(t, "displaces volume", 0, 2000*measure.Litre)
		a.Cargo, a.CargoVolume, a.Pet = stated(t, "cargo", 0, 400*kg), stated(t, "litres", 0, 2000*measure.Litre), stated(t, "pet", 0, 150*kg)
		for range figure(t, "places", 0, 2) {
			a.Places = append(a.Places, drawPlace(t, ""))
		}
	}
	if flag(t, "counted") {
		n := figure(t, "stock", 0, 100_000)
		a.Supplier, a.Article, a.Stock = text(t, "supplier", 20), text(t, "article", 10), &n
	}
	for _, mount := range some(t, "uses", mountCodes, 0) {
		a.Uses = append(a.Uses, catalog.Use{Mount: mount, Count: figure(t, "count", 1, 10)})
	}
	return a
}

// connect draws the frames that the add-on fits, what differs there, and what
// it excludes.
func connect(t *rapid.T, c *catalog.Catalogue, a *catalog.AddOn) {
	for i := range c.Frames {
		f := &c.Frames[i]
		roomy := !slices.ContainsFunc(a.Uses, func(u catalog.Use) bool { return f.Capacity(u.Mount) < u.Count })
		if !roomy || a.Zone != "" && f.ZoneIndex(a.Zone) < 0 || !flag(t, "fits") {
			continue
		}
		a.Fits = append(a.Fits, f.Code)
		if flag(t, "differs") {
			if a.OnFrame == nil {
				a.OnFrame = map[string]catalog.Pair{}
			}
			a.OnFrame[f.Code] = drawPair(t)
		}
	}
	for i := range c.AddOns {
		if other := c.AddOns[i].Code; other != a.Code && flag(t, "excludes") {
			a.Excludes = append(a.Excludes, other)
		}
	}
}

func drawPair(t *rapid.T) catalog.Pair {
	length := func(name string) *measure.Length {
		return rapid.Ptr(rapid.Map(rapid.Int64Range(0, 2000), func(n int64) measure.Length { return measure.Length(n) }), true).Draw(t, name)
	}
	return catalog.Pair{
		FittingMinutes: rapid.Ptr(rapid.IntRange(0, 24*60), true).Draw(t, "minutes"),
		MaxLoad:        rapid.Ptr(rapid.Map(rapid.Int64Range(0, 400_000), func(n int64) measure.Mass { return measure.Mass(n) }), true).Draw(t, "max load"),
		FrontOverhang:  length("front"), RearOverhang: length("rear"), OverallWidth: length("width"), OverallHeight: length("height"),
		BlocksUpright: rapid.Ptr(rapid.Bool(), true).Draw(t, "blocks"), Note: text(t, "note", 20), NoteGerman: text(t, "note in German", 20),
	}
}

// deliver draws what the frame comes with, as far as it goes together.
func deliver(t *rapid.T, c *catalog.Catalogue, f *catalog.Frame) {
	used := map[string]int{}
	for i := range c.AddOns {
		a := &c.AddOns[i]
		after := maps.Clone(used)
		roomy := (a.Zone == "" || f.ZoneIndex(a.Zone) >= 0) && !slices.ContainsFunc(f.ComesWith, func(code string) bool {
			return slices.Contains(a.Excludes, code) || slices.Contains(c.AddOn(code).Excludes, a.Code)
		})
		for _, u := range a.Uses {
			after[u.Mount] += u.Count
			roomy = roomy && after[u.Mount] <= f.Capacity(u.Mount)
		}
		if roomy && flag(t, "comes with") {
			f.ComesWith, used = append(f.ComesWith, a.Code), after
		}
	}
}

func drawUnit(t *rapid.T, c *catalog.Catalogue, tag string) catalog.Unit {
	u := catalog.Unit{
		Tag: tag, Frame: rapid.SampledFrom(c.Frames).Draw(t, "frame").Code, Kind: word(t, "kind", catalog.UnitKinds), Colour: text(t, "colour", 10),
		Status: word(t, "status", catalog.UnitStatuses), Odometer: figure[catalog.Kilometres](t, "km", 0, 1_000_000),
	}
	if flag(t, "coming") {
		u.Serial, u.Arrival = "SN "+tag, measure.Date{Year: 2027, Month: 1, Day: figure(t, "arrives", 0, 28)}
	}
	u.Price = stated[measure.Money](t, "own price", 1, 100_000_00)
	for i := range c.AddOns {
		if flag(t, "fitted") {
			u.Fitted = append(u.Fitted, c.AddOns[i].Code)
		}
	}
	if flag(t, "weighed") {
		u.Weighed, u.WeighedOn = figure(t, "weight", 5*kg, 250*kg), measure.Date{Year: 2026, Month: 2, Day: figure(t, "day", 1, 28)}
	}
	return u
}
