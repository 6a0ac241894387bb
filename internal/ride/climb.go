package ride

import (
	"math"

	"kinwain/internal/catalog"
	"kinwain/internal/measure"
)

// Watts is a power at the pedals or of a motor.
type Watts float64

// Speed is a speed in metres per second.
type Speed float64

// kmh is one kilometre per hour.
const kmh Speed = 1 / 3.6

// MetresPerHour returns the speed as a whole number, rounded down, to compare
// and to keep.
func (v Speed) MetresPerHour() int64 { return int64(float64(v)*3600 + 1e-6) }

// The forces on a bike that climbs at an even speed: gravity, rolling and air,
// as in Martin et al., "Validation of a mathematical model for road cycling
// power", J. Appl. Biomech. 14 (1998) 276–291, without its bearings and the
// spin of its wheels, which are under 2 % on a hill.
const (
	gravity    = 9.80665 // m/s², standard gravity (3rd CGPM, 1901)
	rolling    = 0.010   // wide tyres under load on asphalt (common practice, no published source)
	airDensity = 1.225   // kg/m³ at sea level (ISO 2533)
	dragArea   = 0.63    // m², a rider sitting upright: 1.15 × 0.55 (Gross, Kyle and Malewicki, Scientific American, December 1983, from memory)
	efficiency = 0.976   // of the chain (Martin et al. 1998)
)

// AssistEnds is where the motor of an ordinary assisted bike leaves off
// (EN 15194). Other rules hold elsewhere.
const AssistEnds = 25 * kmh

// PerHour returns the speed of so many metres an hour.
func PerHour(metres int64) Speed { return Speed(metres) * kmh / 1000 }

// Hill is a hill and what the shop judges it by.
type Hill struct {
	Slope measure.Percentage
	// Slow is where a laden bike goes no quicker than pushed.
	Slow Speed
	// Turns is how often the cranks have to turn a minute, or it strains the
	// knees.
	Turns int64
}

// Outcome says how a climb goes.
type Outcome string

// The outcomes of a climb.
const (
	Rides       Outcome = "rides"        // with turns to spare, or the gears are not stated
	TooTall     Outcome = "too_tall"     // the power is there, the lowest gear turns too slowly
	TooSteep    Outcome = "too_steep"    // slower than Hill.Slow: no gear helps
	GearUnknown Outcome = "gear_unknown" // the power is there, the gears are not stated
)

// Climb is how a laden bike takes a hill.
type Climb struct {
	Outcome Outcome
	Effort  Watts // of the rider
	Assist  Watts // of the motor as the maker states it; zero where none is stated
	Speed   Speed // with the effort and the assist, in a gear that is low enough
	// Cadence is how often the cranks turn a minute at that speed in the
	// lowest gear; zero where the gears are not stated.
	Cadence float64
	// Needed is what the rider has to push, besides the assist, to go at
	// Hill.Slow.
	Needed Watts
}

// ClimbOf returns how a frame of a total mass takes a hill with an effort.
func ClimbOf(f *catalog.Frame, total measure.Mass, effort Watts, asked Hill) Climb {
	h := hillOf(total, asked.Slope)
	c := Climb{Effort: effort, Assist: Watts(f.AssistWatts), Speed: h.speed(effort)}
	if c.Assist > 0 {
		c.Speed = max(c.Speed, min(h.speed(effort+c.Assist), AssistEnds))
	}
	c.Needed = max(h.power(asked.Slow)-c.Assist, 0)
	gears, stated := GearsOf(f)
	if stated {
		c.Cadence = cadence(c.Speed, gears.Development(gears.Lowest))
	}
	switch {
	case c.Speed.MetresPerHour() < asked.Slow.MetresPerHour():
		c.Outcome = TooSteep
	case !stated:
		c.Outcome = GearUnknown
	case c.Cadence < float64(asked.Turns):
		c.Outcome = TooTall
	default:
		c.Outcome = Rides
	}
	return c
}

// cadence returns how often cranks turn a minute.
func cadence(v Speed, development measure.Length) float64 {
	return float64(v) * 60 * float64(measure.Metre) / float64(development)
}

// hill is the part of the force on a bike that its speed does not change, in
// newtons.
type hill float64

func hillOf(total measure.Mass, slope measure.Percentage) hill {
	angle := math.Atan(float64(slope) / float64(measure.Whole))
	weight := gravity * float64(total) / float64(measure.Kilogram)
	return hill(weight * (math.Sin(angle) + rolling*math.Cos(angle)))
}

// power returns what it takes at the pedals to keep a speed.
func (h hill) power(v Speed) Watts {
	drag := airDensity * dragArea * float64(v*v) / 2
	return Watts((float64(h) + drag) * float64(v) / efficiency)
}

// speed returns the speed that a power keeps up. Power rises with speed, so
// that halving finds it; after sixty steps from 100 m/s nothing is left to
// halve.
func (h hill) speed(p Watts) Speed {
	low, high := Speed(0), Speed(100)
	for range 60 {
		if middle := (low + high) / 2; h.power(middle) > p {
			high = middle
		} else {
			low = middle
		}
	}
	return low
}

// LeastEffort and MostEffort bound what a rider keeps up, however light or
// heavy (common practice, no published source).
const (
	LeastEffort Watts = 60
	MostEffort  Watts = 250
)

// EffortOf returns what a rider of a weight keeps up on a hill, given how much
// that is of a kilogram in milliwatts.
func EffortOf(own measure.Mass, milliwatts int64) Watts {
	watts := Watts(milliwatts) / 1000 * Watts(own) / Watts(measure.Kilogram)
	return min(max(watts, LeastEffort), MostEffort)
}

// HillSpeed returns how fast a frame of a total mass climbs a slope with an
// effort and what its motor gives, and whether the lowest gear still turns so
// many times a minute at that speed. Slower than that the effort falls with the
// turns, since legs push no harder than they do there: without a motor such a
// climb comes to a stand. Gears that are not stated slow nobody.
func HillSpeed(f *catalog.Frame, total measure.Mass, slope measure.Percentage, effort Watts, turns int64) (v Speed, turned bool) {
	h, assist := hillOf(total, slope), Watts(f.AssistWatts)
	v = h.speed(effort)
	if assist > 0 {
		v = max(v, min(h.speed(effort+assist), AssistEnds))
	}
	gears, stated := GearsOf(f)
	if !stated || cadence(v, gears.Development(gears.Lowest)) >= float64(turns) {
		return v, true
	}
	// The speed at which the lowest gear turns as often as asked.
	floor := Speed(float64(gears.Development(gears.Lowest)) / float64(measure.Metre) * float64(turns) / 60)
	low, high := Speed(0), v
	for range 60 {
		if middle := (low + high) / 2; h.power(middle) > effort*Watts(middle/floor)+assist {
			high = middle
		} else {
			low = middle
		}
	}
	return low, false
}
