package match

import "kinwain/internal/tongue"

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
	ReasonHill            Code = "hill"
	ReasonBrakes          Code = "brakes"
	ReasonEstimateMargin  Code = "estimate_margin"
	ReasonFrontLight      Code = "front_light"
	ReasonSideLoad        Code = "side_load"
	ReasonStandRating     Code = "stand_rating"
	ReasonOutgrownSoon    Code = "outgrown_soon"
	ReasonOutgrownBefore  Code = "outgrown_before"
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
var Rules = []Rule{
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
			said("This set-up carries everyone until the end of %v, short of the %v months asked for.",
				"Cet équipement transporte tout le monde jusqu’à fin %v, moins que les %v mois demandés.",
				"So ausgestattet trägt das Rad alle bis Ende %v, kürzer als die gewünschten %v Monate.",
				"Met deze uitrusting kan iedereen mee tot eind %v, korter dan de gevraagde %v maanden."),
			said("This set-up is outgrown before this month is over, short of the %v months asked for.",
				"Cet équipement sera trop petit avant la fin du mois, bien avant les %v mois demandés.",
				"So ausgestattet ist das Rad noch in diesem Monat zu klein, kürzer als die gewünschten %v Monate.",
				"Met deze uitrusting is de fiets nog deze maand te klein, korter dan de gevraagde %v maanden."),
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
		}, nil},
	{ReasonCargoWeight, "cargo > what the carriers bear", "stop", "",
		said("too much cargo", "trop de chargement", "zu viel Gepäck", "te veel bagage"), []tongue.Said{
			said("Nothing that fits together on this frame bears %v of cargo.",
				"Aucun montage possible sur ce vélo ne porte %v de chargement.",
				"Nichts, was an diesem Rad zusammengeht, trägt %v Gepäck.",
				"Niets wat op deze fiets samengaat draagt %v bagage."),
		}, nil},
	{ReasonCargoVolume, "cargo > what the carriers hold", "stop", "",
		said("too bulky a cargo", "chargement trop volumineux", "Gepäck zu sperrig", "bagage te groot"), []tongue.Said{
			said("Nothing that fits together on this frame holds %v of cargo.",
				"Aucun montage possible sur ce vélo ne contient %v de chargement.",
				"Nichts, was an diesem Rad zusammengeht, fasst %v Gepäck.",
				"In niets wat op deze fiets samengaat past %v bagage."),
		}, nil},
	{ReasonCarryGuideline, "passengers + pet + cargo > carry_share × rider's own weight", "care", "carry_share",
		said("over the carry guideline", "au-delà du repère de charge", "über dem Richtwert", "boven de richtlijn"), []tongue.Said{
			said("Rider %v would carry %v, which is %v over %v of their own weight, the usual guideline. Practise unloaded, then load up bit by bit.",
				"Cycliste %v porterait %v, soit %v de plus que %v de son propre poids, le repère habituel. Exercez-vous à vide, puis chargez peu à peu.",
				"Person %v würde %v befördern, das sind %v über %v des eigenen Gewichts, dem üblichen Richtwert. Üben Sie leer, dann laden Sie nach und nach mehr.",
				"Berijder %v zou %v vervoeren, dat is %v boven %v van het eigen gewicht, de gebruikelijke richtlijn. Oefen leeg, laad dan stap voor stap meer."),
		}, nil},
	{ReasonEstimateMargin, "a weight that is estimated, and the least left of any rating < estimate_margin", "care", "estimate_margin_g",
		said("little left for an estimate", "peu de marge, poids estimé", "wenig Reserve, geschätzt", "weinig over bij een schatting"), []tongue.Said{
			said("A weight is estimated, and little is to spare: %v at %v. Weigh before you buy.",
				"Un poids est estimé, et la marge est mince : %v pour %v. Pesez avant d’acheter.",
				"Ein Gewicht ist geschätzt, und es bleibt wenig Reserve: %v bei: %v. Wiegen Sie vor dem Kauf.",
				"Een gewicht is geschat, en er blijft weinig over: %v bij: %v. Weeg voor u koopt."),
			said("the %v zone", "la zone « %v »", "Zone „%v“", "de zone ‘%v’"),
			said("the zones %v together", "les zones %v ensemble", "Zonen %v zusammen", "de zones %v samen"),
			said("the %v axle", "l’essieu %v", "Achse %v", "de as %v"),
			said("the %v", "« %v »", "„%v“", "‘%v’"),
			said("the gross rating", "le poids total autorisé", "zulässiges Gesamtgewicht", "het toegestane totaalgewicht"),
		}, nil},
	{ReasonFrontLight, "front axle < 0; front axle < front_share × everything", "stop; care", "front_share",
		said("light on the front wheel", "trop léger à l’avant", "vorn zu leicht", "te licht op het voorwiel"), []tongue.Said{
			said("Under rider %v the front wheel lifts: it bears %v less than nothing. Load further forward, or less behind.",
				"Cycliste %v : la roue avant se soulève ; il lui manque %v pour toucher le sol. Chargez plus en avant, ou moins à l’arrière.",
				"Mit Person %v hebt das Vorderrad ab: Ihm fehlen %v, um am Boden zu bleiben. Laden Sie weiter vorn, oder hinten weniger.",
				"Met berijder %v komt het voorwiel los: er ontbreekt %v om aan de grond te blijven. Laad verder naar voren, of achter minder."),
			said("Under rider %v the front wheel bears only %v of %v, less than %v of it: the steering goes light. Load further forward, or less behind.",
				"Cycliste %v : la roue avant ne porte que %v sur %v, moins de %v du tout : la direction devient légère. Chargez plus en avant, ou moins à l’arrière.",
				"Mit Person %v trägt das Vorderrad nur %v von %v, weniger als %v davon: Die Lenkung wird leicht. Laden Sie weiter vorn, oder hinten weniger.",
				"Met berijder %v draagt het voorwiel maar %v van %v, minder dan %v ervan: het stuur wordt licht. Laad verder naar voren, of achter minder."),
		}, nil},
	{ReasonSideLoad, "left zones − right zones, either way > side_margin", "care", "side_margin_g",
		said("one side is heavier", "un côté plus lourd", "eine Seite schwerer", "één kant zwaarder"), []tongue.Said{
			said("The %v side is %v heavier than the other. Spread the load over both sides.",
				"Côté %v : %v de plus que de l’autre. Répartissez la charge des deux côtés.",
				"Seite %v: %v schwerer als die andere. Verteilen Sie die Last auf beide Seiten.",
				"Kant %v: %v zwaarder dan de andere. Verdeel de last over beide kanten."),
		}, nil},
	{ReasonStandRating, "everything but the rider > stand_max of a fitted stand", "care", "",
		said("heavy for its stand", "lourd pour la béquille", "schwer für den Ständer", "zwaar voor de standaard"), []tongue.Said{
			said("The loaded bike is %v over the %v that the %v bears. Hold the bike while anybody gets on or off.",
				"Le vélo chargé dépasse de %v les %v que porte « %v ». Tenez le vélo pendant qu’on monte ou descend.",
				"Das beladene Rad liegt %v über den %v, die „%v“ trägt. Halten Sie das Rad fest, während jemand auf- oder absteigt.",
				"De beladen fiets zit %v boven de %v die ‘%v’ draagt. Houd de fiets vast terwijl iemand op- of afstapt."),
		}, nil},
	{ReasonStandover, "inseam < standover + standover_margin", "care", "standover_margin_mm",
		said("standover", "enjambement", "Überstand", "overstap"), []tongue.Said{
			said("Rider %v stands over the frame with %v less room than the usual %v. Try it, stopped and loaded.",
				"Cycliste %v enjambe le cadre avec %v de moins que la marge habituelle de %v. Essayez, à l’arrêt et chargé.",
				"Person %v steht mit %v weniger Platz als den üblichen %v über dem Rahmen. Probieren Sie es im Stand und beladen.",
				"Berijder %v staat boven het frame met %v minder ruimte dan de gebruikelijke %v. Probeer het, stilstaand en beladen."),
		}, nil},
	{ReasonSaddleRange, "0.883 × inseam < saddle_min or > saddle_max", "care", "",
		said("saddle range", "hauteur de selle", "Sattelhöhe", "zadelhoogte"), []tongue.Said{
			said("The lowest saddle is about %v too high for rider %v.",
				"La selle au plus bas est environ %v trop haute pour cycliste %v.",
				"Der Sattel ist ganz unten etwa %v zu hoch für Person %v.",
				"Het zadel is in de laagste stand ongeveer %v te hoog voor berijder %v."),
			said("The highest saddle is about %v too low for rider %v.",
				"La selle au plus haut est environ %v trop basse pour cycliste %v.",
				"Der Sattel ist ganz oben etwa %v zu niedrig für Person %v.",
				"Het zadel is in de hoogste stand ongeveer %v te laag voor berijder %v."),
		}, nil},
	{ReasonStorageSpace, "the build > the space, flat, turned and upright", "stop", "",
		said("too large for its place", "trop grand pour sa place", "zu groß für seinen Platz", "te groot voor zijn plek"), []tongue.Said{
			said("The bike does not reach or fit its place at home.",
				"Le vélo n’atteint pas sa place à la maison, ou n’y tient pas.",
				"Das Rad erreicht seinen Platz zu Hause nicht oder passt nicht hinein.",
				"De fiets bereikt zijn plek thuis niet of past er niet."),
			said("%v too large for its place at home.", "%v de trop pour sa place à la maison.", "%v zu groß für seinen Platz zu Hause.", "%v te groot voor zijn plek thuis."),
		}, nil},
	{ReasonStorageWay, "the build > a doorway, a corner or the lift", "stop", "",
		said("too large for the way in", "trop grand pour le passage", "zu groß für den Weg hinein", "te groot voor de weg naar binnen"), []tongue.Said{
			said("%v too large for %v.", "%v de trop : %v.", "%v zu groß für: %v.", "%v te groot voor: %v."),
		}, nil},
	{ReasonStorageSlack, "slack < slack_margin", "care", "slack_margin_mm",
		said("tight at home", "juste à la maison", "knapp zu Hause", "krap thuis"), []tongue.Said{
			said("Only %v to spare at %v. Measure again, handlebar and pedals included.",
				"Seulement %v de marge : %v. Mesurez à nouveau, guidon et pédales compris.",
				"Nur %v Spielraum: %v. Messen Sie noch einmal, mit Lenker und Pedalen.",
				"Maar %v speling: %v. Meet nog eens, met stuur en pedalen."),
		}, nil},
	{ReasonUpright, "must stand upright and cannot", "stop", "",
		said("cannot stand upright", "ne tient pas debout", "kann nicht aufrecht stehen", "kan niet rechtop staan"), []tongue.Said{
			said("It has to stand upright at home, and with these add-ons this frame cannot.",
				"Il doit être rangé debout à la maison, et ne le peut pas avec ces accessoires.",
				"Es muss zu Hause aufrecht stehen, und mit diesen Anbauteilen kann es das nicht.",
				"Hij moet thuis rechtop staan, en met deze accessoires kan dat niet."),
		}, nil},
	{ReasonBudget, "total > budget; the same where the budget is firm", "care; stop", "",
		said("over the budget", "au-delà du budget", "über dem Budget", "boven het budget"), []tongue.Said{
			said("%v over the budget.", "%v au-dessus du budget.", "%v über dem Budget.", "%v boven het budget."),
			said("%v over a firm budget.", "%v au-dessus d’un budget ferme.", "%v über einem festen Budget.", "%v boven een vast budget."),
		}, nil},
	{ReasonGrip, "reduced grip and a cable or rim brake", "care", "",
		said("grip and brakes", "mains et freins", "Hände und Bremsen", "handen en remmen"), []tongue.Said{
			said("Rider %v has a reduced grip, and this frame has a %v brake. Try the levers under load.",
				"Cycliste %v a moins de force dans les mains, et ce vélo a un frein %v. Essayez les leviers, vélo chargé.",
				"Person %v hat weniger Kraft in den Händen, und dieses Rad hat eine Bremse der Art: %v. Probieren Sie die Hebel beladen.",
				"Berijder %v heeft minder kracht in de handen, en deze fiets heeft een rem van de soort: %v. Probeer de hendels beladen."),
		}, nil},
	{ReasonHill, "speed on hill_percent with hill_effort × the rider's own weight, 60 to 250 W, and assist_watts < hill_speed; the effort falls with the turns under hill_turns in the lowest gear", "care", "hill_effort, hill_turns, hill_speed",
		said("slow on the hill", "lent dans la côte", "langsam am Berg", "traag op de helling"), []tongue.Said{
			said("Rider %v climbs the %v hill at %v, slower than %v. Expect to push, or ride it with a motor.",
				"Cycliste %v monte la côte de %v à %v, moins vite que %v. Attendez-vous à pousser, ou prenez un moteur.",
				"Person %v fährt den Berg mit %v Steigung mit %v hinauf, langsamer als %v. Rechnen Sie mit Schieben, oder nehmen Sie einen Motor.",
				"Berijder %v rijdt de helling van %v op met %v, trager dan %v. Reken op duwen, of neem een motor."),
			said("On the %v hill rider %v cannot turn the lowest gear %v times a minute with %v W. Expect to push, or ride it with a lower gear or a motor.",
				"Dans la côte de %v, cycliste %v ne peut tourner le plus petit développement %v fois par minute avec %v W. Attendez-vous à pousser, ou prenez un développement plus petit ou un moteur.",
				"Am Berg mit %v Steigung kann Person %v den kleinsten Gang nicht %v Mal pro Minute treten, mit %v W. Rechnen Sie mit Schieben, oder nehmen Sie einen kleineren Gang oder einen Motor.",
				"Op de helling van %v kan berijder %v de lichtste versnelling niet %v keer per minuut rondtrappen met %v W. Reken op duwen, of neem een lichtere versnelling of een motor."),
			said("%v.%v km/h", "%v,%v km/h", "%v,%v km/h", "%v,%v km/u"),
		}, nil},
	{ReasonBrakes, "every stated brake is coaster, rim or cable, and everything > brake_mass, or passengers and hill_percent ≥ brake_hill", "care", "brake_mass_g, brake_hill",
		said("brakes for this load", "freins pour cette charge", "Bremsen für diese Last", "remmen voor deze last"), []tongue.Said{
			said("%v in all on a %v brake, more than the usual %v for it. Try it loaded, downhill, before you decide.",
				"%v en tout sur un frein %v, plus que les %v habituels. Essayez-le chargé, en descente, avant de vous décider.",
				"%v insgesamt an einer Bremse der Art: %v, mehr als die üblichen %v dafür. Probieren Sie sie beladen und bergab, bevor Sie sich entscheiden.",
				"%v in totaal op een rem van de soort: %v, meer dan de gebruikelijke %v daarvoor. Probeer hem beladen en bergaf voordat u beslist."),
			said("Passengers on a hill of %v with a %v brake. Try it loaded, downhill, before you decide.",
				"Des passagers dans une côte de %v avec un frein %v. Essayez-le chargé, en descente, avant de vous décider.",
				"Mitfahrende auf einer Steigung von %v mit einer Bremse der Art: %v. Probieren Sie sie beladen und bergab, bevor Sie sich entscheiden.",
				"Passagiers op een helling van %v met een rem van de soort: %v. Probeer hem beladen en bergaf voordat u beslist."),
		}, nil},
	{ReasonSteps, "steps > steps_max and bare weight + add-ons > steps_mass", "care", "steps_max, steps_mass_g",
		said("heavy on the steps", "lourd dans les marches", "schwer auf den Stufen", "zwaar op de treden"), nil, []tongue.Counted{
			tongue.Count("%v steps with a bike of %v. Try lifting it before you decide.", 1,
				forms("%v step with a bike of %v. Try lifting it before you decide.", "%v steps with a bike of %v. Try lifting it before you decide."),
				forms("%v marche avec un vélo de %v. Essayez de le soulever avant de vous décider.", "%v marches avec un vélo de %v. Essayez de le soulever avant de vous décider."),
				forms("%v Stufe mit einem Rad von %v. Heben Sie es zur Probe an, bevor Sie sich entscheiden.", "%v Stufen mit einem Rad von %v. Heben Sie es zur Probe an, bevor Sie sich entscheiden."),
				forms("%v trede met een fiets van %v. Til hem eens op voordat u beslist.", "%v treden met een fiets van %v. Til hem eens op voordat u beslist.")),
		}},
	{ReasonOddWheel, "bead seat < 559 mm and only the maker supplies the wheel", "note", "",
		said("a wheel of its own", "roue du fabricant seul", "Laufrad nur vom Hersteller", "wiel alleen van de fabrikant"), []tongue.Said{
			said("A small wheel that only the maker supplies. Ask how long spares take.",
				"Une petite roue que seul le fabricant fournit. Demandez le délai des pièces.",
				"Ein kleines Laufrad, das nur der Hersteller liefert. Fragen Sie, wie lange Ersatz braucht.",
				"Een klein wiel dat alleen de fabrikant levert. Vraag hoe lang onderdelen duren."),
		}, nil},
	{ReasonWeightEstimated, "a weight that no scale read dressed to ride", "note", "undressed_g, stated_g, planning_percentile",
		said("a weight is estimated", "un poids est estimé", "ein Gewicht ist geschätzt", "een gewicht is geschat"), []tongue.Said{
			said("Rider %v counts with an estimated %v for shoes, clothes, helmet, lock and bag. A weigh-in dressed to ride replaces the estimate.",
				"Cycliste %v : %v sont ajoutés par estimation pour chaussures, vêtements, casque, antivol et sac. Une pesée en tenue de route remplace l’estimation.",
				"Bei Person %v sind geschätzte %v für Schuhe, Kleidung, Helm, Schloss und Tasche eingerechnet. Wiegen in Fahrkleidung ersetzt die Schätzung.",
				"Bij berijder %v is naar schatting %v gerekend voor schoenen, kleding, helm, slot en tas. Wegen in fietskleding vervangt de schatting."),
			said("%v is not weighed and counts with an estimated %v, dressed. Weigh before buying.",
				"%v : poids non mesuré, compté par estimation pour %v, vêtements compris. Pesez avant d’acheter.",
				"%v ist nicht gewogen und zählt mit geschätzten %v, bekleidet. Wiegen Sie vor dem Kauf.",
				"%v is niet gewogen en telt naar schatting voor %v, met kleren. Weeg voor u koopt."),
		}, nil},
	{ReasonBeyondReference, "age outside 12.5 to 204.5 months, where the end of the growth reference is held", "note", "",
		said("outside the growth reference", "hors de la référence", "außerhalb der Referenz", "buiten de referentie"), []tongue.Said{
			said("%v is outside the ages of the growth reference; its nearest figures are used.",
				"%v est hors des âges de la référence de croissance ; ses chiffres les plus proches sont utilisés.",
				"%v liegt außerhalb der Altersspanne der Wachstumsreferenz; deren nächste Zahlen gelten hier.",
				"%v valt buiten de leeftijden van de groeireferentie; de dichtstbijzijnde cijfers zijn gebruikt."),
		}, nil},
	{ReasonSpecMissing, "a figure that bears on this customer and that the maker does not state; one that the load leans on: a zone with a passenger, or with cargo or a pet in an add-on without max_load; rider_max over heavy_rider; passengers_max, and min_months and max_kg of their places, with passengers; axles and geometry with passengers or cargo over heavy_cargo", "note; care", "heavy_rider_g, heavy_cargo_g",
		said("a figure is not stated", "un chiffre n’est pas indiqué", "eine Angabe fehlt", "een gegeven ontbreekt"), []tongue.Said{
			said("The maker does not state %v, so this is not checked. Ask before loading to the full.",
				"Le fabricant n’indique pas %v ; ce point n’est donc pas vérifié. Demandez avant de charger au maximum.",
				"Der Hersteller gibt nicht an: %v. Das ist daher nicht geprüft. Fragen Sie, bevor Sie voll beladen.",
				"De fabrikant vermeldt niet: %v. Dit is dus niet gecontroleerd. Vraag het voor u volledig laadt."),
			said("The maker does not state %v, and this load leans on it. Ask the maker before anybody rides.",
				"Le fabricant n’indique pas %v, et cette charge en dépend. Demandez au fabricant avant de rouler.",
				"Der Hersteller gibt nicht an: %v. Diese Ladung hängt davon ab. Fragen Sie ihn, bevor jemand fährt.",
				"De fabrikant vermeldt niet: %v. Deze lading hangt daarvan af. Vraag het de fabrikant voor er iemand rijdt."),
			said("a limit for the rider's weight",
				"de limite pour le poids de la personne qui roule",
				"Grenze für das Gewicht der fahrenden Person",
				"grens voor het gewicht van de berijder"),
			said("a limit for the number of passengers", "de limite pour le nombre de passagers", "Grenze für die Zahl der Mitfahrenden", "grens voor het aantal passagiers"),
			said("a standover height", "de hauteur d’enjambement", "Überstandshöhe", "overstaphoogte"),
			said("a saddle range", "de plage de hauteur de selle", "Verstellbereich des Sattels", "verstelbereik van het zadel"),
			said("the brakes", "les freins", "die Bremsen", "de remmen"),
			said("a rating for the front axle", "de charge admissible de l’essieu avant", "zulässige Last der Vorderachse", "toegestane last van de vooras"),
			said("a rating for the rear axle", "de charge admissible de l’essieu arrière", "zulässige Last der Hinterachse", "toegestane last van de achteras"),
			said("a rating for the %v zone", "de charge admissible pour la zone « %v »", "zulässige Last der Zone „%v“", "toegestane last van de zone ‘%v’"),
			said("the wheelbase",
				"l’empattement",
				"Radstand",
				"wielbasis"),
			said("where the rider sits",
				"où se trouve la personne qui roule",
				"Sitzposition",
				"zitpositie"),
			said("how its bare weight is spread",
				"la répartition de son poids à vide",
				"Verteilung des Leergewichts",
				"verdeling van het leeggewicht"),
			said("from what age the %v takes anybody",
				"à partir de quel âge « %v » convient",
				"ab welchem Alter „%v“ geeignet ist",
				"vanaf welke leeftijd ‘%v’ geschikt is"),
			said("up to what weight the %v takes anybody",
				"jusqu’à quel poids « %v » convient",
				"bis zu welchem Gewicht „%v“ geeignet ist",
				"tot welk gewicht ‘%v’ geschikt is"),
		}, nil},
}
