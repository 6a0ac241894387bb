package fitting_test

import (
	"testing"

	"kinwain/internal/catalog"
	"kinwain/internal/measure"
	"kinwain/internal/profile"
)

// Cargo goes so that the sides differ least, and only then in the order of the
// carriers: the low pannier on the left would take all of it.
func TestCargoEvensTheSidesOut(t *testing.T) {
	t.Parallel()
	bike := func(cargo measure.Mass, volume measure.Volume, addOns ...catalog.AddOn) *instance {
		for i := range addOns {
			addOns[i].FittingMinutes = 10 // so that all stay on
		}
		return workshop(addOns...).with(func(f *catalog.Frame, p *profile.Profile) {
			f.Zones = []catalog.Zone{{Code: "left", Side: "left", Height: 40 * cm}, {Code: "right", Side: "right", Height: 50 * cm}, {Code: "top", Height: 90 * cm}}
			p.Cargo, p.CargoSize = profile.Given(cargo), profile.Given(volume)
			for i := range addOns {
				f.ComesWith = append(f.ComesWith, addOns[i].Code)
			}
		})
	}
	left, right, top := bagFor("left-bag", "left", 10*kg, 20_000), bagFor("right-bag", "right", 10*kg, 20_000), bagFor("top-bag", "top", 10*kg, 20_000)
	heavy := left
	heavy.Weight = 3 * kg
	runExamples(t, []example{
		{"halves", bike(8*kg, 0, left, right), &wanted{cargo: "left-bag=4000/0 right-bag=4000/0"}},
		{"a gram over goes to the first", bike(8*kg+1*g, 0, left, right), &wanted{cargo: "left-bag=4001/0 right-bag=4000/0"}},
		{"what weighs on one side counts", bike(8*kg, 0, heavy, right), &wanted{cargo: "left-bag=3000/0 right-bag=5000/0"}},
		{"as far as the carriers go", bike(8*kg, 0, left, bagFor("right-bag", "right", 3*kg, 0)), &wanted{cargo: "left-bag=5000/0 right-bag=3000/0"}},
		{"the first of those that differ as little", bike(8*kg, 0, left, right, top), &wanted{cargo: "left-bag=4000/0 right-bag=4000/0"}},
		{"in the middle where one side is all there is", bike(8*kg, 0, bagFor("left-bag", "left", 10*kg, 0), top), &wanted{cargo: "top-bag=8000/0"}},
		{"by litres too", bike(8*kg, 40_000, left, bagFor("right-bag", "right", 10*kg, 10_000), top), &wanted{cargo: "left-bag=2000/10000 right-bag=2000/10000 top-bag=4000/20000"}},
	})
}
