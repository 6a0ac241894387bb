package fitting

import (
	"context"
	"math"
	"slices"

	"kinwain/internal/measure"
	"kinwain/internal/profile"
)

// prolong finds the latest month through which any set holds, and of those
// that hold so long the cheapest.
//
// What holds through a month holds through every month before it, so the
// latest is found by halving. Every set that is found on the way may last
// longer than it was asked to, which saves some of the halves.
func (p *Problem) prolong(ctx context.Context, a aim, today answer) (answer, error) {
	a.objective = profile.LeastCost
	lasts, fails := p.failsIn(today.set, a.rules), HorizonMonths+1 // lasts: the months that the best of all so far holds
	if lasts == fails {
		return today, nil
	}
	best, proved := today, true
	for fails-lasts > 0 {
		middle := lasts + (fails-lasts)/2
		quick := a
		quick.first, quick.stages = true, p.through(middle)
		found, err := p.best(ctx, quick)
		if err != nil {
			return answer{}, err
		}
		if found.set == nil {
			proved = proved && found.proved
			fails = middle
			continue
		}
		best, lasts = found, p.failsIn(found.set, a.rules)
	}
	if lasts > p.failsIn(today.set, a.rules) {
		a.stages = p.through(lasts - 1)
		found, err := p.best(ctx, a)
		if err != nil {
			return answer{}, err
		}
		if found.set == nil {
			found.set, found.proved = best.set, false // the time was over
		}
		found.proved = found.proved && proved
		return found, nil
	}
	today.proved = today.proved && proved
	return today, nil
}

// through returns the stages of today and of every month up to one, counted
// from that of the demand.
func (p *Problem) through(month int) []Stage {
	stages := slices.Concat([]Stage{p.Demand.Today}, p.Demand.Months()[:month+1])
	return slices.CompactFunc(stages, func(a, b Stage) bool { return slices.Equal(a, b) })
}

// least returns what every set costs at least, by the floor of a search for
// the least cost: as the floor is in parts of a cent above a whole one, or
// below it, by what weight adds, the cent above counts.
func (p *Problem) least(a answer, objective profile.Objective) measure.Money {
	if objective == profile.Lightest || a.floor < 0 {
		return 0
	}
	unit := p.unitOf(profile.LeastCost).cost
	return measure.Money(min(max(math.Ceil(a.floor/unit-0.5), 0), float64(a.set.cost)))
}
