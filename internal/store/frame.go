package store

import "kinwain/internal/catalog"

var frames = kind[catalog.Frame]{
	table: table{"frames", 1, `position, code, name, family, type, material, size,
		gross_rating_g, bare_weight_g, rider_min_mm, rider_max_mm, rider_max_g, passengers_max,
		standover_mm, saddle_min_mm, saddle_max_mm, price_cents, length_mm, width_mm, height_mm,
		upright_length_mm, upright_width_mm, upright_height_mm, wheelbase_mm, rider_ahead_mm,
		bare_front_share, front_axle_g, rear_axle_g, front_tyre, rear_tyre, odd_wheel,
		front_brake, rear_brake, assist_watts, notes`},
	key: func(f *catalog.Frame) *string { return &f.Code },
	fields: func(f *catalog.Frame) []any {
		return []any{&f.Code, &f.Name, &f.Family, &f.Type, &f.Material, &f.Size,
			&f.GrossRating, &f.BareWeight, &f.RiderMin, &f.RiderMax, &f.RiderMaxMass, &f.PassengersMax,
			&f.Standover, &f.SaddleMin, &f.SaddleMax, &f.Price, &f.Length, &f.Width, &f.Height,
			&f.Upright.Length, &f.Upright.Width, &f.Upright.Height, &f.Wheelbase, &f.RiderAhead,
			&f.BareFrontShare, &f.FrontAxleRating, &f.RearAxleRating, &f.FrontTyre, &f.RearTyre, &f.OddWheel,
			&f.FrontBrake, &f.RearBrake, &f.AssistWatts, &f.Notes}
	},
	parts: []part[catalog.Frame]{
		list(table{name: "frame_zones", columns: `frame, position, code, rating_g, ahead_mm, height_mm, steered, side, cargo_g, cargo_ml`},
			func(f *catalog.Frame) *[]catalog.Zone { return &f.Zones },
			func(z *catalog.Zone) []any {
				return []any{&z.Code, &z.Rating, &z.Ahead, &z.Height, &z.Steered, &z.Side, &z.Cargo, &z.CargoVolume}
			}),
		list(table{name: "frame_combined", columns: `frame, position, rating_g`},
			func(f *catalog.Frame) *[]catalog.Combined { return &f.Combined },
			func(c *catalog.Combined) []any { return []any{&c.Rating} }),
		combinedZones,
		list(table{name: "frame_mounts", columns: `frame, position, code, capacity`},
			func(f *catalog.Frame) *[]catalog.Mount { return &f.Mounts },
			func(m *catalog.Mount) []any { return []any{&m.Code, &m.Capacity} }),
		list(table{name: "frame_places", columns: `frame, position, zone, ` + placeColumns},
			func(f *catalog.Frame) *[]catalog.Place { return &f.Places },
			func(p *catalog.Place) []any { return append([]any{&p.Zone}, placeFields(p)...) }),
		placeNeeds(table{"frame_place_needs", 4, `frame, place, group_no, position, member`},
			func(f *catalog.Frame) []catalog.Place { return f.Places }),
		words(table{name: "frame_provides", columns: `frame, position, tag`},
			func(f *catalog.Frame) *[]string { return &f.Provides }),
		words(table{name: "frame_comes_with", columns: `frame, position, add_on`},
			func(f *catalog.Frame) *[]string { return &f.ComesWith }),
		frameTeeth,
	},
}

// combinedZone is one zone of one combined rating.
type combinedZone struct {
	combined, position int
	zone               string
}

var combinedZones = rows[catalog.Frame, combinedZone]{
	table: table{"frame_combined_zones", 3, `frame, combined, position, zone`},
	take: func(f *catalog.Frame) []combinedZone {
		var all []combinedZone
		for c, combined := range f.Combined {
			for i, zone := range combined.Zones {
				all = append(all, combinedZone{c, i, zone})
			}
		}
		return all
	},
	put: func(f *catalog.Frame, z combinedZone) {
		combined := &f.Combined[z.combined]
		combined.Zones = append(combined.Zones, z.zone)
	},
	fields: func(z *combinedZone) []any { return []any{&z.combined, &z.position, &z.zone} },
}

const (
	chainring = "chainring"
	sprocket  = "sprocket"
)

// toothed is one toothed wheel of the drive.
type toothed struct {
	wheel           string
	position, teeth int
}

var frameTeeth = rows[catalog.Frame, toothed]{
	table: table{"frame_teeth", 3, `frame, wheel, position, teeth`},
	take: func(f *catalog.Frame) []toothed {
		var all []toothed
		for i, teeth := range f.Chainrings {
			all = append(all, toothed{chainring, i, teeth})
		}
		for i, teeth := range f.Sprockets {
			all = append(all, toothed{sprocket, i, teeth})
		}
		return all
	},
	put: func(f *catalog.Frame, t toothed) {
		if t.wheel == chainring {
			f.Chainrings = append(f.Chainrings, t.teeth)
			return
		}
		f.Sprockets = append(f.Sprockets, t.teeth)
	},
	fields: func(t *toothed) []any { return []any{&t.wheel, &t.position, &t.teeth} },
}

// placeColumns are the columns of a place that frames and add-ons share.
const placeColumns = `kind, min_months, max_months, min_g, max_g, max_stature_mm, ahead_mm, height_mm`

func placeFields(p *catalog.Place) []any {
	return []any{&p.Kind, &p.MinMonths, &p.MaxMonths, &p.MinMass, &p.MaxMass, &p.MaxStature, &p.Ahead, &p.Height}
}

// placeNeeds is the part that holds what the places of an owner need.
func placeNeeds[T any](t table, of func(*T) []catalog.Place) rows[T, member] {
	return rows[T, member]{
		table: t,
		take: func(owner *T) []member {
			var all []member
			for i, place := range of(owner) {
				all = append(all, members(i, place.Needs)...)
			}
			return all
		},
		put:    func(owner *T, m member) { m.join(&of(owner)[m.place].Needs) },
		fields: func(m *member) []any { return []any{&m.place, &m.group, &m.position, &m.name} },
	}
}
