package summary

import (
	"errors"
	"io/fs"
	"testing"

	"github.com/google/go-cmp/cmp"
	"github.com/google/go-cmp/cmp/cmpopts"

	"kinwain/internal/advice"
	"kinwain/internal/match"
	"kinwain/internal/measure"
	"kinwain/internal/problem"
	"kinwain/internal/profile"
	"kinwain/testdata"
)

const kg = measure.Kilogram

// keptOf keeps a summary of a frame of the demo shop for a sample customer.
func keptOf(t *testing.T, shop *advice.Shop, name, frame string, hide bool) (*Kept, *Answer) {
	t.Helper()
	p := customer(t, name)
	m, err := shop.Best(t.Context(), shop.Catalogue.Frame(frame), p, match.Options{})
	if err != nil {
		t.Fatal(err)
	}
	s, err := Of(shop, p, m, false)
	if err != nil {
		t.Fatal(err)
	}
	s.Hide = hide
	document, err := s.Document()
	if err != nil {
		t.Fatal(err)
	}
	k, err := Read(document)
	if err != nil {
		t.Fatal(err)
	}
	a, err := k.Answer(t.Context())
	if err != nil {
		t.Fatal(err)
	}
	return k, a
}

// TestNothingReadIsAsItWas holds that the same people on the same day are
// judged as they were with the same add-ons.
func TestNothingReadIsAsItWas(t *testing.T) {
	t.Parallel()
	shop := demo(t)
	names, err := fs.Glob(testdata.Profiles, "profiles/*.json")
	if err != nil {
		t.Fatal(err)
	}
	judged := 0
	for _, name := range names {
		for _, frame := range []string{"osier-m", "teasel", "sedge"} {
			k, a := keptOf(t, shop, name, frame, false)
			p, err := k.Anew(Anew{Day: k.Customer.AsOf})
			if err != nil {
				t.Fatal(name, err)
			}
			now, err := k.Still(t.Context(), p)
			if err != nil {
				t.Fatal(name, err)
			}
			if diff := cmp.Diff(figures(a.Plain), figures(now), cmpopts.EquateEmpty()); diff != "" {
				t.Errorf("%s on %s: %s", name, frame, diff)
			}
			if a.Plain.Fits() && (len(Graver(a.Plain, now)) > 0 || len(Elsewhere(a.Plain, now)) > 0) {
				t.Errorf("%s on %s: %v, %v", name, frame, Graver(a.Plain, now), Elsewhere(a.Plain, now))
			}
			judged += len(now.Sheets)
		}
	}
	if judged < 20 {
		t.Errorf("only %d load sheets", judged)
	}
}

// TestANewWeightIsSpare holds that every gram that somebody weighs more is one
// less to spare, and that a place that somebody is too heavy for is named.
func TestANewWeightIsSpare(t *testing.T) {
	t.Parallel()
	k, a := keptOf(t, demo(t), "profiles/twins.json", "osier-m", false)
	if !a.Match.Fits() || len(a.Match.Sheets) == 0 || len(a.Match.Seated) == 0 {
		t.Fatal("nothing to weigh")
	}
	day := k.Customer.AsOf
	still := func(n Anew) *match.Match {
		t.Helper()
		p, err := k.Anew(n)
		if err != nil {
			t.Fatal(err)
		}
		m, err := k.Still(t.Context(), p)
		if err != nil {
			t.Fatal(err)
		}
		return m
	}
	first := a.Match.Seated[0]
	was := a.Plain.Sheets[0].Spare()
	const more = 3
	now := still(Anew{Day: day, Passengers: map[int]PassengerAnew{first.Index: {Weight: first.Standing.Load - k.Shop.Settings.Clothing + more}}})
	if got := now.Sheets[0].Spare(); !now.Fits() || was-got != more {
		t.Errorf("%v to spare with %d g more, it was %v", got, more, was)
	}
	own := k.Customer.Riders[0].Weight.Or(0)
	now = still(Anew{Day: day, Riders: map[int]RiderAnew{0: {own + more, profile.Dressed}}})
	if got := now.Sheets[0]; got.Rider.Own != own+more || got.Rider.Riding != own+more {
		t.Errorf("%+v", got.Rider)
	}
	now = still(Anew{Day: day, Passengers: map[int]PassengerAnew{first.Index: {Weight: 40 * kg}}})
	if now.Fits() || len(now.Reasons) == 0 || now.Reasons[0].Weight != match.Stop || now.Reasons[0].Passenger != first.Passenger || now.Reasons[0].Code != match.ReasonPlaceLimits {
		t.Errorf("40 kg in a child seat: %s %+v", now.Verdict, now.Reasons)
	}
	if list := Graver(a.Match, now); len(list) == 0 || list[0].Code != match.ReasonPlaceLimits {
		t.Errorf("what is graver is %+v", list)
	}
}

// TestReadingsThatCannotBeRight are refused at their paths, and nothing else
// that time has made of the answers is.
func TestReadingsThatCannotBeRight(t *testing.T) {
	t.Parallel()
	k, _ := keptOf(t, demo(t), "profiles/second-child-soon.json", "osier-m", false)
	far := k.Customer.AsOf.AddMonths(12 * 30)
	for name, c := range map[string]struct {
		anew Anew
		want string
	}{
		"a rider of nothing":            {Anew{Day: k.Customer.AsOf, Riders: map[int]RiderAnew{0: {1 * kg, profile.Dressed}}}, "riders[0].weight_kg"},
		"a rider in grams":              {Anew{Day: k.Customer.AsOf, Riders: map[int]RiderAnew{0: {82_000 * kg, profile.Dressed}}}, "riders[0].weight_kg"},
		"a child as heavy as a car":     {Anew{Day: k.Customer.AsOf, Passengers: map[int]PassengerAnew{0: {Weight: 1200 * kg}}}, "passengers[0].weight_kg"},
		"a child of eleven millimetres": {Anew{Day: k.Customer.AsOf, Passengers: map[int]PassengerAnew{0: {Stature: 11}}}, "passengers[0].stature_cm"},
		"nothing, in thirty years":      {Anew{Day: far}, ""},
		"all right":                     {Anew{Day: k.Customer.AsOf, Passengers: map[int]PassengerAnew{0: {Weight: 15 * kg, Stature: 1000}}}, ""},
	} {
		_, err := k.Anew(c.anew)
		var list problem.List
		if !errors.As(err, &list) && c.want != "" || len(list) > 1 || c.want != "" && list[0].Path != c.want || c.want == "" && err != nil {
			t.Errorf("%s: %v, want a fault at %q", name, err, c.want)
		}
	}
	const second = 1
	k.Customer.Passengers.Or(nil)[second].Born = profile.Given(measure.Date{Year: 2027, Month: 4})
	if _, err := k.Anew(Anew{Day: k.Customer.AsOf, Passengers: map[int]PassengerAnew{second: {Weight: 4 * kg}}}); err == nil {
		t.Error("a child is weighed that is not born")
	}
}

// TestHiddenRidersAreNotKnown holds that no weight of a rider that is left out
// gets into what is judged anew, and that nothing adds up before all of them
// are read.
func TestHiddenRidersAreNotKnown(t *testing.T) {
	t.Parallel()
	k, _ := keptOf(t, demo(t), "profiles/two-parents.json", "osier-m", true)
	if len(k.Customer.Riders) != 2 {
		t.Fatal("there are not two riders")
	}
	day := k.Customer.AsOf
	for n, want := range []int{0, 1, 2} {
		a := Anew{Day: day, Riders: map[int]RiderAnew{}}
		for i := range n {
			a.Riders[i] = RiderAnew{70 * kg, profile.Dressed}
		}
		p, err := k.Anew(a)
		if err != nil {
			t.Fatal(err)
		}
		now, err := k.Still(t.Context(), p)
		if err != nil {
			t.Fatal(err)
		}
		if len(now.Sheets) != want || k.Adds(a) != (want == 2) {
			t.Errorf("%d riders read: %d load sheets, adds up: %v", n, len(now.Sheets), k.Adds(a))
		}
		for _, sh := range now.Sheets {
			if sh.Rider.Own != 70*kg {
				t.Errorf("%d riders read: %+v", n, sh.Rider)
			}
		}
	}
	open, _ := keptOf(t, demo(t), "profiles/two-parents.json", "osier-m", false)
	if !open.Adds(Anew{Day: day}) {
		t.Error("weights that are told do not add up")
	}
}
