package desk

import (
	"slices"

	"kinwain/internal/match"
	"kinwain/internal/profile"
	"kinwain/web/talk"
)

// brakeWords says which brakes a frame has, and whether they suit: who was
// asked about their hands is answered, whatever the brakes.
func brakeWords(v *talk.Viewer) string {
	front, rear := v.Frame.FrontBrake, v.Frame.RearBrake
	var text string
	switch {
	case front == "" && rear == "":
		return "The maker does not state the brakes. Try them loaded."
	case front == rear:
		text = "Brakes: " + v.Speaker.Word(front) + ", front and rear."
	case front == "":
		text = "Brakes: " + v.Speaker.Word(rear) + " behind; of the front one the maker states nothing."
	case rear == "":
		text = "Brakes: " + v.Speaker.Word(front) + " in front; of the rear one the maker states nothing."
	default:
		text = "Brakes: " + v.Speaker.Word(front) + " in front, " + v.Speaker.Word(rear) + " behind."
	}
	minded := slices.ContainsFunc(v.Reasons, func(r match.Reason) bool { return r.Code == match.ReasonGrip || r.Code == match.ReasonBrakes })
	reduced := slices.ContainsFunc(v.Profile.Riders, func(r profile.Rider) bool { return r.Grip.Or(profile.FullGrip) == profile.ReducedGrip })
	switch {
	case minded:
		return text + " Mind what the reasons below say of them."
	case front == "" || rear == "" || v.Verdict == match.NotJudged:
		return text + " Try them loaded."
	case reduced:
		return text + " They suit a reduced grip and this load."
	}
	return text + " They suit this load."
}
