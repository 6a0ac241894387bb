package compare_test

import (
	"context"
	"os"
	"slices"
	"testing"

	"kinwain/internal/catalog"
	"kinwain/internal/compare"
	"kinwain/internal/match"
	"kinwain/internal/measure"
	"kinwain/internal/profile"
	"kinwain/internal/ride"
)

// customer judges frames of the demo shop for one of its sample customers.
func customer(t *testing.T, name string, change func(*profile.Profile), codes ...string) ([]compare.Row, []*match.Match) {
	t.Helper()
	data, err := os.ReadFile("../../testdata/demo.json")
	if err != nil {
		t.Fatal(err)
	}
	c, err := catalog.Parse(data)
	if err != nil {
		t.Fatal(err)
	}
	if data, err = os.ReadFile("../../testdata/profiles/" + name + ".json"); err != nil {
		t.Fatal(err)
	}
	p, err := profile.Parse(data)
	if err != nil {
		t.Fatal(err)
	}
	change(p)
	var matches []*match.Match
	for _, code := range codes {
		m, err := match.One(context.Background(), c, c.Frame(code), p, match.DefaultSettings(), match.Options{})
		if err != nil {
			t.Fatal(err)
		}
		matches = append(matches, m)
	}
	return compare.Rows(p, matches), matches
}

func asItIs(*profile.Profile) {}

// find returns the row of a code and rider.
func find(t *testing.T, rows []compare.Row, code, rider string) compare.Row {
	t.Helper()
	at := slices.IndexFunc(rows, func(r compare.Row) bool { return r.Code == code && r.Rider == rider })
	if at < 0 {
		t.Fatalf("there is no row %s of %q", code, rider)
	}
	return rows[at]
}

// TestRowsOnPaper holds the first column to a match worked out on paper, that
// of the tradesperson on the Teasel: 43.5 kg to spare of 220, 0.8 kg over the
// guideline, EUR 3290, 44 cm at home, 256 × 64 × 108 cm, a score of 75.36, ten
// years and more; 176 cm in a range from 158 to 196. A box bike of 36.5 kg
// with 36 × 36 on 47-559 goes π × 653 = 2051 mm a turn.
func TestRowsOnPaper(t *testing.T) {
	t.Parallel()
	rows, _ := customer(t, "tradesperson", asItIs, "teasel", "osier-assist")
	for code, want := range map[string]int64{
		"spare": 43_500, "carry_guideline": -800, "total_price": 329_000, "home": 440, "length": 2560, "width": 640, "height": 1080, "score": 754, "horizon": 120,
		"handling_mass": 36_500, "gross_rating_kg": 220_000, "low_gear": 2051, "rider_height": 180,
	} {
		row := find(t, rows, code, "")
		if got := row.Cells[0]; got.State != compare.Stated || got.Figure != want {
			t.Errorf("%s: %+v, want %d", code, got, want)
		}
	}
	if got := find(t, rows, "horizon", "").Cells[0].Words; got != compare.Beyond {
		t.Errorf("the horizon is %q", got)
	}
}

// TestRowsOfASharedBike holds that every rider of a shared bike has rows, and
// a single one has not.
func TestRowsOfASharedBike(t *testing.T) {
	t.Parallel()
	rows, matches := customer(t, "two-parents", asItIs, "osier-m", "teasel", "sedge-assist")
	for i, rider := range []string{"A", "B"} {
		spare, share := find(t, rows, "rider_spare", rider), find(t, rows, "rider_share", rider)
		for k, m := range matches {
			sheet := m.Sheets[i]
			if spare.Cells[k].Figure != int64(sheet.Spare()) {
				t.Errorf("rider %s on %s: %+v, the load sheet says %v", rider, m.Frame.Code, spare.Cells[k], sheet.Spare())
			}
			if got := share.Cells[k].Figure; got*int64(sheet.Rider.Own) < int64(sheet.Carried)*10_000 || (got-1)*int64(sheet.Rider.Own) >= int64(sheet.Carried)*10_000 {
				t.Errorf("rider %s on %s carries %d, of %v %v", rider, m.Frame.Code, got, sheet.Rider.Own, sheet.Carried)
			}
		}
	}
	alone, _ := customer(t, "tradesperson", asItIs, "teasel", "osier-m")
	if slices.ContainsFunc(alone, func(r compare.Row) bool { return r.Rider != "" || r.Code == "rider_spare" }) {
		t.Error("a single rider has rows of their own")
	}
}

// TestClimbIsThatOfTheSlowest takes the 6 % hill with the parent who is slower,
// with 1.8 W for every kilogram of their own.
func TestClimbIsThatOfTheSlowest(t *testing.T) {
	t.Parallel()
	rows, matches := customer(t, "two-parents", asItIs, "osier-m", "osier-assist")
	for i, m := range matches {
		var want ride.Climb
		for _, s := range m.Sheets {
			effort := ride.Watts(1.8 * float64(s.Rider.Own) / 1000)
			if c := ride.ClimbOf(m.Frame, s.Total, effort, ride.Hill{Slope: 6_00, Slow: ride.PerHour(4000), Turns: 50}); want.Speed == 0 || c.Speed < want.Speed {
				want = c
			}
		}
		if got := find(t, rows, "climb", "").Cells[i]; len(m.Sheets) != 2 || got.Figure != want.Speed.MetresPerHour() || got.Words != string(want.Outcome) {
			t.Errorf("%s: %+v, want %+v", m.Frame.Code, got, want)
		}
	}
}

// TestRowsThatNobodyAskedFor holds that a hill or a home comes up only where
// the profile has one.
func TestRowsThatNobodyAskedFor(t *testing.T) {
	t.Parallel()
	has := func(rows []compare.Row, code string) bool {
		return slices.ContainsFunc(rows, func(r compare.Row) bool { return r.Code == code })
	}
	rows, _ := customer(t, "two-parents", asItIs, "osier-m", "teasel")
	bare, _ := customer(t, "two-parents", func(p *profile.Profile) {
		p.Home, p.Hill = profile.Answer[profile.Home]{}, profile.Answer[measure.Percentage]{}
	}, "osier-m", "teasel")
	for _, code := range []string{"home", "climb"} {
		if !has(rows, code) || has(bare, code) {
			t.Errorf("%s: %v where asked for, %v where not", code, has(rows, code), has(bare, code))
		}
	}
	nobody, _ := customer(t, "two-parents", func(p *profile.Profile) {
		for i := range p.Riders {
			p.Riders[i].Weight = profile.Unknown[measure.Mass]()
		}
	}, "osier-m", "teasel")
	for _, code := range []string{"spare", "carry_guideline", "climb", "rider_spare"} {
		if has(nobody, code) {
			t.Errorf("%s with nobody weighed", code)
		}
	}
}

// TestNotStatedIsNoZero compares with a frame whose maker states neither how
// many may ride along nor a motor.
func TestNotStatedIsNoZero(t *testing.T) {
	t.Parallel()
	rows, _ := customer(t, "tradesperson", asItIs, "yarrow", "teasel", "osier-assist")
	for _, code := range []string{"passengers_max", "assist"} {
		row := find(t, rows, code, "")
		if row.Cells[0] != (compare.Cell{}) {
			t.Errorf("%s: %+v", code, row.Cells[0])
		}
		if win, ok := row.Winner(); ok {
			t.Errorf("%s: %+v wins against what is not stated", code, win)
		}
	}
}

// TestPartialBuildsDoNotCompete holds that a frame whose build leaves out the
// children wins nothing by it.
func TestPartialBuildsDoNotCompete(t *testing.T) {
	t.Parallel()
	rows, matches := customer(t, "twins", asItIs, "knapweed-s", "osier-assist", "yarrow-assist")
	if len(matches[0].Relaxed) == 0 {
		t.Fatal("the small tourer carries twins")
	}
	for _, row := range rows {
		if win, ok := row.Winner(); ok && win.Best == 0 && !slices.Contains([]string{"low_gear", "rider_height", "passengers_max", "gross_rating_kg"}, row.Code) {
			t.Errorf("it wins %s: %+v", row.Code, row.Cells)
		}
	}
	if got := find(t, rows, "score", "").Cells[0].State; got != compare.None {
		t.Errorf("its score is %v", got)
	}
}

// TestRowsDoNotDependOnTheOrder turns the frames round.
func TestRowsDoNotDependOnTheOrder(t *testing.T) {
	t.Parallel()
	codes := []string{"osier-m", "knapweed-l", "yarrow", "teasel-short"}
	rows, _ := customer(t, "two-parents", asItIs, codes...)
	slices.Reverse(codes)
	turned, _ := customer(t, "two-parents", asItIs, codes...)
	for i, row := range rows {
		slices.Reverse(row.Cells)
		if other := turned[i]; other.Code != row.Code || other.Rider != row.Rider || !slices.Equal(other.Cells, row.Cells) {
			t.Errorf("%s: %+v, turned round %+v", row.Code, row.Cells, other.Cells)
		}
	}
}
