package match_test

import (
	"context"
	"encoding/json"
	"fmt"
	"slices"
	"strings"
	"testing"

	"kinwain/internal/catalog"
	"kinwain/internal/match"
	"kinwain/internal/measure"
	"kinwain/internal/profile"
)

// planned judges the frame with its stages over so many years.
func (k *counter) planned(t testing.TB, years int) *match.Match {
	t.Helper()
	k.p.Years = profile.Given(years)
	k.check(t)
	s := k.s
	s.Patience = 0
	ctx := match.Reporting(context.Background(), func(f *match.Fault) { t.Error(f) })
	m, err := match.One(ctx, k.Catalogue, k.f, k.p, s, match.Options{Stages: true})
	if err != nil {
		t.Fatal(err)
	}
	return m
}

// steps writes stages in a line each: months, what is bought, put on and taken
// off, what is due, and who sits where.
func steps(m *match.Match) string {
	if m.Stages == nil {
		return "none"
	}
	var lines []string
	for i := range m.Stages.List {
		s := &m.Stages.List[i]
		line := fmt.Sprintf("%v %v: buy %s, on %s, off %s, due %d;", s.From, s.To, strings.Join(s.Bought, " "), strings.Join(s.PutOn, " "), strings.Join(s.TakenOff, " "), s.Due())
		for _, at := range s.Seated {
			line += fmt.Sprintf(" %s in %s", at.Passenger, at.AddOn)
		}
		for _, at := range s.Joining {
			line += fmt.Sprintf(" %s in %s from %v", at.Passenger, at.AddOn, at.On)
		}
		lines = append(lines, line)
	}
	return strings.Join(lines, "\n")
}

// seats sells a small seat for children up to so many months, a large one
// from so many on, and one for all ages, each of which takes the whole deck.
// An hour costs EUR 60; the stand that the frame comes with stays on.
func seats(upTo, from int, small, large, any measure.Money) *counter {
	k := atCounter()
	k.Shop.LabourPerHour = 6000
	seat := func(code string, price measure.Money, pl catalog.Place) catalog.AddOn {
		pl.Kind, pl.MaxMass = "belted", 200*kg
		return catalog.AddOn{Code: code, Name: code, Weight: 2 * kg, Price: price, FittingMinutes: 30, Fits: []string{"sedge"}, Zone: "rear",
			Uses: []catalog.Use{{Mount: "deck_cm", Count: 60}}, Places: []catalog.Place{pl}}
	}
	k.AddOns = []catalog.AddOn{
		seat("any", any, catalog.Place{MinMonths: 1}), seat("large", large, catalog.Place{MinMonths: from}), seat("small", small, catalog.Place{MinMonths: 1, MaxMonths: upTo}),
	}
	k.kids(kid("p", "2024-11-01")) // two years and 24 days old
	return k
}

func TestStagesByHand(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		name         string
		k            *counter
		years        int
		want         string
		total, until string
		now          measure.Money // 0: no single build
	}{
		{"two seats are cheaper than one for all", seats(36, 36, 5000, 6000, 20000), 2,
			"2026-11 2027-10: buy small, on small, off , due 8000; p in small\n2027-11 2028-10: buy large, on large, off small, due 9000; p in large", "2170.00", "2028-10", 223000},
		{"one for all is cheaper than two", seats(36, 30, 5000, 6000, 13900), 2, "2026-11 2028-10: buy any, on any, off , due 16900; p in any", "2169.00", "2028-10", 216900},
		{"one for all costs the same, in fewer changes", seats(36, 30, 5000, 6000, 14000), 2, "2026-11 2028-10: buy any, on any, off , due 17000; p in any", "2170.00", "2028-10", 217000},
		{"the small one is outgrown in the middle of a half-year", seats(33, 33, 5000, 6000, 20000), 2,
			"2026-11 2028-10: buy any, on any, off , due 23000; p in any", "2230.00", "2028-10", 223000},
		{"either does for half a year, and large comes before small", seats(36, 30, 5000, 6000, 20000), 2,
			"2026-11 2027-04: buy small, on small, off , due 8000; p in small\n2027-05 2028-10: buy large, on large, off small, due 9000; p in large", "2170.00", "2028-10", 223000},
		{"nobody asked for years", seats(36, 30, 5000, 6000, 20000), 0, "none", "", "", 0},
	} {
		m := c.k.planned(t, c.years)
		if got := steps(m); got != c.want {
			t.Errorf("%s:\n%s\nwant\n%s", c.name, got, c.want)
			continue
		}
		s := m.Stages
		if s == nil {
			continue
		}
		if s.Total.String() != c.total || s.Until.String() != c.until || s.Unproved || (s.Now == nil) != (c.now == 0) || s.Now != nil && s.Now.Total != c.now {
			t.Errorf("%s: %+v, now %+v", c.name, s, s.Now)
		}
	}
}

// A child that is expected has a place kept, of which the verdict speaks, and
// is on board from the first birthday: then the seat is bought at the latest.
func TestAnExpectedChildInStages(t *testing.T) {
	t.Parallel()
	k := seats(36, 30, 5000, 6000, 20000)
	k.AddOns = k.AddOns[2:] // the small seat
	k.AddOns[0].UpTo, k.AddOns[0].Uses = 2, nil
	k.p.Passengers = profile.Given([]profile.Passenger{kid("p", "2024-11-20"), {Label: "q", Born: profile.Given(day("2027-01-10"))}})
	m := k.planned(t, 1)
	later := reasonsOf(m, "joins_later")
	if m.Verdict != match.FitsWithCare || len(later) != 1 || later[0].Passenger != "q" || later[0].Day != day("2028-01-10") || len(m.Build.Seating) != 2 {
		t.Errorf("%s with %+v, %+v", m.Verdict, later, m.Build.Seating)
	}
	if got, want := steps(m), "2026-11 2027-10: buy small, on small, off , due 8000; p in small"; got != want {
		t.Errorf("for a year:\n%s\nwant\n%s", got, want)
	}
	// p is three years old in November 2027, and then outgrows the seat.
	k.AddOns[0].Places[0].MaxMonths = 60
	m = k.planned(t, 2)
	if got, want := steps(m), "2026-11 2028-10: buy small small, on small small, off , due 16000; p in small q in small from 2028-01-10"; got != want {
		t.Errorf("for two years, in as few changes as can be:\n%s\nwant\n%s", got, want)
	}
}

// A part that came with the frame is paid for when it comes off and when it is
// put back; one that was bought, when it is put on.
func TestLabourOfStages(t *testing.T) {
	t.Parallel()
	k := seats(36, 36, 5000, 6000, 90000)
	k.AddOns = append(k.AddOns, catalog.AddOn{Code: "rack", Name: "Rack", Weight: 1 * kg, Price: 9900, FittingMinutes: 10, Fits: []string{"sedge"},
		Zone: "rear", Uses: []catalog.Use{{Mount: "deck_cm", Count: 60}}, Cargo: 5 * kg, CargoVolume: 10_000})
	k.f.ComesWith = []string{"rack"}
	k.AddOns[1].Uses = nil // the large one leaves room for it
	k.AddOns[1].Needs = [][]string{{"rack"}}
	m := k.planned(t, 2)
	want := "2026-11 2027-10: buy small, on small, off rack, due 9000; p in small\n2027-11 2028-10: buy large, on large rack, off small, due 10000; p in large"
	if got := steps(m); got != want || m.Stages.Total != 200_000+19000 {
		t.Errorf("%v for\n%s\nwant\n%s", m.Stages.Total, got, want)
	}
}

// What is outgrown before the years are over is planned for as long as a build
// serves.
func TestStagesEndWithTheLastBuild(t *testing.T) {
	t.Parallel()
	k := seats(40, 200, 5000, 6000, 0)
	k.AddOns = k.AddOns[1:]
	m := k.planned(t, 5)
	// Born on the 1st of November 2024, and 40 months old on the 1st of March
	// 2028: at the end of that month too old.
	if got, want := steps(m), "2026-11 2028-02: buy small, on small, off , due 8000; p in small"; got != want || m.Stages.Until.String() != "2028-02" || m.Stages.Asked.String() != "2031-10" {
		t.Errorf("until %v of %v:\n%s\nwant\n%s", m.Stages.Until, m.Stages.Asked, got, want)
	}
}

func TestCheaperOverTheYears(t *testing.T) {
	t.Parallel()
	of := func(code string, total measure.Money, until measure.Month) *match.Match {
		m := &match.Match{Frame: &catalog.Frame{Code: code}}
		if total > 0 {
			m.Stages = &match.Stages{Total: total, Until: until}
		}
		return m
	}
	small := of("small", 300_000, 100)
	all := []*match.Match{of("dear", 300_001, 110), of("same", 300_000, 110), of("short", 100_000, 99), small, of("unplanned", 0, 0), of("large", 290_000, 100), of("larger", 280_000, 120), of("longer", 290_000, 110)}
	var codes []string
	for _, other := range match.CheaperOverTheYears(all, small) {
		codes = append(codes, other.Frame.Code)
	}
	if want := []string{"larger", "longer", "large"}; !slices.Equal(codes, want) {
		t.Errorf("%v are cheaper, want %v", codes, want)
	}
	if list := match.CheaperOverTheYears(all, of("unplanned", 0, 0)); list != nil {
		t.Errorf("%v are cheaper than what was not planned for", list)
	}
}

// The document has the stages and what they come to.
func TestStagesInTheDocument(t *testing.T) {
	t.Parallel()
	k := seats(36, 36, 5000, 6000, 20000)
	data, err := match.Document([]*match.Match{k.planned(t, 2)}, nil)
	if err != nil {
		t.Fatal(err)
	}
	var doc struct {
		Matches []struct {
			Stages []map[string]any
			Ahead  map[string]any `json:"years_ahead"`
		}
	}
	if err := json.Unmarshal(data, &doc); err != nil {
		t.Fatal(err)
	}
	got := fmt.Sprint(doc.Matches[0].Stages[1], doc.Matches[0].Ahead)
	want := "map[add_ons:[large] bought:[large] due_cents:9000 from:2027-11 labour_cents:3000 off:[] price_cents:6000 put_on:[large] seating:[map[add_on:large passenger:p place:0]] taken_off:[small] to:2028-10] " +
		"map[asked_until:2028-10 buying_now:map[add_ons:[any] taken_off:[] total_cents:223000] total_cents:217000 until:2028-10]"
	if got != want {
		t.Errorf("%s\nwant\n%s", got, want)
	}
}

func BenchmarkRankWithStages(b *testing.B) {
	c, profiles := demo(b)
	for name, p := range profiles {
		b.Run("customer="+name, func(b *testing.B) {
			for b.Loop() {
				if _, err := match.Rank(context.Background(), c, p, match.DefaultSettings(), match.Options{Stages: true}); err != nil {
					b.Fatal(err)
				}
			}
		})
	}
}
