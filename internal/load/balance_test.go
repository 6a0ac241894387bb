package load_test

// The balance of the axles and of the sides, against moments about the other
// axle.

import (
	"math/big"
	"testing"

	"pgregory.net/rapid"

	"kinwain/internal/catalog"
	"kinwain/internal/load"
	"kinwain/internal/measure"
)

// Bare 25 kg with 40 % in front, 10 kg; a rider of 80 kg at half of a metre,
// 40 kg; so 100 kg at half a metre behind the rear axle lift as much as both
// hold down.
func TestTheFrontLiftsPastNothing(t *testing.T) {
	t.Parallel()
	f := longtail()
	f.BareWeight, f.BareFrontShare, f.RiderAhead = 25*kg, 40*measure.Percent, 500*mm
	behind := load.Spot{Zone: 1, Ahead: -500 * mm}
	limit, ok := load.FrontStays(f, []load.Rider{dressed(90 * kg), dressed(80 * kg)})
	if !ok {
		t.Fatal("the geometry is stated")
	}
	for _, c := range []struct {
		mass, lifts, front measure.Mass
	}{{100*kg - 1*g, 0, 1 * g}, {100 * kg, 0, 0}, {100*kg + 1*g, 1 * g, -1 * g}, {100*kg + 3*g, 2 * g, -2 * g}} {
		got := load.FrontOf(f, []load.Item{item(load.Cargo, c.mass, behind)}, dressed(80*kg))
		by, lifts := got.Lifts()
		if by != c.lifts || lifts != (c.lifts > 0) || got.Mass() != c.front {
			t.Errorf("%d g behind: lifts by %d g, bears %d g, want %d, %d", c.mass, by, got.Mass(), c.lifts, c.front)
		}
		amount := limit.Per(behind) * int64(c.mass)
		if over := limit.Over(amount); (amount > limit.Cap) != lifts || lifts && over != c.lifts {
			t.Errorf("%d g behind: %d of %d, over by %d g", c.mass, amount, limit.Cap, over)
		}
	}
	f.RiderAhead = 0
	if _, ok := load.FrontStays(f, nil); ok {
		t.Error("where the rider sits is not stated")
	}
}

// Under is strict and exact: 20 % of 100 kg is 20 kg.
func TestFrontUnderAShare(t *testing.T) {
	t.Parallel()
	f := longtail()
	f.BareWeight, f.BareFrontShare, f.RiderAhead = 20*kg, 100*measure.Percent, -1*mm
	front := load.FrontOf(f, nil, load.Rider{})
	for share, want := range map[measure.Share]bool{19 * measure.Percent: false, 20 * measure.Percent: false, 20*measure.Percent + 1: true} {
		if got := front.Under(share, 100*kg); got != want {
			t.Errorf("20 kg under %d of 100 kg: %v", share, got)
		}
	}
}

// The load on the front axle is what the rear one, by moments about the
// front, does not bear; and the limit says the same as the loads.
func TestFrontByTheOtherAxle(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(t *rapid.T) {
		f, items := drawLoaded(t)
		f.RiderAhead = measure.Length(rapid.SampledFrom([]int{-50, 300, 1050}).Draw(t, "saddle"))
		riders := []load.Rider{dressed(measure.Mass(rapid.IntRange(30_000, 150_000).Draw(t, "rider"))), dressed(70 * kg)}
		limit, _ := load.FrontStays(f, riders)
		lifted := false
		for _, r := range riders {
			placed, held, known := f.BareWeight+r.Riding, measure.Mass(0), []load.Item{}
			for _, i := range items {
				unknown := i.Spot == load.Spot{Zone: load.Nowhere}
				if !unknown {
					known = append(known, i)
				}
				switch {
				case i.Kind == load.Delivered:
				case unknown:
					if i.Kind == load.TakenOff {
						held += i.Mass // all of it may have held the front down
					}
				case i.Kind == load.TakenOff:
					placed -= i.Mass
				default:
					placed += i.Mass
				}
			}
			want := new(big.Rat).Sub(new(big.Rat).SetInt64(int64(placed-held)), frontMoment(f, known, r, load.RearAxle))
			lifts := want.Sign() < 0
			lifted = lifted || lifts
			front := load.FrontOf(f, items, r)
			if by, got := front.Lifts(); got != lifts || lifts && new(big.Rat).Add(want, new(big.Rat).SetInt64(int64(by))).Sign() < 0 {
				t.Fatalf("%v on the front axle, lifts by %d: %v", want, by, got)
			}
		}
		if got := taken(f, items, limit) > limit.Cap; got != lifted {
			t.Fatalf("the limit says lifted %v, the moments %v", got, lifted)
		}
	})
}

func TestSidesAndStand(t *testing.T) {
	t.Parallel()
	f := longtail()
	f.Zones[0].Side, f.Zones[1].Side = catalog.LeftSide, catalog.RightSide
	left, right, centre := load.ZoneSpot(f, "front"), load.ZoneSpot(f, "rear"), load.ZoneSpot(f, "belly")
	s := load.NewSheet(f, []load.Item{item(load.Added, 1*kg, left), item(load.Delivered, 2*kg, left), item(load.Cargo, 4*kg, left),
		item(load.TakenOff, 9*kg, right), item(load.Passenger, 16*kg, right), item(load.Cargo, 30*kg, centre)}, dressed(80*kg), eighty)
	if l, r := s.Sides(f); l != 7*kg || r != 16*kg {
		t.Errorf("left %v, right %v", l, r)
	}
	// 24.5 + 1 + 4 − 9 + 16 + 30
	if got := s.Standing(); got != 66500*g {
		t.Errorf("a stand bears %v", got)
	}
}

// A stand of 2 kg in no zone, on a bike of 40 kg with half of it in front and
// a metre between the axles. Stated 25 cm ahead it shares by the lever; else it
// is whole on either axle, and when it comes off it relieves neither.
func TestWhatIsInNoZone(t *testing.T) {
	t.Parallel()
	f := &catalog.Frame{BareWeight: 40 * kg, BareFrontShare: 50 * measure.Percent, Wheelbase: 1000, RiderAhead: 500, FrontAxleRating: 70 * kg, RearAxleRating: 70 * kg}
	stated, unknown := load.AddOnSpot(f, &catalog.AddOn{Ahead: 250}), load.AddOnSpot(f, &catalog.AddOn{})
	for _, c := range []struct {
		name                             string
		item                             load.Item
		front, rear, unplaced, held      measure.Mass
		takesFront, takesRear, takesLift int64
	}{
		{"bought, stated", item(load.Added, 2*kg, stated), 60_500, 61_500, 0, 60_500, 500, 1500, -500},
		{"bought, not stated", item(load.Added, 2*kg, unknown), 62_000, 62_000, 2 * kg, 60_000, 2000, 2000, 0},
		{"came with it", item(load.Delivered, 2*kg, unknown), 60_000, 60_000, 0, 60_000, 0, 0, 0},
		{"came off, stated", item(load.TakenOff, 2*kg, stated), 59_500, 58_500, 0, 59_500, -500, -1500, 500},
		{"came off, not stated", item(load.TakenOff, 2*kg, unknown), 60_000, 60_000, 0, 58_000, 0, 0, 2000},
	} {
		r := dressed(80 * kg)
		s := load.NewSheet(f, []load.Item{c.item}, r, eighty)
		if held := load.FrontOf(f, s.Items, r).Mass(); s.Front != c.front || s.Rear != c.rear || s.Unplaced != c.unplaced || held != c.held {
			t.Errorf("%s: front %d, rear %d, unplaced %d, held down by %d; want %+v", c.name, s.Front, s.Rear, s.Unplaced, held, c)
		}
		limits := load.Limits(f, nil, []load.Rider{r})
		lift, _ := load.FrontStays(f, []load.Rider{r})
		for l, want := range map[*load.Limit]int64{limit(t, limits, load.Axle, load.FrontAxle): c.takesFront, limit(t, limits, load.Axle, load.RearAxle): c.takesRear, &lift: c.takesLift} {
			if got := taken(f, s.Items, *l); got != want*load.BothAxles(f) {
				t.Errorf("%s: takes %d of %s %s, want %d", c.name, got, l.Rule, l.Name, want*load.BothAxles(f))
			}
		}
	}
}
