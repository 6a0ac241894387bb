package match_test

import (
	"path"
	"testing"

	"kinwain/internal/catalog"
	"kinwain/internal/match"
	"kinwain/internal/measure"
	"kinwain/internal/profile"
	"kinwain/testdata"
)

// byWeight sells a small seat that takes a child up to so much, and a large one
// from so much on; a child of two is weighed today.
func byWeight(upTo, from, weighs measure.Mass) *counter {
	k := seats(36, 36, 5000, 6000, 900_000)
	k.AddOns[1].Places[0] = catalog.Place{Kind: "belted", MinMonths: 1, MinMass: from, MaxMass: 200 * kg}
	k.AddOns[2].Places[0] = catalog.Place{Kind: "belted", MinMonths: 1, MaxMass: upTo}
	k.kids(profile.Passenger{Label: "p", Born: profile.Given(day("2024-11-01")), Sex: profile.Given(profile.Girl), Weight: profile.Given(weighs)})
	return k
}

// reweighed judges the stages that were told for a child that weighs so much on a
// day.
func (k *counter) reweighed(t *testing.T, told *match.Stages, on string, weighs measure.Mass) (held []match.Held, begins int, until measure.Month) {
	t.Helper()
	p := k.p.Later(day(on))
	p.Passengers.Or(nil)[0].Weigh(weighs)
	return match.NewReady(k.Catalogue).Still(k.f, p, k.s, told)
}

// TestStagesMove weighs a child half a year after the plan was told: one that
// grew faster leaves the small seat sooner, and one that grew slower later;
// where it is too heavy for the one and too light for the other that is said;
// and what is over is past.
func TestStagesMove(t *testing.T) {
	t.Parallel()
	k := byWeight(16*kg, 14*kg, 12*kg)
	m := k.planned(t, 4)
	if got := len(m.Stages.List); got != 2 {
		t.Fatal(steps(m))
	}
	first, last := m.Stages.List[0].To, m.Stages.Until
	as, begins, until := k.reweighed(t, m.Stages, "2027-05-20", 12800)
	if begins != 0 || until != last || as[0].From != measure.MonthOf(2027, 5) || as[0].To < first || as[1].From != as[0].To+1 || as[1].To != last {
		t.Fatalf("as planned: %v from %d until %v, told %s", as, begins, until, steps(m))
	}
	if fast, _, until := k.reweighed(t, m.Stages, "2027-05-20", 14500); fast[0].To >= as[0].To || fast[1].From != fast[0].To+1 || until != last {
		t.Errorf("grown fast: %v until %v, as planned %v", fast, until, as)
	}
	if slow, _, until := k.reweighed(t, m.Stages, "2027-05-20", 11500); slow[0].To <= as[0].To || until != last {
		t.Errorf("grown slowly: %v until %v, as planned %v", slow, until, as)
	}
	if heavy, _, until := k.reweighed(t, m.Stages, "2027-05-20", 17000); heavy[0].Serves() || heavy[1].From != measure.MonthOf(2027, 5) || until != last {
		t.Errorf("too heavy for the small seat: %v until %v", heavy, until)
	}
	if past, begins, _ := k.reweighed(t, m.Stages, "2029-12-01", 17000); begins != 1 || past[0].Serves() || !past[1].Serves() {
		t.Errorf("years later: %v from %d", past, begins)
	}
	if over, begins, until := k.reweighed(t, m.Stages, "2031-12-01", 20*kg); begins != 2 || over[1].Serves() || until != measure.MonthOf(2031, 11) {
		t.Errorf("after all of it: %v from %d until %v", over, begins, until)
	}
	between := byWeight(16*kg, 18*kg, 12*kg)
	if gap, _, until := between.reweighed(t, m.Stages, "2027-05-20", 16500); gap[0].Serves() || gap[1].Serves() || until != measure.MonthOf(2027, 4) {
		t.Errorf("neither seat: %v until %v", gap, until)
	}
	over := byWeight(16*kg, 14*kg, 12*kg)
	over.f.GrossRating = 125 * kg
	if some, _, until := over.reweighed(t, m.Stages, "2027-05-20", 12800); !some[0].Serves() && until != measure.MonthOf(2027, 4) || until >= last {
		t.Errorf("over the gross rating: %v until %v", some, until)
	}
}

// TestStagesHoldForWhomTheyWereTold holds that a plan of a demo frame serves
// the people that it was made for, on its own day, for as long as it says.
func TestStagesHoldForWhomTheyWereTold(t *testing.T) {
	t.Parallel()
	c, err := catalog.Parse(testdata.Demo)
	if err != nil {
		t.Fatal(err)
	}
	files, err := testdata.Profiles.ReadDir("profiles")
	if err != nil {
		t.Fatal(err)
	}
	s := match.DefaultSettings()
	s.Patience = 0
	plans, changes := 0, 0
	for _, file := range files {
		document, err := testdata.Profiles.ReadFile(path.Join("profiles", file.Name()))
		if err != nil {
			t.Fatal(err)
		}
		p, err := profile.Parse(document)
		if err != nil {
			t.Fatal(err)
		}
		ranked, err := match.Rank(t.Context(), c, p, s, match.Options{Stages: true})
		if err != nil {
			t.Fatal(err)
		}
		for _, m := range ranked {
			if m.Stages == nil {
				continue
			}
			plans++
			changes += len(m.Stages.List) - 1
			held, begins, until := match.NewReady(c).Still(m.Frame, p, s, m.Stages)
			month := p.AsOf.InMonth()
			for i, h := range held {
				if h.Serves() && h.From != month {
					t.Errorf("%s, %s: stage %d from %v, want %v", file.Name(), m.Frame.Code, i, h.From, month)
				}
				if h.Serves() {
					month = h.To + 1
				}
			}
			if begins != 0 || until != m.Stages.Until || month != until+1 || held[0].To < m.Stages.List[0].To {
				t.Errorf("%s, %s: %v until %v, told %s", file.Name(), m.Frame.Code, held, until, steps(m))
			}
		}
	}
	if plans < 20 || changes == 0 {
		t.Errorf("%d plans with %d changes", plans, changes)
	}
}
