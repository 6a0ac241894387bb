package profile_test

import (
	"fmt"
	"reflect"
	"slices"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"kinwain/internal/measure"
	"kinwain/internal/problem"
	"kinwain/internal/profile"
)

// faults writes every fault of an error as its path and code, and fails where
// it is no list or a sentence is missing.
func faults(t *testing.T, err error) []string {
	t.Helper()
	found := []string{}
	if err == nil {
		return found
	}
	list, ok := err.(problem.List)
	if !ok {
		t.Fatalf("%#v is no list of faults", err)
	}
	for _, p := range list {
		if p.Text == "" || strings.Contains(p.Text, "\n") {
			t.Errorf("%s: %q is not one sentence", p.Path, p.Text)
		}
		found = append(found, p.Path+" "+p.Code)
	}
	return found
}

func is(faults ...string) []string { return append([]string{}, faults...) }

// fault is a change to the full profile and what it must be told.
type fault struct {
	name string
	make func(p *profile.Profile)
	want []string
}

// holds checks every change in memory and through its document.
func holds(t *testing.T, changes []fault) {
	t.Helper()
	for _, change := range changes {
		t.Run(change.name, func(t *testing.T) {
			p := full()
			change.make(p)
			if diff := cmp.Diff(change.want, faults(t, p.Check())); diff != "" {
				t.Errorf("in memory: %s", diff)
			}
			document, err := p.Document()
			if err != nil {
				t.Fatal(err)
			}
			parsed, err := profile.Parse(document)
			if diff := cmp.Diff(change.want, faults(t, err)); diff != "" {
				t.Errorf("in a document: %s", diff)
			}
			if parsed != nil && err != nil {
				t.Error("a faulty document gives a profile")
			}
		})
	}
}

func day(s string) measure.Date {
	d, err := measure.ParseDate(s)
	if err != nil {
		panic(err)
	}
	return d
}

func born(s string) profile.Answer[measure.Date] { return profile.Given(day(s)) }

func joins(s string) profile.Answer[profile.Month] {
	return profile.Given(profile.Month{Month: day(s).InMonth()})
}

// only makes the passengers of a profile this one.
func only(p *profile.Profile, passenger profile.Passenger) {
	if passenger.Label == "" {
		passenger.Label = "first"
	}
	p.Passengers = profile.Given([]profile.Passenger{passenger})
}

func riders(n int) []profile.Rider {
	var all []profile.Rider
	for i := range n {
		all = append(all, profile.Rider{Label: fmt.Sprint(i), Height: profile.Given(178 * cm), Weight: profile.Given(82 * kg)})
	}
	return all
}

func children(n int) []profile.Passenger {
	var all []profile.Passenger
	for i := range n {
		all = append(all, profile.Passenger{Label: fmt.Sprint(i), Born: born("2023-05")})
	}
	return all
}

func TestProfileFaults(t *testing.T) {
	alone := func(p *profile.Profile, asOf measure.Date) {
		p.Passengers, p.AsOf = profile.Answer[[]profile.Passenger]{}, asOf
	}
	holds(t, []fault{
		{"none", func(*profile.Profile) {}, is()},
		{"another version", func(p *profile.Profile) { p.Version = 2 }, is("profile out_of_range")},
		{"no version", func(p *profile.Profile) { p.Version = 0 }, is("profile out_of_range")},
		{"no day", func(p *profile.Profile) { alone(p, measure.Date{}) }, is("as_of missing")},
		{"a month for a day", func(p *profile.Profile) { alone(p, day("2026-11")) }, is("as_of missing")},
		{"a day long ago", func(p *profile.Profile) { alone(p, day("1999-12-31")) }, is("as_of missing")},
		{"a day far ahead", func(p *profile.Profile) { alone(p, day("2201-01-01")) }, is("as_of missing")},
		{"first day", func(p *profile.Profile) { alone(p, day("2000-01-01")) }, is()},
		{"last day", func(p *profile.Profile) { alone(p, day("2200-12-31")) }, is()},
		{"unknown objective", func(p *profile.Profile) { p.Objective = "cheapest" }, is("objective not_one_of")},
		{"no objective", func(p *profile.Profile) { p.Objective = "" }, is()},
		{"too many doorways", func(p *profile.Profile) {
			home := p.Home.Or(profile.Home{})
			home.Doorways = profile.Given(make([]profile.Doorway, 21))
			p.Home = profile.Given(home)
		}, is("home.doorways out_of_range")},
		{"too many corners", func(p *profile.Profile) {
			home := p.Home.Or(profile.Home{})
			home.Corners = profile.Given(make([]profile.Corner, 21))
			p.Home = profile.Given(home)
		}, is("home.corners out_of_range")},
		{"a long way in", func(p *profile.Profile) {
			home := p.Home.Or(profile.Home{})
			home.Doorways, home.Corners = profile.Given(make([]profile.Doorway, 20)), profile.Given(make([]profile.Corner, 20))
			p.Home = profile.Given(home)
		}, is()},
		{"nothing but riders", func(p *profile.Profile) { *p = profile.Profile{Version: 1, AsOf: p.AsOf, Riders: riders(1)} }, is()},
		{"nothing known", func(p *profile.Profile) {
			*p = profile.Profile{Version: 1, AsOf: p.AsOf, Riders: riders(1), Passengers: profile.Unknown[[]profile.Passenger](),
				Pet: profile.Unknown[measure.Mass](), Home: profile.Unknown[profile.Home](), Budget: profile.Unknown[measure.Money]()}
		}, is()},
	})
}

func TestRiderFaults(t *testing.T) {
	unknownLength, unknownMass := profile.Unknown[measure.Length](), profile.Unknown[measure.Mass]()
	holds(t, []fault{
		{"nobody", func(p *profile.Profile) { p.Riders = nil }, is("riders missing")},
		{"eight", func(p *profile.Profile) { p.Riders = riders(8) }, is()},
		{"nine", func(p *profile.Profile) { p.Riders = riders(9) }, is("riders out_of_range")},
		{"900 kg", func(p *profile.Profile) { p.Riders[0].Weight = profile.Given(900 * kg) }, is("riders[0].weight_kg out_of_range")},
		{"no height or weight of anybody", func(p *profile.Profile) { p.Riders[0].Height, p.Riders[0].Weight = unknownLength, unknownMass },
			is("riders[0].height_cm missing", "riders[0].weight_kg missing")},
		{"height and weight left out", func(p *profile.Profile) { p.Riders = []profile.Rider{{Label: "A"}} },
			is("riders[0].height_cm missing", "riders[0].weight_kg missing")},
		{"no height of anybody", func(p *profile.Profile) { p.Riders[0].Height = unknownLength }, is("riders[0].height_cm missing")},
		{"no weight of anybody", func(p *profile.Profile) { p.Riders[0].Weight = unknownMass }, is("riders[0].weight_kg missing")},
		{"one half of each of two", func(p *profile.Profile) {
			p.Riders = riders(2)
			p.Riders[0].Weight, p.Riders[1].Height = unknownMass, unknownLength
		}, is("riders[0].weight_kg missing")},
		{"the second is known", func(p *profile.Profile) {
			p.Riders = riders(2)
			p.Riders[0].Height, p.Riders[0].Weight = unknownLength, unknownMass
		}, is()},
		{"the second is left out", func(p *profile.Profile) {
			p.Riders = append(riders(1), profile.Rider{Label: "B"})
		}, is("riders[1].height_cm missing", "riders[1].weight_kg missing")},
		{"six tenths of inseam", func(p *profile.Profile) { p.Riders[0].Inseam = profile.Given[measure.Length](1068) }, is()},
		{"more than six tenths of inseam", func(p *profile.Profile) { p.Riders[0].Inseam = profile.Given[measure.Length](1069) },
			is("riders[0].inseam_cm conflict")},
		{"inseam of nobody known", func(p *profile.Profile) {
			p.Riders = riders(2)
			p.Riders[0].Height, p.Riders[0].Inseam = unknownLength, profile.Given(120*cm)
		}, is()},
		{"no label", func(p *profile.Profile) { p.Riders[0].Label = "" }, is("riders[0].label missing")},
		{"blank label", func(p *profile.Profile) { p.Riders[0].Label = "\u00a0 " }, is("riders[0].label missing")},
		{"longest label", func(p *profile.Profile) { p.Riders[0].Label = strings.Repeat("ü", 60) }, is()},
		{"long label", func(p *profile.Profile) { p.Riders[0].Label = strings.Repeat("ü", 61) }, is("riders[0].label out_of_range")},
		{"label of two", func(p *profile.Profile) { p.Riders = append(riders(2), riders(1)...) }, is("riders[2].label duplicate")},
		{"label of a rider and a passenger", func(p *profile.Profile) { p.Riders[0].Label = "first" }, is()},
		{"unknown words", func(p *profile.Profile) {
			p.Riders[0].Weighed, p.Riders[0].Grip = profile.Given[profile.Weighed]("wet"), profile.Given[profile.Grip]("")
		}, is("riders[0].weighed not_one_of", "riders[0].grip not_one_of")},
	})
}

// The profile is judged from 25 November 2026.
func TestPassengerFaults(t *testing.T) {
	weighs := profile.Given(15 * kg)
	one := func(passenger profile.Passenger) func(*profile.Profile) {
		return func(p *profile.Profile) { only(p, passenger) }
	}
	holds(t, []fault{
		{"5 m tall", one(profile.Passenger{Born: born("2023-05"), Stature: profile.Given(500 * cm)}), is("passengers[0].stature_cm out_of_range")},
		{"eight", func(p *profile.Profile) { p.Passengers = profile.Given(children(8)) }, is()},
		{"nine", func(p *profile.Profile) { p.Passengers = profile.Given(children(9)) }, is("passengers out_of_range")},
		{"born left out", one(profile.Passenger{Weight: weighs}), is("passengers[0].born missing")},
		{"born not known", one(profile.Passenger{Born: profile.Unknown[measure.Date](), Weight: weighs}), is()},
		{"born and weight not known", one(profile.Passenger{Born: profile.Unknown[measure.Date](), Weight: profile.Unknown[measure.Mass]()}), is()},
		{"born not known, weight left out", one(profile.Passenger{Born: profile.Unknown[measure.Date]()}), is()},
		{"born on no day", one(profile.Passenger{Born: profile.Given(measure.Date{})}), is("passengers[0].born missing")},
		{"born tomorrow", one(profile.Passenger{Born: born("2026-11-26")}), is()},
		{"born next month", one(profile.Passenger{Born: born("2026-12")}), is()},
		{"born in two years", one(profile.Passenger{Born: born("2028-11-25")}), is()},
		{"born in two years and a day", one(profile.Passenger{Born: born("2028-11-26")}), is("passengers[0].born out_of_range")},
		{"born in the month in two years", one(profile.Passenger{Born: born("2028-11")}), is()},
		{"born in the month after two years", one(profile.Passenger{Born: born("2028-12")}), is("passengers[0].born out_of_range")},
		{"weighed before the birth", one(profile.Passenger{Born: born("2026-11-26"), Weight: weighs}), is("passengers[0].weight_kg conflict")},
		{"weighed on the day of birth", one(profile.Passenger{Born: born("2026-11-25"), Weight: weighs}), is()},
		{"weight to come", one(profile.Passenger{Born: born("2026-12"), Weight: profile.Unknown[measure.Mass]()}), is()},
		{"measured before the birth", one(profile.Passenger{Born: born("2026-12"), Stature: profile.Given(50 * cm)}), is("passengers[0].stature_cm conflict")},
		{"sits before the birth", one(profile.Passenger{Born: born("2026-12"), SitsUnaided: profile.Given(true)}), is("passengers[0].sits_unaided conflict")},
		{"does not sit before the birth", one(profile.Passenger{Born: born("2026-12"), SitsUnaided: profile.Given(false)}), is()},
		{"expected, joins before the birthday", one(profile.Passenger{Born: born("2027-02"), Joins: joins("2028-01")}), is("passengers[0].joins out_of_range")},
		{"expected, joins in the month of the birthday", one(profile.Passenger{Born: born("2027-02"), Joins: joins("2028-02")}), is()},
		{"born today", one(profile.Passenger{Born: born("2026-11-25")}), is()},
		{"born this month", one(profile.Passenger{Born: born("2026-11")}), is()},
		{"born 110 years back", one(profile.Passenger{Born: born("1916-01"), Weight: weighs}), is()},
		{"born 111 years back", one(profile.Passenger{Born: born("1915-12-31"), Weight: weighs}), is("passengers[0].born out_of_range")},
		{"adult without a weight", one(profile.Passenger{Born: born("1990-01")}), is("passengers[0].weight_kg missing")},
		{"adult of unknown weight", one(profile.Passenger{Born: born("1990-01"), Weight: profile.Unknown[measure.Mass]()}), is("passengers[0].weight_kg missing")},
		{"adult with a weight", one(profile.Passenger{Born: born("1990-01"), Weight: weighs}), is()},
		{"17 years old", one(profile.Passenger{Born: born("2009-11-25")}), is()},
		{"17 years and a day old", one(profile.Passenger{Born: born("2009-11-24")}), is("passengers[0].weight_kg missing")},
		{"perhaps more than 17 years old", one(profile.Passenger{Born: born("2009-11")}), is("passengers[0].weight_kg missing")},
		{"joins too early", one(profile.Passenger{Born: born("2026-05-20"), Joins: joins("2027-04")}), is("passengers[0].joins out_of_range")},
		{"joins at 12 months", one(profile.Passenger{Born: born("2026-05-20"), Joins: joins("2027-05")}), is()},
		{"joins perhaps too early", one(profile.Passenger{Born: born("2026-05"), Joins: joins("2027-04")}), is("passengers[0].joins out_of_range")},
		{"joins on the last day", one(profile.Passenger{Born: born("2026-05"), Joins: joins("2027-05")}), is()},
		{"joins after a leap day", one(profile.Passenger{Born: born("2024-02-29"), Joins: joins("2025-02")}), is()},
		{"joins before the birth", one(profile.Passenger{Born: born("2026-05"), Joins: joins("2020-05")}), is("passengers[0].joins out_of_range")},
		{"joins in no month", one(profile.Passenger{Born: born("2026-05"), Joins: profile.Given(profile.Month{})}), is()},
		{"joins not known", one(profile.Passenger{Born: born("2026-05"), Joins: profile.Unknown[profile.Month]()}), is()},
		{"unknown sex", one(profile.Passenger{Born: born("2023-05"), Sex: profile.Given[profile.Sex]("girls")}), is("passengers[0].sex not_one_of")},
		{"no label", one(profile.Passenger{Label: " ", Born: born("2023-05")}), is("passengers[0].label missing")},
		{"twins of one label", func(p *profile.Profile) {
			twin := profile.Passenger{Label: "twin", Born: born("2023-05")}
			p.Passengers = profile.Given([]profile.Passenger{twin, twin})
		}, is("passengers[1].label duplicate")},
	})
}

// TestRanges tries every figure at and just beyond both ends of its range.
func TestRanges(t *testing.T) {
	home := func(change func(h *profile.Home, n measure.Length)) func(*profile.Profile, int64) {
		return func(p *profile.Profile, n int64) {
			h := p.Home.Or(profile.Home{})
			change(&h, measure.Length(n))
			p.Home = profile.Given(h)
		}
	}
	lift := func(l profile.Lift) profile.Answer[profile.Lift] { return profile.Given(l) }
	var changes []fault
	for _, c := range []struct {
		path        string
		least, most int64
		set         func(p *profile.Profile, n int64)
	}{
		{"riders[0].height_cm", 1000, 2300, func(p *profile.Profile, n int64) {
			p.Riders[0].Height, p.Riders[0].Inseam = profile.Given(measure.Length(n)), profile.Answer[measure.Length]{}
		}},
		{"riders[0].inseam_cm", 400, 1200, func(p *profile.Profile, n int64) {
			p.Riders[0].Height, p.Riders[0].Inseam = profile.Given(230*cm), profile.Given(measure.Length(n))
		}},
		{"riders[0].weight_kg", 25_000, 250_000, func(p *profile.Profile, n int64) { p.Riders[0].Weight = profile.Given(measure.Mass(n)) }},
		{"passengers[0].weight_kg", 2_000, 200_000, func(p *profile.Profile, n int64) {
			only(p, profile.Passenger{Born: born("2023-05"), Weight: profile.Given(measure.Mass(n))})
		}},
		{"passengers[0].stature_cm", 400, 2300, func(p *profile.Profile, n int64) {
			only(p, profile.Passenger{Born: born("2023-05"), Stature: profile.Given(measure.Length(n))})
		}},
		{"riders[0].age_years", 5, 110, func(p *profile.Profile, n int64) { p.Riders[0].Age = profile.Given(int(n)) }},
		{"passengers[0].leaves_at_years", 0, 30, func(p *profile.Profile, n int64) {
			only(p, profile.Passenger{Born: born("2023-05"), LeavesAtYears: profile.Given(int(n))})
		}},
		{"pet_kg", 0, 100_000, func(p *profile.Profile, n int64) { p.Pet = profile.Given(measure.Mass(n)) }},
		{"cargo_kg", 0, 400_000, func(p *profile.Profile, n int64) { p.Cargo = profile.Given(measure.Mass(n)) }},
		{"cargo_litres", 0, 2_000_000, func(p *profile.Profile, n int64) { p.CargoSize = profile.Given(measure.Volume(n)) }},
		{"home.length_cm", 0, 20_000, home(func(h *profile.Home, n measure.Length) { h.Length = profile.Given(n) })},
		{"home.width_cm", 0, 20_000, home(func(h *profile.Home, n measure.Length) { h.Width = profile.Given(n) })},
		{"home.height_cm", 0, 20_000, home(func(h *profile.Home, n measure.Length) { h.Height = profile.Given(n) })},
		{"home.clearance_cm", 0, 2_000, home(func(h *profile.Home, n measure.Length) { h.Clearance = profile.Given(n) })},
		{"home.doorways[0].width_cm", 0, 5_000, home(func(h *profile.Home, n measure.Length) {
			h.Doorways = profile.Given([]profile.Doorway{{Width: profile.Given(n)}})
		})},
		{"home.doorways[1].height_cm", 0, 5_000, home(func(h *profile.Home, n measure.Length) {
			h.Doorways = profile.Given([]profile.Doorway{{}, {Height: profile.Given(n)}})
		})},
		{"home.corners[1].in_cm", 0, 10_000, home(func(h *profile.Home, n measure.Length) {
			h.Corners = profile.Given([]profile.Corner{{}, {In: profile.Given(n)}})
		})},
		{"home.corners[0].out_cm", 0, 10_000, home(func(h *profile.Home, n measure.Length) {
			h.Corners = profile.Given([]profile.Corner{{Out: profile.Given(n)}})
		})},
		{"home.lift.length_cm", 0, 10_000, home(func(h *profile.Home, n measure.Length) { h.Lift = lift(profile.Lift{Length: profile.Given(n)}) })},
		{"home.lift.width_cm", 0, 10_000, home(func(h *profile.Home, n measure.Length) { h.Lift = lift(profile.Lift{Width: profile.Given(n)}) })},
		{"home.lift.height_cm", 0, 10_000, home(func(h *profile.Home, n measure.Length) { h.Lift = lift(profile.Lift{Height: profile.Given(n)}) })},
		{"home.lift.door_cm", 0, 10_000, home(func(h *profile.Home, n measure.Length) { h.Lift = lift(profile.Lift{Door: profile.Given(n)}) })},
		{"home.steps", 0, 500, home(func(h *profile.Home, n measure.Length) { h.Steps = profile.Given(int(n)) })},
		{"budget_cents", 1, 100_000_000, func(p *profile.Profile, n int64) { p.Budget = profile.Given(measure.Money(n)) }},
		{"years", 0, 10, func(p *profile.Profile, n int64) { p.Years = profile.Given(int(n)) }},
		{"hill_percent", 0, 4_000, func(p *profile.Profile, n int64) { p.Hill = profile.Given(measure.Percentage(n)) }},
	} {
		for n, want := range map[int64][]string{
			c.least: is(), c.most: is(), c.least - 1: is(c.path + " out_of_range"), c.most + 1: is(c.path + " out_of_range"),
		} {
			changes = append(changes, fault{fmt.Sprintf("%s %d", c.path, n), func(p *profile.Profile) { c.set(p, n) }, want})
		}
	}
	holds(t, changes)
}

// TestAllFaultsAtOnce holds that every fault of meaning is told in one go,
// none twice, in the order in which they are asked.
func TestAllFaultsAtOnce(t *testing.T) {
	p := full()
	p.Objective = "cheapest"
	p.Riders = append(p.Riders, profile.Rider{Label: "A", Height: profile.Given(90 * cm), Weight: profile.Given(900 * kg)})
	p.Riders[0].Inseam = profile.Given(120 * cm)
	p.Passengers = profile.Given([]profile.Passenger{
		{Label: "first", Born: born("2029-12")},
		{Label: "first", Stature: profile.Given(500 * cm)},
		{Label: "second", Born: born("1980-01"), Sex: profile.Given[profile.Sex]("man")},
	})
	p.Pet, p.Cargo = profile.Given(-1*kg), profile.Given(401*kg)
	home := p.Home.Or(profile.Home{})
	home.Length, home.Steps = profile.Given(21*measure.Metre), profile.Given(-1)
	home.Doorways = profile.Given([]profile.Doorway{{}, {Width: profile.Given(-1 * cm)}})
	p.Home = profile.Given(home)
	p.Budget, p.Hill = profile.Given[measure.Money](0), profile.Given(measure.Percentage(-1))
	got := faults(t, p.Check())
	want := is(
		"riders[0].inseam_cm conflict",
		"riders[1].label duplicate", "riders[1].height_cm out_of_range", "riders[1].weight_kg out_of_range",
		"passengers[0].born out_of_range",
		"passengers[1].label duplicate", "passengers[1].born missing", "passengers[1].stature_cm out_of_range",
		"passengers[2].sex not_one_of", "passengers[2].weight_kg missing",
		"pet_kg out_of_range", "cargo_kg out_of_range",
		"home.length_cm out_of_range", "home.steps out_of_range", "home.doorways[1].width_cm out_of_range",
		"budget_cents out_of_range", "hill_percent out_of_range", "objective not_one_of",
	)
	if diff := cmp.Diff(want, got); diff != "" {
		t.Error(diff)
	}
}

// TestEveryAnswerIsDeclaredOnce holds the table of questions against the types:
// every answer is asked for by one question, under the key of its document.
func TestEveryAnswerIsDeclaredOnce(t *testing.T) {
	declared(t, "", profile.Questions, &profile.Profile{}, "profile", "as_of")
}

func declared(t *testing.T, path string, questions []profile.Question, owner any, other ...string) {
	t.Helper()
	asked := map[string]bool{}
	v := reflect.ValueOf(owner).Elem()
	for i := range questions {
		q := &questions[i]
		asked[q.Name] = true
		found := false
		for j := range v.NumField() {
			key, _, _ := strings.Cut(v.Type().Field(j).Tag.Get("json"), ",")
			found = found || key == q.Name && v.Field(j).Addr().Interface() == q.At(owner)
		}
		if !found || q.Named.English == "" {
			t.Errorf("%s.%s is not its answer, or has no name", path, q.Name)
		}
		switch {
		case q.IsList():
			declared(t, path+"."+q.Name, q.Sub, q.Rows(owner, 1)[0])
		case q.Sub != nil:
			q.Fill(owner, func(part any) { declared(t, path+"."+q.Name, q.Sub, part) })
		}
	}
	for j := range v.NumField() {
		if key, _, _ := strings.Cut(v.Type().Field(j).Tag.Get("json"), ","); !asked[key] && key != "-" && !slices.Contains(other, key) {
			t.Errorf("%s.%s is never asked", path, key)
		}
	}
}
