package say

// drawings are the sentences of pictures to scale.
var drawings = []sentence{
	{"%v from the side, to scale", "%v de côté, à l’échelle", "%v von der Seite, maßstäblich", "%v van opzij, op schaal"},
	{"%v from the side, to scale, under rider %v", "%v de côté, à l’échelle, avec le cycliste %v", "%v von der Seite, maßstäblich, mit %v am Lenker", "%v van opzij, op schaal, met %v aan het stuur"},
	{"The arrows show what each axle bears.", "Les flèches montrent ce que porte chaque essieu.", "Die Pfeile zeigen, was jede Achse trägt.", "De pijlen tonen wat elke as draagt."},
	{"The arrows show what each axle bears, the lines across them what it may bear.", "Les flèches montrent ce que porte chaque essieu, les traits ce qu’il peut porter.", "Die Pfeile zeigen, was jede Achse trägt, die Striche, was sie tragen darf.", "De pijlen tonen wat elke as draagt, de strepen wat die mag dragen."},
	{"The circle shows where everything together balances: %v ahead of the rear axle, %v above the ground.", "Le cercle montre le centre de gravité de l’ensemble : %v devant l’essieu arrière, %v au-dessus du sol.", "Der Kreis zeigt den Schwerpunkt von allem: %v vor der Hinterachse, %v über dem Boden.", "De cirkel toont het zwaartepunt van alles samen: %v vóór de achteras, %v boven de grond."},
	{"Drawn as is usual, because it is not stated: %v.", "Dessiné comme d’habitude, car non indiqué : %v.", "Gezeichnet wie üblich, weil nicht angegeben: %v.", "Getekend zoals gebruikelijk, want niet vermeld: %v."},
	{"the size of the wheels", "la taille des roues", "die Größe der Räder", "de maat van de wielen"},
	{"where the load sits", "la place de la charge", "wo die Ladung sitzt", "waar de lading zit"},
	{"how high the load sits", "la hauteur de la charge", "wie hoch die Ladung sitzt", "hoe hoog de lading zit"},
	{"how tall a passenger is", "la taille d’un passager", "die Größe einer mitfahrenden Person", "hoe groot een passagier is"},
	{"how much room the cargo takes", "la place que prend le chargement", "wie viel Platz die Ladung braucht", "hoeveel plaats de lading inneemt"},
	{"Cargo is drawn where it lies, not how much of it.", "Le chargement est dessiné à sa place, sans sa quantité.", "Die Ladung ist gezeichnet, wo sie liegt, nicht wie viel es ist.", "De lading is getekend waar die ligt, niet hoeveel het is."},
	{"%v, from above, to scale", "%v, vu du dessus, à l’échelle", "%v von oben, maßstäblich", "%v van boven, op schaal"},
	{"%v, from ahead, to scale", "%v, vu de face, à l’échelle", "%v von vorn, maßstäblich", "%v van voren, op schaal"},
	{"The bike as built, %v, is %v long, %v wide and %v high.", "Le vélo tel que monté, %v, fait %v de long, %v de large et %v de haut.", "Das Rad, wie es gebaut ist, %v: %v lang, %v breit und %v hoch.", "De fiets zoals gebouwd, %v, is %v lang, %v breed en %v hoog."},
	{"It is tightest in height, which a view from above does not show.", "C’est en hauteur qu’il y a le moins de place, ce qu’une vue du dessus ne montre pas.", "Am engsten ist es in der Höhe, die man von oben nicht sieht.", "In de hoogte is de minste ruimte, en die is van boven niet te zien."},
	{"The thin outlines show its way round, the thick one where there is least room.", "Les contours fins montrent son passage, le contour épais l’endroit le plus serré.", "Die dünnen Umrisse zeigen den Weg um die Ecke, der dicke die engste Stelle.", "De dunne omtrekken tonen de weg om de hoek, de dikke waar de minste ruimte is."},
	{"Enough, filled: %v to spare.", "Assez, en plein : %v de marge.", "Genug, gefüllt: %v Platz übrig.", "Genoeg, gevuld: %v over."},
	{"Care, slanted lines: only %v to spare.", "Attention, hachures : seulement %v de marge.", "Achtung, schräge Linien: nur %v Platz übrig.", "Let op, schuine lijnen: maar %v over."},
	{"Stop, crossed lines: %v too large.", "Stop, hachures croisées : %v de trop.", "Stopp, gekreuzte Linien: %v zu groß.", "Stop, gekruiste lijnen: %v te groot."},
	{"of %v", "sur %v", "von %v", "van %v"},
	{"Wheel %v", "Roue %v", "Rad %v", "Wiel %v"},
	{"Centre of mass", "Centre de gravité", "Schwerpunkt", "Zwaartepunt"},
}
