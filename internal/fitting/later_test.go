package fitting_test

import (
	"path"
	"testing"

	"github.com/google/go-cmp/cmp"

	"kinwain/internal/fitting"
	"kinwain/internal/measure"
	"kinwain/internal/profile"
	"kinwain/testdata"
)

// TestALaterProfileIsSeenAlike holds that a profile which is taken to a later
// day asks the same on every day from then on as one that stays, so that
// nothing of a reading is lost or gained by it.
func TestALaterProfileIsSeenAlike(t *testing.T) {
	t.Parallel()
	files, err := testdata.Profiles.ReadDir("profiles")
	if err != nil {
		t.Fatal(err)
	}
	s, read := fitting.DefaultSettings(), 0
	for _, file := range files {
		document, err := testdata.Profiles.ReadFile(path.Join("profiles", file.Name()))
		if err != nil {
			t.Fatal(err)
		}
		p, err := profile.Parse(document)
		if err != nil {
			t.Fatal(err)
		}
		for _, c := range p.Passengers.Or(nil) {
			if c.Weight.IsGiven() {
				read++
			}
		}
		for _, days := range []int{1, 40, 400, 1500} {
			day := p.AsOf
			for range days {
				day = next(day)
			}
			whole, later := fitting.NewDemand(p, day, s), fitting.NewDemand(p.Later(day), day, s)
			on := day
			for range 90 {
				for name, of := range map[string]func(*fitting.Demand) *fitting.Demand{"planned": same, "fast": (*fitting.Demand).Fast, "slow": (*fitting.Demand).Slow} {
					want, got := of(whole).Riding(on).Today, of(later).Riding(on).Today
					if diff := cmp.Diff(want, got, cmp.AllowUnexported(fitting.Standing{})); diff != "" {
						t.Fatalf("%s, %s, %d days later, on %v: %s", file.Name(), name, days, on, diff)
					}
				}
				on = on.AddMonths(1)
			}
		}
	}
	if read < 3 {
		t.Errorf("only %d children were read", read)
	}
}

func same(d *fitting.Demand) *fitting.Demand { return d }

// next is the day after.
func next(d measure.Date) measure.Date {
	if d == d.InMonth().Last() {
		return (d.InMonth() + 1).First()
	}
	d.Day++
	return d
}
