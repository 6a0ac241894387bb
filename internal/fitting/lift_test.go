package fitting_test

import (
	"context"
	"testing"

	"kinwain/internal/catalog"
	"kinwain/internal/fitting"
	"kinwain/internal/measure"
	"kinwain/internal/profile"
)

// A bike with 10 of its 25 kg in front and half of a rider of 80 kg: 50 kg hold
// the front down, as much as 50 kg a metre behind the rear axle lift.
func tailHeavy(cargo measure.Mass, addOns ...catalog.AddOn) *instance {
	return workshop(addOns...).with(func(f *catalog.Frame, p *profile.Profile) {
		f.GrossRating, f.Wheelbase, f.RiderAhead, f.BareFrontShare = 400*kg, 1000, 500, 40*measure.Percent
		f.Zones = []catalog.Zone{{Code: "front", Ahead: 1000, Steered: true}, {Code: "tail", Ahead: -1000, Cargo: 200 * kg}, {Code: "middle", Ahead: 500}}
		p.Cargo = profile.Given(cargo)
	})
}

func TestTheFrontBearsNoLessThanNothing(t *testing.T) {
	t.Parallel()
	heavier := profile.Rider{Label: "B", Height: profile.Given(170 * cm), Weight: profile.Given(90 * kg), Weighed: profile.Given(profile.Dressed)}
	second := func(in *instance) *instance {
		in.profile.Riders = append(in.profile.Riders, heavier)
		return in
	}
	bag, stand := bagFor("bag", "front", 5*kg, 0), fixedFor(10, catalog.AddOn{Code: "stand", Weight: 2 * kg})
	crate := catalog.AddOn{Code: "crate", Zone: "axle", Price: 100, Pet: 5 * kg, Excludes: []string{"stand"}}
	ahead := stand
	ahead.Ahead = 500
	runExamples(t, []example{
		{"nothing to spare", tailHeavy(50 * kg), &wanted{cargo: "tail=50000/0"}},
		{"a gram too much", tailHeavy(50*kg + 1*g), nil},
		{"under the lighter rider", second(tailHeavy(50*kg + 1*g)), nil},
		{"without geometry there is no telling", tailHeavy(90 * kg).with(func(f *catalog.Frame, _ *profile.Profile) { f.RiderAhead = 0 }), &wanted{cargo: "tail=90000/0"}},
		// 1 kg of bag and 5 in it hold down 6 more.
		{"the cargo goes around it", tailHeavy(61*kg, bag), &wanted{bought: "bag", price: 1000, weight: 1 * kg, cargo: "tail=56000/0 bag=5000/0"}},
		{"and no further", tailHeavy(61*kg+1*g, bag), nil},
		{"a stand holds nothing down where nobody states where it is", tailHeavy(50*kg+1*g, stand), nil},
		{"stated half a metre ahead it holds down half of its weight", tailHeavy(51*kg, ahead), &wanted{bought: "stand", labour: 1000, weight: 2 * kg, cargo: "tail=51000/0"}},
		// The dog's crate excludes the stand: 50 kg less the 2 of the stand, and
		// nothing for crate and dog over the rear axle.
		{"one that comes off may have held all of its weight", delivered(dog(tailHeavy(48*kg, stand, crate)), "stand"),
			&wanted{bought: "crate", off: "stand", price: 100, labour: 1000, weight: -1 * kg, pet: "crate", cargo: "tail=48000/0"}},
		{"and not a gram less", delivered(dog(tailHeavy(48*kg+1*g, stand, crate)), "stand"), nil},
	})
}

func dog(in *instance) *instance {
	in.profile.Pet = profile.Given(5 * kg)
	in.frame.Zones = append(in.frame.Zones, catalog.Zone{Code: "axle"})
	return in
}

// The reason is named, with by how much, and a build lasts until a child that
// grows behind the axle lifts the front.
func TestTheFrontLiftsAsAReason(t *testing.T) {
	t.Parallel()
	p := tailHeavy(52 * kg).problem()
	conflict, err := p.Conflict(context.Background(), fitting.AllRules)
	if want := fitting.FrontLight | fitting.CargoWeight; err != nil || conflict != want {
		t.Fatalf("conflict %v, %v", ruleNames(conflict), err)
	}
	br, err := p.Breach(context.Background(), conflict, fitting.FrontLight)
	if err != nil || br.Over != 2*kg || br.About != "front" {
		t.Errorf("breach %+v, %v", br, err)
	}
	seat := seatFor("seat", 1000, catalog.Place{MinMonths: 12})
	seat.Zone = "tail"
	in := tailHeavy(30*kg, seat).kids(child)
	if got := horizonOf(t, in); got.limit != "front_light:front" {
		t.Errorf("lasts %+v", got)
	}
}
