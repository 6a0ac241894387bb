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

// Chart is where the pressures come from, for whoever reads a figure: measured
// by F. Berto and charted in 1988, cited from memory.
const Chart = "F. Berto’s chart of tyres that sink by 15 % of their height (Bicycling, 1988)"

// The pressure at which a tyre sinks by 15 % of its height under a wheel's
// load, as F. Berto measured it (Bicycling, 1988; from memory), by a fit to
// his chart that is within 2 psi of it from 20 to 220 lb a wheel: 600 L/W² +
// 0.75 W − 25 psi, with the load L in pounds and the width W in millimetres.
// Other fits to the chart agree with it up to 50 mm; beyond they part, so
// nothing is said there.
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
	// Least and Most are what the maker states; zero where nothing is stated.
	// No Start lies outside.
	Least, Most Pressure
}

// kilopascal is a hundredth of a bar.
const kilopascal Pressure = 10

// within takes the pressure to start from away where the maker states that it
// is too little or too much.
func (t *Tyre) within(least, most int) {
	t.Least, t.Most = Pressure(least)*kilopascal, Pressure(most)*kilopascal
	if t.Start < t.Least || t.Most > 0 && t.Start > t.Most {
		t.Start, t.Stated = 0, false
	}
}

// TyresOf returns both wheels of a build under a rider. There is none where
// the loads on the axles are not known, or where two wheels share an axle.
func TyresOf(f *catalog.Frame, s *load.Sheet) []Tyre {
	if !s.Axles || f.Type == "tricycle" {
		return nil
	}
	var tyres []Tyre
	for _, w := range [...]struct {
		Tyre
		least, most int
	}{
		{Tyre{Axle: "front", Size: f.FrontTyre, Load: s.Front}, f.FrontTyreMin, f.FrontTyreMax},
		{Tyre{Axle: "rear", Size: f.RearTyre, Load: s.Rear}, f.RearTyreMin, f.RearTyreMax},
	} {
		if wheel, ok := WheelOf(w.Size); ok {
			w.Start, w.Stated = wheel.Start(w.Load)
			w.within(w.least, w.most)
			tyres = append(tyres, w.Tyre)
		}
	}
	return tyres
}
