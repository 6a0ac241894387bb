// What is asked of one problem again and again, against a problem of its own for
// every question.
package fitting_test

import (
	"errors"
	"math/rand/v2"
	"slices"
	"testing"

	"kinwain/internal/catalog"
	"kinwain/internal/fitting"
	"kinwain/internal/measure"
	"kinwain/internal/profile"
)

// shapes and plans of instances, by turns.
func instanceOf(seed int) *instance {
	kinds := [...]shape{anything, families, couriers, outings, choosers, anything, families, outings}
	switch {
	case seed%32 == 29:
		return equip(ordinary, seed)
	case seed%32 == 30:
		return equip(hard, seed)
	case seed%32 == 31:
		return equip(rated, seed)
	}
	return sample(kinds[seed%len(kinds)], seed)
}

// later has children of whom most are too young for most places, and some ride
// alone before long.
func (a *asker) later(in *instance) {
	wait := func(places []catalog.Place) {
		for i := range places {
			places[i].MinMonths, places[i].MaxMonths = places[i].MinMonths+a.IntN(60), 0
		}
	}
	wait(in.frame.Places)
	for i := range in.catalogue.AddOns {
		wait(in.catalogue.AddOns[i].Places)
	}
	in.frame.GrossRating += measure.Mass(a.IntN(40)) * kg
	for i := range in.profile.Passengers.Or(nil) {
		if a.IntN(3) == 0 {
			in.profile.Passengers.Or(nil)[i].LeavesAtYears = profile.Given(3 + a.IntN(9))
		}
	}
}

// asker asks the same of a problem that has been asked a lot and of a fresh one.
type asker struct {
	*testing.T
	*rand.Rand
	in   *instance
	seed int
	met  map[string]int
}

func (a *asker) same(what string, got, want bool, err, failed error) {
	a.Helper()
	if err != nil || failed != nil {
		a.Fatalf("seed %d: %s: %v, %v", a.seed, what, err, failed)
	}
	if got != want {
		a.Errorf("seed %d: %s: %v, of a fresh problem %v", a.seed, what, got, want)
	}
	a.met[what]++
	if want {
		a.met[what+", yes"]++
	}
}

// changed returns a demand with something changed.
func (a *asker) changed(d *fitting.Demand) *fitting.Demand {
	other := *d
	switch a.IntN(6) {
	case 0:
		other.Cargo = other.Cargo * measure.Mass(a.IntN(40)) / 20
	case 1:
		other.CargoSize = other.CargoSize * measure.Volume(a.IntN(40)) / 20
	case 2:
		other.Home.Space.Width += measure.Length(a.IntN(400) - 200)
	case 3:
		return d.Without(fitting.WithoutPet)
	case 4:
		if len(d.Today) > 0 {
			return d.WithoutPassenger(a.IntN(len(d.Today)))
		}
	case 5:
		return d.On((d.Day.InMonth() + measure.Month(a.IntN(90))).Last())
	}
	return &other
}

func (a *asker) ask(p *fitting.Problem, d *fitting.Demand) {
	ctx := a.Context()
	fresh := func() *fitting.Problem { return fitting.New(a.in.catalogue, a.in.frame, d) }
	rules := fitting.AllRules
	for range a.IntN(4) {
		rules &^= 1 << a.IntN(13)
	}
	got, err := p.Under(d).Feasible(ctx, rules)
	want, failed := fresh().Feasible(ctx, rules)
	a.same("feasible", got, want, err, failed)
	least := measure.Money(1 << 40) // where none holds
	if b, err := fresh().Solve(ctx, profile.LeastCost, rules); err == nil {
		least = b.Price + b.Labour
	} else if !errors.Is(err, fitting.ErrInfeasible) {
		a.Fatal(a.seed, err)
	}
	for _, within := range [...]measure.Money{-1, 0, min(least-1, 100_000_00), min(least, 100_000_00), 100_000_00} {
		got, err := p.Under(d).Affordable(ctx, rules, within)
		a.same("affordable", got, least <= within, err, nil)
	}
}

func TestAskedAgain(t *testing.T) {
	t.Parallel()
	a := &asker{T: t, Rand: rand.New(rand.NewPCG(3, 4)), met: map[string]int{}}
	for a.seed = range 600 {
		a.in = instanceOf(a.seed)
		demand := a.in.demand()
		p := a.in.problem()
		for range 4 {
			a.ask(p, a.changed(demand))
		}
	}
	t.Log(a.met)
	for _, what := range []string{"feasible", "affordable"} {
		if yes := a.met[what+", yes"]; yes < 300 || a.met[what]-yes < 300 {
			t.Errorf("%s: %d of %d are yes; too few to tell", what, yes, a.met[what])
		}
	}
}

// TestFirstDayIsTheFirst looks at every month by itself, in a problem of its own.
func TestFirstDayIsTheFirst(t *testing.T) {
	t.Parallel()
	const months = 50
	met := map[string]int{}
	for seed := range 1200 {
		in, chance := instanceOf(seed), rand.New(rand.NewPCG(uint64(seed), 5))
		if chance.IntN(4) > 0 {
			(&asker{Rand: chance}).later(in)
		}
		d, p := in.demand(), in.problem()
		day := func(i int) measure.Date { return (d.Day.InMonth() + 1 + measure.Month(i)).First() }
		from := chance.IntN(2) * chance.IntN(months) // nobody may ride before
		ride := func(on measure.Date, _ fitting.Stage) bool { return !on.Before(day(from)) }
		var within *measure.Money
		if chance.IntN(3) == 0 {
			within = new(measure.Money(chance.IntN(60_000)))
		}
		asked := 0
		holds := func(i int) (bool, error) {
			asked++
			fresh := fitting.New(in.catalogue, in.frame, d.On(day(i)))
			if within != nil {
				return fresh.Affordable(t.Context(), fitting.AllRules, *within)
			}
			return fresh.Feasible(t.Context(), fitting.AllRules)
		}
		got, err := p.FirstDay(t.Context(), d.Days(months, day, ride), within, holds)
		if err != nil {
			t.Fatal(seed, err)
		}
		met["asked"] += asked
		want := -1
		for i := from; i < months && want < 0; i++ {
			met["months"]++
			ok, err := holds(i)
			if err != nil {
				t.Fatal(seed, err)
			}
			if ok {
				want = i
			}
		}
		if got != want {
			t.Errorf("seed %d: the first is %d, one by one %d", seed, got, want)
			in.show(t)
		}
		met[map[bool]string{true: "later", false: "at once or never"}[want > from]]++
	}
	t.Log(met)
	if met["later"] < 40 || met["asked"]*5 > met["months"] {
		t.Errorf("%v: this tells little", met)
	}
}

// A frame that is left as it comes is what a search would have come to, also where
// taking something off costs nothing.
func TestNothingIsBetterThanAsDelivered(t *testing.T) {
	t.Parallel()
	a := &asker{T: t, Rand: rand.New(rand.NewPCG(23, 24)), met: map[string]int{}}
	leaving := uint16(1 << slices.Index(fitting.Shortcuts, "leaving"))
	for a.seed = range 3000 {
		a.in = instanceOf(a.seed)
		if a.seed%32 > 28 {
			continue // they ask for too much
		}
		for i := range a.in.catalogue.AddOns {
			of := &a.in.catalogue.AddOns[i]
			of.FittingMinutes, of.OnFrame = of.FittingMinutes*a.IntN(2), nil
			if a.IntN(3) == 0 {
				of.Price = 0
			}
			if a.IntN(3) == 0 {
				a.in.frame.ComesWith = append(slices.Clone(a.in.frame.ComesWith), of.Code)
			}
		}
		if a.IntN(2) == 0 {
			a.in.profile.Passengers = profile.Answer[[]profile.Passenger]{}
		}
		if a.in.catalogue.Check() != nil {
			continue
		}
		rules := fitting.AllRules
		for range a.IntN(8) {
			rules &^= 1 << a.IntN(13)
		}
		for _, objective := range profile.Objectives {
			got, err := a.in.problem().Solve(t.Context(), objective, rules)
			want, failed := a.in.problem().Without(leaving).Solve(t.Context(), objective, rules)
			if said(got) != said(want) || (err == nil) != (failed == nil) {
				t.Errorf("seed %d, %s, %v: %s, %v; by a search %s, %v", a.seed, objective, ruleNames(rules), said(got), err, said(want), failed)
			}
			switch {
			case want == nil || objective != profile.LeastCost:
			case len(want.AddOns)+len(want.TakenOff) == 0:
				a.met["as delivered"]++
			case want.Price+want.Labour == 0:
				a.met["altered for nothing"]++
			}
		}
		if t.Failed() {
			a.in.show(t)
			return
		}
	}
	t.Log(a.met)
	for what, least := range map[string]int{"as delivered": 250, "altered for nothing": 200} {
		if a.met[what] < least {
			t.Errorf("%s: %d times, which is not enough to tell", what, a.met[what])
		}
	}
}
