package web

import (
	"strings"

	"kinwain/internal/load"
	"kinwain/internal/match"
	"kinwain/internal/measure"
	"kinwain/web/page"
)

func (v *frameViewer) sheets() []page.Sheet {
	var sheets []page.Sheet
	for i := range v.Sheets {
		sheets = append(sheets, v.sheet(&v.Sheets[i]))
	}
	return sheets
}

// mass is one row of a load sheet before it is shown.
type mass struct {
	label, class string
	grams        measure.Mass
}

func gramsOf(rows []mass) []measure.Mass {
	grams := make([]measure.Mass, len(rows))
	for i := range rows {
		grams[i] = rows[i].grams
	}
	return grams
}

// masses lists every mass of a load sheet in the order of the sum.
func (v *frameViewer) masses(sh *load.Sheet) []mass {
	rows := []mass{{v.say("Frame, ready to ride"), "bare", sh.Bare}}
	for _, kind := range [...]load.Kind{load.TakenOff, load.Added} {
		for _, item := range sh.Items {
			switch {
			case item.Kind != kind:
			case kind == load.TakenOff:
				rows = append(rows, mass{v.say("Taken off: %v", v.addOnName(item.Code)), "off", -item.Mass})
			default:
				rows = append(rows, mass{v.addOnName(item.Code), "added", item.Mass})
			}
		}
	}
	rows = append(rows, mass{v.say("Rider %v, dressed to ride", sh.Rider.Label), "rider", sh.Rider.Riding})
	for _, item := range sh.Items {
		switch item.Kind {
		case load.Passenger:
			rows = append(rows, mass{v.say("%v, dressed", match.Label{Text: item.Label, Begins: true}), "passenger", item.Mass})
		case load.Pet:
			rows = append(rows, mass{v.say("Pet"), "pet", item.Mass})
		case load.Cargo:
			rows = append(rows, mass{v.say("Cargo: %v", v.carrierName(item.Code)), "cargo", item.Mass})
		}
	}
	return rows
}

func (v *frameViewer) carrierName(code string) string {
	if a := v.Catalogue.AddOn(code); a != nil {
		return strings.ToLower(a.Name)
	}
	return v.zoneLabel(code)
}

// zoneLabel writes a zone's code, or several, the way people say it.
func (v *frameViewer) zoneLabel(code string) string {
	var names []string
	for zone := range strings.SplitSeq(code, "+") {
		names = append(names, v.speaker.Word(zone))
	}
	return v.speaker.List(names)
}

func capital(s string) string {
	for _, r := range s {
		return strings.ToUpper(string(r)) + s[len(string(r)):]
	}
	return s
}

func (v *frameViewer) sheet(sh *load.Sheet) page.Sheet {
	rows := v.masses(sh)
	tally := v.tally(rows, sh.Rating)
	view := page.Sheet{
		Title: v.say("Under rider %v", sh.Rider.Label), Rider: sh.Rider.Label, Total: tally.Total, Limit: tally.Limit, Spare: strings.TrimPrefix(tally.Spare, "-"),
		Unit: tally.Unit, Over: sh.Spare() < 0, Carry: v.carry(sh), Zones: v.zones(sh),
	}
	view.Verdict = v.spare(sh)
	view.Line = v.say("The line is the gross rating, %v %v.", tally.Limit, tally.Unit)
	for i, r := range rows {
		view.Rows = append(view.Rows, page.SheetRow{Label: r.label, Amount: tally.Rows[i], Class: r.class})
	}
	view.Bar = barOf(rows, tally.Rows, sh.Rating, v.say("%v %v of %v %v", tally.Total, tally.Unit, tally.Limit, tally.Unit)+": "+view.Verdict)
	if sh.Rider.Estimated {
		view.Estimate = v.say("The rider’s weight is an estimate: it holds %v for shoes, clothes, helmet, lock and bag.", up(sh.Rider.Riding-sh.Rider.Own))
	}
	if sh.Axles {
		view.Axles = v.say("On the axles: front %v, rear %v. Add-ons without a zone are not in these.", sh.Front, sh.Rear)
	}
	return view
}

// tally adds up rows as they are shown.
func (v *frameViewer) tally(rows []mass, limit measure.Mass) measure.Tally {
	t := measure.NewTally(gramsOf(rows), limit, v.system())
	for _, figure := range []*string{&t.Total, &t.Limit, &t.Spare} {
		*figure = v.speaker.Decimal(*figure)
	}
	for i := range t.Rows {
		t.Rows[i] = v.speaker.Decimal(t.Rows[i])
	}
	return t
}

// spare says what is left under the gross rating.
func (v *frameViewer) spare(sh *load.Sheet) string {
	if sh.Spare() < 0 {
		return v.say("%v over the gross rating", up(-sh.Spare()))
	}
	return v.say("%v to spare", down(sh.Spare()))
}

func (v *frameViewer) carry(sh *load.Sheet) string {
	if sh.Carried == 0 {
		return ""
	}
	return v.say("Rider %v carries %v; the usual guideline is up to %v, %v of their own weight.", sh.Rider.Label,
		up(sh.Carried), down(sh.Guideline), measure.Percentage(v.Settings.CarryShare))
}

// barWidth is the width of a bar's picture.
const barWidth = 1000

// barOf stacks masses against a rating, to scale.
func barOf(rows []mass, shown []string, rating measure.Mass, label string) page.Bar {
	var total measure.Mass
	for _, r := range rows {
		total += r.grams
	}
	b := page.Bar{Label: label, Over: rating > 0 && total > rating}
	scale := max(total, rating)
	if scale <= 0 {
		return b
	}
	// The line keeps clear of the edge of the picture.
	at := func(m measure.Mass) int { return int(m * (barWidth - 10) / scale) }
	var from measure.Mass
	for i, r := range rows {
		if r.grams < 0 {
			from += r.grams // taken from the bare frame, which is the first part
			b.Parts[0].Width = at(from)
			continue
		}
		b.Parts = append(b.Parts, page.BarPart{X: at(from), Width: at(from+r.grams) - at(from), Class: r.class, Title: r.label + ": " + shown[i]})
		from += r.grams
	}
	if rating > 0 {
		b.Line = at(rating)
	}
	return b
}

func (v *frameViewer) zones(sh *load.Sheet) []page.Zone {
	var zones []page.Zone
	for i, z := range sh.Zones {
		zones = append(zones, v.zone(z, v.inZone(sh, i)))
	}
	for _, z := range sh.Combined {
		zones = append(zones, v.zone(z, []mass{{v.say("together"), "added", z.Mass}}))
	}
	return zones
}

// inZone lists what sits in a zone.
func (v *frameViewer) inZone(sh *load.Sheet, zone int) []mass {
	var rows []mass
	for _, item := range sh.Items {
		if item.Spot.Zone != zone || item.Kind == load.TakenOff {
			continue
		}
		m := mass{v.addOnName(item.Code), "added", item.Mass}
		switch item.Kind {
		case load.Passenger:
			m.label, m.class = v.passenger(item.Label), "passenger"
		case load.Pet:
			m.label, m.class = v.say("Pet"), "pet"
		case load.Cargo:
			m.label, m.class = v.say("Cargo"), "cargo"
		}
		rows = append(rows, m)
	}
	return rows
}

func (v *frameViewer) zone(z load.ZoneLoad, rows []mass) page.Zone {
	tally := v.tally(rows, z.Rating)
	view := page.Zone{Name: capital(v.zoneLabel(z.Zone)), Load: tally.Total, Rating: v.say("not stated"), Spare: v.say("not checked")}
	label := view.Name + ": " + v.say("%v, no rating stated", up(z.Mass))
	if z.Rating > 0 {
		view.Rating, view.Spare = tally.Limit, tally.Spare
		label = view.Name + ": " + v.say("%v %v of %v %v", tally.Total, tally.Unit, tally.Limit, tally.Unit)
	}
	view.Bar = barOf(rows, tally.Rows, z.Rating, label)
	return view
}
