package fitting_test

import (
	"context"
	"testing"

	"kinwain/internal/catalog"
	"kinwain/internal/measure"
	"kinwain/internal/profile"
)

// TestNoStageHasAGapWithinAMonth fits a small seat that is outgrown on a day in
// the middle of a month, and a large one that takes the child from another day
// of that month on: the next morning, or only days later. On the first and on
// the last of the month one of them suits in either case.
func TestNoStageHasAGapWithinAMonth(t *testing.T) {
	t.Parallel()
	born := measure.Date{Year: 2024, Month: 2, Day: 12}
	const gapMonth = 36 // the birthday on which it begins
	birthday := born.AddMonths(gapMonth)
	for _, c := range []struct {
		name string
		days int // without a seat
	}{{"none", 0}, {"a day", 1}, {"a week", 7}} {
		in := workshop()
		in.profile.Passengers = profile.Given([]profile.Passenger{{Label: "p", Born: profile.Given(born), Weight: profile.Given(13 * kg), Sex: profile.Given(profile.Girl)}})
		from := birthday
		for range 1 + c.days {
			from = next(from)
		}
		least := party(in.profile, from)[0].light
		if light := party(in.profile, birthday)[0].light; light >= least {
			t.Fatalf("%v on the birthday, %v later", light, least)
		}
		for code, pl := range map[string]catalog.Place{"small": {MinMonths: 1, MaxMonths: gapMonth}, "large": {MinMonths: 1, MinMass: least}} {
			pl.Kind, pl.MaxMass = "belted", 200*kg
			in.catalogue.AddOns = append(in.catalogue.AddOns, catalog.AddOn{Code: code, Name: code, Weight: kg, Price: 1000, Fits: []string{"sedge"}, Zone: "rear", Places: []catalog.Place{pl}})
		}
		months := int(birthday.InMonth()-in.profile.AsOf.InMonth()) + 3
		plan, err := in.problem().Plan(context.Background(), months)
		if err != nil {
			t.Fatal(c.name, err)
		}
		want := in.profile.AsOf.InMonth() + measure.Month(months-1)
		if c.days > 0 {
			want = birthday.InMonth() - 1 // no month in which nothing suits on some day
		}
		if plan.Until != want {
			t.Errorf("without a seat for %s: planned until %v, want %v", c.name, plan.Until, want)
		}
	}
}
