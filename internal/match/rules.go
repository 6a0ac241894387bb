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
	ReasonBudget          Code = "budget"
	ReasonGrip            Code = "grip"
	ReasonSteps           Code = "steps"
	ReasonOddWheel        Code = "odd_wheel"
	ReasonWeightEstimated Code = "weight_estimated"
	ReasonBeyondReference Code = "beyond_reference"
	ReasonSpecMissing     Code = "spec_missing"
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
		said("rider’s height", "taille de qui roule", "Körpergröße", "lengte van de berijder"), []tongue.Said{
			said("Rider %v is %v too short: the frame is made for %v to %v.",
				"Cycliste %v : %v trop petit pour ce vélo, prévu de %v à %v.",
				"Person %v ist %v zu klein: Das Rad ist für %v bis %v gebaut.",
				"Berijder %v is %v te klein: de fiets is gemaakt voor %v tot %v."),
			said("Rider %v is %v too tall: the frame is made for %v to %v.",
				"Cycliste %v : %v trop grand pour ce vélo, prévu de %v à %v.",
				"Person %v ist %v zu groß: Das Rad ist für %v bis %v gebaut.",
				"Berijder %v is %v te lang: de fiets is gemaakt voor %v tot %v."),
			said("Rider %v is only %v above the shortest the frame is made for. Try it for size.",
				"Cycliste %v : seulement %v au-dessus de la plus petite taille prévue. Essayez la taille.",
				"Person %v ist nur %v größer als die kleinste vorgesehene Größe. Probieren Sie, ob es passt.",
				"Berijder %v is maar %v langer dan de kleinste bedoelde lengte. Probeer of de maat klopt."),
			said("Rider %v is only %v under the tallest the frame is made for. Try it for size.",
				"Cycliste %v : seulement %v en dessous de la plus grande taille prévue. Essayez la taille.",
				"Person %v ist nur %v kleiner als die größte vorgesehene Größe. Probieren Sie, ob es passt.",
				"Berijder %v is maar %v korter dan de grootste bedoelde lengte. Probeer of de maat klopt."),
			said("Rider %v is %v shorter than the frame is made for, no more than heights are rounded by. Try it for size.",
				"Cycliste %v : %v de moins que la plus petite taille prévue, pas plus que l’arrondi d’une taille. Essayez la taille.",
				"Person %v ist %v kleiner als vorgesehen, nicht mehr als die Rundung einer Größe. Probieren Sie, ob es passt.",
				"Berijder %v is %v korter dan bedoeld, niet meer dan de afronding van een lengte. Probeer of de maat klopt."),
			said("Rider %v is %v taller than the frame is made for, no more than heights are rounded by. Try it for size.",
				"Cycliste %v : %v de plus que la plus grande taille prévue, pas plus que l’arrondi d’une taille. Essayez la taille.",
				"Person %v ist %v größer als vorgesehen, nicht mehr als die Rundung einer Größe. Probieren Sie, ob es passt.",
				"Berijder %v is %v langer dan bedoeld, niet meer dan de afronding van een lengte. Probeer of de maat klopt."),
			said("Rider %v is just as tall as the shortest the frame is made for. Try it for size.",
				"Cycliste %v a tout juste la plus petite taille prévue. Essayez la taille.",
				"Person %v hat genau die kleinste vorgesehene Größe. Probieren Sie, ob es passt.",
				"Berijder %v heeft precies de kleinste bedoelde lengte. Probeer of de maat klopt."),
			said("Rider %v is just as tall as the tallest the frame is made for. Try it for size.",
				"Cycliste %v a tout juste la plus grande taille prévue. Essayez la taille.",
				"Person %v hat genau die größte vorgesehene Größe. Probieren Sie, ob es passt.",
				"Berijder %v heeft precies de grootste bedoelde lengte. Probeer of de maat klopt."),
		}, nil},
	{ReasonRiderWeight, "riding weight > rider_max", "stop", "undressed_g, stated_g",
		said("rider’s weight", "poids de qui roule", "Gewicht der fahrenden Person", "gewicht van de berijder"), []tongue.Said{
			said("Rider %v is %v over the maker's limit for a rider of %v.",
				"Cycliste %v : %v de plus que la limite du fabricant pour la personne qui roule, %v.",
				"Person %v liegt %v über der Grenze des Herstellers für die fahrende Person, %v.",
				"Berijder %v zit %v boven de grens van de fabrikant voor de berijder, %v."),
		}, nil},
	{ReasonGrossRating, "bare weight + add-ons − taken off + rider + passengers + pet + cargo > gross rating", "stop", "clothing_g, planning_percentile",
		said("over the gross rating", "au-delà du poids total", "über dem Gesamtgewicht", "boven het totaalgewicht"), []tongue.Said{
			said("Everything together is %v over the gross rating of %v, even with the lightest add-ons.",
				"L’ensemble dépasse de %v le poids total autorisé de %v, même avec les accessoires les plus légers.",
				"Alles zusammen liegt %v über dem zulässigen Gesamtgewicht von %v, selbst mit den leichtesten Anbauteilen.",
				"Alles samen zit %v boven het toegestane totaalgewicht van %v, zelfs met de lichtste accessoires."),
		}, nil},
	{ReasonZoneRating, "add-ons, passengers, pet and cargo in the zone > its rating", "stop", "",
		said("over a zone’s rating", "zone trop chargée", "Zone überlastet", "zone te zwaar beladen"), []tongue.Said{
			said("%v over the %v rating.", "%v de trop pour la zone « %v ».", "%v über der zulässigen Last der Zone „%v“.", "%v boven de toegestane last van de zone ‘%v’."),
		}, nil},
	{ReasonCombinedRating, "the same over the zones together > their combined rating", "stop", "",
		said("over a combined rating", "zones ensemble trop chargées", "Zonen zusammen überlastet", "zones samen te zwaar beladen"), []tongue.Said{
			said("%v over the rating of %v together.",
				"%v de trop pour ces zones ensemble : %v.",
				"%v über der gemeinsamen zulässigen Last von: %v.",
				"%v boven de gezamenlijke toegestane last van: %v."),
		}, nil},
	{ReasonAxleRating, "Σ mass × arm ÷ wheelbase > the axle's rating", "stop", "",
		said("over an axle’s rating", "essieu trop chargé", "Achse überlastet", "as te zwaar beladen"), []tongue.Said{
			said("%v over the rating of the %v axle.", "%v de trop pour l’essieu %v.", "%v über der zulässigen Last der Achse %v.", "%v boven de toegestane last van de as %v."),
		}, nil},
	{ReasonAddOnRating, "all that the add-on carries > its max_load", "stop", "",
		said("over an add-on’s rating", "accessoire trop chargé", "Anbauteil überlastet", "accessoire te zwaar beladen"), []tongue.Said{
			said("%v over what the %v may carry.", "%v de plus que ce que peut porter « %v ».", "%v mehr, als „%v“ tragen darf.", "%v meer dan ‘%v’ mag dragen."),
		}, nil},
	{ReasonPassengersMax, "passengers > passengers_max", "stop", "",
		said("too many passengers", "trop de passagers", "zu viele Mitfahrende", "te veel passagiers"), []tongue.Said{
			said("%v passengers are more than the %v the maker allows.",
				"%v passagers : plus que les %v permis par le fabricant.",
				"%v Mitfahrende sind mehr als die %v, die der Hersteller erlaubt.",
				"%v passagiers is meer dan de %v die de fabrikant toestaat."),
		}, nil},
	{ReasonPlaceMissing, "no set of add-ons gives every passenger a place", "stop", "",
		said("no place for everyone", "pas de place pour tous", "nicht für alle ein Platz", "niet voor iedereen plaats"), []tongue.Said{
			said("These add-ons do not give every passenger a place.",
				"Ces accessoires ne donnent pas une place à chaque passager.",
				"Diese Anbauteile geben nicht allen Mitfahrenden einen Platz.",
				"Deze accessoires geven niet elke passagier een plaats."),
			said("No set of add-ons gives all %v passengers a place on this frame.",
				"Aucun ensemble d’accessoires ne donne une place aux %v passagers sur ce vélo.",
				"Keine Auswahl an Anbauteilen gibt allen %v Mitfahrenden einen Platz auf diesem Rad.",
				"Geen combinatie van accessoires geeft alle %v passagiers een plaats op deze fiets."),
			said("No add-on gives the passenger a place on this frame.",
				"Aucun accessoire ne donne une place au passager sur ce vélo.",
				"Kein Anbauteil gibt der mitfahrenden Person einen Platz auf diesem Rad.",
				"Geen accessoire geeft de passagier een plaats op deze fiets."),
		}, nil},
	{ReasonPlaceLimits, "age, weight or stature outside the limits of every place left", "stop", "minimum_percentile, planning_percentile, clothing_g",
		said("no place that suits", "aucune place qui convient", "kein passender Platz", "geen passende plaats"), []tongue.Said{
			said("Everyone has a place that suits, but these places do not go together on this frame.",
				"Chacun a une place qui convient, mais ces places ne vont pas ensemble sur ce vélo.",
				"Für alle gibt es einen passenden Platz, aber diese Plätze gehen auf diesem Rad nicht zusammen.",
				"Voor iedereen is er een passende plaats, maar die plaatsen gaan op deze fiets niet samen."),
			said("%v, dressed, is %v over the limit of the %v.",
				"%v, vêtements compris, dépasse de %v la limite de « %v ».",
				"%v liegt bekleidet %v über der Grenze von „%v“.",
				"%v zit met kleren %v boven de grens van ‘%v’."),
			said("%v is %v under the least weight for the %v.",
				"%v : %v de moins que le poids minimal pour « %v ».",
				"%v liegt %v unter dem Mindestgewicht für „%v“.",
				"%v zit %v onder het minimumgewicht voor ‘%v’."),
			said("%v is %v too tall for the %v.", "%v : %v trop grand pour « %v ».", "%v ist %v zu groß für „%v“.", "%v is %v te lang voor ‘%v’."),
		}, []tongue.Counted{
			tongue.Count("%v is too young for the %v, which is for %v months and up.", 3,
				forms("%v is too young for the %v, which is for %v month and up.", "%v is too young for the %v, which is for %v months and up."),
				forms("%v est trop jeune pour « %v », prévu à partir de %v mois.", "%v est trop jeune pour « %v », prévu à partir de %v mois."),
				forms("%v ist zu jung für „%v“, gedacht ab %v Monat.", "%v ist zu jung für „%v“, gedacht ab %v Monaten."),
				forms("%v is te jong voor ‘%v’, bedoeld vanaf %v maand.", "%v is te jong voor ‘%v’, bedoeld vanaf %v maanden.")),
			tongue.Count("%v is too old for the %v, which is for up to %v months.", 3,
				forms("%v is too old for the %v, which is for up to %v month.", "%v is too old for the %v, which is for up to %v months."),
				forms("%v est trop âgé pour « %v », prévu jusqu’à %v mois.", "%v est trop âgé pour « %v », prévu jusqu’à %v mois."),
				forms("%v ist zu alt für „%v“, gedacht bis %v Monat.", "%v ist zu alt für „%v“, gedacht bis %v Monate."),
				forms("%v is te oud voor ‘%v’, bedoeld tot en met %v maand.", "%v is te oud voor ‘%v’, bedoeld tot en met %v maanden.")),
		}},
	{ReasonInfant, "age < 12 months", "stop", "",
		said("under 12 months", "moins de 12 mois", "unter 12 Monaten", "jonger dan 12 maanden"), []tongue.Said{
			said("%v is under 12 months. Infants do not ride; the earliest is %v, and the maker's manual and local law come first.",
				"%v a moins de 12 mois. Un nourrisson ne roule pas ; au plus tôt le %v, et la notice du fabricant et la loi locale passent d’abord.",
				"%v ist unter 12 Monate alt. Säuglinge fahren nicht mit; frühestens am %v, und Anleitung des Herstellers und örtliches Recht gehen vor.",
				"%v is jonger dan 12 maanden. Baby’s rijden niet mee; op zijn vroegst %v, en de handleiding van de fabrikant en de plaatselijke wet gaan voor."),
		}, nil},
	{ReasonNotSitting, "does not sit unaided; not known and under 24 months", "stop; care", "",
		said("sitting unaided", "se tenir assis sans aide", "ohne Hilfe sitzen", "zelfstandig zitten"), []tongue.Said{
			said("%v does not yet sit unaided with a helmet on, and cannot ride before that.",
				"%v ne se tient pas encore assis sans aide avec un casque, et ne peut pas rouler avant.",
				"%v sitzt noch nicht ohne Hilfe mit Helm, und kann vorher nicht mitfahren.",
				"%v zit nog niet zonder hulp met een helm op, en kan daarvoor niet meerijden."),
			said("See that %v sits unaided with a helmet on before the first ride.",
				"Assurez-vous que %v se tient assis sans aide avec un casque avant le premier trajet.",
				"Prüfen Sie vor der ersten Fahrt, dass %v ohne Hilfe mit Helm sitzt.",
				"Kijk voor de eerste rit of %v zonder hulp met een helm op zit."),
		}, nil},
	{ReasonJoinsLater, "today < the first day of the month of joins, or < the first birthday if that is later", "care", "",
		said("joins later", "se joint plus tard", "fährt später mit", "rijdt later mee"), []tongue.Said{
			said("%v does not ride before %v. A place is kept, and the frame is judged with the child as on that day.",
				"%v ne roule pas avant le %v. Une place est gardée, et le vélo est jugé avec l’enfant tel que ce jour-là.",
				"%v fährt erst ab dem %v mit. Ein Platz ist freigehalten, und das Rad ist mit dem Kind beurteilt, wie es an diesem Tag sein wird.",
				"%v rijdt pas mee vanaf %v. Er blijft een plaats vrij, en de fiets is beoordeeld met het kind zoals het op die dag is."),
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
				"Eine andere Ausstattung reicht bis Ende %v, für %v mehr.",
				"Een andere uitrusting gaat mee tot eind %v, voor %v meer."),
			said("Another set-up lasts ten years and more, for %v more.",
				"Un autre équipement sert dix ans et plus, pour %v de plus.",
				"Eine andere Ausstattung reicht zehn Jahre und länger, für %v mehr.",
				"Een andere uitrusting gaat tien jaar en langer mee, voor %v meer."),
			said("Another set-up costs no more and lasts until the end of %v.",
				"Un autre équipement ne coûte pas plus et sert jusqu’à fin %v.",
				"Eine andere Ausstattung kostet nicht mehr und reicht bis Ende %v.",
				"Een andere uitrusting kost niet meer en gaat mee tot eind %v."),
			said("Another set-up costs no more and lasts ten years and more.",
				"Un autre équipement ne coûte pas plus et sert dix ans et plus.",
				"Eine andere Ausstattung kostet nicht mehr und reicht zehn Jahre und länger.",
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
		said("something it needs", "ce qu’il exige manque", "etwas Nötiges fehlt", "er ontbreekt iets"), []tongue.Said{
			said("%v needs %v.", "« %v » exige %v.", "„%v“ braucht %v.", "‘%v’ heeft %v nodig."),
			said("a %v, which nothing for this frame has", "%v, que rien n’offre pour ce vélo", "%v, was nichts für dieses Rad hat", "%v, wat niets voor deze fiets heeft"),
			said("%v or %v", "%v ou %v", "%v oder %v", "%v of %v"),
		}, nil},
	{ReasonExcluded, "by hand: two add-ons that exclude each other", "stop", "",
		said("do not go together", "ne vont pas ensemble", "gehen nicht zusammen", "gaan niet samen"), []tongue.Said{
			said("%v and %v do not go together.", "« %v » et « %v » ne vont pas ensemble.", "„%v“ und „%v“ gehen nicht zusammen.", "‘%v’ en ‘%v’ gaan niet samen."),
		}, nil},
	{ReasonTooMany, "by hand: more of an add-on than up_to", "stop", "",
		said("too many of one", "trop du même accessoire", "zu viele von einem", "te veel van één"), []tongue.Said{
			said("%v: %v too many.", "%v : %v de trop.", "%v: %v zu viel.", "%v: %v te veel."),
		}, nil},
	{ReasonPetPlace, "no carrier of its own that bears the pet", "stop", "",
		said("no carrier for the pet", "pas de support pour l’animal", "kein Träger für das Tier", "geen drager voor het dier"), []tongue.Said{
			said("No carrier that fits this frame takes a pet of %v.",
				"Aucun support pour ce vélo ne prend un animal de %v.",
				"Kein Träger für dieses Rad nimmt ein Tier von %v.",
				"Geen drager voor deze fiets neemt een dier van %v."),
			said("Nothing on the bike takes a pet of %v.",
				"Rien sur le vélo ne prend un animal de %v.",
				"Nichts am Rad nimmt ein Tier von %v.",
				"Niets op de fiets neemt een dier van %v."),
		}, nil},
	{ReasonCargoWeight, "cargo > what the carriers bear", "stop", "",
		said("too much cargo", "trop de chargement", "zu viel Gepäck", "te veel bagage"), []tongue.Said{
			said("Nothing that fits together on this frame bears %v of cargo.",
				"Aucun montage possible sur ce vélo ne porte %v de chargement.",
				"Nichts, was an diesem Rad zusammengeht, trägt %v Gepäck.",
				"Niets wat op deze fiets samengaat draagt %v bagage."),
			said("Nothing on the bike carries cargo.",
				"Rien sur le vélo ne porte de chargement.",
				"Nichts am Rad trägt Gepäck.",
				"Niets op de fiets draagt bagage."),
			said("What is on the bike bears %v of the %v of cargo.",
				"Ce qui est sur le vélo porte %v des %v de chargement.",
				"Was am Rad ist, trägt %v von %v Gepäck.",
				"Wat op de fiets zit draagt %v van de %v bagage."),
			said("What is on the bike does not bear %v of cargo with all the rest.",
				"Ce qui est sur le vélo ne porte pas %v de chargement avec tout le reste.",
				"Was am Rad ist, trägt %v Gepäck nicht zusammen mit allem anderen.",
				"Wat op de fiets zit draagt geen %v bagage samen met al het andere."),
		}, nil},
	{ReasonCargoVolume, "cargo > what the carriers hold", "stop", "",
		said("too bulky a cargo", "chargement trop volumineux", "Gepäck zu sperrig", "bagage te groot"), []tongue.Said{
			said("Nothing that fits together on this frame holds %v of cargo.",
				"Aucun montage possible sur ce vélo ne contient %v de chargement.",
				"Nichts, was an diesem Rad zusammengeht, fasst %v Gepäck.",
				"In niets wat op deze fiets samengaat past %v bagage."),
			said("What is on the bike holds %v of the %v of cargo.",
				"Ce qui est sur le vélo contient %v des %v de chargement.",
				"Was am Rad ist, fasst %v von %v Gepäck.",
				"In wat op de fiets zit gaat %v van de %v bagage."),
			said("What is on the bike does not hold %v of cargo with all the rest.",
				"Ce qui est sur le vélo ne contient pas %v de chargement avec tout le reste.",
				"Was am Rad ist, fasst %v Gepäck nicht zusammen mit allem anderen.",
				"In wat op de fiets zit gaat geen %v bagage samen met al het andere."),
		}, nil},
	{ReasonCarryGuideline, "passengers + pet + cargo > carry_share × rider's own weight", "care", "carry_share",
		said("over the carry guideline", "au-delà du repère de charge", "über dem Richtwert", "boven de richtlijn"), []tongue.Said{
			said("Rider %v would carry %v, which is %v over %v of their own weight, the usual guideline. Practise unloaded, then load up bit by bit.",
				"Cycliste %v porterait %v, soit %v de plus que %v de son propre poids, le repère habituel. Exercez-vous à vide, puis chargez peu à peu.",
				"Person %v würde %v befördern, das sind %v über %v des eigenen Gewichts, dem üblichen Richtwert. Üben Sie leer, dann laden Sie nach und nach mehr.",
				"Berijder %v zou %v vervoeren, dat is %v boven %v van het eigen gewicht, de gebruikelijke richtlijn. Oefen leeg, laad dan stap voor stap meer."),
		}, nil},
}
