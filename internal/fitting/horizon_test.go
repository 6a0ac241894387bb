// How long a build lasts: examples worked out on the calendar, and the search
// for the longest against the slow way.
package fitting_test

import (
	"context"
	"slices"
	"testing"

	"pgregory.net/rapid"

	"kinwain/internal/catalog"
	"kinwain/internal/fitting"
	"kinwain/internal/measure"
	"kinwain/internal/profile"
)

func born(label, day string) profile.Passenger { return kid(label, day, 15*kg) }

func leaves(p profile.Passenger, years int) profile.Passenger {
	p.LeavesAtYears = profile.Given(years)
	return p
}

func joins(p profile.Passenger, month string) profile.Passenger {
	m, err := measure.ParseMonth(month)
	if err != nil {
		panic(err)
	}
	p.Joins = profile.Given(profile.Month{Month: m})
	return p
}

// lasting is a horizon as an example states it: the month, or "" where nothing
// is outgrown, the months from November 2026 on, that one included, and what
// gives out.
type lasting struct {
	month  string
	months int
	limit  string
}

func horizonOf(t *testing.T, in *instance) lasting {
	t.Helper()
	p := in.checked(t).problem()
	b, err := p.Solve(context.Background(), profile.LeastCost, fitting.AllRules)
	if err != nil {
		t.Fatal(err)
	}
	h := p.Horizon(b)
	if !h.Ends {
		if h.Month != 0 {
			t.Errorf("month %v of what never ends", h.Month)
		}
		return lasting{"", h.Months, h.Limit.String()}
	}
	return lasting{h.Month.String(), h.Months, h.Limit.String()}
}

// Judged on the 25th of November 2026.
func TestHorizonIsTheLastMonthWhoseLastDayHolds(t *testing.T) {
	t.Parallel()
	six := catalog.Place{MaxMonths: 72}
	seat := func(p catalog.Place, kids ...profile.Passenger) *instance {
		return workshop(seatFor("seat", 1000, p)).kids(kids...)
	}
	never := lasting{"", fitting.HorizonMonths, ""}
	for _, c := range []struct {
		name string
		in   *instance
		want lasting
	}{
		// Six on the 15th of December, so past it on the 31st.
		{"outgrown in the month after", seat(six, born("p", "2020-12-15")), lasting{"2026-11", 1, "place_age:seat"}},
		// Six on the 31st of December itself, which is not past it.
		{"on the very day it still holds", seat(six, born("p", "2020-12-31")), lasting{"2026-12", 2, "place_age:seat"}},
		{"a birth month counts from its first day", seat(six, born("p", "2020-12")), lasting{"2026-11", 1, "place_age:seat"}},
		// Holds on the 25th but no more on the 30th.
		{"not even this month", seat(six, born("p", "2020-11-26")), lasting{"2026-10", 0, "place_age:seat"}},
		{"no limit to outgrow", seat(anyone, born("p", "2020-12-15")), never},
		// The tenth year's last month end, the 30th of November 2036, counts.
		{"within ten years", seat(catalog.Place{MaxMonths: 162}, born("p", "2023-05-29")), lasting{"2036-10", 120, "place_age:seat"}},
		{"beyond ten years", seat(catalog.Place{MaxMonths: 162}, born("p", "2023-05-30")), never},
		// Off alone at six, before the seat is too small at the month's end.
		{"leaves before it is outgrown", seat(six, leaves(born("p", "2020-12-15"), 6)), never},
		{"leaves too late", seat(six, leaves(born("p", "2020-12-15"), 7)), lasting{"2026-11", 1, "place_age:seat"}},
		{"leaves on the last day", seat(six, leaves(born("p", "2020-12-31"), 6)), never},
		// Joins in January 2027 and is two on the 10th of August.
		{"joins later", seat(catalog.Place{MinMonths: 12, MaxMonths: 24}, joins(born("p", "2025-08-10"), "2027-01")), lasting{"2027-07", 9, "place_age:seat"}},
		// Joins on the first birthday, the 31st of January 2027, and is judged
		// as on that day until then, so the place is kept from today.
		{"too young until joining", seat(catalog.Place{MinMonths: 12}, joins(kid("p", "2026-01-31", 8*kg), "2027-01")), never},
		{"somebody whose age is not known does not grow", seat(catalog.Place{MaxMass: 16 * kg}, ageless("p", 15*kg)), never},
		// p outgrows the first seat in May 2027, but q is off alone from the
		// 15th of December 2026, and p moves over until May 2029.
		{"everyone is seated anew each month", workshop(seatFor("a-seat", 1000, catalog.Place{MaxMonths: 48}), seatFor("b-seat", 1000, six)).
			kids(born("p", "2023-05-20"), leaves(born("q", "2020-12-15"), 6)), lasting{"2029-04", 30, "place_age:a-seat"}},
	} {
		t.Run(c.name, func(t *testing.T) {
			if got := horizonOf(t, c.in); got != c.want {
				t.Errorf("lasts %+v, want %+v", got, c.want)
			}
		})
	}
}

func ageless(label string, weight measure.Mass) profile.Passenger {
	return profile.Passenger{Label: label, Born: profile.Unknown[measure.Date](), Weight: profile.Given(weight)}
}

// A child of 15 kg gains kilograms within ten years; whatever is full today
// gives out first.
func TestHorizonNamesWhatGivesOut(t *testing.T) {
	t.Parallel()
	full := func(change func(f *catalog.Frame, a *catalog.AddOn)) *instance {
		in := workshop(seatFor("seat", 1000, anyone)).kids(child)
		change(in.frame, &in.catalogue.AddOns[0])
		return in
	}
	tall := child
	tall.Stature = profile.Given(98 * cm)
	for name, in := range map[string]*instance{
		"gross_rating":     full(func(f *catalog.Frame, _ *catalog.AddOn) { f.GrossRating = 122 * kg }),
		"zone_rating:rear": full(func(f *catalog.Frame, _ *catalog.AddOn) { f.Zones[1].Rating = 17 * kg }),
		"combined_rating:front+rear": full(func(f *catalog.Frame, _ *catalog.AddOn) {
			f.Combined = []catalog.Combined{{Zones: []string{"front", "rear"}, Rating: 17 * kg}}
		}),
		"axle_rating:rear": full(func(f *catalog.Frame, _ *catalog.AddOn) {
			f.Wheelbase, f.RiderAhead, f.BareFrontShare, f.RearAxleRating, f.Zones[1].Ahead = 1000, 500, 40*measure.Percent, 73700*g, -100
		}),
		"add_on_rating:seat": full(func(_ *catalog.Frame, a *catalog.AddOn) { a.MaxLoad = 16 * kg }),
		"place_weight:seat":  full(func(_ *catalog.Frame, a *catalog.AddOn) { a.Places[0].MaxMass = 16 * kg }),
		"place_stature:seat": full(func(_ *catalog.Frame, a *catalog.AddOn) { a.Places[0].MaxStature = 98 * cm }).kids(tall),
	} {
		// The reading stands on the 25th; five days later it is passed.
		if got, want := horizonOf(t, in), (lasting{"2026-10", 0, name}); got != want {
			t.Errorf("lasts %+v, want %+v", got, want)
		}
	}
}

// Somebody behind the rear axle takes weight off the front one: it bears 10 +
// 40 = 50 kg and is rated for 49. The child of 16 kg dressed, 200 mm behind,
// takes 3.2 off for as long as it rides along, until its sixth birthday.
func TestHorizonEndsWhereARelievingLoadLeaves(t *testing.T) {
	t.Parallel()
	in := workshop(seatFor("seat", 1000, catalog.Place{Ahead: -200})).kids(leaves(child, 6)).with(func(f *catalog.Frame, _ *profile.Profile) {
		f.Wheelbase, f.RiderAhead, f.BareFrontShare, f.FrontAxleRating = 1000, 500, 40*measure.Percent, 49*kg
	})
	if got, want := horizonOf(t, in), (lasting{"2029-04", 30, "axle_rating:front"}); got != want {
		t.Errorf("lasts %+v, want %+v", got, want)
	}
}

// lasts counts the months, from that of the profile on, at whose end the set
// still carries everyone; 121 where it does for ten years.
func (w *world) lasts(counts []int, months [][]person) int {
	for m, people := range months {
		if w.settle(counts, people, fitting.AllRules) == nil {
			return m
		}
	}
	return len(months)
}

func monthEnds(p *profile.Profile) [][]person {
	months := make([][]person, fitting.HorizonMonths+1)
	for m := range months {
		months[m] = party(p, (p.AsOf.InMonth() + measure.Month(m)).Last())
	}
	return months
}

// compareHorizon holds what a problem says of a build against month by month.
func compareHorizon(t tester, w *world, b *fitting.Build, months [][]person) int {
	t.Helper()
	h, want := w.problem().Horizon(b), w.lasts(w.countsOf(b), months)
	if want > fitting.HorizonMonths {
		if h.Ends || h.Months != fitting.HorizonMonths || h.Limit.String() != "" {
			t.Fatalf("%s ends: %+v; month by month it does not", said(b), h)
		}
		return want
	}
	if last := w.profile.AsOf.InMonth() + measure.Month(want-1); !h.Ends || h.Months != want || h.Month != last || h.Limit.Rule == "" {
		t.Fatalf("%s lasts %+v; month by month %d, until %v", said(b), h, want, last)
	}
	return want
}

func TestHorizonMonthByMonth(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(t *rapid.T) {
		in := drawInstance(t, rapid.SampledFrom([]shape{families, outings, anything}).Draw(t, "shape"))
		defer in.show(t)
		if b := solve(t, in, profile.LeastCost, fitting.AllRules); b != nil {
			compareHorizon(t, worldOf(in), b, monthEnds(in.profile))
		}
	})
}

// The longest lasts the longest of all sets that hold today and is the
// cheapest of those.
func TestLongestOverSeeds(t *testing.T) {
	t.Parallel()
	longer, ends := 0, 0
	for name, s := range map[string]shape{"families": families, "outings": outings, "anything": anything} {
		s.addOns = 4
		t.Run(name, func(t *testing.T) {
			for seed := range 200 {
				later, ended := longestOf(t, sample(s, seed))
				longer, ends = longer+b2i(later), ends+b2i(ended)
			}
		})
	}
	if longer < 8 || ends < 40 {
		t.Errorf("a dearer set lasted longer %d times and %d horizons ended, which is not enough to tell", longer, ends)
	}
}

// longestOf compares one instance; it reports whether a dearer set lasts
// longer than the cheapest, and whether even the longest ends.
func longestOf(t *testing.T, in *instance) (later, ended bool) {
	t.Helper()
	defer in.show(t)
	w, months := worldOf(in), monthEnds(in.profile)
	most, best := 0, (*set)(nil)
	for _, s := range inOrder(w.sets(fitting.AllRules), profile.LeastCost) {
		if w.settle(s.counts, party(in.profile, asOf), fitting.AllRules) == nil {
			continue
		}
		if n := w.lasts(s.counts, months); best == nil || n > most {
			later = best != nil
			most, best = n, &s
		}
	}
	compareLongest(t, w, best, most, months)
	return later, best != nil && most <= fitting.HorizonMonths
}

func compareLongest(t *testing.T, w *world, best *set, most int, months [][]person) {
	t.Helper()
	b := solve(t, w.instance, profile.Longest, fitting.AllRules)
	if (b == nil) != (best == nil) {
		t.Fatalf("%s; the slow way finds %s", said(b), saidSet(best))
	}
	if b == nil {
		return
	}
	if faults := broken(w.instance, asOf, b); faults != nil {
		t.Fatalf("%s breaks rules: %v", said(b), faults)
	}
	if got := compareHorizon(t, w, b, months); got != most {
		t.Fatalf("%s lasts %d months; %s lasts %d", said(b), got, saidSet(best), most)
	}
	if b.Price+b.Labour != best.cost || b.Weight != best.weight || !slices.Equal(b.AddOns, best.bought) {
		t.Fatalf("%s; as long lasts %s", said(b), saidSet(best))
	}
}

// More of anything never shortens the longest horizon.
func TestHorizonNeverFallsAsRatingsRise(t *testing.T) {
	t.Parallel()
	rose := 0
	for seed := range 400 {
		in := sample(families, seed)
		less := monthsOfLongest(t, in)
		raise(in, seed)
		more := monthsOfLongest(t, in)
		if more < less {
			in.show(t)
			t.Fatalf("seed %d: %d months fell to %d", seed, less, more)
		}
		rose += b2i(more > less)
	}
	if rose < 10 {
		t.Errorf("the horizon rose %d times, which is not enough to tell", rose)
	}
}

// raise raises one kind of limit, a different one for each seed.
func raise(in *instance, seed int) {
	f := in.frame
	switch seed % 4 {
	case 0:
		f.GrossRating += 20 * kg
	case 1:
		for i := range f.Zones {
			f.Zones[i].Rating = 0
		}
	case 2:
		for i := range in.catalogue.AddOns {
			in.catalogue.AddOns[i].MaxLoad = 0
		}
	default:
		for i := range in.catalogue.AddOns {
			for j := range in.catalogue.AddOns[i].Places {
				p := &in.catalogue.AddOns[i].Places[j]
				p.MaxMass, p.MaxMonths, p.MaxStature = 0, 0, 0
			}
		}
	}
}

// monthsOfLongest returns -1 where nothing is feasible.
func monthsOfLongest(t *testing.T, in *instance) int {
	b := solve(t, in, profile.Longest, fitting.AllRules)
	if b == nil {
		return -1
	}
	h := in.problem().Horizon(b)
	return h.Months + b2i(!h.Ends)
}

// The horizon is a month of the calendar, whatever day it is asked on.
func TestHorizonFromALaterDay(t *testing.T) {
	t.Parallel()
	in := workshop(seatFor("seat", 1000, catalog.Place{MaxMonths: 72})).kids(born("p", "2022-05-20")).checked(t)
	for day, months := range map[string]int{"2026-11-25": 18, "2026-12-01": 17, "2028-04-30": 1} {
		d, _ := measure.ParseDate(day)
		p := fitting.New(in.catalogue, in.frame, fitting.NewDemand(in.profile, d, settings))
		b, err := p.Solve(context.Background(), profile.LeastCost, fitting.AllRules)
		if err != nil {
			t.Fatal(err)
		}
		if h := p.Horizon(b); h.Month.String() != "2028-04" || h.Months != months {
			t.Errorf("from %s it lasts until %v, %d months; want 2028-04, %d", day, h.Month, h.Months, months)
		}
	}
}
