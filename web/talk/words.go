package talk

import (
	"fmt"
	"regexp"
	"slices"
	"strings"

	"kinwain/internal/catalog"
	"kinwain/internal/match"
	"kinwain/internal/measure"
	"kinwain/internal/profile"
	"kinwain/internal/summary"
	"kinwain/web/kit"
	"kinwain/web/say"
)

// VerdictWords say a verdict.
var VerdictWords = map[match.Verdict]string{
	match.Fits: "Fits", match.FitsWithCare: "Fits with care", match.NotJudged: "Not judged", match.DoesNotFit: "Does not fit",
}

// VerdictView is a verdict in a word and a shape.
func VerdictView(v match.Verdict) kit.Verdict {
	return kit.Verdict{Code: string(v), Word: VerdictWords[v]}
}

// CommonCares lists the cares that all frames that fit share word for word, so
// that they may be said once for all: what no frame changes.
func (c *Consultation) CommonCares(ranked []*match.Match) []match.Reason {
	var common []match.Reason
	fit := 0
	for _, m := range ranked {
		if !m.Fits() {
			continue
		}
		if fit++; fit == 1 {
			common = cares(c.Named(m))
			continue
		}
		common = slices.DeleteFunc(common, func(r match.Reason) bool { return !says(m.Reasons, r) })
	}
	if fit < 2 {
		return nil
	}
	return common
}

func cares(reasons []match.Reason) []match.Reason {
	var found []match.Reason
	for _, r := range reasons {
		if r.Weight == match.Care {
			found = append(found, r)
		}
	}
	return found
}

// says reports whether one of the reasons is a care of the same words.
func says(reasons []match.Reason, care match.Reason) bool {
	return slices.ContainsFunc(reasons, func(r match.Reason) bool {
		return r.Code == care.Code && r.Weight == match.Care && r.Message.In(measure.Metric) == care.Message.In(measure.Metric)
	})
}

// Named are the reasons that a page may name: where nobody is to see what a
// rider weighs, not those that tell it, and of what is too much for a rider or
// under one not how much.
func (c *Consultation) Named(m *match.Match) []match.Reason {
	if !c.Form.HidesWeights() {
		return m.Reasons
	}
	named, _ := summary.Discreet(m)
	for i := range named {
		if r := &named[i]; r.Code == match.ReasonRiderWeight || r.Code == match.ReasonFrontLight {
			r.Message = match.Message{Format: Discreetly[r.Code], Args: []any{r.Rider}}
		}
	}
	return named
}

// Hides reports whether a page may not say what a limit bears, as it would tell
// what a rider weighs.
func (c *Consultation) Hides(l match.Limit) bool { return c.Form.HidesWeights() && summary.OfRider(l) }

// Discreetly says, for reasons whose figures tell what a rider weighs or
// complete a sum with it, the same without.
var Discreetly = map[match.Code]string{
	match.ReasonRiderWeight:     "Rider %v is over the maker's limit for a rider.",
	match.ReasonGrossRating:     "Everything together is over the gross rating, even with the lightest add-ons.",
	match.ReasonAxleRating:      "The rating of an axle is exceeded.",
	match.ReasonFrontLight:      "Under rider %v the front wheel lifts. Load further forward, or less behind.",
	match.ReasonStandRating:     "The loaded bike is more than its stand bears. Hold the bike while anybody gets on or off.",
	match.ReasonSteps:           "Several steps with a heavy bike. Try lifting it before you decide.",
	match.ReasonWeightEstimated: "%v is not weighed and counts with an estimate. Weigh before buying.",
}

// discreetlyExpected says the same of a child who is not born yet.
const discreetlyExpected = "%v is not born yet and counts with what the growth reference expects. Weigh the child before its first ride."

// Vaguer returns the sentence of Discreetly for a reason, if it has one.
func Vaguer(r *match.Reason) (key string, has bool) {
	if r.ToBeBorn() {
		return discreetlyExpected, true
	}
	key, has = Discreetly[r.Code]
	return key, has
}

// FrameKind says what a frame is in a few words.
func FrameKind(s *say.Speaker, f *catalog.Frame) string {
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

// Line says in one line why a frame is where it is: what it carries, its first
// limit, and what decides of its cares but for those that are said for all.
func Line(c *Consultation, m *match.Match, common []match.Reason) string {
	if !m.Fits() {
		text := firstSentence(c.Speaker.Message(c.Named(m)[0].Message))
		if more := m.Count(match.Stop) - 1; more > 0 {
			text += fmt.Sprintf(" And %s.", say.Counted(more, "more reason", "more reasons"))
		}
		return text
	}
	text := carries(c, m)
	until, short := lasts(c, m)
	text += until
	if headline := Headline(c.Speaker, m); headline != "" {
		text += " with " + headline
	}
	own := slices.DeleteFunc(cares(c.Named(m)), func(r match.Reason) bool { return says(common, r) || inLine(m, &r) })
	return text + "." + short + careWords(c, own)
}

// inLine reports whether the line of a frame says a reason before its cares:
// until when it lasts, and by how much its stand bears too little.
func inLine(m *match.Match, r *match.Reason) bool {
	first, ok := m.First()
	return r.Code == match.ReasonOutgrownSoon && m.Horizon != nil && m.Horizon.Ends ||
		r.Code == match.ReasonStandRating && ok && len(m.Sheets) > 0 && first.Rating == "stand" && first.Spare < 0
}

// careWords says the first care, and what money has to do with it, in full, and
// names what else needs attention.
func careWords(c *Consultation, own []match.Reason) string {
	var text string
	var also []string
	for i, r := range own {
		if i == 0 || r.Code == match.ReasonBudget {
			text += " " + firstSentence(c.Speaker.Message(r.Message))
		} else if short := match.Short(r.Code).English; !slices.Contains(also, short) {
			also = append(also, short)
		}
	}
	if len(also) > 0 {
		text += " Also: " + strings.Join(also, ", ") + "."
	}
	return text
}

// lasts says until when a build carries everyone, and, where that is short of
// the years asked for, in a sentence of its own how far it falls short and what
// lasting longer costs.
func lasts(c *Consultation, m *match.Match) (until, short string) {
	h := m.Horizon
	switch {
	case h == nil: // an age is not known, which a care tells of
		return " today", ""
	case !h.Ends && len(m.Seated) > 0:
		return " for ten years and more", ""
	case !h.Ends:
		return "", ""
	}
	until = "until " + MonthName(h.Month)
	asked := 12 * c.Profile.Years.Or(0)
	switch {
	case h.Months >= asked && h.Months == 0:
		return " for less than a month", ""
	case h.Months >= asked:
		return " " + until, ""
	}
	short = fmt.Sprintf(" Lasts %s, %d of the %d months asked for", until, h.Months, asked)
	if h.Months == 0 {
		short = fmt.Sprintf(" Lasts less than one of the %d months asked for", asked)
	}
	if l := m.Longer; l != nil {
		cost, longer := "no more", "ten years and more"
		if l.More > 0 {
			cost = c.Speaker.Money(l.More, c.Catalogue.Shop.Currency) + " more"
		}
		if l.Horizon.Ends {
			longer = "until " + MonthName(l.Horizon.Month)
		}
		short += " (" + cost + ": " + longer + ")"
	}
	return "", short + "."
}

func carries(c *Consultation, m *match.Match) string {
	if len(m.Sheets) == 0 {
		return "No rider is weighed yet"
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
	if c.Profile.Pet.Or(0) > 0 {
		whom = strings.TrimSuffix(whom, ",") + " and the pet"
	} else if len(m.Build.Cargo) > 0 && len(m.Seated) == 0 {
		whom = strings.TrimSuffix(whom, ",") + " and the load"
	}
	return "Carries " + whom
}

func numberWord(n int) string {
	words := [...]string{"none", "one", "two", "three", "four", "five", "six", "seven", "eight", "nine"}
	if n < len(words) {
		return words[n]
	}
	return fmt.Sprint(n)
}

// Opened says how often a page that was sent home was opened.
func Opened(s *say.Speaker, times int) string {
	switch times {
	case 0:
		return s.Say("not opened yet")
	case 1:
		return s.Say("opened once")
	case 2:
		return s.Say("opened twice")
	}
	return s.Say("opened %v times", times)
}

// MonthName writes a month in English.
func MonthName(m measure.Month) string { return fmt.Sprintf("%v %d", m.Month(), m.Year()) }

// firstSentence keeps a line short; the page of the frame has the rest.
func firstSentence(s string) string {
	if at := strings.Index(s, ". "); at >= 0 {
		return s[:at+1]
	}
	return s
}

// ListPath is the path of a field in a list: the list, the row and the field.
var ListPath = regexp.MustCompile(`^([a-z.]+)\[([0-9]+)\](?:\.([a-z_]+))?$`)

// Asked names what a path of the profile asks, such as the height of
// riders[0].height_cm.
func Asked(path string) string {
	q, ok := profile.Of(path)
	if !ok {
		return path
	}
	return q.Named.English
}
