package talk

import (
	"slices"

	"kinwain/internal/catalog"
	"kinwain/internal/match"
)

// sourceWords say where a figure comes from. Each is the key of its
// translations.
var sourceWords = map[string]string{"rating_plate": "rating plate", "manual": "manual", "maker_answer": "maker’s answer", "own_measure": "own scale or tape"}

// from says where a figure of the frame comes from: rating plate, March 2026.
// Of what was told before anybody asked for sources nothing is said.
func (v *Viewer) from(figure string) string {
	if e := catalog.Source(v.Frame.Evidence, figure); e != nil {
		return v.Say(sourceWords[e.Kind]) + ", " + v.Speaker.Month(e.On.InMonth())
	}
	asked := len(v.Frame.Evidence) > 0 || slices.ContainsFunc(v.Match.Reasons, func(r match.Reason) bool { return r.Code == match.ReasonSourceMissing })
	if !asked {
		return ""
	}
	return v.Say("no source noted")
}
