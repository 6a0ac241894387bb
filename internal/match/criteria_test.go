// The criteria of the score: 0 and 1 at their ends, linear between, held
// beyond, left out where nothing asks for them.
package match_test

import (
	"math/big"
	"slices"
	"testing"

	"kinwain/internal/match"
	"kinwain/internal/measure"
	"kinwain/internal/profile"
)

func valueOf(m *match.Match, code string) *big.Rat {
	for _, c := range m.Criteria {
		if c.Code == code {
			return c.Value
		}
	}
	return nil
}

// point is a figure and what its criterion is worth there.
type point struct {
	figure int64
	value  string // a fraction
}

func TestCriteriaAreLinearBetweenTheirEnds(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		code   string
		set    func(k *counter, figure int64)
		points []point
	}{
		// Bike and rider are 105 kg; of a rating of R that leaves (R − 105) ÷ R.
		{"load_headroom", func(k *counter, kilograms int64) { k.f.GrossRating = measure.Mass(kilograms) * kg },
			[]point{{105, "0"}, {112, "1/4"}, {120, "1/2"}, {140, "1"}, {141, "1"}, {400, "1"}}},
		// The rear axle has 15 + 40 of the 105; of its rating of R that leaves
		// (R − 55) ÷ R, and the front axle 50 of 200.
		{"load_headroom", func(k *counter, kilograms int64) {
			k.f.GrossRating, k.f.RearAxleRating = 500*kg, measure.Mass(kilograms)*kg
		}, []point{{55, "0"}, {80, "1"}, {60, "1/3"}}},
		{"load_headroom", func(k *counter, kilograms int64) { k.f.FrontAxleRating = measure.Mass(kilograms) * kg },
			[]point{{50, "0"}, {60, "2/3"}}},
		// 4852 metres an hour on 9.1 %, as for the edges of the reason, between
		// 3000 and 9000.
		{"hill", func(k *counter, slope int64) { k.p.Hill = profile.Given(measure.Percentage(slope)) }, []point{{910, "463/1500"}, {3000, "0"}, {100, "1"}}},
		// Of the rider's 80 kg; 56 are 70 %.
		{"carry_share", func(k *counter, kilograms int64) { k.hold(measure.Mass(kilograms) * kg); k.f.Zones[1].Rating = 0 },
			[]point{{90, "0"}, {80, "0"}, {68, "1/4"}, {56, "1/2"}, {32, "1"}, {10, "1"}}},
		// The seat is outgrown on the 26th of a month; that and the month
		// before it are what is left of two years.
		{"horizon", outgrown, []point{{0, "0"}, {6, "1/4"}, {12, "1/2"}, {18, "3/4"}, {24, "1"}, {30, "1"}}},
		// 150 to 195 cm; the nearer end is at most 225 mm away, 60 % are 135.
		{"rider_height", func(k *counter, millimetres int64) { k.p.Riders[0].Height = given(measure.Length(millimetres)) },
			[]point{{1500, "0"}, {1527, "1/5"}, {1554, "2/5"}, {1635, "1"}, {1725, "1"}, {1815, "1"}, {1896, "2/5"}, {1950, "0"}}},
		{"storage_slack", func(k *counter, slack int64) { k.home(doorway(600+measure.Length(slack), 0)) },
			[]point{{0, "0"}, {1, "1/200"}, {50, "1/4"}, {100, "1/2"}, {200, "1"}, {201, "1"}}},
		// All of it for EUR 2000, within a budget: 2000 ÷ 1.2 = 1666.67.
		{"price", func(k *counter, budget int64) { k.p.Budget = profile.Given(measure.Money(budget)) },
			[]point{{100_000, "0"}, {160_000, "0"}, {200_000, "1/3"}, {250_000, "2/3"}, {400_000, "1"}, {333_333, "999998/999999"}, {900_000, "1"}}},
		{"handling_mass", func(k *counter, grams int64) { k.f.BareWeight = measure.Mass(grams) },
			[]point{{75_000, "0"}, {60_000, "0"}, {39_000, "1/2"}, {28_500, "3/4"}, {18_000, "1"}, {12_000, "1"}}},
	} {
		for _, pt := range c.points {
			k := atCounter()
			c.set(k, pt.figure)
			m := k.judge(t)
			if got := valueOf(m, c.code); got == nil || got.RatString() != pt.value {
				t.Errorf("%s at %d is worth %v, want %s (%s)", c.code, pt.figure, got, pt.value, m.Verdict)
			}
		}
	}
}

// outgrown sets a seat that is outgrown after so many months, this one
// included, where two years are asked for.
func outgrown(k *counter, months int64) {
	const age = 42
	k.kids(kid("p", "2023-05-26")) // 42 months the day after
	k.seat().Places[0].MaxMonths = age + int(months)
	k.p.Years = profile.Given(2)
}

// Nothing outgrown within ten years is worth as much as ten years.
func TestHorizonThatNeverEnds(t *testing.T) {
	t.Parallel()
	for years, want := range map[int]string{2: "1", 10: "1"} {
		k := atCounter()
		k.kids(kid("p", "2023-05"))
		k.p.Years = profile.Given(years)
		m := k.judge(t)
		if m.Horizon.Ends || valueOf(m, "horizon").RatString() != want {
			t.Errorf("over %d years it is worth %v, want %s; %+v", years, valueOf(m, "horizon"), want, m.Horizon)
		}
	}
}

// Without a budget the price is held against the dearest frame listed.
func TestPriceAgainstTheDearestFrame(t *testing.T) {
	t.Parallel()
	k := atCounter()
	dear := k.Frames[0]
	dear.Code, dear.Price = "teasel", 250_000
	k.Frames = append(k.Frames, dear)
	k.f = &k.Frames[0]
	if got := valueOf(k.judge(t), "price"); got.RatString() != "2/3" { // 2000 of 2500 is 80 %
		t.Errorf("EUR 2000 beside 2500 is worth %v, want 2/3", got)
	}
	k.f = &k.Frames[1]
	if got := valueOf(k.judge(t), "price"); got.RatString() != "1/3" { // the dearest itself is 100 %
		t.Errorf("the dearest is worth %v, want 1/3", got)
	}
}

// Add-ons and their labour are in the price, and their weight in what is
// handled: 25 + 1 kg, (60 − 26) ÷ 42.
func TestAddOnsCount(t *testing.T) {
	t.Parallel()
	k := atCounter()
	k.kids(kid("p", "2023-05"))
	k.Shop.LabourPerHour, k.seat().FittingMinutes, k.p.Budget = 6000, 30, profile.Given(measure.Money(204_000))
	m := k.judge(t)
	// 200000 + 1000 + 3000 of 204000.
	if m.Total != 204_000 || valueOf(m, "price").RatString() != "1/3" || valueOf(m, "handling_mass").RatString() != "17/21" {
		t.Errorf("total %d, price worth %v, handling worth %v", m.Total, valueOf(m, "price"), valueOf(m, "handling_mass"))
	}
}

// The worst rider decides: B of 60 kg carries 48 of cargo, 80 %, and is 36 mm
// from an end; A rides heavier and leaves 200 − 25 − 95 − 48 = 32 of 200 kg.
func TestTheWorstRiderDecides(t *testing.T) {
	t.Parallel()
	k := atCounter()
	k.hold(48 * kg)
	k.p.Riders[0].Weight = profile.Given(95 * kg)
	k.p.Riders = append(k.p.Riders, profile.Rider{Label: "B", Height: given(1536), Weight: profile.Given(60 * kg), Weighed: profile.Given(profile.Dressed)})
	m := k.judge(t)
	for code, want := range map[string]string{"load_headroom": "16/25", "carry_share": "1/3", "rider_height": "4/15"} {
		if got := valueOf(m, code); got.RatString() != want {
			t.Errorf("%s is worth %v, want %s", code, got, want)
		}
	}
}

// Carrying counts against the rider's own weight, without the allowance.
func TestCarryShareLeavesOutTheAllowance(t *testing.T) {
	t.Parallel()
	k := atCounter()
	k.hold(56 * kg)
	k.p.Riders[0].Weighed = profile.Given(profile.Undressed)
	if got := valueOf(k.judge(t), "carry_share"); got.RatString() != "1/2" {
		t.Errorf("56 of 80 kg is worth %v, want 1/2", got)
	}
}

// What nothing in the profile asks for is left out, and the rest carry its
// weight.
func TestCriteriaThatNothingAsksForAreLeftOut(t *testing.T) {
	t.Parallel()
	codes := func(k *counter) []string {
		var list []string
		for _, c := range k.judge(t).Criteria {
			list = append(list, c.Code)
		}
		return list
	}
	bare := []string{"load_headroom", "rider_height", "price", "handling_mass"}
	if got := codes(atCounter()); !slices.Equal(got, bare) {
		t.Errorf("criteria %v, want %v", got, bare)
	}
	k := atCounter()
	k.hold(5 * kg)
	k.p.Years = profile.Given(3)
	k.home(doorway(90*cm, 0))
	k.p.Hill = profile.Given(measure.Percentage(6_00))
	all := []string{"load_headroom", "hill", "carry_share", "horizon", "rider_height", "storage_slack", "price", "handling_mass"}
	if got := codes(k); !slices.Equal(got, all) {
		t.Errorf("criteria %v, want %v", got, all)
	}
	for name, unask := range map[string]func(k *counter){
		"hill":          func(k *counter) { k.p.Hill = profile.Given(measure.Percentage(0)) },
		"carry_share":   func(k *counter) { k.p.Cargo = profile.Given(measure.Mass(0)) },
		"horizon":       func(k *counter) { k.p.Years = profile.Unknown[int]() },
		"storage_slack": func(k *counter) { k.home(profile.Home{Steps: profile.Given(2)}) },
	} {
		k := atCounter()
		k.hold(5 * kg)
		k.p.Years = profile.Given(3)
		k.home(doorway(90*cm, 0))
		k.p.Hill = profile.Given(measure.Percentage(6_00))
		unask(k)
		if got := codes(k); slices.Contains(got, name) || len(got) != len(all)-1 {
			t.Errorf("without %s: %v", name, got)
		}
	}
}

// The score is the weighted mean of the criteria times 100, and the points of
// every row add up to it.
func TestScoreIsTheWeightedMean(t *testing.T) {
	t.Parallel()
	k := atCounter()
	k.hold(56 * kg)                                    // carry_share ½, weight 2
	k.p.Riders[0].Height = given(1554)                 // rider_height 2/5, weight 2
	k.f.GrossRating = 200 * kg                         // 39 of 200 left: 0.78, weight 3
	k.p.Budget = profile.Given(measure.Money(250_000)) // price 2/3, weight 2
	k.f.BareWeight, k.f.Zones[1].Rating = 25*kg, 0     // handling 35/42 = 5/6, weight 1
	m := k.judge(t)
	// (3 × 0.78 + 2 × ½ + 2 × 2/5 + 2 × 2/3 + 5/6) ÷ 10 × 100
	want := new(big.Rat).Add(big.NewRat(234+100+80, 10), big.NewRat(4*10+25, 3))
	if m.Score.Cmp(want) != 0 {
		t.Errorf("score %v, want %v", m.Score, want)
	}
	sum := new(big.Rat)
	for _, c := range m.Criteria {
		sum.Add(sum, c.Points(match.Weights(m.Criteria)))
	}
	if sum.Cmp(m.Score) != 0 {
		t.Errorf("the rows add up to %v, the score is %v", sum, m.Score)
	}
}

// A shop's own ends and weights replace those it starts with.
func TestCriteriaFollowTheShopsSettings(t *testing.T) {
	t.Parallel()
	k := atCounter()
	k.s = match.SettingsOf(map[string]int64{"handling_mass_zero": 35_000, "handling_mass_one": 15_000, "handling_mass_weight": 7})
	for _, c := range k.judge(t).Criteria {
		if c.Code == "handling_mass" && (c.Value.RatString() != "1/2" || c.Weight != 7) {
			t.Errorf("25 kg between 35 and 15 is worth %v at weight %d", c.Value, c.Weight)
		}
	}
}
