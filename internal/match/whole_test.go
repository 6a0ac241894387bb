package match_test

import (
	"context"
	"testing"

	"kinwain/internal/fitting"
	"kinwain/internal/match"
	"kinwain/internal/measure"
	"kinwain/internal/profile"
)

// askedLoad adds up what a customer asked a bike to carry besides its rider.
func askedLoad(p *profile.Profile, s match.Settings) measure.Mass {
	d := fitting.NewDemand(p, p.AsOf, s.Settings)
	sum := d.Pet + d.Cargo
	for _, st := range d.Today {
		if st.Present {
			sum += st.Load
		}
	}
	return sum
}

// TestNoSheetIsWithoutThoseWhoWereAskedFor holds for every sample customer that
// each load sheet carries all that was asked for, whatever the build leaves
// out, and that a frame said to be over its gross rating by so much has a sheet
// that is over by as much.
func TestNoSheetIsWithoutThoseWhoWereAskedFor(t *testing.T) {
	t.Parallel()
	c, customers := demo(t)
	s := match.DefaultSettings()
	s.Patience = 0
	relaxed, over := 0, 0
	for name, p := range customers {
		want := askedLoad(p, s)
		list, err := match.Rank(context.Background(), c, p, s, match.Options{})
		if err != nil {
			t.Fatal(err)
		}
		for _, m := range list {
			bike := m.Frame.BareWeight + m.Build.Weight
			if m.Asked != nil {
				bike = m.Frame.BareWeight + m.Asked.Build.Weight
				relaxed++
			}
			least := measure.Mass(0)
			for i := range m.Sheets {
				sh := &m.Sheets[i]
				least = min(least, sh.Spare())
				if sh.Carried != want || sh.Total != bike+sh.Rider.Riding+want {
					t.Errorf("%s, %s, rider %s: carries %v of %v, %v in all", name, m.Frame.Code, sh.Rider.Label, sh.Carried, want, sh.Total)
				}
			}
			for _, r := range reasonsOf(m, match.ReasonGrossRating) {
				over++
				if r.Over != -least {
					t.Errorf("%s, %s: %v over in the reason, %v in the sheet", name, m.Frame.Code, r.Over, -least)
				}
			}
			if m.Offered() != m.Fits() || m.Asked != nil && m.Offered() {
				t.Errorf("%s, %s: a build that leaves something out is offered", name, m.Frame.Code)
			}
		}
	}
	if relaxed < 20 || over < 3 {
		t.Errorf("%d builds leave something out, %d are over the gross rating: too few to tell", relaxed, over)
	}
}

// TestWhoHasNoPlaceStillWeighs puts a child on a frame without a seat: the
// child is in the gross weight, and nowhere else.
func TestWhoHasNoPlaceStillWeighs(t *testing.T) {
	t.Parallel()
	k := atCounter()
	k.kids(kid("child", "2021-11"))
	k.seat().Fits = nil
	m := k.judge(t)
	sh := &m.Sheets[0]
	if m.Verdict != match.DoesNotFit || m.Asked == nil || m.Asked.NoPlace != 16*kg || len(m.Seated) > 0 {
		t.Fatalf("%s: %+v", m.Verdict, m.Asked)
	}
	if sh.Total != (25+80+16)*kg || sh.Carried != 16*kg || sh.Zones[1].Mass != 0 || sh.Spare() != 79*kg {
		t.Errorf("%+v", sh)
	}
	for _, l := range m.Limits {
		if l.Rating == "gross" && l.Spare != 79*kg {
			t.Errorf("%+v", l)
		}
	}
}
