// The rules of a build one by one, each at its edge, worked out by hand.
package fitting_test

import (
	"context"
	"errors"
	"slices"
	"testing"

	gocmp "github.com/google/go-cmp/cmp"

	"kinwain/internal/catalog"
	"kinwain/internal/fitting"
	"kinwain/internal/measure"
	"kinwain/internal/profile"
)

type example struct {
	name string
	in   *instance
	want *wanted // nil: none holds
}

// runExamples solves every example for the least cost and checks what comes
// out against the rules as well.
func runExamples(t *testing.T, examples []example) {
	t.Helper()
	for _, e := range examples {
		t.Run(e.name, func(t *testing.T) {
			in := e.in.checked(t)
			b := solve(t, in, profile.LeastCost, fitting.AllRules)
			if diff := gocmp.Diff(e.want, describe(b), gocmp.AllowUnexported(wanted{})); diff != "" {
				t.Errorf("− want, + got: %s", diff)
			}
			if b == nil {
				return
			}
			if faults := broken(in, asOf, b); faults != nil {
				t.Errorf("breaks rules: %v", faults)
			}
		})
	}
}

// child is three years and a half old on the day of judging and weighs 15 kg:
// 16 dressed.
var child = kid("p", "2023-05", 15*kg)

var anyone = catalog.Place{} // see seatFor

func TestMountsCarryTheirCapacity(t *testing.T) {
	t.Parallel()
	deck := func(code string, price measure.Money, length int) catalog.AddOn {
		a := seatFor(code, price, anyone)
		a.Uses, a.UpTo = []catalog.Use{{Mount: "deck_cm", Count: length}}, 2
		return a
	}
	both := func(a, b catalog.AddOn) *instance { return workshop(a, b).kids(child, kid("q", "2021-02", 18*kg)) }
	runExamples(t, []example{
		// 30 + 30 cm on a deck of 60; each EUR 10 and 0.5 h of no labour.
		{"two of 30 cm share a deck of 60", both(deck("seat", 1000, 30), deck("bench", 9000, 60)),
			&wanted{bought: "seat seat", price: 2000, weight: 2 * kg, seats: "p:seat/0 q:seat/0"}},
		// 31 + 31 cm do not; 31 with 29 do.
		{"two of 31 cm do not", both(deck("seat", 1000, 31), deck("stool", 3000, 29)),
			&wanted{bought: "seat stool", price: 4000, weight: 2 * kg, seats: "p:seat/0 q:stool/0"}},
		{"nothing goes beside 60 cm", both(deck("seat", 1000, 31), deck("bench", 1000, 60)), nil},
	})
}

func TestNeedsAreMetByCodesOrTags(t *testing.T) {
	t.Parallel()
	seat := func(needs ...[]string) catalog.AddOn {
		a := seatFor("seat", 1000, anyone)
		a.Needs = needs
		return a
	}
	on := func(a *catalog.AddOn, tag string) catalog.AddOn { a.Provides = []string{tag}; return *a }
	stand := on(&catalog.AddOn{Code: "stand", Price: 5000, Weight: 2 * kg}, "two_leg_stand")
	cheap := on(&catalog.AddOn{Code: "prop", Price: 4000, Weight: 3 * kg}, "two_leg_stand")
	rail := on(&catalog.AddOn{Code: "rail", Zone: "rear", Price: 7000}, "hand_hold")
	placed := seatFor("seat", 1000, catalog.Place{Needs: [][]string{{"hand_hold"}}})
	runExamples(t, []example{
		{"a tag by the cheapest that provides it", workshop(seat([]string{"two_leg_stand"}), stand, cheap).kids(child),
			&wanted{bought: "prop seat", price: 5000, weight: 4 * kg, seats: "p:seat/0"}},
		{"a code by that add-on alone", workshop(seat([]string{"stand"}), stand, cheap).kids(child),
			&wanted{bought: "seat stand", price: 6000, weight: 3 * kg, seats: "p:seat/0"}},
		{"one member of a group is enough", workshop(seat([]string{"stand", "hand_hold"}), stand, rail).kids(child),
			&wanted{bought: "seat stand", price: 6000, weight: 3 * kg, seats: "p:seat/0"}},
		{"every group has to hold", workshop(seat([]string{"stand"}, []string{"hand_hold"}), stand, rail).kids(child),
			&wanted{bought: "rail seat stand", price: 13000, weight: 4 * kg, seats: "p:seat/0"}},
		{"the frame provides too", workshop(seat([]string{"two_leg_stand"}), cheap).kids(child).with(func(f *catalog.Frame, _ *profile.Profile) { f.Provides = []string{"two_leg_stand"} }),
			&wanted{bought: "seat", price: 1000, weight: 1 * kg, seats: "p:seat/0"}},
		{"a tag that nothing provides", workshop(seat([]string{"lamp"}), stand).kids(child), nil},
		{"an add-on that does not fit this frame meets nothing", elsewhere(workshop(seat([]string{"stand"}), stand).kids(child), "stand"), nil},
		{"what a place needs counts when somebody sits there", workshop(placed, rail).kids(child),
			&wanted{bought: "rail seat", price: 8000, weight: 2 * kg, seats: "p:seat/0"}},
		{"and not when nobody does", delivered(workshop(fixedFor(10, placed), rail), "seat"), &wanted{}},
	})
}

// fixedFor is an add-on that takes so many minutes to fit or to take off.
func fixedFor(minutes int, a catalog.AddOn) catalog.AddOn {
	a.FittingMinutes = minutes
	return a
}

// elsewhere makes an add-on fit no frame.
func elsewhere(in *instance, code string) *instance {
	in.catalogue.AddOn(code).Fits = nil
	return in
}

// delivered lets the frame come with parts.
func delivered(in *instance, codes ...string) *instance {
	in.frame.ComesWith = codes
	return in
}

func TestExcludesHoldWhicheverNamesTheOther(t *testing.T) {
	t.Parallel()
	for _, c := range []struct{ namer, named string }{{"seat", "stand"}, {"stand", "seat"}} {
		in := workshop(seatFor("seat", 1000, anyone), catalog.AddOn{Code: "stand", Price: 500, Provides: []string{"two_leg_stand"}},
			catalog.AddOn{Code: "prop", Price: 9000, Provides: []string{"two_leg_stand"}}).kids(child)
		in.catalogue.AddOn("seat").Needs = [][]string{{"two_leg_stand"}}
		in.catalogue.AddOn(c.namer).Excludes = []string{c.named}
		runExamples(t, []example{{c.namer + " excludes " + c.named, in, &wanted{bought: "prop seat", price: 10000, weight: 2 * kg, seats: "p:seat/0"}}})
	}
}

// What a frame comes with is on it, weighs nothing more and costs nothing; off
// it comes for the labour of its minutes: 10 min at EUR 60 is EUR 10.
func TestDeliveredPartsMayComeOff(t *testing.T) {
	t.Parallel()
	oneLeg := catalog.AddOn{Code: "one-leg", Price: 2900, Weight: 700 * g, FittingMinutes: 10, Uses: []catalog.Use{{Mount: "belly", Count: 1}}}
	twoLeg := catalog.AddOn{Code: "two-leg", Price: 8900, Weight: 2400 * g, FittingMinutes: 20, Uses: []catalog.Use{{Mount: "belly", Count: 1}}, Provides: []string{"two_leg_stand"}}
	seat := seatFor("seat", 1000, anyone)
	seat.Needs = [][]string{{"two_leg_stand"}}
	bench := seatFor("bench", 30000, anyone)
	shop := func() *instance { return delivered(workshop(oneLeg, twoLeg, seat).kids(child), "one-leg") }
	runExamples(t, []example{
		{"nothing is asked", delivered(workshop(oneLeg, twoLeg, seat), "one-leg"), &wanted{}},
		// 1000 + 8900; 20 min to fit and 10 min to take off are EUR 30;
		// 1 + 2.4 − 0.7 kg.
		{"its mount is needed", shop(), &wanted{bought: "seat two-leg", off: "one-leg", price: 9900, labour: 3000, weight: 2700 * g, seats: "p:seat/0"}},
		{"it is what is needed", delivered(workshop(twoLeg, seat).kids(child), "two-leg"), &wanted{bought: "seat", price: 1000, weight: 1 * kg, seats: "p:seat/0"}},
		{"it cannot be bought again", elsewhere(delivered(workshop(bench, seat).kids(child, kid("q", "2021-02", 18*kg)), "bench"), "bench").with(func(f *catalog.Frame, _ *profile.Profile) { f.Provides = []string{"two_leg_stand"} }),
			&wanted{bought: "seat", price: 1000, weight: 1 * kg, seats: "p:bench/0 q:seat/0"}},
		// 180 − 25 − 80 = 75; the child's 16 and 59.7 of cargo are 75.7:
		// 0.7 too many until the stand comes off.
		{"its weight leaves the bike", shop().with(func(f *catalog.Frame, p *profile.Profile) {
			f.Places = []catalog.Place{{Zone: "rear", Kind: "belted", MaxMass: 200 * kg}}
			f.Zones[1].Rating, f.Zones[1].Cargo, p.Cargo = 0, 100*kg, profile.Given(59700*g)
		}), &wanted{off: "one-leg", labour: 1000, weight: -700 * g, seats: "p:/0", cargo: "rear=59700/0"}},
		{"and not a gram more", shop().with(func(f *catalog.Frame, p *profile.Profile) {
			f.Places = []catalog.Place{{Zone: "rear", Kind: "belted", MaxMass: 200 * kg}}
			f.Zones[1].Rating, f.Zones[1].Cargo, p.Cargo = 0, 100*kg, profile.Given(59701*g)
		}), nil},
	})
}

// Two parts that never go together cannot both have come with a frame and
// stayed on it.
func TestDeliveredPartsExcludeEachOtherToo(t *testing.T) {
	t.Parallel()
	in := delivered(workshop(fixedFor(10, catalog.AddOn{Code: "lid"}), fixedFor(10, catalog.AddOn{Code: "cover", Excludes: []string{"lid"}})), "lid", "cover")
	if in.catalogue.Check() != nil {
		return // such a catalogue is refused
	}
	b := solve(t, in, profile.LeastCost, fitting.AllRules)
	if b != nil && len(b.TakenOff) == 0 {
		t.Errorf("%s: lid and cover are both on the bike", said(b))
	}
}

// The bike is 180 × 60 × 110 cm, on end 60 × 60 × 180, and its home no larger:
// what sticks out comes off, for the EUR 10 of its 10 min.
func TestWhatSticksOutAtHomeComesOff(t *testing.T) {
	t.Parallel()
	upright := catalog.Box{Length: 60 * cm, Width: 60 * cm, Height: 180 * cm}
	flat := profile.Home{Length: profile.Given(180 * cm), Width: profile.Given(60 * cm), Height: profile.Given(110 * cm)}
	stood := profile.Home{MustStandUpright: profile.Given(true), Height: profile.Given(180 * cm)}
	niche := profile.Home{MustStandUpright: profile.Given(true), Length: profile.Given(60 * cm), Width: profile.Given(60 * cm), Height: profile.Given(180 * cm)}
	part := func(change func(a *catalog.AddOn)) catalog.AddOn {
		a := fixedFor(10, catalog.AddOn{Code: "part"})
		change(&a)
		return a
	}
	stays, off := &wanted{}, &wanted{off: "part", labour: 1000, weight: -1 * kg}
	for _, c := range []struct {
		name string
		part catalog.AddOn
		home profile.Home
		want *wanted
	}{
		{"nothing sticks out", part(func(a *catalog.AddOn) { a.OverallWidth, a.OverallHeight = 60*cm, 110*cm }), flat, stays},
		{"in front", part(func(a *catalog.AddOn) { a.FrontOverhang = 1 }), flat, off},
		{"behind", part(func(a *catalog.AddOn) { a.RearOverhang = 1 }), flat, off},
		{"sideways", part(func(a *catalog.AddOn) { a.OverallWidth = 601 }), flat, off},
		{"above", part(func(a *catalog.AddOn) { a.OverallHeight = 1101 }), flat, off},
		{"on end, in front", part(func(a *catalog.AddOn) { a.FrontOverhang = 1 }), stood, off},
		{"on end, behind", part(func(a *catalog.AddOn) { a.RearOverhang = 1 }), stood, off},
		{"on end, above", part(func(a *catalog.AddOn) { a.OverallHeight = 1101 }), niche, off},
		{"on end, as high as the frame", part(func(a *catalog.AddOn) { a.OverallHeight = 1100 }), niche, stays},
		{"on end, above, with room in front of it", part(func(a *catalog.AddOn) { a.OverallHeight = 1480 }), stood, stays},
		{"what keeps it from standing", part(func(a *catalog.AddOn) { a.BlocksUpright = true }), stood, off},
		{"which does not matter on its wheels", part(func(a *catalog.AddOn) { a.BlocksUpright = true }), flat, stays},
	} {
		in := delivered(workshop(c.part), "part").with(func(f *catalog.Frame, p *profile.Profile) {
			f.Upright, p.Home = upright, profile.Given(c.home)
		})
		if c.home.MustStandUpright.IsZero() {
			in.frame.Upright = catalog.Box{}
		}
		runExamples(t, []example{{c.name, in, c.want}})
	}
}

// Of several parts the length grows by the longest in front and the longest
// behind: 80 and 50 mm in front are 80.
func TestOverhangsAreTheLongestOnes(t *testing.T) {
	t.Parallel()
	long, short, rear := seatFor("seat", 1000, anyone), bagFor("bag", "front", 5*kg, 0), catalog.AddOn{Code: "rack", Provides: []string{"lamp"}}
	long.FrontOverhang, short.FrontOverhang, rear.RearOverhang = 80, 50, 30
	long.Needs = [][]string{{"lamp"}}
	at := func(length measure.Length) *instance {
		return workshop(long, short, rear).kids(child).with(asking(5*kg, 0)).with(func(_ *catalog.Frame, p *profile.Profile) {
			p.Home = profile.Given(profile.Home{Length: profile.Given(length), Width: profile.Given(60 * cm)})
		})
	}
	runExamples(t, []example{
		{"1800 + 80 + 30 mm", at(1910), &wanted{bought: "bag rack seat", price: 2000, weight: 3 * kg, seats: "p:seat/0", cargo: "bag=5000/0"}},
		{"a millimetre less", at(1909), nil},
	})
}

// Each part's minutes are charged for themselves and rounded half up: at EUR
// 60.01 an hour, 5 min are 500.083 and 10 min 1000.167 cents; at EUR 60.03
// half an hour is 3001.5 cents, so 3002.
func TestLabourIsRoundedForEachPart(t *testing.T) {
	t.Parallel()
	two := func(minutes int) *instance {
		a := seatFor("seat", 0, anyone)
		a.FittingMinutes, a.UpTo = minutes, 2
		return workshop(a).kids(child, kid("q", "2021-02", 18*kg))
	}
	for _, c := range []struct {
		rate    measure.Money
		minutes int
		want    measure.Money
	}{{6001, 5, 1000}, {6001, 10, 2000}, {6003, 30, 6004}, {6000, 1, 200}, {29, 1, 0}, {30, 1, 2}, {0, 60, 0}} {
		in := two(c.minutes)
		in.catalogue.Shop.LabourPerHour = c.rate
		if b := solve(t, in.checked(t), profile.LeastCost, fitting.AllRules); b == nil || b.Labour != c.want {
			t.Errorf("twice %d min at %d cents an hour: %s, want labour %d", c.minutes, c.rate, said(b), c.want)
		}
	}
}

// The facts of a pair replace those of the add-on.
func TestFactsOfThePair(t *testing.T) {
	t.Parallel()
	minutes, least, blocks := 40, 15*kg, true
	seat := seatFor("seat", 1000, anyone)
	seat.FittingMinutes, seat.MaxLoad = 25, 20*kg
	paired := func(p catalog.Pair) *instance {
		in := workshop(seat).kids(child)
		in.catalogue.AddOns[0].OnFrame = map[string]catalog.Pair{"sedge": p}
		return in
	}
	upright := func(f *catalog.Frame, p *profile.Profile) {
		f.Upright = catalog.Box{Length: 60 * cm, Width: 60 * cm, Height: 180 * cm}
		p.Home = profile.Given(profile.Home{MustStandUpright: profile.Given(true)})
	}
	runExamples(t, []example{
		{"fitting minutes", paired(catalog.Pair{FittingMinutes: &minutes}), &wanted{bought: "seat", price: 1000, labour: 4000, weight: 1 * kg, seats: "p:seat/0"}},
		{"max_load 16 kg under the dressed child", paired(catalog.Pair{MaxLoad: &least}), nil},
		{"stands upright without", paired(catalog.Pair{FittingMinutes: &minutes}).with(upright), &wanted{bought: "seat", price: 1000, labour: 4000, weight: 1 * kg, seats: "p:seat/0"}},
		{"blocks upright on this frame", paired(catalog.Pair{BlocksUpright: &blocks}).with(upright), nil},
	})
}

// The child of 15 kg weighs 16 dressed, is 42 months old (43 from the first of
// May) and stands 98 cm tall.
func TestPlaceLimits(t *testing.T) {
	t.Parallel()
	tall := child
	tall.Stature = profile.Given(98 * cm)
	sits := &wanted{bought: "seat", price: 1000, weight: 1 * kg, seats: "p:seat/0"}
	for _, c := range []struct {
		name     string
		at, past catalog.Place
	}{
		{"max_kg counts helmet, shoes and clothes", catalog.Place{MaxMass: 16 * kg}, catalog.Place{MaxMass: 16*kg - 1*g}},
		{"min_kg does not", catalog.Place{MinMass: 15 * kg}, catalog.Place{MinMass: 15*kg + 1*g}},
		{"min_months from the last day of May", catalog.Place{MinMonths: 41}, catalog.Place{MinMonths: 42}},
		{"max_months from the first day of May", catalog.Place{MaxMonths: 43}, catalog.Place{MaxMonths: 42}},
		{"max_stature", catalog.Place{MaxStature: 98 * cm}, catalog.Place{MaxStature: 98*cm - 1}},
	} {
		runExamples(t, []example{
			{c.name + ", at the edge", workshop(seatFor("seat", 1000, c.at)).kids(tall), sits},
			{c.name + ", past it", workshop(seatFor("seat", 1000, c.past)).kids(tall), nil},
		})
	}
}

func TestEveryoneHasAPlaceOfTheirOwn(t *testing.T) {
	t.Parallel()
	older := kid("q", "2021-02", 18*kg)
	twoMax := func(n int) func(*catalog.Frame, *profile.Profile) {
		return func(f *catalog.Frame, _ *profile.Profile) { f.PassengersMax = n }
	}
	small, big := catalog.Place{MaxMass: 17 * kg}, catalog.Place{MinMass: 16 * kg}
	narrow := catalog.AddOn{Code: "bench", Zone: "rear", Price: 1000, MaxLoad: 35 * kg, Places: []catalog.Place{{Kind: "belted", MaxMass: 200 * kg}, {Kind: "belted", MaxMass: 200 * kg}}}
	runExamples(t, []example{
		{"one seat does not seat two", workshop(seatFor("seat", 1000, anyone)).kids(child, older), nil},
		{"two may not ride where one may", workshop(narrow).kids(child, older).with(twoMax(1)), nil},
		// 16 + 19 = 35 kg dressed.
		{"two may ride where two may, on a bench for 35 kg", workshop(narrow).kids(child, older).with(twoMax(2)),
			&wanted{bought: "bench", price: 1000, weight: 1 * kg, seats: "p:bench/0 q:bench/1"}},
		{"a gram more is more than the bench bears", workshop(narrow).kids(child, kid("q", "2021-02", 18*kg+1*g)), nil},
		// The first in the profile leaves the small seat to the second.
		{"who sits first is not who chooses last", workshop(seatFor("a-seat", 1000, anyone), seatFor("b-seat", 1000, big)).kids(child, older),
			&wanted{bought: "a-seat b-seat", price: 2000, weight: 2 * kg, seats: "p:a-seat/0 q:b-seat/0"}},
		{"the seating that works is found", workshop(seatFor("a-seat", 1000, anyone), seatFor("b-seat", 1000, small)).kids(child, older),
			&wanted{bought: "a-seat b-seat", price: 2000, weight: 2 * kg, seats: "p:b-seat/0 q:a-seat/0"}},
		{"the frame's own place comes first", workshop(seatFor("seat", 1000, anyone)).kids(child, older).with(func(f *catalog.Frame, _ *profile.Profile) {
			f.Places = []catalog.Place{{Zone: "rear", Kind: "bench", MaxMass: 200 * kg}}
		}),
			&wanted{bought: "seat", price: 1000, weight: 1 * kg, seats: "p:/0 q:seat/0"}},
	})
}

func TestThePetHasItsCarrierAlone(t *testing.T) {
	t.Parallel()
	crate := catalog.AddOn{Code: "crate", Zone: "front", Price: 1000, Pet: 8 * kg, Cargo: 10 * kg, CargoVolume: 30_000}
	bag := bagFor("bag", "rear", 10*kg, 30_000)
	pet := func(mass, cargo measure.Mass) func(*catalog.Frame, *profile.Profile) {
		return func(_ *catalog.Frame, p *profile.Profile) { p.Pet, p.Cargo = profile.Given(mass), profile.Given(cargo) }
	}
	perch := crate
	perch.Places = []catalog.Place{{Kind: "belted", MaxMass: 200 * kg}}
	two := crate
	two.UpTo = 2
	runExamples(t, []example{
		{"up to its rating", workshop(crate).with(pet(8*kg, 0)), &wanted{bought: "crate", price: 1000, weight: 1 * kg, pet: "crate"}},
		{"and not a gram more", workshop(crate).with(pet(8*kg+1*g, 0)), nil},
		{"cargo has to go elsewhere", workshop(crate, bag).with(pet(5*kg, 4*kg)), &wanted{bought: "bag crate", price: 2000, weight: 2 * kg, pet: "crate", cargo: "bag=4000/0"}},
		{"or nowhere", workshop(crate).with(pet(5*kg, 4*kg)), nil},
		{"or into a second one", workshop(two).with(pet(5*kg, 4*kg)), &wanted{bought: "crate crate", price: 2000, weight: 2 * kg, pet: "crate", cargo: "crate=4000/0"}},
		{"nobody sits with it", workshop(perch).with(pet(5*kg, 0)).kids(child), nil},
		// Front zone 20 kg: crate 1 + pet 8 + 11 of others.
		{"it counts in its zone", workshop(crate, bagFor("bag", "front", 30*kg, 0)).with(pet(8*kg, 10*kg)), &wanted{bought: "bag crate", price: 2000, weight: 2 * kg, pet: "crate", cargo: "bag=10000/0"}},
		{"to the gram", workshop(crate, bagFor("bag", "front", 30*kg, 0)).with(pet(8*kg, 10*kg+1*g)), nil},
	})
}

func TestRatingsToTheGram(t *testing.T) {
	t.Parallel()
	seat := seatFor("seat", 1000, anyone)
	seated := &wanted{bought: "seat", price: 1000, weight: 1 * kg, seats: "p:seat/0"}
	pinned := func(change func(f *catalog.Frame, one measure.Mass)) (at, past *instance) {
		for i, one := range []measure.Mass{0, 1 * g} {
			in := workshop(seat).kids(child)
			change(in.frame, one)
			if i == 0 {
				at = in
			} else {
				past = in
			}
		}
		return at, past
	}
	combined := func(rating measure.Mass) []catalog.Combined {
		return []catalog.Combined{{Zones: []string{"front", "rear"}, Rating: rating}}
	}
	axles := func(f *catalog.Frame) {
		f.Wheelbase, f.RiderAhead, f.BareFrontShare, f.Zones[1].Ahead = 1000, 500, 40*measure.Percent, -100
	}
	for name, change := range map[string]func(f *catalog.Frame, one measure.Mass){
		// 25 + 80 + seat 1 + child 16 = 122
		"gross": func(f *catalog.Frame, one measure.Mass) { f.GrossRating = 122*kg - one },
		// seat 1 + child 16
		"zone":     func(f *catalog.Frame, one measure.Mass) { f.Zones[1].Rating = 17*kg - one },
		"combined": func(f *catalog.Frame, one measure.Mass) { f.Combined = combined(17*kg - one) },
		// 60 % of 25 is 15, half of 80 is 40, and 17 at 100 mm behind the axle
		// of a metre's wheelbase bear down with 18.7: 73.7
		"rear axle": func(f *catalog.Frame, one measure.Mass) { axles(f); f.RearAxleRating = 73700*g - one },
		// 10 + 40 − 1.7 = 48.3
		"front axle": func(f *catalog.Frame, one measure.Mass) { axles(f); f.FrontAxleRating = 48300*g - one },
	} {
		at, past := pinned(change)
		runExamples(t, []example{{name + " at its rating", at, seated}, {name + " a gram over", past, nil}})
	}
}

// Under several riders the heaviest decides: B states 75 kg and rides with 81.
func TestRatingsHoldUnderEveryRider(t *testing.T) {
	t.Parallel()
	two := func(second measure.Mass) *instance {
		in := workshop(seatFor("seat", 1000, anyone)).kids(child)
		in.frame.GrossRating = 123 * kg // 25 + 81 + 1 + 16
		in.profile.Riders = append(in.profile.Riders, profile.Rider{Label: "B", Height: profile.Given(170 * cm), Weight: profile.Given(second), Weighed: profile.Given(profile.Stated)})
		return in
	}
	runExamples(t, []example{
		{"at the rating", two(75 * kg), &wanted{bought: "seat", price: 1000, weight: 1 * kg, seats: "p:seat/0"}},
		{"a gram over under one of them", two(75*kg + 1*g), nil},
	})
}

// Cargo fills unsteered zones first, then the lowest, then the nearest to
// mid-wheelbase (500 of 1000 mm), then by code.
func TestCargoGoesWhereItHandlesBest(t *testing.T) {
	t.Parallel()
	carriers := func(change func(f *catalog.Frame)) *instance {
		in := workshop(bagFor("bag", "front", 6*kg, 20_000), bagFor("crate", "rear", 6*kg, 20_000))
		in.profile.Cargo, in.profile.CargoSize = profile.Given(8*kg), profile.Given(measure.Volume(24_000))
		in.frame.Wheelbase = 1000
		in.frame.Zones[0].Height, in.frame.Zones[0].Ahead, in.frame.Zones[1].Ahead = 60*cm, 600, 400
		change(in.frame)
		return in
	}
	// 6 kg of 8 are 18 l of 24.
	front := &wanted{bought: "bag crate", price: 2000, weight: 2 * kg, cargo: "bag=6000/18000 crate=2000/6000"}
	rear := &wanted{bought: "bag crate", price: 2000, weight: 2 * kg, cargo: "crate=6000/18000 bag=2000/6000"}
	runExamples(t, []example{
		{"by code", carriers(func(*catalog.Frame) {}), front},
		{"nearest to the middle", carriers(func(f *catalog.Frame) { f.Zones[0].Ahead = 601 }), rear},
		{"the lowest before the nearest", carriers(func(f *catalog.Frame) { f.Zones[0].Ahead, f.Zones[1].Height = 601, 601 }), front},
		{"unsteered before the lowest", carriers(func(f *catalog.Frame) { f.Zones[0].Steered, f.Zones[1].Height = true, 601 }), rear},
	})
}

// Kilograms and litres both bind: 6 kg and 60 l are 0.1 kg a litre, so a bag
// for 6 kg and 20 l holds 20 l, which are 2 kg.
func TestCargoSharesAreOfOneDensity(t *testing.T) {
	t.Parallel()
	asked := func(mass measure.Mass, volume measure.Volume) *instance {
		in := workshop(bagFor("a-bag", "rear", 6*kg, 20_000), bagFor("b-bag", "rear", 4*kg, 40_000))
		in.profile.Cargo, in.profile.CargoSize = profile.Given(mass), profile.Given(volume)
		return in
	}
	two := func(cargo string) *wanted {
		return &wanted{bought: "a-bag b-bag", price: 2000, weight: 2 * kg, cargo: cargo}
	}
	runExamples(t, []example{
		{"litres bind", asked(6*kg, 60_000), two("a-bag=2000/20000 b-bag=4000/40000")},
		{"a millilitre more does not go in", asked(6*kg, 60_001), nil},
		// 10 kg and 20 l: 6 kg are 12 l, 4 kg are 8 l.
		{"kilograms bind", asked(10*kg, 20_000), two("a-bag=6000/12000 b-bag=4000/8000")},
		{"a gram more does not go in", asked(10*kg+1*g, 20_000), nil},
		{"litres without kilograms", asked(0, 50_000), two("a-bag=0/20000 b-bag=0/30000")},
		{"kilograms without litres", asked(7*kg, 0), two("a-bag=6000/0 b-bag=1000/0")},
		{"nothing asks for nothing", asked(0, 0), &wanted{}},
	})
}

// A zone and an add-on may have the same code; each carries its own.
func TestAZoneNamedLikeAnAddOn(t *testing.T) {
	t.Parallel()
	tray := bagFor("tray", "tray", 3*kg, 0)
	tray.MaxLoad, tray.FittingMinutes = 3*kg, 10
	in := delivered(workshop(tray), "tray").with(func(f *catalog.Frame, p *profile.Profile) {
		f.Zones = []catalog.Zone{{Code: "tray", Cargo: 20 * kg}}
		p.Cargo = profile.Given(20 * kg)
	})
	in.checked(t)
	if b := solve(t, in, profile.LeastCost, fitting.AllRules); b == nil || b.Price+b.Labour != 0 || len(b.TakenOff) > 0 {
		t.Errorf("%s; the zone carries the 20 kg as it comes", said(b))
	}
}

// Where two carriers in one zone are limited by what both rate together,
// filling in order can go wrong: a, b and c may take 10 kg each, a and b
// together 10, a and c together 10. Filled in order a takes all 10 and nothing
// is left for b and c. But 15 kg do go on: a + b + c = 15 with b ≤ 10 − a and
// c ≤ 10 − a asks for a ≤ 5.
func TestSharingWhereFillingInOrderFails(t *testing.T) {
	t.Parallel()
	zones := func(cargo measure.Mass) *instance {
		return workshop().with(func(f *catalog.Frame, p *profile.Profile) {
			f.Zones = []catalog.Zone{{Code: "a", Cargo: 10 * kg}, {Code: "b", Cargo: 10 * kg}, {Code: "c", Cargo: 10 * kg}}
			f.Combined = []catalog.Combined{{Zones: []string{"a", "b"}, Rating: 10 * kg}, {Zones: []string{"a", "c"}, Rating: 10 * kg}}
			p.Cargo = profile.Given(cargo)
		})
	}
	runExamples(t, []example{
		{"in order", zones(10 * kg), &wanted{cargo: "a=10000/0"}},
		{"a gram more shifts two", zones(10*kg + 1*g), &wanted{cargo: "a=9999/0 b=1/0 c=1/0"}},
		{"halfway", zones(15 * kg), &wanted{cargo: "a=5000/0 b=5000/0 c=5000/0"}},
		{"all of it", zones(20 * kg), &wanted{cargo: "b=10000/0 c=10000/0"}},
		{"and not a gram more", zones(20*kg + 1*g), nil},
	})
}

// Where the first seat taken leaves no sharing, the next one may. b, c and d
// together are rated for 25 kg: with the child and its seat, 17 kg, in d, they
// leave b + c ≤ 8 and so a + b + c ≤ 14 of 15; in e, a = b = c = 5 goes on.
func TestSharingIsTriedForEverySeating(t *testing.T) {
	t.Parallel()
	first, second := fixedFor(10, seatFor("a-seat", 0, anyone)), fixedFor(10, seatFor("b-seat", 0, anyone))
	first.Zone, second.Zone = "d", "e"
	in := delivered(workshop(first, second), "a-seat", "b-seat").kids(child).with(func(f *catalog.Frame, p *profile.Profile) {
		f.Zones = []catalog.Zone{{Code: "a", Cargo: 10 * kg}, {Code: "b", Cargo: 6 * kg}, {Code: "c", Cargo: 6 * kg}, {Code: "d"}, {Code: "e"}}
		f.Combined = []catalog.Combined{{Zones: []string{"a", "b"}, Rating: 10 * kg}, {Zones: []string{"a", "c"}, Rating: 10 * kg}, {Zones: []string{"b", "c", "d"}, Rating: 25 * kg}}
		p.Cargo = profile.Given(15 * kg)
	})
	runExamples(t, []example{{"the second seat", in, &wanted{seats: "p:b-seat/0", cargo: "a=5000/0 b=5000/0 c=5000/0"}}})
}

// The same with the pet: in p-crate it leaves zone a only the 3 kg of q-crate,
// and with b + c ≤ 11 that is 14 of 15 kg; in q-crate it leaves a its 10, and
// a = b = c = 5 goes on. Both crates and the pet are 4 kg in zone a.
func TestSharingIsTriedForEveryPetCarrier(t *testing.T) {
	t.Parallel()
	roomy, tight := fixedFor(10, bagFor("p-crate", "a", 10*kg, 0)), fixedFor(10, bagFor("q-crate", "a", 3*kg, 0))
	roomy.Pet, tight.Pet = 8*kg, 8*kg
	in := delivered(workshop(roomy, tight), "p-crate", "q-crate").with(func(f *catalog.Frame, p *profile.Profile) {
		f.Zones = []catalog.Zone{{Code: "a"}, {Code: "b", Height: 1, Cargo: 6 * kg}, {Code: "c", Height: 1, Cargo: 6 * kg}}
		f.Combined = []catalog.Combined{{Zones: []string{"a", "b"}, Rating: 14 * kg}, {Zones: []string{"a", "c"}, Rating: 14 * kg}, {Zones: []string{"b", "c"}, Rating: 11 * kg}}
		p.Cargo, p.Pet = profile.Given(15*kg), profile.Given(2*kg)
	})
	runExamples(t, []example{{"the second crate", in, &wanted{pet: "q-crate", cargo: "p-crate=5000/0 b=5000/0 c=5000/0"}}})
}

// The same where the child sits: on p-crate, which bears 18 kg, it leaves 2 for
// cargo, and with the 1 of q-crate that is 3 + 11 of 15; on q-crate it leaves
// p-crate its 10.
func TestSharingIsTriedForEveryCarrierThatSomebodySitsOn(t *testing.T) {
	t.Parallel()
	roomy, tight := fixedFor(10, bagFor("p-crate", "a", 10*kg, 0)), fixedFor(10, bagFor("q-crate", "a", 1*kg, 0))
	roomy.MaxLoad, tight.MaxLoad, roomy.Places, tight.Places = 18*kg, 18*kg, []catalog.Place{{Kind: "bench", MaxMass: 200 * kg}}, []catalog.Place{{Kind: "bench", MaxMass: 200 * kg}}
	in := delivered(workshop(roomy, tight), "p-crate", "q-crate").kids(child).with(func(f *catalog.Frame, p *profile.Profile) {
		f.Zones = []catalog.Zone{{Code: "a"}, {Code: "b", Height: 1, Cargo: 6 * kg}, {Code: "c", Height: 1, Cargo: 6 * kg}}
		f.Combined = []catalog.Combined{{Zones: []string{"a", "b"}, Rating: 28 * kg}, {Zones: []string{"a", "c"}, Rating: 28 * kg}, {Zones: []string{"b", "c"}, Rating: 11 * kg}}
		p.Cargo = profile.Given(15 * kg)
	})
	runExamples(t, []example{{"the second crate", in, &wanted{seats: "p:q-crate/0", cargo: "p-crate=5000/0 b=5000/0 c=5000/0"}}})
}

// The rear axle has 15 + 40 kg of bike and rider and is rated for 66: 11 kg
// are left. A kilogram in the rear zone, 100 mm behind it, is 1.1 kg there; one
// over the front axle is none.
func TestSharingByTheAxles(t *testing.T) {
	t.Parallel()
	axled := func(cargo measure.Mass, rear measure.Mass) *instance {
		return workshop().with(func(f *catalog.Frame, p *profile.Profile) {
			f.Wheelbase, f.RiderAhead, f.BareFrontShare, f.RearAxleRating = 1000, 500, 40*measure.Percent, rear
			f.Zones = []catalog.Zone{{Code: "rear", Ahead: -100, Cargo: 30 * kg}, {Code: "front", Ahead: 1000, Height: 70 * cm, Cargo: 30 * kg}}
			p.Cargo = profile.Given(cargo)
		})
	}
	runExamples(t, []example{
		{"10 kg go in the rear", axled(10*kg, 66*kg), &wanted{cargo: "rear=10000/0"}},
		{"the rest goes in front", axled(20*kg, 66*kg), &wanted{cargo: "rear=10000/0 front=10000/0"}},
	})
}

// Bike and rider put 10 + 40 kg on the front axle and 15 + 40 on the rear.
// With 5 kg left on either, 10 kg go on, half over each, and not a gram more.
// The front zone may be rated for less than the front axle leaves.
func TestSharingBetweenBothAxles(t *testing.T) {
	t.Parallel()
	both := func(cargo, frontZone measure.Mass) *instance {
		return workshop().with(func(f *catalog.Frame, p *profile.Profile) {
			f.Wheelbase, f.RiderAhead, f.BareFrontShare, f.FrontAxleRating, f.RearAxleRating = 1000, 500, 40*measure.Percent, 55*kg, 60*kg
			f.Zones = []catalog.Zone{{Code: "rear", Cargo: 30 * kg}, {Code: "front", Ahead: 1000, Height: 70 * cm, Cargo: 30 * kg, Rating: frontZone}}
			p.Cargo = profile.Given(cargo)
		})
	}
	runExamples(t, []example{
		{"both full", both(10*kg, 0), &wanted{cargo: "rear=5000/0 front=5000/0"}},
		{"a gram too many for both", both(10*kg+1*g, 0), nil},
		{"the front zone full", both(8*kg, 3*kg), &wanted{cargo: "rear=5000/0 front=3000/0"}},
		{"a gram too many beside the front zone", both(8*kg+1*g, 3*kg), nil},
	})
}

// Combined ratings that overlap and an axle at once: of a, b and c, only c is
// not over the rear axle, which has 5 kg left; a + b and b + c are rated for
// 10 each.
func TestSharingUnderOverlappingRatingsAndAnAxle(t *testing.T) {
	t.Parallel()
	tied := func(cargo, rear measure.Mass, pairs ...catalog.Combined) *instance {
		return workshop().with(func(f *catalog.Frame, p *profile.Profile) {
			f.Wheelbase, f.RiderAhead, f.BareFrontShare, f.RearAxleRating = 1000, 500, 40*measure.Percent, rear
			f.Zones = []catalog.Zone{{Code: "a", Cargo: 10 * kg}, {Code: "b", Cargo: 10 * kg}, {Code: "c", Ahead: 1000, Cargo: 10 * kg}}
			f.Combined, p.Cargo = pairs, profile.Given(cargo)
		})
	}
	ab, bc := catalog.Combined{Zones: []string{"a", "b"}, Rating: 10 * kg}, catalog.Combined{Zones: []string{"b", "c"}, Rating: 10 * kg}
	ca := catalog.Combined{Zones: []string{"c", "a"}, Rating: 10 * kg}
	runExamples(t, []example{
		{"the axle decides", tied(10*kg, 60*kg, ab, bc), &wanted{cargo: "a=5000/0 c=5000/0"}},
		{"all that goes on", tied(15*kg, 60*kg, ab, bc), &wanted{cargo: "a=5000/0 c=10000/0"}},
		{"a gram too many", tied(15*kg+1*g, 60*kg, ab, bc), nil},
		// With room on the axle, c, the lightest there, must not take it all.
		{"the ratings decide", tied(15*kg, 90*kg, bc, ca), &wanted{cargo: "a=10000/0 b=5000/0"}},
		{"three in a ring", tied(15*kg, 90*kg, ab, bc, ca), &wanted{cargo: "a=5000/0 b=5000/0 c=5000/0"}},
		{"three in a ring, a gram too many", tied(15*kg+1*g, 90*kg, ab, bc, ca), nil},
	})
}

// With 10 kg left over the rear axle, 10 ÷ 1.1 = 9.0909… kg go in the rear:
// written to the gram, next to that.
func TestSharingToPartsOfAGram(t *testing.T) {
	t.Parallel()
	in := workshop().with(func(f *catalog.Frame, p *profile.Profile) {
		f.Wheelbase, f.RiderAhead, f.BareFrontShare, f.RearAxleRating = 1000, 500, 40*measure.Percent, 65*kg
		f.Zones = []catalog.Zone{{Code: "rear", Ahead: -100, Cargo: 30 * kg}, {Code: "front", Ahead: 1000, Height: 70 * cm, Cargo: 30 * kg}}
		p.Cargo = profile.Given(20 * kg)
	}).checked(t)
	b := solve(t, in, profile.LeastCost, fitting.AllRules)
	if b == nil || len(b.Cargo) != 2 || b.Cargo[0].Mass != 9090*g && b.Cargo[0].Mass != 9091*g || b.Cargo[0].Mass+b.Cargo[1].Mass != 20*kg {
		t.Errorf("%s; 9.0909 kg of 20 go in the rear", said(b))
	}
}

// Four shares that end in half a gram: a + b and a + c are rated for 10 and 8
// kg, d takes the rest of 16, and the front axle has 3601 g left. Of a kilogram
// in a it has 0.1 lifted off, in b nothing, in c a half and in d the whole. The
// more is in a, the more has to go in d: −0.1 a + (8 − a) ÷ 2 + (a − 2) is at
// most 3.601 up to a = 4.0025, so b = 5.9975, c = 3.9975 and d = 2.0025. Written
// to the gram, they still keep what is rated for whole grams.
func TestSharesWrittenToTheGramKeepTheRatings(t *testing.T) {
	t.Parallel()
	in := workshop().with(func(f *catalog.Frame, p *profile.Profile) {
		f.Wheelbase, f.RiderAhead, f.BareFrontShare, f.FrontAxleRating = 1000, 500, 40*measure.Percent, 53601*g
		f.Zones = []catalog.Zone{{Code: "a", Ahead: -100, Cargo: 30 * kg}, {Code: "b", Height: 1, Cargo: 30 * kg},
			{Code: "c", Ahead: 500, Height: 2, Cargo: 30 * kg}, {Code: "d", Ahead: 1000, Height: 3, Cargo: 30 * kg}}
		f.Combined = []catalog.Combined{{Zones: []string{"a", "b"}, Rating: 10 * kg}, {Zones: []string{"a", "c"}, Rating: 8 * kg}}
		p.Cargo = profile.Given(16 * kg)
	}).checked(t)
	b := solve(t, in, profile.LeastCost, fitting.AllRules)
	if b == nil || len(b.Cargo) != 4 {
		t.Fatalf("%s", said(b))
	}
	for i, half := range []measure.Mass{8005, 11995, 7995, 4005} {
		if twice := 2 * b.Cargo[i].Mass; twice < half-2 || twice > half+2 {
			t.Errorf("%s; share %d is not within a gram of %d halves of one", said(b), i, half)
		}
	}
	if faults := broken(in, asOf, b); faults != nil {
		t.Errorf("%d, %d, %d and %d g break rules: %v", b.Cargo[0].Mass, b.Cargo[1].Mass, b.Cargo[2].Mass, b.Cargo[3].Mass, faults)
	}
}

// The front axle bears 10 + 40 = 50 kg and is rated for 49. A kilogram 100 mm
// behind the rear axle takes 0.1 kg off it, so 10 kg have to go there even
// though the front zone comes first.
func TestCargoBehindTheAxleRelievesTheFront(t *testing.T) {
	t.Parallel()
	relieved := func(cargo measure.Mass) *instance {
		return workshop().with(func(f *catalog.Frame, p *profile.Profile) {
			f.Wheelbase, f.RiderAhead, f.BareFrontShare, f.FrontAxleRating = 1000, 500, 40*measure.Percent, 49*kg
			f.Zones = []catalog.Zone{{Code: "rear", Ahead: -100, Height: 70 * cm, Cargo: 30 * kg}, {Code: "over", Ahead: 0, Cargo: 30 * kg}}
			p.Cargo = profile.Given(cargo)
		})
	}
	runExamples(t, []example{
		{"too little", relieved(10*kg - 1*g), nil},
		{"just enough", relieved(10 * kg), &wanted{cargo: "rear=10000/0"}},
		{"the rest over the axle", relieved(16 * kg), &wanted{cargo: "over=6000/0 rear=10000/0"}},
	})
}

// The same ties at the same cost: by weight, then by codes; for the lightest
// by cost, then by codes.
func TestTies(t *testing.T) {
	t.Parallel()
	seat := func(code string, price measure.Money, weight measure.Mass) catalog.AddOn {
		a := seatFor(code, price, anyone)
		a.Weight = weight
		return a
	}
	for _, c := range []struct {
		name              string
		seats             []catalog.AddOn
		cheapest, lighter string
	}{
		{"cost against weight", []catalog.AddOn{seat("a", 2000, 1*kg), seat("b", 1000, 2*kg)}, "b", "a"},
		{"equal cost", []catalog.AddOn{seat("a", 1000, 2*kg), seat("b", 1000, 1*kg)}, "b", "b"},
		{"equal weight", []catalog.AddOn{seat("a", 2000, 1*kg), seat("b", 1000, 1*kg)}, "b", "b"},
		{"equal in both", []catalog.AddOn{seat("b", 1000, 1*kg), seat("a", 1000, 1*kg)}, "a", "a"},
	} {
		in := workshop(c.seats...).kids(child).checked(t)
		for objective, want := range map[profile.Objective]string{profile.LeastCost: c.cheapest, profile.Lightest: c.lighter} {
			if b := solve(t, in, objective, fitting.AllRules); b == nil || !slices.Equal(b.AddOns, []string{want}) {
				t.Errorf("%s, %s: %s, want %s", c.name, objective, said(b), want)
			}
		}
	}
}

// At equal cost the lighter bike wins, and what comes off for nothing makes it
// lighter still: the second seat weighs half a kilogram less than the first.
func TestTiesAreBrokenWithTheFreePartsOff(t *testing.T) {
	t.Parallel()
	a, b := seatFor("a-seat", 1000, anyone), seatFor("b-seat", 1000, anyone)
	a.Weight, b.Weight = 2*kg, 1500*g
	in := delivered(workshop(a, b, catalog.AddOn{Code: "leg", Weight: 2 * kg}).kids(child), "leg")
	runExamples(t, []example{{"the lighter seat, without the leg", in, &wanted{bought: "b-seat", off: "leg", price: 1000, weight: -500 * g, seats: "p:b-seat/0"}}})
}

// Either bench has two places and bears one child: it takes two of them, and
// of the three ways at one price the lightest.
func TestTiesAmongPairs(t *testing.T) {
	t.Parallel()
	bench := func(code string, weight measure.Mass, tags ...string) catalog.AddOn {
		return catalog.AddOn{Code: code, Zone: "rear", Price: 500, Weight: weight, MaxLoad: 20 * kg, UpTo: 2, Provides: tags, Places: []catalog.Place{{Kind: "bench", MaxMass: 200 * kg}, {Kind: "bench", MaxMass: 200 * kg}}}
	}
	in := workshop(bench("a-bench", 3*kg, "hand_hold"), bench("b-bench", 2*kg)).kids(child, kid("q", "2021-02", 15*kg))
	runExamples(t, []example{{"two of the lighter", in, &wanted{bought: "b-bench b-bench", price: 1000, weight: 4 * kg, seats: "p:b-bench/0 q:b-bench/0"}}})
}

// The lightest bike has off whatever may come off.
func TestLightestTakesPartsOff(t *testing.T) {
	t.Parallel()
	in := delivered(workshop(catalog.AddOn{Code: "stand", Weight: 700 * g, FittingMinutes: 10}), "stand").checked(t)
	b := solve(t, in, profile.Lightest, fitting.AllRules)
	if diff := gocmp.Diff(&wanted{off: "stand", labour: 1000, weight: -700 * g}, describe(b), gocmp.AllowUnexported(wanted{})); diff != "" {
		t.Errorf("− want, + got: %s", diff)
	}
}

// An add-on that another outdoes in every way is still the right one where it
// alone is needed, where the other one is full or does not go, and where its
// weight helps.
func TestTheLesserOfTwoAlike(t *testing.T) {
	t.Parallel()
	good, poor := seatFor("a-seat", 1000, anyone), seatFor("b-seat", 2000, catalog.Place{MaxMass: 40 * kg})
	cover := catalog.AddOn{Code: "cover", Price: 500, Needs: [][]string{{"b-seat"}}, Provides: []string{"lamp"}}
	wants := good
	wants.Needs = [][]string{{"lamp"}}
	barred := good
	barred.Excludes = []string{"bag"}
	second := kid("q", "2021-02", 18*kg)
	runExamples(t, []example{
		{"the better one", workshop(good, poor).kids(child), &wanted{bought: "a-seat", price: 1000, weight: 1 * kg, seats: "p:a-seat/0"}},
		{"both where one is not enough", workshop(good, poor).kids(child, second),
			&wanted{bought: "a-seat b-seat", price: 3000, weight: 2 * kg, seats: "p:a-seat/0 q:b-seat/0"}},
		{"the one that something else needs", workshop(wants, poor, cover).kids(child),
			&wanted{bought: "b-seat", price: 2000, weight: 1 * kg, seats: "p:b-seat/0"}},
		{"the one that something else needs, with both seats taken", workshop(wants, poor, cover).kids(child, second),
			&wanted{bought: "a-seat b-seat cover", price: 3500, weight: 3 * kg, seats: "p:a-seat/0 q:b-seat/0"}},
		{"the one that goes with the rest", workshop(barred, poor, bagFor("bag", "rear", 5*kg, 0)).kids(child).with(asking(5*kg, 0)),
			&wanted{bought: "b-seat bag", price: 3000, weight: 2 * kg, seats: "p:b-seat/0", cargo: "bag=5000/0"}},
		{"the one that fits this frame", elsewhere(workshop(good, poor).kids(child), "a-seat"), &wanted{bought: "b-seat", price: 2000, weight: 1 * kg, seats: "p:b-seat/0"}},
	})
}

// Of two seats that are also bags and pet carriers the cheaper one does
// everything, except what is wrong with it here: then the dearer one is the
// answer, by itself.
func TestTheDearerOfTwoWhereTheCheaperFails(t *testing.T) {
	t.Parallel()
	young := kid("p", "2023-05", 15*kg)
	young.Stature = profile.Given(98 * cm)
	child := func(in *instance) { in.kids(young) }
	cargo := func(in *instance) { in.with(asking(5*kg, 10_000)) }
	home := func(h profile.Home) func(in *instance) {
		return func(in *instance) {
			child(in)
			in.profile.Home = profile.Given(h)
		}
	}
	length := profile.Home{Length: profile.Given(180 * cm), Width: profile.Given(60 * cm)}
	for _, c := range []struct {
		name  string
		asked func(in *instance)
		worse func(a *catalog.AddOn)
	}{
		{"weight", func(in *instance) { child(in); in.frame.GrossRating = 122 * kg }, func(a *catalog.AddOn) { a.Weight = 1*kg + 1*g }},
		{"labour", child, func(a *catalog.AddOn) { a.FittingMinutes = 11 }},
		{"kilograms", cargo, func(a *catalog.AddOn) { a.Cargo = 5*kg - 1*g }},
		{"litres", cargo, func(a *catalog.AddOn) { a.CargoVolume = 9_999 }},
		{"the pet", func(in *instance) { in.profile.Pet = profile.Given(6 * kg) }, func(a *catalog.AddOn) { a.Pet = 6*kg - 1*g }},
		{"max_load", child, func(a *catalog.AddOn) { a.MaxLoad = 16*kg - 1*g }},
		{"zone", func(in *instance) { child(in); in.frame.Zones[0].Rating = 17*kg - 1*g }, func(a *catalog.AddOn) { a.Zone = "front" }},
		{"needs", child, func(a *catalog.AddOn) { a.Needs = [][]string{{"lamp"}} }},
		{"provides", func(in *instance) { child(in); thirdSeats(in) }, func(a *catalog.AddOn) { a.Provides = nil }},
		{"fits", child, func(a *catalog.AddOn) { a.Fits = nil }},
		{"a second place", func(in *instance) { in.kids(young, kid("q", "2023-05", 15*kg)) }, func(a *catalog.AddOn) { a.Places = a.Places[:1] }},
		{"min_months", child, func(a *catalog.AddOn) { a.Places[0].MinMonths, a.Places[1].MinMonths = 42, 42 }},
		{"max_months", child, func(a *catalog.AddOn) { a.Places[0].MaxMonths, a.Places[1].MaxMonths = 42, 42 }},
		{"min_kg", child, func(a *catalog.AddOn) { a.Places[0].MinMass, a.Places[1].MinMass = 15*kg+1*g, 15*kg+1*g }},
		{"max_kg", child, func(a *catalog.AddOn) { a.Places[0].MaxMass, a.Places[1].MaxMass = 16*kg-1*g, 16*kg-1*g }},
		{"max_stature", child, func(a *catalog.AddOn) { a.Places[0].MaxStature, a.Places[1].MaxStature = 98*cm-1, 98*cm-1 }},
		{"what a place needs", child, func(a *catalog.AddOn) {
			a.Places[0].Needs, a.Places[1].Needs = [][]string{{"lamp"}}, [][]string{{"lamp"}}
		}},
		{"where a place is", func(in *instance) {
			child(in)
			// 15 + 40 + 17 = 72 kg over the rear axle, more behind it.
			in.frame.Wheelbase, in.frame.RiderAhead, in.frame.BareFrontShare, in.frame.RearAxleRating = 1000, 500, 40*measure.Percent, 72*kg
		}, func(a *catalog.AddOn) { a.Places[0].Ahead, a.Places[1].Ahead = -1, -1 }},
		{"excludes", func(in *instance) { child(in); cargo(in); thirdCarries(in) }, func(a *catalog.AddOn) { a.Excludes = []string{"c-thing"} }},
		{"front overhang", home(length), func(a *catalog.AddOn) { a.FrontOverhang = 1 }},
		{"rear overhang", home(length), func(a *catalog.AddOn) { a.RearOverhang = 1 }},
		{"width", home(length), func(a *catalog.AddOn) { a.OverallWidth = 601 }},
		{"height", home(profile.Home{Height: profile.Given(110 * cm)}), func(a *catalog.AddOn) { a.OverallHeight = 1101 }},
		{"standing on end", func(in *instance) {
			in.frame.Upright = catalog.Box{Length: 60 * cm, Width: 60 * cm, Height: 180 * cm}
			home(profile.Home{MustStandUpright: profile.Given(true)})(in)
		}, func(a *catalog.AddOn) { a.BlocksUpright = true }},
	} {
		t.Run(c.name, func(t *testing.T) {
			in := rivals()
			c.asked(in)
			c.worse(&in.catalogue.AddOns[0])
			compareWithEverySet(t, in.checked(t))
			b := solve(t, in, profile.LeastCost, fitting.AllRules)
			if b == nil || slices.Contains(b.AddOns, "a-thing") || !slices.Contains(b.AddOns, "b-thing") {
				t.Errorf("%s; a-thing does not do", said(b))
			}
		})
	}
}

// rivals are two things that do everything, the second dearer by a cent, and
// a third that does nothing yet.
func rivals() *instance {
	all := func(code string, price measure.Money) catalog.AddOn {
		return catalog.AddOn{Code: code, Price: price, Zone: "rear", FittingMinutes: 10, Cargo: 5 * kg, CargoVolume: 10_000, Pet: 6 * kg,
			Provides: []string{"rail"}, Places: []catalog.Place{{Kind: "belted", MaxMass: 200 * kg}, {Kind: "belted", MaxMass: 200 * kg}}}
	}
	return workshop(all("a-thing", 1000), all("b-thing", 1001), catalog.AddOn{Code: "c-thing", Zone: "rear"})
}

// thirdSeats moves the places to the third, which needs what the rivals
// provide; thirdCarries moves the cargo there.
func thirdSeats(in *instance) {
	a := in.catalogue.AddOns
	a[2].Places, a[2].Needs = a[0].Places, [][]string{{"rail"}}
	a[0].Places, a[1].Places = nil, nil
}

func thirdCarries(in *instance) {
	a := in.catalogue.AddOns
	a[2].Cargo, a[2].CargoVolume = a[0].Cargo, a[0].CargoVolume
	for i := range 2 {
		a[i].Cargo, a[i].CargoVolume = 0, 0
	}
}

// The front axle bears 10 + 40 = 50 kg and is rated for 49.5. A rack a metre
// behind the rear axle takes its own weight off the front: half a kilogram is
// enough, and less is not, whatever else is better about it.
func TestTheHeavierOneRelievesTheFront(t *testing.T) {
	t.Parallel()
	rack := func(code string, price measure.Money, weight measure.Mass) catalog.AddOn {
		return catalog.AddOn{Code: code, Zone: "rear", Price: price, Weight: weight}
	}
	shop := func(racks ...catalog.AddOn) *instance {
		return workshop(racks...).with(func(f *catalog.Frame, _ *profile.Profile) {
			f.Wheelbase, f.RiderAhead, f.BareFrontShare, f.FrontAxleRating, f.Zones[1].Ahead = 1000, 500, 40*measure.Percent, 49500*g, -1000
		})
	}
	runExamples(t, []example{
		{"just heavy enough", shop(rack("light", 1000, 499*g), rack("right", 2000, 500*g), rack("heavy", 3000, 600*g)), &wanted{bought: "right", price: 2000, weight: 500 * g}},
		{"two light ones", shop(rack("a-light", 500, 300*g), rack("b-light", 600, 300*g), rack("heavy", 3000, 600*g)), &wanted{bought: "a-light b-light", price: 1100, weight: 600 * g}},
		{"none is heavy enough", shop(rack("light", 1000, 499*g)), nil},
	})
}

func TestDemoBuildsKeepEveryRule(t *testing.T) {
	t.Parallel()
	c, profiles := demo(t)
	feasible := 0
	for name, p := range profiles {
		for i := range c.Frames {
			in := &instance{catalogue: c, frame: &c.Frames[i], profile: p}
			for _, objective := range profile.Objectives {
				b := solve(t, in, objective, fitting.AllRules)
				if b == nil {
					continue
				}
				feasible++
				if faults := broken(in, p.AsOf, b); faults != nil {
					t.Errorf("%s on %s, %s: %s breaks rules: %v", name, c.Frames[i].Code, objective, said(b), faults)
				}
			}
		}
	}
	if feasible < 100 {
		t.Errorf("%d builds only", feasible)
	}
}

// A search that is called off answers with the context's error.
func TestSolveStopsWithTheContext(t *testing.T) {
	t.Parallel()
	c, profiles := demo(t)
	ctx, cancel := context.WithCancel(context.Background())
	cancel()
	stopped := 0
	for i := range c.Frames {
		in := &instance{catalogue: c, frame: &c.Frames[i], profile: profiles["tradesperson"]}
		b, err := in.problem().Solve(ctx, profile.LeastCost, fitting.AllRules)
		if errors.Is(err, context.Canceled) && b == nil {
			stopped++
		}
	}
	if stopped == 0 {
		t.Error("no search noticed that it was called off")
	}
}

// A part that the frame comes with and that needs what nothing gives has to
// come off, however often it says so.
func TestAPartThatNeedsWhatNothingGivesComesOff(t *testing.T) {
	t.Parallel()
	in := delivered(workshop(catalog.AddOn{Code: "bag", Weight: 500, FittingMinutes: 10, Needs: [][]string{{"wheel_guard"}, {"wheel_guard"}}}), "bag").checked(t)
	runExamples(t, []example{{"without it", in, &wanted{off: "bag", labour: 1000, weight: -500 * g}}})
}
