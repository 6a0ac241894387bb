// Package ride says how a build rides: its gears, what it does on a hill, how
// high the saddle starts, how hard the tyres start, and how to load a demo so
// that a test ride feels the load before anybody sits on it.
//
// Every answer is a starting point. Where the maker does not state what an
// answer follows from, there is no answer: a figure that is missing never
// counts as zero.
package ride

import "kinwain/internal/measure"

// SaddlePerInseam is how far above the bottom bracket the top of the saddle
// starts, in thousandths of the inseam, as racing riders are taught (common
// practice, no published source).
const SaddlePerInseam = 883

// Saddle returns the height from the bottom bracket to the top of the saddle
// to start from, to the nearest millimetre.
func Saddle(inseam measure.Length) measure.Length {
	return (inseam*SaddlePerInseam + 500) / 1000
}
