package match

import (
	"context"
	"slices"

	"kinwain/internal/catalog"
	"kinwain/internal/measure"
	"kinwain/internal/profile"
)

// OnUnit judges a frame as one unit of it stands in the shop: with what is on
// it, and at the weight that the scale read, where it was weighed. The error
// is that of the context. The unit's frame must be in the catalogue.
func OnUnit(ctx context.Context, c *catalog.Catalogue, u *catalog.Unit, p *profile.Profile, s Settings) (*Match, error) {
	return NewReady(c).OnUnit(ctx, u, p, s)
}

// UnitWeight returns what a unit weighs ready to ride, and whether the scale
// says so or the makers' figures do.
func UnitWeight(c *catalog.Catalogue, u *catalog.Unit) (weight measure.Mass, weighed bool) {
	if u.Weighed > 0 {
		return u.Weighed, true
	}
	return computedWeight(c, c.Frame(u.Frame), OnBike(c, u)), false
}

// computedWeight is the bare weight, plus what is on the bike beyond what the
// frame comes with, less what of that is not on it.
func computedWeight(c *catalog.Catalogue, f *catalog.Frame, on []string) measure.Mass {
	weight := f.BareWeight
	for _, code := range on {
		if a := c.AddOn(code); a != nil {
			weight += a.Weight
		}
	}
	for _, code := range f.ComesWith {
		if a := c.AddOn(code); a != nil {
			weight -= a.Weight
		}
	}
	return weight
}

// OnBike lists the codes of all that is on a unit: what is listed as fitted,
// and what its frame comes with unless that had to make room: where both want
// more of a mount than there is, or exclude each other.
func OnBike(c *catalog.Catalogue, u *catalog.Unit) []string {
	f := c.Frame(u.Frame)
	on, listed := slices.Clone(u.Fitted), slices.Clone(u.Fitted)
	for _, code := range f.ComesWith {
		if i := slices.Index(listed, code); i >= 0 {
			listed = slices.Delete(listed, i, i+1) // it is there, and said to be
		} else if goesWith(c, f, on, code) {
			on = append(on, code)
		}
	}
	return on
}

// goesWith reports whether a part has room beside what is on the bike.
func goesWith(c *catalog.Catalogue, f *catalog.Frame, on []string, code string) bool {
	part := c.AddOn(code)
	if part == nil {
		return false
	}
	used := map[string]int{}
	for _, other := range on {
		a := c.AddOn(other)
		if a == nil {
			continue
		}
		if slices.Contains(a.Excludes, code) || slices.Contains(part.Excludes, other) {
			return false
		}
		for _, use := range a.Uses {
			used[use.Mount] += use.Count
		}
	}
	return !slices.ContainsFunc(part.Uses, func(use catalog.Use) bool { return used[use.Mount]+use.Count > f.Capacity(use.Mount) })
}

// TestRide returns what of a profile bears on a ride from the shop today: who
// rides and who may ride along. Home, budget, pet and cargo stay out of it.
// Passengers who join on a later day stay behind, and their labels are
// returned; everybody else is judged as they are today.
func TestRide(p *profile.Profile) (ride *profile.Profile, behind []string) {
	ride = RideAlone(p)
	list, ok := p.Passengers.Get()
	if !ok {
		ride.Passengers = p.Passengers
		return ride, nil
	}
	var along []profile.Passenger
	for _, one := range list {
		if joins, later := one.JoinsOn(p.AsOf); later && p.AsOf.Before(joins) {
			behind = append(behind, one.Label)
			continue
		}
		one.Joins = profile.Answer[profile.Month]{} // a month that has begun makes nobody older today
		along = append(along, one)
	}
	if along != nil {
		ride.Passengers = profile.Given(along)
	}
	return ride, behind
}

// RideAlone returns the profile of a ride from the shop without passengers.
func RideAlone(p *profile.Profile) *profile.Profile {
	return &profile.Profile{Version: p.Version, AsOf: p.AsOf, Objective: p.Objective, Riders: p.Riders}
}
