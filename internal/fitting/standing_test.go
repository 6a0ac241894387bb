package fitting_test

import (
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
