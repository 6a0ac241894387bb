package ride

import (
	"math"

	"kinwain/internal/catalog"
	"kinwain/internal/load"
	"kinwain/internal/measure"
)

// Pressure is a pressure above that of the air, in millibars.
type Pressure int64

// bar and psi are units of pressure; a pound per square inch is 6894.757 Pa.
const (
	bar = 1000
	psi = 68.94757
)

// The pressure at which a tyre sinks by 15 % of its height under a wheel's
// load, as F. Berto measured it (Bicycling, 1988; from memory), by a fit to
// his chart that is said to be within 2 psi from 20 to 220 lb a wheel (C. E.
// Ravello, A constant-deflection model for road and gravel tire pressure,
// 2026): 600 L/W² + 0.75 W − 25 psi, with the load L in pounds and the width W
// in millimetres. Other fits to the chart agree with it up to 50 mm; beyond
// they part, so nothing is said there.
const (
	pound      = 453.59237 // grams
	leastLoad  = 20 * pound
	mostLoad   = 220 * pound
	leastWidth = 20 * measure.Millimetre
	mostWidth  = 50 * measure.Millimetre
)

// Start returns a pressure to start from for a wheel under a load, to the
// nearest tenth of a bar. It is false beyond what was measured. What the
// sidewall and the rim state comes before it.
func (w Wheel) Start(on measure.Mass) (Pressure, bool) {
	if float64(on) < leastLoad || float64(on) > mostLoad || w.Width < leastWidth || w.Width > mostWidth {
		return 0, false
	}
	pounds, width := float64(on)/pound, float64(w.Width)
	millibars := psi * (600*pounds/(width*width) + 0.75*width - 25)
	return Pressure(math.Round(millibars/(bar/10))) * (bar / 10), true
}

// Tyre is one wheel of a build under its load.
type Tyre struct {
	Axle   string // front or rear
	Size   string // ISO 5775 designation
	Load   measure.Mass
	Start  Pressure
	Stated bool // whether there is a pressure to start from
}

// TyresOf returns both wheels of a build under a rider. There is none where
// the loads on the axles are not known, or where two wheels share an axle.
func TyresOf(f *catalog.Frame, s *load.Sheet) []Tyre {
	if !s.Axles || f.Type == "tricycle" {
		return nil
	}
	var tyres []Tyre
	for _, t := range [...]Tyre{{Axle: "front", Size: f.FrontTyre, Load: s.Front}, {Axle: "rear", Size: f.RearTyre, Load: s.Rear}} {
		if wheel, ok := WheelOf(t.Size); ok {
			t.Start, t.Stated = wheel.Start(t.Load)
			tyres = append(tyres, t)
		}
	}
	return tyres
}
