package match_test

import (
	"maps"
	"math/rand/v2"
	"slices"

	"kinwain/internal/catalog"
	"kinwain/internal/measure"
	"kinwain/internal/profile"
)

// perturber draws customers and frames that stand about where the sample ones
// do: near their limits, so that most frames do not fit and many changes help.
type perturber struct {
	*rand.Rand
	shop      *catalog.Catalogue
	customers []*profile.Profile
}

func newPerturber(c *catalog.Catalogue, customers map[string]*profile.Profile, seed uint64) *perturber {
	d := &perturber{Rand: rand.New(rand.NewPCG(seed, 1)), shop: c}
	for _, name := range slices.Sorted(maps.Keys(customers)) {
		d.customers = append(d.customers, customers[name])
	}
	return d
}

func (d *perturber) often(percent int) bool { return d.IntN(100) < percent }

// about returns a figure up to so many per cent away from another, now and then
// rounded so that it ties with others.
func about[Q ~int | ~int64](d *perturber, q Q, percent int64) Q {
	if q == 0 {
		return 0
	}
	by := d.Int64N(2*percent+1) - percent
	return max(q+Q(int64(q)*by/100), 1)
}

// one returns a shop of one of the frames and all that fits it, and a customer.
// The draw is made anew where a document has a fault.
func (d *perturber) one() (*catalog.Catalogue, *profile.Profile) {
	for {
		c, p := d.wares(), d.customer()
		if c.Check() == nil && p.Check() == nil {
			return c, p
		}
	}
}

func (d *perturber) wares() *catalog.Catalogue {
	code := d.shop.Frames[d.IntN(len(d.shop.Frames))].Code
	c := d.shop.Without(func(list, of string) bool {
		return list == "units" || list == "frames" && of != code ||
			list == "add_ons" && !slices.Contains(d.shop.AddOn(of).Fits, code) && !slices.Contains(d.shop.Frame(code).ComesWith, of)
	})
	frames, addOns := slices.Clone(c.Frames), slices.Clone(c.AddOns)
	c.Frames, c.AddOns = frames, addOns
	f := &frames[0]
	f.GrossRating, f.RearAxleRating, f.FrontAxleRating = about(d, f.GrossRating, 8), about(d, f.RearAxleRating, 15), about(d, f.FrontAxleRating, 15)
	f.Zones, f.Combined = slices.Clone(f.Zones), slices.Clone(f.Combined)
	for i := range f.Zones {
		f.Zones[i].Rating = about(d, f.Zones[i].Rating, 20)
	}
	for i := range f.Combined {
		f.Combined[i].Rating = about(d, f.Combined[i].Rating, 20)
	}
	f.Price = about(d, f.Price, 20)
	for i := range addOns {
		d.ware(&addOns[i])
	}
	return c
}

func (d *perturber) ware(a *catalog.AddOn) {
	if d.often(30) {
		a.Excludes = slices.DeleteFunc(slices.Clone(a.Excludes), func(string) bool { return true })
	}
	a.Excludes = slices.Clone(a.Excludes)
	a.Price, a.MaxLoad, a.Cargo, a.CargoVolume = about(d, a.Price, 20), about(d, a.MaxLoad, 10), about(d, a.Cargo, 20), about(d, a.CargoVolume, 20)
	if d.often(20) {
		a.Price = a.Price / 10_000 * 10_000 // ties
	}
	a.Pet = about(d, a.Pet, 20)
	a.Places = slices.Clone(a.Places)
	for i := range a.Places {
		pl := &a.Places[i]
		pl.MinMonths, pl.MaxMonths = about(d, pl.MinMonths, 20), about(d, pl.MaxMonths, 20)
		pl.MinMass, pl.MaxMass, pl.MaxStature = about(d, pl.MinMass, 20), about(d, pl.MaxMass, 20), about(d, pl.MaxStature, 10)
	}
}

func (d *perturber) customer() *profile.Profile {
	p := *d.customers[d.IntN(len(d.customers))]
	other := d.customers[d.IntN(len(d.customers))]
	if d.often(40) {
		p.Passengers = other.Passengers
	}
	if d.often(40) {
		p.Home = other.Home
	}
	if d.often(30) {
		p.Pet, p.Cargo, p.CargoSize = other.Pet, other.Cargo, other.CargoSize
	}
	p.Objective = [...]profile.Objective{"", profile.LeastCost, profile.Lightest, profile.Longest}[d.IntN(4)]
	p.Pet, p.Cargo, p.CargoSize = nearly(d, p.Pet, 40), nearly(d, p.Cargo, 120), nearly(d, p.CargoSize, 120)
	p.Riders = slices.Clone(p.Riders)
	for i := range p.Riders {
		p.Riders[i].Weight = nearly(d, p.Riders[i].Weight, 15)
		p.Riders[i].Height = nearly(d, p.Riders[i].Height, 3)
	}
	if list, ok := p.Passengers.Get(); ok {
		list = slices.Clone(list)
		for i := range list {
			d.passenger(&list[i], p.AsOf)
		}
		p.Passengers = profile.Given(list)
	}
	if h, ok := p.Home.Get(); ok {
		p.Home = profile.Given(d.home(h))
	}
	if d.often(40) {
		p.Budget, p.BudgetFirm = profile.Given(measure.Money(d.IntN(700_000)+1)), profile.Given(true)
	}
	return &p
}

func nearly[Q ~int | ~int64](d *perturber, a profile.Answer[Q], percent int64) profile.Answer[Q] {
	if q, ok := a.Get(); ok {
		return profile.Given(about(d, q, percent))
	}
	return a
}

func (d *perturber) passenger(c *profile.Passenger, asOf measure.Date) {
	c.Weight, c.Stature = nearly(d, c.Weight, 30), nearly(d, c.Stature, 10)
	if born, ok := c.Born.Get(); ok && d.often(80) {
		month := born.InMonth() + measure.Month(d.IntN(37)-18)
		if d.often(30) {
			month = asOf.InMonth() - measure.Month(d.IntN(14)) // an infant, or about
		}
		day := (min(month, asOf.InMonth())).First()
		day.Day = []int{0, 1, 28, d.IntN(28) + 1}[d.IntN(4)]
		if day.Day == 0 || !asOf.Before(day) {
			c.Born = profile.Given(day)
		}
	}
	if d.often(30) {
		c.LeavesAtYears = profile.Given(d.IntN(12) + 1)
	}
	if d.often(15) {
		c.Joins = profile.Given(profile.Month{Month: asOf.InMonth() + measure.Month(d.IntN(20))})
	}
	if d.often(10) {
		c.SitsUnaided = profile.Given(d.often(50))
	}
	if d.often(20) {
		c.Weight = profile.Answer[measure.Mass]{}
	}
}

func (d *perturber) home(h profile.Home) profile.Home {
	h.Length, h.Width, h.Height = nearly(d, h.Length, 20), nearly(d, h.Width, 20), nearly(d, h.Height, 20)
	h.Doorways, h.Corners = profile.Given(slices.Clone(h.Doorways.Or(nil))), profile.Given(slices.Clone(h.Corners.Or(nil)))
	for i, door := range h.Doorways.Or(nil) {
		h.Doorways.Or(nil)[i] = profile.Doorway{Width: nearly(d, door.Width, 25), Height: nearly(d, door.Height, 25)}
	}
	if d.often(20) {
		h.Corners = profile.Given(append(h.Corners.Or(nil), profile.Corner{In: given(measure.Length(700 + d.IntN(800))), Out: given(measure.Length(700 + d.IntN(800)))}))
	}
	if l, ok := h.Lift.Get(); ok || d.often(20) {
		if !ok {
			l = profile.Lift{Length: given(2200), Width: given(1100), Height: given(2100), Door: given(900)}
		}
		h.Lift = profile.Given(profile.Lift{Length: nearly(d, l.Length, 20), Width: nearly(d, l.Width, 20), Height: nearly(d, l.Height, 20), Door: nearly(d, l.Door, 25)})
	}
	if d.often(15) {
		h.MustStandUpright = profile.Given(d.often(50))
	}
	return h
}

// extreme makes one thing about a customer as little, as much or as many as it
// can be.
func (d *perturber) extreme(p *profile.Profile) {
	was := *p
	switch d.IntN(8) {
	case 0:
		p.Cargo = profile.Given([]measure.Mass{0, 1, 400 * kg}[d.IntN(3)])
	case 1:
		p.CargoSize = profile.Given([]measure.Volume{0, 1, 1500 * measure.Litre}[d.IntN(3)])
	case 2:
		p.Passengers = profile.Given([]profile.Passenger{})
	case 3: // many, all alike
		list := p.Passengers.Or(nil)
		for i := range list {
			for _, more := range []string{"b", "c"} {
				c := list[i]
				c.Label += more
				list = append(list, c)
			}
		}
		p.Passengers = profile.Given(list)
	case 4: // all as old, and weighed alike, so that they tie
		list := slices.Clone(p.Passengers.Or(nil))
		for i := range list {
			label := list[i].Label
			list[i] = list[0]
			list[i].Label = label
		}
		p.Passengers = profile.Given(list)
	case 5:
		p.Budget, p.BudgetFirm = profile.Given([]measure.Money{0, 1, 999_999_00}[d.IntN(3)]), profile.Given(true)
	case 6:
		p.Home = profile.Given(profile.Home{Length: given(1), Doorways: profile.Given([]profile.Doorway{{}, {Width: given(1)}, {Height: given(3000)}})})
	case 7:
		p.Pet = profile.Given([]measure.Mass{1, 90 * kg}[d.IntN(2)])
	}
	if p.Check() != nil {
		*p = was
	}
}
