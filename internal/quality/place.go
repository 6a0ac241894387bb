package quality

import (
	"kinwain/internal/catalog"
	"kinwain/internal/growth"
	"kinwain/internal/measure"
	"kinwain/internal/problem"
)

// The percentiles between which a child counts as likely: the ends of the
// printed growth charts that the reference comes with.
const (
	light = 3 * measure.Percent
	heavy = 97 * measure.Percent
)

// youngest is the age in months before which nobody rides.
const youngest = 12

// place finds limits that no child meets: at no age that the place takes does
// a weight from the 3rd to the 97th percentile of either sex, without clothes,
// lie within its weights, with a stature that it takes. Ages in months.
func (k *checker) place(list, thing, path string, p *catalog.Place) {
	if p.Unlimited() { // stored before this was asked for
		k.add(Finding{NoLimits, Fault, list, thing, problem.Join(path, "min_months"),
			"It states neither from what age nor up to what weight it takes anybody, so anybody is seated here. Ask the maker."})
	}
	from := max(p.MinMonths, youngest)
	if p.MaxMonths == 0 { // grown-ups may sit here too: somebody is heavy enough, and the youngest are the smallest
		youngestOnly := *p
		youngestOnly.MaxMonths, youngestOnly.MinMass = from, 0
		p = &youngestOnly
	}
	for months := from; months <= p.MaxMonths; months++ {
		if meets(p, months) {
			return
		}
	}
	field, text := "max_months", sentence("It takes nobody over %d months, and nobody rides before %d.", p.MaxMonths, youngest)
	heaviest, lightest, shortest := extreme(growth.Weight, p.MaxMonths, heavy), extreme(growth.Weight, from, light), extreme(growth.Stature, from, light)
	switch {
	case from > p.MaxMonths:
	case kilograms(p.MinMass) > heaviest:
		field, text = "min_kg", sentence("At %d months even a heavy child (97th percentile, %.1f kg) is under the least weight of %v: nobody may sit here.", p.MaxMonths, heaviest, p.MinMass)
	case p.MaxMass > 0 && kilograms(p.MaxMass) < lightest:
		field, text = "max_kg", sentence("At %d months even a light child (3rd percentile, %.1f kg) is over the greatest weight of %v: nobody may sit here.", from, lightest, p.MaxMass)
	case p.MaxStature > 0 && centimetres(p.MaxStature) < shortest:
		field, text = "max_stature_cm", sentence("At %d months even a short child (3rd percentile, %.0f cm) is over the greatest height of %v: nobody may sit here.", from, shortest, p.MaxStature)
	default:
		field, text = "max_stature_cm", sentence("At no age from %d to %d months is a child both heavy enough and small enough: nobody may sit here.", from, p.MaxMonths)
	}
	k.add(Finding{NoChild, Fault, list, thing, problem.Join(path, field), text})
}

// meets reports whether some likely child of an age in months may sit in a
// place.
func meets(p *catalog.Place, months int) bool {
	for _, sex := range [...]growth.Sex{growth.Girl, growth.Boy} {
		weight := func(percentile measure.Share) float64 {
			return growth.Weight(sex, float64(months), growth.Z(percentile))
		}
		short := growth.Stature(sex, float64(months), growth.Z(light))
		if weight(heavy) >= kilograms(p.MinMass) && (p.MaxMass == 0 || weight(light) <= kilograms(p.MaxMass)) &&
			(p.MaxStature == 0 || short <= centimetres(p.MaxStature)) {
			return true
		}
	}
	return false
}

// extreme returns the value of a percentile at an age in months for the sex of
// whom it lies farther out.
func extreme(of func(growth.Sex, float64, float64) float64, months int, percentile measure.Share) float64 {
	girl := of(growth.Girl, float64(months), growth.Z(percentile))
	boy := of(growth.Boy, float64(months), growth.Z(percentile))
	if percentile > measure.Whole/2 {
		return max(girl, boy)
	}
	return min(girl, boy)
}

func kilograms(m measure.Mass) float64 { return float64(m) / float64(measure.Kilogram) }

func centimetres(l measure.Length) float64 { return float64(l) / float64(measure.Centimetre) }
