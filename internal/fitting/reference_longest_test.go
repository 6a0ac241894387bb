package fitting_test

import (
	"errors"
	"reflect"
	"testing"

	"kinwain/internal/fitting"
	"kinwain/internal/measure"
	"kinwain/internal/profile"
)

// outlook is how long the longest-lasting set of the reference lasts and what
// it costs.
type outlook struct {
	found  bool
	months int // the first month in which it fails, or one more than are judged
	cost   measure.Money
	weight measure.Mass
}

// longest asks for the cheapest set, sees when it fails, asks for the cheapest
// that holds in that month too, and so on. Of the months that a set has to
// last only those are in the formula that some cheaper set has failed in:
// where the cheapest of so few demands keeps them all, it is the cheapest of
// those that do.
func longest(in *instance) outlook {
	e := encode(in, party(in.profile, in.profile.AsOf))
	cost, weight := e.cost(), e.weight()
	best, required := outlook{}, -1
	for {
		m, ok := e.cheapest(cost, weight)
		if !ok {
			return best
		}
		failing := e.failing(in, m)
		if failing > required {
			best = outlook{true, failing, measure.Money(cost.of(m)), measure.Mass(weight.of(m))}
			required = failing
		}
		if failing > fitting.HorizonMonths {
			return best
		}
		e.live(partyIn(in, failing))
	}
}

// partyIn returns who rides along at the end of a month, counted from the one
// of the profile.
func partyIn(in *instance, month int) []person {
	return party(in.profile, (in.profile.AsOf.InMonth() + measure.Month(month)).Last())
}

// failing returns the first month at whose end the set of a model does not
// hold. Only who sits where is left open.
func (e *encoding) failing(in *instance, m model) int {
	var before []person
	for month := range fitting.HorizonMonths + 1 {
		people := partyIn(in, month)
		if month > 0 && reflect.DeepEqual(people, before) {
			continue
		}
		before = people
		then := encodeSets(e.world)
		for i, copies := range then.fitted {
			for n, v := range copies {
				if !m[e.fitted[i][n]] {
					v = -v
				}
				then.either(v)
			}
		}
		then.live(people)
		if _, ok := then.best(sum{}); !ok {
			return month
		}
	}
	return fitting.HorizonMonths + 1
}

func TestLongestAgreesWithReference(t *testing.T) {
	t.Parallel()
	met := map[string]int{}
	for seed := range referenceSeeds(t, 150) {
		for name, in := range map[string]*instance{"families": sampleWide(wideFamilies, seed), "trips": equip(trip(seed), seed)} {
			if n := len(in.profile.Passengers.Or(nil)); n == 0 || n > 3 {
				continue // nobody grows, or too many do
			}
			b, h := raceToLast(t, in, met)
			if t.Failed() {
				t.Logf("%s, seed %d", name, seed)
				in.show(t)
				return
			}
			if b == nil {
				continue
			}
			met["feasible"]++
			met["ends"] += b2i(h.Ends)
			cheap := reference(in, profile.LeastCost)
			met["paid for lasting longer"] += b2i(cheap.cost < b.Price+b.Labour)
		}
	}
	t.Log(met)
	for what, least := range map[string]int{"feasible": 60, "ends": 50, "paid for lasting longer": 20} {
		if met[what] < least {
			t.Errorf("%s was met %d times, which is not enough to tell", what, met[what])
		}
	}
}

func raceToLast(t *testing.T, in *instance, met map[string]int) (*fitting.Build, fitting.Horizon) {
	t.Helper()
	p := in.problem()
	b, err := p.Solve(enough(), profile.Longest, fitting.AllRules)
	if errors.Is(err, fitting.ErrUnsettled) || b != nil && b.Unproved {
		met["given up"]++
		return nil, fitting.Horizon{}
	}
	if err != nil && !errors.Is(err, fitting.ErrInfeasible) {
		t.Fatal(err)
	}
	ref := longest(in)
	if ref.found != (b != nil) {
		t.Errorf("%s; the reference finds %+v", said(b), ref)
	}
	if b == nil || !ref.found {
		return nil, fitting.Horizon{}
	}
	h := p.Horizon(b)
	if h.Ends != (ref.months <= fitting.HorizonMonths) || h.Ends && h.Months != ref.months || b.Price+b.Labour != ref.cost || b.Weight != ref.weight {
		t.Errorf("%s lasts %+v; the reference finds %+v", said(b), h, ref)
	}
	return b, h
}
