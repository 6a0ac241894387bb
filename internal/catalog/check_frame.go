package catalog

import (
	"kinwain/internal/measure"
	"kinwain/internal/problem"
)

// The plausible ranges are wide: they catch a slipped decimal point or a
// figure in the wrong unit, not an unusual bike.
const (
	kg = measure.Kilogram
	cm = measure.Centimetre

	maxPrice = measure.Money(100_000_00)
)

func (k *checker) frame(path string, f *indexed) {
	at := func(field string) string { return problem.Join(path, field) }
	k.code(at("code"), f.Code)
	k.text(at("name"), f.Name, 80)
	k.note(at("family"), f.Family, 80)
	k.word(at("type"), f.Type, Types, false)
	k.note(at("material"), f.Material, 80)
	k.note(at("size"), f.Size, 40)
	k.frameRider(path, f.Frame)
	k.frameSize(path, f.Frame)
	k.frameParts(path, f.Frame)
	codes := seen{}
	for i, z := range f.Zones {
		k.zone(problem.Index(at("zones"), i), codes, z)
	}
	if len(f.Zones) == 0 {
		k.Add(at("zones"), problem.Missing, "at least one zone is needed")
	}
	k.combined(at("combined"), f)
	k.mounts(at("mounts"), f.Frame)
	k.few(at("places"), len(f.Places), 12, "places of a frame's own")
	k.few(at("comes_with"), len(f.ComesWith), 24, "add-ons that a frame comes with")
	for i := range f.Places {
		p := problem.Index(at("places"), i)
		if !f.zones[f.Places[i].Zone] {
			k.Add(problem.Join(p, "zone"), problem.NotFound, "a frame's own place lies in one of its zones; %q is none", f.Places[i].Zone)
		}
		k.place(p, &f.Places[i])
	}
	k.tags(at("provides"), f.Provides)
	k.comesWith(at("comes_with"), f)
	k.note(at("notes"), f.Notes, 2000)
}

// frameRider checks what the frame weighs and bears, whom it suits and what it
// costs.
func (k *checker) frameRider(path string, f *Frame) {
	at := func(field string) string { return problem.Join(path, field) }
	problem.Required(&k.List, at("gross_rating_kg"), f.GrossRating, 40*kg, 600*kg)
	if f.GrossRating > 0 && f.GrossRating <= f.BareWeight {
		k.Add(at("gross_rating_kg"), problem.Conflict, "the gross rating of %v is not above the bare weight of %v",
			f.GrossRating, f.BareWeight)
	}
	problem.Required(&k.List, at("bare_weight_kg"), f.BareWeight, 5*kg, 200*kg)
	problem.Required(&k.List, at("rider_min_cm"), f.RiderMin, 80*cm, 230*cm)
	problem.Required(&k.List, at("rider_max_cm"), f.RiderMax, 80*cm, 230*cm)
	if f.RiderMin > 0 && f.RiderMax > 0 && f.RiderMin >= f.RiderMax {
		k.Add(at("rider_max_cm"), problem.Conflict, "the tallest rider must be taller than the shortest, %v", f.RiderMin)
	}
	problem.Stated(&k.List, at("rider_max_kg"), f.RiderMaxMass, 30*kg, 300*kg)
	problem.Within(&k.List, at("passengers_max"), f.PassengersMax, 0, 12)
	problem.Stated(&k.List, at("standover_cm"), f.Standover, 10*cm, 120*cm)
	problem.Stated(&k.List, at("saddle_min_cm"), f.SaddleMin, 20*cm, 120*cm)
	problem.Stated(&k.List, at("saddle_max_cm"), f.SaddleMax, 20*cm, 120*cm)
	if f.SaddleMin > 0 && f.SaddleMax > 0 && f.SaddleMin > f.SaddleMax {
		k.Add(at("saddle_max_cm"), problem.Conflict, "the highest saddle must not be below the lowest, %v", f.SaddleMin)
	}
	problem.Required(&k.List, at("price_cents"), f.Price, 1, maxPrice)
}

// frameSize checks the outer sizes and what the axle loads are computed from.
func (k *checker) frameSize(path string, f *Frame) {
	at := func(field string) string { return problem.Join(path, field) }
	problem.Required(&k.List, at("length_cm"), f.Length, 80*cm, 500*cm)
	problem.Required(&k.List, at("width_cm"), f.Width, 20*cm, 200*cm)
	problem.Required(&k.List, at("height_cm"), f.Height, 50*cm, 250*cm)
	if f.CanStand() {
		problem.Required(&k.List, at("upright.length_cm"), f.Upright.Length, 20*cm, 300*cm)
		problem.Required(&k.List, at("upright.width_cm"), f.Upright.Width, 20*cm, 200*cm)
		problem.Required(&k.List, at("upright.height_cm"), f.Upright.Height, 50*cm, 400*cm)
	}
	problem.Stated(&k.List, at("wheelbase_cm"), f.Wheelbase, 50*cm, 350*cm)
	problem.Within(&k.List, at("rider_ahead_of_rear_axle_cm"), f.RiderAhead, -50*cm, 250*cm)
	problem.Within(&k.List, at("bare_front_share"), f.BareFrontShare, 0, measure.Whole)
	problem.Stated(&k.List, at("front_axle_max_kg"), f.FrontAxleRating, 10*kg, 600*kg)
	problem.Stated(&k.List, at("rear_axle_max_kg"), f.RearAxleRating, 10*kg, 600*kg)
}

func (k *checker) frameParts(path string, f *Frame) {
	at := func(field string) string { return problem.Join(path, field) }
	for _, t := range [...]struct{ field, tyre string }{{"front_tyre", f.FrontTyre}, {"rear_tyre", f.RearTyre}} {
		if t.tyre != "" && !tyreForm.MatchString(t.tyre) {
			k.Add(at(t.field), problem.OutOfRange, "write the ISO 5775 size, width and bead seat in millimetres, such as 50-406")
		}
	}
	k.word(at("front_brake"), f.FrontBrake, Brakes, false)
	k.word(at("rear_brake"), f.RearBrake, Brakes, false)
	for i, teeth := range f.Chainrings {
		problem.Within(&k.List, problem.Index(at("chainring"), i), teeth, 10, 80)
	}
	for i, teeth := range f.Sprockets {
		problem.Within(&k.List, problem.Index(at("sprockets"), i), teeth, 8, 60)
	}
	problem.Within(&k.List, at("assist_watts"), f.AssistWatts, 0, 2000)
}

func (k *checker) zone(path string, codes seen, z Zone) {
	at := func(field string) string { return problem.Join(path, field) }
	k.code(at("code"), z.Code)
	if codes.again(z.Code) {
		k.Add(at("code"), problem.Duplicate, "this frame has two zones named %q", z.Code)
	}
	problem.Stated(&k.List, at("rating_kg"), z.Rating, 1*kg, 400*kg)
	problem.Within(&k.List, at("ahead_of_rear_axle_cm"), z.Ahead, -150*cm, 350*cm)
	problem.Within(&k.List, at("height_cm"), z.Height, 0, 200*cm)
	k.word(at("side"), z.Side, Sides, false)
	problem.Within(&k.List, at("cargo_kg"), z.Cargo, 0, 400*kg)
	problem.Within(&k.List, at("cargo_litres"), z.CargoVolume, 0, 2000*measure.Litre)
}

func (k *checker) combined(path string, f *indexed) {
	for i, c := range f.Combined {
		p := problem.Index(path, i)
		if len(c.Zones) < 2 {
			k.Add(problem.Join(p, "zones"), problem.Missing, "a combined rating is over two zones or more")
		}
		codes := seen{}
		for j, zone := range c.Zones {
			zp := problem.Index(problem.Join(p, "zones"), j)
			switch {
			case !f.zones[zone]:
				k.Add(zp, problem.NotFound, "this frame has no zone %q", zone)
			case codes.again(zone):
				k.Add(zp, problem.Duplicate, "the zone %q is named twice", zone)
			}
		}
		problem.Required(&k.List, problem.Join(p, "rating_kg"), c.Rating, 1*kg, 400*kg)
	}
}

func (k *checker) mounts(path string, f *Frame) {
	codes := seen{}
	for i, m := range f.Mounts {
		p := problem.Index(path, i)
		k.code(problem.Join(p, "code"), m.Code)
		if codes.again(m.Code) {
			k.Add(problem.Join(p, "code"), problem.Duplicate, "this frame has two mounts named %q", m.Code)
		}
		problem.Within(&k.List, problem.Join(p, "capacity"), m.Capacity, 1, 10000)
	}
}

func (k *checker) tags(path string, tags []string) {
	for i, tag := range tags {
		p := problem.Index(path, i)
		k.code(p, tag)
		if k.addOns[tag] != nil {
			k.Add(p, problem.Conflict, "%q is the code of an add-on; a tag needs a name of its own", tag)
		}
	}
}

// comesWith checks that the parts a frame is delivered with can be on it
// together: the solver starts from that state.
func (k *checker) comesWith(path string, f *indexed) {
	k.together(path, f)
	used, count := map[string]int{}, map[string]int{}
	for i, code := range f.ComesWith {
		p := problem.Index(path, i)
		a := k.addOns[code]
		if a == nil {
			k.Add(p, problem.NotFound, "there is no add-on %q", code)
			continue
		}
		if count[code]++; count[code] > a.Most() {
			k.Add(p, problem.Conflict, "%q can be fitted %d times at most", code, a.Most())
		}
		if a.Zone != "" && !f.zones[a.Zone] {
			k.Add(p, problem.NotFound, "%q sits in the zone %q, which this frame does not have", code, a.Zone)
		}
		for _, u := range a.Uses {
			if used[u.Mount] += u.Count; used[u.Mount] > f.mounts[u.Mount] {
				k.Add(p, problem.Conflict, "%q does not find room on the mount %q", code, u.Mount)
			}
		}
	}
}

// together checks that no two delivered parts exclude each other.
func (k *checker) together(path string, f *indexed) {
	for i, code := range f.ComesWith {
		a := k.addOns[code]
		if a == nil {
			continue
		}
		for _, other := range a.Excludes {
			if f.delivered[other] {
				k.Add(problem.Index(path, i), problem.Conflict, "%q and %q exclude each other and cannot both come with the frame", code, other)
			}
		}
	}
}

// few bounds a list. Builds are found by trying who sits where: what is far
// beyond any bike would keep everyone waiting.
func (k *checker) few(path string, n, most int, of string) {
	if n > most {
		k.Add(path, problem.OutOfRange, "at most %d %s are judged here", most, of)
	}
}
