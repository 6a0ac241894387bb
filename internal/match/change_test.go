// The single change that would make a frame fit: each is exact, so that the
// frame fits with it and not with a gram, a millimetre, a cent or a month less.
package match_test

import (
	"cmp"
	"context"
	"fmt"
	"slices"
	"strings"
	"testing"

	"kinwain/internal/catalog"
	"kinwain/internal/fitting"
	"kinwain/internal/match"
	"kinwain/internal/measure"
	"kinwain/internal/profile"
)

// figure writes the figure of a change in its smallest unit.
func figure(c *match.Change) string {
	switch {
	case c == nil:
		return "none"
	case c.ToMass != nil:
		return fmt.Sprintf("%s %d", c.Code, *c.ToMass)
	case c.ToVolume != nil:
		return fmt.Sprintf("%s %d", c.Code, *c.ToVolume)
	}
	text := c.Code
	for _, part := range []string{c.Part, c.Day.String(), c.Rider, c.Passenger} {
		if part != "" {
			text += " " + part
		}
	}
	if n := int64(c.ToLength+c.ByLength) + int64(c.ToCents); n != 0 {
		text += fmt.Sprintf(" %d", n)
	}
	return text
}

func another(label string, height measure.Length) profile.Rider {
	return profile.Rider{Label: label, Height: given(height), Weight: profile.Given(80 * kg), Weighed: profile.Given(profile.Dressed)}
}

func TestTheChangeThatWouldMakeItFit(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		want string
		set  func(k *counter)
	}{
		// 200 − 25 − 80 = 95, less the bag's 1: but it holds 10.
		{"less_cargo 10000", func(k *counter) { k.p.Cargo = profile.Given(12 * kg) }},
		// Beside the child 200 − 25 − 80 − 1 − 16 = 78.
		{"less_cargo 78000", along(func(k *counter) { k.hold(78*kg + 1*g); k.f.Zones[1].Rating = 0 })},
		// 12 kg in 30 l; of 20 l there is room for 8 kg: fewer kilograms in
		// the same 30 l do not help, fewer litres do.
		{"fewer_litres 20000", func(k *counter) {
			k.p.Cargo, k.p.CargoSize = profile.Given(8*kg), profile.Given(measure.Volume(30_000))
		}},
		{"lying_flat", func(k *counter) { k.home(profile.Home{MustStandUpright: profile.Given(true)}) }},
		{"wider_doorway doorways[0] 600", func(k *counter) { k.home(doorway(550*mm, 0)) }},
		{"wider_doorway doorways[1] 600", func(k *counter) {
			k.home(profile.Home{Doorways: profile.Given([]profile.Doorway{{Width: given(700)}, {Width: given(599)}, {Width: given(650)}})})
		}},
		// No width mends a low doorway.
		{"none", func(k *counter) { k.home(doorway(550*mm, 900*mm)) }},
		{"larger_space 20", func(k *counter) { k.home(profile.Home{Length: given(1790), Width: given(580)}) }},
		{"larger_space 13", func(k *counter) { k.home(profile.Home{Height: given(1087)}) }},
		{"larger_lift 40", func(k *counter) {
			k.home(profile.Home{Lift: profile.Given(profile.Lift{Length: given(1780), Width: given(600), Height: given(1100), Door: given(560)})})
		}},
		{"without_pet", func(k *counter) { k.p.Pet = profile.Given(9 * kg) }},
		{"wait_until 2027-01-20", func(k *counter) { k.kids(kid("p", "2025-01-20")); k.seat().Places[0].MinMonths = 24 }},
		{"wait_until 2027-01-31", func(k *counter) { k.kids(kid("p", "2025-01-31")); k.seat().Places[0].MinMonths = 24 }},
		{"wait_until 2027-01-01", func(k *counter) { k.kids(kid("p", "2025-01-01")); k.seat().Places[0].MinMonths = 24 }},
		// Two within the month that has begun.
		{"wait_until 2026-11-30", func(k *counter) { k.kids(kid("p", "2024-11-30")); k.seat().Places[0].MinMonths = 24 }},
		// A year old on the last day of January 2027.
		{"wait_until 2027-01-31", func(k *counter) { k.kids(kid("p", "2026-01")) }},
		// A stated nothing limits nothing, however large the rest grows.
		{"larger_space 20", func(k *counter) { k.home(profile.Home{Length: given(1790), Width: given(580), Height: given(0)}) }},
		// Of B alone nothing is known yet.
		{"none", func(k *counter) {
			k.p.Riders[0].Height = given(140 * cm)
			k.p.Riders = append(k.p.Riders, profile.Rider{Label: "B", Height: profile.Unknown[measure.Length](), Weight: profile.Unknown[measure.Mass]()})
		}},
		{"without_rider B", func(k *counter) { k.p.Riders = append(k.p.Riders, another("B", 140*cm)) }},
		{"without_rider A", func(k *counter) {
			k.p.Riders[0].Height = given(140 * cm)
			k.p.Riders = append(k.p.Riders, another("B", 170*cm))
		}},
		{"none", func(k *counter) { k.p.Riders[0].Height = given(140 * cm) }},
		// Three for two seats, and nobody grows out of that.
		{"without_passenger p", func(k *counter) { k.kids(threeKids...) }},
		{"without_passenger q", func(k *counter) { k.kids(kid("p", "2023-05"), kid("q", "2010-05")); k.seat().Places[0].MaxMonths = 150 }},
		// The whole of what it costs.
		{"more_budget 200000", func(k *counter) {
			k.p.Budget, k.p.BudgetFirm = profile.Given(measure.Money(150_000)), profile.Given(true)
		}},
		{"none", func(k *counter) { k.f.GrossRating = 100 * kg }},
		// Two things wrong that no single change mends.
		{"none", func(k *counter) { k.p.Pet = profile.Given(9 * kg); k.home(doorway(550*mm, 0)) }},
	} {
		k := atCounter()
		c.set(k)
		m := k.judge(t)
		if m.Verdict != match.DoesNotFit || figure(m.Change) != c.want {
			t.Errorf("%s: %s %v, want %s", m.Verdict, figure(m.Change), codesOf(m), c.want)
		}
		if m.Change != nil {
			confirm(t, k, m.Change)
		}
	}
}

// A corner is widened in both legs, to the width that lets the bike round.
func TestWiderCorner(t *testing.T) {
	t.Parallel()
	for _, c := range []struct{ in, out measure.Length }{{900, 1000}, {650, 1600}, {1500, 700}, {650, 0}} {
		k := atCounter()
		k.home(profile.Home{Corners: profile.Given([]profile.Corner{{In: given(9000), Out: given(9000)}, {In: given(c.in), Out: given(c.out)}})})
		if c.out == 0 { // a leg that is not stated; the other is narrower than the bike
			k.f.Width = 660
		}
		m := k.judge(t)
		if m.Change == nil || m.Change.Code != "wider_corner" || m.Change.Part != "corners[1]" || m.Change.ToLength <= min(c.in, cmp.Or(c.out, c.in)) {
			t.Fatalf("%v into %v: change %s", c.in, c.out, figure(m.Change))
		}
		confirm(t, k, m.Change)
	}
}

// The first of the list that helps is given, even where later ones would too.
func TestTheFirstChangeOfTheListIsGiven(t *testing.T) {
	t.Parallel()
	k := atCounter()
	// Less cargo helps, and so would leaving the pet or the passenger out.
	along(func(k *counter) { k.hold(50 * kg); k.f.GrossRating = 170 * kg; k.p.Pet = profile.Given(5 * kg) })(k)
	// 170 − 25 − 80 − seat 1 − 16 − crate 1 − 5 = 42
	if got := figure(k.judge(t).Change); got != "less_cargo 42000" {
		t.Errorf("change %s, want less_cargo 42000", got)
	}
}

func TestAFrameThatFitsNeedsNoChange(t *testing.T) {
	t.Parallel()
	for _, e := range edges {
		for step := -1; step <= 1; step++ {
			if m := e.judged(t, step); m.Verdict != match.DoesNotFit && (m.Change != nil || len(m.Relaxed) > 0) {
				t.Errorf("%s, %s: %s with change %s and relaxed %v", e.code, e.line, m.Verdict, figure(m.Change), m.Relaxed)
			}
		}
	}
}

// changed returns the profile with a change made, short of it by so many of
// its smallest units.
func changed(p *profile.Profile, c *match.Change, short int64) *profile.Profile {
	q := *p
	home := q.Home.Or(profile.Home{})
	switch c.Code {
	case "less_cargo":
		q.Cargo = profile.Given(*c.ToMass + measure.Mass(short))
	case "fewer_litres":
		q.CargoSize = profile.Given(*c.ToVolume + measure.Volume(short))
	case "lying_flat":
		home.MustStandUpright = profile.Given(short > 0)
	case "wider_doorway", "wider_corner":
		home = widened(home, c.Part, c.ToLength-measure.Length(short))
	case "larger_space":
		by := c.ByLength - measure.Length(short)
		home.Length, home.Width, home.Height = more(home.Length, by), more(home.Width, by), more(home.Height, by)
	case "larger_lift":
		l, by := home.Lift.Or(profile.Lift{}), c.ByLength-measure.Length(short)
		home.Lift = profile.Given(profile.Lift{Length: more(l.Length, by), Width: more(l.Width, by), Height: more(l.Height, by), Door: more(l.Door, by)})
	case "without_pet":
		q.Pet = profile.Answer[measure.Mass]{}
	case "without_rider":
		q.Riders = slices.DeleteFunc(slices.Clone(q.Riders), func(r profile.Rider) bool { return r.Label == c.Rider })
	case "without_passenger":
		q.Passengers = profile.Given(slices.DeleteFunc(slices.Clone(q.Passengers.Or(nil)), func(r profile.Passenger) bool { return r.Label == c.Passenger }))
	case "more_budget":
		q.Budget = profile.Given(c.ToCents - measure.Money(short))
	}
	if q.Home.IsGiven() {
		q.Home = profile.Given(home)
	}
	return &q
}

func more(a profile.Answer[measure.Length], by measure.Length) profile.Answer[measure.Length] {
	if l := a.Or(0); l > 0 {
		return given(l + by)
	}
	return a
}

// widened widens a doorway, or whichever legs of a corner are narrower.
func widened(h profile.Home, part string, to measure.Length) profile.Home {
	kind, index, _ := strings.Cut(strings.TrimSuffix(part, "]"), "[")
	i := int(index[0] - '0')
	if kind == "doorways" {
		doorways := slices.Clone(h.Doorways.Or(nil))
		doorways[i].Width = given(to)
		h.Doorways = profile.Given(doorways)
		return h
	}
	corners := slices.Clone(h.Corners.Or(nil))
	for _, leg := range []*profile.Answer[measure.Length]{&corners[i].In, &corners[i].Out} {
		if l := leg.Or(0); l > 0 {
			*leg = given(max(l, to))
		}
	}
	h.Corners = profile.Given(corners)
	return h
}

var withFigure = []string{"less_cargo", "fewer_litres", "lying_flat", "wider_doorway", "wider_corner", "larger_space", "larger_lift", "more_budget"}

// confirm judges the frame again with the change made, and just short of it.
func confirm(t *testing.T, k *counter, c *match.Change) {
	t.Helper()
	if c.Message.In(measure.Metric) == "" {
		t.Errorf("%s has no text", figure(c))
	}
	if c.Code == "wait_until" {
		before := c.Day
		before.Day--
		from := firstMonth(t, k)
		inTime := c.Day == from.First() || c.Day.InMonth() == from-1
		if !inTime || !k.fitsOn(t, c.Day) || before.Day > 0 && k.p.AsOf.Before(before) && k.fitsOn(t, before) {
			t.Errorf("%s: the first month on whose first day it fits is %v", figure(c), from)
		}
		return
	}
	if !k.fits(t, changed(k.p, c, 0)) {
		t.Errorf("it does not fit with %s", figure(c))
	}
	if slices.Contains(withFigure, c.Code) && k.fits(t, changed(k.p, c, 1)) {
		t.Errorf("it fits with less than %s", figure(c))
	}
}

// firstMonth returns the first month from the next one on, on whose first day
// nobody is an infant and a build exists, within ten years.
func firstMonth(t *testing.T, k *counter) measure.Month {
	t.Helper()
	for m := k.p.AsOf.InMonth() + 1; m <= k.p.AsOf.InMonth()+120; m++ {
		if k.fitsOn(t, m.First()) {
			return m
		}
	}
	return 0
}

func (k *counter) fitsOn(t *testing.T, on measure.Date) bool {
	t.Helper()
	for _, c := range k.p.Passengers.Or(nil) {
		born, ok := c.Born.Get()
		if ok && !c.Joins.IsGiven() && on.Before(born.Latest().AddMonths(12)) {
			return false
		}
	}
	d := fitting.NewDemand(k.p, on, k.s.Settings)
	ok, err := fitting.New(k.Catalogue, k.f, d).Feasible(context.Background(), fitting.AllRules)
	if err != nil {
		t.Fatal(err)
	}
	return ok
}

// generous lists, in the order of the list, every change short of waiting with
// more than anybody could ask for.
func generous(p *profile.Profile) []*match.Change {
	none, most := measure.Mass(0), measure.Length(20*measure.Metre)
	empty := measure.Volume(0)
	list := []*match.Change{{Code: "less_cargo", ToMass: &none}, {Code: "fewer_litres", ToVolume: &empty}, {Code: "lying_flat"}}
	home := p.Home.Or(profile.Home{})
	for i := range home.Doorways.Or(nil) {
		list = append(list, &match.Change{Code: "wider_doorway", Part: fmt.Sprintf("doorways[%d]", i), ToLength: most})
	}
	for i := range home.Corners.Or(nil) {
		list = append(list, &match.Change{Code: "wider_corner", Part: fmt.Sprintf("corners[%d]", i), ToLength: most})
	}
	list = append(list, &match.Change{Code: "larger_space", ByLength: most})
	if home.Lift.IsGiven() {
		list = append(list, &match.Change{Code: "larger_lift", ByLength: most})
	}
	list = append(list, &match.Change{Code: "without_pet"}, &match.Change{Code: "wait_until"})
	if len(p.Riders) > 1 {
		for _, r := range p.Riders {
			list = append(list, &match.Change{Code: "without_rider", Rider: r.Label})
		}
	}
	for _, c := range p.Passengers.Or(nil) {
		list = append(list, &match.Change{Code: "without_passenger", Passenger: c.Label})
	}
	return append(list, &match.Change{Code: "more_budget", ToCents: 1_000_000_00})
}

// Over the demo shop: what is given helps, with not a unit less, and nothing
// before it in the list does; and where nothing is given nothing helps.
func TestChangesOverTheDemoShop(t *testing.T) {
	t.Parallel()
	c, profiles := demo(t)
	given := map[string]int{}
	for name, p := range profiles {
		for i := range c.Frames {
			k := &counter{c, &c.Frames[i], p, match.DefaultSettings(), nil}
			m := k.judge(t)
			if m.Verdict != match.DoesNotFit {
				continue
			}
			if m.Change != nil {
				given[m.Change.Code]++
				confirm(t, k, m.Change)
			}
			if first := k.firstThatHelps(t); figureless(first) != figureless(m.Change) {
				t.Errorf("%s on %s: %s; the first that helps is %s", name, k.f.Code, figure(m.Change), figure(first))
			}
		}
	}
	for _, code := range []string{"less_cargo", "wider_doorway", "larger_space", "without_pet", "wait_until", "without_rider", "without_passenger", "more_budget"} {
		if given[code] == 0 {
			t.Errorf("no sample customer is told %s", code)
		}
	}
}

func (k *counter) firstThatHelps(t *testing.T) *match.Change {
	t.Helper()
	for _, c := range generous(k.p) {
		if c.Code == "wait_until" {
			if len(k.p.Passengers.Or(nil)) > 0 && !k.ridersStopped(t) && k.affordable(t) && firstMonth(t, k) > 0 {
				return c
			}
			continue
		}
		q := changed(k.p, c, 0)
		if c.Rider != "" && q.Check() != nil {
			continue // the one who is left has to be known
		}
		if k.fits(t, q) {
			return c
		}
	}
	return nil
}

// ridersStopped and affordable tell what waiting cannot mend.
func (k *counter) ridersStopped(t *testing.T) bool {
	m := k.judge(t)
	return len(reasonsOf(m, "rider_weight")) > 0 || slices.ContainsFunc(reasonsOf(m, "rider_height"), func(r match.Reason) bool { return r.Weight == stop })
}

func (k *counter) affordable(t *testing.T) bool {
	return !slices.ContainsFunc(reasonsOf(k.judge(t), "budget"), func(r match.Reason) bool { return r.Weight == stop })
}

// figureless is the change without its figure.
func figureless(c *match.Change) string {
	if c == nil {
		return "none"
	}
	return c.Code + c.Part + c.Rider + c.Passenger
}

// relaxation: what is left out goes in its order, until a build exists.
func TestRelaxedInOrder(t *testing.T) {
	t.Parallel()
	tight := profile.Home{Height: given(900)}
	for _, c := range []struct {
		want string
		set  func(k *counter)
	}{
		{"", func(k *counter) { tall(140*cm)(k, 0) }},
		{"home", func(k *counter) { k.home(tight) }},
		{"cargo_litres", func(k *counter) { k.p.CargoSize = profile.Given(measure.Volume(50_000)) }},
		{"cargo_kg", func(k *counter) { k.p.Cargo = profile.Given(50 * kg) }},
		{"pet", func(k *counter) { k.p.Pet = profile.Given(9 * kg) }},
		{"passengers", func(k *counter) { k.kids(threeKids...) }},
		// Whatever stands before the culprit goes with it.
		{"home cargo_litres cargo_kg", func(k *counter) {
			k.home(doorway(90*cm, 0))
			k.p.CargoSize = profile.Given(measure.Volume(5_000))
			k.p.Cargo = profile.Given(50 * kg)
		}},
		{"home cargo_litres cargo_kg pet passengers", func(k *counter) {
			k.home(doorway(90*cm, 0))
			k.p.Cargo, k.p.CargoSize, k.p.Pet = profile.Given(5*kg), profile.Given(measure.Volume(5_000)), profile.Given(5*kg)
			k.kids(threeKids...)
		}},
		// What comes after the culprit stays.
		{"home", func(k *counter) { k.home(tight); k.p.Pet = profile.Given(5 * kg); k.kids(threeKids[:2]...) }},
		// Nothing helps: the frame is shown as it comes.
		{"home", func(k *counter) { k.home(doorway(90*cm, 0)); k.f.GrossRating = 100 * kg }},
	} {
		k := atCounter()
		c.set(k)
		m := k.judge(t)
		var got []string
		for _, r := range m.Relaxed {
			got = append(got, string(r))
		}
		if strings.Join(got, " ") != c.want || m.Verdict != match.DoesNotFit || m.Build == nil || m.Score != nil {
			t.Errorf("%s, relaxed %v, want %q; reasons %v", m.Verdict, got, c.want, codesOf(m))
		}
	}
}

// The relaxed build still carries what was not left out, and its sheets say so.
func TestTheRelaxedBuildCarriesTheRest(t *testing.T) {
	t.Parallel()
	k := atCounter()
	k.home(profile.Home{Height: given(900)})
	k.p.Pet = profile.Given(5 * kg)
	k.kids(threeKids[:2]...)
	m := k.judge(t)
	if len(m.Build.Seating) != 2 || m.Build.Pet != "crate" || m.Sheets[0].Carried != 2*16*kg+5*kg || m.Home == nil || m.Home.Fits {
		t.Errorf("seating %v, pet %q, carried %v, home %+v", m.Build.Seating, m.Build.Pet, m.Sheets[0].Carried, m.Home)
	}
}

// Every conflict that stands on its own is named, not the first one alone.
func TestEveryConflictIsNamed(t *testing.T) {
	t.Parallel()
	k := atCounter()
	k.kids(threeKids...)
	k.p.Pet, k.p.Cargo = profile.Given(9*kg), profile.Given(30*kg)
	k.home(profile.Home{Height: given(900)})
	k.f.Places = []catalog.Place{{Zone: "rear", Kind: "bench", MinMonths: 1, MaxMass: 200 * kg}}
	k.f.PassengersMax = 2
	m := k.judge(t)
	for _, code := range []match.Code{"passengers_max", "pet_place", "cargo_weight", "storage_space"} {
		if len(reasonsOf(m, code)) != 1 {
			t.Errorf("%s is not named: %v", code, codesOf(m))
		}
	}
	if m.Count(stop) != 4 {
		t.Errorf("stops %v", codesOf(m))
	}
}
