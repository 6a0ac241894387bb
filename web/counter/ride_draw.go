package counter

import (
	"fmt"
	"net/url"
	"slices"
	"strings"
	"time"

	"kinwain/internal/advice"
	"kinwain/internal/catalog"
	"kinwain/internal/fitting"
	"kinwain/internal/match"
	"kinwain/internal/measure"
	"kinwain/internal/store"
	"kinwain/web/kit"
	"kinwain/web/say"
	"kinwain/web/talk"
)

// rideChecks is what is gone through before a ride. Common practice, no
// published source; the maker's manual comes first.
var rideChecks = []struct{ code, label, hint string }{
	{"helmet", "Helmet on every head", "Straps closed, no hood under it."},
	{"tyres", "Tyres pumped", "Between the least and the most that stand on the tyre."},
	{"brakes", "Both brakes pulled", "Each one holds the bike on its own when you push it."},
	{"stand", "Stand tried", "Up and down once, with the bike unloaded and somebody holding it."},
	{"unloaded", "Practised unloaded", "Start, stop, turn both ways and walk it backwards, on a quiet place."},
	{"ballast", "Practised with ballast", "The same again with bottles of water or boxes where the load will be, before any passenger."},
}

// nextStatuses are how a ride may go on.
var nextStatuses = map[store.RideStatus][]store.RideStatus{
	store.RideBooked: {store.RideOut, store.RideCancelled}, store.RideOut: {store.RideBack},
}

var nextLabels = map[store.RideStatus]string{
	store.RideOut: "Off they go", store.RideBack: "Back in the shop", store.RideCancelled: "Cancel the ride",
}

func rideFormView(t *trial, b booking, now time.Time) RideForm {
	frame := t.Consultation.Address("/frames/" + t.Match.Frame.Code)
	view := RideForm{
		Name: t.Match.Frame.Called(), Back: t.Page(t.Consultation), Action: frame + "/ride", Choice: append(t.Hidden(), kit.Hidden{Name: kit.OnceField, Value: kit.NewOnce()}), DemoError: b.faults[unitField], Faults: len(b.faults) > 0,
		Date:    kit.Field{Name: dateField, Label: "Day", Value: b.date, Error: b.faults[dateField], Needed: true},
		Time:    kit.Field{Name: clockField, Label: "From", Value: b.clock, Error: b.faults[clockField], Hint: "By the shop’s clock.", Needed: true},
		Minutes: kit.Field{Name: minutesField, Label: "For", Value: b.minutes, Error: b.faults[minutesField]},
		Rider:   kit.Field{Name: riderField, Label: "Who rides", Value: b.rider, Error: b.faults[riderField]},
		Coming:  talk.ComingView(t.coming, now.Location()), Rides: talk.ComingView(t.rides, now.Location()), Passengers: len(t.Profile.Passengers.Or(nil)) > 0,
	}
	for _, m := range rideMinutes {
		view.Minutes.Options = append(view.Minutes.Options, kit.Option{Value: m, Label: m + " minutes"})
	}
	view.Rider.Options = riderOptions(t, b.rider)
	for i := range t.demos {
		d := demoView(t, &t.demos[i])
		d.Status = standingText(t.demos[i].Unit, t.held, measure.DateOf(now), t.ID) + backText(t, d.Tag, now) + unseenText(t.unseen, d.Tag, now.Location())
		d.Chosen = d.Tag == b.unit
		view.Demos = append(view.Demos, d)
	}
	return view
}

// riderOptions offers the riders by their labels, and what was typed elsewhere.
func riderOptions(t *trial, typed string) []kit.Option {
	options := []kit.Option{{Label: "Not said yet"}}
	for i := range t.Profile.Riders {
		name := riderName(&t.Profile.Riders[i])
		options = append(options, kit.Option{Value: name, Label: name})
	}
	if !slices.ContainsFunc(options, func(o kit.Option) bool { return o.Value == typed }) {
		options = append(options, kit.Option{Value: typed, Label: typed})
	}
	return options
}

// backText says when a bike that is out is to be back.
func backText(t *trial, tag string, now time.Time) string {
	out := slices.IndexFunc(t.coming, func(r store.Ride) bool { return r.Unit == tag && r.Status == store.RideOut })
	if out < 0 {
		return ""
	}
	back := t.coming[out].Ends.In(now.Location())
	when := back.Format("15:04")
	if back.Format(time.DateOnly) != now.Format(time.DateOnly) {
		when = back.Format("2 January, 15:04")
	}
	if back.Before(now) {
		return ", was to be back at " + when
	}
	return ", back at " + when
}

func demoView(t *trial, d *advice.Demo) Demo {
	as := talk.View(t.Consultation, d.Match)
	view := Demo{
		Tag: d.Tag, Detail: talk.UnitDetail(t.Speaker, d.Unit), Fitted: fittedText(t.Catalogue, match.OnBike(t.Catalogue, d.Unit)),
		Differences: weightText(t, d) + differenceText(as, t.Match), Stop: !d.CarriesAll(),
	}
	view.Ride, view.Why = whoRides(as, d)
	return view
}

// whoRides says who could be on a demo as it stands, and what there is to know
// about it: what stops somebody, or else what needs attention.
func whoRides(v *talk.Viewer, d *advice.Demo) (text string, why []string) {
	weight := match.Care
	switch {
	case d.CarriesAll() && len(v.Seated) == 0:
		text = "As it stands, it suits whoever rides."
	case d.CarriesAll():
		text = "As it stands, everyone can ride along: "
		if d.Match.Verdict == match.FitsWithCare {
			text = "As it stands, everyone can ride along, with care: "
		}
		var seats []string
		for i, s := range v.SeatRows() { // in the order of who is seated
			seats = append(seats, v.Speaker.Label(match.Label{Text: v.Seated[i].Passenger})+" on "+strings.ToLower(s.Where))
		}
		text += v.Speaker.List(seats) + "."
	case d.Alone && slices.Contains(v.Relaxed, fitting.WithoutPassengers):
		text, weight = "As it stands, not everyone has a place: ride it without passengers.", match.Stop
	case d.Alone:
		text, weight = "As it stands, ride it without passengers.", match.Stop
	default:
		text, weight = "As it stands, it does not suit this ride.", match.Stop
	}
	for _, r := range v.Named(v.Match) {
		if r.Weight == weight {
			why = append(why, v.Speaker.Message(r.Message))
		}
	}
	if len(d.Behind) > 0 {
		why = append(why, "Joining later, so not on this ride: "+v.Speaker.List(d.Behind)+".")
	}
	return text, why
}

// differenceText goes on from the weight of a demo with what it lacks of the
// proposed build. What it has is said before.
func differenceText(v *talk.Viewer, proposed *match.Match) string {
	lacks := talk.MissingFrom(advice.OnBike(proposed), advice.OnBike(v.Match))
	if len(lacks) == 0 {
		return ", of which it lacks nothing."
	}
	return ": without " + v.Speaker.List(names(v, lacks)) + "."
}

// names names add-ons, each once with how many there are.
func names(v *talk.Viewer, codes []string) []string {
	count := map[string]int{}
	for _, code := range codes {
		count[code]++
	}
	var names []string
	for i, code := range codes {
		switch name := strings.ToLower(v.AddOnName(code)); {
		case slices.Index(codes, code) < i: // named already
		case count[code] > 1:
			names = append(names, fmt.Sprintf("%d × %s", count[code], name))
		default:
			names = append(names, name)
		}
	}
	return names
}

// weightText compares the weight of a demo with the proposed build's.
func weightText(t *trial, d *advice.Demo) string {
	s := t.System()
	weight, weighed := match.UnitWeight(t.Catalogue, d.Unit)
	proposed := t.Match.Frame.BareWeight + t.Match.Build.Weight
	text := "It weighs " + weight.Show(s, measure.Nearest)
	if !weighed {
		text += " by the makers’ figures"
	}
	switch {
	case weight > proposed:
		return text + ", " + (weight-proposed).Show(s, measure.Nearest) + " more than the proposed build"
	case weight < proposed:
		return text + ", " + (proposed-weight).Show(s, measure.Nearest) + " less than the proposed build"
	}
	return text + ", as much as the proposed build"
}

// rideView draws a ride with what is written about it. What the customer is
// handed is in the customer's language.
func rideView(r *store.Ride, s *say.Speaker, c *catalog.Catalogue, zone *time.Location, faults map[string]string) Ride {
	view := Ride{
		Lang: string(s.Language), Say: s.Say,
		Title: s.Say("Test ride on the %v", r.FrameName), Back: kit.ConsultationAt(r.Consultation, "/frames/"+r.Frame), Action: kit.RideAt(r.ID),
		Calendar: kit.RideAt(r.ID) + ".ics?" + url.Values{talk.LanguageField: {string(s.Language)}}.Encode(),
		When:     s.Times(r.Starts.In(zone), r.Ends.In(zone)), Status: s.Say(talk.RideStatusWords[r.Status]), Code: string(r.Status),
		Unit: r.Unit + ", " + unitWords(s, c, r.Unit), Passengers: true,
		Rider: kit.Field{Name: riderField, Label: "Who rode", Value: r.Rider, Error: faults[riderField]},
		Feel:  kit.Field{Name: feelField, Label: "How it felt", Value: r.Feel, Options: talk.Feels, Error: faults[feelField]},
		Felt:  kit.Field{Name: feltField, Label: "In their words", Value: r.Felt, Error: faults[feltField]},
		Notes: kit.Field{Name: notesField, Label: "Notes for the shop", Value: r.Notes, Error: faults[notesField]},
	}
	view.Along = s.Say("For the rider alone: as the bike stood when this was booked, nobody can ride along.")
	if r.Passengers {
		view.Along = s.Say("As the bike stood when this was booked, everyone can ride along, once it was practised with ballast.")
	}
	open := 0
	for _, check := range rideChecks {
		f := kit.Field{Name: checkField, Check: check.code, Label: s.Say(check.label), Hint: s.Say(check.hint)}
		if slices.Contains(r.Checks, check.code) {
			f.Value = check.code
		} else {
			open++
		}
		view.Checks = append(view.Checks, f)
	}
	if open > 0 && (r.Status == store.RideBooked || r.Status == store.RideOut) {
		view.Open = s.Say("%v of %v still to go through.", open, len(rideChecks))
	}
	for _, next := range nextStatuses[r.Status] {
		view.Buttons = append(view.Buttons, kit.Button{Label: nextLabels[next], Value: string(next)})
	}
	view.Buttons = slices.Insert(view.Buttons, min(1, len(view.Buttons)), kit.Button{Label: "Save", Value: "save"})
	return view
}

// unitWords says which bike a tag is, where the shop still has it.
func unitWords(s *say.Speaker, c *catalog.Catalogue, tag string) string {
	at := slices.IndexFunc(c.Units, func(u catalog.Unit) bool { return u.Tag == tag })
	if at < 0 {
		return s.Say("no longer in the shop’s list")
	}
	return talk.UnitDetail(s, &c.Units[at])
}
