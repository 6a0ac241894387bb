package takehome

import (
	"net/url"

	"kinwain/internal/match"
	"kinwain/internal/measure"
	"kinwain/internal/profile"
	"kinwain/internal/summary"
	"kinwain/web/form"
	"kinwain/web/kit"
	"kinwain/web/say"
	"kinwain/web/talk"
)

// page draws the page with an empty form.
func (v *livesViewer) page(back string) LivesPage {
	view := LivesPage{FitShell: fitShell(v.Speaker), Shop: v.Catalogue.Shop.Name, Name: v.Speaker.Told(v.Frame.Names.With(v.Frame.Name)), Back: back, BackTo: v.Say("Back to the bike"),
		Contact: v.contact(), Lives: v.form(back)}
	view.Title = v.Say("%v: weighed again", view.Name)
	view.Languages, view.Units = switchesTo(v.Speaker)
	view.Back += "?" + inTongue(v.Speaker)
	return view
}

// inTongue keeps the language and the units of a page on the next one.
func inTongue(s *say.Speaker) string {
	return url.Values{"lang": {string(s.Language)}, "units": {unitsOf[s.Units]}}.Encode()
}

// form draws the form before anything was typed, under the link of a summary.
func (v *livesViewer) form(link string) Lives {
	l := Lives{Action: link + livesAt + "?" + inTongue(v.Speaker), People: v.people(nil, nil), Failed: v.Say("There was no answer. What you typed is still here: press the button to try again.")}
	l.Hints = append(l.Hints, v.Say("Leave empty what nobody has read anew. Any unit will do; a figure alone is in %v.", v.System().MassUnit()+", "+v.Speaker.LengthUnit()))
	l.Hints = append(l.Hints, v.Say("Dressed to ride is with shoes, clothes, helmet, lock and bag; for riders who are not, so much is added."))
	if len(v.kept.Customer.Passengers.Or(nil)) > 0 {
		l.Hints = append(l.Hints, v.Say("Weigh children without shoes, coat and helmet: %v is added for what they wear.", talk.Down(v.Settings.Clothing)))
	}
	if v.kept.Hide {
		l.Hints = append(l.Hints, v.Say("What the riders weighed in the shop is left out here too: type what each of them weighs now to see what is to spare, and nothing is compared with before."))
	}
	l.Hints = append(l.Hints, v.Say("What you type is worked out and then forgotten. Nobody keeps it, and the shop does not get to see it."))
	return l
}

// people are those of whom something can be typed: all riders, and the
// passengers who are born.
func (v *livesViewer) people(posted url.Values, faults map[string]string) []Person {
	var list []Person
	field := func(name, label, unit string) kit.Field {
		return kit.Field{Name: name, Label: label, Unit: unit, Mode: "text", Value: posted.Get(name), Error: faults[name]}
	}
	weight, stature := v.Say("Weight"), say.Capital(v.Say(askedOf(form.At(form.Passengers, 0, statureField))))
	for i := range v.kept.Customer.Riders {
		r := &v.kept.Customer.Riders[i]
		list = append(list, Person{Name: say.Capital(v.Say("rider %v", r.Label)), Fields: []kit.Field{
			field(form.At(form.Riders, i, weightField), weight, v.System().MassUnit()), v.howField(form.At(form.Riders, i, weighedField), r, posted)}})
	}
	for i := range v.kept.Customer.Passengers.Or(nil) {
		c := &v.kept.Customer.Passengers.Or(nil)[i]
		if c.Expected(v.today) {
			continue
		}
		one := Person{Name: v.Speaker.Label(match.Label{Text: c.Label, Begins: true}), Fields: []kit.Field{field(form.At(form.Passengers, i, weightField), weight, v.System().MassUnit())}}
		if v.kept.TakesStature() {
			one.Fields = append(one.Fields, field(form.At(form.Passengers, i, statureField), stature, v.Speaker.LengthUnit()))
		}
		list = append(list, one)
	}
	return list
}

func askedOf(path string) string {
	q, _ := profile.Of(path) // of the table
	return q.Named.English
}

// howField asks how a rider was weighed: at first as before.
func (v *livesViewer) howField(name string, r *profile.Rider, posted url.Values) kit.Field {
	f := kit.Field{Name: name, Label: v.Say("How it was read"), Value: string(r.Weighed.Or(profile.Stated)), Options: []kit.Option{
		{Value: string(profile.Dressed), Label: v.Say("dressed to ride")},
		{Value: string(profile.Undressed), Label: v.Say("without shoes, helmet and bag (+ %v)", talk.Down(v.Settings.Allowances.Undressed))},
		{Value: string(profile.Stated), Label: v.Say("by heart (+ %v)", talk.Down(v.Settings.Allowances.Stated))},
	}}
	if how, is := posted[name]; is {
		f.Value = string(howWeighed(how[0]))
	}
	return f
}

// moved draws what comes of people as they are now. Adds tells whether
// everything can be added up: else only the places are judged.
func (v *livesViewer) moved(p *profile.Profile, now *match.Match, adds bool) *Moved {
	c := *v.Consultation
	c.Profile = p
	n := &livesViewer{fitViewer{talk.View(&c, now), v.kept, nil}, v.made, v.today}
	out := &Moved{NowHead: v.Say("With what you typed")}
	if !v.kept.Hide {
		out.WasHead = v.Say("Told on %v", v.made)
	}
	n.verdict(out, adds)
	v.findings(out, now)
	out.Seats, out.Rows = v.sitsElsewhere(n), v.rows(n, adds)
	if adds {
		rows, gap := v.stages(p)
		out.Rows, out.Gap = append(out.Rows, rows...), gap
	}
	return out
}

// stages put the months of each stage of the plan, as it was told, beside those
// for which it serves now, and say from when on none does. One stage alone is
// told with how long the bike lasts.
func (v *livesViewer) stages(p *profile.Profile) (rows []MovedRow, gap string) {
	told := v.Stages
	if told == nil || len(told.List) < 2 {
		return nil, ""
	}
	held, begins, until := v.kept.Shop.Still(v.Frame, p, told)
	for i, h := range held {
		now := v.Say("no longer serves")
		switch {
		case h.Serves():
			now = v.Say("%v to %v", h.From, h.To)
		case i < begins:
			now = v.Say("over")
		case until >= told.Until:
			now = v.Say("not needed")
		}
		was := ""
		if !v.kept.Hide {
			was = v.Say("%v to %v", told.List[i].From, told.List[i].To)
		}
		rows = append(rows, MovedRow{v.Say("Stage %v of the plan", i+1), was, now})
	}
	if until < told.Until && until >= v.today.InMonth() { // else the verdict says so
		gap = v.Say("From the beginning of %v on no stage of the plan carries everyone. Ask the shop in good time.", until+1)
	}
	return rows, gap
}

// verdict says whether the set-up still holds.
func (v *livesViewer) verdict(out *Moved, adds bool) {
	out.Verdict = kit.Verdict{Code: string(v.Verdict), Word: v.Say(stillWords[v.Verdict])}
	switch {
	case v.Verdict == match.DoesNotFit:
		out.Ask = v.Say("Ask the shop before anybody rides like this. No rating and no limit of a place may be passed.")
	case !adds:
		out.Verdict = kit.Verdict{Code: string(match.NotJudged), Word: v.Say("Not judged")}
		out.Line = v.Say("The places suit. Without what every rider weighs nothing can be added up.")
	case v.Verdict == match.NotJudged:
		out.Ask = v.Say("Ask the shop before you rely on this")
	case len(v.Sheets) > 1:
		out.Line = v.Say("Whoever rides: %v.", talk.Headline(v.Speaker, v.Match))
	case len(v.Sheets) == 1:
		out.Line = say.Capital(talk.Headline(v.Speaker, v.Match)) + "."
	}
}

// stillWords say a verdict of a set-up that fitted before.
var stillWords = map[match.Verdict]string{
	match.Fits: "This set-up still holds", match.FitsWithCare: "This set-up still holds, with care",
	match.NotJudged: "Not judged", match.DoesNotFit: "This set-up no longer holds",
}

// findings lists what is in the way now, and what asks for care as it did not
// before; where nothing is compared, all that does.
func (v *livesViewer) findings(out *Moved, now *match.Match) {
	then := v.Match
	if v.kept.Hide {
		then = &match.Match{}
	}
	for _, r := range summary.Graver(then, now) {
		one := talk.Reason{Weight: string(r.Weight), Word: v.Say(talk.WeightWords[r.Weight]), Text: v.Speaker.Message(r.Message)}
		if r.Weight == match.Stop {
			out.Stops = append(out.Stops, one)
		} else {
			out.Cares = append(out.Cares, one)
		}
	}
}

// sitsElsewhere are the seats of those who changed theirs.
func (v *livesViewer) sitsElsewhere(n *livesViewer) []talk.Seat {
	var moved []talk.Seat
	seats := n.SeatRows() // in the order of the match
	for i, s := range n.Seated {
		for _, e := range summary.Elsewhere(v.Match, n.Match) {
			if e.Passenger == s.Passenger {
				moved = append(moved, seats[i])
			}
		}
	}
	return moved
}

// rows put what was told beside what comes of the people as they are now.
func (v *livesViewer) rows(n *livesViewer, adds bool) []MovedRow {
	var rows []MovedRow
	add := func(label, was, now string) {
		if v.kept.Hide {
			was = ""
		}
		if now != "" {
			rows = append(rows, MovedRow{label, was, now})
		}
	}
	if adds {
		if len(n.Sheets) == 1 {
			add(v.Say("To spare"), say.Capital(talk.Headline(v.Speaker, v.Match)), say.Capital(talk.Headline(v.Speaker, n.Match)))
		}
		for i := range n.Sheets {
			if len(n.Sheets) > 1 {
				add(v.Say("Under rider %v", n.Sheets[i].Rider.Label), v.spareUnder(n.Sheets[i].Rider.Label), n.SpareWords(&n.Sheets[i]))
			}
		}
		was, _ := v.HorizonWords()
		now, cause := n.HorizonWords()
		if !n.Fits() {
			now, cause = "–", ""
		}
		add(v.Say("How long it lasts"), was, joined(now, cause))
		if n.Fits() {
			add(v.Say("As the children grow"), v.Between(), n.Between())
		}
	}
	notes := map[string]string{}
	for _, s := range v.SeatRows() {
		notes[s.Who] = s.Note
	}
	for _, s := range n.SeatRows() {
		if s.Note != notes[s.Who] { // whose is the same moves nothing
			add(s.Who, notes[s.Who], s.Note)
		}
	}
	return rows
}

func joined(text, more string) string {
	if more == "" {
		return text
	}
	return text + " " + more
}

// spareUnder says what was left under a rider.
func (v *livesViewer) spareUnder(rider string) string {
	for i := range v.Sheets {
		if v.Sheets[i].Rider.Label == rider {
			return v.SpareWords(&v.Sheets[i])
		}
	}
	return ""
}

// unitsOf are the systems of units as an address has them.
var unitsOf = [...]string{measure.Metric: metric, measure.Imperial: form.Imperial}
