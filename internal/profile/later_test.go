package profile_test

import (
	"testing"

	"kinwain/internal/measure"
	"kinwain/internal/profile"
)

// TestLaterKeepsWhatWasRead takes a profile to a later day: readings keep the
// day on which they were taken, what is read then has that day, and the
// profile itself stays as it was.
func TestLaterKeepsWhatWasRead(t *testing.T) {
	t.Parallel()
	then, day := measure.Date{Year: 2026, Month: 11, Day: 25}, measure.Date{Year: 2027, Month: 5, Day: 3}
	p := full()
	p.AsOf = then
	p.Passengers = profile.Given([]profile.Passenger{
		{Label: "read", Born: born("2023-05"), Weight: profile.Given(15 * kg), Stature: profile.Given(100 * cm)},
		{Label: "expected", Born: born("2027-02")},
		{Label: "rides along in June", Born: born("2024-01"), Joins: profile.Given(profile.Month{Month: measure.MonthOf(2027, 6)})},
		{Label: "has joined since", Born: born("2024-01"), Joins: profile.Given(profile.Month{Month: measure.MonthOf(2027, 3)})},
	})
	before, err := p.Document()
	if err != nil {
		t.Fatal(err)
	}
	later := p.Later(day)
	all := later.Passengers.Or(nil)
	if later.AsOf != day || later.Check() != nil {
		t.Fatal(later.AsOf, later.Check())
	}
	if w, s := all[0].ReadOn(later.AsOf); w != then || s != then {
		t.Errorf("read on %v and %v", w, s)
	}
	if twice := later.Later(measure.Date{Year: 2027, Month: 8, Day: 1}); twice.Passengers.Or(nil)[0] != all[0] {
		t.Error("a second step forgets the day of the reading")
	}
	for i, want := range []string{"", "2028-02-28", "2027-06-01", ""} {
		joins, ok := all[i].JoinsOn(day)
		if ok = ok && day.Before(joins); ok != (want != "") || ok && joins.String() != want {
			t.Errorf("%s joins on %v, %v", all[i].Label, joins, ok)
		}
	}
	all[0].Weigh(16 * kg)
	if w, s := all[0].ReadOn(day); w != day || s != then {
		t.Errorf("weighed anew: %v and %v", w, s)
	}
	all[0].Measure(102 * cm)
	if w, s := all[0].ReadOn(day); w != day || s != day {
		t.Errorf("measured anew: %v and %v", w, s)
	}
	if after, err := p.Document(); err != nil || string(after) != string(before) || p.Later(then) != p || p.Later(measure.Date{Year: 2026, Month: 1, Day: 1}) != p {
		t.Errorf("it is another profile now: %s, %v", after, err)
	}
}
