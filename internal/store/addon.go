package store

import (
	"maps"
	"slices"

	"kinwain/internal/catalog"
)

var addOns = kind[catalog.AddOn]{
	table: table{"add_ons", 1, `position, code, name, weight_g, price_cents, fitting_minutes, zone,
		max_load_g, cargo_g, cargo_ml, pet_g, up_to, front_overhang_mm, rear_overhang_mm,
		overall_width_mm, overall_height_mm, blocks_upright, removable_seconds`},
	key: func(a *catalog.AddOn) *string { return &a.Code },
	fields: func(a *catalog.AddOn) []any {
		return []any{&a.Code, &a.Name, &a.Weight, &a.Price, &a.FittingMinutes, &a.Zone,
			&a.MaxLoad, &a.Cargo, &a.CargoVolume, &a.Pet, &a.UpTo, &a.FrontOverhang, &a.RearOverhang,
			&a.OverallWidth, &a.OverallHeight, &a.BlocksUpright, &a.RemovableSeconds}
	},
	parts: []part[catalog.AddOn]{
		words(table{name: "add_on_fits", columns: `add_on, position, frame`},
			func(a *catalog.AddOn) *[]string { return &a.Fits }),
		list(table{name: "add_on_uses", columns: `add_on, position, mount, amount`},
			func(a *catalog.AddOn) *[]catalog.Use { return &a.Uses },
			func(u *catalog.Use) []any { return []any{&u.Mount, &u.Count} }),
		addOnNeeds,
		words(table{name: "add_on_excludes", columns: `add_on, position, excluded`},
			func(a *catalog.AddOn) *[]string { return &a.Excludes }),
		words(table{name: "add_on_provides", columns: `add_on, position, tag`},
			func(a *catalog.AddOn) *[]string { return &a.Provides }),
		list(table{name: "add_on_places", columns: `add_on, position, ` + placeColumns},
			func(a *catalog.AddOn) *[]catalog.Place { return &a.Places }, placeFields),
		placeNeeds(table{"add_on_place_needs", 4, `add_on, place, group_no, position, member`},
			func(a *catalog.AddOn) []catalog.Place { return a.Places }),
		addOnPairs,
	},
}

var addOnNeeds = rows[catalog.AddOn, member]{
	table:  table{"add_on_needs", 3, `add_on, group_no, position, member`},
	take:   func(a *catalog.AddOn) []member { return members(0, a.Needs) },
	put:    func(a *catalog.AddOn, m member) { m.join(&a.Needs) },
	fields: func(m *member) []any { return []any{&m.group, &m.position, &m.name} },
}

// pair is what differs on one certain frame.
type pair struct {
	frame string
	catalog.Pair
}

var addOnPairs = rows[catalog.AddOn, pair]{
	table: table{"add_on_pairs", 2, `add_on, frame, fitting_minutes, max_load_g, front_overhang_mm,
		rear_overhang_mm, overall_width_mm, overall_height_mm, blocks_upright, note`},
	take: func(a *catalog.AddOn) []pair {
		var all []pair
		for _, frame := range slices.Sorted(maps.Keys(a.OnFrame)) {
			all = append(all, pair{frame, a.OnFrame[frame]})
		}
		return all
	},
	put: func(a *catalog.AddOn, p pair) {
		if a.OnFrame == nil {
			a.OnFrame = map[string]catalog.Pair{}
		}
		a.OnFrame[p.frame] = p.Pair
	},
	fields: func(p *pair) []any {
		return []any{&p.frame, &p.FittingMinutes, &p.MaxLoad, &p.FrontOverhang,
			&p.RearOverhang, &p.OverallWidth, &p.OverallHeight, &p.BlocksUpright, &p.Note}
	},
}
