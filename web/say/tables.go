package say

// sentences lists every sentence that does not change with a number.
var sentences = [][]sentence{words, reasons, changes, pages, frames, questions}

// countedSentences lists those that do.
var countedSentences = []counted{
	{"%v steps with a bike of %v. Try lifting it before you decide.", 1,
		forms{"%v step with a bike of %v. Try lifting it before you decide.", "%v steps with a bike of %v. Try lifting it before you decide."},
		forms{"%v marche avec un vélo de %v. Essayez de le soulever avant de vous décider.", "%v marches avec un vélo de %v. Essayez de le soulever avant de vous décider."},
		forms{"%v Stufe mit einem Rad von %v. Heben Sie es zur Probe an, bevor Sie sich entscheiden.", "%v Stufen mit einem Rad von %v. Heben Sie es zur Probe an, bevor Sie sich entscheiden."},
		forms{"%v trede met een fiets van %v. Til hem eens op voordat u beslist.", "%v treden met een fiets van %v. Til hem eens op voordat u beslist."}},
	{"%v is too young for the %v, which is for %v months and up.", 3,
		forms{"%v is too young for the %v, which is for %v month and up.", "%v is too young for the %v, which is for %v months and up."},
		forms{"%v est trop jeune pour « %v », prévu à partir de %v mois.", "%v est trop jeune pour « %v », prévu à partir de %v mois."},
		forms{"%v ist zu jung für „%v“, gedacht ab %v Monat.", "%v ist zu jung für „%v“, gedacht ab %v Monaten."},
		forms{"%v is te jong voor ‘%v’, bedoeld vanaf %v maand.", "%v is te jong voor ‘%v’, bedoeld vanaf %v maanden."}},
	{"%v is too old for the %v, which is for up to %v months.", 3,
		forms{"%v is too old for the %v, which is for up to %v month.", "%v is too old for the %v, which is for up to %v months."},
		forms{"%v est trop âgé pour « %v », prévu jusqu’à %v mois.", "%v est trop âgé pour « %v », prévu jusqu’à %v mois."},
		forms{"%v ist zu alt für „%v“, gedacht bis %v Monat.", "%v ist zu alt für „%v“, gedacht bis %v Monate."},
		forms{"%v is te oud voor ‘%v’, bedoeld tot en met %v maand.", "%v is te oud voor ‘%v’, bedoeld tot en met %v maanden."}},
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
	{"frame", "cadre", "Rahmen", "frame"},

	{"hydraulic disc", "à disque hydraulique", "hydraulische Scheibenbremse", "hydraulische schijfrem"},
	{"cable disc", "à disque à câble", "Scheibenbremse mit Seilzug", "schijfrem met kabel"},
	{"hydraulic rim", "sur jante hydraulique", "hydraulische Felgenbremse", "hydraulische velgrem"},
	{"cable rim", "sur jante à câble", "Felgenbremse mit Seilzug", "velgrem met kabel"},
	{"drum", "à tambour", "Trommelbremse", "trommelrem"},
	{"roller", "à rouleaux", "Rollenbremse", "rolrem"},
	{"coaster", "à rétropédalage", "Rücktrittbremse", "terugtraprem"},

	{"two leg stand", "béquille double", "Zweibeinständer", "dubbele standaard"},
	{"wheel guard", "protège-roue", "Radschutz", "wielbescherming"},
	{"foot support", "repose-pieds", "Fußstütze", "voetsteun"},
	{"hand hold", "poignée", "Haltegriff", "handgreep"},
	{"seat rack", "porte-bagages pour siège", "Gepäckträger für Kindersitz", "bagagedrager voor kinderzitje"},
	{"rear rack", "porte-bagages arrière", "hinterer Gepäckträger", "achterdrager"},
	{"backrest", "dossier", "Rückenlehne", "rugleuning"},

	{"compact longtail", "longtail compact", "kompaktes Longtail", "korte longtail"},
	{"longtail", "longtail", "Longtail", "longtail"},
	{"front loader", "biporteur à caisse avant", "Lastenrad mit Kiste vorn", "fiets met laadbak voor"},
	{"tricycle", "triporteur", "Dreirad", "driewieler"},
	{"loaded tourer", "vélo de voyage", "Reiserad für Gepäck", "reisfiets voor bagage"},
	{"steel", "acier", "Stahl", "staal"},
	{"aluminium", "aluminium", "Aluminium", "aluminium"},
	{"titanium", "titane", "Titan", "titanium"},
	{"one size", "taille unique", "Einheitsgröße", "één maat"},
	{"small", "petit", "klein", "klein"},
	{"short box", "caisse courte", "kurze Kiste", "korte bak"},
}
