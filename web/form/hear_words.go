package form

import "strings"

// topic is what a part of a line is about.
type topic int8

const (
	noTopic topic = iota
	aboutRiders
	aboutChildren
	aboutTwins
	aboutPet
	aboutCargo
	aboutLift
	aboutDoor
	aboutCorner
	aboutSpace
	aboutSteps
	aboutBudget
	aboutYears
	aboutHill
)

// topics are the words that say what a part of a line is about, in English,
// French, German and Dutch.
var topics = wordsOf(map[topic]string{
	aboutRiders:   "rider riders adult adults parent parents cycliste cyclistes adulte adultes fahrer fahrerin fahrerinnen erwachsene eltern berijder berijders volwassene volwassenen ouder ouders",
	aboutChildren: "kid kids child children baby toddler enfant enfants bébé bebe kind kinder kindern kinderen kindje peuter kleuter " + boys + girls + expected,
	aboutTwins:    "twins jumeaux jumelles zwillinge tweeling",
	aboutPet:      "dog dogs pet cat animal chien chat hund tier katze hond dier kat",
	aboutCargo:    "cargo groceries shopping load luggage tools courses chargement bagages outils einkauf einkäufe ladung gepäck werkzeug boodschappen lading bagage gereedschap",
	aboutLift:     "lift elevator ascenseur aufzug fahrstuhl",
	aboutDoor:     "door doors doorway doorways porte portes tür türen tuer deur deuren",
	aboutCorner:   "corner corridor hallway angle couloir ecke gang flur hoek",
	aboutSpace:    "space garage shed cellar basement courtyard place emplacement cave abri local platz keller schuppen hof plek plaats schuur kelder",
	aboutSteps:    "step steps stairs marche marches escalier stufe stufen treppe trede treden trap",
	aboutBudget:   "budget " + theMost,
	aboutYears:    "lasting lasts durée reicht meegaan",
	aboutHill:     "hill slope côte cote pente steigung berg helling",
})

// theMost says of a figure that it is the most there is to spend, and expected of
// a child that it is to be born.
const (
	theMost  = "max maximum maximal maximaal höchstens hoechstens hoogstens hooguit under below bis unter tot onder"
	expected = "due expecting expects expected pregnant prévu prévue prevu prevue attendons attend attends attendu attendue enceinte accouche " +
		"erwarten erwartet erwarte bekommen bekommt bekomme unterwegs schwanger geburtstermin entbindet verwachten verwacht uitgerekend zwanger krijgen krijgt"
)

// boys and girls are words for a child of one sex.
const (
	boys  = "boy boys son sons garçon garçons garcon garcons fils junge jungen jungs sohn söhne jongen jongens jongetje zoon zonen zoontje "
	girls = "girl girls daughter daughters fille filles fillette fillettes mädchen maedchen tochter töchter meisje meisjes dochter dochters dochtertje "
)

// sayings are words that mean together what the first word of a row does, the
// longer before those that they end in.
var sayings = sayingsOf(
	"max: no more than, not more than, at the most, at most, less than, nothing over, not over, not above, pas plus de, pas plus que, tout au plus, au plus, au maximum, moins de, jusqu à, jusqu a, "+
		"nicht mehr als, nicht über, weniger als, bis zu, niet meer dan, ten hoogste, minder dan",
	"due: on the way, having a baby, having a child, gives birth, giving birth, en route, op komst, in verwachting",
	"baby: our first child, our second child, our third child, our first, our second, our third, notre premier enfant, notre deuxième enfant, notre troisième enfant, "+
		"notre premier, notre deuxième, notre second, notre troisième, unser erstes kind, unser zweites kind, unser drittes kind, unser erstes, unser zweites, unser drittes, "+
		"ons eerste kind, ons tweede kind, ons derde kind, ons eerste, ons tweede, ons derde, onze eerste, onze tweede, onze derde",
)

// saying is what words mean together.
type saying struct {
	words []string
	as    string
}

// counts are small numbers in words.
var counts = map[string]int{
	"a": 1, "an": 1, "one": 1, "two": 2, "three": 3, "four": 4, "five": 5, "un": 1, "une": 1, "deux": 2, "trois": 3, "quatre": 4, "cinq": 5,
	"ein": 1, "eine": 1, "einen": 1, "zwei": 2, "drei": 3, "vier": 4, "fünf": 5, "een": 1, "twee": 2, "drie": 3, "vijf": 5,
}

// joiners stand between figures and mean no more than that.
var joiners = set("and et und en & + by x × par sur mal auf bij op")

// fillers may stand anywhere and mean nothing.
var fillers = set("a an un une ein eine einen een another autre noch nog in im born née né geboren naissance nous on the of with is are about roughly old wide long high deep we our my up to de du des la le les d avec environ âgé âgés nos notre mon ma " +
	"der die das mit etwa von alt breit lang hoch tief wir unser unsere het van met ongeveer oud breed hoog diep we onze mijn " +
	whoRides + saidOfRiders)

// whoRides and saidOfRiders are how people talk of those who ride, beside the
// figures that tell it all. What stands before or behind an apostrophe is a
// word of its own: he's, j'ai, l'ascenseur.
const (
	whoRides     = "i he she him her his s m re ve am je j il elle l d qu ai ich er sie mein meine ik hij zij ze " + namedRider
	namedRider   = "dad mum mom father mother husband wife partner man woman monsieur madame papa maman père mère mari femme mama vater mutter mann frau vader moeder vrouw "
	saidOfRiders = "weigh weighs tall heavy suis est fait pèse mesure grand grande lourd bin ist wiege wiegt groß gross schwer ben weeg weegt groot zwaar"
)

var (
	// before years, they say how long it should last.
	lasting = set("for pour pendant für fuer voor")
	most    = set(theMost)
	coming  = set(expected)
	named   = set(namedRider)
	boy     = set(boys)
	girl    = set(girls)
	// firm says of a budget that no more will do.
	firm = set("firm fixed ferme fixe fest vast")
)

func wordsOf(lists map[topic]string) map[string]topic {
	all := map[string]topic{}
	for t, list := range lists {
		for w := range strings.FieldsSeq(list) {
			all[w] = t
		}
	}
	return all
}

func sayingsOf(rows ...string) (all []saying) {
	for _, row := range rows {
		as, list, _ := strings.Cut(row, ": ")
		for words := range strings.SplitSeq(list, ", ") {
			all = append(all, saying{strings.Fields(words), as})
		}
	}
	return all
}

func set(list string) map[string]bool {
	all := map[string]bool{}
	for w := range strings.FieldsSeq(list) {
		all[w] = true
	}
	return all
}
