package recheck

import (
	"slices"
	"strings"
)

// A frame that cannot do all that is asked has sheets of all of it, over the
// line. Where everybody would sit then is not told, so that only what follows
// from the sums is worked out anew.

// whole puts all that was asked for on the sums.
func (r *recheck) whole() {
	a, f := r.match.Asked, r.frame
	r.list = r.fittedWith(a.AddOns, a.TakenOff)
	weight, inZones := grams(0), grams(0)
	for _, code := range a.AddOns {
		weight += r.addOn(code).Weight
	}
	for _, code := range a.TakenOff {
		weight -= r.addOn(code).Weight
	}
	for _, code := range r.list {
		if r.addOn(code).Zone != "" {
			inZones += r.addOn(code).Weight
		}
	}
	if weight != a.Weight {
		r.complain("what was asked weighs %d, but %d", a.Weight, weight)
	}
	r.sums = sums{carried: r.everything(), cargo: r.profile.Cargo.value}
	r.sums.whole = f.Bare + weight + r.sums.carried
	if len(r.match.Loads) == 0 {
		r.sums.zones, r.sums.combined = make([]grams, len(f.Zones)), make([]grams, len(f.Combined))
		return
	}
	first := r.match.Loads[0]
	for _, z := range first.Zones {
		r.sums.zones = append(r.sums.zones, z.Mass)
		inZones -= z.Mass
	}
	if inZones += r.sums.carried - a.NoPlace; inZones != 0 {
		r.complain("the zones miss %d g of what was asked", inZones)
	}
	for i, c := range f.Combined {
		sum := grams(0)
		for _, code := range c.Zones {
			sum += r.sums.zones[f.zone(code)]
		}
		if r.sums.combined = append(r.sums.combined, sum); sum != first.Combined[i].Mass {
			r.complain("zones %v together", c.Zones)
		}
	}
}

// untoldIn reports whether a reason or a limit follows from where everybody
// would sit.
func (r *recheck) untoldIn(s reason) bool {
	if r.match.Asked == nil {
		return false
	}
	switch s.Code {
	case "front_light", "side_load":
		return true
	case "stand_rating", "brakes":
		return r.match.Asked.NoPlace > 0 || s.Code == "brakes" && s.Over == 0
	case "spec_missing", "source_missing":
		return r.match.Asked.NoPlace > 0 || strings.ContainsAny(s.Field, "[.")
	}
	return false
}

// seatedCount is how many have a place.
func (r *recheck) seatedCount() int {
	if r.match.Asked == nil {
		return len(r.match.Build.Seating)
	}
	return r.riding()
}

// untoldLimit reports whether a limit is of what somebody sits in or what
// carries something, in a set of add-ons whose seats are not told.
func (r *recheck) untoldLimit(l limit) bool {
	kind, _, _ := strings.Cut(l.Rating, ":")
	return r.match.Asked != nil && slices.Contains([]string{"add_on", "place"}, kind) && l.Spare == l.Most-l.Mass && l.Mass > 0
}
