package talk

import (
	"strings"

	"kinwain/internal/load"
	"kinwain/internal/match"
	"kinwain/internal/measure"
	"kinwain/web/kit"
	"kinwain/web/say"
)

// HiddenSheets are the load sheets without the weights of riders, nor any sum
// that would tell them by subtraction: what is spare stays, and a bar of one
// piece.
func (v *Viewer) HiddenSheets() []kit.Sheet {
	var sheets []kit.Sheet
	for i := range v.Sheets {
		sh := &v.Sheets[i]
		view := kit.Sheet{Title: v.Say("Under rider %v", sh.Rider.Label), Verdict: v.SpareWords(sh), Over: sh.Spare() < 0, Line: v.Say("The line is the gross rating.")}
		view.Bar = barOf([]mass{{v.Say("Everything together"), "rider", sh.Total}}, []string{view.Verdict}, sh.Rating, view.Verdict)
		sheets = append(sheets, view)
	}
	return sheets
}

// LoadSheets are the load sheets, one a rider.
func (v *Viewer) LoadSheets() []kit.Sheet {
	var sheets []kit.Sheet
	for i := range v.Sheets {
		sheets = append(sheets, v.sheet(&v.Sheets[i]))
	}
	return sheets
}

// mass is one row of a load sheet before it is shown.
type mass struct {
	Label, Class string
	Grams        measure.Mass
}

func gramsOf(rows []mass) []measure.Mass {
	grams := make([]measure.Mass, len(rows))
	for i := range rows {
		grams[i] = rows[i].Grams
	}
	return grams
}

// masses lists every mass of a load sheet in the order of the sum.
func (v *Viewer) masses(sh *load.Sheet) []mass {
	rows := []mass{{v.Say("Frame, ready to ride"), "bare", sh.Bare}}
	for _, kind := range [...]load.Kind{load.TakenOff, load.Added} {
		for _, item := range sh.Items {
			switch {
			case item.Kind != kind:
			case kind == load.TakenOff:
				rows = append(rows, mass{v.Say("Taken off: %v", v.AddOnName(item.Code)), "off", -item.Mass})
			default:
				rows = append(rows, mass{v.AddOnName(item.Code), "added", item.Mass})
			}
		}
	}
	rows = append(rows, mass{v.Say("Rider %v, dressed to ride", sh.Rider.Label), "rider", sh.Rider.Riding})
	for _, item := range sh.Items {
		placed := item.Spot.Zone != load.Nowhere || item.Code != ""
		switch item.Kind {
		case load.Passenger:
			rows = append(rows, mass{v.Say(choose(placed, "%v, dressed", "%v, dressed, without a place"), match.Label{Text: item.Label, Begins: true}), "passenger", item.Mass})
		case load.Pet:
			rows = append(rows, mass{v.Say(choose(placed, "Pet", "Pet, without a place")), "pet", item.Mass})
		case load.Cargo:
			if !placed {
				rows = append(rows, mass{v.Say("Cargo, without a place"), "cargo", item.Mass})
				continue
			}
			rows = append(rows, mass{v.Say("Cargo: %v", v.carrierName(item.Code)), "cargo", item.Mass})
		}
	}
	return rows
}

// choose returns a key, or the other one.
func choose(first bool, a, b string) string {
	if first {
		return a
	}
	return b
}

func (v *Viewer) carrierName(code string) any {
	if a := v.Catalogue.AddOn(code); a != nil {
		return match.AddOn{Code: a.Code, Name: a.Name}
	}
	return v.ZoneLabel(code)
}

// ZoneLabel writes a zone's code, or several, the way people say it.
func (v *Viewer) ZoneLabel(code string) string {
	var names []string
	for zone := range strings.SplitSeq(code, "+") {
		names = append(names, v.Speaker.Word(zone))
	}
	return v.Speaker.List(names)
}

func (v *Viewer) sheet(sh *load.Sheet) kit.Sheet {
	rows := v.masses(sh)
	tally := v.tally(rows, sh.Rating)
	view := kit.Sheet{
		Title: v.Say("Under rider %v", sh.Rider.Label), Rider: sh.Rider.Label, Total: tally.Total, Limit: tally.Limit, Spare: strings.TrimPrefix(tally.Spare, "-"),
		Unit: tally.Unit, Over: sh.Spare() < 0, Carry: v.carry(sh), Zones: v.zones(sh),
	}
	view.Verdict = v.SpareWords(sh)
	view.Line = v.Say("The line is the gross rating, %v %v.", tally.Limit, tally.Unit)
	for i, r := range rows {
		view.Rows = append(view.Rows, kit.SheetRow{Label: r.Label, Amount: tally.Rows[i], Class: r.Class})
	}
	if tally.Rounding != "" {
		view.Rows = append(view.Rows, kit.SheetRow{Label: v.Say("Rounding"), Amount: tally.Rounding, Class: "off"})
	}
	view.Bar = barOf(rows, tally.Rows, sh.Rating, v.Say("%v %v of %v %v", tally.Total, tally.Unit, tally.Limit, tally.Unit)+": "+view.Verdict)
	if sh.Rider.Estimated {
		view.Estimate = v.Say("The rider’s weight is an estimate: it holds %v for shoes, clothes, helmet, lock and bag.", up(sh.Rider.Riding-sh.Rider.Own))
	}
	if sh.Axles {
		view.Axles = v.Say("On the axles: front %v, rear %v. Add-ons without a zone are not in these.", sh.Front, sh.Rear)
	}
	return view
}

// tally adds up rows as they are shown.
func (v *Viewer) tally(rows []mass, limit measure.Mass) measure.Tally {
	t := measure.NewTally(gramsOf(rows), limit, v.System())
	for _, figure := range []*string{&t.Total, &t.Limit, &t.Spare, &t.Rounding} {
		*figure = v.Speaker.Decimal(*figure)
	}
	for i := range t.Rows {
		t.Rows[i] = v.Speaker.Decimal(t.Rows[i])
	}
	return t
}

// SpareWords says what is left under the gross rating.
func (v *Viewer) SpareWords(sh *load.Sheet) string {
	if sh.Spare() < 0 {
		return v.Say("%v over the gross rating", up(-sh.Spare()))
	}
	return v.Say("%v to spare", Down(sh.Spare()))
}

func (v *Viewer) carry(sh *load.Sheet) string {
	if sh.Carried == 0 {
		return ""
	}
	return v.Say("Rider %v carries %v; the usual guideline is up to %v, %v of their own weight.", sh.Rider.Label,
		up(sh.Carried), Down(sh.Guideline), measure.Percentage(v.Settings.CarryShare))
}

// barWidth is the width of a bar's picture.
const barWidth = 1000

// barOf stacks masses against a rating, to scale.
func barOf(rows []mass, shown []string, rating measure.Mass, label string) kit.Bar {
	var total measure.Mass
	for _, r := range rows {
		total += r.Grams
	}
	b := kit.Bar{Label: label, Over: rating > 0 && total > rating}
	scale := max(total, rating)
	if scale <= 0 {
		return b
	}
	// The line keeps clear of the edge of the picture.
	at := func(m measure.Mass) int { return int(m * (barWidth - 10) / scale) }
	var from measure.Mass
	for i, r := range rows {
		if r.Grams < 0 {
			from += r.Grams // taken from the bare frame, which is the first part
			b.Parts[0].Width = at(from)
			continue
		}
		b.Parts = append(b.Parts, kit.BarPart{X: at(from), Width: at(from+r.Grams) - at(from), Class: r.Class, Title: r.Label + ": " + shown[i]})
		from += r.Grams
	}
	if rating > 0 {
		b.Line = at(rating)
	}
	return b
}

func (v *Viewer) zones(sh *load.Sheet) []kit.Zone {
	var zones []kit.Zone
	for i, z := range sh.Zones {
		zones = append(zones, v.zone(z, v.inZone(sh, i)))
	}
	for _, z := range sh.Combined {
		zones = append(zones, v.zone(z, []mass{{v.Say("together"), "added", z.Mass}}))
	}
	return zones
}

// inZone lists what sits in a zone.
func (v *Viewer) inZone(sh *load.Sheet, zone int) []mass {
	var rows []mass
	for _, item := range sh.Items {
		if item.Spot.Zone != zone || item.Kind == load.TakenOff {
			continue
		}
		m := mass{v.AddOnName(item.Code), "added", item.Mass}
		switch item.Kind {
		case load.Passenger:
			m.Label, m.Class = v.passenger(item.Label), "passenger"
		case load.Pet:
			m.Label, m.Class = v.Say("Pet"), "pet"
		case load.Cargo:
			m.Label, m.Class = v.Say("Cargo"), "cargo"
		}
		rows = append(rows, m)
	}
	return rows
}

func (v *Viewer) zone(z load.ZoneLoad, rows []mass) kit.Zone {
	tally := v.tally(rows, z.Rating)
	view := kit.Zone{Name: say.Capital(v.ZoneLabel(z.Zone)), Load: tally.Total, Rating: v.Say("not stated"), Spare: v.Say("not checked")}
	label := view.Name + ": " + v.Say("%v, no rating stated", up(z.Mass))
	if z.Rating > 0 {
		view.Rating, view.Spare = tally.Limit, tally.Spare
		label = view.Name + ": " + v.Say("%v %v of %v %v", tally.Total, tally.Unit, tally.Limit, tally.Unit)
	}
	view.Bar = barOf(rows, tally.Rows, z.Rating, label)
	return view
}
