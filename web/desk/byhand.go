package desk

import (
	"fmt"
	"net/http"
	"net/url"
	"strings"

	"kinwain/internal/advice"
	"kinwain/internal/fitting"
	"kinwain/internal/match"
	"kinwain/internal/measure"
	"kinwain/internal/profile"
	"kinwain/web/kit"
	"kinwain/web/talk"
)

// byHand shows a frame with the add-ons that the address names, or with the
// best set where it names none yet.
func (room *Room) byHand(w http.ResponseWriter, r *http.Request) error {
	c, err := room.Whole(r)
	if err != nil {
		return err
	}
	chosen, err := room.Chosen(r, c, match.Options{})
	if err != nil {
		return err
	}
	shown := *chosen
	if !chosen.ByHand { // the same set, with what may be ticked
		if shown.Match, err = c.ByHand(r.Context(), shown.Match.Frame, c.Profile, advice.OnBike(shown.Match)); err != nil {
			return err
		}
	}
	done, err := room.done(r.Context(), c, shown.Match.Frame.Code)
	if err != nil {
		return err
	}
	view := byHandView(c, shown.Match)
	view.Next = shown.Next(c, done)
	view.Shell = room.Steps(r, c, view.Name+", built by hand", "frame")
	return kit.RenderPart(w, r, http.StatusOK, ByHandPage(view))
}

func byHandView(c *talk.Consultation, m *match.Match) ByHand {
	v := talk.View(c, m)
	v.PhotoAt = kit.SourcePhotoAt
	action := c.Address("/frames/" + m.Frame.Code + "/by-hand")
	view := ByHand{
		Name: m.Frame.Called(), Back: c.Address("/frames/" + m.Frame.Code), Action: action, Picks: picks(v),
		Verdict: talk.VerdictView(m.Verdict), Line: talk.Line(c, m, nil), Relaxed: leftOut(v), Reasons: v.ReasonRows(), Offers: offers(v, action),
		Total: v.Money(m.Total), Sheets: v.LoadSheets(), Passengers: len(c.Profile.Passengers.Or(nil)) > 0,
	}
	view.Price, _ = v.PriceRows()
	return view
}

// leftOut says what the chosen add-ons do not do.
func leftOut(v *talk.Viewer) string {
	if len(v.Relaxed) == 0 {
		return ""
	}
	var names []string
	for _, r := range v.Relaxed {
		names = append(names, talk.RelaxedNames[r])
	}
	return fmt.Sprintf("These add-ons leave out %s; the sum counts all that was asked for.", v.Speaker.List(names))
}

// picks lists every copy of every add-on that may be on the frame: those on
// the bike first, so that what is chosen is in sight.
func picks(v *talk.Viewer) []Pick {
	var on, off []Pick
	for _, choice := range v.Choices {
		for k := range max(choice.Most, choice.Fitted) {
			pick := Pick{Code: choice.Code, Name: choice.Name.Name, On: k < choice.Fitted, Detail: pickDetail(v, choice, k)}
			if k > 0 {
				pick.Name = "Another " + strings.ToLower(pick.Name)
			}
			if pick.On {
				on = append(on, pick)
			} else {
				off = append(off, pick)
			}
		}
	}
	return append(on, off...)
}

func pickDetail(v *talk.Viewer, c fitting.Choice, copied int) string {
	weight := v.Speaker.Mass(c.Weight, measure.Up)
	if copied < c.Delivered {
		return fmt.Sprintf("comes with the frame, %s; %s to take off", weight, v.Money(c.Labour))
	}
	return fmt.Sprintf("%s, fitted %s", weight, v.Money(c.Price+c.Labour))
}

// offers links to the same choice with what would meet each missing need.
func offers(v *talk.Viewer, action string) []Offer {
	var offers []Offer
	seen := map[string]bool{}
	for _, misfit := range v.Misfits {
		for _, need := range misfit.Missing {
			if need.Code == "" || seen[need.Code] {
				continue
			}
			seen[need.Code] = true
			query := url.Values{"chosen": {"yes"}, "on": append(advice.OnBike(v.Match), need.Code)}
			offers = append(offers, Offer{Label: "Add the " + strings.ToLower(need.Name.Name), Href: action + "?" + query.Encode()})
		}
	}
	return offers
}

var objectiveNames = map[profile.Objective]string{profile.LeastCost: "Lowest cost", profile.Lightest: "Lightest", profile.Longest: "Lasts longest"}

// alternativesView puts the best build for each objective beside the one
// shown.
func alternativesView(c *talk.Consultation, shown *match.Match, list []*match.Match) []Alternative {
	var views []Alternative
	for i, m := range list {
		objective := profile.Objectives[i]
		v := talk.View(c, m)
		view := Alternative{Name: objectiveNames[objective], Shown: objective == c.Profile.Goal(), Differences: differences(v, shown),
			Price: v.Money(m.Build.Price + m.Build.Labour), Weight: m.Build.Weight.Show(c.System(), measure.Nearest), Until: "–"}
		switch h := m.Horizon; {
		case h == nil:
		case h.Ends:
			view.Until = "until " + talk.MonthName(h.Month)
		default:
			view.Until = "ten years and more"
		}
		views = append(views, view)
	}
	return views
}

// differences says in words what is on one bike and not on the other.
func differences(v *talk.Viewer, shown *match.Match) []string {
	var words []string
	mine, theirs := advice.OnBike(v.Match), advice.OnBike(shown)
	for _, code := range talk.MissingFrom(mine, theirs) {
		words = append(words, "with: "+strings.ToLower(v.AddOnName(code)))
	}
	for _, code := range talk.MissingFrom(theirs, mine) {
		words = append(words, "without: "+strings.ToLower(v.AddOnName(code)))
	}
	return words
}
