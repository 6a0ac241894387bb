package fitting_test

import (
	"testing"

	"kinwain/internal/catalog"
	"kinwain/internal/fitting"
	"kinwain/internal/profile"
)

// Cargo behind the rear axle lifts the front one. The bike alone puts 42 kg on
// a front axle rated for 40.5, so without its cargo it may not ride at all;
// with 4 kg of it on the tail, half a wheelbase behind the axle, 2 kg less.
// But the other 6 kg must not go to the middle, where half of them come back:
// the rack, right over the rear axle, is what the bike needs, though neither
// its weight nor its load lifts anything.
func TestRoomForCargoRelievesAnAxle(t *testing.T) {
	t.Parallel()
	in := workshop(bagFor("rack", "rear", 6*kg, 0)).with(func(f *catalog.Frame, p *profile.Profile) {
		f.BareWeight, f.BareFrontShare, f.Wheelbase, f.RiderAhead, f.FrontAxleRating = 20*kg, 5000, 1000, 400, 40500*g
		f.Zones = []catalog.Zone{{Code: "tail", Ahead: -500, Cargo: 4 * kg}, {Code: "rear"}, {Code: "middle", Ahead: 500, Cargo: 10 * kg}}
		p.Cargo = profile.Given(10 * kg)
	}).checked(t)
	b, ref := compareWithReference(t, in, profile.LeastCost)
	if !ref.found || ref.cost != 1000 || b == nil || b.AddOns[0] != "rack" {
		t.Errorf("%s; the reference finds %+v; the rack for 10.00 is needed", said(b), ref)
	}
	if ok, err := in.problem().Feasible(t.Context(), fitting.AllRules); !ok || err != nil {
		t.Errorf("feasible: %v, %v", ok, err)
	}
}
