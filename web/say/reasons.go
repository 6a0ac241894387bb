package say

// parts are what sentences of a match are made of, and what asks for an add-on.
var parts = []sentence{
	{"a place for %v", "une place pour %v", "ein Platz für %v", "een plaats voor %v"},
	{"a carrier for the pet", "un support pour l’animal", "ein Träger für das Tier", "een drager voor het dier"},
	{"%v and %v of cargo", "%v et %v de chargement", "%v und %v Gepäck", "%v en %v bagage"},
	{"%v of cargo", "%v de chargement", "%v Gepäck", "%v bagage"},
	{"needed by: %v", "exigé par : %v", "gebraucht von: %v", "nodig voor: %v"},
	{"the place of %v", "la place (%v)", "Platz von %v", "de plaats van %v"},
	{"%v and %v", "%v et %v", "%v und %v", "%v en %v"},
	{"frame's own place", "place d’origine du vélo", "eigener Platz des Rads", "eigen plaats van de fiets"},
	{"doorway %v", "porte %v", "Tür %v", "deur %v"},
	{"corner %v", "angle %v", "Ecke %v", "hoek %v"},
	{"its place at home", "sa place à la maison", "sein Platz zu Hause", "zijn plek thuis"},
}

// changes are the single changes that would make a frame fit.
var changes = []sentence{
	{"Fits with %v of cargo instead of %v.", "Convient avec %v de chargement au lieu de %v.", "Passt mit %v Gepäck statt %v.", "Past met %v bagage in plaats van %v."},
	{"Fits if it may stand on its wheels at home instead of upright.", "Convient s’il peut rester sur ses roues à la maison plutôt que debout.", "Passt, wenn es zu Hause auf den Rädern statt aufrecht stehen darf.", "Past als hij thuis op zijn wielen mag staan in plaats van rechtop."},
	{"Fits if doorway %v is %v wide.", "Convient si la porte %v fait %v de large.", "Passt, wenn Tür %v eine Breite von %v hat.", "Past als deur %v een breedte van %v heeft."},
	{"Fits if both corridors of corner %v are %v wide.", "Convient si les deux couloirs de l’angle %v font %v de large.", "Passt, wenn beide Gänge an Ecke %v eine Breite von %v haben.", "Past als beide gangen bij hoek %v een breedte van %v hebben."},
	{"Fits if its place at home is %v larger each way.", "Convient si sa place à la maison a %v de plus dans chaque sens.", "Passt, wenn sein Platz zu Hause in jede Richtung %v größer ist.", "Past als zijn plek thuis in elke richting %v groter is."},
	{"Fits if the lift is %v larger each way, door included.", "Convient si l’ascenseur a %v de plus dans chaque sens, porte comprise.", "Passt, wenn der Aufzug in jede Richtung %v größer ist, mit der Tür.", "Past als de lift in elke richting %v groter is, met de deur."},
	{"Fits without the pet.", "Convient sans l’animal.", "Passt ohne das Tier.", "Past zonder het dier."},
	{"Fits without the %v of cargo.", "Convient sans les %v de chargement.", "Passt ohne die %v Gepäck.", "Past zonder de %v bagage."},
	{"Fits from %v.", "Convient dès %v.", "Passt ab %v.", "Past vanaf %v."},
	{"Fits from %v on.", "Convient à partir du %v.", "Passt ab dem %v.", "Past vanaf %v."},
	{"Fits if rider %v does not ride it.", "Convient si cycliste %v ne roule pas avec.", "Passt, wenn Person %v es nicht fährt.", "Past als berijder %v er niet op rijdt."},
	{"Fits without %v.", "Convient sans %v.", "Passt ohne %v.", "Past zonder %v."},
	{"Whether a single change would make it fit was not settled in time.",
		"Le temps n’a pas suffi pour établir si un seul changement le ferait convenir.",
		"Ob eine einzige Änderung es passend machen würde, war in der Zeit nicht zu klären.",
		"Of één verandering hem passend zou maken, was binnen de tijd niet uit te maken."},
	{"Fits with a budget of %v.", "Convient avec un budget de %v.", "Passt mit einem Budget von %v.", "Past met een budget van %v."},
}
