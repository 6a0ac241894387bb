package match

import (
	"slices"

	"kinwain/internal/tongue"
)

// Code names a reason.
type Code string

// The codes, each with its row in Rules.
const (
	ReasonRiderHeight     Code = "rider_height"
	ReasonRiderWeight     Code = "rider_weight"
	ReasonGrossRating     Code = "gross_rating"
	ReasonZoneRating      Code = "zone_rating"
	ReasonCombinedRating  Code = "combined_rating"
	ReasonAxleRating      Code = "axle_rating"
	ReasonAddOnRating     Code = "add_on_rating"
	ReasonPassengersMax   Code = "passengers_max"
	ReasonPlaceMissing    Code = "place_missing"
	ReasonPlaceLimits     Code = "place_limits"
	ReasonInfant          Code = "infant"
	ReasonNotSitting      Code = "not_sitting"
	ReasonAgeUnknown      Code = "age_unknown"
	ReasonJoinsLater      Code = "joins_later"
	ReasonMountFull       Code = "mount_full"
	ReasonNeedsMissing    Code = "needs_missing"
	ReasonExcluded        Code = "excluded"
	ReasonTooMany         Code = "too_many"
	ReasonPetPlace        Code = "pet_place"
	ReasonCargoWeight     Code = "cargo_weight"
	ReasonCargoVolume     Code = "cargo_volume"
	ReasonCarryGuideline  Code = "carry_guideline"
	ReasonStandover       Code = "standover"
	ReasonSaddleRange     Code = "saddle_range"
	ReasonStorageSpace    Code = "storage_space"
	ReasonStorageWay      Code = "storage_way"
	ReasonStorageSlack    Code = "storage_slack"
	ReasonUpright         Code = "upright"
	ReasonUprightWay      Code = "upright_way"
	ReasonBudget          Code = "budget"
	ReasonGrip            Code = "grip"
	ReasonSteps           Code = "steps"
	ReasonOddWheel        Code = "odd_wheel"
	ReasonWeightEstimated Code = "weight_estimated"
	ReasonBeyondReference Code = "beyond_reference"
	ReasonSpecMissing     Code = "spec_missing"
	ReasonSourceMissing   Code = "source_missing"
	ReasonUnsettled       Code = "unsettled"
	ReasonUnverified      Code = "unverified"
	ReasonUnproved        Code = "unproved"
	ReasonHill            Code = "hill"
	ReasonBrakes          Code = "brakes"
	ReasonEstimateMargin  Code = "estimate_margin"
	ReasonFrontLight      Code = "front_light"
	ReasonSideLoad        Code = "side_load"
	ReasonStandRating     Code = "stand_rating"
	ReasonOutgrownSoon    Code = "outgrown_soon"
	ReasonOutgrownBefore  Code = "outgrown_before"
	ReasonLocalRule       Code = "local_rule"
)

// Rule is one row of the table of reasons.
type Rule struct {
	Code    Code
	When    string // the inequality, in words a mechanic reads
	Weight  string
	Setting string           // the name of the shop setting in it
	Short   tongue.Said      // in a few words, for a cell of a table
	Says    []tongue.Said    // every sentence that a match says of it
	Counts  []tongue.Counted // those that change with a number
}

var said, forms = tongue.In, tongue.OneOr

// Rules is every reason that a match can carry, in the order in which those of
// one weight are listed.
var Rules = slices.Concat(ofTime, ofRiders, ofRoad, ofPlace, ofProof)

// ofRiders are the reasons of who rides and what is on the bike.
var ofRiders = []Rule{
	{ReasonRiderHeight, "outside rider_min to rider_max by > height_rounding; by less, or inside within height_margin of an end", "stop; care", "height_rounding_mm, height_margin_mm",
		said("rider’s height", "taille du cycliste", "Körpergröße", "lengte van de berijder"), []tongue.Said{
			said("Rider %v is %v too short: the frame is made for %v to %v.",
				"%v mesure %v de moins que la plus petite taille prévue : ce vélo va de %v à %v.",
				"%v ist %v zu klein: Das Rad ist für Körpergrößen von %v bis %v gedacht.",
				"%v is %v te klein: de fiets is gemaakt voor een lengte van %v tot %v."),
			said("Rider %v is %v too tall: the frame is made for %v to %v.",
				"%v mesure %v de plus que la plus grande taille prévue : ce vélo va de %v à %v.",
				"%v ist %v zu groß: Das Rad ist für Körpergrößen von %v bis %v gedacht.",
				"%v is %v te lang: de fiets is gemaakt voor een lengte van %v tot %v."),
			said("Rider %v is only %v above the shortest the frame is made for. Try it for size.",
				"%v ne mesure que %v de plus que la plus petite taille prévue. Essayez le vélo pour vérifier la taille.",
				"%v ist nur %v größer als die kleinste vorgesehene Körpergröße. Probieren Sie, ob es passt.",
				"%v is maar %v langer dan de kleinste lengte waarvoor de fiets gemaakt is. Probeer of de maat klopt."),
			said("Rider %v is only %v under the tallest the frame is made for. Try it for size.",
				"%v ne mesure que %v de moins que la plus grande taille prévue. Essayez le vélo pour vérifier la taille.",
				"%v ist nur %v kleiner als die größte vorgesehene Körpergröße. Probieren Sie, ob es passt.",
				"%v is maar %v korter dan de grootste lengte waarvoor de fiets gemaakt is. Probeer of de maat klopt."),
			said("Rider %v is %v shorter than the frame is made for, no more than heights are rounded by. Try it for size.",
				"%v mesure %v de moins que la plus petite taille prévue, un écart qui tient dans l’arrondi. Essayez le vélo pour vérifier la taille.",
				"%v ist %v kleiner als vorgesehen, nicht mehr, als beim Messen gerundet wird. Probieren Sie, ob es passt.",
				"%v is %v korter dan de bedoeling is, niet meer dan bij het meten wordt afgerond. Probeer of de maat klopt."),
			said("Rider %v is %v taller than the frame is made for, no more than heights are rounded by. Try it for size.",
				"%v mesure %v de plus que la plus grande taille prévue, un écart qui tient dans l’arrondi. Essayez le vélo pour vérifier la taille.",
				"%v ist %v größer als vorgesehen, nicht mehr, als beim Messen gerundet wird. Probieren Sie, ob es passt.",
				"%v is %v langer dan de bedoeling is, niet meer dan bij het meten wordt afgerond. Probeer of de maat klopt."),
			said("Rider %v is just as tall as the shortest the frame is made for. Try it for size.",
				"%v a tout juste la plus petite taille prévue. Essayez le vélo pour vérifier la taille.",
				"%v hat genau die kleinste vorgesehene Körpergröße. Probieren Sie, ob es passt.",
				"%v heeft precies de kleinste lengte waarvoor de fiets gemaakt is. Probeer of de maat klopt."),
			said("Rider %v is just as tall as the tallest the frame is made for. Try it for size.",
				"%v a tout juste la plus grande taille prévue. Essayez le vélo pour vérifier la taille.",
				"%v hat genau die größte vorgesehene Körpergröße. Probieren Sie, ob es passt.",
				"%v heeft precies de grootste lengte waarvoor de fiets gemaakt is. Probeer of de maat klopt."),
		}, nil},
	{ReasonRiderWeight, "riding weight > rider_max", "stop", "undressed_g, stated_g",
		said("rider’s weight", "poids du cycliste", "Fahrergewicht", "gewicht van de berijder"), []tongue.Said{
			said("Rider %v is %v over the maker's limit for a rider of %v.",
				"%v dépasse de %v le poids maximal de %v prévu par le fabricant pour un cycliste.",
				"%v liegt %v über dem zulässigen Fahrergewicht von %v.",
				"%v zit %v boven het berijdersgewicht van %v dat de fabrikant toestaat."),
		}, nil},
	{ReasonGrossRating, "bare weight + add-ons − taken off + rider + passengers + pet + cargo > gross rating", "stop", "clothing_g, planning_percentile",
		said("over the gross rating", "au-delà du poids total", "über dem Gesamtgewicht", "boven het totaalgewicht"), []tongue.Said{
			said("Everything together is %v over the gross rating of %v.",
				"L’ensemble dépasse de %v le poids total autorisé de %v.",
				"Alles zusammen liegt %v über dem zulässigen Gesamtgewicht von %v.",
				"Alles samen zit %v boven het toegestane totaalgewicht van %v."),
			said("Everything together is %v over the gross rating of %v, even with the lightest add-ons.",
				"L’ensemble dépasse de %v le poids total autorisé de %v, même avec les accessoires les plus légers.",
				"Alles zusammen liegt %v über dem zulässigen Gesamtgewicht von %v, selbst mit dem leichtesten Zubehör.",
				"Alles samen zit %v boven het toegestane totaalgewicht van %v, zelfs met de lichtste accessoires."),
		}, nil},
	{ReasonZoneRating, "add-ons, passengers, pet and cargo in the zone > its rating", "stop", "",
		said("over a zone’s rating", "zone trop chargée", "Zone überlastet", "zone te zwaar beladen"), []tongue.Said{
			said("%v over the %v rating.", "%v de trop pour la zone « %v ».", "%v über der zulässigen Last der Zone „%v“.", "%v boven de toegestane belasting van de zone ‘%v’."),
		}, nil},
	{ReasonCombinedRating, "the same over the zones together > their combined rating", "stop", "",
		said("over a combined rating", "zones ensemble trop chargées", "Zonen zusammen überlastet", "zones samen te zwaar beladen"), []tongue.Said{
			said("%v over the rating of %v together.",
				"%v de trop pour les zones %v ensemble.",
				"%v über der gemeinsamen zulässigen Last der Zonen %v.",
				"%v boven de gezamenlijke toegestane belasting van de zones %v."),
		}, nil},
	{ReasonAxleRating, "Σ mass × arm ÷ wheelbase > the axle's rating", "stop", "",
		said("over an axle’s rating", "essieu trop chargé", "Achse überlastet", "as te zwaar beladen"), []tongue.Said{
			said("%v over the rating of the %v axle.", "%v de trop pour l’essieu %v.", "%v über der zulässigen Last der Achse %v.", "%v boven de toegestane belasting van de as %v."),
		}, nil},
	{ReasonAddOnRating, "all that the add-on carries > its max_load", "stop", "",
		said("over an add-on’s rating", "accessoire trop chargé", "Zubehör überlastet", "accessoire te zwaar beladen"), []tongue.Said{
			said("%v over what the %v may carry.", "%v de plus que ce que peut porter « %v ».", "%v mehr, als „%v“ tragen darf.", "%v meer dan ‘%v’ mag dragen."),
		}, nil},
	{ReasonPassengersMax, "passengers > passengers_max", "stop", "",
		said("too many passengers", "trop de passagers", "zu viele Mitfahrende", "te veel passagiers"), []tongue.Said{
			said("%v passengers are more than the %v the maker allows.",
				"Avec %v passagers, la limite du fabricant (%v) est dépassée.",
				"%v fahren mit; der Hersteller erlaubt höchstens %v.",
				"Er rijden %v mensen mee; de fabrikant staat er hoogstens %v toe."),
		}, nil},
	{ReasonPlaceMissing, "no set of add-ons gives every passenger a place", "stop", "",
		said("no place for everyone", "pas de place pour tous", "nicht für alle ein Platz", "niet voor iedereen plaats"), []tongue.Said{
			said("These add-ons do not give every passenger a place.",
				"Ces accessoires ne donnent pas une place à chaque passager.",
				"Mit diesem Zubehör haben nicht alle Mitfahrenden einen Platz.",
				"Deze accessoires geven niet elke passagier een plaats."),
			said("No set of add-ons gives all %v passengers a place on this frame.",
				"Aucun ensemble d’accessoires ne donne une place aux %v passagers sur ce vélo.",
				"Mit keinem Zubehör haben alle %v Mitfahrenden auf diesem Rad einen Platz.",
				"Geen combinatie van accessoires geeft alle %v passagiers een plaats op deze fiets."),
			said("No set of add-ons gives both passengers a place on this frame.",
				"Aucun ensemble d’accessoires ne donne une place aux deux passagers sur ce vélo.",
				"Mit keinem Zubehör haben beide Mitfahrenden auf diesem Rad einen Platz.",
				"Geen combinatie van accessoires geeft beide passagiers een plaats op deze fiets."),
			said("No add-on gives the passenger a place on this frame.",
				"Aucun accessoire ne donne une place au passager sur ce vélo.",
				"Mit keinem Zubehör gibt es auf diesem Rad einen Platz zum Mitfahren.",
				"Geen accessoire geeft de passagier een plaats op deze fiets."),
		}, nil},
	{ReasonPlaceLimits, "age, weight or stature outside the limits of every place left", "stop", "minimum_percentile, planning_percentile, clothing_g",
		said("no place that suits", "aucune place qui convient", "kein passender Platz", "geen passende plaats"), []tongue.Said{
			said("Everyone has a place that suits, but these places do not go together on this frame.",
				"Chacun a une place qui convient, mais ces places ne vont pas ensemble sur ce vélo.",
				"Für alle gibt es einen passenden Platz, aber diese Plätze lassen sich auf diesem Rad nicht kombinieren.",
				"Voor iedereen is er een passende plaats, maar die plaatsen gaan op deze fiets niet samen."),
			said("A place suits the passenger, but on this frame not together with all else that was asked for.",
				"Une place convient au passager, mais pas sur ce vélo avec tout le reste de la demande.",
				"Ein Platz passt, aber auf diesem Rad nicht zusammen mit allem anderen, was gewünscht ist.",
				"Er is een passende plaats, maar op deze fiets niet samen met al het andere dat gevraagd is."),
			said("%v, dressed, is %v over the limit of the %v.",
				"%v, vêtements compris, dépasse de %v la limite de « %v ».",
				"%v liegt in Kleidung %v über der Grenze von „%v“.",
				"%v zit met kleding %v boven de grens van ‘%v’."),
			said("%v is %v under the least weight for the %v.",
				"%v pèse %v de moins que le minimum pour « %v ».",
				"%v liegt %v unter dem Mindestgewicht für „%v“.",
				"%v zit %v onder het minimumgewicht voor ‘%v’."),
			said("The age of %v is not known, and the %v has limits of age. Ask for the month of birth.",
				"L’âge de %v n’est pas connu, et « %v » a des limites d’âge. Demandez le mois de naissance.",
				"Das Alter von %v ist nicht bekannt, und „%v“ hat Altersgrenzen. Fragen Sie nach dem Geburtsmonat.",
				"De leeftijd van %v is niet bekend, en ‘%v’ heeft leeftijdsgrenzen. Vraag naar de geboortemaand."),
			said("%v is %v too tall for the %v.", "%v mesure %v de trop pour « %v ».", "%v ist %v zu groß für „%v“.", "%v is %v te lang voor ‘%v’."),
		}, []tongue.Counted{
			tongue.Count("%v is too young for the %v, which is for %v months and up.", 3,
				forms("%v is too young for the %v, which is for %v month and up.", "%v is too young for the %v, which is for %v months and up."),
				forms("%v est trop jeune pour « %v », prévu à partir de %v mois.", "%v est trop jeune pour « %v », prévu à partir de %v mois."),
				forms("%v ist zu jung für „%v“, gedacht ab %v Monat.", "%v ist zu jung für „%v“, gedacht ab %v Monaten."),
				forms("%v is te jong voor ‘%v’, bedoeld vanaf %v maand.", "%v is te jong voor ‘%v’, bedoeld vanaf %v maanden.")),
			tongue.Count("%v is too old for the %v, which is for up to %v months.", 3,
				forms("%v is too old for the %v, which is for up to %v month.", "%v is too old for the %v, which is for up to %v months."),
				forms("%v a dépassé l’âge limite de « %v », prévu jusqu’à %v mois.", "%v a dépassé l’âge limite de « %v », prévu jusqu’à %v mois."),
				forms("%v ist zu alt für „%v“, gedacht bis %v Monat.", "%v ist zu alt für „%v“, gedacht bis %v Monate."),
				forms("%v is te oud voor ‘%v’, bedoeld tot en met %v maand.", "%v is te oud voor ‘%v’, bedoeld tot en met %v maanden.")),
		}},
	{ReasonInfant, "age < 12 months", "stop", "",
		said("under 12 months", "moins de 12 mois", "unter 12 Monaten", "jonger dan 12 maanden"), []tongue.Said{
			said("%v is under 12 months. Infants do not ride; the earliest is %v, and the maker's manual and local law come first.",
				"%v a moins de 12 mois. Un nourrisson ne doit pas être transporté ; au plus tôt le %v, et la notice du fabricant et la loi locale priment.",
				"%v ist noch keine 12 Monate alt. Säuglinge fahren nicht mit; frühestens ab dem %v, und Anleitung des Herstellers und örtliches Recht gehen vor.",
				"%v is jonger dan 12 maanden. Baby’s rijden niet mee; op zijn vroegst op %v, en de handleiding van de fabrikant en de plaatselijke wet gaan voor."),
		}, nil},
	{ReasonAgeUnknown, "the birth month is not known", "care", "",
		said("age not known", "âge inconnu", "Alter nicht bekannt", "leeftijd onbekend"), []tongue.Said{
			said("The age of %v is not known: no place with limits of age counts, and nothing says how long the bike lasts. Ask for the month of birth.",
				"L’âge de %v n’est pas connu : aucune place à limites d’âge ne compte, et rien ne dit combien de temps le vélo servira. Demandez le mois de naissance.",
				"Das Alter von %v ist nicht bekannt: Plätze mit Altersgrenzen zählen nicht, und wie lange das Rad reicht, bleibt offen. Fragen Sie nach dem Geburtsmonat.",
				"De leeftijd van %v is niet bekend: plaatsen met leeftijdsgrenzen tellen niet mee, en hoe lang de fiets meegaat blijft open. Vraag naar de geboortemaand."),
		}, nil},
	{ReasonNotSitting, "does not sit unaided; not known and under 24 months, or of an age that is not known", "stop; care", "",
		said("sitting unaided", "position assise sans aide", "ohne Hilfe sitzen", "zelfstandig zitten"), []tongue.Said{
			said("%v does not yet sit unaided with a helmet on, and cannot ride before that.",
				"%v ne tient pas encore en position assise sans aide, casque sur la tête, et ne doit pas être transporté avant.",
				"%v kann mit Helm noch nicht ohne Hilfe sitzen und darf vorher nicht mitfahren.",
				"%v kan met een helm op nog niet zonder hulp zitten en mag tot die tijd niet meerijden."),
			said("See that %v sits unaided with a helmet on before the first ride.",
				"Vérifiez avant le premier trajet que %v tient en position assise sans aide, casque sur la tête.",
				"Prüfen Sie vor der ersten Fahrt, ob %v mit Helm ohne Hilfe sitzen kann.",
				"Kijk voor de eerste rit of %v met een helm op zonder hulp kan zitten."),
		}, nil},
	{ReasonJoinsLater, "today < the first day of the month of joins, or < the first birthday if that is later", "care", "",
		said("joins later", "monte à bord plus tard", "fährt später mit", "rijdt later mee"), []tongue.Said{
			said("%v does not ride before %v. A place is kept, and the frame is judged with the child as on that day.",
				"%v ne monte à bord qu’à partir du %v. Sa place est gardée, et le vélo est évalué avec l’enfant tel qu’il sera ce jour-là.",
				"%v fährt erst ab dem %v mit. Ein Platz ist freigehalten, und das Rad ist mit dem Kind beurteilt, wie es an diesem Tag sein wird.",
				"%v rijdt pas mee vanaf %v. Er wordt een plaats vrijgehouden, en de fiets is beoordeeld met het kind zoals het op die dag is."),
		}, nil},
	{ReasonOutgrownSoon, "months from this one to the horizon < outgrown_months", "care", "outgrown_months",
		said("outgrown soon", "bientôt trop petit", "bald zu klein", "binnenkort te klein"), []tongue.Said{
			said("This set-up carries everyone only until the end of %v. Ask what comes after that before you buy.",
				"Cet équipement ne transporte tout le monde que jusqu’à fin %v. Demandez avant l’achat ce qui viendra ensuite.",
				"So ausgestattet trägt das Rad alle nur bis Ende %v. Fragen Sie vor dem Kauf, was danach kommt.",
				"Met deze uitrusting kan iedereen maar tot eind %v mee. Vraag voor u koopt wat er daarna komt."),
			said("This set-up is outgrown before this month is over. Ask what comes after that before you buy.",
				"Cet équipement sera trop petit avant la fin du mois. Demandez avant l’achat ce qui viendra ensuite.",
				"So ausgestattet ist das Rad noch in diesem Monat zu klein. Fragen Sie vor dem Kauf, was danach kommt.",
				"Met deze uitrusting is de fiets nog deze maand te klein. Vraag voor u koopt wat er daarna komt."),
		}, nil},
	{ReasonOutgrownBefore, "months that it lasts < 12 × the years asked for", "note", "",
		said("outgrown before the years", "trop petit avant l’échéance", "vor der Zeit zu klein", "te klein voor de tijd om is"), []tongue.Said{
			said("This set-up carries everyone until the end of %v, %v of the %v months asked for.",
				"Cet équipement transporte tout le monde jusqu’à fin %v, soit %v des %v mois demandés.",
				"So ausgestattet trägt das Rad alle bis Ende %v, %v der gewünschten %v Monate.",
				"Met deze uitrusting kan iedereen mee tot eind %v, %v van de gevraagde %v maanden."),
			said("This set-up is outgrown before this month is over, short of the %v months asked for.",
				"Cet équipement sera trop petit avant la fin du mois, bien avant les %v mois demandés.",
				"So ausgestattet ist das Rad noch in diesem Monat zu klein, kürzer als die gewünschten %v Monate.",
				"Met deze uitrusting is de fiets nog deze maand te klein, korter dan de gevraagde %v maanden."),
			said("%v %v", "%v %v", "%v %v", "%v %v"), // two sentences
			said("Another set-up lasts until the end of %v, for %v more.",
				"Un autre équipement sert jusqu’à fin %v, pour %v de plus.",
				"Eine andere Ausstattung passt bis Ende %v und kostet %v mehr.",
				"Een andere uitrusting gaat mee tot eind %v, voor %v meer."),
			said("Another set-up lasts ten years and more, for %v more.",
				"Un autre équipement sert dix ans et plus, pour %v de plus.",
				"Eine andere Ausstattung passt zehn Jahre und länger und kostet %v mehr.",
				"Een andere uitrusting gaat tien jaar en langer mee, voor %v meer."),
			said("Another set-up costs no more and lasts until the end of %v.",
				"Un autre équipement ne coûte pas plus et sert jusqu’à fin %v.",
				"Eine andere Ausstattung kostet nicht mehr und passt bis Ende %v.",
				"Een andere uitrusting kost niet meer en gaat mee tot eind %v."),
			said("Another set-up costs no more and lasts ten years and more.",
				"Un autre équipement ne coûte pas plus et sert dix ans et plus.",
				"Eine andere Ausstattung kostet nicht mehr und passt zehn Jahre und länger.",
				"Een andere uitrusting kost niet meer en gaat tien jaar en langer mee."),
		}, nil},
	{ReasonMountFull, "by hand: add-ons on a mount > its capacity", "stop", "",
		said("a mount is full", "une fixation est pleine", "eine Befestigung ist voll", "een bevestiging is vol"), []tongue.Said{
			said("The mount %v is %v over what it holds; the %v is one of those on it.",
				"La fixation « %v » dépasse de %v ce qu’elle reçoit ; « %v » en fait partie.",
				"Die Befestigung „%v“ ist um %v überbelegt; „%v“ gehört dazu.",
				"De bevestiging ‘%v’ is %v te vol; ‘%v’ zit er ook op."),
		}, nil},
	{ReasonNeedsMissing, "by hand: no member of a group of needs is met", "stop", "",
		said("something it needs", "il manque un élément", "etwas Nötiges fehlt", "er ontbreekt iets"), []tongue.Said{
			said("%v needs %v.", "« %v » ne va pas sans %v.", "„%v“ geht nicht ohne %v.", "‘%v’ gaat niet zonder %v."),
			said("a %v, which nothing for this frame has", "%v, que rien n’offre pour ce vélo", "%v, was es für dieses Rad nicht gibt", "%v, wat er voor deze fiets niet is"),
			said("%v or %v", "%v ou %v", "%v oder %v", "%v of %v"),
		}, nil},
	{ReasonExcluded, "by hand: two add-ons that exclude each other", "stop", "",
		said("do not go together", "ne vont pas ensemble", "passen nicht zusammen", "gaan niet samen"), []tongue.Said{
			said("%v and %v do not go together.", "« %v » et « %v » ne vont pas ensemble.", "„%v“ und „%v“ passen nicht zusammen.", "‘%v’ en ‘%v’ gaan niet samen."),
		}, nil},
	{ReasonTooMany, "by hand: more of an add-on than up_to", "stop", "",
		said("too many of one", "trop du même accessoire", "zu viele von einem", "te veel van één"), []tongue.Said{
			said("%v: %v too many.", "« %v » est choisi %v fois de trop.", "„%v“ ist %v-mal zu viel gewählt.", "‘%v’ is %v keer te veel gekozen."),
		}, nil},
	{ReasonPetPlace, "no carrier of its own that bears the pet", "stop", "",
		said("no carrier for the pet", "rien pour transporter l’animal", "kein Platz für das Tier", "geen plek voor het dier"), []tongue.Said{
			said("No carrier that fits this frame takes a pet of %v.",
				"Rien ne permet de transporter un animal de %v sur ce vélo.",
				"Nichts, was an dieses Rad passt, nimmt ein Tier von %v auf.",
				"Op deze fiets past niets waarin een dier van %v mee kan."),
			said("Nothing on the bike takes a pet of %v.",
				"Rien sur ce vélo ne permet de transporter un animal de %v.",
				"Nichts am Rad nimmt ein Tier von %v auf.",
				"Op de fiets is niets waarin een dier van %v mee kan."),
		}, nil},
	{ReasonCargoWeight, "cargo > what the carriers bear", "stop", "",
		said("too much cargo", "trop de chargement", "zu viel Ladung", "te veel lading"), []tongue.Said{
			said("Nothing that fits together on this frame bears %v of cargo.",
				"Aucun montage possible sur ce vélo ne supporte %v de chargement.",
				"Nichts, was sich an diesem Rad kombinieren lässt, trägt %v Ladung.",
				"Niets wat op deze fiets te combineren is, draagt %v lading."),
			said("Nothing on the bike carries cargo.",
				"Rien sur ce vélo ne permet d’emporter un chargement.",
				"Nichts am Rad trägt Ladung.",
				"Niets op de fiets draagt lading."),
			said("What is on the bike bears %v of the %v of cargo.",
				"Ce qui est sur le vélo supporte %v sur les %v de chargement.",
				"Was am Rad ist, trägt %v von %v Ladung.",
				"Wat op de fiets zit, draagt %v van de %v lading."),
			said("What is on the bike does not bear %v of cargo with all the rest.",
				"Ce qui est sur le vélo ne supporte pas %v de chargement avec tout le reste.",
				"Was am Rad ist, trägt %v Ladung nicht zusammen mit allem anderen.",
				"Wat op de fiets zit, draagt geen %v lading samen met al het andere."),
		}, nil},
	{ReasonCargoVolume, "cargo > what the carriers hold", "stop", "",
		said("too bulky a cargo", "chargement trop volumineux", "Ladung zu sperrig", "lading te groot"), []tongue.Said{
			said("Nothing that fits together on this frame holds %v of cargo.",
				"Aucun montage possible sur ce vélo ne contient %v de chargement.",
				"Nichts, was sich an diesem Rad kombinieren lässt, fasst %v Ladung.",
				"In niets wat op deze fiets te combineren is, past %v lading."),
			said("What is on the bike holds %v of the %v of cargo.",
				"Ce qui est sur le vélo contient %v sur les %v de chargement.",
				"Was am Rad ist, fasst %v von %v Ladung.",
				"In wat op de fiets zit, past %v van de %v lading."),
			said("What is on the bike does not hold %v of cargo with all the rest.",
				"Ce qui est sur le vélo ne contient pas %v de chargement avec tout le reste.",
				"Was am Rad ist, fasst %v Ladung nicht zusammen mit allem anderen.",
				"In wat op de fiets zit, past geen %v lading samen met al het andere."),
		}, nil},
	{ReasonCarryGuideline, "passengers + pet + cargo > carry_share × rider's own weight", "care", "carry_share",
		said("over the carry guideline", "au-delà du repère de charge", "über dem Richtwert", "boven de richtlijn"), []tongue.Said{
			said("Rider %v would carry %v, which is %v over %v of their own weight, the usual guideline. Practise unloaded, then load up bit by bit.",
				"%v transporterait %v, soit %v de plus que %v de son propre poids, le repère habituel. Exercez-vous à vide, puis chargez peu à peu.",
				"%v würde %v befördern, das sind %v über %v des eigenen Gewichts, dem üblichen Richtwert. Üben Sie unbeladen, dann laden Sie nach und nach mehr.",
				"%v zou %v vervoeren, dat is %v boven %v van het eigen gewicht, de gebruikelijke richtlijn. Oefen zonder lading, en laad daarna stap voor stap meer."),
		}, nil},
}
