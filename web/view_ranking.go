package web

import (
	"fmt"
	"math/big"
	"regexp"
	"slices"
	"strings"

	"kinwain/internal/catalog"
	"kinwain/internal/match"
	"kinwain/internal/measure"
	"kinwain/web/page"
	"kinwain/web/say"
)

var verdictWords = map[match.Verdict]string{
	match.Fits: "Fits", match.FitsWithCare: "Fits with care", match.NotJudged: "Not judged", match.DoesNotFit: "Does not fit",
}

func verdictView(v match.Verdict) page.Verdict {
	return page.Verdict{Code: string(v), Word: verdictWords[v]}
}

// waitingView says what is needed before frames can be ranked.
func waitingView(c *consultation) page.Ranking {
	r := page.Ranking{Summary: "Waiting for answers", Waiting: "One rider’s height and weight, and the first frames come up here."}
	wrong := 0
	for _, f := range c.faults {
		r.Faults = append(r.Faults, page.Fault{Field: f.Path, Href: c.address("#" + sectionOf(f.Path)), Label: questionName(c, f.Path), Text: f.Text})
		if c.form.Get(f.Path) != "" {
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

func rankingView(c *consultation, ranked []*match.Match) page.Ranking {
	var r page.Ranking
	count := map[match.Verdict]int{}
	common := commonCares(ranked)
	for _, text := range common {
		r.Common = append(r.Common, "For every frame: "+text.In(c.system()))
	}
	for _, m := range ranked {
		count[m.Verdict]++
		row := rankedView(c, m, len(common) > 0)
		if m.Verdict == match.DoesNotFit {
			r.Unfit = append(r.Unfit, row)
		} else {
			r.Fit = append(r.Fit, row)
		}
	}
	r.Summary = fmt.Sprintf("%d fit, %d with care, %d not", count[match.Fits], count[match.FitsWithCare], count[match.DoesNotFit])
	if n := count[match.NotJudged]; n > 0 {
		r.Summary += fmt.Sprintf(", %d not judged", n)
	}
	for _, path := range c.profile.OpenQuestions() {
		r.Open = append(r.Open, questionName(c, path))
	}
	return r
}

// ofPassengers are the cares that no frame changes.
var ofPassengers = []string{"not_sitting"}

// commonCares lists the cares that are the same whichever frame it is.
func commonCares(ranked []*match.Match) []match.Message {
	var common []match.Message
	if len(ranked) == 0 {
		return nil
	}
	for _, r := range ranked[0].Reasons {
		if r.Weight == match.Care && slices.Contains(ofPassengers, r.Code) {
			common = append(common, r.Message)
		}
	}
	return common
}

// ownCares lists the cares of the frame itself.
func ownCares(m *match.Match) []match.Reason {
	var own []match.Reason
	for _, r := range m.Reasons {
		if r.Weight == match.Care && !slices.Contains(ofPassengers, r.Code) {
			own = append(own, r)
		}
	}
	return own
}

// rankedView is one row of the ranking; said tells that the common cares are
// said once for all.
func rankedView(c *consultation, m *match.Match, said bool) page.Ranked {
	row := page.Ranked{
		Code: m.Frame.Code, Href: c.address("/frames/" + m.Frame.Code), Name: m.Frame.Name, Kind: frameKind(c.speaker, m.Frame),
		Verdict: verdictView(m.Verdict), Line: line(c, m, said), Price: m.Total.Show(c.catalogue.Shop.Currency),
	}
	if m.Frame.Size != "one size" {
		row.Size = m.Frame.Size
	}
	row.Ride, row.Stock = unitsOf(c.catalogue, m.Frame.Code)
	if m.Score != nil {
		row.Score, row.Points = m.Score.FloatString(1), pointsView(m)
	}
	if help, ok := m.Help(); ok {
		row.Change = help.In(c.system())
	}
	return row
}

// frameKind says what a frame is in a few words.
func frameKind(s *say.Speaker, f *catalog.Frame) string {
	var words []string
	for _, w := range [...]string{f.Type, f.Material, f.Size} {
		if w != "" && w != "other" {
			words = append(words, s.Word(w))
		}
	}
	if f.AssistWatts > 0 {
		words = append(words, s.Say("%v W assist", f.AssistWatts))
	}
	return strings.Join(words, ", ")
}

// line says in one line why a frame is where it is.
func line(c *consultation, m *match.Match, said bool) string {
	s := c.system()
	if !m.Fits() {
		text := firstSentence(m.Reasons[0].Message.In(s))
		if more := m.Count(match.Stop) - 1; more > 0 {
			text += fmt.Sprintf(" And %s more.", counted(more, "reason", "reasons"))
		}
		return text
	}
	text := carries(c, m)
	if m.Horizon.Ends {
		text += " until " + monthName(m.Horizon.Month)
	} else if len(m.Seated) > 0 {
		text += " for ten years and more"
	}
	text += "."
	cares := m.Reasons
	if said {
		cares = ownCares(m)
	}
	if len(cares) > 0 && cares[0].Weight == match.Care {
		text += " " + firstSentence(cares[0].Message.In(s))
	}
	return text
}

func carries(c *consultation, m *match.Match) string {
	if len(m.Sheets) == 0 {
		return "No rider is weighed yet"
	}
	spare := m.Sheets[0].Spare()
	for i := range m.Sheets {
		spare = min(spare, m.Sheets[i].Spare())
	}
	whom := "the rider"
	switch {
	case len(m.Sheets) > 1:
		whom = "everyone, whoever rides,"
	case len(m.Seated) == 1:
		whom = "both"
	case len(m.Seated) > 1:
		whom = "all " + numberWord(len(m.Seated)+1)
	}
	if c.profile.Pet.Or(0) > 0 {
		whom = strings.TrimSuffix(whom, ",") + " and the pet"
	} else if len(m.Build.Cargo) > 0 && len(m.Seated) == 0 {
		whom = strings.TrimSuffix(whom, ",") + " and the load"
	}
	return fmt.Sprintf("Carries %s with %s to spare", whom, spare.Show(c.system(), measure.Down))
}

func numberWord(n int) string {
	words := [...]string{"none", "one", "two", "three", "four", "five", "six", "seven", "eight", "nine"}
	if n < len(words) {
		return words[n]
	}
	return fmt.Sprint(n)
}

func monthName(m measure.Month) string { return fmt.Sprintf("%v %d", m.Month(), m.Year()) }

// firstSentence keeps a line short; the page of the frame has the rest.
func firstSentence(s string) string {
	if at := strings.Index(s, ". "); at >= 0 {
		return s[:at+1]
	}
	return s
}

// unitsOf says which demo can be ridden and what can be taken home today.
func unitsOf(c *catalog.Catalogue, frame string) (ride, stock string) {
	var demos []string
	inStock := 0
	for _, u := range c.Units {
		switch {
		case u.Frame != frame || u.Status != "available":
		case u.Kind == "demo":
			demos = append(demos, u.Tag)
		default:
			inStock++
		}
	}
	if len(demos) > 0 {
		ride = "Ride it now: " + strings.Join(demos, ", ")
	}
	if inStock > 0 {
		stock = fmt.Sprintf("%d in stock", inStock)
	}
	return ride, stock
}

var criterionNames = map[string]string{
	match.LoadHeadroom: "Room under the gross rating", match.CarryShare: "Load for the rider’s weight", match.HorizonShare: "How long it lasts",
	match.RiderHeight: "Rider’s height", match.StorageSlack: "Room at home", match.Price: "Price", match.HandlingMass: "Lifting and pushing",
}

func pointsView(m *match.Match) []page.Points {
	var list []page.Points
	weights := match.Weights(m.Criteria)
	for _, c := range m.Criteria {
		list = append(list, page.Points{
			Name: criterionNames[c.Code], Value: new(big.Rat).Mul(c.Value, big.NewRat(100, 1)).FloatString(0) + "\u00a0%",
			Points: c.Points(weights).FloatString(1), Most: big.NewRat(100*c.Weight, max(weights, 1)).FloatString(1),
		})
	}
	return list
}

var listPath = regexp.MustCompile(`^([a-z.]+)\[([0-9]+)\](?:\.([a-z_]+))?$`)

var fieldNames = map[string]string{
	"riders": "who rides", "passengers": "who comes along", "pet_kg": "the pet’s weight", "cargo_kg": "the cargo’s weight", "cargo_litres": "the cargo’s bulk",
	"home": "where it will sleep", "home.length_cm": "the length of its place", "home.width_cm": "the width of its place",
	"home.height_cm": "the height of its place", "home.clearance_cm": "what to keep free", "home.must_stand_upright": "whether it must stand upright",
	"home.doorways": "the doorways", "home.corners": "the corners", "home.lift": "the lift", "home.lift.length_cm": "the lift’s length",
	"home.lift.width_cm": "the lift’s width", "home.lift.height_cm": "the lift’s height", "home.lift.door_cm": "the lift’s door", "home.steps": "the steps",
	"budget_cents": "the budget", "budget_firm": "whether the budget is firm", "years": "how many years", "hill_percent": "the hill", "objective": "what add-ons are chosen for",
	"height_cm": "height", "weight_kg": "weight", "weighed": "how the weight is known", "inseam_cm": "inseam", "grip": "grip", "label": "name",
	"born": "birth month", "sex": "growth reference", "stature_cm": "height", "sits_unaided": "sitting unaided", "joins": "when to join",
	"leaves_at_years": "when to ride alone", "width_cm": "width", "in_cm": "corridor before", "out_cm": "corridor after",
}

// questionName says in words which question a path of the profile is.
func questionName(c *consultation, path string) string {
	m := listPath.FindStringSubmatch(path)
	if m == nil {
		if name, ok := fieldNames[path]; ok {
			return name
		}
		return path
	}
	list, row, field := m[1], m[2], fieldNames[m[3]]
	label := c.form.Get(list + "[" + row + "].label")
	switch list {
	case "riders":
		label = "rider " + label
	case "home.doorways", "home.corners":
		var n int
		if _, err := fmt.Sscan(row, &n); err == nil {
			label = fmt.Sprintf("%s %d", strings.TrimSuffix(strings.TrimPrefix(list, "home."), "s"), n+1)
		}
	}
	return strings.TrimSpace(label + ": " + field)
}
