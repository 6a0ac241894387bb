package say

// parts are what sentences of a match are made of, and what asks for an add-on.
var parts = []sentence{
	{"a place for %v", "une place pour %v", "ein Platz für %v", "een plaats voor %v"},
	{"a carrier for the pet", "de quoi transporter l’animal", "ein Platz für das Tier", "een plek voor het dier"},
	{"%v and %v of cargo", "%v et %v de chargement", "%v und %v Ladung", "%v en %v lading"},
	{"%v of cargo", "%v de chargement", "%v Ladung", "%v lading"},
	{"needed by the %v", "nécessaire pour « %v »", "nötig für „%v“", "nodig voor ‘%v’"},
	{"needed by the place of %v", "nécessaire pour la place de %v", "nötig für den Platz von %v", "nodig voor de plaats van %v"},
	{"the place of %v", "la place de %v", "den Platz von %v", "de plaats van %v"},
	{"%v and %v", "%v et %v", "%v und %v", "%v en %v"},
	{"frame's own place", "place d’origine du vélo", "eigener Platz des Rads", "eigen plaats van de fiets"},
	{"doorway %v", "la porte %v", "Tür %v", "deur %v"},
	{"corner %v", "l’angle %v", "Ecke %v", "hoek %v"},
	{"the lift on the way", "l’ascenseur", "den Aufzug", "de lift"},
	{"its place at home", "sa place à la maison", "seinen Stellplatz zu Hause", "zijn plek thuis"},
}

// changes are the single changes that would make a frame fit.
var changes = []sentence{
	{"Fits with %v of cargo instead of %v.", "Convient avec %v de chargement au lieu de %v.", "Passt mit %v Ladung statt %v.", "Past met %v lading in plaats van %v."},
	{"Fits if it may stand on its wheels at home instead of upright.", "Convient s’il peut rester sur ses roues à la maison plutôt qu’à la verticale.", "Passt, wenn es zu Hause auf den Rädern statt aufrecht stehen darf.", "Past als hij thuis op zijn wielen mag staan in plaats van rechtop."},
	{"Fits if doorway %v is %v wide.", "Convient si la porte %v fait %v de large.", "Passt, wenn Tür %v eine Breite von %v hat.", "Past als deur %v een breedte van %v heeft."},
	{"Fits if both corridors of corner %v are %v wide.", "Convient si les deux couloirs de l’angle %v font %v de large.", "Passt, wenn beide Gänge an Ecke %v eine Breite von %v haben.", "Past als beide gangen bij hoek %v een breedte van %v hebben."},
	{"Fits if its place at home is %v larger each way.", "Convient si sa place à la maison a %v de plus dans chaque sens.", "Passt, wenn sein Stellplatz zu Hause in jede Richtung %v größer ist.", "Past als zijn plek thuis in elke richting %v groter is."},
	{"Fits if the lift is %v larger each way, door included.", "Convient si l’ascenseur a %v de plus dans chaque sens, porte comprise.", "Passt, wenn der Aufzug in jede Richtung %v größer ist, Tür inbegriffen.", "Past als de lift in elke richting %v groter is, deur inbegrepen."},
	{"Fits without the pet.", "Convient sans l’animal.", "Passt ohne das Tier.", "Past zonder het dier."},
	{"Fits without the %v of cargo.", "Convient sans les %v de chargement.", "Passt ohne die %v Ladung.", "Past zonder de %v lading."},
	{"Fits from %v.", "Convient dès %v.", "Passt ab %v.", "Past vanaf %v."},
	{"Fits from %v on.", "Convient à partir du %v.", "Passt ab dem %v.", "Past vanaf %v."},
	{"Fits if rider %v does not ride it.", "Convient si %v ne le conduit pas.", "Passt, wenn %v nicht damit fährt.", "Past als %v er niet op rijdt."},
	{"Fits without %v.", "Convient sans %v.", "Passt ohne %v.", "Past zonder %v."},
	{"Whether a single change would make it fit was not settled in time.",
		"Le temps n’a pas suffi pour établir si un seul changement suffirait.",
		"Ob eine einzige Änderung es passend machen würde, war in der Zeit nicht zu klären.",
		"Of één verandering hem passend zou maken, was binnen de tijd niet uit te maken."},
	{"Fits with a budget of %v.", "Convient avec un budget de %v.", "Passt mit einem Budget von %v.", "Past met een budget van %v."},
}
