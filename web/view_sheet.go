package web

import (
	"fmt"
	"strings"

	"kinhaul/internal/load"
	"kinhaul/internal/measure"
	"kinhaul/web/page"
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
	rows := []mass{{"Frame, ready to ride", "bare", sh.Bare}}
	for _, kind := range [...]load.Kind{load.TakenOff, load.Added} {
		for _, item := range sh.Items {
			switch {
			case item.Kind != kind:
			case kind == load.TakenOff:
				rows = append(rows, mass{"Taken off: " + v.addOnName(item.Code), "off", -item.Mass})
			default:
				rows = append(rows, mass{v.addOnName(item.Code), "added", item.Mass})
			}
		}
	}
	rows = append(rows, mass{"Rider " + sh.Rider.Label + ", dressed to ride", "rider", sh.Rider.Riding})
	for _, item := range sh.Items {
		switch item.Kind {
		case load.Passenger:
			rows = append(rows, mass{capital(item.Label) + ", dressed", "passenger", item.Mass})
		case load.Pet:
			rows = append(rows, mass{"Pet", "pet", item.Mass})
		case load.Cargo:
			rows = append(rows, mass{"Cargo: " + v.carrierName(item.Code), "cargo", item.Mass})
		}
	}
	return rows
}

func (v *frameViewer) carrierName(code string) string {
	if a := v.catalogue.AddOn(code); a != nil {
		return strings.ToLower(a.Name)
	}
	return zoneLabel(code)
}

// zoneLabel writes a zone's code the way people say it.
func zoneLabel(code string) string {
	return strings.NewReplacer("_", " ", "-", " ", "+", " and ").Replace(code)
}

func capital(s string) string {
	for _, r := range s {
		return strings.ToUpper(string(r)) + s[len(string(r)):]
	}
	return s
}

func (v *frameViewer) sheet(sh *load.Sheet) page.Sheet {
	s := v.system()
	rows := v.masses(sh)
	tally := measure.NewTally(gramsOf(rows), sh.Rating, s)
	view := page.Sheet{
		Title: "Under rider " + sh.Rider.Label, Rider: sh.Rider.Label, Total: tally.Total, Limit: tally.Limit, Spare: strings.TrimPrefix(tally.Spare, "-"),
		Unit: tally.Unit, Over: sh.Spare() < 0, Carry: v.carry(sh), Zones: v.zones(sh),
	}
	view.Verdict = sh.Spare().Show(s, measure.Down) + " to spare"
	view.Line = fmt.Sprintf("The line is the gross rating, %s %s.", tally.Limit, tally.Unit)
	if view.Over {
		view.Verdict = (-sh.Spare()).Show(s, measure.Up) + " over the gross rating"
	}
	for i, r := range rows {
		view.Rows = append(view.Rows, page.SheetRow{Label: r.label, Amount: tally.Rows[i], Class: r.class})
	}
	view.Bar = barOf(rows, tally.Rows, sh.Rating, fmt.Sprintf("%s %s of %s %s: %s", tally.Total, tally.Unit, tally.Limit, tally.Unit, view.Verdict))
	if sh.Rider.Estimated {
		view.Estimate = "The rider’s weight is an estimate: it holds " + (sh.Rider.Riding-sh.Rider.Own).Show(s, measure.Up) + " for shoes, clothes, helmet, lock and bag."
	}
	if sh.Axles {
		view.Axles = fmt.Sprintf("On the axles: front %s, rear %s. Add-ons without a zone are not in these.", sh.Front.Show(s, measure.Nearest), sh.Rear.Show(s, measure.Nearest))
	}
	return view
}

func (v *frameViewer) carry(sh *load.Sheet) string {
	if sh.Carried == 0 {
		return ""
	}
	s := v.system()
	text := fmt.Sprintf("Rider %s carries %s; the usual guideline is up to %s, %v of their own weight.", sh.Rider.Label,
		sh.Carried.Show(s, measure.Up), sh.Guideline.Show(s, measure.Down), measure.Percentage(v.settings.CarryShare))
	return text
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
		zones = append(zones, v.zone(z, []mass{{"together", "added", z.Mass}}))
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
			m.label, m.class = capital(item.Label), "passenger"
		case load.Pet:
			m.label, m.class = "Pet", "pet"
		case load.Cargo:
			m.label, m.class = "Cargo", "cargo"
		}
		rows = append(rows, m)
	}
	return rows
}

func (v *frameViewer) zone(z load.ZoneLoad, rows []mass) page.Zone {
	s := v.system()
	tally := measure.NewTally(gramsOf(rows), z.Rating, s)
	view := page.Zone{Name: capital(zoneLabel(z.Zone)), Load: tally.Total, Rating: "not stated", Spare: "not checked"}
	label := fmt.Sprintf("%s: %s, no rating stated", view.Name, z.Mass.Show(s, measure.Up))
	if z.Rating > 0 {
		view.Rating, view.Spare = tally.Limit, tally.Spare
		label = fmt.Sprintf("%s: %s %s of %s %s", view.Name, tally.Total, tally.Unit, tally.Limit, tally.Unit)
	}
	view.Bar = barOf(rows, tally.Rows, z.Rating, label)
	return view
}
