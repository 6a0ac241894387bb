package takehome

import (
	"cmp"
	"context"
	"slices"
	"strings"
	"time"

	"kinwain/internal/advice"
	"kinwain/internal/concern"
	"kinwain/internal/match"
	"kinwain/internal/measure"
	"kinwain/internal/summary"
	"kinwain/web/kit"
	"kinwain/web/say"
	"kinwain/web/talk"
)

// fitViewer makes the view of a fit summary.
type fitViewer struct {
	*talk.Viewer
	kept  *summary.Kept
	least *measure.Mass // what is said to be spare where the riders' weights are left out
}

// fitView draws what was told; the shop of today tells only what has changed.
func fitView(ctx context.Context, c *talk.Consultation, k *summary.Kept, told *summary.Answer, today *advice.Shop) (Fit, error) {
	m := told.Match
	if k.Hide {
		plain := *told
		plain.Why = withoutShares(told.Why)
		told = &plain
	}
	v := &fitViewer{talk.Told(c, told), k, told.Least}
	changed, err := concern.SinceThen(ctx, k, told.Plain, today)
	if err != nil {
		return Fit{}, err
	}
	view := Fit{
		Name: c.Speaker.Frame(m.Frame), Kind: talk.FrameKind(c.Speaker, m.Frame), Shop: c.Catalogue.Shop.Name, Since: v.since(changed, today),
		Verdict: kit.Verdict{Code: string(m.Verdict), Word: v.Say(talk.VerdictWords[m.Verdict])}, Line: v.line(), Relaxed: v.RelaxedWords(),
		Sheets: v.sheets(), Seats: v.seats(), AddOns: v.AddOnRows(), Reasons: v.reasons(), Again: v.again(), Total: v.Money(m.Total), Hide: k.Hide, Contact: v.contact(),
	}
	if help, ok := m.Help(); ok && !(k.Hide && summary.ChangeTellsWeight(m)) {
		view.Change = v.Speaker.Message(help)
	}
	if changed.Matters() {
		view.Ask = v.Say("Ask the shop before you rely on this")
	}
	view.SheetHead, view.AddHead, view.PriceHead = v.SheetHeading("What it carries"), v.Heading("What is added, and why"), v.Heading("What it costs")
	view.Nothing, view.Side = v.NothingWords(), v.Side(k.Hide)
	view.Empty = len(m.Sheets) == 0
	if k.Hide && told.Least != nil {
		view.Steps = v.Say("What is to spare is rounded down to whole steps of %v.", talk.Down(summary.Step))
	}
	if k.Notes {
		view.Notes, view.Links = c.Speaker.Told(m.Frame.NotesIn.With(m.Frame.Notes)), v.Links()
	}
	view.Horizon, view.Cause = v.horizon()
	view.Ahead, view.Plan = v.Ahead(false), v.Plan(k.Instead())
	view.HomeSum, view.Home = v.HomeRows()
	view.HomeDrawn = v.HomeDrawings()
	view.Price, view.Tax = v.PriceRows()
	return view, nil
}

// line says the answer in one line.
func (v *fitViewer) line() string {
	if v.Verdict == match.DoesNotFit {
		return v.Say("As it stands, this bike does not fit. The reasons are below.")
	}
	if v.Verdict == match.NotJudged {
		return v.Say("This bike is not judged. The reason is below.")
	}
	if len(v.Sheets) == 0 {
		return v.Say("No rider is weighed yet, so nothing can be added up.")
	}
	headline := talk.Headline(v.Speaker, v.Match)
	if v.kept.Hide {
		headline = v.discreetHeadline()
	}
	if len(v.Sheets) > 1 {
		return v.Say("Whoever rides: %v.", headline)
	}
	return say.Capital(headline) + "."
}

// sheets are the load sheets, unless the riders' weights are left out: then
// there are none, as no sum, bar or row is without them.
func (v *fitViewer) sheets() []kit.Sheet {
	if v.kept.Hide {
		return nil
	}
	return v.LoadSheets()
}

func (v *fitViewer) seats() []talk.Seat {
	seats := v.Viewer.SeatRows()
	for i := range seats {
		if v.kept.Hide {
			seats[i].Note = ""
		}
	}
	return seats
}

// estimates are the reasons that are mended by weighing.
var estimates = []match.Code{match.ReasonWeightEstimated, match.ReasonBeyondReference}

func (v *fitViewer) reasons() []talk.Reason {
	named, vague := v.Reasons, false
	if v.kept.Hide {
		named, vague = summary.Discreet(v.Match)
	}
	var reasons []talk.Reason
	add := func(weight match.Weight, text string) {
		reasons = append(reasons, talk.Reason{Weight: string(weight), Word: v.Say(talk.WeightWords[weight]), Text: text})
	}
	for i := range named {
		r := &named[i]
		if vague && r.Weight == match.Note {
			add(match.Care, v.Say(vaguely))
			vague = false
		}
		if !slices.Contains(estimates, r.Code) {
			add(r.Weight, v.reason(v.Match, r))
		}
	}
	if vague {
		add(match.Care, v.Say(vaguely))
	}
	return reasons
}

// again lists what to weigh, to measure and to find out.
func (v *fitViewer) again() []string {
	var list []string
	for i := range v.Reasons {
		if r := &v.Reasons[i]; slices.Contains(estimates, r.Code) {
			list = append(list, v.reason(v.Match, r))
		}
	}
	for _, path := range v.Open {
		list = append(list, v.Say("Not known yet: %v.", talk.Question(v.Consultation, path)))
	}
	return list
}

func (v *fitViewer) contact() []Contact {
	var lines []Contact
	for _, c := range [...]struct{ name, label, scheme string }{
		{kit.ContactName, "", ""}, {kit.ContactAddress, "", ""}, {kit.ContactPhone, "Phone", "tel:"}, {kit.ContactEmail, "E-mail", "mailto:"}, {kit.ContactHours, "Open", ""},
	} {
		text := strings.TrimSpace(cmp.Or(v.kept.Contact[kit.TextIn(c.name, string(v.Speaker.Language))], v.kept.Contact[c.name]))
		if text == "" {
			continue
		}
		line := Contact{Text: text}
		if c.label != "" {
			line.Label = v.Say("%v:", v.Say(c.label))
		}
		if c.scheme != "" {
			line.Href = c.scheme + strings.ReplaceAll(text, " ", "")
		}
		lines = append(lines, line)
	}
	return lines
}

// dates say when a summary was made and how long its link opens it.
func dates(v *talk.Consultation, created, expires time.Time) (made, until string) {
	return v.Say("Made on %v.", measure.DateOf(created)), v.Say("This link opens until %v.", measure.DateOf(expires))
}
