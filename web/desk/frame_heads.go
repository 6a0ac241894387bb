package desk

import (
	"fmt"
	"strings"

	"kinwain/internal/match"
	"kinwain/internal/measure"
	"kinwain/internal/ride"
	"kinwain/web/say"
	"kinwain/web/talk"
)

// frameHeads are the headings of the page of a frame, each with its answer.
func frameHeads(v *talk.Viewer, alternatives []Alternative) FrameHeads {
	until, _ := v.HorizonWords()
	plan := ""
	if v.Stages != nil {
		plan = "Over the years: " + answered(v.PlanWords())
	}
	return FrameHeads{
		Plan:   plan,
		Sheets: v.SheetHeading("Load sheet"), Known: "Good to know: " + say.Counted(v.Count(match.Note), "note", "notes"),
		AddOns: v.Heading("To add") + ": " + addedWords(v), Ways: "Other ways to build it: " + waysWords(alternatives),
		Rides: "How it rides: " + rideHead(v), Time: "How long it lasts: " + answered(until), Home: "Getting it home: " + homeHead(v),
		Price: v.Heading("Price") + ": " + v.Money(v.Total) + " with all add-ons and fitting", Shop: "In the shop: " + shopHead(v),
	}
}

// answered makes a sentence the end of a heading.
func answered(sentence string) string {
	return strings.ToLower(sentence[:1]) + strings.TrimSuffix(sentence[1:], ".")
}

func addedWords(v *talk.Viewer) string {
	if len(v.Build.AddOns) == 0 {
		return "nothing"
	}
	return say.Counted(len(v.Build.AddOns), "add-on", "add-ons") + ", " + v.Money(v.Build.Price+v.Build.Labour) + " fitted"
}

// waysWords name the objectives for which another set of add-ons is better.
func waysWords(list []Alternative) string {
	var others []string
	for _, a := range list {
		if len(a.Differences) > 0 {
			others = append(others, fmt.Sprintf("%s for %s", strings.ToLower(a.Name), a.Price))
		}
	}
	if len(others) == 0 {
		return "none is better"
	}
	return strings.Join(others, ", ")
}

// rideHead says how the build takes the hill that was asked about under the
// rider who is slowest on it, or else how far its gears reach.
func rideHead(v *talk.Viewer) string {
	if slope, asked := v.Profile.Hill.Get(); asked && len(v.Climbs) > 0 && !v.Form.HidesWeights() {
		slowest := v.Climbs[0].Speed
		for _, c := range v.Climbs {
			slowest = min(slowest, c.Speed)
		}
		return fmt.Sprintf("the %v hill at %s", slope, slowest.Show(v.System()))
	}
	g, stated := ride.GearsOf(v.Frame)
	if !stated {
		return "gears not stated"
	}
	return "from " + ride.ShowRolled(g.Development(g.Lowest), v.System()) + " for every turn of the cranks"
}

// homeHead says whether the build gets home and where it is tightest.
func homeHead(v *talk.Viewer) string {
	h := v.Home
	switch {
	case h == nil || !h.NeedsUpright && !h.Constrained:
		return "no measure is known yet"
	case h.NeedsUpright:
		return "it would have to stand upright, and cannot"
	case h.Fits:
		return "fits, " + h.Slack.Show(v.System(), measure.Down) + " to spare " + v.At(h.Tightest)
	}
	text := "does not fit, " + (-h.Slack).Show(v.System(), measure.Up) + " too large " + v.At(h.Tightest)
	if len(v.Build.AddOns) > 0 { // the reason counts with those that make it largest no more than they must
		text += " with these add-ons"
	}
	return text
}

func shopHead(v *talk.Viewer) string {
	demos, inStock := availableOf(v.Catalogue, v.Frame.Code)
	ridden := "no demo to ride now"
	if len(demos) > 0 {
		ridden = "ride " + strings.Join(demos, ", ") + " now"
	}
	return fmt.Sprintf("%s, %d in stock", ridden, inStock)
}
