// The load sheet, against sums worked out on paper. What may still be carried
// is gross rating − bare weight − add-ons − rider (common practice, no
// published source); axle loads are the reactions of a beam on two supports.
package load_test

import (
	"testing"

	"github.com/google/go-cmp/cmp"
	"pgregory.net/rapid"

	"kinwain/internal/catalog"
	"kinwain/internal/load"
	"kinwain/internal/measure"
)

const eighty = 80 * measure.Percent

// longtail has a front zone ahead of the front axle, a rear zone just behind
// the rear axle, and a metre between the axles.
func longtail() *catalog.Frame {
	return &catalog.Frame{
		Code: "sedge", GrossRating: 180 * kg, BareWeight: 24500 * g,
		Wheelbase: 1000 * mm, RiderAhead: 400 * mm, BareFrontShare: 45 * measure.Percent,
		Zones: []catalog.Zone{
			{Code: "front", Rating: 15 * kg, Ahead: 1100 * mm},
			{Code: "rear", Rating: 60 * kg, Ahead: -100 * mm},
			{Code: "belly", Ahead: 500 * mm},
		},
		Combined: []catalog.Combined{{Zones: []string{"front", "rear"}, Rating: 70 * kg}},
	}
}

func dressed(weight measure.Mass) load.Rider {
	return load.Rider{Label: "A", Own: weight, Riding: weight}
}

func item(kind load.Kind, mass measure.Mass, spot load.Spot) load.Item {
	return load.Item{Kind: kind, Mass: mass, Spot: spot}
}

func TestSheetAddsUpToTheGrossRating(t *testing.T) {
	t.Parallel()
	f := longtail()
	rear, front, nowhere := load.ZoneSpot(f, "rear"), load.ZoneSpot(f, "front"), load.ZoneSpot(f, "")
	seat, stand := item(load.Added, 4100*g, rear), item(load.Added, 2400*g, nowhere)
	for _, c := range []struct {
		name                  string
		rider                 load.Rider
		items                 []load.Item
		total, spare, carried measure.Mass
	}{
		// 180 − 24.5 − 82 = 73.5
		{"frame and rider", dressed(82 * kg), nil, 106500 * g, 73500 * g, 0},
		// 180 − 24.5 − (4.1 + 2.4) − 82 = 67
		{"with a seat and a stand", dressed(82 * kg), []load.Item{seat, stand}, 113 * kg, 67 * kg, 0},
		// 67 − (15.2 + 1.0) − 12 = 38.8; carried 16.2 + 12 = 28.2
		{"with a child and shopping", dressed(82 * kg),
			[]load.Item{seat, stand, item(load.Passenger, 16200*g, rear), item(load.Cargo, 12*kg, front)}, 141200 * g, 38800 * g, 28200 * g},
		// The one-leg stand of 0.7 kg came with the frame and comes off:
		// 180 − (24.5 − 0.7) − 2.4 − 82 = 71.8
		{"with a stand in place of the delivered one", dressed(82 * kg),
			[]load.Item{item(load.TakenOff, 700*g, nowhere), stand}, 108200 * g, 71800 * g, 0},
		// What came with the frame and stays is in its 24.5 kg already.
		{"with the delivered stand", dressed(82 * kg), []load.Item{item(load.Delivered, 700*g, nowhere)}, 106500 * g, 73500 * g, 0},
		// 82 kg undressed rides with 86: 180 − 24.5 − 86 = 69.5
		{"under an undressed reading", load.Rider{Own: 82 * kg, Riding: 86 * kg, Estimated: true}, nil, 110500 * g, 69500 * g, 0},
		// 180 − 24.5 − 82 − 8 = 65.5
		{"with a dog", dressed(82 * kg), []load.Item{item(load.Pet, 8*kg, rear)}, 114500 * g, 65500 * g, 8 * kg},
		// 180 − 24.5 − 82 − 73.5 = 0, and one gram more is one gram over.
		{"to the gram", dressed(82 * kg), []load.Item{item(load.Cargo, 73500*g, rear)}, 180 * kg, 0, 73500 * g},
		{"one gram over", dressed(82 * kg), []load.Item{item(load.Cargo, 73501*g, rear)}, 180*kg + 1*g, -1 * g, 73501 * g},
	} {
		t.Run(c.name, func(t *testing.T) {
			s := load.NewSheet(f, c.items, c.rider, eighty)
			if s.Total != c.total || s.Spare() != c.spare || s.Carried != c.carried {
				t.Errorf("total %d, spare %d, carried %d g; want %d, %d, %d", s.Total, s.Spare(), s.Carried, c.total, c.spare, c.carried)
			}
			if s.Bare != 24500*g || s.Rating != 180*kg {
				t.Errorf("bare %v and rating %v are not the frame's", s.Bare, s.Rating)
			}
		})
	}
}

// What is lifted and pushed is the bike: 24.5 + 4.1 + 2.4 − 0.7 = 30.3.
func TestHandlingMassIsTheBikeAlone(t *testing.T) {
	t.Parallel()
	f := longtail()
	rear, nowhere := load.ZoneSpot(f, "rear"), load.ZoneSpot(f, "")
	s := load.NewSheet(f, []load.Item{
		item(load.Added, 4100*g, rear), item(load.Added, 2400*g, nowhere), item(load.TakenOff, 700*g, nowhere),
		item(load.Passenger, 16200*g, rear), item(load.Pet, 5*kg, rear), item(load.Cargo, 12*kg, rear),
	}, load.Rider{Own: 82 * kg, Riding: 88 * kg}, eighty)
	if got := s.HandlingMass(); got != 30300*g {
		t.Errorf("handling mass %d g, want 30300", got)
	}
}

// The guideline is 80 % of the rider's own weight, without any allowance, and
// the bike does not count: 0.8 × 82 = 65.6.
func TestCarryGuideline(t *testing.T) {
	t.Parallel()
	f := longtail()
	rear := load.ZoneSpot(f, "rear")
	for _, c := range []struct {
		name            string
		own, riding     measure.Mass
		share           measure.Share
		carried         measure.Mass
		guideline, over measure.Mass
	}{
		{"one gram under", 82 * kg, 82 * kg, eighty, 65599 * g, 65600 * g, -1 * g},
		{"exactly", 82 * kg, 82 * kg, eighty, 65600 * g, 65600 * g, 0},
		{"one gram over", 82 * kg, 82 * kg, eighty, 65601 * g, 65600 * g, 1 * g},
		{"allowances do not count", 82 * kg, 88 * kg, eighty, 65601 * g, 65600 * g, 1 * g},
		// 0.8 × 63.001 = 50.4008: 50400 g are within, 50401 g are not.
		{"between two grams", 63001 * g, 63001 * g, eighty, 50400 * g, 50400 * g, 0},
		{"between two grams, over", 63001 * g, 63001 * g, eighty, 50401 * g, 50400 * g, 1 * g},
		{"of another share", 80 * kg, 80 * kg, 62*measure.Percent + 50, 50 * kg, 50 * kg, 0}, // 62.5 %
	} {
		t.Run(c.name, func(t *testing.T) {
			items := []load.Item{item(load.Added, 9*kg, rear), item(load.Passenger, 10*kg, rear), item(load.Cargo, c.carried-10*kg, rear)}
			s := load.NewSheet(f, items, load.Rider{Own: c.own, Riding: c.riding}, c.share)
			if s.Guideline != c.guideline || s.Carried-s.Guideline != c.over {
				t.Errorf("guideline %d g, over by %d; want %d, %d", s.Guideline, s.Carried-s.Guideline, c.guideline, c.over)
			}
		})
	}
}

// Zones count what is fitted there, delivered parts too, and all that is
// carried there; the rider, the bare frame and parts taken off do not.
func TestZonesAndCombinedZones(t *testing.T) {
	t.Parallel()
	f := longtail()
	front, rear := load.ZoneSpot(f, "front"), load.ZoneSpot(f, "rear")
	s := load.NewSheet(f, []load.Item{
		item(load.Delivered, 1500*g, rear), item(load.TakenOff, 700*g, rear), item(load.Added, 4100*g, rear),
		item(load.Passenger, 16200*g, load.PlaceSpot(f, "rear", &catalog.Place{Ahead: 20 * mm})), item(load.Pet, 8*kg, rear), item(load.Cargo, 9*kg, rear),
		item(load.Added, 2300*g, front), item(load.Cargo, 12*kg, front), item(load.Added, 2400*g, load.ZoneSpot(f, "")),
	}, dressed(82*kg), eighty)
	// Rear 1.5 + 4.1 + 16.2 + 8 + 9 = 38.8; front 2.3 + 12 = 14.3; together 53.1.
	want := []load.ZoneLoad{{Zone: "front", Mass: 14300 * g, Rating: 15 * kg}, {Zone: "rear", Mass: 38800 * g, Rating: 60 * kg}, {Zone: "belly"}}
	if diff := cmp.Diff(want, s.Zones); diff != "" {
		t.Errorf("zones: %s", diff)
	}
	if diff := cmp.Diff([]load.ZoneLoad{{Zone: "front+rear", Mass: 53100 * g, Rating: 70 * kg}}, s.Combined); diff != "" {
		t.Errorf("combined: %s", diff)
	}
}

// A beam on supports a metre apart, loads in kg at mm from the rear support:
//
//	bare 24.5, of which 45 % in front:  11.025 front, 13.475 rear
//	rider 80 at 400:                    32 and 48
//	100 at 250:                         25 and 75
//	10 at −100, overhanging behind:     −1 and 11
//	10 at 1100, overhanging in front:   11 and −1
func TestAxleLoadsAreTheReactionsOfABeam(t *testing.T) {
	t.Parallel()
	f := longtail()
	at := func(x measure.Length) load.Spot { return load.Spot{Zone: 0, Ahead: x} }
	const bareFront, bareRear = 11025 * g, 13475 * g
	for _, c := range []struct {
		name        string
		riding      measure.Mass
		items       []load.Item
		front, rear measure.Mass
	}{
		{"the bare frame", 0, nil, bareFront, bareRear},
		{"a rider", 80 * kg, nil, bareFront + 32*kg, bareRear + 48*kg},
		{"a load between the axles", 0, []load.Item{item(load.Cargo, 100*kg, at(250))}, bareFront + 25*kg, bareRear + 75*kg},
		{"a load over the rear axle", 0, []load.Item{item(load.Cargo, 10*kg, at(0))}, bareFront, bareRear + 10*kg},
		{"a load over the front axle", 0, []load.Item{item(load.Cargo, 10*kg, at(1000))}, bareFront + 10*kg, bareRear},
		{"a load behind the rear axle lifts the front", 0, []load.Item{item(load.Cargo, 10*kg, at(-100))}, bareFront - 1*kg, bareRear + 11*kg},
		{"a load ahead of the front axle lifts the rear", 0, []load.Item{item(load.Cargo, 10*kg, at(1100))}, bareFront + 11*kg, bareRear - 1*kg},
		{"a delivered part is in the bare weight", 0, []load.Item{item(load.Delivered, 2*kg, at(500))}, bareFront, bareRear},
		{"a part taken off leaves both axles", 0, []load.Item{item(load.TakenOff, 2*kg, at(500))}, bareFront - 1*kg, bareRear - 1*kg},
		{"a stand nobody knows where is on both", 0, []load.Item{item(load.Added, 2*kg, load.Spot{Zone: load.Nowhere})}, bareFront + 2*kg, bareRear + 2*kg},
		// 1 g at 499 puts 0.499 g in front, 1 g at 500 just half a gram.
		{"to the nearest gram, down", 0, []load.Item{item(load.Cargo, 1*g, at(499))}, bareFront, bareRear + 1*g},
		{"to the nearest gram, up", 0, []load.Item{item(load.Cargo, 1*g, at(500))}, bareFront + 1*g, bareRear},
	} {
		t.Run(c.name, func(t *testing.T) {
			s := load.NewSheet(f, c.items, dressed(c.riding), eighty)
			if !s.Axles || s.Front != c.front || s.Rear != c.rear {
				t.Errorf("axles %v: front %d, rear %d g; want %d, %d", s.Axles, s.Front, s.Rear, c.front, c.rear)
			}
		})
	}
}

// 20 kg with a ten-thousandth in front is 2 g there; 27 g at −100 lift 2.7 g
// off, which leaves −0.7.
func TestAxleLoadsBelowNothing(t *testing.T) {
	t.Parallel()
	f := longtail()
	f.BareWeight, f.BareFrontShare = 20*kg, 1
	s := load.NewSheet(f, []load.Item{item(load.Cargo, 27*g, load.ZoneSpot(f, "rear"))}, dressed(0), eighty)
	if s.Front != -1*g || s.Rear != 20*kg+28*g {
		t.Errorf("front %d, rear %d g; want −1 and 20028", s.Front, s.Rear)
	}
}

func TestAxlesNeedTheWholeGeometry(t *testing.T) {
	t.Parallel()
	for name, forget := range map[string]func(f *catalog.Frame){
		"wheelbase": func(f *catalog.Frame) { f.Wheelbase = 0 },
		"rider":     func(f *catalog.Frame) { f.RiderAhead = 0 },
		"share":     func(f *catalog.Frame) { f.BareFrontShare = 0 },
	} {
		f := longtail()
		forget(f)
		if s := load.NewSheet(f, nil, dressed(80*kg), eighty); s.Axles || s.Front != 0 || s.Rear != 0 {
			t.Errorf("without the %s the axles show %v and %v", name, s.Front, s.Rear)
		}
	}
}

// Both axles together bear all that has a place, whatever it is; and each of
// them whole what nobody knows where it is. Where that came off, it relieves
// neither.
func TestAxlesBearEverythingBetweenThem(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(t *rapid.T) {
		f, items := drawLoaded(t)
		r := dressed(measure.Mass(rapid.IntRange(30_000, 150_000).Draw(t, "rider")))
		s := load.NewSheet(f, items, r, eighty)
		twice, off := measure.Mass(0), measure.Mass(0)
		for _, i := range items {
			if i.Spot == (load.Spot{Zone: load.Nowhere}) {
				twice += map[load.Kind]measure.Mass{load.Added: i.Mass}[i.Kind]
				off += map[load.Kind]measure.Mass{load.TakenOff: i.Mass}[i.Kind]
			}
		}
		if s.Front+s.Rear != s.Total+twice+off || s.Unplaced != twice {
			t.Fatalf("front %d + rear %d is not total %d and %d more, %d unplaced", s.Front, s.Rear, s.Total, twice+off, s.Unplaced)
		}
	})
}

// drawLoaded draws a frame with its axles and what is on it; only stands have
// no zone.
func drawLoaded(t *rapid.T) (*catalog.Frame, []load.Item) {
	f := longtail()
	for i := range f.Zones {
		f.Zones[i].Ahead = measure.Length(rapid.IntRange(-400, 1400).Draw(t, "ahead"))
		f.Zones[i].Rating = measure.Mass(rapid.IntRange(0, 40_000).Draw(t, "rating"))
	}
	f.FrontAxleRating = measure.Mass(rapid.IntRange(0, 60_000).Draw(t, "front axle"))
	f.RearAxleRating = measure.Mass(rapid.IntRange(0, 120_000).Draw(t, "rear axle"))
	var items []load.Item
	for range rapid.IntRange(0, 6).Draw(t, "items") {
		kind := rapid.SampledFrom([]load.Kind{load.Added, load.Delivered, load.TakenOff, load.Passenger, load.Pet, load.Cargo}).Draw(t, "kind")
		zone := rapid.SampledFrom([]string{"front", "rear", "belly"}).Draw(t, "zone")
		if kind != load.Passenger && kind != load.Pet && kind != load.Cargo && rapid.Bool().Draw(t, "stand") {
			zone = ""
		}
		spot := load.ZoneSpot(f, zone)
		if zone == "" && rapid.Bool().Draw(t, "stated") {
			spot.Ahead = measure.Length(rapid.SampledFrom([]int{-300, 150, 600}).Draw(t, "where"))
		}
		items = append(items, item(kind, measure.Mass(rapid.IntRange(1, 30_000).Draw(t, "mass")), spot))
	}
	return f, items
}
