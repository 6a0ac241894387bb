package match

import "kinwain/internal/tongue"

// ofTime and ofProof are the reasons of the search for a set of add-ons: that
// it was not settled comes before all others, that it may not be the best after
// what bears on safety.
var (
	ofTime = []Rule{
		{ReasonUnsettled, "time was over before a set of add-ons was found or all were ruled out; none holds, but time was over before the reason was found", "care; stop", "",
			said("not settled in time", "non établi à temps", "nicht in der Zeit geklärt", "niet op tijd uitgemaakt"), []tongue.Said{
				said("Whether this frame can carry all that is asked was not settled in time.",
					"Le temps n’a pas suffi pour établir si ce vélo peut porter tout ce qui est demandé.",
					"Ob dieses Rad alles Verlangte tragen kann, war in der Zeit nicht zu klären.",
					"Of deze fiets alles kan dragen wat gevraagd is, was binnen de tijd niet uit te maken."),
				said("No set of add-ons does all that is asked. Which rule is in the way was not settled in time.",
					"Aucun ensemble d’accessoires ne fait tout ce qui est demandé. Le temps n’a pas suffi pour établir quelle règle s’y oppose.",
					"Kein Zubehör leistet alles Verlangte. Welche Regel im Weg steht, war in der Zeit nicht zu klären.",
					"Geen combinatie van accessoires doet alles wat gevraagd is. Welke regel in de weg staat, was binnen de tijd niet uit te maken."),
			}, nil},
		{ReasonUnverified, "the set of add-ons that was found breaks a rule when it is checked", "care", "",
			said("failed a second check", "seconde vérification échouée", "zweite Prüfung misslungen", "tweede controle mislukt"), []tongue.Said{
				said("The add-ons found for this frame did not pass a second check, so it is not judged.",
					"Les accessoires trouvés pour ce vélo n’ont pas passé une seconde vérification ; il n’est donc pas évalué.",
					"Das für dieses Rad gefundene Zubehör hat eine zweite Prüfung nicht bestanden, darum ist es nicht beurteilt.",
					"De accessoires die voor deze fiets gevonden zijn, doorstonden een tweede controle niet; daarom is hij niet beoordeeld."),
			}, nil},
	}
	ofProof = []Rule{
		{ReasonUnproved, "time was over before every better set of add-ons was ruled out", "care", "",
			said("not proved the best", "peut-être pas le meilleur", "nicht sicher das Beste", "niet zeker het beste"), []tongue.Said{
				said("No other set of add-ons is more than %v cheaper; not all were compared in time.",
					"Aucun autre ensemble d’accessoires n’est moins cher de plus de %v ; le temps n’a pas suffi pour les comparer tous.",
					"Kein anderes Zubehör ist um mehr als %v günstiger; nicht alles wurde in der Zeit verglichen.",
					"Geen andere combinatie van accessoires is meer dan %v goedkoper; niet alle zijn binnen de tijd vergeleken."),
				said("Another set of add-ons may be lighter; not all were compared in time.",
					"Un autre ensemble d’accessoires est peut-être plus léger ; le temps n’a pas suffi pour les comparer tous.",
					"Anderes Zubehör ist vielleicht leichter; nicht alles wurde in der Zeit verglichen.",
					"Een andere combinatie van accessoires is misschien lichter; niet alle zijn binnen de tijd vergeleken."),
				said("Another set of add-ons may last longer; not all were compared in time.",
					"Un autre ensemble d’accessoires servira peut-être plus longtemps ; le temps n’a pas suffi pour les comparer tous.",
					"Mit anderem Zubehör passt es vielleicht länger; nicht alles wurde in der Zeit verglichen.",
					"Een andere combinatie van accessoires gaat misschien langer mee; niet alle zijn binnen de tijd vergeleken."),
			}, nil},
	}
)
