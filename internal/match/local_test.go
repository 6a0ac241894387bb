package match_test

import (
	"strings"
	"testing"

	"kinwain/internal/match"
	"kinwain/internal/measure"
	"kinwain/internal/profile"
)

// local sets one rule of the place, with a child on board.
func local(set func(k *counter, step int)) func(k *counter, step int) {
	return func(k *counter, step int) {
		k.kids(kid("child", "2021-11"))
		set(k, step)
	}
}

func aged(k *counter, years int) { k.p.Riders[0].Age = profile.Given(years) }

// The child was born in November 2021, on a day that may be the first: by 25
// November 2026 it may be five.
var localEdges = []edge{
	{"local_rule", "a rider of 16, one year either way", [...]match.Weight{care, none, none}, local(func(k *counter, step int) {
		k.s.Local.RiderAge = 16
		aged(k, 16+step)
	})},
	{"local_rule", "a rider of any age, without passengers", [...]match.Weight{none, none, none}, func(k *counter, step int) {
		k.s.Local.RiderAge = 16
		aged(k, 16+step)
	}},
	{"local_rule", "a passenger of five", [...]match.Weight{care, none, none}, local(func(k *counter, step int) { k.s.Local.PassengerAge = int64(5 + step) })},
	{"local_rule", "the day of the sixth birthday", [...]match.Weight{none, care, care}, func(k *counter, step int) {
		k.kids(kid("child", "2020-11-25"))
		k.s.Local.PassengerAge = 5
		k.p.AsOf = later(day("2026-11-25"), step)
	}},
	{"local_rule", "two passengers", [...]match.Weight{care, none, none}, func(k *counter, step int) {
		k.kids(kid("first", "2021-11"), kid("second", "2022-03"))
		k.s.Local.Passengers = int64(2 + step)
	}},
	{"local_rule", "a bike 60 cm wide", [...]match.Weight{care, none, none}, func(k *counter, step int) {
		k.s.Local.Width = 60*cm + millimetres(step)
	}},
	{"local_rule", "helmets, with nobody, one and two along", [...]match.Weight{none, care, care}, func(k *counter, step int) {
		k.s.Local.Words = map[string]string{match.LocalHelmets: "Helmets up to the age of twelve"}
		k.kids([]profile.Passenger{kid("first", "2021-11"), kid("second", "2022-03")}[:step+1]...)
	}},
}

// TestLocalRulesSpeakForTheShop holds that no rule is set by default, that one
// is said in the shop's own words, and that an age that is not known is said.
func TestLocalRulesSpeakForTheShop(t *testing.T) {
	t.Parallel()
	k := atCounter()
	k.kids(kid("first child", "2021-11"))
	k.f.Width = 120 * cm
	if got := reasonsOf(k.judge(t), match.ReasonLocalRule); len(got) > 0 {
		t.Errorf("by default: %v", got)
	}
	k.s.Local = match.Local{RiderAge: 16, PassengerAge: 4, Width: 100 * cm, Words: map[string]string{
		match.LocalRiderAge: "Sixteen on the quay", match.LocalHelmets: "Casque pour tous !"}}
	want := []struct{ rule, text string }{
		{match.LocalRiderAge, "Local rule, as the shop has read it: Sixteen on the quay. The age of rider A is not known."},
		{match.LocalPassengerAge, "Local rule, as the shop has read it: Passengers are 4 or younger. First child is 5 years old."},
		{match.LocalHelmets, "Local rule, as the shop has read it: Casque pour tous !"},
		{match.LocalWidth, "Local rule, as the shop has read it: No wider than 100 cm. The bike itself is 120 cm wide."},
	}
	m := k.judge(t)
	got := reasonsOf(m, match.ReasonLocalRule)
	if m.Verdict != match.FitsWithCare || len(got) != len(want) {
		t.Fatalf("%s: %v", m.Verdict, got)
	}
	for i, w := range want {
		if got[i].Rule != w.rule || got[i].Message.In(measure.Metric) != w.text {
			t.Errorf("%s: %s, want %s", got[i].Rule, got[i].Message.In(measure.Metric), w.text)
		}
	}
	k.seat().OverallWidth = 121 * cm
	if got := reasonsOf(k.judge(t), match.ReasonLocalRule); len(got) != len(want) || !strings.HasSuffix(got[3].Message.In(measure.Metric), "With these add-ons the bike is 121 cm wide.") {
		t.Errorf("with a wide seat: %v", got)
	}
	k.seat().OverallWidth = 0
	kept := match.SettingsOf(k.s.Figures()).WithTexts(k.s.Local.Texts())
	k.s = kept
	if again := reasonsOf(k.judge(t), match.ReasonLocalRule); len(again) != len(want) || again[0].Message.In(measure.Metric) != want[0].text {
		t.Errorf("as a store keeps them: %v", again)
	}
}

// TestWhoJoinsLaterIsAsOldAsThen counts the age on the day of joining.
func TestWhoJoinsLaterIsAsOldAsThen(t *testing.T) {
	t.Parallel()
	k := atCounter()
	child := kid("child", "2021-11-30")
	joins, err := measure.ParseMonth("2026-12")
	if err != nil {
		t.Fatal(err)
	}
	child.Joins = profile.Given(profile.Month{Month: joins})
	k.kids(child)
	k.s.Local.PassengerAge = 4
	if got := reasonsOf(k.judge(t), match.ReasonLocalRule); len(got) != 1 || got[0].Passenger != "child" {
		t.Errorf("%v", got)
	}
}
