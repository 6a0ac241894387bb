// Why no build can be: a conflict is a minimal set of rules, and a breach says
// by how much one of them would be broken.
package fitting_test

import (
	"context"
	"testing"

	"pgregory.net/rapid"

	"kinwain/internal/catalog"
	"kinwain/internal/fitting"
	"kinwain/internal/measure"
	"kinwain/internal/profile"
)

func feasible(t tester, p *fitting.Problem, rules fitting.Rules) bool {
	t.Helper()
	ok, err := p.Feasible(context.Background(), rules)
	if err != nil {
		t.Fatalf("%v", err)
	}
	return ok
}

func conflict(t tester, p *fitting.Problem, rules fitting.Rules) fitting.Rules {
	t.Helper()
	c, err := p.Conflict(context.Background(), rules)
	if err != nil {
		t.Fatalf("%v", err)
	}
	return c
}

func ruleNames(r fitting.Rules) []string {
	var list []string
	for one := range r.Each {
		list = append(list, one.Code())
	}
	return list
}

// drawRules draws a set of rules with most of them in it.
func drawRules(t *rapid.T) fitting.Rules {
	rules := fitting.AllRules
	for one := range fitting.AllRules.Each {
		if rapid.SampledFrom([]int{0, 0, 0, 0, 1}).Draw(t, one.Code()) == 1 {
			rules &^= one
		}
	}
	return rules
}

func TestFeasibleUnderAnyRules(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(t *rapid.T) {
		in, rules := drawInstance(t, anything), drawRules(t)
		defer in.show(t)
		w := worldOf(in)
		want := w.firstThatHolds(w.sets(rules), party(in.profile, asOf), rules)
		if got := feasible(t, in.problem(), rules); got != (want != nil) {
			t.Fatalf("feasible %v under %v; the slow way finds %s", got, ruleNames(rules), saidSet(want))
		}
	})
}

// Dropping any one rule of a conflict makes it feasible, and the whole is not.
func compareConflict(t tester, in *instance) fitting.Rules {
	t.Helper()
	w, p := worldOf(in), in.problem()
	if feasible(t, p, fitting.AllRules) {
		return 0
	}
	c := conflict(t, p, fitting.AllRules)
	people := party(in.profile, asOf)
	holds := func(rules fitting.Rules) bool { return w.firstThatHolds(w.sets(rules), people, rules) != nil }
	if c == 0 || holds(c) {
		t.Fatalf("the conflict %v can be kept", ruleNames(c))
	}
	for one := range c.Each {
		if !holds(c &^ one) {
			t.Fatalf("the conflict %v is not minimal: %s can be dropped", ruleNames(c), one.Code())
		}
	}
	return c
}

func TestConflictIsMinimal(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(t *rapid.T) {
		in := drawInstance(t, anything)
		defer in.show(t)
		compareConflict(t, in)
	})
}

func TestConflictIsMinimalOverSeeds(t *testing.T) {
	t.Parallel()
	met := map[fitting.Rules]int{}
	for name, s := range map[string]shape{"anything": anything, "families": families, "couriers": couriers, "outings": outings} {
		t.Run(name, func(t *testing.T) {
			for seed := range 300 {
				in := sample(s, seed)
				for one := range compareConflict(t, in).Each {
					met[one]++
				}
			}
		})
	}
	for one := range fitting.AllRules.Each {
		if met[one] < 5 {
			t.Errorf("%s was in %d conflicts, which is not enough to tell", one.Code(), met[one])
		}
	}
}

// Rules go in their order for as long as what is left cannot hold, so of two
// conflicts the one with the later rules is named.
func TestConflictByExample(t *testing.T) {
	t.Parallel()
	seat := seatFor("seat", 1000, catalog.Place{MaxMass: 20 * kg})
	for _, c := range []struct {
		name string
		in   *instance
		want fitting.Rules
	}{
		{"too heavy", workshop(seat).kids(child).with(func(f *catalog.Frame, _ *profile.Profile) { f.GrossRating = 121 * kg }), fitting.GrossRating | fitting.PlaceMissing},
		{"too heavy with nobody seated", workshop(seat).kids(child).with(func(f *catalog.Frame, _ *profile.Profile) { f.GrossRating = 110 * kg }), fitting.GrossRating},
		{"too many", workshop(seat).kids(child, kid("q", "2021-02", 15*kg)).with(func(f *catalog.Frame, _ *profile.Profile) { f.PassengersMax = 1; f.Places = manyPlaces(2) }), fitting.PassengersMax},
		{"no place", workshop().kids(child), fitting.PlaceMissing},
		{"no place that suits", workshop(seat).kids(kid("q", "2021-02", 19*kg+1*g)), fitting.PlaceMissing | fitting.PlaceLimits},
		{"no pet carrier", workshop().with(func(_ *catalog.Frame, p *profile.Profile) { p.Pet = profile.Given(5 * kg) }), fitting.PetPlace},
		{"nowhere for kilograms", workshop(bagFor("bag", "rear", 5*kg, 90_000)).with(asking(6*kg, 0)), fitting.CargoWeight},
		{"nowhere for litres", workshop(bagFor("bag", "rear", 50*kg, 9_000)).with(asking(0, 10_000)), fitting.CargoVolume},
		{"a bag that holds more than it may carry", workshop(bearing(bagFor("bag", "rear", 50*kg, 90_000), 5*kg)).with(asking(6*kg, 0)), fitting.AddOnRating | fitting.CargoWeight},
		{"two things wrong, the later is named", workshop().with(asking(6*kg, 6_000)), fitting.CargoVolume},
		{"no room at home", workshop().with(func(_ *catalog.Frame, p *profile.Profile) {
			p.Home = profile.Given(profile.Home{Length: profile.Given(179 * cm), Width: profile.Given(60 * cm)})
		}), fitting.Storage},
		{"no room with the seat on", workshop(longer(seat)).kids(child).with(func(_ *catalog.Frame, p *profile.Profile) {
			p.Home = profile.Given(profile.Home{Length: profile.Given(180 * cm), Width: profile.Given(60 * cm)})
		}), fitting.PlaceMissing | fitting.Storage},
	} {
		p := c.in.checked(t).problem()
		if got := conflict(t, p, fitting.AllRules); got != c.want {
			t.Errorf("%s: %v, want %v", c.name, ruleNames(got), ruleNames(c.want))
		}
	}
}

// A load behind the rear axle takes weight off the front one, so a demand may
// also help: the front axle bears 10 + 40 = 50 kg and is rated for 49, and a
// child of 16 kg dressed, 200 mm behind the axle, would take 3.2 off. That seat
// bears 15 kg only; the other one is over the axle and takes nothing off.
// Whatever is named has to be minimal all the same.
func TestConflictIsMinimalWhereALoadRelieves(t *testing.T) {
	t.Parallel()
	behind, over := seatFor("seat-behind", 1000, catalog.Place{Ahead: -200}), seatFor("seat-over", 1000, anyone)
	behind.MaxLoad = 15 * kg
	in := workshop(behind, over).kids(child).with(func(f *catalog.Frame, _ *profile.Profile) {
		f.Wheelbase, f.RiderAhead, f.BareFrontShare, f.FrontAxleRating = 1000, 500, 40*measure.Percent, 49*kg
	}).checked(t)
	p := in.problem()
	c := conflict(t, p, fitting.AllRules)
	if feasible(t, p, c) {
		t.Errorf("the conflict %v can be kept", ruleNames(c))
	}
	for one := range c.Each {
		if !feasible(t, p, c&^one) {
			t.Errorf("the conflict %v is not minimal: %s can be dropped", ruleNames(c), one.Code())
		}
	}
}

func manyPlaces(n int) []catalog.Place {
	list := make([]catalog.Place, n)
	for i := range list {
		list[i] = catalog.Place{Zone: "rear", Kind: "bench", MinMonths: 12}
	}
	return list
}

func asking(mass measure.Mass, volume measure.Volume) func(*catalog.Frame, *profile.Profile) {
	return func(_ *catalog.Frame, p *profile.Profile) {
		p.Cargo, p.CargoSize = profile.Given(mass), profile.Given(volume)
	}
}

func longer(a catalog.AddOn) catalog.AddOn {
	a.RearOverhang = 10
	return a
}

// What a person would name: the rules that forbid, or the demands where those
// alone collide.
func TestBlame(t *testing.T) {
	t.Parallel()
	for _, c := range []struct{ conflict, want fitting.Rules }{
		{fitting.GrossRating | fitting.PlaceMissing, fitting.GrossRating},
		{fitting.PlaceMissing | fitting.PlaceLimits, fitting.PlaceLimits},
		{fitting.PlaceMissing, fitting.PlaceMissing},
		{fitting.PetPlace | fitting.CargoWeight, fitting.PetPlace | fitting.CargoWeight},
		{fitting.ZoneRating | fitting.CargoWeight | fitting.Storage, fitting.ZoneRating | fitting.Storage},
		{0, 0},
	} {
		if got := c.conflict.Blame(); got != c.want {
			t.Errorf("blame of %v is %v, want %v", ruleNames(c.conflict), ruleNames(got), ruleNames(c.want))
		}
	}
}

// A child of 15 kg, 16 dressed, on a seat of 1 kg, under a rider of 80 kg on a
// bike of 25: 122 in all, 17 in the rear zone.
func TestBreachSaysByHowMuch(t *testing.T) {
	t.Parallel()
	shop := func(change func(f *catalog.Frame, a *catalog.AddOn)) *instance {
		in := workshop(seatFor("seat", 1000, anyone)).kids(child)
		change(in.frame, &in.catalogue.AddOns[0])
		return in
	}
	for _, c := range []struct {
		rule  fitting.Rules
		about string
		over  measure.Mass
		in    *instance
	}{
		{fitting.GrossRating, "", 1 * g, shop(func(f *catalog.Frame, _ *catalog.AddOn) { f.GrossRating = 122*kg - 1*g })},
		{fitting.ZoneRating, "rear", 7 * kg, shop(func(f *catalog.Frame, _ *catalog.AddOn) { f.Zones[1].Rating = 10 * kg })},
		{fitting.CombinedRating, "front+rear", 2 * kg, shop(func(f *catalog.Frame, _ *catalog.AddOn) {
			f.Combined = []catalog.Combined{{Zones: []string{"front", "rear"}, Rating: 15 * kg}}
		})},
		// 15 + 40 + 18.7 = 73.7 on the rear axle.
		{fitting.AxleRating, "rear", 700 * g, shop(func(f *catalog.Frame, _ *catalog.AddOn) {
			f.Wheelbase, f.RiderAhead, f.BareFrontShare, f.RearAxleRating, f.Zones[1].Ahead = 1000, 500, 40*measure.Percent, 73*kg, -100
		})},
		{fitting.AddOnRating, "seat", 2500 * g, shop(func(_ *catalog.Frame, a *catalog.AddOn) { a.MaxLoad = 13500 * g })},
	} {
		p := c.in.checked(t).problem()
		clash := conflict(t, p, fitting.AllRules)
		br, err := p.Breach(context.Background(), clash, c.rule)
		if err != nil || br.Rule != c.rule || br.About != c.about || br.Over != c.over || br.Build == nil {
			t.Errorf("%s: conflict %v, breach of %q by %d g (%v), want %q by %d", c.rule.Code(), ruleNames(clash), br.About, br.Over, err, c.about, c.over)
		}
	}
}

// Of several seats that do not suit, the one that comes nearest is named.
func TestBreachNamesThePlaceThatComesNearest(t *testing.T) {
	t.Parallel()
	in := workshop(seatFor("a-seat", 1000, catalog.Place{MaxMass: 10 * kg}), seatFor("b-seat", 1000, catalog.Place{MaxMass: 15 * kg}),
		seatFor("c-seat", 1000, catalog.Place{MinMonths: 96})).kids(child).checked(t)
	p := in.problem()
	br, err := p.Breach(context.Background(), fitting.PlaceMissing|fitting.PlaceLimits, fitting.PlaceLimits)
	if err != nil || br.Passenger != "p" || br.About != "b-seat" || br.Place == nil || br.Place.MaxMass != 15*kg || br.Standing.Load != 16*kg {
		t.Errorf("breach %+v (%v), want p on b-seat", br, err)
	}
}

// Without leaves one thing out and keeps the rest; Relaxations lists what is
// asked for, in its order.
func TestRelaxations(t *testing.T) {
	t.Parallel()
	all := outing().checked(t).demand()
	order := []fitting.Relaxation{fitting.WithoutHome, fitting.WithoutLitres, fitting.WithoutCargo, fitting.WithoutPet, fitting.WithoutPassengers}
	left := all
	for i, r := range order {
		got := left.Relaxations()
		if len(got) != len(order)-i {
			t.Fatalf("%v is left to relax, want %v", got, order[i:])
		}
		for k := range got {
			if got[k] != order[i+k] {
				t.Fatalf("%v is left to relax, want %v", got, order[i:])
			}
		}
		left = left.Without(r)
	}
	if len(left.Relaxations()) > 0 || left.HasHome || left.Cargo+measure.Mass(left.CargoSize)+left.Pet != 0 || len(left.Today) > 0 {
		t.Errorf("with everything left out this is left: %+v", left)
	}
	if !all.HasHome || all.Cargo != 14*kg || all.CargoSize != 28_000 || all.Pet != 5*kg || len(all.Today) != 1 {
		t.Error("leaving things out changed what was asked at first")
	}
}

// A problem held against a lesser demand gives what a fresh one would.
func TestUnderALesserDemand(t *testing.T) {
	t.Parallel()
	for seed := range 200 {
		in := sample(anything, seed)
		p, d := in.problem(), in.demand()
		for _, r := range d.Relaxations() {
			d = d.Without(r)
			p = p.Under(d)
			fresh := fitting.New(in.catalogue, in.frame, d)
			a, errA := p.Solve(context.Background(), profile.LeastCost, fitting.AllRules)
			b, errB := fresh.Solve(context.Background(), profile.LeastCost, fitting.AllRules)
			if (errA == nil) != (errB == nil) || said(a) != said(b) {
				t.Fatalf("seed %d without %s: %s (%v), afresh %s (%v)", seed, r, said(a), errA, said(b), errB)
			}
			if a != nil && p.Horizon(a) != fresh.Horizon(b) {
				t.Fatalf("seed %d without %s lasts %+v, afresh %+v", seed, r, p.Horizon(a), fresh.Horizon(b))
			}
		}
	}
}

// A place that suits nobody is named without a build that keeps the rest of the
// conflict, of which there always is one.
func TestBreachOfPlaceLimitsHasABuild(t *testing.T) {
	t.Parallel()
	met := 0
	for seed := range 2500 {
		in := instanceOf(seed)
		p := in.problem()
		ok, err := p.Feasible(t.Context(), fitting.AllRules)
		if err != nil {
			t.Fatal(err)
		}
		if ok {
			continue
		}
		clash := conflict(t, p, fitting.AllRules)
		if !clash.Has(fitting.PlaceLimits) {
			continue
		}
		met++
		if _, err := in.problem().Solve(t.Context(), profile.Lightest, clash&^fitting.PlaceLimits); err != nil {
			t.Errorf("seed %d: nothing keeps %v: %v", seed, ruleNames(clash&^fitting.PlaceLimits), err)
		}
	}
	if t.Log(met); met < 150 {
		t.Errorf("%d conflicts with limits of places, which is not enough to tell", met)
	}
}
