package fitting_test

import (
	"testing"

	"kinwain/internal/catalog"
	"kinwain/internal/measure"
	"kinwain/internal/profile"
)

// A box of 10 kg and 20 litres, and what an insert for a dog leaves of them.
func TestWhatAnAddOnTakesOfTheBox(t *testing.T) {
	t.Parallel()
	boxed := func(mass measure.Mass, volume measure.Volume, pet measure.Mass, addOns ...catalog.AddOn) *instance {
		return workshop(addOns...).with(func(f *catalog.Frame, p *profile.Profile) {
			f.Zones[0].Cargo, f.Zones[0].CargoVolume = 10*kg, 20_000
			p.Cargo, p.CargoSize, p.Pet = profile.Given(mass), profile.Given(volume), profile.Given(pet)
		})
	}
	insert := catalog.AddOn{Code: "insert", Zone: "front", Price: 1000, Pet: 8 * kg, DisplacesCargo: 4 * kg, DisplacesVolume: 12_000}
	elsewhere := insert
	elsewhere.Code, elsewhere.Zone, elsewhere.Price = "rear-insert", "rear", 9000
	huge := insert
	huge.Code, huge.DisplacesCargo = "huge", 30*kg
	bench := catalog.AddOn{Code: "bench", Zone: "front", DisplacesCargo: 3 * kg, DisplacesVolume: 3_000}
	runExamples(t, []example{
		{"without it all of the box", boxed(10*kg, 20_000, 0, insert), &wanted{cargo: "front=10000/20000"}},
		{"what it leaves in kilograms", boxed(6*kg, 8_000, 8*kg, insert), &wanted{bought: "insert", price: 1000, weight: 1 * kg, pet: "insert", cargo: "front=6000/8000"}},
		{"a gram more", boxed(6*kg+1*g, 8_000, 8*kg, insert), nil},
		{"a millilitre more", boxed(6*kg, 8_001, 8*kg, insert), nil},
		{"another zone takes none of it", boxed(6*kg+1*g, 8_001, 8*kg, insert, elsewhere),
			&wanted{bought: "rear-insert", price: 9000, weight: 1 * kg, pet: "rear-insert", cargo: "front=6001/8001"}},
		{"never less than nothing", boxed(0, 0, 8*kg, huge), &wanted{bought: "huge", price: 1000, weight: 1 * kg, pet: "huge"}},
		{"but then a box is no box", boxed(0, 1, 8*kg, huge), nil},
		{"a bag beside nothing", boxed(5*kg, 0, 8*kg, huge, bagFor("bag", "rear", 5*kg, 0)),
			&wanted{bought: "bag huge", price: 2000, weight: 2 * kg, pet: "huge", cargo: "bag=5000/0"}},
		{"a bench that came with it comes off", delivered(boxed(6*kg, 8_000, 8*kg, insert, fixedFor(10, bench)), "bench"),
			&wanted{bought: "insert", off: "bench", price: 1000, labour: 1000, pet: "insert", cargo: "front=6000/8000"}},
		{"and stays where there is room", delivered(boxed(3*kg, 5_000, 8*kg, insert, fixedFor(10, bench)), "bench"),
			&wanted{bought: "insert", price: 1000, weight: 1 * kg, pet: "insert", cargo: "front=3000/5000"}},
	})
}
