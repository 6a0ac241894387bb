package catalog

import (
	"cmp"
	"maps"
	"slices"

	"kinwain/internal/measure"
	"kinwain/internal/problem"
)

func (k *checker) addOn(path string, a *AddOn) {
	at := func(field string) string { return problem.Join(path, field) }
	k.code(at("code"), a.Code)
	k.text(at("name"), a.Name, 80)
	// Nothing weighs nothing: an add-on without a weight would make every
	// load sheet it is on look safer than it is.
	problem.Required(&k.List, at("weight_kg"), a.Weight, 1*measure.Gram, 100*kg)
	problem.Within(&k.List, at("price_cents"), a.Price, 0, maxPrice)
	problem.Within(&k.List, at("fitting_minutes"), a.FittingMinutes, 0, 24*60)
	k.fits(at("fits"), a)
	k.uses(at("uses"), a)
	k.needs(at("needs"), a.Needs)
	k.excludes(at("excludes"), a)
	k.tags(at("provides"), a.Provides)
	k.carries(path, a)
	problem.Within(&k.List, at("front_overhang_cm"), a.FrontOverhang, 0, 200*cm)
	problem.Within(&k.List, at("rear_overhang_cm"), a.RearOverhang, 0, 200*cm)
	problem.Within(&k.List, at("overall_width_cm"), a.OverallWidth, 0, 200*cm)
	problem.Within(&k.List, at("overall_height_cm"), a.OverallHeight, 0, 250*cm)
	problem.Within(&k.List, at("removable_seconds"), a.RemovableSeconds, 0, 3600)
	k.pairs(at("on_frame"), a)
}

func (k *checker) carries(path string, a *AddOn) {
	at := func(field string) string { return problem.Join(path, field) }
	if a.Zone == "" && (len(a.Places) > 0 || a.Cargo > 0 || a.Pet > 0) {
		k.Add(at("zone"), problem.Missing, "what carries somebody or something lies in a zone")
	}
	problem.Within(&k.List, at("max_load_kg"), a.MaxLoad, 0, 400*kg)
	problem.Within(&k.List, at("cargo_kg"), a.Cargo, 0, 400*kg)
	problem.Within(&k.List, at("cargo_litres"), a.CargoVolume, 0, 2000*measure.Litre)
	problem.Within(&k.List, at("pet_kg"), a.Pet, 0, 150*kg)
	problem.Within(&k.List, at("up_to"), a.UpTo, 0, 8)
	k.few(at("places"), len(a.Places), 6, "places on an add-on")
	for i := range a.Places {
		p := problem.Index(at("places"), i)
		if a.Places[i].Zone != "" {
			k.Add(problem.Join(p, "zone"), problem.Conflict, "an add-on's place lies in the zone of the add-on; leave this out")
		}
		k.place(p, &a.Places[i])
	}
}

func (k *checker) uses(path string, a *AddOn) {
	mounts := seen{}
	for i, u := range a.Uses {
		p := problem.Index(path, i)
		k.code(problem.Join(p, "mount"), u.Mount)
		if mounts.again(u.Mount) {
			k.Add(problem.Join(p, "mount"), problem.Duplicate, "the mount %q is named twice", u.Mount)
		}
		problem.Within(&k.List, problem.Join(p, "count"), u.Count, 1, 10000)
	}
}

func (k *checker) needs(path string, groups [][]string) {
	for i, group := range groups {
		p := problem.Index(path, i)
		if len(group) == 0 {
			k.Add(p, problem.Missing, "a group names at least one add-on or tag")
		}
		for j, member := range group {
			k.code(problem.Index(p, j), member)
		}
	}
}

func (k *checker) excludes(path string, a *AddOn) {
	for i, code := range a.Excludes {
		p := problem.Index(path, i)
		switch {
		case code == a.Code:
			k.Add(p, problem.Conflict, "an add-on cannot exclude itself; up_to says how many fit")
		case k.addOns[code] == nil:
			k.Add(p, problem.NotFound, "there is no add-on %q", code)
		}
	}
}

func (k *checker) fits(path string, a *AddOn) {
	codes := seen{}
	for i, code := range a.Fits {
		p, f := problem.Index(path, i), k.frames[code]
		switch {
		case f == nil:
			k.Add(p, problem.NotFound, "there is no frame %q", code)
			continue
		case codes.again(code):
			k.Add(p, problem.Duplicate, "the frame %q is named twice", code)
		case a.Zone != "" && !f.zones[a.Zone]:
			k.Add(p, problem.NotFound, "the frame %q has no zone %q", code, a.Zone)
		}
		for _, u := range a.Uses {
			if f.mounts[u.Mount] < u.Count {
				k.Add(p, problem.Conflict, "the frame %q has no mount %q with room for %d", code, u.Mount, u.Count)
			}
		}
	}
}

func (k *checker) pairs(path string, a *AddOn) {
	if len(a.OnFrame) == 0 {
		return
	}
	fits := seen{}
	for _, code := range a.Fits {
		fits[code] = true
	}
	for _, code := range slices.Sorted(maps.Keys(a.OnFrame)) {
		p, pair := problem.Join(path, code), a.OnFrame[code]
		f := k.frames[code]
		if f == nil || !fits[code] && !f.delivered[a.Code] {
			k.Add(p, problem.NotFound, "this add-on neither fits a frame %q nor comes with one", code)
		}
		at := func(field string) string { return problem.Join(p, field) }
		differs(k, at("fitting_minutes"), pair.FittingMinutes, 24*60)
		differs(k, at("max_load_kg"), pair.MaxLoad, 400*kg)
		differs(k, at("front_overhang_cm"), pair.FrontOverhang, 200*cm)
		differs(k, at("rear_overhang_cm"), pair.RearOverhang, 200*cm)
		differs(k, at("overall_width_cm"), pair.OverallWidth, 200*cm)
		differs(k, at("overall_height_cm"), pair.OverallHeight, 250*cm)
		k.note(at("note"), pair.Note, 500)
	}
}

// differs checks a figure that a pair states; one that it leaves alone is
// checked where it stands.
func differs[T cmp.Ordered](k *checker, path string, figure *T, most T) {
	if figure != nil {
		var none T
		problem.Within(&k.List, path, *figure, none, most)
	}
}

func (k *checker) place(path string, p *Place) {
	at := func(field string) string { return problem.Join(path, field) }
	k.word(at("kind"), p.Kind, PlaceKinds, true)
	if p.Kind == "harnessed" && p.MinMonths == 0 {
		k.Add(at("min_months"), problem.Missing, "a harnessed place states the least age, in months")
	}
	problem.Within(&k.List, at("min_months"), p.MinMonths, 0, 240)
	problem.Within(&k.List, at("max_months"), p.MaxMonths, 0, 1200)
	if p.MaxMonths > 0 && p.MaxMonths < p.MinMonths {
		k.Add(at("max_months"), problem.Conflict, "the greatest age must not be below the least, %d months", p.MinMonths)
	}
	k.limits(path, p)
	problem.Within(&k.List, at("max_stature_cm"), p.MaxStature, 0, 230*cm)
	k.needs(at("needs"), p.Needs)
	problem.Within(&k.List, at("ahead_of_rear_axle_cm"), p.Ahead, -150*cm, 350*cm)
	problem.Within(&k.List, at("height_cm"), p.Height, 0, 200*cm)
}

// limits checks the weights that a place takes: a harnessed one states both.
func (k *checker) limits(path string, p *Place) {
	least, most := problem.Join(path, "min_kg"), problem.Join(path, "max_kg")
	if p.Kind == "harnessed" {
		problem.Required(&k.List, least, p.MinMass, 1*kg, 150*kg)
		problem.Required(&k.List, most, p.MaxMass, 1*kg, 150*kg)
	} else {
		problem.Within(&k.List, least, p.MinMass, 0, 150*kg)
		problem.Within(&k.List, most, p.MaxMass, 0, 200*kg)
	}
	if p.MaxMass > 0 && p.MaxMass < p.MinMass {
		k.Add(most, problem.Conflict, "the greatest weight must not be below the least, %v", p.MinMass)
	}
}

func (k *checker) unit(path string, u *Unit) {
	at := func(field string) string { return problem.Join(path, field) }
	if u.Tag == "" {
		k.Add(at("tag"), problem.Missing, "a tag is needed")
	} else if len(u.Tag) > maxCodeLength || !tagForm.MatchString(u.Tag) {
		k.Add(at("tag"), problem.OutOfRange, "write a tag in letters and digits joined by a dash, such as D-014")
	}
	if k.frames[u.Frame] == nil {
		k.Add(at("frame"), problem.NotFound, "there is no frame %q", u.Frame)
	}
	k.word(at("kind"), u.Kind, UnitKinds, true)
	k.note(at("colour"), u.Colour, 60)
	for i, code := range u.Fitted {
		if k.addOns[code] == nil {
			k.Add(problem.Index(at("fitted"), i), problem.NotFound, "there is no add-on %q", code)
		}
	}
	k.word(at("status"), u.Status, UnitStatuses, true)
	problem.Stated(&k.List, at("weighed_kg"), u.Weighed, 5*kg, 250*kg)
	if u.Weighed > 0 && u.WeighedOn.IsZero() {
		k.Add(at("weighed_on"), problem.Missing, "write the day on which it was weighed")
	}
	problem.Within(&k.List, at("odometer_km"), u.Odometer, 0, 1_000_000)
}
