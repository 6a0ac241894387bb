package recheck

import (
	"math"
	"strconv"
	"strings"
)

// root finds where a rising function crosses nothing.
func root(f func(float64) float64) float64 {
	low, high := 0.0, 60.0
	for range 80 {
		if middle := (low + high) / 2; f(middle) > 0 {
			high = middle
		} else {
			low = middle
		}
	}
	return low
}

// tyre reads 50-406: how wide, and how wide the bead seat is.
func tyre(text string) (width, bead float64) {
	w, b, found := strings.Cut(text, "-")
	width, err := strconv.ParseFloat(w, 64)
	bead, bad := strconv.ParseFloat(b, 64)
	if !found || err != nil || bad != nil {
		return 0, 0
	}
	return width, bead
}

// lowest returns how far a turn of the cranks goes in the lowest gear, in
// metres; 0 where the maker does not say.
func (f *frame) lowest() float64 {
	width, bead := tyre(f.RearTyre)
	if width == 0 || bead == 0 || len(f.Chainring) == 0 || len(f.Sprockets) == 0 {
		return 0
	}
	ring, sprocket := f.Chainring[0], f.Sprockets[0]
	for _, n := range f.Chainring {
		ring = min(ring, n)
	}
	for _, n := range f.Sprockets {
		sprocket = max(sprocket, n)
	}
	return math.Round(math.Round(math.Pi*(bead+2*width))*ring/sprocket) / 1000
}

// climb is how fast a rider takes a hill, in metres an hour. The power at the
// pedals goes into the chain (0.976), the slope, the rolling (0.010) and the
// air (1.225 kg/m³ × 0.63 m²), after Martin et al. 1998. Legs turn 50 times a
// minute or else give less by as much; a motor leaves off at 25 km/h.
func (f *frame) climb(total, own grams, hill percent) float64 {
	slope := math.Atan(float64(hill) / 100)
	hold := float64(total) / 1000 * 9.80665 * (math.Sin(slope) + 0.010*math.Cos(slope))
	needs := func(v float64) float64 { return v * (hold + 1.225*0.63*v*v/2) / 0.976 }
	effort := min(max(1.8*float64(own)/1000, 60), 250)
	at := func(power float64) float64 { return root(func(v float64) float64 { return needs(v) - power }) }
	v := max(at(effort), min(at(effort+f.Assist), 25/3.6))
	if turned := f.lowest() * 50 / 60; turned > 0 && v < turned {
		v = root(func(v float64) float64 { return needs(v) - effort*v/turned - f.Assist })
	}
	return v * 3600
}

func weakBrake(brake string) bool {
	return brake == "coaster" || brake == "cable_disc" || brake == "cable_rim" || brake == "hydraulic_rim"
}
