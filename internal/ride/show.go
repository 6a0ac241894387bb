package ride

import (
	"fmt"
	"math"

	"kinhaul/internal/measure"
)

// mile is a statute mile in metres, exactly (1959 agreement).
const mile = 1609.344

// Show writes the speed with one decimal, rounded down: 5.1 km/h, 3.1 mph.
func (v Speed) Show(s measure.System) string {
	hourly, unit := float64(v)*3600/1000, "km/h"
	if s == measure.Imperial {
		hourly, unit = float64(v)*3600/mile, "mph"
	}
	return fmt.Sprintf("%.1f %s", math.Floor(hourly*10)/10, unit)
}

// Show writes the power in whole watts, rounded up: what a hill takes never
// looks less than it is.
func (w Watts) Show() string { return fmt.Sprintf("%.0f W", math.Ceil(float64(w))) }

// Show writes the pressure: 3.4 bar, 49 psi.
func (p Pressure) Show(s measure.System) string {
	if s == measure.Imperial {
		return fmt.Sprintf("%.0f psi", float64(p)/psi)
	}
	return fmt.Sprintf("%.1f bar", float64(p)/bar)
}
