package catalog

import (
	"kinwain/internal/measure"
	"kinwain/internal/problem"
)

// The groups of an add-on.
var (
	addOnIs      = &Group{Title: "What it is"}
	addOnCarries = &Group{"What it carries", notStated}
	addOnPlaces  = &Group{Title: "Places"}
	addOnSize    = &Group{Title: "What it does to the size"}
	addOnFits    = &Group{Title: "Frames it fits"}
	addOnUses    = &Group{Title: "Mounts it uses"}
	addOnNeeds   = &Group{"What it needs", "Of every row one must be on the bike: an add-on, or anything that provides the tag."}
	addOnBeside  = &Group{Title: "Beside others"}
	addOnStock   = &Group{Title: "Where it comes from, and how many there are"}
	addOnSpoken  = &Group{"In the customer’s language", inEnglish}
	addOnDiffers = &Group{"Where a frame differs", "Only what differs there; empty leaves the figure above."}
	addOnSources = &Group{"Sources chosen now", sourcesLead}

	addOnGroups = []*Group{addOnIs, addOnCarries, addOnPlaces, addOnSize, addOnFits, addOnUses, addOnNeeds, addOnBeside, addOnStock, addOnSpoken, addOnDiffers, addOnSources}
)

// addOnFields are the facts of an add-on, in the order of its document.
var addOnFields = table(
	in(addOnIs,
		fact("code", Code, "Code", func(a *AddOn) *string { return &a.Code }, aCode).hint("Small letters and digits, such as seat-rear. It stays for good."),
		fact("name", Text, "Name", func(a *AddOn) *string { return &a.Name }, filled(80)),
		// Nothing weighs nothing: an add-on without a weight would make every
		// load sheet it is on look safer than it is.
		fact("weight_kg", Mass, "Weight", func(a *AddOn) *measure.Mass { return &a.Weight }, required(1*measure.Gram, 100*kg)).source(),
		fact("price_cents", Money, "Price", func(a *AddOn) *measure.Money { return &a.Price }, within(0, maxPrice)),
		fact("fitting_minutes", Number, "Minutes to fit", func(a *AddOn) *int { return &a.FittingMinutes }, within(0, 24*60))),
	in(addOnFits, also(fact("fits", Frames, "Fits", func(a *AddOn) *[]string { return &a.Fits }), fits).source()),
	in(addOnUses, rows("uses", "use", func(a *AddOn) *[]Use { return &a.Uses }, useFields)),
	in(addOnNeeds, fact("needs", Needs, "One of", func(a *AddOn) *[][]string { return &a.Needs }, groups).guard()),
	in(addOnBeside,
		also(fact("excludes", AddOns, "Never together with", func(a *AddOn) *[]string { return &a.Excludes }), excludes).guard(),
		fact("provides", Codes, "Provides", func(a *AddOn) *[]string { return &a.Provides }, ownTags).hint("Tags that needs may name, blanks between.")),
	in(addOnCarries, leftOut(fact("stand_max_kg", Mass, "Loaded bike that the stand bears", func(a *AddOn) *measure.Mass { return &a.StandMax }, stated(1*kg, 600*kg)).
		hint("Of a stand: everything but the rider.").guard().source(), func(a *AddOn) bool { return a.StandMax == 0 })),
	in(addOnCarries,
		also(fact("zone", OneZone, "Zone", func(a *AddOn) *string { return &a.Zone }).hint("Empty: it is in none, such as a stand, and counts toward the gross rating and on the axles."), carriesInAZone),
		leftOut(also(fact("ahead_of_rear_axle_cm", Signed, "Ahead of the rear axle", func(a *AddOn) *measure.Length { return &a.Ahead }, within(-150*cm, 350*cm)).
			hint("Of what is in no zone. Empty: its weight counts whole on whichever axle is judged."), onlyBesideZones), func(a *AddOn) bool { return a.Ahead == 0 }),
		fact("max_load_kg", Mass, "Load over all it carries", func(a *AddOn) *measure.Mass { return &a.MaxLoad }, within(0, 400*kg)).guard().source(),
		fact("cargo_kg", Mass, "Cargo", func(a *AddOn) *measure.Mass { return &a.Cargo }, within(0, 400*kg)).source(),
		fact("cargo_litres", Volume, "Room for cargo", func(a *AddOn) *measure.Volume { return &a.CargoVolume }, within(0, 2000*measure.Litre)),
		fact("pet_kg", Mass, "Pet up to", func(a *AddOn) *measure.Mass { return &a.Pet }, within(0, 150*kg)).source(),
		leftOut(also(fact("displaces_kg", Mass, "Takes of the zone’s own cargo", func(a *AddOn) *measure.Mass { return &a.DisplacesCargo }, within(0, 400*kg)).
			hint("Such as an insert in a box. It comes off what the zone bears of cargo without an add-on."), displacesInAZone), func(a *AddOn) bool { return a.DisplacesCargo == 0 }),
		leftOut(fact("displaces_litres", Volume, "Takes of the room for it", func(a *AddOn) *measure.Volume { return &a.DisplacesVolume }, within(0, 2000*measure.Litre)),
			func(a *AddOn) bool { return a.DisplacesVolume == 0 })),
	in(addOnIs,
		fact("up_to", Number, "How many at most", func(a *AddOn) *int { return &a.UpTo }, within(0, 8)).hint("Empty: one.")),
	in(addOnPlaces, few(rows("places", "place", func(a *AddOn) *[]Place { return &a.Places }, placeFields).asking(aPlace),
		func(a *AddOn) []Place { return a.Places }, 6, "places on an add-on")),
	in(addOnSize,
		fact("front_overhang_cm", Length, "Front overhang", func(a *AddOn) *measure.Length { return &a.FrontOverhang }, within(0, 200*cm)).hint("Beyond the bare frame."),
		fact("rear_overhang_cm", Length, "Rear overhang", func(a *AddOn) *measure.Length { return &a.RearOverhang }, within(0, 200*cm)),
		fact("overall_width_cm", Length, "Width of the bike with it", func(a *AddOn) *measure.Length { return &a.OverallWidth }, within(0, 200*cm)),
		fact("overall_height_cm", Length, "Height of the bike with it", func(a *AddOn) *measure.Length { return &a.OverallHeight }, within(0, 250*cm)),
		fact("blocks_upright", Tick, "With it the bike cannot stand on its tail", func(a *AddOn) *bool { return &a.BlocksUpright }),
		fact("removable_seconds", Number, "Seconds to take off at home", func(a *AddOn) *int { return &a.RemovableSeconds }, within(0, 3600))),
	in(addOnStock,
		leftOut(fact("supplier", Text, "Supplier", func(a *AddOn) *string { return &a.Supplier }, upTo(80)), func(a *AddOn) bool { return a.Supplier == "" }),
		leftOut(fact("article", Text, "Article number", func(a *AddOn) *string { return &a.Article }, upTo(60)).hint("As the supplier’s list has it."), func(a *AddOn) bool { return a.Article == "" }),
		counted("stock", "In the store room", func(a *AddOn) **int { return &a.Stock }, within(0, 100_000)).hint("Counted pieces, without what is on a bike. Empty: nobody counts it.")),
	in(addOnSpoken, spoken("names", "name", "Name", func(a *AddOn) *Spoken { return &a.Names }, nameFields)),
	in(addOnDiffers, onFrame),
	in(addOnSources, evidence(func(a *AddOn) *[]Evidence { return &a.Evidence })),
)

var useFields = []Field{
	also(fact("mount", Code, "Mount", func(u *Use) *string { return &u.Mount }, aCode), func(k *checker, path string, u *Use) {
		if k.names.again(u.Mount) {
			k.Add(path, problem.Duplicate, "the mount %q is named twice", u.Mount)
		}
	}),
	fact("count", Number, "Takes", func(u *Use) *int { return &u.Count }, within(1, 10000)).hint("Bolts, or centimetres of deck.").need(),
}

var onFrame = func() Field {
	f := also(fact("on_frame", PerFrame, "", func(a *AddOn) *map[string]Pair { return &a.OnFrame }), pairs)
	f.One, f.Sub, f.Sourced = "frame", pairFields, true
	return leftOut(f, func(a *AddOn) bool { return len(a.OnFrame) == 0 })
}()

var pairFields = []Field{
	differs("fitting_minutes", Number, "Minutes to fit", func(p *Pair) **int { return &p.FittingMinutes }, within(0, 24*60)),
	differs("max_load_kg", Mass, "Load over all it carries", func(p *Pair) **measure.Mass { return &p.MaxLoad }, within(0, 400*kg)).guard(),
	differs("front_overhang_cm", Length, "Front overhang", func(p *Pair) **measure.Length { return &p.FrontOverhang }, within(0, 200*cm)),
	differs("rear_overhang_cm", Length, "Rear overhang", func(p *Pair) **measure.Length { return &p.RearOverhang }, within(0, 200*cm)),
	differs("overall_width_cm", Length, "Width of the bike with it", func(p *Pair) **measure.Length { return &p.OverallWidth }, within(0, 200*cm)),
	differs("overall_height_cm", Length, "Height of the bike with it", func(p *Pair) **measure.Length { return &p.OverallHeight }, within(0, 250*cm)),
	differs[bool]("blocks_upright", Maybe, "Keeps it from standing on its tail", func(p *Pair) **bool { return &p.BlocksUpright }),
	leftOut(fact("note", Text, "Note", func(p *Pair) *string { return &p.Note }, upTo(500)), func(p *Pair) bool { return p.Note == "" }),
	leftOut(fact("note_fr", Text, "Note in French", func(p *Pair) *string { return &p.NoteFrench }, upTo(500)), func(p *Pair) bool { return p.NoteFrench == "" }),
	leftOut(fact("note_de", Text, "Note in German", func(p *Pair) *string { return &p.NoteGerman }, upTo(500)), func(p *Pair) bool { return p.NoteGerman == "" }),
	leftOut(fact("note_nl", Text, "Note in Dutch", func(p *Pair) *string { return &p.NoteDutch }, upTo(500)), func(p *Pair) bool { return p.NoteDutch == "" }),
}

// The groups of a unit.
var (
	unitIs      = &Group{Title: "What it is"}
	unitFitted  = &Group{Title: "On it now"}
	unitWeighed = &Group{"On the scale", "As it stands, ready to ride. A weighed figure goes before the sum of the makers’ figures."}

	unitSources = &Group{"Sources chosen now", sourcesLead}

	unitGroups = []*Group{unitIs, unitFitted, unitWeighed, unitSources}
)

// unitFields are the facts of a unit, in the order of its document.
var unitFields = table(
	in(unitIs,
		fact("tag", Code, "Tag", func(u *Unit) *string { return &u.Tag }, aTag).hint("On the bike itself, such as D-014. It stays for good."),
		leftOut(also(fact("serial", Text, "Serial number", func(u *Unit) *string { return &u.Serial }, upTo(60)), oncePerFrame), func(u *Unit) bool { return u.Serial == "" }),
		fact("frame", OneFrame, "Frame", func(u *Unit) *string { return &u.Frame }, aFrame),
		fact("kind", Word, "Kind", func(u *Unit) *string { return &u.Kind }, must(UnitKinds)),
		fact("colour", Text, "Colour", func(u *Unit) *string { return &u.Colour }, upTo(60))),
	in(unitFitted,
		fact("fitted", AddOns, "Fitted", func(u *Unit) *[]string { return &u.Fitted }, listed(anAddOn)).hint("What its frame comes with is on it too, where there is room.")),
	in(unitIs,
		fact("status", Word, "Status", func(u *Unit) *string { return &u.Status }, must(UnitStatuses)),
		leftOut(fact("arrival", Day, "Arrival", func(u *Unit) *measure.Date { return &u.Arrival }).hint("Of what is ordered, when it is expected; else when it came. A day or a month: 2026-12-14, 2027-01."),
			func(u *Unit) bool { return u.Arrival.IsZero() }),
		leftOut(fact("price_cents", Money, "Price of this very bike", func(u *Unit) *measure.Money { return &u.Price }, within(0, maxPrice)).hint("Empty: that of the frame."),
			func(u *Unit) bool { return u.Price == 0 })),
	in(unitWeighed,
		fact("weighed_kg", Mass, "Weighed", func(u *Unit) *measure.Mass { return &u.Weighed }, stated(5*kg, 250*kg)).source(),
		also(fact("weighed_on", Day, "On the day", func(u *Unit) *measure.Date { return &u.WeighedOn }).hint("Year, month, day: 2026-11-25."), func(k *checker, path string, u *Unit) {
			if u.Weighed > 0 && u.WeighedOn.IsZero() {
				k.Add(path, problem.Missing, "write the day on which it was weighed")
			}
		})),
	in(unitIs,
		fact("odometer_km", Number, "Odometer, km", func(u *Unit) *Kilometres { return &u.Odometer }, within[Kilometres](0, 1_000_000))),
	in(unitSources, evidence(func(u *Unit) *[]Evidence { return &u.Evidence })),
)

// oncePerFrame finds two bikes of one frame with one serial number.
func oncePerFrame(k *checker, path string, u *Unit) {
	if u.Serial != "" && k.serials.again(u.Frame+" "+u.Serial) {
		k.Add(path, problem.Duplicate, "another bike of this frame has the serial number %q", u.Serial)
	}
}

// shopFields are the facts of the shop, in the order of its document.
var shopFields = []Field{
	fact("name", Text, "Name", func(s *Shop) *string { return &s.Name }, filled(120)),
	fact("currency", Code, "Currency", func(s *Shop) *string { return &s.Currency }, aCurrency),
	fact("labour_cents_per_hour", Money, "Labour, an hour", func(s *Shop) *measure.Money { return &s.LabourPerHour }, within(0, measure.Money(1_000_00))),
	fact("tax_percent", Share, "Tax", func(s *Shop) *measure.Percentage { return &s.Tax }, within(0, measure.Percentage(100_00))),
	fact("prices_include_tax", Tick, "Prices include tax", func(s *Shop) *bool { return &s.PricesIncludeTax }),
}
