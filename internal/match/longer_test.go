package match_test

import (
	"context"
	"regexp"
	"slices"
	"testing"

	"kinwain/internal/catalog"
	"kinwain/internal/match"
	"kinwain/internal/measure"
	"kinwain/internal/profile"
)

// TestWhatLastingLongerCosts gives a child a cheap seat up to the age of six
// and a dear one up to eight, and asks for four years: the child, born in
// November 2021 on a day that may be the first, is five today.
func TestWhatLastingLongerCosts(t *testing.T) {
	t.Parallel()
	k := atCounter()
	k.kids(kid("child", "2021-11"))
	k.seat().Places[0].MaxMonths = 72
	k.AddOns = append(k.AddOns, catalog.AddOn{Code: "seat-tall", Name: "Tall seat", Weight: 1 * kg, Price: 1000 + 247_00, Fits: []string{"sedge"}, Zone: "rear",
		Places: []catalog.Place{{Kind: "belted", MinMonths: 1, MaxMonths: 96, MaxMass: 200 * kg}}})
	k.p.Years = profile.Given(4)
	for _, c := range []struct {
		years int
		want  string
	}{
		{1, ""},
		{4, "This set-up carries everyone until the end of October\u00a02027, 12 of the 48 months asked for. Another set-up lasts until the end of October\u00a02029, for EUR\u00a0247.00 more."},
	} {
		k.p.Years = profile.Given(c.years)
		m, got := k.judge(t), ""
		if list := reasonsOf(m, match.ReasonOutgrownBefore); len(list) > 0 {
			got = list[0].Message.In(measure.Metric)
		}
		if got != c.want || (m.Longer != nil) != (c.want != "") || m.Longer != nil && m.Longer.More != 247_00 {
			t.Errorf("%d years: %q, want %q; %+v", c.years, got, c.want, m.Longer)
		}
	}
	k.p.Objective = profile.Longest
	if m := k.judge(t); m.Longer != nil || len(reasonsOf(m, match.ReasonOutgrownBefore)) != 1 {
		t.Errorf("of what lasts longest: %+v", m.Longer)
	}
}

// zero is a figure of nothing with its unit.
var zero = regexp.MustCompile(`(^|[^0-9.,])0(\.0)? (kg|lb|cm|in|l)\b`)

// bareMonth is a month as documents write it.
var bareMonth = regexp.MustCompile(`\b20[0-9]{2}-[01][0-9]`)

// TestNothingIsSaidInWords reads every sentence of the sample customers, and of
// the edges of every reason, in both systems of units: no figure of 0, and no
// month in figures.
func TestNothingIsSaidInWords(t *testing.T) {
	t.Parallel()
	read := 0
	speaks := func(where string, m *match.Match) {
		list := []match.Message{}
		for _, r := range m.Reasons {
			list = append(list, r.Message)
		}
		if help, ok := m.Help(); ok {
			list = append(list, help)
		}
		for _, message := range list {
			for _, s := range []measure.System{measure.Metric, measure.Imperial} {
				read++
				if text := message.In(s); zero.MatchString(text) || bareMonth.MatchString(text) {
					t.Errorf("%s, %s: %s", where, m.Frame.Code, text)
				}
			}
		}
	}
	c, customers := demo(t)
	for name, p := range customers {
		list, err := match.Rank(context.Background(), c, p, match.DefaultSettings(), match.Options{Changes: true})
		if err != nil {
			t.Fatal(err)
		}
		for _, m := range list {
			speaks(name, m)
		}
	}
	for _, e := range edges {
		for step := -1; step <= 1; step++ {
			k := atCounter()
			e.set(k, step)
			speaks(string(e.code)+", "+e.line, k.judge(t))
		}
	}
	if read < 1000 || !zero.MatchString("is only 0 cm above") || zero.MatchString("10 cm") || !slices.Equal(bareMonth.FindStringSubmatch("2028-10"), []string{"2028-10"}) {
		t.Errorf("%d sentences read", read)
	}
}
