package desk

import (
	"cmp"
	"fmt"
	"regexp"
	"slices"

	"kinwain/internal/compare"
	"kinwain/internal/match"
	"kinwain/internal/measure"
	"kinwain/internal/parking"
	"kinwain/internal/ride"
	"kinwain/web/talk"
)

// noneWords say what a frame has none of.
var noneWords = map[string]string{
	"score": "no score", "add_ons": "nothing", "reasons": "none", "horizon": "does not fit today", "upright": "cannot stand so", "today": "nothing",
	"home": "not checked",
}

// cell draws the answer of one frame in one row.
func (v *sideBySide) cell(r *compare.Row, i int) CompareCell {
	c := r.Cells[i]
	switch {
	case r.Code == "home" && c.State == compare.None && c.Words != "":
		return CompareCell{Text: v.Say("has to stand upright, and cannot"), Dim: true}
	case c.State == compare.NotStated:
		return CompareCell{Text: v.Say(notStated), Dim: true}
	case c.State == compare.None:
		return CompareCell{Text: v.Say(noneWords[r.Code]), Dim: true}
	}
	view := v.stated(r, c, v.viewers[i])
	if c.State == compare.Partial {
		view.Partial = true
	}
	return view
}

// stated draws an answer that is there.
func (v *sideBySide) stated(r *compare.Row, c compare.Cell, f *talk.Viewer) CompareCell {
	switch r.Code {
	case "verdict":
		verdict := talk.VerdictView(match.Verdict(c.Words))
		verdict.Word = v.Say(verdict.Word)
		return CompareCell{Verdict: &verdict}
	case "add_ons":
		return CompareCell{Items: addOnItems(f)}
	case "reasons":
		return CompareCell{Items: v.reasonItems(f)}
	case "home":
		return CompareCell{Text: v.figure(r, c.Figure), Hint: v.Say(talk.HowWords[parking.How(c.Words)])}
	case "horizon":
		if c.Words == compare.Beyond {
			return CompareCell{Text: v.Say("ten years and more")}
		}
		return CompareCell{Text: v.Speaker.Month(f.Horizon.Month)}
	case "first_limit":
		first, _ := f.First()
		return CompareCell{Text: v.figure(r, c.Figure), Hint: v.Speaker.Message(first.Name)}
	case "wheels":
		return CompareCell{Text: v.pair(f.Frame.FrontTyre, f.Frame.RearTyre)}
	case "brakes":
		return CompareCell{Text: v.pair(v.Speaker.Word(f.Frame.FrontBrake), v.Speaker.Word(f.Frame.RearBrake))}
	case "assist":
		return CompareCell{Text: fmt.Sprintf("%d\u00a0W", c.Figure)}
	case "climb":
		return CompareCell{Text: v.figure(r, c.Figure), Hint: v.said(climbWords[ride.Outcome(c.Words)])}
	case "today":
		return CompareCell{Text: c.Words}
	}
	return CompareCell{Text: v.figure(r, c.Figure)}
}

var climbWords = map[ride.Outcome]string{
	ride.TooSteep: "slower than a walk", ride.TooTall: "lowest gear too tall", ride.GearUnknown: "gears not stated",
}

// said says a sentence, where there is one.
func (v *sideBySide) said(key string) string {
	if key == "" {
		return ""
	}
	return v.Say(key)
}

// pair says what is in front and what is behind, once where it is the same.
func (v *sideBySide) pair(front, rear string) string {
	front, rear = cmp.Or(front, v.Say(notStated)), cmp.Or(rear, v.Say(notStated))
	if front == rear {
		return front
	}
	return front + ", " + rear
}

func addOnItems(f *talk.Viewer) []CompareItem {
	var items []CompareItem
	for _, row := range f.AddOnRows() {
		items = append(items, CompareItem{Text: row.Name})
	}
	return items
}

// reasonItems lists stops and cares in short words.
func (v *sideBySide) reasonItems(f *talk.Viewer) []CompareItem {
	var items []CompareItem
	for _, r := range f.Named(f.Match) {
		if r.Weight == match.Note {
			continue
		}
		text := v.Say(compare.Short(r.Code))
		switch {
		case r.Rider != "" && len(v.Profile.Riders) > 1:
			text = v.Say("%v, rider %v", text, r.Rider)
		case r.Passenger != "":
			text += " (" + v.Speaker.Label(match.Label{Text: r.Passenger}) + ")"
		}
		items = append(items, CompareItem{Tag: string(r.Weight), Word: v.Say(talk.WeightWords[r.Weight]), Text: text})
	}
	return items
}

// lackWords say what a figure under zero is.
var lackWords = map[string]string{
	"home": "%v too large", "rider_height": "%v outside", "spare": "%v over", "rider_spare": "%v over", "carry_guideline": "%v over",
	"first_limit": "%v over", "front_axle": "%v over", "rear_axle": "%v over",
}

// figure writes a figure of a row in its unit, rounded so that it looks no
// better than it is.
func (v *sideBySide) figure(r *compare.Row, n int64) string {
	s := v.System()
	if words, ok := lackWords[r.Code]; ok && n < 0 {
		return v.Say(words, v.figure(&compare.Row{Quantity: r.Quantity, Better: compare.Less}, -n))
	}
	switch r.Quantity {
	case compare.Points:
		return v.Speaker.Decimal(fmt.Sprintf("%d.%d", n/10, n%10))
	case compare.Cents:
		return v.Speaker.Money(measure.Money(n), v.Catalogue.Shop.Currency)
	case compare.Grams:
		return v.Speaker.Mass(measure.Mass(n), towards(r))
	case compare.Millimetres:
		return v.Speaker.Length(measure.Length(n), towards(r))
	case compare.Months:
		return v.Say("%v months", int(n))
	case compare.Parts:
		return v.Speaker.Percent(measure.Percentage(percentUp(n) * int64(measure.Percent)))
	case compare.Hourly:
		return v.Speaker.Figure(ride.Speed(float64(n) / 3600).Show(s))
	case compare.Rolled:
		return v.Speaker.Figure(ride.ShowRolled(measure.Length(n), s))
	}
	return fmt.Sprint(n)
}

// A figure with its unit: whole, and with a decimal.
var (
	plainFigure   = regexp.MustCompile(`^(-?[0-9]+)(\x{a0}(?:kg|lb|cm|\p{L}{4,6}))$`)
	decimalFigure = regexp.MustCompile(`^-?[0-9]+([.,])[0-9]\x{a0}(?:kg|lb|cm|\p{L}{4,6})$`)
)

// evenDecimals gives every figure of a row as many decimals as the others, so
// that they line up.
func evenDecimals(cells []CompareCell) {
	at := slices.IndexFunc(cells, func(c CompareCell) bool { return decimalFigure.MatchString(c.Text) })
	if at < 0 {
		return
	}
	point := decimalFigure.FindStringSubmatch(cells[at].Text)[1]
	for i := range cells {
		cells[i].Text = plainFigure.ReplaceAllString(cells[i].Text, "${1}"+point+"0$2")
	}
}

// towards rounds a figure away from the better.
func towards(r *compare.Row) measure.Rounding {
	if r.Better == compare.Less {
		return measure.Up
	}
	return measure.Down
}

// percentUp turns ten-thousandths into percent, rounded up.
func percentUp(n int64) int64 {
	const percent = int64(measure.Percent)
	return (n + percent - 1) / percent
}

// leadWords say what a lead is.
var leadWords = map[string]string{
	"score": "%v points ahead", "total_price": "%v less", "spare": "carries %v more", "carry_guideline": "%v further under it", "rider_height": "%v more room",
	"horizon": "lasts %v longer", "home": "%v more room", "length": "%v shorter", "width": "%v narrower",
	"height": "%v lower", "upright": "%v shorter upright", "handling_mass": "%v lighter", "low_gear": "%v lower", "climb": "%v faster",
	"rider_spare": "carries %v more", "rider_share": "%v less",
}

// lead says by how much the winner of a row leads the next best: by the
// difference of the two figures as they are shown. It is empty where these
// are the same.
func (v *sideBySide) lead(r *compare.Row, win compare.Win) string {
	best, next := r.Cells[win.Best].Figure, r.Cells[win.Next].Figure
	if v.figure(r, best) == v.figure(r, next) {
		return ""
	}
	more, less := max(best, next), min(best, next)
	s := v.System()
	by := v.figure(r, win.Lead)
	switch r.Quantity {
	case compare.Grams:
		by = v.Speaker.Figure(measure.Mass(more).ShowOver(measure.Mass(less), s, towards(r)))
	case compare.Millimetres:
		by = v.Speaker.Figure(measure.Length(more).ShowOver(measure.Length(less), s, towards(r)))
	case compare.Parts:
		by = v.Speaker.Percent(measure.Percentage((percentUp(more) - percentUp(less)) * int64(measure.Percent)))
	case compare.Rolled:
		by = v.Speaker.Figure(ride.ShowRolledOver(measure.Length(more), measure.Length(less), s))
	case compare.Hourly:
		by = v.Speaker.Figure(ride.Speed(float64(more)/3600).ShowOver(ride.Speed(float64(less)/3600), s))
	}
	if r.Cells[win.Best].Words == compare.Beyond {
		by = v.Say("at least %v", by)
	}
	return v.Say(cmp.Or(leadWords[r.Code], "%v more"), by)
}
