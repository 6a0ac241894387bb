// Package growth says how heavy and how tall a child is, and will be: from
// what the scale and the tape said once, or else from the growth reference.
//
// The reference gives three figures for each age and sex: the median M, the
// spread S and the skewness L. They turn a weight into a z-score, the place of
// the child among children of that age counted in standard deviations, and
// back (Cole and Green, "Smoothing reference centile curves: the LMS method
// and penalized likelihood", Statistics in Medicine, 1992):
//
//	weight = M·(1 + L·S·z)^(1/L), or M·exp(S·z) where L is 0
//	z = ((weight/M)^L − 1) / (L·S), or ln(weight/M) / S where L is 0
//
// A child who keeps that place while growing older is carried forward "at its
// own z-score"; that is how [Projection] foretells.
//
// Between the ages of the table L, M and S are each interpolated linearly. At
// months halfway between, from the 3rd to the 97th percentile, that lies
// within 0.15 % of the published weights and 0.2 % of the published statures.
// Between 21.5 and 24 months it goes over from lying to standing, as the source
// does at once. Below 12.5 and above 204.5 months the end of the table is held.
//
// Weights are kilograms and statures centimetres as long as they are
// floating-point numbers of this package's formulas; what leaves a Projection
// is whole grams and millimetres, rounded to the safe side.
package growth

import (
	"math"

	"kinwain/internal/measure"
)

// Sex chooses the reference.
type Sex uint8

// The references. Unstated, the zero value, is the mean of both: of the two
// interpolated L, the two M and the two S. Any other value counts as Unstated.
const (
	Unstated Sex = iota
	Girl
	Boy
)

// Z returns the z-score below which the given share of children lies, the
// quantile of the standard normal distribution: 7500 gives 0.6745 and 5000
// gives 0. Shares below 1 and above 9999 ten-thousandths count as these, so
// that the result stays finite (within ±3.72).
func Z(percentile measure.Share) float64 {
	held := min(max(percentile, 1), measure.Whole-1)
	p := float64(held) / float64(measure.Whole)
	return math.Sqrt2 * math.Erfinv(2*p-1)
}

// Weight returns the weight in kilograms, unrounded, of a child of the given
// age in months and z-score. Beyond the reference the end is held. The result
// grows with z and stays within a hundredth and a hundred times the median:
// the formula itself reaches zero or infinity at a z-score that no child has.
func Weight(sex Sex, months, z float64) float64 {
	return weightForAge.at(sex, locate(months)).value(z)
}

// WeightZ returns the z-score of a weight in kilograms at the given age in
// months; it undoes Weight. It is finite for every weight: one outside a
// hundredth and a hundred times the median counts as that bound.
func WeightZ(sex Sex, months, kg float64) float64 {
	return weightForAge.at(sex, locate(months)).score(kg)
}

// Stature returns the height in centimetres, unrounded, of a child of the
// given age in months and z-score, held as Weight is.
func Stature(sex Sex, months, z float64) float64 {
	return statureForAge.at(sex, locate(months)).value(z)
}

// StatureZ returns the z-score of a height in centimetres at the given age in
// months; it undoes Stature and is finite for every height.
func StatureZ(sex Sex, months, cm float64) float64 {
	return statureForAge.at(sex, locate(months)).score(cm)
}
