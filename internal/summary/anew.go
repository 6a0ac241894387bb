package summary

import (
	"context"
	"errors"
	"slices"

	"kinwain/internal/catalog"
	"kinwain/internal/fitting"
	"kinwain/internal/match"
	"kinwain/internal/measure"
	"kinwain/internal/problem"
	"kinwain/internal/profile"
)

// Anew is what a scale and a tape said at home of those whom a summary is for,
// on a later day; by their places in its profile. Nothing of it is kept.
type Anew struct {
	Day        measure.Date
	Riders     map[int]RiderAnew
	Passengers map[int]PassengerAnew
}

// RiderAnew is the scale's reading of a rider, and how it came about.
type RiderAnew struct {
	Weight  measure.Mass
	Weighed profile.Weighed
}

// PassengerAnew is what was read of a passenger; what is 0 was not.
type PassengerAnew struct {
	Weight  measure.Mass
	Stature measure.Length
}

// Anew returns the people of the summary as they are by what was read of them.
// Where the riders' weights are left out, one that was not read anew is not
// known: whoever could see what comes of a child's weight under a rider's would
// work the rider's out by trying. The error is a problem.List of readings that
// cannot be right, by their paths in the profile.
func (k *Kept) Anew(a Anew) (*profile.Profile, error) {
	p := *k.Customer.Later(a.Day)
	p.Riders = slices.Clone(p.Riders)
	passengers := slices.Clone(p.Passengers.Or(nil))
	var read []string
	for i, r := range a.Riders {
		p.Riders[i].Weight, p.Riders[i].Weighed = profile.Given(r.Weight), profile.Given(r.Weighed)
		read = append(read, problem.Join(problem.Index("riders", i), "weight_kg"))
	}
	for i, c := range a.Passengers {
		at := problem.Index("passengers", i)
		if c.Weight != 0 {
			passengers[i].Weigh(c.Weight)
			read = append(read, problem.Join(at, "weight_kg"))
		}
		if c.Stature != 0 {
			passengers[i].Measure(c.Stature)
			read = append(read, problem.Join(at, "stature_cm"))
		}
	}
	if len(passengers) > 0 {
		p.Passengers = profile.Given(passengers)
	}
	if err := faults(&p, read); err != nil {
		return nil, err
	}
	if k.Hide {
		for i := range p.Riders {
			if _, anew := a.Riders[i]; !anew {
				p.Riders[i].Weight = profile.Unknown[measure.Mass]()
			}
		}
	}
	return &p, nil
}

// faults returns what is wrong with what was read. What time has made of the
// other answers is no fault of it.
func faults(p *profile.Profile, read []string) error {
	err := p.Check()
	var all problem.List
	if err != nil && !errors.As(err, &all) {
		return err
	}
	return problem.List(slices.DeleteFunc(all, func(f problem.Problem) bool { return !slices.Contains(read, f.Path) })).Err()
}

// Adds reports whether everything can be added up by what was read: where the
// riders' weights are left out, only once each of them was read anew.
func (k *Kept) Adds(a Anew) bool {
	for i := range k.Customer.Riders {
		if _, anew := a.Riders[i]; k.Hide && !anew && k.Customer.Riders[i].Weight.IsGiven() {
			return false
		}
	}
	return true
}

// Still judges the very add-ons of the summary, by the figures of its day, for
// its people as they are by what was read anew.
func (k *Kept) Still(ctx context.Context, p *profile.Profile) (*match.Match, error) {
	return k.Shop.ByHand(ctx, k.Frame(), p, k.On)
}

// TakesStature reports whether any place that the frame may have asks how tall
// a passenger is.
func (k *Kept) TakesStature() bool {
	asks := func(pl catalog.Place) bool { return pl.MaxStature > 0 }
	return slices.ContainsFunc(k.Frame().Places, asks) ||
		slices.ContainsFunc(k.Shop.Catalogue.AddOns, func(a catalog.AddOn) bool { return slices.ContainsFunc(a.Places, asks) })
}

// Elsewhere lists who sits on another add-on than they did.
func Elsewhere(then, now *match.Match) []fitting.Seated {
	var moved []fitting.Seated
	for _, s := range now.Seated {
		if i := slices.IndexFunc(then.Seated, func(was fitting.Seated) bool { return was.Passenger == s.Passenger }); i >= 0 && then.Seated[i].AddOn != s.AddOn {
			moved = append(moved, s)
		}
	}
	return moved
}

// Graver lists the reasons that ask for care, or rule the bike out, as they did
// not before.
func Graver(then, now *match.Match) []match.Reason {
	return slices.DeleteFunc(slices.Clone(now.Reasons), func(r match.Reason) bool {
		return r.Weight == match.Note || slices.ContainsFunc(then.Reasons, func(was match.Reason) bool {
			return was.Code == r.Code && was.Weight == r.Weight && was.Rider == r.Rider && was.Passenger == r.Passenger && r.Weight != match.Stop
		})
	})
}
