package say

import (
	"slices"

	"kinwain/internal/catalog"
	"kinwain/internal/match"
	"kinwain/internal/profile"
	"kinwain/internal/tongue"
)

// sentences lists every sentence that does not change with a number.
var sentences = [][]sentence{words, parts, changes, pages, frames, questions, reasons(), cautions(), asks(), asked(profile.Questions), shown(), papers, compares, short(), bikes, drawings, lives, ahead, former}

// reasons are the sentences of a match: why a frame is where it is.
func reasons() []sentence {
	var all []sentence
	for _, r := range match.Rules {
		for _, s := range r.Says {
			all = append(all, sentence(s))
		}
	}
	return all
}

// cautions are what is said before anybody rides.
func cautions() []sentence {
	var all []sentence
	for _, s := range match.Cautions {
		all = append(all, sentence(s))
	}
	return all
}

// asks are what an answer decides that could still be given.
func asks() []sentence {
	var all []sentence
	for _, s := range match.Asks {
		all = append(all, sentence(s))
	}
	return all
}

// Cautions returns the keys of what is said to a party with or without
// passengers before anybody rides.
func Cautions(passengers bool) []string {
	var keys []string
	for _, s := range match.CautionsFor(passengers) {
		keys = append(keys, s.English)
	}
	return keys
}

// asked are the names of questions, each once however often it is asked.
func asked(questions []profile.Question) []sentence {
	var all []sentence
	for _, q := range questions {
		for _, s := range append(asked(q.Sub), sentence(q.Named), sentence(q.Asked)) {
			if s.English != "" && !slices.Contains(all, s) {
				all = append(all, s)
			}
		}
	}
	return all
}

// shown are the labels of the facts of the catalogue that customers are shown.
func shown() []sentence {
	var all []sentence
	for _, list := range catalog.Lists {
		for _, f := range catalog.Of(list) {
			if f.Said.English != "" {
				all = append(all, sentence(f.Said))
			}
		}
	}
	return all
}

// countedSentences lists those that change with a number.
var countedSentences = func() []tongue.Counted {
	all := slices.Clone(counted)
	for _, r := range match.Rules {
		all = append(all, r.Counts...)
	}
	return all
}()

// counted are those of the pages.
var counted = []tongue.Counted{
	tongue.Count("%v months", 1, tongue.OneOr("%v month", "%v months"), tongue.OneOr("%v mois", "%v mois"),
		tongue.OneOr("%v Monat", "%v Monate"), tongue.OneOr("%v maand", "%v maanden")),
	tongue.Count("%v months and up", 1, tongue.OneOr("%v month and up", "%v months and up"), tongue.OneOr("%v mois et plus", "%v mois et plus"),
		tongue.OneOr("ab %v Monat", "ab %v Monaten"), tongue.OneOr("%v maand en ouder", "%v maanden en ouder")),
	sameForAll, stillOpen,
}

// former are the sentences that only answers of an earlier time say: what was
// told is kept with their keys.
var former = []sentence{
	{"needed by: %v", "nécessaire pour « %v »", "nötig für „%v“", "nodig voor ‘%v’"},
	{"The maker does not state %v, and this load leans on it. Ask the maker before anybody rides.",
		"Le fabricant n’indique pas %v, et cette charge en dépend. Demandez au fabricant avant de rouler.",
		"Der Hersteller nennt %v, und für diese Ladung kommt es darauf an. Fragen Sie ihn, bevor jemand fährt.",
		"De fabrikant vermeldt %v, en bij deze lading komt het daarop aan. Vraag het de fabrikant voor er iemand rijdt."},
	{"the %v axle", "l’essieu %v", "die Achse %v", "de as %v"},
	{"It is walked on its tail through this: %v. On its wheels there is too little room. Try that before you buy.",
		"À pousser debout sur la roue arrière : %v. Sur ses deux roues, il manque de place. Essayez avant l’achat.",
		"Aufrecht auf dem Hinterrad zu schieben, wo es heißt: %v. Auf beiden Rädern ist es zu eng. Probieren Sie das vor dem Kauf.",
		"Hier moet hij rechtop op het achterwiel door: %v. Op twee wielen is er te weinig ruimte. Probeer dat voor u koopt."},
	{"ratings for the axles", "de charges admissibles pour les essieux", "keine zulässigen Achslasten", "geen toegestane aslasten"},
}

// begun are the names that the form begins with.
var begun = map[string]bool{
	"first child": true, "second child": true, "third child": true, "fourth child": true,
	"fifth child": true, "sixth child": true, "seventh child": true, "eighth child": true,
}

// words are the words of codes, and of the names that the form begins with.
// Those are numbered in other languages, so that they stand in any case.
var words = []sentence{
	{"first child", "enfant 1", "Kind 1", "kind 1"},
	{"second child", "enfant 2", "Kind 2", "kind 2"},
	{"third child", "enfant 3", "Kind 3", "kind 3"},
	{"fourth child", "enfant 4", "Kind 4", "kind 4"},
	{"fifth child", "enfant 5", "Kind 5", "kind 5"},
	{"sixth child", "enfant 6", "Kind 6", "kind 6"},
	{"seventh child", "enfant 7", "Kind 7", "kind 7"},
	{"eighth child", "enfant 8", "Kind 8", "kind 8"},
	{"child %v", "enfant %v", "Kind %v", "kind %v"},

	{"front", "avant", "vorn", "voor"},
	{"rear", "arrière", "hinten", "achter"},
	{"box", "caisse", "Kiste", "bak"},
	{"fork left", "fourche gauche", "Gabel links", "voorvork links"},
	{"fork right", "fourche droite", "Gabel rechts", "voorvork rechts"},
	{"left", "gauche", "links", "links"},
	{"right", "droite", "rechts", "rechts"},
	{"side left", "côté gauche", "Seite links", "zijkant links"},
	{"side right", "côté droit", "Seite rechts", "zijkant rechts"},
	{"frame", "cadre", "Rahmen", "frame"},

	{"axle peg", "support d’axe", "Achsstutzen", "aspen"},
	{"bar clamp", "fixation au guidon", "Lenkerklemme", "stuurklem"},
	{"belly", "dessous du cadre", "Rahmenunterseite", "onderkant van het frame"},
	{"box floor", "fond de caisse", "Kistenboden", "bodem van de bak"},
	{"box rim", "bord de caisse", "Kistenrand", "rand van de bak"},
	{"deck cm", "plateau, en cm", "Deck, in cm", "dek, in cm"},
	{"frame boss", "inserts du cadre", "Gewinde am Rahmen", "schroefgaten in het frame"},
	{"head tube", "tube de direction", "Steuerrohr", "balhoofdbuis"},
	{"rack boss", "inserts du porte-bagages", "Gewinde am Gepäckträger", "schroefgaten in de drager"},
	{"rack top", "dessus du porte-bagages", "Oberseite des Gepäckträgers", "bovenkant van de drager"},
	{"rail socket", "logement d’arceau", "Aufnahme für den Bügel", "houder voor de beugel"},
	{"rear rail", "rail arrière", "hintere Schiene", "achterste rail"},
	{"rear side", "côté arrière", "hintere Seite", "zijkant achter"},
	{"seat post", "tige de selle", "Sattelstütze", "zadelpen"},
	{"steerer", "pivot de fourche", "Gabelschaft", "stuurbuis"},
	{"tail", "arrière du cadre", "Heck", "achterkant"},

	{"hydraulic disc", "à disque hydraulique", "hydraulische Scheibenbremse", "hydraulische schijfrem"},
	{"cable disc", "à disque à câble", "Scheibenbremse mit Seilzug", "schijfrem met kabel"},
	{"hydraulic rim", "sur jante hydraulique", "hydraulische Felgenbremse", "hydraulische velgrem"},
	{"cable rim", "sur jante à câble", "Felgenbremse mit Seilzug", "velgrem met kabel"},
	{"drum", "à tambour", "Trommelbremse", "trommelrem"},
	{"roller", "à rouleaux", "Rollenbremse", "rolrem"},
	{"coaster", "à rétropédalage", "Rücktrittbremse", "terugtraprem"},

	{"two leg stand", "béquille double", "Zweibeinständer", "dubbele standaard"},
	{"wheel guard", "protège-rayons", "Speichenschutz", "jasbeschermer"},
	{"foot support", "repose-pieds", "Fußstütze", "voetsteun"},
	{"hand hold", "poignée", "Haltegriff", "handgreep"},
	{"seat rack", "porte-bagages pour siège", "Gepäckträger für Kindersitz", "bagagedrager voor kinderzitje"},
	{"rear rack", "porte-bagages arrière", "hinterer Gepäckträger", "achterdrager"},
	{"backrest", "dossier", "Rückenlehne", "rugleuning"},

	{"compact longtail", "longtail compact", "kompaktes Longtail", "compacte longtail"},
	{"longtail", "longtail", "Longtail", "longtail"},
	{"front loader", "biporteur", "Lastenrad mit Kiste vorn", "fiets met de bak voorop"},
	{"tricycle", "triporteur", "Lastendreirad", "driewieler met laadbak"},
	{"loaded tourer", "vélo de voyage", "Reiserad", "vakantiefiets"},
	{"steel", "acier", "Stahl", "staal"},
	{"aluminium", "aluminium", "Aluminium", "aluminium"},
	{"titanium", "titane", "Titan", "titanium"},
	{"one size", "taille unique", "Einheitsgröße", "één maat"},
	{"small", "petit", "klein", "klein"},
	{"short box", "caisse courte", "kurze Kiste", "korte bak"},
}
