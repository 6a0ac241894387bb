package takehome

import "kinwain/web/kit"

// Measures is the card of what is still to be measured at home.
type Measures struct {
	FitShell
	Shop         string
	Back, BackTo string
	Languages    []Switch
	Parts        []MeasuredPart
}

// MeasuredPart is one part of the home with its sketch.
type MeasuredPart struct {
	Name     string
	Sketch   kit.Drawing
	Measures []Measure
}

// Measure is one figure to be written down.
type Measure struct {
	Letter, Text, Unit string
	Says               []string // what it decides
}
