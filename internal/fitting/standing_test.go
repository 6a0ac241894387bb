package fitting_test

import (
	"strings"
	"testing"

	"kinwain/internal/catalog"
	"kinwain/internal/fitting"
	"kinwain/internal/profile"
)

// Whoever joins later is judged as on the day of joining: neither as today nor
// as at the end of that month.
func TestWhoJoinsLaterIsJudgedOnThatDay(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		name  string
		place catalog.Place
		child profile.Passenger
		sits  bool
	}{
		// Seven on the 20th of January 2027, so not past it on the 1st.
		{"not yet too old", catalog.Place{MaxMonths: 84}, joins(kid("p", "2020-01-20", 15*kg), "2027-01"), true},
		{"seven on the very day", catalog.Place{MaxMonths: 84}, joins(kid("p", "2020-01-01", 15*kg), "2027-01"), true},
		{"seven the day before", catalog.Place{MaxMonths: 84}, joins(kid("p", "2019-12-31", 15*kg), "2027-01"), false},
		// 13 months on the 2nd of February 2027.
		{"still too young", catalog.Place{MinMonths: 13}, joins(kid("p", "2026-01-02", 15*kg), "2027-02"), false},
		{"old enough on the very day", catalog.Place{MinMonths: 13}, joins(kid("p", "2026-01-01", 15*kg), "2027-02"), true},
		// Nobody joins before the first birthday, the 31st of January.
		{"the first birthday is later", catalog.Place{MinMonths: 12}, joins(kid("p", "2026-01", 15*kg), "2027-01"), true},
	} {
		in := workshop(seatFor("seat", 1000, c.place)).kids(c.child)
		if b := solve(t, in, profile.LeastCost, fitting.AllRules); (b != nil) != c.sits {
			t.Errorf("%s: %s", c.name, said(b))
		}
	}
}

// Nobody whose birth month is not known sits where limits of age are stated,
// whatever they are and whenever it is.
func TestWithoutAnAgeThereIsNoPlaceWithLimitsOfAge(t *testing.T) {
	t.Parallel()
	later := joins(ageless("p", 15*kg), "2028-03")
	for _, c := range []struct {
		place catalog.Place
		child profile.Passenger
		sits  bool
	}{
		{catalog.Place{MaxMass: 22 * kg}, ageless("p", 15*kg), true},
		{catalog.Place{MaxMass: 22 * kg}, later, true},
		{catalog.Place{MinMonths: 1}, ageless("p", 15*kg), false},
		{catalog.Place{MinMonths: 96}, later, false},
		{catalog.Place{MaxMonths: 240, MaxMass: 22 * kg}, ageless("p", 15*kg), false},
		{catalog.Place{MaxMonths: 1200, MaxMass: 22 * kg}, later, false},
	} {
		in := workshop(seatFor("seat", 1000, c.place)).kids(c.child)
		b := solve(t, in, profile.LeastCost, fitting.AllRules)
		if (b != nil) != c.sits || !in.demand().Ageless() {
			t.Errorf("%+v: %s", c.place, said(b))
		}
	}
	if workshop().kids(kid("p", "2020-01", 15*kg)).demand().Ageless() {
		t.Error("a child with a birth month is without an age")
	}
}

// What a seat gives serves whoever sits in it, what has no places serves its
// zone, and what the frame gives serves everyone. Any other tag is anybody's.
func TestTagsOfASeatServeTheirPlaces(t *testing.T) {
	t.Parallel()
	for _, tag := range []string{"foot_support", "hand_hold", "backrest"} {
		giving := func(a catalog.AddOn, of string) catalog.AddOn {
			a.Provides = []string{of}
			return a
		}
		asks := catalog.Place{MinMonths: 48, Needs: [][]string{{tag}}}
		belted := seatFor("belted", 1000, asks)
		other := seatFor("harnessed", 2000, catalog.Place{MinMonths: 12, MaxMonths: 47})
		board := catalog.AddOn{Code: "board", Zone: "rear", Price: 500}
		front := catalog.AddOn{Code: "front-board", Zone: "front", Price: 300}
		nowhere := catalog.AddOn{Code: "loose-board", Price: 100}
		young, old := kid("p", "2024-05", 12*kg), kid("q", "2021-05", 18*kg)
		for _, c := range []struct {
			name   string
			in     *instance
			addOns string // nothing: no build
		}{
			{"the other child's seat gives it", workshop(belted, giving(other, tag)).kids(young, old), ""},
			{"the seat gives it itself", workshop(giving(belted, tag)).kids(old), "belted"},
			{"a part of the same zone gives it", workshop(belted, giving(other, tag), giving(board, tag), giving(front, tag), giving(nowhere, tag)).kids(young, old), "belted board harnessed"},
			{"a part of another zone gives it", workshop(belted, giving(front, tag)).kids(old), ""},
			{"a part without a zone gives it", workshop(belted, giving(nowhere, tag)).kids(old), ""},
			{"the frame gives it", workshop(belted, other).kids(young, old).with(func(f *catalog.Frame, _ *profile.Profile) { f.Provides = []string{tag} }), "belted harnessed"},
			{"a part of the zone of the frame's own place gives it", workshop(giving(board, tag), giving(front, tag)).kids(old).with(func(f *catalog.Frame, _ *profile.Profile) {
				asks := asks
				asks.Zone, asks.Kind = "front", "bench"
				f.Places = []catalog.Place{asks}
			}), "front-board"},
		} {
			b := solve(t, c.in.checked(t), profile.LeastCost, fitting.AllRules)
			got := ""
			if b != nil {
				got = strings.Join(b.AddOns, " ")
			}
			if got != c.addOns {
				t.Errorf("%s, %s: %q, want %q", tag, c.name, got, c.addOns)
			}
		}
	}
	stands := func(of string) *instance {
		seat := seatFor("seat", 1000, catalog.Place{MinMonths: 12, Needs: [][]string{{"two_leg_stand"}}})
		return workshop(seat, catalog.AddOn{Code: "stand", Price: 500, Provides: []string{of}}).kids(kid("p", "2022-05", 15*kg))
	}
	if b := solve(t, stands("two_leg_stand"), profile.LeastCost, fitting.AllRules); b == nil {
		t.Error("a stand without a zone serves no place")
	}
	needy := seatFor("seat", 1000, catalog.Place{MinMonths: 12})
	needy.Needs = [][]string{{"hand_hold"}}
	bar := catalog.AddOn{Code: "bar", Zone: "front", Price: 500, Provides: []string{"hand_hold"}}
	if b := solve(t, workshop(needy, bar).kids(kid("p", "2022-05", 15*kg)), profile.LeastCost, fitting.AllRules); b == nil {
		t.Error("an add-on that needs a tag does not get it from another zone")
	}
}
