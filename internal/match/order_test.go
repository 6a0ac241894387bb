// The order of the frames: by verdict, then by score, then by price and code.
package match_test

import (
	"context"
	"fmt"
	"slices"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"kinwain/internal/catalog"
	"kinwain/internal/match"
	"kinwain/internal/measure"
	"kinwain/internal/profile"
)

func (k *counter) rank(t interface{ Fatal(...any) }) []*match.Match {
	if err := k.Check(); err != nil {
		t.Fatal(err)
	}
	list, err := match.Rank(context.Background(), k.Catalogue, k.p, k.s, match.Options{})
	if err != nil {
		t.Fatal(err)
	}
	return list
}

// again adds another frame like the first one, but for what is changed.
func (k *counter) again(code string, change func(f *catalog.Frame)) {
	f := k.Frames[0]
	f.Code = code
	f.Zones, f.Places = slices.Clone(f.Zones), slices.Clone(f.Places)
	change(&f)
	k.Frames = append(k.Frames, f)
	k.f = &k.Frames[0]
	for i := range k.AddOns {
		k.AddOns[i].Fits = append(k.AddOns[i].Fits, code)
	}
}

func order(list []*match.Match) string {
	var codes []string
	for _, m := range list {
		codes = append(codes, m.Frame.Code)
	}
	return strings.Join(codes, " ")
}

func TestVerdictsComeBeforeScores(t *testing.T) {
	t.Parallel()
	k := atCounter()
	k.again("a-stops", func(f *catalog.Frame) { f.RiderMax, f.GrossRating = 160*cm, 90*kg })
	k.again("b-stop", func(f *catalog.Frame) { f.RiderMax = 160 * cm })
	k.again("c-stop", func(f *catalog.Frame) { f.GrossRating = 90 * kg })
	// Light and cheap, but only just for this rider.
	k.again("d-care", func(f *catalog.Frame) { f.RiderMin, f.BareWeight, f.Price = 169*cm, 15*kg, 100_000 })
	if got, want := order(k.rank(t)), "sedge d-care b-stop c-stop a-stops"; got != want {
		t.Errorf("order %s, want %s", got, want)
	}
}

// Equal scores go by the total price and then by code. Prices that are all
// within 60 % of the budget are worth the same.
func TestEqualScoresGoByPriceThenCode(t *testing.T) {
	t.Parallel()
	k := atCounter()
	k.p.Budget = profile.Given(measure.Money(900_000))
	k.again("osier", func(f *catalog.Frame) { f.Price = 199_999 })
	k.again("teasel", func(f *catalog.Frame) { f.Price = 199_999 })
	k.again("aster", func(f *catalog.Frame) { f.Price = 200_001 })
	list := k.rank(t)
	if got, want := order(list), "osier teasel sedge aster"; got != want {
		t.Errorf("order %s, want %s", got, want)
	}
	for _, m := range list[1:] {
		if m.Score.Cmp(list[0].Score) != 0 {
			t.Errorf("scores %v and %v differ", m.Score, list[0].Score)
		}
	}
}

// Shown scores are rounded, the order is not: 1 g of handling mass decides.
func TestScoresAreComparedUnrounded(t *testing.T) {
	t.Parallel()
	k := atCounter()
	k.again("aster", func(f *catalog.Frame) { f.BareWeight += 1 * g; f.GrossRating += 1 * g })
	if got, want := order(k.rank(t)), "sedge aster"; got != want {
		t.Errorf("order %s, want %s", got, want)
	}
}

// drawRanked draws a shop of frames and a customer; many figures are the same.
func drawRanked(t *rapid.T) *counter {
	k := atCounter()
	of := func(values ...int) int { return rapid.SampledFrom(values).Draw(t, "of") }
	for i := range k.s.Criteria {
		k.s.Criteria[i].Weight = int64(of(0, 1, 2, 3))
	}
	k.kids([]profile.Passenger{kid("p", "2023-05"), kid("q", "2021-05")}[:of(0, 1, 2)]...)
	k.p.Years = profile.Given(of(0, 2, 4))
	k.home(profile.Home{Length: given(measure.Length(of(1850, 1900, 2400))), Width: given(900), Steps: profile.Given(of(0, 9))})
	if of(0, 1) == 1 {
		k.p.Budget, k.p.BudgetFirm = profile.Given(measure.Money(of(150_000, 200_000, 300_000))), profile.Given(of(0, 1) == 1)
	}
	k.seat().Places[0].MaxMonths, k.seat().Places[0].MaxMass = of(0, 60, 72), measure.Mass(of(0, 17, 22))*kg
	for i := range of(3, 5, 7) {
		k.again(fmt.Sprintf("frame-%c", 'g'-i), func(f *catalog.Frame) {
			f.Price, f.BareWeight = measure.Money(of(150_000, 180_000, 200_000)), measure.Mass(of(18, 25, 30))*kg
			f.GrossRating, f.Length = measure.Mass(of(125, 150, 200, 200))*kg, measure.Length(of(1800, 1850, 1950))
			f.RiderMin, f.RiderMaxMass = measure.Length(of(1450, 1500, 1690, 1700)), measure.Mass(of(0, 79, 120, 120))*kg
			f.Zones[1].Rating = measure.Mass(of(15, 30, 100)) * kg
		})
	}
	return k
}

// A build at least as good in every criterion and better in one of positive
// weight never ranks lower within its verdict.
func TestRankKeepsItsLaws(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(t *rapid.T) {
		k := drawRanked(t)
		list := k.rank(t)
		if len(list) != len(k.Frames) {
			t.Fatalf("%d of %d frames", len(list), len(k.Frames))
		}
		for i, a := range list {
			for _, b := range list[i+1:] {
				if why := outOfOrder(a, b); why != "" {
					t.Fatalf("%s before %s: %s", a.Frame.Code, b.Frame.Code, why)
				}
			}
		}
	})
}

// outOfOrder says why a must not come before b, if so.
func outOfOrder(a, b *match.Match) string {
	verdicts := []match.Verdict{match.Fits, match.FitsWithCare, match.DoesNotFit}
	if va, vb := slices.Index(verdicts, a.Verdict), slices.Index(verdicts, b.Verdict); va != vb {
		if va > vb {
			return "verdict"
		}
		return ""
	}
	if a.Verdict == match.DoesNotFit {
		if sa, sb := a.Count(stop), b.Count(stop); sa > sb || sa == sb && a.Frame.Code > b.Frame.Code {
			return "stops"
		}
		return ""
	}
	switch c := a.Score.Cmp(b.Score); {
	case c < 0:
		return "score"
	case c == 0 && (a.Total > b.Total || a.Total == b.Total && a.Frame.Code > b.Frame.Code):
		return "ties"
	}
	if dominates(b, a) {
		return fmt.Sprintf("at least as good in all: %v and %v", a.Criteria, b.Criteria)
	}
	return ""
}

// dominates reports whether a is at least as good as b in every criterion and
// better in one of positive weight.
func dominates(a, b *match.Match) bool {
	better := false
	for i, c := range a.Criteria {
		if b.Criteria[i].Code != c.Code || c.Value.Cmp(b.Criteria[i].Value) < 0 {
			return false
		}
		better = better || c.Weight > 0 && c.Value.Cmp(b.Criteria[i].Value) > 0
	}
	return better
}

// The drawn shops must have what the laws speak of.
func TestRankedShopsAreWorthComparing(t *testing.T) {
	t.Parallel()
	met := map[string]int{}
	for seed := range 60 {
		list := rapid.Custom(drawRanked).Example(seed).rank(t)
		for i, a := range list {
			met[string(a.Verdict)]++
			for _, b := range list[i+1:] {
				if a.Verdict == b.Verdict && a.Score != nil {
					met["same verdict"]++
					if a.Score.Cmp(b.Score) == 0 {
						met["same score"]++
					}
					if dominates(a, b) {
						met["dominates"]++
					}
				}
			}
		}
	}
	for what, least := range map[string]int{"fits": 30, "fits_with_care": 30, "does_not_fit": 60, "same verdict": 50, "same score": 5, "dominates": 10} {
		if met[what] < least {
			t.Errorf("%s was met %d times, which is not enough to tell", what, met[what])
		}
	}
}
