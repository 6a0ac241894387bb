package quality

import (
	"fmt"
	"strings"

	"kinwain/internal/catalog"
	"kinwain/internal/problem"
)

// figure is something that a frame may state, by its path.
type figure struct {
	field, name string
	missing     bool
}

// unstated lists the figures that bear on a rule for some customer and that
// the maker does not state.
func unstated(f *catalog.Frame) []figure {
	all := []figure{
		{"rider_max_kg", "a limit for the rider’s weight", f.RiderMaxMass == 0},
		{"passengers_max", "a limit for the number of passengers", f.PassengersMax == 0},
		{"standover_cm", "a standover height", f.Standover == 0},
		{"saddle_min_cm", "the lowest saddle", f.SaddleMin == 0},
		{"saddle_max_cm", "the highest saddle", f.SaddleMax == 0},
		{"front_brake", "the front brake", f.FrontBrake == ""},
		{"rear_brake", "the rear brake", f.RearBrake == ""},
		{"front_axle_max_kg", "a rating for the front axle", f.FrontAxleRating == 0},
		{"rear_axle_max_kg", "a rating for the rear axle", f.RearAxleRating == 0},
		{"wheelbase_cm", "the wheelbase, which balance and axles need", f.Wheelbase == 0},
		{"rider_ahead_of_rear_axle_cm", "where the rider sits, which balance and axles need", f.RiderAhead == 0},
		{"bare_front_share", "how the bare weight is spread, which balance and axles need", f.BareFrontShare == 0},
	}
	for i, z := range f.Zones {
		all = append(all, figure{problem.Join(problem.Index("zones", i), "rating_kg"), "a rating for the zone " + z.Code, z.Rating == 0})
	}
	var missing []figure
	for _, f := range all {
		if f.missing {
			missing = append(missing, f)
		}
	}
	return missing
}

// either names the members of a group of needs.
func either(group []string) string { return strings.Join(group, " or ") }

func sentence(format string, args ...any) string { return fmt.Sprintf(format, args...) }
