package takehome

import (
	"strings"

	"kinwain/internal/match"
	"kinwain/internal/summary"
	"kinwain/web/talk"
)

// discreetHeadline says what is to spare without telling what a rider weighs:
// in whole steps, and by name only a limit that no rider counts against.
func (v *fitViewer) discreetHeadline() string {
	switch {
	case v.least == nil:
		return v.Say("within every rating; by how much would tell what a rider weighs")
	case *v.least == 0:
		return v.Say("within every rating, with less than %v to spare", talk.Down(summary.Step))
	}
	said := v.Say("at least %v to spare", talk.Down(*v.least))
	for _, l := range v.Limits { // the one with the least left first
		if !summary.OfRider(l) && l.Spare < *v.least {
			return talk.Beside(v.Speaker, said, l)
		}
	}
	return said
}

// vaguely is said for all that asks for care because of what a rider weighs.
const vaguely = "Some of what asks for care turns on what a rider weighs, which is left out here: how it carries, steers, brakes and climbs. Ask the shop, and practise unloaded first."

// reason says a reason, as much of it as the customer asked for.
func (v *fitViewer) reason(m *match.Match, r *match.Reason) string {
	key, tells := talk.Vaguer(r)
	switch {
	case !v.kept.Hide || !tells || r.Code == match.ReasonWeightEstimated && r.Rider != "": // the allowance tells nothing
		return v.Speaker.Message(r.Message)
	case !strings.Contains(key, "%v"):
		return v.Say(key)
	case r.Rider != "":
		return v.Say(key, r.Rider)
	}
	return v.Say(key, match.Label{Text: r.Passenger, Begins: true})
}

// withoutShares returns what asked for each add-on, without how much of the
// cargo it carries: the axles share that out, and what they bear tells who
// rides.
func withoutShares(why map[string][]match.Message) map[string][]match.Message {
	plain := map[string][]match.Message{}
	for code, list := range why {
		for _, m := range list {
			if strings.HasSuffix(m.Format, " of cargo") {
				m = match.Message{Format: "cargo"}
			}
			plain[code] = append(plain[code], m)
		}
	}
	return plain
}

// horizon says how long the build lasts, unless the month tells what a rider
// weighs.
func (v *fitViewer) horizon() (text, cause string) {
	if v.kept.Hide && v.Horizon != nil && summary.HorizonTellsWeight(v.Horizon) {
		return v.Say("How long it lasts turns on what a rider weighs, which is left out here. Ask the shop."), ""
	}
	text, cause = v.HorizonWords()
	if !v.kept.Hide {
		cause = strings.TrimSpace(v.Between() + " " + cause)
	}
	return text, cause
}
