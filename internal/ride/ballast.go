package ride

import (
	"kinwain/internal/catalog"
	"kinwain/internal/load"
	"kinwain/internal/measure"
)

// Ballast is what to load in one zone of a demo before anybody rides along:
// first half, then all of what the build would carry there.
type Ballast struct {
	Zone       string
	Half, Full measure.Mass
}

// Bottle is a common bottle of water, 1.5 litres and so 1.5 kg: ballast that
// every household has (common practice, no published source).
const Bottle = 1500 * measure.Gram

// Bottles returns how many whole bottles of water a mass is at most.
func Bottles(m measure.Mass) int { return int(m / Bottle) }

// BallastOf returns the load of every zone that carries people, a pet or
// cargo, in the order of the frame. Halves are rounded down to the gram.
func BallastOf(f *catalog.Frame, s *load.Sheet) []Ballast {
	inZone := make([]measure.Mass, len(f.Zones))
	for _, item := range s.Items {
		if item.Carried() && item.Spot.Zone != load.Nowhere {
			inZone[item.Spot.Zone] += item.Mass
		}
	}
	var list []Ballast
	for i, full := range inZone {
		if full > 0 {
			list = append(list, Ballast{f.Zones[i].Code, full / 2, full})
		}
	}
	return list
}
