// Package worn lists, for tests, the words that pages once said and that
// nobody in a shop would say. What customers read is held against it.
package worn

import "regexp"

// Row is a word of one language that must not appear, with a text in which it
// once stood.
type Row struct {
	Language string // empty for all
	Word     *regexp.Regexp
	Stood    string
}

func row(language, word, stood string) Row { return Row{language, regexp.MustCompile(word), stood} }

// Rows is the list. A word that begins like a right one says where it ends.
var Rows = []Row{
	row("", `[0-9]\x{a0}in\b`, "6,2\u00a0in"),
	row("", `\bEUR\b`, "3.495,00\u00a0EUR"),

	row("en", `[Nn]eeded by:`, "Needed by: two-leg stand"),

	row("fr", `\b([Qq]u|[Dd])e [aeiouâàéèêëîïôœAEIOUÉH]`, "Assurez-vous que enfant 2 se tient assis"),
	row("fr", `compté par estimation`, "Enfant 2 : poids non mesuré, compté par estimation pour 19,9 kg"),
	row("fr", `avec précaution`, "Convient, avec précaution"),
	row("fr", `Avec cycliste`, "Avec cycliste A"),
	row("fr", `^Ensemble$`, "Ensemble"),
	row("fr", `^Admis$`, "Admis"),
	row("fr", `s’ouvre jusqu`, "Ce lien s’ouvre jusqu’au 24 janvier"),
	row("fr", `Taxe\b`, "Taxe de 21 % comprise."),
	row("fr", `[Ss]upport pour l’animal`, "Un support pour l’animal"),
	row("fr", `protège-roue`, "Panneaux protège-roue, la paire"),
	row("fr", `\bne roule\b`, "Aucun enfant de moins de 12 mois ne roule."),
	row("fr", `c’est moins\b`, "si elles disent moins, c’est moins."),
	row("fr", `[^\x{202f}];`, "une place pour enfant 1; 12 kg"),
	row("fr", `[^\x{a0}0-9]:`, "Total: 82 kg"),
	row("fr", `[^\x{202f}][?!]`, "Quoi ?"),
	row("fr", `Exigé par`, "Exigé par : béquille double"),
	row("fr", `Cycliste .+\x{a0}:`, "Cycliste A\u00a0: 3 cm trop petit"),
	row("fr", `tenue de route`, "en tenue de route"),
	row("fr", `qui roule\b`, "le poids de la personne qui roule"),

	row("de", `Vorderlader`, "Vorderlader, Stahl"),
	row("de", `Langheck`, "kurzes Langheckrad"),
	row("de", `Gepäck($|[^t])`, "12 kg Gepäck"),
	row("de", `Anbauteil`, "Anbauteile"),
	row("de", `Radschutz`, "Radschutz aus Stoff"),
	row("de", `Prüfen Sie .*dass `, "Prüfen Sie vor der ersten Fahrt, dass Kind 2 ohne Hilfe mit Helm sitzt."),
	row("de", `öffnet sich bis`, "Dieser Link öffnet sich bis 24. Januar"),
	row("de", `Steuer von`, "Steuer von 21 % ist enthalten."),
	row("de", `gibt nicht an:`, "Der Hersteller gibt nicht an: zulässige Achslasten."),
	row("de", `bekleidet`, "Kind 1, bekleidet"),
	row("de", `mit Vorsicht`, "Passt mit Vorsicht"),
	row("de", `[Gg]ebraucht von`, "Gebraucht von: Platz von Kind 1"),
	row("de", `(der Art|\bbei|Last von|Seite [a-z]+):`, "eine Bremse der Art: Rücktrittbremse"),
	row("de", `neue Rechnung`, "Bitten Sie um eine neue Rechnung."),

	row("nl", `laadbak voor\b`, "fiets met laadbak voor"),
	row("nl", `korte longtail`, "korte longtail, staal"),
	row("nl", `[Bb]agage($|[^d])`, "12 kg bagage"),
	row("nl", `\b[Ll]ast\b`, "Last, kg"),
	row("nl", `^Samen$`, "Samen"),
	row("nl", `vermeldt niet:`, "De fabrikant vermeldt niet: toegestane aslasten."),
	row("nl", `opent tot`, "Deze link opent tot 24 januari"),
	row("nl", `Belasting van [0-9]`, "Belasting van 21% is inbegrepen."),
	row("nl", `met aandacht($|[^s])`, "Past, met aandacht"),
	row("nl", `[Ww]ielbescherming`, "Wielbescherming, per paar"),
	row("nl", `(van de soort|\bbij|last van|[Nn]odig voor|[Kk]ant [a-z]+):`, "een rem van de soort: terugtraprem"),
}

// In returns the worn words of a text in a language, each as it stands there.
func In(language, text string) []string {
	var found []string
	for _, r := range Rows {
		if r.Language == "" || r.Language == language {
			if word := r.Word.FindString(text); word != "" {
				found = append(found, word)
			}
		}
	}
	return found
}
