package catalog

import (
	"kinwain/internal/measure"
	"kinwain/internal/problem"
	"kinwain/internal/schema"
)

// notStated leads what a maker may leave open.
const notStated = "Empty: the maker does not state it. Then it does not bind, and the customer is told."

// sourcesLead leads what is said once of all sources that are chosen in a form.
const sourcesLead = "Of every figure above for which you choose a source now."

// inEnglish leads what is written in other languages.
const inEnglish = "Empty: the customer reads the English."

// The groups of a frame.
var (
	frameIs       = &Group{Title: "What it is"}
	frameBears    = &Group{"Weights and riders", "From the maker’s rating plate and manual. " + notStated}
	frameSize     = &Group{Title: "Size"}
	frameDrive    = &Group{Title: "Axles and drive"}
	frameZones    = &Group{"Zones", "Where load sits, each with its own rating. One at least."}
	frameCombined = &Group{"Combined ratings", "A rating over several zones together."}
	frameMounts   = &Group{"Mounts", "Where add-ons are fixed, and how much each holds: bolts, or centimetres of deck."}
	framePlaces   = &Group{"Places of its own", "Seats that the bare frame has."}
	frameBrings   = &Group{Title: "What it brings"}
	frameSpoken   = &Group{"In the customer’s language", inEnglish}
	frameSources  = &Group{"Sources chosen now", sourcesLead}

	frameGroups = []*Group{frameIs, frameBears, frameSize, frameDrive, frameZones, frameCombined, frameMounts, framePlaces, frameBrings, frameSpoken, frameSources}
)

// frameFields are the facts of a frame, in the order of its document.
var frameFields = table(
	in(frameIs,
		fact("code", Code, "Code", func(f *Frame) *string { return &f.Code }, aCode).hint("Small letters and digits, such as sedge. It stays for good."),
		fact("name", Text, "Name", func(f *Frame) *string { return &f.Name }, filled(80)),
		fact("family", Text, "Family", func(f *Frame) *string { return &f.Family }, upTo(80)).hint("Sizes of one model share it."),
		fact("type", Word, "Type", func(f *Frame) *string { return &f.Type }, oneOf(Types)),
		fact("material", Text, "Material", func(f *Frame) *string { return &f.Material }, upTo(80)),
		fact("size", Text, "Size", func(f *Frame) *string { return &f.Size }, upTo(40))),
	in(frameBears,
		also(fact("gross_rating_kg", Mass, "Gross rating", func(f *Frame) *measure.Mass { return &f.GrossRating }, required(40*kg, 600*kg)).
			hint("Bike, add-ons, rider and load together."), aboveItsOwnWeight).source().compared().shown("Poids total autorisé", "Zulässiges Gesamtgewicht", "Toegestaan totaalgewicht"),
		fact("bare_weight_kg", Mass, "Bare weight", func(f *Frame) *measure.Mass { return &f.BareWeight }, required(5*kg, 200*kg)).hint("Ready to ride, with what it comes with.").source(),
		fact("rider_min_cm", Length, "Shortest rider", func(f *Frame) *measure.Length { return &f.RiderMin }, required(80*cm, 230*cm)).source(),
		also(fact("rider_max_cm", Length, "Tallest rider", func(f *Frame) *measure.Length { return &f.RiderMax }, required(80*cm, 230*cm)), tallerThanTheShortest).source(),
		fact("rider_max_kg", Mass, "Heaviest rider", func(f *Frame) *measure.Mass { return &f.RiderMaxMass }, stated(30*kg, 300*kg)).guard().source(),
		fact("passengers_max", Number, "Passengers at most", func(f *Frame) *int { return &f.PassengersMax }, within(0, 12)).guard().source().compared().shown("Passagers au plus", "Mitfahrende höchstens", "Passagiers hoogstens"),
		fact("standover_cm", Length, "Standover", func(f *Frame) *measure.Length { return &f.Standover }, stated(10*cm, 120*cm)),
		fact("saddle_min_cm", Length, "Lowest saddle", func(f *Frame) *measure.Length { return &f.SaddleMin }, stated(20*cm, 120*cm)).hint("From the bottom bracket to the saddle’s top."),
		also(fact("saddle_max_cm", Length, "Highest saddle", func(f *Frame) *measure.Length { return &f.SaddleMax }, stated(20*cm, 120*cm)), notBelowTheLowest)),
	in(frameIs,
		fact("price_cents", Money, "Price", func(f *Frame) *measure.Money { return &f.Price }, required(1, maxPrice))),
	in(frameSize,
		fact("length_cm", Length, "Length", func(f *Frame) *measure.Length { return &f.Length }, required(80*cm, 500*cm)),
		fact("width_cm", Length, "Width", func(f *Frame) *measure.Length { return &f.Width }, required(20*cm, 200*cm)),
		fact("height_cm", Length, "Height", func(f *Frame) *measure.Length { return &f.Height }, required(50*cm, 250*cm)),
		box("upright", "Stood on its tail", func(f *Frame) *Box { return &f.Upright }, uprightFields)),
	in(frameDrive,
		fact("wheelbase_cm", Length, "Wheelbase", func(f *Frame) *measure.Length { return &f.Wheelbase }, stated(50*cm, 350*cm)),
		fact("rider_ahead_of_rear_axle_cm", Signed, "Rider ahead of the rear axle", func(f *Frame) *measure.Length { return &f.RiderAhead }, within(-50*cm, 250*cm)),
		fact("bare_front_share", Share, "Bare weight on the front axle", func(f *Frame) *measure.Share { return &f.BareFrontShare }, within(0, measure.Whole)),
		fact("front_axle_max_kg", Mass, "Front axle rating", func(f *Frame) *measure.Mass { return &f.FrontAxleRating }, stated(10*kg, 600*kg)).guard().source(),
		fact("rear_axle_max_kg", Mass, "Rear axle rating", func(f *Frame) *measure.Mass { return &f.RearAxleRating }, stated(10*kg, 600*kg)).guard().source(),
		fact("front_tyre", Code, "Front tyre", func(f *Frame) *string { return &f.FrontTyre }, aTyre).hint("ISO 5775, such as 50-406."),
		fact("rear_tyre", Code, "Rear tyre", func(f *Frame) *string { return &f.RearTyre }, aTyre),
		pressure("front_tyre_min_kpa", "Front tyre, least pressure", func(f *Frame) *int { return &f.FrontTyreMin }).
			hint("In kilopascals, as the maker or the sidewall states it: 100 is 1 bar, 345 is 50 psi."),
		also(pressure("front_tyre_max_kpa", "Front tyre, greatest pressure", func(f *Frame) *int { return &f.FrontTyreMax }), func(k *checker, path string, f *Frame) {
			notBelowTheLeast(k, path, f.FrontTyreMin, f.FrontTyreMax)
		}),
		pressure("rear_tyre_min_kpa", "Rear tyre, least pressure", func(f *Frame) *int { return &f.RearTyreMin }),
		also(pressure("rear_tyre_max_kpa", "Rear tyre, greatest pressure", func(f *Frame) *int { return &f.RearTyreMax }), func(k *checker, path string, f *Frame) {
			notBelowTheLeast(k, path, f.RearTyreMin, f.RearTyreMax)
		}),
		fact("odd_wheel", Tick, "Only the maker supplies the wheel", func(f *Frame) *bool { return &f.OddWheel }),
		fact("front_brake", Word, "Front brake", func(f *Frame) *string { return &f.FrontBrake }, oneOf(Brakes)),
		fact("rear_brake", Word, "Rear brake", func(f *Frame) *string { return &f.RearBrake }, oneOf(Brakes)),
		fact("chainring", Teeth, "Chainrings, teeth", func(f *Frame) *[]int { return &f.Chainrings }, listed(within(10, 80))).hint("Blanks between: 40 28."),
		fact("sprockets", Teeth, "Sprockets, teeth", func(f *Frame) *[]int { return &f.Sprockets }, listed(within(8, 60))),
		fact("assist_watts", Number, "Motor, watts", func(f *Frame) *int { return &f.AssistWatts }, within(0, 2000))),
	in(frameZones, also(rows("zones", "zone", func(f *Frame) *[]Zone { return &f.Zones }, zoneFields), oneZoneAtLeast).shaped(least(1))),
	in(frameCombined, rows("combined", "combined rating", func(f *Frame) *[]Combined { return &f.Combined }, combinedFields)),
	in(frameMounts, rows("mounts", "mount", func(f *Frame) *[]Mount { return &f.Mounts }, mountFields)),
	in(framePlaces, few(rows("places", "place", func(f *Frame) *[]Place { return &f.Places }, placeFields).asking(table([]Field{placeFields[0].need()}, aPlace)),
		func(f *Frame) []Place { return f.Places }, 12, "places of a frame's own")),
	in(frameBrings,
		fact("provides", Codes, "Provides", func(f *Frame) *[]string { return &f.Provides }, ownTags).hint("Tags that needs may name, blanks between: wheel_guard foot_support."),
		few(also(fact("comes_with", AddOns, "Comes with", func(f *Frame) *[]string { return &f.ComesWith }).hint("Fitted by the maker; in the bare weight and the price."), comesWith),
			func(f *Frame) []string { return f.ComesWith }, 24, "add-ons that a frame comes with"),
		fact("notes", Long, "Notes", func(f *Frame) *string { return &f.Notes }, upTo(2000)).hint("The customer reads them on the fit summary."),
		leftOut(fact("manual", Link, "Maker’s manual", func(f *Frame) *string { return &f.Manual }, aLink).
			hint("Its address on the web: https://…").shown("Notice du fabricant", "Anleitung des Herstellers", "Handleiding van de fabrikant"), func(f *Frame) bool { return f.Manual == "" })),
	in(frameSpoken,
		spoken("names", "name", "Name", func(f *Frame) *Spoken { return &f.Names }, nameFields),
		spoken("notes_in", "notes", "Notes", func(f *Frame) *Spoken { return &f.NotesIn }, notesFields)),
	in(frameSources, evidence(func(f *Frame) *[]Evidence { return &f.Evidence })),
)

// pressure declares a pressure of a tyre, in kilopascals.
func pressure(name, label string, at func(*Frame) *int) Field {
	return leftOut(fact(name, Number, label, at, within(0, 1200)), func(f *Frame) bool { return *at(f) == 0 })
}

func notBelowTheLeast(k *checker, path string, least, most int) {
	if most > 0 && most < least {
		k.Add(path, problem.Conflict, "the greatest pressure must not be below the least, %d kPa", least)
	}
}

var uprightFields = table(
	[]Field{fact("length_cm", Length, "Length on its tail", func(b *Box) *measure.Length { return &b.Length }, required(20*cm, 300*cm)).
		hint("All three, or none where it cannot stand so."),
		fact("width_cm", Length, "Width on its tail", func(b *Box) *measure.Length { return &b.Width }, required(20*cm, 200*cm)),
		fact("height_cm", Length, "Height on its tail", func(b *Box) *measure.Length { return &b.Height }, required(50*cm, 400*cm))},
)

var zoneFields = []Field{
	also(fact("code", Code, "Code", func(z *Zone) *string { return &z.Code }, aCode).hint("front, rear, …"), func(k *checker, path string, z *Zone) {
		if k.names.again(z.Code) {
			k.Add(path, problem.Duplicate, "this frame has two zones named %q", z.Code)
		}
	}),
	fact("rating_kg", Mass, "Rating", func(z *Zone) *measure.Mass { return &z.Rating }, stated(1*kg, 400*kg)).guard().source(),
	fact("ahead_of_rear_axle_cm", Signed, "Ahead of the rear axle", func(z *Zone) *measure.Length { return &z.Ahead }, within(-150*cm, 350*cm)).hint("Behind it: with a minus."),
	fact("height_cm", Length, "Height above ground", func(z *Zone) *measure.Length { return &z.Height }, within(0, 200*cm)),
	fact("steered", Tick, "Turns with the handlebar", func(z *Zone) *bool { return &z.Steered }),
	fact("side", Word, "Side", func(z *Zone) *string { return &z.Side }, oneOf(Sides)),
	fact("cargo_kg", Mass, "Cargo without an add-on", func(z *Zone) *measure.Mass { return &z.Cargo }, within(0, 400*kg)).source(),
	fact("cargo_litres", Volume, "Room for it", func(z *Zone) *measure.Volume { return &z.CargoVolume }, within(0, 2000*measure.Litre)),
}

var combinedFields = []Field{
	also(fact("zones", Codes, "Zones", func(c *Combined) *[]string { return &c.Zones }).hint("Blanks between: front rear.").need(), together).shaped(least(2)),
	fact("rating_kg", Mass, "Rating together", func(c *Combined) *measure.Mass { return &c.Rating }, required(1*kg, 400*kg)).guard().source(),
}

var mountFields = []Field{
	also(fact("code", Code, "Code", func(m *Mount) *string { return &m.Code }, aCode).hint("head_tube, deck_cm, …"), func(k *checker, path string, m *Mount) {
		if k.names.again(m.Code) {
			k.Add(path, problem.Duplicate, "this frame has two mounts named %q", m.Code)
		}
	}),
	fact("capacity", Number, "Holds", func(m *Mount) *int { return &m.Capacity }, within(1, 10000)).need(),
}

// aPlace are the facts of a place. Where one lies is told of a frame's own
// alone.
var aPlace = []Field{
	fact("kind", Word, "Kind of seat", func(p *Place) *string { return &p.Kind }, must(PlaceKinds)),
	also(fact("min_months", Number, "From age, months", func(p *Place) *int { return &p.MinMonths }, within(0, 240)).
		hint("A harnessed place needs it, and every other that states no greatest weight; never under 12.").guard().source(), saysFromWhen),
	also(fact("max_months", Number, "To age, months", func(p *Place) *int { return &p.MaxMonths }, within(0, 1200)).guard().source(), func(k *checker, path string, p *Place) {
		if p.MaxMonths > 0 && p.MaxMonths < p.MinMonths {
			k.Add(path, problem.Conflict, "the greatest age must not be below the least, %d months", p.MinMonths)
		}
	}),
	also(fact("min_kg", Mass, "From weight", func(p *Place) *measure.Mass { return &p.MinMass }).says("0 to 150 kg; of a harnessed place at least 1 kg").guard().source(), func(k *checker, path string, p *Place) {
		limit(k, path, p, p.MinMass, 150*kg)
	}).shaped(func(s *schema.Schema) { s.Between(0, 150*kg) }),
	also(fact("max_kg", Mass, "To weight", func(p *Place) *measure.Mass { return &p.MaxMass }).says("0 to 200 kg; of a harnessed place 1 to 150 kg").guard().source(), func(k *checker, path string, p *Place) {
		limit(k, path, p, p.MaxMass, 200*kg)
		if p.MaxMass > 0 && p.MaxMass < p.MinMass {
			k.Add(path, problem.Conflict, "the greatest weight must not be below the least, %v", p.MinMass)
		}
	}),
	fact("max_stature_cm", Length, "Up to stature", func(p *Place) *measure.Length { return &p.MaxStature }, within(0, 230*cm)).guard().source(),
	fact("needs", Needs, "Needed when somebody sits here", func(p *Place) *[][]string { return &p.Needs }, groups).hint("One of each row must be there.").guard(),
	fact("ahead_of_rear_axle_cm", Signed, "Ahead of the rear axle", func(p *Place) *measure.Length { return &p.Ahead }, within(-150*cm, 350*cm)).
		hint("Behind it: with a minus. Empty: where the zone is."),
	fact("height_cm", Length, "Height above ground", func(p *Place) *measure.Length { return &p.Height }, within(0, 200*cm)),
}

var placeFields = table(
	[]Field{leftOut(also(fact("zone", OneZone, "Zone", func(p *Place) *string { return &p.Zone }), whereItLies),
		func(p *Place) bool { return p.Zone == "" })},
	aPlace,
)
