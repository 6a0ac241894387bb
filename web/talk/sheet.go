package talk

import (
	"slices"
	"strings"

	"kinwain/internal/load"
	"kinwain/internal/match"
	"kinwain/internal/measure"
	"kinwain/web/kit"
)

// LoadSheets are the load sheets, one a rider. Where nobody is to see what a
// rider weighs, they speak of what is spare alone.
func (v *Viewer) LoadSheets() []kit.Sheet {
	var sheets []kit.Sheet
	for i := range v.Sheets {
		one := v.sheet(&v.Sheets[i])
		if v.Form.HidesWeights() {
			one = kit.Sheet{Title: one.Title, Rider: one.Rider, Over: one.Over, Verdict: one.Verdict, Unit: one.Unit, Hidden: true}
		}
		sheets = append(sheets, one)
	}
	return sheets
}

func (v *Viewer) sheet(sh *load.Sheet) kit.Sheet {
	f := figuresOf(sh, v.System())
	total, limit, spare := v.Speaker.Decimal(f.Total), v.Speaker.Decimal(f.Limit), v.Speaker.Decimal(strings.TrimPrefix(f.Spare, "-"))
	view := kit.Sheet{
		Title: v.Say("Under rider %v", sh.Rider.Label), Rider: sh.Rider.Label, Total: total, Limit: limit, Spare: spare,
		Unit: f.Unit, Over: sh.Spare() < 0, Verdict: v.SpareWords(sh), Carry: v.carry(sh), Zones: slices.Concat(v.zones(sh), v.axles(sh), v.bearers(sh)), Axles: v.axleWords(sh),
	}
	view.Line = v.Say("The line is the gross rating, %v %v.", limit, f.Unit)
	if from := v.from("gross_rating_kg"); from.words != "" {
		view.Line, view.Photo = v.Say("The line is the gross rating, %v %v: %v.", limit, f.Unit, from.words), from.photo
	}
	var parts []part
	for i, r := range f.rows {
		label, class := v.rowName(r.Item)
		if i == f.rider {
			label, class = v.Say("Rider %v, dressed to ride", sh.Rider.Label), "rider"
		}
		view.Rows = append(view.Rows, kit.SheetRow{Label: label, Amount: v.Speaker.Decimal(f.Rows[i]), Class: class})
		parts = append(parts, part{label, class, r.Mass})
	}
	if f.Rounding != "" {
		view.Rows = append(view.Rows, kit.SheetRow{Label: v.Say("Rounding"), Amount: v.Speaker.Decimal(f.Rounding), Class: "off"})
	}
	view.Bar = v.barOf(parts, sh.Rating, v.Say("%v %v of %v %v", total, f.Unit, limit, f.Unit)+", "+view.Verdict)
	if sh.Rider.Estimated {
		view.Estimate = v.Say("The rider’s weight is an estimate: it holds %v for shoes, clothes, helmet, lock and bag.", up(sh.Rider.Riding-sh.Rider.Own))
	}
	return view
}

// rowName says what a row of a load sheet is, and gives it the class of its
// kind. No item is the bare frame.
func (v *Viewer) rowName(item *load.Item) (label, class string) {
	if item == nil {
		return v.Say("Frame, ready to ride"), "bare"
	}
	placed := item.Spot.Zone != load.Nowhere || item.Code != ""
	switch item.Kind {
	case load.TakenOff:
		return v.Say("Taken off: %v", v.AddOnName(item.Code)), "off"
	case load.Passenger:
		if !placed {
			return v.Say("%v, dressed, without a place", match.Label{Text: item.Label, Begins: true}), "passenger"
		}
		return v.Say("%v, dressed", match.Label{Text: item.Label, Begins: true}), "passenger"
	case load.Pet:
		if !placed {
			return v.Say("Pet, without a place"), "pet"
		}
		return v.Say("Pet"), "pet"
	case load.Cargo:
		if !placed {
			return v.Say("Cargo, without a place"), "cargo"
		}
		return v.Say("Cargo: %v", v.carrierName(item.Code)), "cargo"
	}
	return v.AddOnName(item.Code), "added"
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

// SpareWords says what is left under the gross rating.
func (v *Viewer) SpareWords(sh *load.Sheet) string { return spareWords(v.Speaker, sh.Spare()) }

func (v *Viewer) carry(sh *load.Sheet) string {
	if sh.Carried == 0 {
		return ""
	}
	return v.Say("Rider %v carries %v; the usual guideline is up to %v, %v of their own weight.", sh.Rider.Label,
		up(sh.Carried), Down(sh.Guideline), measure.Percentage(v.Settings.CarryShare))
}
