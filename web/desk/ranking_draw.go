package desk

import (
	"fmt"
	"math/big"
	"net/url"
	"slices"

	"kinwain/internal/figures"
	"kinwain/internal/match"
	"kinwain/internal/profile"
	"kinwain/web/form"
	"kinwain/web/kit"
	"kinwain/web/talk"
)

// waitingView says what is needed before frames can be ranked.
func waitingView(c *talk.Consultation) Ranking {
	r := Ranking{Summary: "Waiting for answers", Waiting: "One rider’s height and weight, and the first frames come up here."}
	r.Faults = faultsView(c)
	wrong := 0
	for _, f := range c.Faults {
		if c.Form.Get(f.Path) != "" {
			wrong++
		}
	}
	switch {
	case wrong == 1:
		r.Waiting = "One answer cannot be right yet. Mend it, and the frames come up here."
	case wrong > 1:
		r.Waiting = fmt.Sprintf("%d answers cannot be right yet. Mend them, and the frames come up here.", wrong)
	}
	return r
}

// faultsView says which answers cannot be right.
func faultsView(c *talk.Consultation) []Fault {
	var list []Fault
	for _, f := range c.Faults {
		list = append(list, Fault{Field: f.Path, Href: c.Address("#" + sectionOf(f.Path)), Label: questionName(c, f.Path), Text: f.Text})
	}
	return list
}

// rankingView draws the part of a ranking that is shown; what is said of all
// is said of all that are ranked.
func rankingView(c *talk.Consultation, ranked []*match.Match, s shown) Ranking {
	r := Ranking{Frames: c.Address("/frames"), Family: s.family, Faults: faultsView(c)}
	count := map[match.Verdict]int{}
	common := c.CommonCares(ranked)
	for _, care := range common {
		r.Common = append(r.Common, commonView(c, care))
	}
	for _, m := range ranked {
		count[m.Verdict]++
	}
	for _, m := range s.fit {
		r.Fit = append(r.Fit, rankedView(c, m, common))
	}
	for _, m := range s.unfit {
		row := rankedView(c, m, common)
		if row.Others = s.others[m.Frame.Code]; row.Others > 0 {
			row.Family = familyOf(m)
			row.OfFamily = r.Frames + "?" + url.Values{"family": {row.Family}}.Encode()
		}
		r.Unfit = append(r.Unfit, row)
	}
	r.toOneScale()
	r.MoreFit = moreOf("fit", s.part.fit, len(s.fit), s.allFit)
	r.MoreUnfit = moreOf("unfit", s.part.unfit, len(s.unfit), s.allUnfit)
	r.NotFit = s.notFit
	r.Summary = fmt.Sprintf("%d fit, %d with care, %d not", count[match.Fits], count[match.FitsWithCare], count[match.DoesNotFit])
	if n := count[match.NotJudged]; n > 0 {
		r.Summary += fmt.Sprintf(", %d not judged", n)
	}
	for _, path := range c.Profile.OpenQuestions() {
		if !slices.ContainsFunc(r.Common, func(asked Common) bool { return asked.Path == path }) {
			r.Open = append(r.Open, questionName(c, path))
		}
	}
	return r
}

// unhelped says of frames that do not fit why no change that would help stands
// there, where that is not said yet: there is none, or it is still looked for. What
// comes takes its place.
func (r *Ranking) unhelped(settled bool) {
	why := "Looking for one change that makes it fit …"
	if settled {
		why = "No single change makes it fit."
	}
	for i := range r.Unfit {
		if r.Unfit[i].Change == "" && r.Unfit[i].Unhelped == "" {
			r.Unfit[i].Unhelped = why
		}
	}
}

// toOneScale lets the bikes in the rows be compared by their size.
func (r *Ranking) toOneScale() {
	var drawn []*kit.Drawing
	for _, rows := range [...][]Ranked{r.Fit, r.Unfit} {
		for i := range rows {
			drawn = append(drawn, &rows[i].Glance)
		}
	}
	kit.AtOneScale(drawn...)
}

// commonView is what is said of all frames, with its field where it is an
// answer that is open.
func commonView(c *talk.Consultation, care match.Reason) Common {
	view := Common{Text: c.Speaker.Message(care.Message)}
	if care.Code != match.ReasonNotSitting {
		return view
	}
	for i, p := range c.Profile.Passengers.Or(nil) {
		path := form.At(form.Passengers, i, "sits_unaided")
		if p.Label == care.Passenger && slices.Contains(c.Profile.OpenQuestions(), path) {
			q, _ := profile.Of(path)
			view = Common{Text: c.Say(q.Asked.English, match.Label{Text: p.Label}), Path: path, Save: c.Address("/answers?page=%2Fframes")}
		}
	}
	return view
}

// grouped puts rows of one verdict together.
func grouped(rows []Ranked) [][]Ranked {
	var groups [][]Ranked
	for i, row := range rows {
		if i == 0 || rows[i-1].Verdict != row.Verdict {
			groups = append(groups, nil)
		}
		groups[len(groups)-1] = append(groups[len(groups)-1], row)
	}
	return groups
}

// rankedView is one row of the ranking, without the cares that are said once
// for all.
func rankedView(c *talk.Consultation, m *match.Match, common []match.Reason) Ranked {
	row := Ranked{
		Code: m.Frame.Code, Href: c.Address("/frames/" + m.Frame.Code), Name: m.Frame.Called(), Kind: talk.FrameKind(c.Speaker, m.Frame),
		Verdict: talk.VerdictView(m.Verdict), Line: talk.Line(c, m, common), Price: c.Speaker.Money(m.Total, c.Catalogue.Shop.Currency),
	}
	row.Ride, row.Stock = unitsOf(c.Catalogue, m.Frame.Code)
	row.Glance = talk.View(c, m).Glance()
	row.Score, row.Points = scoreView(c, m)
	if help, ok := m.Help(); ok && m.Change != nil {
		row.Change = c.Speaker.Message(help)
	} else if ok {
		row.Unhelped = c.Speaker.Message(help)
	}
	return row
}

// scoreView is the score with what it is made of; nothing where nobody is to see
// what a rider weighs, as some of that is a share of it.
func scoreView(c *talk.Consultation, m *match.Match) (score string, points []Points) {
	if m.Score == nil || c.Form.HidesWeights() {
		return "", nil
	}
	return m.Score.FloatString(1), pointsView(m)
}

func pointsView(m *match.Match) []Points {
	var list []Points
	weights := match.Weights(m.Criteria)
	for _, c := range m.Criteria {
		list = append(list, Points{
			Name: figures.CriterionNames[c.Code], Value: new(big.Rat).Mul(c.Value, big.NewRat(100, 1)).FloatString(0) + "\u00a0%",
			Points: c.Points(weights).FloatString(1), Most: big.NewRat(100*c.Weight, max(weights, 1)).FloatString(1),
		})
	}
	return list
}
