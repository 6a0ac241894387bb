package ride

import (
	"fmt"
	"math"

	"kinwain/internal/measure"
)

// mile is a statute mile in metres, exactly (1959 agreement).
const mile = 1609.344

// foot is a foot in millimetres, exactly (the same agreement).
const foot = 304.8

// Show writes the speed with one decimal, rounded down: 5.1 km/h, 3.1 mph.
func (v Speed) Show(s measure.System) string { return showTenths(v.tenths(s), s) }

// ShowOver writes by how much the speed is over another one: the difference of
// the two as Show writes them.
func (v Speed) ShowOver(other Speed, s measure.System) string {
	return showTenths(v.tenths(s)-other.tenths(s), s)
}

// tenths counts tenths of the unit that the system shows.
func (v Speed) tenths(s measure.System) int64 {
	unit := 1000.0
	if s == measure.Imperial {
		unit = mile
	}
	return int64(math.Floor(float64(v)*3600/unit*10 + 1e-9)) // a speed in whole metres an hour is itself again
}

func showTenths(n int64, s measure.System) string {
	return fmt.Sprintf("%d.%d %s", n/10, n%10, [...]string{"km/h", "mph"}[s])
}

// ShowRolled writes how far a turn of the cranks goes, to the nearest: 1.87 m,
// 6.1 ft.
func ShowRolled(l measure.Length, s measure.System) string { return showSteps(steps(l, s), s) }

// ShowRolledOver writes by how much one turn goes further than another: the
// difference of the two as ShowRolled writes them.
func ShowRolledOver(l, other measure.Length, s measure.System) string {
	return showSteps(steps(l, s)-steps(other, s), s)
}

// steps counts hundredths of a metre or tenths of a foot.
func steps(l measure.Length, s measure.System) int64 {
	if s == measure.Imperial {
		return int64(math.Round(float64(l) / (foot / 10)))
	}
	return int64(math.Round(float64(l) / float64(measure.Centimetre)))
}

func showSteps(n int64, s measure.System) string {
	if s == measure.Imperial {
		return fmt.Sprintf("%.1f ft", float64(n)/10)
	}
	return fmt.Sprintf("%.2f m", float64(n)/100)
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
