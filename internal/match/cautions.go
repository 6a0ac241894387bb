package match

import (
	"slices"

	"kinwain/internal/tongue"
)

// Cautions is what is said wherever a load near a rating or a passenger is
// shown, above every document of matches too.
var Cautions = []tongue.Said{
	said("The maker’s manual and the rating plates on frame and add-ons come first; where they say less, less is right.",
		"La notice du fabricant et les plaques de charge du vélo et des accessoires priment ; la valeur la plus basse fait foi.",
		"Die Anleitung des Herstellers und die Lastangaben an Rad und Zubehör gehen vor; es gilt immer der niedrigere Wert.",
		"De handleiding van de fabrikant en de typeplaatjes op fiets en accessoires gaan voor; de laagste waarde geldt."),
	said("Local law decides who may ride along and who wears a helmet. A helmet on every head, whatever the law.",
		"La loi locale dit qui peut être transporté et qui porte un casque. Un casque sur chaque tête, quelle que soit la loi.",
		"Das örtliche Recht bestimmt, wer mitfahren darf und wer einen Helm trägt. Ein Helm auf jeden Kopf, auch wo er nicht vorgeschrieben ist.",
		"De plaatselijke wet bepaalt wie mee mag en wie een helm draagt. Een helm op elk hoofd, wat de wet ook zegt."),
	noInfant,
	said("Weigh again what was estimated, dressed to ride and with everything packed.",
		"Pesez à nouveau ce qui a été estimé, en tenue et avec tout le chargement.",
		"Wiegen Sie noch einmal, was geschätzt wurde, in Fahrkleidung und mit der ganzen Ladung.",
		"Weeg nog eens wat geschat is, in fietskleding en met alles ingepakt."),
	said("Practise without a load first. Ride loaded only when that goes well.",
		"Exercez-vous d’abord sans charge. Ne chargez le vélo que lorsque tout va bien.",
		"Üben Sie zuerst ohne Last. Fahren Sie erst beladen, wenn das gut geht.",
		"Oefen eerst zonder lading. Rijd pas beladen als dat goed gaat."),
	said("Have the bike assembled and inspected, brakes above all, by a qualified mechanic.",
		"Faites monter et contrôler le vélo, surtout les freins, par un mécanicien qualifié.",
		"Lassen Sie das Rad von einer Fachwerkstatt montieren und prüfen, vor allem die Bremsen.",
		"Laat de fiets monteren en nakijken, de remmen vooral, door een vakbekwame monteur."),
}

// noInfant is for those with passengers alone.
var noInfant = said("No infant under 12 months rides.",
	"Aucun enfant de moins de 12 mois ne doit être transporté.",
	"Kein Kind unter 12 Monaten fährt mit.",
	"Geen kind jonger dan 12 maanden rijdt mee.")

// CautionsFor returns the cautions for a party with or without passengers.
func CautionsFor(passengers bool) []tongue.Said {
	if passengers {
		return Cautions
	}
	return slices.DeleteFunc(slices.Clone(Cautions), func(s tongue.Said) bool { return s == noInfant })
}
