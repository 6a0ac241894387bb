package recheck

import (
	"encoding/json"
	"maps"
	"math"
	"os"
	"slices"
	"strings"
)

// Random catalogues: a few frames of the demo shop with their add-ons, of
// which figures are left out, shrunk, or moved.

// demo is the demo shop without its units and without what is only read.
var demo = func() document {
	data, err := os.ReadFile("../../testdata/demo.json")
	if err != nil {
		panic(err)
	}
	var c document
	if err := json.Unmarshal(data, &c); err != nil {
		panic(err)
	}
	c["units"] = []any{}
	for _, list := range []string{"frames", "add_ons"} {
		for _, thing := range listOf(c, list) {
			for _, text := range []string{"names", "notes", "notes_in", "manual"} {
				delete(thing, text)
			}
		}
	}
	return c
}()

// cloned is a copy that may be changed on its own.
func cloned[T any](thing T) T {
	switch v := any(thing).(type) {
	case document:
		other := make(document, len(v))
		for name, value := range v {
			other[name] = cloned(value)
		}
		return any(other).(T)
	case []any:
		other := make([]any, len(v))
		for i, value := range v {
			other[i] = cloned(value)
		}
		return any(other).(T)
	}
	return thing
}

func listOf(doc document, name string) []document {
	list, _ := doc[name].([]any)
	docs := make([]document, len(list))
	for i := range list {
		docs[i] = list[i].(document)
	}
	return docs
}

func figureOf(doc document, name string) float64 {
	f, _ := doc[name].(float64)
	return f
}

func (d dice) wares() document {
	c := cloned(demo)
	frames := c["frames"].([]any)
	d.Shuffle(len(frames), func(i, j int) { frames[i], frames[j] = frames[j], frames[i] })
	keep(c, frames[:2+d.IntN(4)])
	if d.chance(85) {
		for _, f := range listOf(c, "frames") {
			d.disturb(f)
		}
		for _, a := range listOf(c, "add_ons") {
			if d.chance(40) {
				d.alter(a)
			}
		}
	}
	for _, list := range []string{"frames", "add_ons"} {
		for _, thing := range listOf(c, list) {
			d.note(thing)
		}
	}
	return c
}

// note notes of some of what a load is held against where it comes from.
func (d dice) note(thing document) {
	var noted []any
	note := func(figure string, stated float64) {
		if stated > 0 && d.chance(60) {
			noted = append(noted, document{"figure": figure, "kind": "manual", "on": "2026-03"})
		}
	}
	note("gross_rating_kg", figureOf(thing, "gross_rating_kg"))
	for _, z := range listOf(thing, "zones") {
		note("zones["+z["code"].(string)+"].rating_kg", figureOf(z, "rating_kg"))
	}
	for i, p := range listOf(thing, "places") {
		for _, limit := range []string{"min_months", "max_months", "min_kg", "max_kg", "max_stature_cm"} {
			note("places["+digits(i)+"]."+limit, figureOf(p, limit))
		}
	}
	note("max_load_kg", figureOf(thing, "max_load_kg"))
	note("pet_kg", figureOf(thing, "pet_kg"))
	pairs, _ := thing["on_frame"].(document)
	for _, frame := range slices.Sorted(maps.Keys(pairs)) {
		if len(pairs[frame].(document)) > 0 {
			note("on_frame."+frame, 1)
		}
	}
	if thing["evidence"] = noted; noted == nil {
		delete(thing, "evidence")
	}
}

// keep leaves only some frames in a catalogue, and what goes on them.
func keep(c document, frames []any) {
	c["frames"] = frames
	codes := map[any]bool{}
	for _, f := range listOf(c, "frames") {
		codes[f["code"]] = true
	}
	gone := map[any]bool{}
	var left []any
	for _, a := range listOf(c, "add_ons") {
		a["fits"] = slices.DeleteFunc(a["fits"].([]any), func(code any) bool { return !codes[code] })
		if on, ok := a["on_frame"].(document); ok {
			for code := range on {
				if !codes[code] {
					delete(on, code)
				}
			}
		}
		if noted, ok := a["evidence"].([]any); ok {
			a["evidence"] = slices.DeleteFunc(noted, func(e any) bool {
				frame, pair := strings.CutPrefix(e.(document)["figure"].(string), "on_frame.")
				return pair && !codes[frame]
			})
		}
		comes := slices.ContainsFunc(listOf(c, "frames"), func(f document) bool {
			list, _ := f["comes_with"].([]any)
			return slices.Contains(list, a["code"])
		})
		if len(a["fits"].([]any)) == 0 && !comes {
			gone[a["code"]] = true
			continue
		}
		left = append(left, a)
	}
	c["add_ons"] = left
	for _, a := range listOf(c, "add_ons") {
		if list, ok := a["excludes"].([]any); ok {
			a["excludes"] = slices.DeleteFunc(list, func(code any) bool { return gone[code] })
		}
	}
}

// unstated are the figures that a maker may leave open.
var unstated = []string{"rider_max_kg", "passengers_max", "standover_cm", "saddle_min_cm", "saddle_max_cm", "wheelbase_cm", "rider_ahead_of_rear_axle_cm",
	"bare_front_share", "front_axle_max_kg", "rear_axle_max_kg", "front_tyre", "rear_tyre", "front_brake", "rear_brake", "chainring", "sprockets",
	"combined", "upright", "provides", "assist_watts"}

func (d dice) disturb(f document) {
	for range d.IntN(4) {
		delete(f, one(d, unstated...))
	}
	some := func(percent int, name string, value any) {
		if d.chance(percent) {
			f[name] = value
		}
	}
	wheelbase := figureOf(f, "wheelbase_cm")
	if wheelbase == 0 && d.chance(70) {
		wheelbase = d.within(100, 190, 1)
		f["wheelbase_cm"], f["rider_ahead_of_rear_axle_cm"], f["bare_front_share"] = wheelbase, math.Round(wheelbase*0.33), 0.45
	}
	some(25, "bare_front_share", d.within(0.2, 0.65, 0.0001))
	some(25, "rider_ahead_of_rear_axle_cm", d.within(12, 60, 0.1))
	some(25, "front_axle_max_kg", d.within(45, 160, 0.001))
	some(25, "rear_axle_max_kg", d.within(95, 190, 0.001))
	some(15, "rider_max_kg", d.within(75, 140, 0.001))
	some(15, "passengers_max", 1+d.IntN(4))
	some(20, "odd_wheel", d.chance(50))
	for _, brake := range []string{"front_brake", "rear_brake"} {
		some(30, brake, one(d, "hydraulic_disc", "cable_disc", "hydraulic_rim", "cable_rim", "drum", "roller", "coaster", ""))
	}
	some(15, "gross_rating_kg", d.within(130, 260, 0.001))
	some(15, "bare_weight_kg", d.within(14, 60, 0.001))
	some(15, "price_cents", d.within(90000, 700000, 1))
	some(15, "width_cm", d.within(50, 95, 0.1))
	some(15, "length_cm", d.within(160, 270, 0.1))
	some(10, "upright", document{"length_cm": d.within(50, 110, 0.1), "width_cm": d.within(50, 90, 0.1), "height_cm": d.within(150, 230, 0.1)})
	some(15, "sprockets", one(d, []any{22.0}, []any{11.0, 34.0}, []any{18.0}))
	for _, z := range listOf(f, "zones") {
		switch d.IntN(6) {
		case 0:
			delete(z, "rating_kg")
		case 1:
			z["rating_kg"] = d.within(5, 90, 0.001)
		case 2:
			z["ahead_of_rear_axle_cm"] = d.within(-40, 160, 0.5)
		}
		if d.chance(15) {
			z["side"] = one(d, "left", "right", "centre")
		}
		if d.chance(8) {
			z["cargo_kg"], z["cargo_litres"] = d.within(0, 50, 1), d.within(0, 120, 1)
		}
	}
}

func (d dice) alter(a document) {
	some := func(percent int, name string, value any) {
		if d.chance(percent) {
			a[name] = value
		}
	}
	some(20, "weight_kg", d.within(0.3, 9, 0.001))
	some(15, "price_cents", d.within(0, 60000, 1))
	some(20, "fitting_minutes", d.IntN(90))
	some(12, "max_load_kg", d.within(0, 60, 0.001))
	some(12, "front_overhang_cm", d.within(0, 40, 0.1))
	some(12, "rear_overhang_cm", d.within(0, 40, 0.1))
	some(10, "overall_width_cm", d.within(60, 100, 0.1))
	some(12, "overall_height_cm", d.within(90, 150, 0.1))
	some(10, "blocks_upright", d.chance(50))
	some(8, "needs", []any{})
	some(8, "provides", []any{})
	if a["zone"] == "" {
		some(40, "ahead_of_rear_axle_cm", d.within(-30, 140, 0.1))
	} else {
		some(15, "displaces_kg", d.within(0, 60, 0.001))
		some(15, "displaces_litres", d.within(0, 100, 0.001))
	}
	if provides, _ := a["provides"].([]any); slices.Contains(provides, any("two_leg_stand")) {
		some(60, "stand_max_kg", d.within(25, 140, 0.001))
	}
	if figureOf(a, "cargo_kg") > 0 {
		some(30, "cargo_kg", d.within(3, 60, 0.001))
		some(30, "cargo_litres", d.within(0, 120, 0.001))
	}
	for _, p := range listOf(a, "places") {
		switch d.IntN(8) {
		case 0:
			p["max_kg"] = d.within(max(10, figureOf(p, "min_kg")), 60, 0.001)
		case 1:
			if months := figureOf(p, "max_months"); months > 0 {
				p["max_months"] = d.within(figureOf(p, "min_months"), months+24, 1)
			}
		case 2:
			p["max_stature_cm"] = d.within(80, 160, 0.1)
		case 3:
			p["ahead_of_rear_axle_cm"] = d.within(-40, 120, 0.5)
		case 4:
			p["needs"] = []any{}
		}
	}
}
