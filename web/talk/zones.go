package talk

import (
	"slices"
	"strings"

	"kinwain/internal/load"
	"kinwain/internal/match"
	"kinwain/internal/measure"
	"kinwain/web/kit"
	"kinwain/web/say"
)

// zones lists what sits in each zone against its rating, and in those whose
// ratings are combined.
func (v *Viewer) zones(sh *load.Sheet) []kit.Zone {
	var zones []kit.Zone
	for i, z := range sh.Zones {
		zones = append(zones, v.zone(say.Capital(v.ZoneLabel(z.Zone)), v.from("zones["+z.Zone+"].rating_kg"), z.Mass, z.Rating, v.inZone(sh, i)))
	}
	for _, z := range sh.Combined {
		zones = append(zones, v.zone(say.Capital(v.ZoneLabel(z.Zone)), v.from("combined["+z.Zone+"].rating_kg"), z.Mass, z.Rating, nil))
	}
	return zones
}

// inZone lists what sits in a zone. A part that the frame comes with is not in
// the sum: there its weight is within the frame's.
func (v *Viewer) inZone(sh *load.Sheet, zone int) []part {
	var parts []part
	for i := range sh.Items {
		item := &sh.Items[i]
		if item.Spot.Zone != zone || item.Kind == load.TakenOff {
			continue
		}
		p := part{v.AddOnName(item.Code), "added", item.Mass}
		switch item.Kind {
		case load.Passenger:
			p.Label, p.Class = v.passenger(item.Label), "passenger"
		case load.Pet:
			p.Label, p.Class = v.Say("Pet"), "pet"
		case load.Cargo:
			p.Label, p.Class = v.Say("Cargo"), "cargo"
		}
		parts = append(parts, p)
	}
	return parts
}

// axles lists what both axles bear, each against its rating. There are none
// where the frame does not state its geometry.
func (v *Viewer) axles(sh *load.Sheet) []kit.Zone {
	if !sh.Axles {
		return nil
	}
	return []kit.Zone{
		v.zone(v.Say("Front axle"), v.from("front_axle_max_kg"), sh.Front, v.Frame.FrontAxleRating, nil),
		v.zone(v.Say("Rear axle"), v.from("rear_axle_max_kg"), sh.Rear, v.Frame.RearAxleRating, nil),
	}
}

// axleWords says what is not known of the axles.
func (v *Viewer) axleWords(sh *load.Sheet) string {
	if !sh.Axles {
		return v.Say("What the axles bear is not known: the maker states too little about where the wheels and the rider are.")
	}
	var said []string
	for i := range sh.Items {
		item := &sh.Items[i]
		if item.Kind != load.Added || item.Spot.Placed() {
			continue
		}
		a := match.AddOn{Code: item.Code, Name: item.Code}
		if known := v.Catalogue.AddOn(item.Code); known != nil {
			a.Name = known.Name
		}
		name := match.Message{Format: "the %v", Args: []any{a}}
		if one := v.Say("Where %v sits is not stated: its weight counts whole on either axle.", name); !slices.Contains(said, one) {
			said = append(said, one)
		}
	}
	return strings.Join(said, " ")
}

// zone is one load against its rating, with where that comes from, drawn in its
// parts or in one piece.
func (v *Viewer) zone(name string, from proof, bears, rating measure.Mass, parts []part) kit.Zone {
	t := measure.NewTally([]measure.Mass{bears}, rating, v.System())
	view := kit.Zone{Name: name, Load: v.Speaker.Decimal(t.Total)}
	label := view.Name + ", "
	if rating > 0 {
		view.Rating, view.Spare, view.From, view.Photo = v.Speaker.Decimal(t.Limit), v.Speaker.Decimal(t.Spare), from.words, from.photo
		label += v.Say("%v %v of %v %v", view.Load, t.Unit, view.Rating, t.Unit)
	} else {
		view.Unrated = v.Say("the maker states none")
		label += v.Say("%v, no rating stated", up(bears))
	}
	if parts == nil && bears > 0 && rating > 0 { // against nothing there is nothing to draw in one piece
		parts = []part{{name, "added", bears}}
	}
	view.Bar = v.barOf(parts, rating, label)
	return view
}

// part is one mass of a bar.
type part struct {
	Label, Class string
	Grams        measure.Mass
}

// MovedBar draws a load that moves from before to after, against a rating: what
// comes on top has a colour of its own, and so has what goes.
func (v *Viewer) MovedBar(before, after, rating measure.Mass, name string) kit.Bar {
	parts := []part{{"as it is", "bare", min(before, after)}}
	switch {
	case after > before:
		parts = append(parts, part{"on top", "cargo", after - before})
	case after < before:
		parts = append(parts, part{"less", "gone", before - after})
	}
	b := v.barOf(parts, rating, name+", "+after.Show(v.System(), measure.Up)+" of "+rating.Show(v.System(), measure.Down))
	b.Over = after > rating
	return b
}

// barWidth is the width of a bar's picture.
const barWidth = 1000

// barOf stacks masses against a rating, to scale.
func (v *Viewer) barOf(parts []part, rating measure.Mass, label string) kit.Bar {
	var total measure.Mass
	for _, p := range parts {
		total += p.Grams
	}
	b := kit.Bar{Label: label, Over: rating > 0 && total > rating}
	scale := max(total, rating)
	if scale <= 0 {
		return b
	}
	// The line keeps clear of the edge of the picture.
	at := func(m measure.Mass) int { return int(m * (barWidth - 10) / scale) }
	var from measure.Mass
	for _, p := range parts {
		if p.Grams < 0 {
			from += p.Grams // taken from the bare frame, which is the first part
			b.Parts[0].Width = at(from)
			continue
		}
		b.Parts = append(b.Parts, kit.BarPart{X: at(from), Width: at(from+p.Grams) - at(from), Class: p.Class,
			Title: p.Label + ", " + v.Speaker.Mass(p.Grams, measure.Up)})
		from += p.Grams
	}
	if rating > 0 {
		b.Line = at(rating)
	}
	return b
}
