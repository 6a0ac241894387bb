package load

import (
	"kinwain/internal/measure"
	"kinwain/internal/profile"
)

// Allowances are added to a rider's weight that was not read from a scale
// dressed to ride (common practice, no published source).
type Allowances struct {
	Undressed measure.Mass
	Stated    measure.Mass
}

// Rider is a rider whose weight is known.
type Rider struct {
	Label     string
	Own       measure.Mass // as read
	Riding    measure.Mass // dressed to ride: shoes, clothes, helmet, lock, bag
	Estimated bool         // Riding holds an allowance
}

// Riders returns the riders of a profile whose weight is known, in its order.
func Riders(p *profile.Profile, a Allowances) []Rider {
	var riders []Rider
	for _, r := range p.Riders {
		own, ok := r.Weight.Get()
		if !ok {
			continue
		}
		rider := Rider{Label: r.Label, Own: own, Riding: own}
		switch r.Weighed.Or(profile.Stated) {
		case profile.Undressed:
			rider.Riding, rider.Estimated = own+a.Undressed, true
		case profile.Stated:
			rider.Riding, rider.Estimated = own+a.Stated, true
		}
		riders = append(riders, rider)
	}
	return riders
}

// Heaviest returns the greatest riding weight, zero of none.
func Heaviest(riders []Rider) measure.Mass {
	var heaviest measure.Mass
	for _, r := range riders {
		heaviest = max(heaviest, r.Riding)
	}
	return heaviest
}
