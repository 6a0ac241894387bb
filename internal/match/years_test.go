package match_test

import (
	"context"
	"fmt"
	"math"
	"slices"
	"strings"
	"testing"

	"kinwain/internal/catalog"
	"kinwain/internal/fitting"
	"kinwain/internal/growth"
	"kinwain/internal/load"
	"kinwain/internal/match"
	"kinwain/internal/measure"
	"kinwain/internal/profile"
)

// sheetsOn returns the load sheets of a day with the add-ons of a build on the
// bike, worked out from every single item.
func sheetsOn(t *testing.T, c *catalog.Catalogue, m *match.Match, p *profile.Profile, b *fitting.Build, day measure.Date) []load.Sheet {
	t.Helper()
	s := match.DefaultSettings()
	on := append(slices.Clone(m.Frame.ComesWith), b.AddOns...)
	for _, code := range b.TakenOff {
		i := slices.Index(on, code)
		on = slices.Delete(on, i, i+1)
	}
	d := fitting.NewDemand(p, p.AsOf, s.Settings).Riding(day)
	only, _ := fitting.New(c, m.Frame, d).Only(on)
	then, err := only.Solve(context.Background(), profile.LeastCost, fitting.AllRules)
	if err != nil {
		t.Fatalf("%s on %v: %v", m.Frame.Code, day, err)
	}
	var sheets []load.Sheet
	for _, r := range d.Riders {
		sheets = append(sheets, load.NewSheet(m.Frame, only.Items(then), r, s.CarryShare))
	}
	return sheets
}

// The line of the years is that of the load sheets of each month, and what is
// said to be carried is.
func TestYearsAreTheLoadSheetsOfTheirMonths(t *testing.T) {
	t.Parallel()
	c, profiles := demo(t)
	sheets, several := 0, 0
	for name, p := range profiles {
		s := match.DefaultSettings()
		s.Patience = 0
		matches, err := match.Rank(context.Background(), c, p, s, match.Options{Stages: true})
		if err != nil {
			t.Fatal(err)
		}
		for _, m := range matches {
			y := match.YearsAhead(m, p, s, 12*p.Years.Or(0))
			if (y == nil) != (m.Stages == nil) {
				t.Errorf("%s on %s: %v years, %v stages", name, m.Frame.Code, y, m.Stages)
			}
			if y == nil {
				continue
			}
			several += b2i(len(m.Stages.List) > 1)
			for i := range m.Stages.List {
				stage := &m.Stages.List[i]
				for _, month := range []measure.Month{stage.From, (stage.From + stage.To) / 2, stage.To} {
					at := &y.Months[month-p.AsOf.InMonth()]
					for k, sheet := range sheetsOn(t, c, m, p, stage.Build, month.Last()) {
						sheets++
						if got := at.Loads[k]; at.Month != month || got.Planned != sheet.Total || got.Slow > got.Planned || got.Planned > got.Fast || sheet.Total > y.Gross {
							t.Errorf("%s on %s in %v under %s: %+v of %v, the sheet has %v", name, m.Frame.Code, month, y.Riders[k], got, y.Gross, sheet.Total)
						}
					}
				}
			}
		}
	}
	if sheets < 100 || several == 0 {
		t.Errorf("%d sheets, %d plans of several stages", sheets, several)
	}
}

func b2i(b bool) int {
	if b {
		return 1
	}
	return 0
}

// The band of a child that no scale read lies at the 95th and the 25th
// percentile; of one that was weighed 0.67 either side of its own z-score.
func TestBandOfTheYears(t *testing.T) {
	t.Parallel()
	for _, weighed := range []bool{false, true} {
		k := seats(36, 36, 5000, 6000, 1000)
		c := kid("p", "2024-11-01")
		c.Sex = profile.Given(profile.Girl)
		if !weighed {
			c.Weight = profile.Answer[measure.Mass]{}
		}
		k.kids(c)
		m := k.planned(t, 2)
		y := match.YearsAhead(m, k.p, k.s, 24)
		// 35 months and 29 thirtieths on the 30th of October 2027.
		const month = 11
		age := 35 + 30.0/31
		z := [3]float64{growth.Z(2500), growth.Z(7500), growth.Z(9500)}
		if weighed {
			own := growth.WeightZ(growth.Girl, 24+24.0/30, 15)
			z = [3]float64{own - 0.67, own, own + 0.67}
		}
		var want match.Range
		for i, to := range []*measure.Mass{&want.Slow, &want.Planned, &want.Fast} {
			child := measure.Mass(math.Ceil(growth.Weight(growth.Girl, age, z[i])*1000 - 1e-6))
			if weighed {
				child = max(child, 15*kg)
			}
			*to = 25*kg + 2*kg + 80*kg + child + 1*kg
		}
		if got := y.Months[month]; got.Month.String() != "2027-10" || got.Loads[0] != want {
			t.Errorf("weighed %v: %+v, want %+v", weighed, got, want)
		}
	}
}

// marks writes them in a line each.
func marks(y *match.Years) string {
	var lines []string
	for _, m := range y.Marks {
		lines = append(lines, strings.TrimSpace(fmt.Sprintf("%v %s %s %s %s", m.On, m.Kind, m.Passenger, m.AddOn, m.Limit)))
	}
	return strings.Join(lines, "\n")
}

func TestMarksOfTheYears(t *testing.T) {
	t.Parallel()
	k := seats(36, 36, 5000, 6000, 20000)
	p := kid("p", "2024-11-01")
	p.LeavesAtYears = profile.Given(4)
	k.kids(p)
	m := k.planned(t, 3)
	if got, want := marks(match.YearsAhead(m, k.p, k.s, 36)), `2026-11-25 stage
2027-11-01 stage
2027-11-30 outgrown p small place_age
2028-11-01 leaves p
2029-10-31 until`; got != want {
		t.Errorf("%s\nwant\n%s", got, want)
	}
	// Of the one build of the match, where no stages were asked for.
	k.AddOns = k.AddOns[2:]
	p.LeavesAtYears = profile.Answer[int]{}
	k.p.Passengers = profile.Given([]profile.Passenger{p, {Label: "q", Born: profile.Given(day("2026-12-10"))}})
	k.AddOns[0].UpTo, k.AddOns[0].Uses = 2, nil
	k.check(t)
	one, err := match.One(context.Background(), k.Catalogue, k.f, k.p, k.s, match.Options{})
	if err != nil {
		t.Fatal(err)
	}
	if got, want := marks(match.YearsAhead(one, k.p, k.s, 24)), `2026-11-25 stage
2027-10-31 until
2027-11-30 outgrown p small place_age
2027-12-10 joins q`; got != want {
		t.Errorf("%s\nwant\n%s", got, want)
	}
	if y := match.YearsAhead(one, k.p, k.s, 24); y.Months[12].Loads[0].Planned <= y.Months[11].Loads[0].Planned+9*kg && y.Months[13].Loads[0].Planned <= y.Months[12].Loads[0].Planned+9*kg {
		t.Errorf("nobody comes aboard: %+v", y.Months[10:15])
	}
}

// The horizon lies within its band, which is wider than nothing where children
// grow; nobody who fits outgrows it fast before it begins.
func TestHorizonBand(t *testing.T) {
	t.Parallel()
	k := seats(200, 200, 5000, 6000, 20000)
	k.AddOns = k.AddOns[2:]
	pl := &k.AddOns[0].Places[0]
	pl.MaxMonths, pl.MaxMass = 0, 19*kg // 18 undressed
	c := kid("p", "2024-11-01")
	c.Weight, c.Sex = profile.Answer[measure.Mass]{}, profile.Given(profile.Boy)
	k.kids(c)
	m := k.planned(t, 4)
	last := func(z float64) string { // the last month at whose end a boy weighs no more than 18 kg
		for n := 0; ; n++ {
			end := (k.p.AsOf.InMonth() + measure.Month(n)).Last()
			child := growth.Child{Born: day("2024-11-01"), Sex: growth.Boy}
			if growth.Weight(growth.Boy, child.MonthsOn(end), z) > 18 {
				return (k.p.AsOf.InMonth() + measure.Month(n-1)).String()
			}
		}
	}
	early, planned, late := last(growth.Z(9500)), last(growth.Z(7500)), last(growth.Z(2500))
	if m.Horizon.Month.String() != planned || m.Band.Early.Month.String() != early || m.Band.Late.Month.String() != late || !(early < planned && planned < late) {
		t.Errorf("%v within %v and %v, want %s within %s and %s", m.Horizon.Month, m.Band.Early.Month, m.Band.Late.Month, planned, early, late)
	}
	// A shop that plans with the 99th percentile plans for more than the band.
	k.s.Planning = 99 * measure.Percent
	m = k.planned(t, 4)
	if h := m.Horizon.Month; h != m.Band.Early.Month || h.String() != last(growth.Z(9900)) {
		t.Errorf("%v, early %v", h, m.Band.Early.Month)
	}
}
