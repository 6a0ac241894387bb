package web

import (
	"cmp"
	"context"
	"slices"
	"strconv"
	"strings"
	"time"

	"kinwain/internal/catalog"
	"kinwain/internal/match"
	"kinwain/internal/measure"
	"kinwain/web/page"
)

// fitViewer makes the view of a fit summary.
type fitViewer struct {
	*frameViewer
	kept *kept
}

// fitView draws the snapshot; the shop of today tells only what has changed.
func fitView(ctx context.Context, c *consultation, k *kept, today *catalog.Catalogue, settings match.Settings) (page.Fit, error) {
	m, err := k.judge(ctx)
	if err != nil {
		return page.Fit{}, err
	}
	v := &fitViewer{&frameViewer{c, m}, k}
	since, err := v.since(ctx, today, settings)
	if err != nil {
		return page.Fit{}, err
	}
	view := page.Fit{
		Name: m.Frame.Name, Kind: frameKind(c.speaker, m.Frame), Shop: c.catalogue.Shop.Name, Since: since,
		Verdict: page.Verdict{Code: string(m.Verdict), Word: v.say(verdictWords[m.Verdict])}, Line: v.line(), Relaxed: v.relaxed(),
		Sheets: v.sheets(), Seats: v.seats(), AddOns: v.addOns(), Reasons: v.reasons(), Again: v.again(), Total: v.money(m.Total), Hide: k.Hide, Contact: v.contact(),
	}
	if help, ok := m.Help(); ok {
		view.Change = v.speaker.Message(help)
	}
	view.Horizon, view.Cause = v.horizon()
	view.HomeSum, view.Home = v.home()
	view.Price, view.Tax = v.price()
	return view, nil
}

// line says the answer in one line.
func (v *fitViewer) line() string {
	if v.Verdict == match.DoesNotFit {
		return v.say("As it stands, this bike does not fit. The reasons are below.")
	}
	if v.Verdict == match.NotJudged {
		return v.say("This bike is not judged. The reason is below.")
	}
	if len(v.Sheets) == 0 {
		return v.say("No rider is weighed yet, so nothing can be added up.")
	}
	spare := v.Sheets[0].Spare()
	for i := range v.Sheets {
		spare = min(spare, v.Sheets[i].Spare())
	}
	if len(v.Sheets) > 1 {
		return v.say("%v to spare under the gross rating, whoever rides.", down(spare))
	}
	return v.say("%v to spare under the gross rating.", down(spare))
}

// sheets are the load sheets. Where riders' weights are left out, so is every
// sum that would tell them by subtraction: what is spare stays, and a bar of
// one piece.
func (v *fitViewer) sheets() []page.Sheet {
	if !v.kept.Hide {
		return v.frameViewer.sheets()
	}
	var sheets []page.Sheet
	for i := range v.Sheets {
		sh := &v.Sheets[i]
		view := page.Sheet{Title: v.say("Under rider %v", sh.Rider.Label), Verdict: v.spare(sh), Over: sh.Spare() < 0, Line: v.say("The line is the gross rating.")}
		view.Bar = barOf([]mass{{v.say("Everything together"), "rider", sh.Total}}, []string{view.Verdict}, sh.Rating, view.Verdict)
		sheets = append(sheets, view)
	}
	return sheets
}

func (v *fitViewer) seats() []page.Seat {
	seats := v.frameViewer.seats()
	for i := range seats {
		if v.kept.Hide {
			seats[i].Note = ""
		}
	}
	return seats
}

// withoutFigures says, for reasons from which a rider's weight could be worked
// out, the same without.
var withoutFigures = map[string]string{
	"carry_guideline":  "Rider %v would carry more than the usual guideline for their own weight. Practise unloaded, then load up bit by bit.",
	"rider_weight":     "Rider %v is over the maker's limit for a rider.",
	"gross_rating":     "Everything together is over the gross rating, even with the lightest add-ons.",
	"axle_rating":      "The rating of an axle is exceeded.",
	"steps":            "Several steps with a heavy bike. Try lifting it before you decide.",
	"weight_estimated": "%v is not weighed and counts with an estimate. Weigh before buying.",
}

func (v *fitViewer) reason(r *match.Reason) string {
	key, tells := withoutFigures[r.Code]
	switch {
	case !v.kept.Hide || !tells || r.Code == "weight_estimated" && r.Rider != "": // the allowance tells nothing
		return v.speaker.Message(r.Message)
	case !strings.Contains(key, "%v"):
		return v.say(key)
	case r.Rider != "":
		return v.say(key, r.Rider)
	}
	return v.say(key, match.Label{Text: r.Passenger, Begins: true})
}

// estimates are the reasons that are mended by weighing.
var estimates = []string{"weight_estimated", "beyond_reference"}

func (v *fitViewer) reasons() []page.Reason {
	var reasons []page.Reason
	for i := range v.Reasons {
		if r := &v.Reasons[i]; !slices.Contains(estimates, r.Code) {
			reasons = append(reasons, page.Reason{Weight: string(r.Weight), Word: v.say(weightWords[r.Weight]), Text: v.reason(r)})
		}
	}
	return reasons
}

// again lists what to weigh, to measure and to find out.
func (v *fitViewer) again() []string {
	var list []string
	for i := range v.Reasons {
		if r := &v.Reasons[i]; slices.Contains(estimates, r.Code) {
			list = append(list, v.reason(r))
		}
	}
	for _, path := range v.Open {
		list = append(list, v.say("Not known yet: %v.", v.question(path)))
	}
	return list
}

// question says which question a path of the profile is.
func (v *fitViewer) question(path string) string {
	m := listPath.FindStringSubmatch(path)
	if m == nil {
		return v.say(cmp.Or(fieldNames[path], path))
	}
	row, err := strconv.Atoi(m[2])
	if err != nil {
		return path
	}
	field := v.say(fieldNames[m[3]])
	switch m[1] {
	case "riders":
		return v.say("%v: %v", v.say("rider %v", v.profile.Riders[row].Label), field)
	case "passengers":
		return v.say("%v: %v", match.Label{Text: v.profile.Passengers.Or(nil)[row].Label}, field)
	case "home.doorways":
		return v.say("%v: %v", v.say("doorway %v", row+1), field)
	}
	return v.say("%v: %v", v.say("corner %v", row+1), field)
}

// Names of the shop's texts.
const (
	contactName    = "contact_name"
	contactAddress = "contact_address"
	contactPhone   = "contact_phone"
	contactEmail   = "contact_email"
	contactHours   = "contact_hours"
)

func (v *fitViewer) contact() []page.Contact {
	var lines []page.Contact
	for _, c := range [...]struct{ name, label, scheme string }{
		{contactName, "", ""}, {contactAddress, "", ""}, {contactPhone, "Phone", "tel:"}, {contactEmail, "E-mail", "mailto:"}, {contactHours, "Open", ""},
	} {
		text := strings.TrimSpace(v.kept.Contact[c.name])
		if text == "" {
			continue
		}
		line := page.Contact{Text: text}
		if c.label != "" {
			line.Label = v.say("%v:", v.say(c.label))
		}
		if c.scheme != "" {
			line.Href = c.scheme + strings.ReplaceAll(text, " ", "")
		}
		lines = append(lines, line)
	}
	return lines
}

// dates say when a summary was made and how long its link opens it.
func (v *consultation) dates(created, expires time.Time) (made, until string) {
	return v.say("Made on %v.", measure.DateOf(created)), v.say("This link opens until %v.", measure.DateOf(expires))
}
