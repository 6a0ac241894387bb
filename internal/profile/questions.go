package profile

import (
	"kinwain/internal/measure"
	"kinwain/internal/problem"
	"kinwain/internal/schema"
	"kinwain/internal/tongue"
)

const (
	kg    = measure.Kilogram
	cm    = measure.Centimetre
	metre = measure.Metre

	maxRiders     = 8
	maxPassengers = 8
	maxWayParts   = 20
)

var (
	said   = tongue.In
	tall   = said("height", "taille", "Körpergröße", "lengte")
	weight = said("weight", "poids", "Gewicht", "gewicht")
	called = said("name", "nom", "Name", "naam")
)

// Questions are all that a customer is asked, in the order of the talk.
// The ranges are wide: they catch a slipped decimal point or a figure in the
// wrong unit, not an unusual person.
var Questions = []Question{
	riders,
	list("passengers", said("who comes along", "qui vient avec", "wer mitfährt", "wie meerijdt"), func(p *Profile) *Answer[[]Passenger] { return &p.Passengers },
		maxPassengers, "at most %d passengers are judged here", passengerQuestions),
	ask("pet_kg", said("the pet’s weight", "le poids de l’animal", "das Gewicht des Tiers", "het gewicht van het dier"),
		func(p *Profile) *Answer[measure.Mass] { return &p.Pet }, within(0, 100*kg)).
		asks("Dog or other pet", "Its weight.").usually(0, int64(45*kg),
		"Does a pet come along, and how heavy is it?", "Un animal vient-il avec, et combien pèse-t-il ?", "Fährt ein Tier mit, und wie schwer ist es?", "Rijdt er een dier mee, en hoe zwaar is het?").in("cargo"),
	ask("cargo_kg", said("the cargo’s weight", "le poids du chargement", "das Gewicht der Ladung", "het gewicht van de lading"),
		func(p *Profile) *Answer[measure.Mass] { return &p.Cargo }, within(0, 400*kg)).
		asks("Groceries, tools, bags", "The most on one trip.").usually(0, int64(60*kg),
		"How heavy is the most that is carried on one trip?", "Combien pèse le plus lourd chargement d’un trajet ?", "Wie schwer ist die größte Ladung einer Fahrt?", "Hoe zwaar is de grootste lading van één rit?").in("cargo"),
	ask("cargo_litres", said("the cargo’s bulk", "le volume du chargement", "das Volumen der Ladung", "het volume van de lading"),
		func(p *Profile) *Answer[measure.Volume] { return &p.CargoSize }, within(0, 2000*measure.Litre)).
		asks("And how bulky", "In litres; a full shopping bag is about 20.").usually(0, int64(200*measure.Litre),
		"How bulky is the most that is carried on one trip?", "Quel volume prend le plus gros chargement d’un trajet ?", "Wie viel Platz braucht die größte Ladung einer Fahrt?", "Hoeveel ruimte neemt de grootste lading van één rit in?").in("cargo"),
	parts("home", said("where it will sleep", "où il sera rangé", "wo es stehen wird", "waar hij komt te staan"), func(p *Profile) *Answer[Home] { return &p.Home }, homeQuestions),
	ask("budget_cents", said("the budget", "le budget", "das Budget", "het budget"),
		func(p *Profile) *Answer[measure.Money] { return &p.Budget }, within(1, measure.Money(1_000_000_00))).
		asks("Budget", "Bike, add-ons and fitting.").usually(1000_00, 8000_00,
		"What may it cost, with add-ons and fitting?", "Combien peut-il coûter, accessoires et montage compris ?", "Was darf es kosten, mit Zubehör und Montage?", "Wat mag hij kosten, met accessoires en montage?").in("money"),
	ask("budget_firm", said("whether the budget is firm", "si le budget est ferme", "ob das Budget fest ist", "of het budget vast is"),
		func(p *Profile) *Answer[bool] { return &p.BudgetFirm }).
		asks("Not a cent more", "").in("money").tick(),
	ask("years", said("how many years", "combien d’années", "wie viele Jahre", "hoeveel jaar"), func(p *Profile) *Answer[int] { return &p.Years }, within(0, 10)).
		asks("Years it should last", "Up to 10.").usually(1, 8,
		"How many years should it last?", "Combien d’années doit-il servir ?", "Wie viele Jahre soll es reichen?", "Hoeveel jaar moet hij meegaan?").in("money"),
	ask("hill_percent", said("the hill", "la côte", "die Steigung", "de helling"),
		func(p *Profile) *Answer[measure.Percentage] { return &p.Hill }, within(0, measure.Percentage(40_00))).
		asks("Steepest hill on the way", "In percent; a steep street has 7 to 10.").usually(0, int64(20*measure.Percent),
		"How steep is the steepest hill on the way?", "Quelle est la pente de la côte la plus raide du trajet ?", "Wie steil ist die steilste Steigung auf dem Weg?", "Hoe steil is de steilste helling onderweg?").in("money"),
	{Name: "objective", Section: "money", Label: "Add-ons chosen for", Kind: Choice, Sure: true, Named: said("what add-ons are chosen for", "le but du choix des accessoires", "wonach das Zubehör gewählt wird", "waarop accessoires gekozen worden"),
		Words: []Word{{"", "the lowest cost"}, {"lightest", "the lowest weight"}, {"longest", "the longest use"}},
		at:    func(owner any) any { return &owner.(*Profile).Objective }, zero: func(owner any) bool { return owner.(*Profile).Objective == "" },
		checks: []check{func(k *checker, path string, owner any) {
			problem.Word(&k.List, path, owner.(*Profile).Goal(), Objectives)
		}}, shape: func() *schema.Schema { return schema.Words(Objectives...) }},
}

// riders is asked always: its answer is a list, and never open.
var riders = Question{
	Name: "riders", Named: said("who rides", "qui conduit", "wer fährt", "wie rijdt"), Sub: riderQuestions,
	at: func(owner any) any { return &owner.(*Profile).Riders }, zero: func(owner any) bool { return len(owner.(*Profile).Riders) == 0 },
	rows: func(owner any, n int) []any {
		p := owner.(*Profile)
		p.Riders = make([]Rider, n)
		return pointers(p.Riders)
	},
	into:  func(owner any, i int) any { return &owner.(*Profile).Riders[i] },
	given: func(owner any) bool { return true },
	shape: func() *schema.Schema {
		return &schema.Schema{Type: schema.Types{schema.Array}, MinItems: 1, MaxItems: maxRiders, Items: schemaOf(riderQuestions)}
	},
	checks: []check{func(k *checker, path string, owner any) {
		all := owner.(*Profile).Riders
		if len(all) == 0 {
			k.Add(path, problem.Missing, "somebody has to ride: at least one rider's height and weight are needed")
		}
		checkRows(k, path, all, maxRiders, "at most %d riders share a bike here", riderQuestions)
	}},
}

var riderQuestions = []Question{
	label(func(r *Rider) *string { return &r.Label }),
	first(ask("height_cm", tall, func(r *Rider) *Answer[measure.Length] { return &r.Height }, within(100*cm, 230*cm)),
		func(k *checker, path string, r *Rider) { asked(k, path, r.Height, k.mayWait(r)) }).must().
		asks("Height", "178 cm, 1.78 m or 5'10\"").usually(int64(150*cm), int64(198*cm),
		"How tall is rider %v?", "Combien mesure %v ?", "Wie groß ist %v?", "Hoe lang is %v?"),
	also(ask("inseam_cm", said("inseam", "entrejambe", "Schrittlänge", "binnenbeenlengte"),
		func(r *Rider) *Answer[measure.Length] { return &r.Inseam }, within(40*cm, 120*cm)), shorterThanThePerson).
		asks("Inseam", "Floor to crotch, in riding shoes.").aside().usually(int64(65*cm), int64(96*cm),
		"What is the inseam of rider %v?", "Quel est l’entrejambe de %v ?", "Welche Schrittlänge hat %v?", "Wat is de binnenbeenlengte van %v?"),
	first(ask("weight_kg", weight, func(r *Rider) *Answer[measure.Mass] { return &r.Weight }, within(25*kg, 250*kg)),
		func(k *checker, path string, r *Rider) { asked(k, path, r.Weight, k.mayWait(r)) }).must().
		asks("Riding weight", "82 kg, 180 lb or 12 st 12").usually(int64(48*kg), int64(125*kg),
		"What does rider %v weigh, dressed to ride?", "Combien pèse %v, en tenue pour rouler ?", "Was wiegt %v in Fahrkleidung?", "Wat weegt %v in fietskleding?"),
	ask("weighed", said("how the weight is known", "comment le poids est connu", "woher das Gewicht bekannt ist", "hoe het gewicht bekend is"),
		func(r *Rider) *Answer[Weighed] { return &r.Weighed }, oneOf(Dressed, Undressed, Stated)).
		asks("The weight was", "").sure().
		choice(Word{"", "told: + %s"}, Word{"dressed", "dressed, on a scale"}, Word{"undressed", "undressed: + %s"}),
	ask("grip", said("grip", "force des mains", "Kraft der Hände", "handkracht"), func(r *Rider) *Answer[Grip] { return &r.Grip }, oneOf(FullGrip, ReducedGrip)).
		asks("Grip on the brakes", "").aside().usually(0, 1,
		"Can rider %v pull a brake lever hard?", "Est-ce que %v peut serrer fort un levier de frein ?", "Kann %v einen Bremshebel kräftig ziehen?", "Kan %v een remhendel stevig aantrekken?").choice(Word{"", "full"}, Word{"reduced", "reduced"}),
	ask("age_years", said("age", "âge", "Alter", "leeftijd"), func(r *Rider) *Answer[int] { return &r.Age }, within(5, 110)).
		asks("Age", "In years, where a local rule asks for it.").aside(),
}

var passengerQuestions = []Question{
	label(func(p *Passenger) *string { return &p.Label }),
	also(ask("born", said("birth month", "mois de naissance", "Geburtsmonat", "geboortemaand"), func(p *Passenger) *Answer[measure.Date] { return &p.Born }), bornOnce).must().
		asks("Born", "5.2023, or the day: 14.5.2023; also a birth that is expected").asked(
		"When was %v born?", "Quelle est la date de naissance de %v ?", "Wann ist %v geboren?", "Wanneer is %v geboren?"),
	ask("sex", said("growth reference", "référence de croissance", "Wachstumsreferenz", "groeireferentie"),
		func(p *Passenger) *Answer[Sex] { return &p.Sex }, oneOf(Girl, Boy, Unstated)).
		asks("Growth reference", "").aside().sure().choice(Word{"", "mean of both"}, Word{"girl", "girls"}, Word{"boy", "boys"}),
	also(first(ask("weight_kg", weight, func(p *Passenger) *Answer[measure.Mass] { return &p.Weight }, within(2*kg, 200*kg)), weighedOrEstimated), weighedOnceBorn).
		asks("Weight", "As weighed; estimated from the age if left empty.").asked(
		"What does %v weigh?", "Combien pèse %v ?", "Was wiegt %v?", "Wat weegt %v?"),
	also(ask("stature_cm", tall, func(p *Passenger) *Answer[measure.Length] { return &p.Stature }, within(40*cm, 230*cm)), measuredOnceBorn).
		asks("Height", "Estimated if left empty.").aside().asked(
		"How tall is %v?", "Combien mesure %v ?", "Wie groß ist %v?", "Hoe lang is %v?"),
	also(ask("sits_unaided", said("sitting unaided", "position assise sans aide", "Sitzen ohne Hilfe", "zitten zonder hulp"),
		func(p *Passenger) *Answer[bool] { return &p.SitsUnaided }), sitsOnceBorn).
		asks("Sits unaided, helmet on", "").usually(0, 1,
		"Does %v sit unaided with a helmet on?", "Est-ce que %v tient assis sans aide, casque sur la tête ?", "Sitzt %v ohne Hilfe, mit Helm auf dem Kopf?", "Zit %v zonder hulp, met een helm op?").choice(Word{"", "not asked"}, Word{"yes", "yes"}, Word{"no", "not yet"}),
	also(ask("joins", said("when to join", "à partir de quand", "ab wann dabei", "vanaf wanneer mee"), func(p *Passenger) *Answer[Month] { return &p.Joins }), noInfantJoins).
		asks("Joins later, in", "A month, such as 3.2027; an expected child joins on the first birthday.").aside().asked(
		"From when does %v come along?", "À partir de quel mois faut-il emmener %v ?", "Ab wann fährt %v mit?", "Vanaf wanneer rijdt %v mee?"),
	ask("leaves_at_years", said("when to ride alone", "âge pour rouler seul", "ab wann allein", "vanaf wanneer alleen"),
		func(p *Passenger) *Answer[int] { return &p.LeavesAtYears }, within(0, 30)).
		asks("Rides alone from age", "In years.").aside(),
}

var homeQuestions = []Question{
	ask("length_cm", said("the length of its place", "la longueur de sa place", "die Länge des Stellplatzes", "de lengte van zijn plek"),
		func(h *Home) *Answer[measure.Length] { return &h.Length }, within(0, 20*metre)).
		asks("Length", "").usually(int64(120*cm), int64(350*cm),
		"How long is the place where it will stand?", "Quelle est la longueur de l’emplacement ?", "Wie lang ist der Platz, an dem es stehen wird?", "Hoe lang is de plek waar hij komt te staan?"),
	ask("width_cm", said("the width of its place", "la largeur de sa place", "die Breite des Stellplatzes", "de breedte van zijn plek"),
		func(h *Home) *Answer[measure.Length] { return &h.Width }, within(0, 20*metre)).
		asks("Width", "").usually(int64(50*cm), int64(250*cm),
		"How wide is the place where it will stand?", "Quelle est la largeur de l’emplacement ?", "Wie breit ist der Platz, an dem es stehen wird?", "Hoe breed is de plek waar hij komt te staan?"),
	ask("height_cm", said("the height of its place", "la hauteur de sa place", "die Höhe des Stellplatzes", "de hoogte van zijn plek"),
		func(h *Home) *Answer[measure.Length] { return &h.Height }, within(0, 20*metre)).
		asks("Height", "").usually(int64(110*cm), int64(280*cm),
		"How high is the place where it will stand?", "Quelle est la hauteur de l’emplacement ?", "Wie hoch ist der Platz, an dem es stehen wird?", "Hoe hoog is de plek waar hij komt te staan?"),
	ask("steps", said("the steps", "les marches", "die Stufen", "de treden"), func(h *Home) *Answer[int] { return &h.Steps }, within(0, 500)).
		asks("Steps on the way", "How many.").usually(0, 20,
		"How many steps are there on the way in?", "Combien de marches y a-t-il pour entrer ?", "Wie viele Stufen liegen auf dem Weg hinein?", "Hoeveel treden zijn er op de weg naar binnen?"),
	ask("clearance_cm", said("what to keep free", "ce qui doit rester libre", "was frei bleiben muss", "wat vrij moet blijven"),
		func(h *Home) *Answer[measure.Length] { return &h.Clearance }, within(0, 2*metre)).
		asks("Keep free beside it", "If something else has to pass."),
	ask("must_stand_upright", said("whether it must stand upright", "s’il doit être rangé à la verticale", "ob es aufrecht stehen muss", "of hij rechtop moet staan"),
		func(h *Home) *Answer[bool] { return &h.MustStandUpright }).
		asks("It has to stand upright on its tail", "").tick().usually(0, 1,
		"Does it have to stand upright on its tail?", "Doit-il être rangé debout sur l’arrière ?", "Muss es aufrecht auf dem Heck stehen?", "Moet hij rechtop op zijn achterkant staan?"),
	list("doorways", said("the doorways", "les portes", "die Türen", "de deuren"), func(h *Home) *Answer[[]Doorway] { return &h.Doorways },
		maxWayParts, "at most %d doorways are judged here; leave out the widest", []Question{
			ask("width_cm", said("width", "largeur", "Breite", "breedte"), func(d *Doorway) *Answer[measure.Length] { return &d.Width }, within(0, 5*metre)).
				asks("Clear width", "").usually(int64(60*cm), int64(110*cm),
				"How wide is the narrowest doorway?", "Quelle est la largeur de la porte la plus étroite ?", "Wie breit ist die engste Tür?", "Hoe breed is de smalste deur?"),
			ask("height_cm", tall, func(d *Doorway) *Answer[measure.Length] { return &d.Height }, within(0, 5*metre)).
				asks("Clear height", "").usually(int64(180*cm), int64(230*cm),
				"How high is the lowest doorway?", "Quelle est la hauteur de la porte la plus basse ?", "Wie hoch ist die niedrigste Tür?", "Hoe hoog is de laagste deur?"),
		}).begun(),
	list("corners", said("the corners", "les angles", "die Ecken", "de hoeken"), func(h *Home) *Answer[[]Corner] { return &h.Corners },
		maxWayParts, "at most %d corners are judged here; leave out the widest", []Question{
			ask("in_cm", said("corridor before the corner", "couloir avant l’angle", "Gang vor der Ecke", "gang voor de hoek"), func(c *Corner) *Answer[measure.Length] { return &c.In }, within(0, 10*metre)).
				asks("Width before the corner", "").usually(int64(70*cm), int64(250*cm),
				"How wide is the corridor before the corner?", "Quelle est la largeur du couloir avant l’angle ?", "Wie breit ist der Gang vor der Ecke?", "Hoe breed is de gang voor de hoek?"),
			ask("out_cm", said("corridor after the corner", "couloir après l’angle", "Gang nach der Ecke", "gang na de hoek"), func(c *Corner) *Answer[measure.Length] { return &c.Out }, within(0, 10*metre)).
				asks("Width after the corner", "").usually(int64(70*cm), int64(250*cm),
				"How wide is the corridor after the corner?", "Quelle est la largeur du couloir après l’angle ?", "Wie breit ist der Gang nach der Ecke?", "Hoe breed is de gang na de hoek?"),
		}).begun(),
	parts("lift", said("the lift", "l’ascenseur", "der Aufzug", "de lift"), func(h *Home) *Answer[Lift] { return &h.Lift }, []Question{
		ask("length_cm", said("the lift’s length", "la longueur de l’ascenseur", "die Länge des Aufzugs", "de lengte van de lift"),
			func(l *Lift) *Answer[measure.Length] { return &l.Length }, within(0, 10*metre)).
			asks("Car length", "").aside().usually(int64(80*cm), int64(260*cm),
			"How long is the lift?", "Quelle est la longueur de l’ascenseur ?", "Wie lang ist der Aufzug?", "Hoe lang is de lift?"),
		ask("width_cm", said("the lift’s width", "la largeur de l’ascenseur", "die Breite des Aufzugs", "de breedte van de lift"),
			func(l *Lift) *Answer[measure.Length] { return &l.Width }, within(0, 10*metre)).
			asks("Car width", "").aside().usually(int64(80*cm), int64(200*cm),
			"How wide is the lift?", "Quelle est la largeur de l’ascenseur ?", "Wie breit ist der Aufzug?", "Hoe breed is de lift?"),
		ask("height_cm", said("the lift’s height", "la hauteur de l’ascenseur", "die Höhe des Aufzugs", "de hoogte van de lift"),
			func(l *Lift) *Answer[measure.Length] { return &l.Height }, within(0, 10*metre)).
			asks("Door and car height", "The lower one.").aside().usually(int64(190*cm), int64(240*cm),
			"How high is the lift?", "Quelle est la hauteur de l’ascenseur ?", "Wie hoch ist der Aufzug?", "Hoe hoog is de lift?"),
		ask("door_cm", said("the lift’s door", "la porte de l’ascenseur", "die Tür des Aufzugs", "de deur van de lift"),
			func(l *Lift) *Answer[measure.Length] { return &l.Door }, within(0, 10*metre)).
			asks("Door width", "").aside().usually(int64(60*cm), int64(120*cm),
			"How wide is the door of the lift?", "Quelle est la largeur de la porte de l’ascenseur ?", "Wie breit ist die Tür des Aufzugs?", "Hoe breed is de deur van de lift?"),
	}),
}
