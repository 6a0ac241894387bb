package say

import (
	"slices"

	"kinwain/internal/match"
	"kinwain/internal/profile"
	"kinwain/internal/tongue"
)

// papers are the sentences of what is handed over the counter: the quote and
// the test ride.
var papers = []sentence{
	{"Quote %v", "Devis %v", "Angebot %v", "Offerte %v"},
	{"For", "Pour", "Für", "Voor"},
	{"Stands until %v.", "Valable jusqu’au %v.", "Gültig bis %v.", "Geldig tot en met %v."},
	{"This quote has run out. Make a new one for today’s prices.", "Ce devis n’est plus valable. Faites-en un nouveau aux prix du jour.",
		"Dieses Angebot ist abgelaufen. Erstellen Sie ein neues zu den heutigen Preisen.", "Deze offerte is verlopen. Maak een nieuwe met de prijzen van vandaag."},
	{"The quote would stand until %v.", "Le devis serait valable jusqu’au %v.", "Das Angebot wäre gültig bis %v.", "De offerte zou geldig zijn tot en met %v."},
	{"Bike %v", "Vélo %v", "Rad %v", "Fiets %v"},
	{"serial number %v", "numéro de série %v", "Rahmennummer %v", "framenummer %v"},
	{"ordered", "commandé", "bestellt", "besteld"},
	{"ordered, expected: %v", "commandé, attendu : %v", "bestellt, erwartet: %v", "besteld, verwacht: %v"},
	{"To be ordered.", "À commander.", "Muss bestellt werden.", "Wordt besteld."},
	{"%v of them to be ordered.", "dont %v à commander.", "davon %v zu bestellen.", "waarvan %v te bestellen."},
	{"Count", "Quantité", "Anzahl", "Aantal"},
	{"Each", "Prix unitaire", "Einzelpreis", "Per stuk"},
	{"Amount", "Montant", "Betrag", "Bedrag"},
	{"Total", "Total", "Gesamtbetrag", "Totaal"},
	{"Without tax", "Total HT", "Netto", "Exclusief btw"},
	{"Tax of %v, included", "dont TVA de %v", "darin %v MwSt.", "waarvan %v btw"},
	{"Subtotal", "Sous-total", "Zwischensumme", "Subtotaal"},
	{"Tax of %v, added", "TVA de %v en sus", "zuzüglich %v MwSt.", "plus %v btw"},
	{"Fitting: %v, %v min", "Montage de « %v », %v min", "Montage „%v“, %v Min.", "Montage ‘%v’, %v min"},
	{"Less on the %v: %v, %v min", "Travail en moins sur %v pour « %v », %v min", "Weniger Aufwand bei %v für „%v“, %v Min.", "Minder werk aan %v voor ‘%v’, %v min"},
	{"Extra on the %v: %v, %v min", "Travail en plus sur %v pour « %v », %v min", "Mehr Aufwand bei %v für „%v“, %v Min.", "Extra werk aan %v voor ‘%v’, %v min"},
	{"Taking off: %v, %v min", "Démontage de « %v », %v min", "Demontage „%v“, %v Min.", "Demontage ‘%v’, %v min"},
	{"Work is charged at %v an hour. Each piece of work is rounded half up to a cent; what is extra on this frame is the whole work less the usual. Tax is worked out once, on all of it; it and the deposit are rounded half up.",
		"La main-d’œuvre est facturée %v de l’heure. Chaque travail est arrondi au centime le plus proche ; le travail en plus sur ce vélo est la différence avec le travail habituel. La TVA est calculée une seule fois, sur le tout ; la TVA et l’acompte sont arrondis au centime le plus proche.",
		"Die Arbeit kostet %v pro Stunde. Jede Arbeit ist kaufmännisch auf den Cent gerundet; der Mehraufwand bei diesem Rad ist die Differenz zur üblichen Arbeit. Die MwSt. ist einmal auf alles berechnet; sie und die Anzahlung sind kaufmännisch gerundet.",
		"Werk kost %v per uur. Elk werk is op de cent afgerond; het extra werk aan deze fiets is het verschil met het gebruikelijke. De btw is één keer berekend, over alles; de btw en de aanbetaling zijn op de cent afgerond."},
	{"No deposit is due on signing.", "Aucun acompte n’est dû à la signature.", "Bei der Unterschrift ist keine Anzahlung fällig.", "Bij ondertekening is geen aanbetaling nodig."},
	{"On signing, %v is due as a deposit: %v.", "À la signature, un acompte de %v est dû, soit %v.", "Bei der Unterschrift ist eine Anzahlung von %v fällig, das sind %v.", "Bij ondertekening betaalt u %v aan, dat is %v."},
	{"This bike does not fit as asked", "Ce vélo ne convient pas à la demande", "Dieses Rad passt nicht wie gewünscht", "Deze fiets past niet zoals gevraagd"},
	{"This paper is no rating plate.", "Ce document n’est pas une plaque de charge.", "Dieses Blatt ist kein Typenschild.", "Dit papier is geen typeplaatje."},
	{"It says what the bike costs, not what it may carry. That stands on the plates of frame and add-ons and in the maker’s manual.",
		"Il indique ce que coûte le vélo, pas ce qu’il peut porter. Cela figure sur les plaques du vélo et des accessoires et dans la notice du fabricant.",
		"Es sagt, was das Rad kostet, nicht, was es tragen darf. Das steht auf den Schildern an Rad und Zubehör und in der Anleitung des Herstellers.",
		"Er staat op wat de fiets kost, niet wat hij mag dragen. Dat staat op de plaatjes van fiets en accessoires en in de handleiding van de fabrikant."},
	{"As proposed, the bike has %v.", "Vélo proposé avec %v.", "So ausgestattet hat das Rad %v.", "Zo uitgerust heeft de fiets %v."},
	{"Place, date, customer’s signature", "Lieu, date, signature du client", "Ort, Datum, Unterschrift Kunde", "Plaats, datum, handtekening klant"},
	{"For the shop", "Pour le magasin", "Für den Laden", "Voor de winkel"},

	{"Test ride on the %v", "Essai du vélo %v", "Probefahrt mit dem Rad %v", "Proefrit op de fiets %v"},
	{"%v, %v to %v", "%v, de %v à %v", "%v, %v bis %v Uhr", "%v, %v tot %v uur"},
	{"%v, %v, to %v, %v", "du %v, %v, au %v, %v", "%v, %v Uhr, bis %v, %v Uhr", "%v, %v uur, tot %v, %v uur"},
	{"Booked", "Réservé", "Gebucht", "Geboekt"},
	{"Out now", "En cours", "Unterwegs", "Onderweg"},
	{"Back", "Terminé", "Zurück", "Terug"},
	{"Cancelled", "Annulé", "Abgesagt", "Geannuleerd"},
	{"%v km ridden", "%v km parcourus", "%v km gefahren", "%v km gereden"},
	{"no longer in the shop’s list", "ne figure plus dans la liste du magasin", "nicht mehr in der Liste des Ladens", "niet meer in de lijst van de winkel"},
	{"For the rider alone: as the bike stood when this was booked, nobody can ride along.", "Pour le cycliste seul : tel que le vélo était à la réservation, personne ne peut monter à bord.",
		"Nur für die Person am Lenker: So, wie das Rad bei der Buchung stand, kann niemand mitfahren.", "Alleen voor wie fietst: zoals de fiets er bij de boeking stond, kan er niemand mee."},
	{"As the bike stood when this was booked, everyone can ride along, once it was practised with ballast.", "Tel que le vélo était à la réservation, tout le monde peut monter à bord, après un essai avec du lest.",
		"So, wie das Rad bei der Buchung stand, können alle mitfahren, sobald mit Ballast geübt wurde.", "Zoals de fiets er bij de boeking stond, kan iedereen mee, zodra er met ballast geoefend is."},
	{"Before it rolls", "Avant de partir", "Vor der Abfahrt", "Voor het vertrek"},
	{"Helmet on every head", "Un casque sur chaque tête", "Ein Helm auf jedem Kopf", "Een helm op elk hoofd"},
	{"Straps closed, no hood under it.", "Sangles fermées, sans capuche dessous.", "Riemen geschlossen, keine Kapuze darunter.", "Riempjes dicht, geen capuchon eronder."},
	{"Tyres pumped", "Pneus gonflés", "Reifen aufgepumpt", "Banden opgepompt"},
	{"Between the least and the most that stand on the tyre.", "Entre le minimum et le maximum indiqués sur le pneu.", "Zwischen dem kleinsten und dem größten Druck, der auf dem Reifen steht.", "Tussen het minimum en het maximum op de band."},
	{"Both brakes pulled", "Les deux freins essayés", "Beide Bremsen gezogen", "Beide remmen geprobeerd"},
	{"Each one holds the bike on its own when you push it.", "Chacun retient le vélo à lui seul quand on le pousse.", "Jede hält das Rad allein, wenn man es schiebt.", "Elk houdt de fiets alleen tegen als u duwt."},
	{"Stand tried", "Béquille essayée", "Ständer ausprobiert", "Standaard geprobeerd"},
	{"Up and down once, with the bike unloaded and somebody holding it.", "Une fois dépliée et repliée, vélo vide et tenu par quelqu’un.", "Einmal aus- und eingeklappt, das Rad unbeladen und von jemandem gehalten.", "Eén keer uit- en ingeklapt, met een lege fiets die iemand vasthoudt."},
	{"Practised unloaded", "Exercice à vide", "Unbeladen geübt", "Zonder lading geoefend"},
	{"Start, stop, turn both ways and walk it backwards, on a quiet place.", "Démarrer, s’arrêter, tourner des deux côtés et reculer à pied, dans un endroit calme.", "Anfahren, anhalten, nach beiden Seiten wenden und rückwärts schieben, an einem ruhigen Ort.", "Wegrijden, stoppen, naar beide kanten draaien en lopend achteruit, op een rustige plek."},
	{"Practised with ballast", "Exercice avec du lest", "Mit Ballast geübt", "Met ballast geoefend"},
	{"The same again with bottles of water or boxes where the load will be, before any passenger.", "La même chose avec des bouteilles d’eau ou des caisses à la place du chargement, avant tout passager.", "Dasselbe noch einmal mit Wasserflaschen oder Kisten dort, wo die Ladung sein wird, bevor jemand mitfährt.", "Hetzelfde nog eens met flessen water of dozen op de plek van de lading, voordat er iemand meerijdt."},
	{"Test ride: %v (%v)", "Essai : %v (%v)", "Probefahrt: %v (%v)", "Proefrit: %v (%v)"},
	{"Rider: %v", "Cycliste : %v", "Am Lenker: %v", "Berijder: %v"},
	{"Bring what you ride in: shoes, clothes, a helmet for every head. Practise unloaded first.", "Apportez ce que vous portez à vélo : chaussures, vêtements, un casque pour chaque tête. Exercez-vous d’abord à vide.",
		"Bringen Sie mit, womit Sie fahren: Schuhe, Kleidung, einen Helm für jeden Kopf. Üben Sie zuerst unbeladen.", "Neem mee waarin u fietst: schoenen, kleding, een helm voor elk hoofd. Oefen eerst zonder lading."},
}

// short are the few words of each reason, for the cell of a table.
func short() []sentence {
	var all []sentence
	questions := asked(profile.Questions)
	for _, r := range match.Rules {
		if !slices.ContainsFunc(questions, func(q sentence) bool { return q.English == r.Short.English }) { // which is said already
			all = append(all, sentence(r.Short))
		}
	}
	return all
}

// compares are the sentences of frames side by side.
var compares = []sentence{
	{"Side by side", "Côte à côte", "Nebeneinander", "Naast elkaar"},
	{"What differs comes first. Each bike has its best set of add-ons for this customer; the words in bold say where exactly one is better, and by how much against the next best.",
		"Les différences viennent en premier. Chaque vélo a les accessoires qui conviennent le mieux ; les mots en gras disent où un seul est meilleur, et de combien par rapport au suivant.",
		"Zuerst kommt, was sich unterscheidet. Jedes Rad hat das Zubehör, das hier am besten passt; fett steht, wo genau eines besser ist, und um wie viel gegenüber dem nächstbesten.",
		"Wat verschilt, staat vooraan. Elke fiets heeft de accessoires die het beste passen; vet staat waar er precies één beter is, en hoeveel dat scheelt met de volgende."},
	{"Not known yet, and not counted for any: %v.", "Pas encore connu, et compté pour aucun : %v.", "Noch nicht bekannt und bei keinem gezählt: %v.", "Nog niet bekend, en bij geen enkele meegeteld: %v."},
	{"%v, built by hand", "%v, composé à la main", "%v, von Hand zusammengestellt", "%v, met de hand samengesteld"},
	{"* leaves out %v", "* laisse de côté %v", "* lässt %v außer Acht", "* laat %v buiten beschouwing"},
	{"of a build that leaves something out", "d’un montage qui laisse quelque chose de côté", "einer Ausstattung, die etwas außer Acht lässt", "van een uitrusting die iets buiten beschouwing laat"},
	{"Rider by rider", "Cycliste par cycliste", "Person für Person", "Berijder voor berijder"},
	{"Rider %v", "Cycliste %v", "Person %v", "Berijder %v"},
	{"The answer", "La réponse", "Die Antwort", "Het antwoord"},
	{"Carrying", "Ce qu’ils portent", "Tragen", "Dragen"},
	{"At home", "À la maison", "Zu Hause", "Thuis"},
	{"The bike", "Le vélo", "Das Rad", "De fiets"},

	{"Verdict", "Verdict", "Urteil", "Oordeel"},
	{"Score", "Note globale", "Punkte", "Score"},
	{"Price, all in", "Prix, tout compris", "Preis, alles inbegriffen", "Prijs, alles inbegrepen"},
	{"To add", "À ajouter", "Dazu kommt", "Komt erbij"},
	{"Stops and cares", "Ce qui exclut, à surveiller", "Was dagegen spricht", "Wat ertegen spreekt"},
	{"To spare, heaviest rider", "Marge, cycliste le plus lourd", "Reserve, schwerste Person", "Reserve, zwaarste berijder"},
	{"First limit", "Première limite", "Erste Grenze", "Eerste grens"},
	{"Front axle, to spare", "Marge de l’essieu avant", "Reserve der Vorderachse", "Reserve van de vooras"},
	{"Rear axle, to spare", "Marge de l’essieu arrière", "Reserve der Hinterachse", "Reserve van de achteras"},
	{"Under the carry guideline", "Sous le repère de charge", "Unter dem Richtwert", "Onder de richtlijn"},
	{"Rider’s height, to the nearer end", "Taille, jusqu’à la limite la plus proche", "Körpergröße, bis zur näheren Grenze", "Lengte, tot de dichtstbijzijnde grens"},
	{"Lasts until the end of", "Suffit jusqu’à fin", "Passt bis Ende", "Gaat mee tot eind"},
	{"Tightest at home", "Le plus étroit à la maison", "Engste Stelle zu Hause", "Krapste punt thuis"},
	{"Length as built", "Longueur, équipé", "Länge mit Zubehör", "Lengte met accessoires"},
	{"Width as built", "Largeur, équipé", "Breite mit Zubehör", "Breedte met accessoires"},
	{"Height as built", "Hauteur, équipé", "Höhe mit Zubehör", "Hoogte met accessoires"},
	{"Length standing upright", "Longueur à la verticale", "Länge aufrecht", "Lengte rechtop"},
	{"To lift and push", "À soulever et pousser", "Zum Heben und Schieben", "Om te tillen en duwen"},
	{"Tyres, front and rear", "Pneus, avant et arrière", "Reifen vorn und hinten", "Banden voor en achter"},
	{"Brakes, front and rear", "Freins, avant et arrière", "Bremsen vorn und hinten", "Remmen voor en achter"},
	{"Motor", "Moteur", "Antrieb", "Motorvermogen"},
	{"Lowest gear, a turn", "Plus petit développement", "Kleinste Entfaltung", "Lichtste versnelling, per omwenteling"},
	{"Today in the shop", "Aujourd’hui au magasin", "Heute im Laden", "Vandaag in de winkel"},
	{"Carries, of own weight", "Transporte, part du propre poids", "Befördert, vom eigenen Gewicht", "Vervoert, van het eigen gewicht"},
	{"Up the %v hill", "Dans la côte de %v", "An der Steigung von %v", "Op de helling van %v"},

	{"not stated", "non indiqué", "nicht angegeben", "niet vermeld"},
	{"not checked", "non vérifié", "nicht geprüft", "niet gecontroleerd"},
	{"no score", "sans note", "keine Punkte", "geen score"},
	{"nothing", "rien", "nichts", "niets"},
	{"none", "aucun", "keine", "geen"},
	{"does not fit today", "ne convient pas aujourd’hui", "passt heute nicht", "past vandaag niet"},
	{"cannot stand so", "ne tient pas ainsi", "kann so nicht stehen", "kan zo niet staan"},
	{"has to stand upright, and cannot", "doit être rangé à la verticale, et ne le peut pas", "muss aufrecht stehen und kann es nicht", "moet rechtop staan en kan dat niet"},
	{"ten years and more", "dix ans et plus", "zehn Jahre und länger", "tien jaar en langer"},
	{"slower than a walk", "plus lent que la marche", "langsamer als zu Fuß", "langzamer dan lopen"},
	{"lowest gear too tall", "développement trop long", "kleinster Gang zu schwer", "lichtste versnelling te zwaar"},
	{"gears not stated", "vitesses non indiquées", "Gänge nicht angegeben", "versnellingen niet vermeld"},
	{"%v, rider %v", "%v (cycliste %v)", "%v (Person %v)", "%v (berijder %v)"},
	{"%v too large", "%v de trop", "%v zu groß", "%v te groot"},
	{"%v outside", "%v en dehors", "%v außerhalb", "%v erbuiten"},
	{"%v over", "%v de trop", "%v darüber", "%v erboven"},
	{"%v in stock", "%v en stock", "%v auf Lager", "%v op voorraad"},

	{"%v points ahead", "%v points d’avance", "%v Punkte voraus", "%v punten voor"},
	{"%v less", "%v de moins", "%v weniger", "%v minder"},
	{"%v more", "%v de plus", "%v mehr", "%v meer"},
	{"carries %v more", "porte %v de plus", "trägt %v mehr", "draagt %v meer"},
	{"%v further under it", "%v de plus en dessous", "%v weiter darunter", "%v verder eronder"},
	{"%v more room", "%v de place en plus", "%v mehr Platz", "%v meer ruimte"},
	{"lasts %v longer", "suffit %v de plus", "passt %v länger", "gaat %v langer mee"},
	{"%v shorter", "%v plus court", "%v kürzer", "%v korter"},
	{"%v narrower", "%v plus étroit", "%v schmaler", "%v smaller"},
	{"%v lower", "%v plus bas", "%v niedriger", "%v lager"},
	{"%v shorter upright", "%v plus court à la verticale", "%v kürzer aufrecht", "%v korter rechtop"},
	{"%v lighter", "%v plus léger", "%v leichter", "%v lichter"},
	{"%v faster", "%v plus rapide", "%v schneller", "%v sneller"},
	{"at least %v", "au moins %v", "mindestens %v", "minstens %v"},
}

// stillOpen counts what was not gone through before a ride.
var stillOpen = tongue.Count("%v of %v still to go through.", 1, tongue.OneOr("%v of %v still to go through.", "%v of %v still to go through."),
	tongue.OneOr("Il reste %v point sur %v à vérifier.", "Il reste %v points sur %v à vérifier."),
	tongue.OneOr("%v von %v Punkten ist noch offen.", "%v von %v Punkten sind noch offen."),
	tongue.OneOr("Nog %v van de %v punten te doen.", "Nog %v van de %v punten te doen."))

// sameForAll counts rows that are folded away.
var sameForAll = tongue.Count("%v the same for all", 1, tongue.OneOr("%v the same for all", "%v the same for all"),
	tongue.OneOr("%v point identique pour tous", "%v points identiques pour tous"), tongue.OneOr("%v Angabe bei allen gleich", "%v Angaben bei allen gleich"),
	tongue.OneOr("%v gegeven bij alle gelijk", "%v gegevens bij alle gelijk"))

// bikes are the words of what a unit is: its kind, and the colours in which the
// demo shop has its bikes.
var bikes = []sentence{
	{"demo", "vélo d’essai", "Vorführrad", "demofiets"}, {"stock", "vélo en stock", "Lagerrad", "fiets uit voorraad"},
	{"slate", "gris ardoise", "schiefergrau", "leigrijs"}, {"graphite", "graphite", "graphitgrau", "grafietgrijs"}, {"sea green", "vert mer", "meergrün", "zeegroen"},
	{"plum", "prune", "pflaumenblau", "pruimpaars"}, {"moss green", "vert mousse", "moosgrün", "mosgroen"}, {"olive", "olive", "olivgrün", "olijfgroen"},
	{"chalk white", "blanc craie", "kreideweiß", "krijtwit"}, {"dark green", "vert foncé", "dunkelgrün", "donkergroen"}, {"sand", "sable", "sandfarben", "zandkleurig"},
	{"deep blue", "bleu profond", "tiefblau", "diepblauw"}, {"mustard", "moutarde", "senfgelb", "mosterdgeel"}, {"bare metal", "métal brut", "metall, roh", "blank metaal"},
	{"rust", "rouille", "rostrot", "roestbruin"}, {"pewter", "étain", "zinngrau", "tingrijs"}, {"chalk blue", "bleu craie", "kreideblau", "krijtblauw"},
	{"barn red", "rouge grange", "scheunenrot", "schuurrood"}, {"brick red", "rouge brique", "ziegelrot", "baksteenrood"},
}
