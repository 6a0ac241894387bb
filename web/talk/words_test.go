package talk

import (
	"maps"
	"slices"
	"testing"

	"kinwain/internal/advice"
	"kinwain/internal/catalog"
	"kinwain/internal/fitting"
	"kinwain/internal/match"
	"kinwain/internal/measure"
	"kinwain/internal/profile"
	"kinwain/web/say"
)

// TestTablesAreSaid holds that whatever the pages look up for a customer is
// said in every language.
func TestTablesAreSaid(t *testing.T) {
	t.Parallel()
	for name, keys := range map[string][]string{
		"relaxed": slices.Collect(maps.Values(RelaxedNames)), "causes": slices.Collect(maps.Values(causeTexts)), "poses": slices.Collect(maps.Values(HowWords)),
		"verdicts": slices.Collect(maps.Values(VerdictWords)), "weights": slices.Collect(maps.Values(WeightWords)),
	} {
		if len(keys) == 0 {
			t.Errorf("no %s", name)
		}
		for _, key := range keys {
			if !say.Has(key) {
				t.Errorf("%s: nobody says %q", name, key)
			}
		}
	}
}

// TestShortOfTheYearsAsked holds that the line of a frame says when it does not
// last as long as was asked for, and what lasting longer costs.
func TestShortOfTheYearsAsked(t *testing.T) {
	t.Parallel()
	month := measure.Month(12*2028 + 2) // March 2028
	c := &Consultation{Speaker: say.New(say.English, measure.Metric), Profile: &profile.Profile{Years: profile.Given(4)}, Shop: &advice.Shop{Catalogue: &catalog.Catalogue{Shop: catalog.Shop{Currency: "EUR"}}}}
	for _, one := range []struct {
		horizon      fitting.Horizon
		longer       *match.Longer
		until, short string
	}{
		{fitting.Horizon{Months: 120}, nil, " for ten years and more", ""},
		{fitting.Horizon{Ends: true, Month: month, Months: 48}, nil, " until March 2028", ""},
		{fitting.Horizon{Ends: true, Month: month, Months: 47}, nil, "", " Lasts until March 2028, 47 of the 48 months asked for."},
		{fitting.Horizon{Ends: true, Month: month, Months: 15}, &match.Longer{More: 24700, Horizon: fitting.Horizon{Ends: true, Month: month + 16}}, "",
			" Lasts until March 2028, 15 of the 48 months asked for (€247.00 more: until July 2029)."},
		{fitting.Horizon{Ends: true, Month: month}, &match.Longer{}, "", " Lasts less than one of the 48 months asked for (no more: ten years and more)."},
	} {
		m := &match.Match{Horizon: &one.horizon, Longer: one.longer, Seated: []fitting.Seated{{}}}
		if until, short := lasts(c, m); until != one.until || short != one.short {
			t.Errorf("%q, %q; want %q, %q", until, short, one.until, one.short)
		}
	}
}
