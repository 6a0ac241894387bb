package match_test

import (
	"strings"
	"testing"

	"kinwain/internal/match"
	"kinwain/internal/measure"
	"kinwain/internal/profile"
)

// expected is a child who is to be born on a day.
func expected(label, born string) profile.Passenger {
	return profile.Passenger{Label: label, Born: profile.Given(day(born))}
}

// TestNobodyWeighsAChildBeforeItIsBorn says of a child who is expected for which
// day it counts, and asks for a scale only once it is born.
func TestNobodyWeighsAChildBeforeItIsBorn(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		born, counts string // as of 25 November 2026
		toBeBorn     bool
	}{
		{"2026-11-25", "is not weighed and counts with an estimated", false},
		{"2026-11", "is not weighed and counts with an estimated", false}, // or born already
		{"2026-11-26", "which the growth reference expects on 26\u00a0November\u00a02027. Weigh the child before its first ride.", true},
		{"2027-02", "which the growth reference expects on 28\u00a0February\u00a02028.", true},
	} {
		k := atCounter()
		first := profile.Month{Month: day(c.born).Latest().AddMonths(12).InMonth()}
		p := expected("p", c.born)
		if !c.toBeBorn {
			p.Joins = profile.Given(first)
		}
		k.kids(p)
		list := reasonsOf(k.judge(t), match.ReasonWeightEstimated)
		if len(list) != 1 || list[0].ToBeBorn() != c.toBeBorn || !strings.Contains(list[0].Message.In(measure.Metric), c.counts) {
			t.Errorf("born %s: %+v", c.born, list)
		}
	}
}

// TestLittleLeftForAChildToBeBorn asks to weigh before buying only where there is
// somebody to weigh.
func TestLittleLeftForAChildToBeBorn(t *testing.T) {
	t.Parallel()
	for _, spare := range []measure.Mass{0, 2 * kg} {
		for _, also := range []bool{false, true} {
			k := atCounter()
			k.kids(expected("p", "2027-02"))
			if also {
				k.kids(expected("p", "2027-02"), unweighed(kid("q", "2023-05")))
			}
			k.f.GrossRating = 500 * kg
			m := k.judge(t)
			k.f.GrossRating = m.Sheets[0].Total + spare
			list := reasonsOf(k.judge(t), match.ReasonEstimateMargin)
			if len(list) != 1 {
				t.Fatalf("%v left, %t: %+v", spare, also, list)
			}
			text := list[0].Message.In(measure.Metric)
			if strings.Contains(text, "before you buy") != also || strings.Contains(text, "Weigh the child before its first ride") == also || strings.Contains(text, "nothing is to spare") != (spare == 0) {
				t.Errorf("%v left, %t: %s", spare, also, text)
			}
		}
	}
}
