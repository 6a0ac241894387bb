package recheck

import "slices"

// What a search says is in the way: not whether no build holds, which is held
// to other references, but that what is said can be so.

// plausible checks each reason that a search found.
func (r *recheck) plausible() {
	p, riding := r.profile, r.riding()
	asked := map[string]bool{
		"pet_place": p.Pet.value > 0, "cargo_weight": p.Cargo.value > 0, "cargo_volume": p.Litres.value > 0,
		"place_missing": riding > 0, "place_limits": riding > 0, "passengers_max": r.frame.Seats > 0 && riding > r.frame.Seats,
		"storage_space": p.Home.given, "storage_way": p.Home.given, "upright": p.Home.value.Upright.value,
		"combined_rating": len(r.frame.Combined) > 0, "axle_rating": r.frame.statesAxles(), "front_light": r.frame.statesAxles(), "gross_rating": true,
		"zone_rating":   slices.ContainsFunc(r.frame.Zones, func(z zone) bool { return z.Rating > 0 }),
		"add_on_rating": slices.ContainsFunc(r.catalogue.AddOns, func(a addOn) bool { return r.addOn(a.Code).MaxLoad > 0 }),
	}
	for _, s := range r.searched {
		if !asked[s.Code] {
			r.complain("%s, which nothing asks for", s.Code)
		}
		if s.Zone != "" && s.Code == "zone_rating" && r.frame.zone(s.Zone) < 0 || s.AddOn != "" && r.addOn(s.AddOn) == nil {
			r.complain("%s names what is not there: %+v", s.Code, s)
		}
	}
	if r.match.Asked != nil {
		r.overTheLine()
	}
}

// demands are the rules that ask for something; the others forbid.
var demands = []string{"place_missing", "pet_place", "cargo_weight", "cargo_volume"}

// overTheLine checks that the sheet of all that was asked and the reasons say
// the same: what is over on the one is over by as much in the others.
func (r *recheck) overTheLine() {
	says := func(code string, over grams, in string) {
		if !slices.ContainsFunc(r.searched, func(s reason) bool { return s.Code == code && (in == "" || s.Zone != in || s.Over == over) }) {
			r.complain("%d g over on the sheet, and no %s of %s says so", over, code, in)
		}
	}
	worst := grams(0)
	for _, s := range r.match.Loads {
		worst = min(worst, s.Spare)
	}
	for _, s := range r.searched {
		if s.Code == "gross_rating" && worst < 0 && s.Over != -worst {
			r.complain("%d g over, and %d on the sheet", s.Over, -worst)
		}
	}
	// What nothing bears or holds is put somewhere all the same, over whatever.
	unborne := slices.ContainsFunc(r.searched, func(s reason) bool { return slices.Contains(demands, s.Code) })
	if r.match.Asked.NoPlace > 0 || len(r.match.Loads) == 0 || unborne {
		return
	}
	if worst < 0 {
		says("gross_rating", -worst, "")
	}
	for i, z := range r.frame.Zones {
		if over := r.sums.zones[i] - z.Rating; z.Rating > 0 && over > 0 {
			says("zone_rating", over, z.Code)
		}
	}
	for i, c := range r.frame.Combined {
		if over := r.sums.combined[i] - c.Rating; over > 0 {
			says("combined_rating", over, "")
		}
	}
}
