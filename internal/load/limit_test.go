// Ratings as linear limits: which there are, what they leave, who takes up how
// much, and that they say the same as the load sheet.
package load_test

import (
	"math/big"
	"testing"

	"github.com/google/go-cmp/cmp"
	"pgregory.net/rapid"

	"kinwain/internal/catalog"
	"kinwain/internal/load"
	"kinwain/internal/measure"
)

type named struct {
	Rule   load.Rule
	Name   string
	Rating measure.Mass
}

func names(limits []load.Limit) []named {
	var list []named
	for _, l := range limits {
		list = append(list, named{l.Rule, l.Name, l.Rating})
	}
	return list
}

func limit(t *testing.T, limits []load.Limit, rule load.Rule, name string) *load.Limit {
	t.Helper()
	for i := range limits {
		if limits[i].Rule == rule && limits[i].Name == name {
			return &limits[i]
		}
	}
	t.Fatalf("no limit %s %q", rule, name)
	return nil
}

func TestLimitsAreTheStatedRatings(t *testing.T) {
	t.Parallel()
	all := longtail()
	all.FrontAxleRating, all.RearAxleRating = 60*kg, 110*kg
	blind := longtail()
	blind.FrontAxleRating, blind.RearAxleRating, blind.Wheelbase = 60*kg, 110*kg, 0
	bare := longtail()
	bare.Combined, bare.Zones = nil, []catalog.Zone{{Code: "rear"}}
	gross := named{load.Gross, "", 180 * kg}
	zones := []named{{load.InZone, "front", 15 * kg}, {load.InZone, "rear", 60 * kg}, {load.Combined, "front+rear", 70 * kg}}
	for _, c := range []struct {
		name  string
		frame *catalog.Frame
		want  []named
	}{
		{"zone without a rating and axles without ratings do not bind", longtail(), append([]named{gross}, zones...)},
		{"every rating", all, append(append([]named{gross}, zones...), named{load.Axle, "front", 60 * kg}, named{load.Axle, "rear", 110 * kg})},
		{"axles without geometry do not bind", blind, append([]named{gross}, zones...)},
		{"the gross rating alone", bare, []named{gross}},
	} {
		if diff := cmp.Diff(c.want, names(load.Limits(c.frame, nil, []load.Rider{dressed(80 * kg)}))); diff != "" {
			t.Errorf("%s: %s", c.name, diff)
		}
	}
}

// What the delivered bike and the riders leave: gross 180 − 24.5 − 90 (the
// heaviest) = 65.5; rear 60 − 1.5 (the rack it comes with) = 58.5; front 15;
// together 70 − 1.5 = 68.5.
func TestCapsAreWhatIsLeft(t *testing.T) {
	t.Parallel()
	f := longtail()
	rack, stand := catalog.AddOn{Code: "rack", Weight: 1500 * g, Zone: "rear"}, catalog.AddOn{Code: "stand", Weight: 700 * g}
	limits := load.Limits(f, []catalog.AddOn{rack, stand}, []load.Rider{dressed(70 * kg), dressed(90 * kg), dressed(80 * kg)})
	for _, c := range []struct {
		rule load.Rule
		name string
		want int64
	}{{load.Gross, "", 65500}, {load.InZone, "front", 15000}, {load.InZone, "rear", 58500}, {load.Combined, "front+rear", 68500}} {
		if l := limit(t, limits, c.rule, c.name); l.Cap != c.want {
			t.Errorf("%s %q leaves %d g, want %d", c.rule, c.name, l.Cap, c.want)
		}
	}
}

func TestPerTellsWhoTakesUpALimit(t *testing.T) {
	t.Parallel()
	f := longtail()
	f.FrontAxleRating, f.RearAxleRating = 60*kg, 110*kg
	limits := load.Limits(f, nil, []load.Rider{dressed(80 * kg)})
	front, rear, belly, none := load.ZoneSpot(f, "front"), load.ZoneSpot(f, "rear"), load.ZoneSpot(f, "belly"), load.ZoneSpot(f, "")
	for _, c := range []struct {
		rule                     load.Rule
		name                     string
		front, rear, belly, none int64
	}{
		{load.Gross, "", 1, 1, 1, 1},
		{load.InZone, "front", 1, 0, 0, 0},
		{load.InZone, "rear", 0, 1, 0, 0},
		{load.Combined, "front+rear", 1, 1, 0, 0},
		// In units of 1/10000 mm: arms of 1100, −100 and 500 about the rear
		// axle, and of −100, 1100 and 500 about the front axle.
		// Nobody knows where what is in no zone is: whole.
		{load.Axle, "front", 11_000_000, -1_000_000, 5_000_000, 10_000_000},
		{load.Axle, "rear", -1_000_000, 11_000_000, 5_000_000, 10_000_000},
	} {
		l := limit(t, limits, c.rule, c.name)
		got := [...]int64{l.Per(front), l.Per(rear), l.Per(belly), l.Per(none)}
		if want := [...]int64{c.front, c.rear, c.belly, c.none}; got != want {
			t.Errorf("%s %q: per gram %v, want %v", c.rule, c.name, got, want)
		}
	}
}

func TestOverCountsGrams(t *testing.T) {
	t.Parallel()
	f := longtail()
	f.RearAxleRating = 110 * kg
	limits := load.Limits(f, nil, []load.Rider{dressed(80 * kg)})
	gross, axle := limit(t, limits, load.Gross, ""), limit(t, limits, load.Axle, "rear")
	const gramOnAxle = 10_000 * 1000 // the wheelbase of 1000 mm in 1/10000 mm
	for _, c := range []struct {
		name string
		of   *load.Limit
		past int64 // beyond the cap
		want measure.Mass
	}{
		{"a gram under", gross, -1, -1 * g},
		{"exactly", gross, 0, 0},
		{"a gram over", gross, 1, 1 * g},
		{"many grams over", gross, 12_345, 12_345 * g},
		{"an axle exactly", axle, 0, 0},
		{"an axle over by the least there is", axle, 1, 1 * g},
		{"an axle a gram over", axle, gramOnAxle, 1 * g},
		{"an axle over a gram over", axle, gramOnAxle + 1, 2 * g},
		{"an axle just under", axle, -1, 0},
		{"an axle two grams under", axle, -2 * gramOnAxle, -2 * g},
	} {
		if got := c.of.Over(c.of.Cap + c.past); got != c.want {
			t.Errorf("%s: over by %d g, want %d", c.name, got, c.want)
		}
	}
}

// Rear axle, rider 80 kg at 400 of 1000: bare 13.475 + 48 = 61.475 of 110 kg
// leave 48.525 kg over the rear axle itself, where a gram counts whole.
func TestAxleLimitToTheGram(t *testing.T) {
	t.Parallel()
	f := longtail()
	f.RearAxleRating = 110 * kg
	l := limit(t, load.Limits(f, nil, []load.Rider{dressed(80 * kg)}), load.Axle, "rear")
	over := load.Spot{Zone: 1, Ahead: 0}
	for mass, fits := range map[int64]bool{48_524: true, 48_525: true, 48_526: false} {
		if got := l.Per(over)*mass <= l.Cap; got != fits {
			t.Errorf("%d g over the rear axle: within %v, want %v", mass, got, fits)
		}
	}
}

// The rider who loads an axle most decides it. With the saddle behind the rear
// axle a rider lifts the front, so there the lightest one decides.
func TestAxlesUnderTheWorstRider(t *testing.T) {
	t.Parallel()
	light, heavy := dressed(50*kg), dressed(100*kg)
	for _, c := range []struct {
		name        string
		ahead       measure.Length
		front, rear load.Rider
	}{{"saddle between the axles", 400, heavy, heavy}, {"saddle behind the rear axle", -50, light, heavy}, {"saddle ahead of the front axle", 1050, heavy, light}} {
		f := longtail()
		f.RiderAhead, f.FrontAxleRating, f.RearAxleRating = c.ahead, 90*kg, 120*kg
		all := load.Limits(f, nil, []load.Rider{light, heavy, dressed(70 * kg)})
		for axle, worst := range map[string]load.Rider{"front": c.front, "rear": c.rear} {
			alone := limit(t, load.Limits(f, nil, []load.Rider{worst}), load.Axle, axle)
			if got := limit(t, all, load.Axle, axle); got.Cap != alone.Cap {
				t.Errorf("%s: the %s axle leaves %d, want %d as under the rider of %v", c.name, axle, got.Cap, alone.Cap, worst.Own)
			}
		}
	}
}

func TestSpots(t *testing.T) {
	t.Parallel()
	f := longtail()
	for _, c := range []struct {
		name      string
		got, want load.Spot
	}{
		{"a zone", load.ZoneSpot(f, "rear"), load.Spot{Zone: 1, Ahead: -100}},
		{"no zone", load.ZoneSpot(f, ""), load.Spot{Zone: load.Nowhere}},
		{"a zone that is not there", load.ZoneSpot(f, "tail"), load.Spot{Zone: load.Nowhere}},
		{"a place of its own", load.PlaceSpot(f, "rear", &catalog.Place{Ahead: 20}), load.Spot{Zone: 1, Ahead: 20}},
		{"a place of its own behind", load.PlaceSpot(f, "front", &catalog.Place{Ahead: -20}), load.Spot{Zone: 0, Ahead: -20}},
		{"a place where the zone is", load.PlaceSpot(f, "rear", &catalog.Place{}), load.Spot{Zone: 1, Ahead: -100}},
	} {
		if c.got != c.want {
			t.Errorf("%s: %+v, want %+v", c.name, c.got, c.want)
		}
	}
}

// The limits and the load sheet are two ways to add up the same: a limit is
// exceeded exactly where the sheet shows more than the rating, under the
// worst of the riders.
func TestLimitsAgreeWithTheSheet(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(t *rapid.T) {
		f, items := drawLoaded(t)
		f.RiderAhead = measure.Length(rapid.SampledFrom([]int{-50, 300, 500, 1050}).Draw(t, "saddle"))
		var riders []load.Rider
		for range rapid.IntRange(1, 3).Draw(t, "riders") {
			riders = append(riders, dressed(measure.Mass(rapid.IntRange(30_000, 150_000).Draw(t, "rider"))))
		}
		for _, l := range load.Limits(f, delivered(f, items), riders) {
			over := false
			for _, r := range riders {
				over = over || sheetExceeds(f, items, r, l)
			}
			if got := taken(f, items, l) > l.Cap; got != over {
				t.Fatalf("%s %q: the limit says exceeded %v, the sheets %v", l.Rule, l.Name, got, over)
			}
		}
	})
}

// delivered lists the parts among the items that the maker fits, whether they
// stay or come off.
func delivered(f *catalog.Frame, items []load.Item) []catalog.AddOn {
	var parts []catalog.AddOn
	for _, i := range items {
		if i.Kind == load.Delivered || i.Kind == load.TakenOff {
			zone := ""
			if i.Spot.Zone != load.Nowhere {
				zone = f.Zones[i.Spot.Zone].Code
			}
			parts = append(parts, catalog.AddOn{Weight: i.Mass, Zone: zone})
		}
	}
	return parts
}

// taken sums up what the items put on the delivered bike, or take off it.
func taken(f *catalog.Frame, items []load.Item, l load.Limit) int64 {
	var sum int64
	for _, i := range items {
		switch i.Kind {
		case load.Delivered:
		case load.TakenOff:
			sum -= int64(i.Mass) * l.PerOff(i.Spot)
		default:
			sum += int64(i.Mass) * l.Per(i.Spot)
		}
	}
	return sum
}

func sheetExceeds(f *catalog.Frame, items []load.Item, r load.Rider, l load.Limit) bool {
	s := load.NewSheet(f, items, r, eighty)
	switch l.Rule {
	case load.Gross:
		return s.Spare() < 0
	case load.Axle:
		return frontMoment(f, items, r, l.Name).Cmp(new(big.Rat).SetInt64(int64(l.Rating))) > 0
	}
	for _, z := range append(s.Zones, s.Combined...) {
		if z.Zone == l.Name {
			return z.Mass > z.Rating
		}
	}
	return false
}

// frontMoment returns the exact load on an axle in grams, each mass shared out
// by its lever; whole where nobody knows where it is, unless it came off.
func frontMoment(f *catalog.Frame, items []load.Item, r load.Rider, axle string) *big.Rat {
	wheelbase := int64(f.Wheelbase)
	sum := new(big.Rat).Mul(big.NewRat(int64(f.BareWeight), 1), big.NewRat(int64(f.BareFrontShare), 10_000))
	if axle == load.RearAxle {
		sum.Sub(big.NewRat(int64(f.BareWeight), 1), sum)
	}
	put := func(mass measure.Mass, ahead measure.Length) {
		lever := int64(ahead)
		if axle == load.RearAxle {
			lever = wheelbase - lever
		}
		sum.Add(sum, new(big.Rat).Mul(big.NewRat(int64(mass), 1), big.NewRat(lever, wheelbase)))
	}
	put(r.Riding, f.RiderAhead)
	for _, i := range items {
		switch {
		case i.Kind == load.Delivered:
		case i.Spot == load.Spot{Zone: load.Nowhere}:
			if i.Kind == load.Added {
				sum.Add(sum, big.NewRat(int64(i.Mass), 1))
			}
		case i.Kind == load.TakenOff:
			put(-i.Mass, i.Spot.Ahead)
		default:
			put(i.Mass, i.Spot.Ahead)
		}
	}
	return sum
}
