package web

import (
	"fmt"
	"net/http"
	"net/url"
	"slices"
	"strings"

	"kinwain/internal/advice"
	"kinwain/internal/fitting"
	"kinwain/internal/match"
	"kinwain/internal/measure"
	"kinwain/internal/profile"
	"kinwain/web/page"
)

// byHand shows a frame with the add-ons that the address names, or with the
// best set where it names none yet.
func (s *server) byHand(w http.ResponseWriter, r *http.Request) error {
	c, err := s.whole(r)
	if err != nil {
		return err
	}
	chosen, err := s.chosen(r, c, match.Options{})
	if err != nil {
		return err
	}
	m := chosen.match
	if !chosen.byHand { // the same set, with what may be ticked
		if m, err = c.ByHand(r.Context(), m.Frame, c.profile, advice.OnBike(m)); err != nil {
			return err
		}
	}
	view := byHandView(c, m)
	view.Shell = s.steps(r, c, m.Frame.Name+", built by hand", "frame")
	return render(r.Context(), w, http.StatusOK, page.ByHandPage(view))
}

func byHandView(c *consultation, m *match.Match) page.ByHand {
	v := &frameViewer{c, m}
	action := c.address("/frames/" + m.Frame.Code + "/by-hand")
	view := page.ByHand{
		Name: m.Frame.Name, Back: c.address("/frames/" + m.Frame.Code), Action: action, Picks: v.picks(),
		Verdict: verdictView(m.Verdict), Line: line(c, m, false), Relaxed: v.relaxed(), Reasons: v.reasons(), Offers: v.offers(action),
		Total: v.money(m.Total), Sheets: v.sheets(), Passengers: len(c.profile.Passengers.Or(nil)) > 0,
	}
	view.Price, _ = v.price()
	return view
}

// picks lists every copy of every add-on that may be on the frame: those on
// the bike first, so that what is chosen is in sight.
func (v *frameViewer) picks() []page.Pick {
	var on, off []page.Pick
	for _, choice := range v.Choices {
		for k := range max(choice.Most, choice.Fitted) {
			pick := page.Pick{Code: choice.Code, Name: choice.Name.Name, On: k < choice.Fitted, Detail: v.pickDetail(choice, k)}
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

func (v *frameViewer) pickDetail(c fitting.Choice, copied int) string {
	weight := v.speaker.Mass(c.Weight, measure.Nearest)
	if copied < c.Delivered {
		return fmt.Sprintf("comes with the frame, %s; %s to take off", weight, v.money(c.Labour))
	}
	return fmt.Sprintf("%s, fitted %s", weight, v.money(c.Price+c.Labour))
}

// offers links to the same choice with what would meet each missing need.
func (v *frameViewer) offers(action string) []page.Offer {
	var offers []page.Offer
	seen := map[string]bool{}
	for _, misfit := range v.Misfits {
		for _, need := range misfit.Missing {
			if need.Code == "" || seen[need.Code] {
				continue
			}
			seen[need.Code] = true
			query := url.Values{"chosen": {"yes"}, "on": append(advice.OnBike(v.Match), need.Code)}
			offers = append(offers, page.Offer{Label: "Add the " + strings.ToLower(need.Name.Name), Href: action + "?" + query.Encode()})
		}
	}
	return offers
}

var objectiveNames = map[profile.Objective]string{profile.LeastCost: "Lowest cost", profile.Lightest: "Lightest", profile.Longest: "Lasts longest"}

// alternativesView puts the best build for each objective beside the one
// shown.
func alternativesView(c *consultation, shown *match.Match, list []*match.Match) []page.Alternative {
	var views []page.Alternative
	for i, m := range list {
		objective := profile.Objectives[i]
		v := &frameViewer{c, m}
		view := page.Alternative{Name: objectiveNames[objective], Shown: objective == c.profile.Goal(), Differences: v.differences(shown),
			Price: v.money(m.Build.Price + m.Build.Labour), Weight: m.Build.Weight.Show(c.system(), measure.Nearest), Until: "–"}
		switch h := m.Horizon; {
		case h == nil:
		case h.Ends:
			view.Until = "until " + monthName(h.Month)
		default:
			view.Until = "ten years and more"
		}
		views = append(views, view)
	}
	return views
}

// differences says in words what is on one bike and not on the other.
func (v *frameViewer) differences(shown *match.Match) []string {
	var words []string
	mine, theirs := advice.OnBike(v.Match), advice.OnBike(shown)
	for _, code := range missingFrom(mine, theirs) {
		words = append(words, "with: "+strings.ToLower(v.addOnName(code)))
	}
	for _, code := range missingFrom(theirs, mine) {
		words = append(words, "without: "+strings.ToLower(v.addOnName(code)))
	}
	return words
}

// missingFrom returns the codes of a that b has fewer of.
func missingFrom(a, b []string) []string {
	rest := slices.Clone(b)
	var missing []string
	for _, code := range a {
		if i := slices.Index(rest, code); i >= 0 {
			rest = slices.Delete(rest, i, i+1)
		} else {
			missing = append(missing, code)
		}
	}
	return missing
}
