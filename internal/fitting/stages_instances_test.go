// Families that outgrow what they sit in: small shops in which most places are
// too small, or too large, for somebody at some time of the years ahead.
package fitting_test

import (
	"math/rand/v2"

	"kinwain/internal/catalog"
	"kinwain/internal/measure"
	"kinwain/internal/profile"
)

// grower draws them; the same seed draws the same.
type grower struct {
	*rand.Rand
	in     *instance
	months int // ahead that limits are drawn from
}

func some[V any](g *grower, values ...V) V { return values[g.IntN(len(values))] }

// outgrowing returns a shop with so many seats and other things for so many
// children.
func outgrowing(seed, kids, seats, things, months int) *instance {
	g := &grower{Rand: rand.New(rand.NewPCG(uint64(seed), uint64(kids+10*seats))), in: workshop(), months: months}
	g.in.profile.Passengers = profile.Given(g.children(kids))
	f := g.in.frame
	f.Zones[1].Rating = some(g, measure.Mass(0), 0, 60*kg, 45*kg)
	f.GrossRating = some(g, 250*kg, 250*kg, 180*kg, 160*kg)
	for i := range seats {
		g.sell(g.seat("seat-"+string(rune('a'+i)), i))
	}
	for i := range things {
		g.sell(g.thing("thing-" + string(rune('a'+i))))
	}
	return g.in
}

func (g *grower) children(n int) []profile.Passenger {
	var list []profile.Passenger
	for i := range n {
		month := asOf.InMonth() - measure.Month(some(g, 12, 14, 20, 26, 33, 40, 55, 70))
		p := profile.Passenger{Label: string(rune('p' + i)), Born: profile.Given(measure.Date{Year: month.Year(), Month: month.Month(), Day: some(g, 0, 1, 14, 25)})}
		switch g.IntN(8) {
		case 0:
			p.LeavesAtYears = profile.Given(int(asOf.InMonth()-month)/12 + 1 + g.IntN(2))
		case 1, 2:
			p.Joins = profile.Given(profile.Month{Month: asOf.InMonth() + measure.Month(1+g.IntN(g.months))})
		case 3:
			ahead := asOf.InMonth() + measure.Month(1+g.IntN(4))
			p.Born = profile.Given(measure.Date{Year: ahead.Year(), Month: ahead.Month(), Day: some(g, 0, 9)})
			list = append(list, p)
			continue
		}
		if g.IntN(3) > 0 {
			p.Weight = profile.Given(measure.Mass(9+int(asOf.InMonth()-month)/5)*kg + some(g, 0, 400*measure.Gram, 1*kg))
		}
		list = append(list, p)
	}
	return list
}

func (g *grower) sell(a catalog.AddOn) {
	a.Fits, a.FittingMinutes = []string{"sedge"}, some(g, 0, 10, 10, 25, 60)
	a.Name, a.Weight = a.Code, some(g, 1*kg, 2*kg, 5*kg)
	a.UpTo = some(g, 1, 1, 1, 2)
	g.in.catalogue.AddOns = append(g.in.catalogue.AddOns, a)
	if g.IntN(5) == 0 && goesOn(g.in.catalogue, &a) && len(g.in.frame.ComesWith) < 2 {
		g.in.frame.ComesWith = append(g.in.frame.ComesWith, a.Code)
	}
}

// seat is for one child, mostly: until the end of some half-year or a little
// longer, from the beginning of one on or a little before it, or at any time,
// which costs more.
func (g *grower) seat(code string, turn int) catalog.AddOn {
	a := catalog.AddOn{Code: code, Zone: some(g, "rear", "rear", "front"), Price: some(g, measure.Money(0), 1000, 2500, 4000, 6000, 9000)}
	a.Uses = some(g, nil, []catalog.Use{{Mount: "deck_cm", Count: 30}}, []catalog.Use{{Mount: "deck_cm", Count: 40}}, []catalog.Use{{Mount: "deck_cm", Count: 60}}, []catalog.Use{{Mount: "belly", Count: 1}})
	half := asOf.InMonth() + measure.Month(6*(1+g.IntN(max(g.months/6-1, 1))))
	for range some(g, 1, 1, 1, 2) {
		pl := catalog.Place{Kind: "belted", MaxMass: 200 * kg}
		switch kind := (turn + g.IntN(3)) % 4; kind {
		case 0, 1:
			p := g.who(turn/2, (half - 1 + measure.Month(some(g, 0, 0, 1, 3))).Last())
			pl.MaxMass = max(p.load, 9*kg)
			if kind == 1 && p.born.Day == 1 {
				pl = catalog.Place{Kind: "belted", MinMonths: 1, MaxMonths: max(int(p.on.InMonth()-p.born.InMonth())+1, 13)}
			}
		case 2:
			p := g.who(turn/2, (half - measure.Month(some(g, 0, 0, 1, 3))).First())
			if pl.MinMass = p.light; g.IntN(3) == 0 {
				pl.MinMass, pl.MinMonths = 0, max(int(p.on.InMonth()-p.born.InMonth())-1, 1)
			}
		default:
			a.Price += some(g, measure.Money(3000), 8000, 20000)
		}
		if g.IntN(5) == 0 {
			pl.Needs = [][]string{{some(g, "two_leg_stand", "foot_support", "hand_hold")}}
		}
		a.Places = append(a.Places, pl)
	}
	return a
}

// who is one of the children as on a day, or as today where all of them ride
// alone by then.
func (g *grower) who(turn int, day measure.Date) person {
	people := party(g.in.profile, day)
	if people == nil {
		people = party(g.in.profile, asOf)
	}
	return people[turn%len(people)]
}

// thing gives what a seat may need.
func (g *grower) thing(code string) catalog.AddOn {
	a := catalog.AddOn{Code: code, Zone: some(g, "", "rear"), Provides: []string{some(g, "two_leg_stand", "foot_support", "hand_hold")}, Price: some(g, measure.Money(0), 1500, 3000)}
	if g.IntN(2) == 0 {
		a.Uses = []catalog.Use{{Mount: some(g, "belly", "deck_cm"), Count: 1}}
	}
	if others := g.in.catalogue.AddOns; len(others) > 0 && g.IntN(4) == 0 {
		a.Excludes = []string{some(g, others...).Code}
	}
	return a
}
