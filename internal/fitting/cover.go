package fitting

import (
	"math"

	"kinwain/internal/fitting/relax"
)

// cover writes down the row that the relaxation breaks most of those that
// follow from the cargo by rounding, where it breaks any.
//
// Proof: every set of carriers that bears the cargo has Σ part × count ≥ 1, the
// count without the one that has the pet. Let some carriers S take all that
// they ever can; the others then have Σ part × count ≥ rest. Divide that by any
// step, and let f be the fraction of rest ÷ step. Counts are whole, so
//
//	Σ (⌊part ÷ step⌋ + min(1, fraction of part ÷ step over f)) × count ≥ ⌈rest ÷ step⌉
//
// (mixed-integer rounding; G. Nemhauser and L. Wolsey, 1990, from memory). With
// a step beyond all parts it says that none takes more than rest; with a step
// as large as the greatest part it counts heads. S holds what the relaxation
// has on the bike anyway, and the steps are the parts of what it has by halves.
func (b *block) cover(r *relax.Relaxation) {
	rest := 1 - wider
	b.others = b.others[:0]
	most := 0.0
	for n := range b.shares {
		s := &b.shares[n]
		if s.option < 0 {
			rest -= s.part
			continue
		}
		if all := float64(b.most(s.option)); b.standing(r, s) > all-0.01 {
			rest -= s.part * all
			continue
		}
		b.others = append(b.others, s)
		most = max(most, s.part)
	}
	if len(b.shares) == 0 || rest < leastRest {
		return
	}
	best, step := 1e-3, 0.0
	b.try(r, rest, 2*max(rest, most), &best, &step)
	for _, s := range b.others {
		if n := b.standing(r, s); math.Abs(n-math.Round(n)) > integral {
			b.try(r, rest, s.part, &best, &step)
		}
	}
	if step == 0 {
		return
	}
	b.about(b.cargoRules)
	constant := 0.0
	for _, s := range b.others {
		by := rounded(s.part, rest, step)
		constant += b.fitted(s.option, -by)
		for _, pet := range b.pets {
			if pet.option == s.option {
				b.relax.Term(pet.column, by)
			}
		}
	}
	b.relax.AtMost(wider - math.Ceil(rest/step) - constant)
}

const (
	wider     = 1e-9 // by which a row is made wider than it need be, for rounding
	leastRest = 1e-4
)

// standing returns how many carriers of a share the relaxation has on the
// bike, without the pet's.
func (b *block) standing(r *relax.Relaxation, s *carrying) float64 {
	n := float64(b.p.options[s.option].delivered)
	if c := b.bought[s.option]; c >= 0 {
		n += r.Value(c)
	}
	if c := b.off[s.option]; c >= 0 {
		n -= r.Value(c)
	}
	for _, pet := range b.pets {
		if pet.option == s.option {
			n -= r.Value(pet.column)
		}
	}
	return n
}

// rounded returns what a part counts for in the row of a step.
func rounded(part, rest, step float64) float64 {
	whole, fraction := math.Modf(part / step)
	_, f := math.Modf(rest / step)
	return whole + min(1, fraction/f)
}

// try notes a step whose row the relaxation breaks by more than the best so
// far, as a part of the row.
func (b *block) try(r *relax.Relaxation, rest, by float64, best, step *float64) {
	if _, f := math.Modf(rest / by); f < 0.01 || f > 0.999 {
		return
	}
	sum := 0.0
	for _, s := range b.others {
		sum += rounded(s.part, rest, by) * b.standing(r, s)
	}
	asked := math.Ceil(rest / by)
	if short := (asked - sum) / asked; short > *best {
		*best, *step = short, by
	}
}
