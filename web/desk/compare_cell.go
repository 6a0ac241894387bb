package desk

import (
	"cmp"
	"fmt"
	"regexp"
	"slices"
	"strings"

	"kinwain/internal/compare"
	"kinwain/internal/match"
	"kinwain/internal/measure"
	"kinwain/internal/parking"
	"kinwain/internal/ride"
	"kinwain/web/say"
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
		return CompareCell{Text: "has to stand upright, and cannot", Dim: true}
	case c.State == compare.NotStated:
		return CompareCell{Text: notStated, Dim: true}
	case c.State == compare.None:
		return CompareCell{Text: noneWords[r.Code], Dim: true}
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
		return CompareCell{Verdict: &verdict}
	case "add_ons":
		return CompareCell{Items: addOnItems(f)}
	case "reasons":
		return CompareCell{Items: v.reasonItems(f)}
	case "home":
		return CompareCell{Text: v.figure(r, c.Figure), Hint: talk.HowWords[parking.How(c.Words)]}
	case "horizon":
		if c.Words == compare.Beyond {
			return CompareCell{Text: "ten years and more"}
		}
		return CompareCell{Text: talk.MonthName(f.Horizon.Month)}
	case "wheels":
		return CompareCell{Text: pairText(f.Frame.FrontTyre, f.Frame.RearTyre)}
	case "brakes":
		return CompareCell{Text: pairText(f.Frame.FrontBrake, f.Frame.RearBrake)}
	case "assist":
		return CompareCell{Text: fmt.Sprintf("%d W", c.Figure)}
	case "climb":
		return CompareCell{Text: v.figure(r, c.Figure), Hint: climbWords[ride.Outcome(c.Words)]}
	case "today":
		return CompareCell{Text: c.Words}
	}
	return CompareCell{Text: v.figure(r, c.Figure)}
}

var climbWords = map[ride.Outcome]string{
	ride.TooSteep: "slower than a walk", ride.TooTall: "lowest gear too tall", ride.GearUnknown: "gears not stated",
}

// pairText says what is in front and what is behind, once where it is the
// same.
func pairText(front, rear string) string {
	say := func(s string) string {
		if s == "" {
			return notStated
		}
		return strings.ReplaceAll(s, "_", " ")
	}
	if front == rear {
		return say(front)
	}
	return say(front) + ", " + say(rear)
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
	for _, r := range f.Reasons {
		if r.Weight == match.Note {
			continue
		}
		text := compare.Short(r.Code)
		switch {
		case r.Rider != "" && len(v.Profile.Riders) > 1:
			text += ", rider " + r.Rider
		case r.Passenger != "":
			text += ", " + r.Passenger
		}
		items = append(items, CompareItem{Tag: string(r.Weight), Word: talk.WeightWords[r.Weight], Text: text})
	}
	return items
}

// lackWords say what a figure under zero is.
var lackWords = map[string]string{
	"home": "too large", "rider_height": "outside", "spare": "over", "rider_spare": "over", "carry_guideline": "over",
}

// figure writes a figure of a row in its unit, rounded so that it looks no
// better than it is.
func (v *sideBySide) figure(r *compare.Row, n int64) string {
	s := v.System()
	if words, ok := lackWords[r.Code]; ok && n < 0 {
		return v.figure(&compare.Row{Quantity: r.Quantity, Better: compare.Less}, -n) + " " + words
	}
	switch r.Quantity {
	case compare.Points:
		return fmt.Sprintf("%d.%d", n/10, n%10)
	case compare.Cents:
		return measure.Money(n).Show(v.Catalogue.Shop.Currency)
	case compare.Grams:
		return measure.Mass(n).Show(s, towards(r))
	case compare.Millimetres:
		return measure.Length(n).Show(s, towards(r))
	case compare.Months:
		return say.Counted(int(n), "month", "months")
	case compare.Parts:
		return fmt.Sprintf("%d\u00a0%%", percentUp(n))
	case compare.Hourly:
		return ride.Speed(float64(n) / 3600).Show(s)
	case compare.Rolled:
		return ride.ShowRolled(measure.Length(n), s)
	}
	return fmt.Sprint(n)
}

// A figure with its unit: whole, and with a decimal.
var (
	plainFigure   = regexp.MustCompile(`^(-?[0-9]+)( (?:kg|lb|cm|in))$`)
	decimalFigure = regexp.MustCompile(`^-?[0-9]+\.[0-9] (?:kg|lb|cm|in)$`)
)

// evenDecimals gives every figure of a row as many decimals as the others, so
// that they line up.
func evenDecimals(cells []CompareCell) {
	if !slices.ContainsFunc(cells, func(c CompareCell) bool { return decimalFigure.MatchString(c.Text) }) {
		return
	}
	for i := range cells {
		cells[i].Text = plainFigure.ReplaceAllString(cells[i].Text, "$1.0$2")
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

// leadWords say what a lead is, with the figure in place of the verb.
var leadWords = map[string]string{
	"score": "%s points ahead", "total_price": "%s less", "spare": "carries %s more", "carry_guideline": "%s further under it", "rider_height": "%s more room",
	"horizon": "lasts %s longer", "home": "%s more room", "length": "%s shorter", "width": "%s narrower",
	"height": "%s lower", "upright": "%s shorter upright", "handling_mass": "%s lighter", "low_gear": "%s lower", "climb": "%s faster",
	"rider_spare": "carries %s more", "rider_share": "%s less",
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
		by = measure.Mass(more).ShowOver(measure.Mass(less), s, towards(r))
	case compare.Millimetres:
		by = measure.Length(more).ShowOver(measure.Length(less), s, towards(r))
	case compare.Parts:
		by = fmt.Sprintf("%d\u00a0%%", percentUp(more)-percentUp(less))
	case compare.Rolled:
		by = ride.ShowRolledOver(measure.Length(more), measure.Length(less), s)
	case compare.Hourly:
		by = ride.Speed(float64(more)/3600).ShowOver(ride.Speed(float64(less)/3600), s)
	}
	if r.Cells[win.Best].Words == compare.Beyond {
		by = "at least " + by
	}
	return fmt.Sprintf(cmp.Or(leadWords[r.Code], "%s more"), by)
}
