package ride_test

import (
	"math"
	"testing"

	"pgregory.net/rapid"

	"kinwain/internal/catalog"
	"kinwain/internal/measure"
	"kinwain/internal/ride"
)

// effort is what the riders of these examples keep up.
const effort ride.Watts = 150

// hill is a hill of a slope, judged at a pace of 5 km/h and 50 turns a minute.
func hill(slope measure.Percentage) ride.Hill {
	return ride.Hill{Slope: slope, Slow: ride.PerHour(5000), Turns: 50}
}

// martin is the whole model of Martin et al., J. Appl. Biomech. 14 (1998)
// 276–291: the power at the cranks, in watts.
type martin struct {
	mass, grade, crr, cda, spokes, air float64 // kg, rise over run, -, m², m², kg/m³
	ground, wind, windFrom, heading    float64 // m/s, m/s, degrees, degrees
	first, last, seconds, spin         float64 // m/s, m/s, s, kg
	bearings                           bool
}

func (m martin) power() float64 {
	off := (m.windFrom - m.heading) * math.Pi / 180
	air := m.ground + m.wind*math.Cos(off)
	p := air * air * m.ground * m.air * (m.cda + m.spokes) / 2
	p += m.ground * m.crr * m.mass * 9.80665 * math.Cos(math.Atan(m.grade))
	p += m.ground * m.mass * 9.80665 * math.Sin(math.Atan(m.grade))
	if m.bearings {
		p += m.ground * (91 + 8.7*m.ground) / 1000
	}
	if m.seconds > 0 {
		p += (m.mass + m.spin) * (m.last*m.last - m.first*m.first) / 2 / m.seconds
	}
	return p / 0.976
}

// TestTheModelItself holds the model above to the worked example of its
// paper (its outcome from memory: 213.3 W), so that it is fit to check ours.
// The spin of the wheels is their inertia of 0.14 kg m² over the radius of
// 0.311 m squared.
func TestTheModelItself(t *testing.T) {
	t.Parallel()
	example := martin{mass: 90, grade: 0.003, crr: 0.0032, cda: 0.2565, spokes: 0.0044, air: 1.2234, ground: 471.8 / 56.42, wind: 2.94, windFrom: 310, heading: 340,
		first: 8.28, last: 8.45, seconds: 56.42, spin: 0.14 / (0.311 * 0.311), bearings: true}
	if got := example.power(); math.Abs(got-213.3) > 0.5 {
		t.Errorf("the paper's rider needs %.1f W", got)
	}
}

// TestClimbAgreesWithTheModel takes the speed that we name and asks the whole
// model, with the same tyres and the same rider in the same air, what power
// that takes.
func TestClimbAgreesWithTheModel(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		mass  measure.Mass
		slope measure.Percentage
	}{{100_000, 2_00}, {140_000, 4_00}, {180_000, 7_00}, {230_000, 10_00}, {120_000, 12_00}} {
		got := ride.ClimbOf(bike(nil), c.mass, effort, hill(c.slope))
		whole := martin{mass: float64(c.mass) / 1000, grade: float64(c.slope) / 1e4, crr: 0.010, cda: 0.63, spokes: 0.0044, air: 1.225, ground: float64(got.Speed), bearings: true}
		if p := whole.power(); math.Abs(p/float64(effort)-1) > 0.02 {
			t.Errorf("%v on %v: %.3f m/s, which takes %.1f W", c.mass, c.slope, got.Speed, p)
		}
		whole.ground = float64(hill(0).Slow)
		if p := whole.power(); math.Abs(p/float64(got.Needed)-1) > 0.02 {
			t.Errorf("%v on %v: at a walk %.1f W, the model says %.1f", c.mass, c.slope, got.Needed, p)
		}
	}
}

// TestClimbOnPaper works one hill by hand. 142 kg on 7 %: the slope is 0.07 to
// 1.002447, of sine 0.069829 and cosine 0.997559, so the hill pulls with 142 ×
// 9.80665 × (0.069829 + 0.009976) = 111.13 N. At 5 km/h, 1.3889 m/s, the air
// adds 0.3859 × 1.9290 = 0.74 N: 111.88 × 1.3889 / 0.976 = 159.2 W. With 150 W
// v solves (111.13 + 0.3859 v²) v = 146.4: 1.3096 m/s, 4.7 km/h. One turn in
// 40 × 34 goes 1.871 m: 1.3096 × 60 / 1.871 = 42.0 a minute.
func TestClimbOnPaper(t *testing.T) {
	t.Parallel()
	c := ride.ClimbOf(bike(nil), 142*measure.Kilogram, effort, hill(7_00))
	if math.Abs(float64(c.Speed)-1.3096) > 0.001 || math.Abs(c.Cadence-42.0) > 0.1 || math.Abs(float64(c.Needed)-159.2) > 0.1 || c.Outcome != ride.TooSteep || c.Assist != 0 {
		t.Errorf("%+v", c)
	}
	if got := c.Speed.Show(measure.Metric) + ", " + c.Speed.Show(measure.Imperial) + ", " + c.Needed.Show(); got != "4.7 km/h, 2.9 mph, 160 W" {
		t.Errorf("shown as %s", got)
	}
}

func TestOutcomes(t *testing.T) {
	t.Parallel()
	easy := func(f *catalog.Frame) { f.Chainrings, f.Sprockets = []int{22}, []int{11, 36} }
	one := func(f *catalog.Frame) { f.Sprockets = []int{18} }
	assist := func(f *catalog.Frame) { f.AssistWatts = 250 }
	trike := func(f *catalog.Frame) { f.Type = "tricycle"; easy(f) }
	for name, c := range map[string]struct {
		change func(*catalog.Frame)
		mass   measure.Mass
		slope  measure.Percentage
		want   ride.Outcome
	}{
		"light and gentle": {nil, 100_000, 3_00, ride.Rides}, "one gear": {one, 100_000, 6_00, ride.TooTall}, "heavy and steep": {easy, 200_000, 9_00, ride.TooSteep},
		"helped": {assist, 200_000, 9_00, ride.Rides}, "three wheels": {trike, 190_000, 10_00, ride.TooSteep}, "three wheels, less": {trike, 120_000, 7_00, ride.Rides},
	} {
		if got := ride.ClimbOf(bike(c.change), c.mass, effort, hill(c.slope)); got.Outcome != c.want {
			t.Errorf("%s: %+v, want %s", name, got, c.want)
		}
	}
}

// TestClimbLaws holds that more weight and more slope are slower and ask for
// more, and that an assist never makes it slower nor goes on past its end.
func TestClimbLaws(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(t *rapid.T) {
		mass := measure.Mass(rapid.IntRange(60_000, 300_000).Draw(t, "mass"))
		slope := measure.Percentage(rapid.IntRange(0, 30_00).Draw(t, "slope"))
		watts := rapid.IntRange(0, 500).Draw(t, "assist")
		f := bike(func(f *catalog.Frame) { f.AssistWatts = watts })
		here := ride.ClimbOf(f, mass, effort, hill(slope))
		heavier := ride.ClimbOf(f, mass+measure.Mass(rapid.IntRange(1000, 50_000).Draw(t, "more")), effort, hill(slope))
		steeper := ride.ClimbOf(f, mass, effort, hill(slope+measure.Percentage(rapid.IntRange(50, 10_00).Draw(t, "steeper"))))
		for name, worse := range map[string]ride.Climb{"heavier": heavier, "steeper": steeper} {
			if worse.Speed > here.Speed || worse.Needed < here.Needed || worse.Cadence > here.Cadence {
				t.Fatalf("%s: %+v after %+v", name, worse, here)
			}
			if here.Speed < ride.AssistEnds && worse.Speed >= here.Speed {
				t.Fatalf("%s and no slower: %+v after %+v", name, worse, here)
			}
		}
		alone := ride.ClimbOf(bike(nil), mass, effort, hill(slope))
		if here.Needed < 0 || here.Speed < alone.Speed || here.Needed > alone.Needed || here.Speed > max(alone.Speed, ride.AssistEnds) {
			t.Fatalf("with %d W %+v, alone %+v", watts, here, alone)
		}
	})
}

// TestSpeedsAreShownRoundedDown holds a speed to what it is in both systems, and
// a difference to that of what is shown: 11.56 and 10.52 km/h are 7.18 and 6.54
// mph.
func TestSpeedsAreShownRoundedDown(t *testing.T) {
	t.Parallel()
	fast, slow := ride.Speed(11.56/3.6), ride.Speed(10.52/3.6)
	for _, c := range []struct{ got, want string }{
		{fast.Show(measure.Metric), "11.5 km/h"}, {fast.Show(measure.Imperial), "7.1 mph"}, {fast.ShowOver(slow, measure.Metric), "1.0 km/h"},
		{fast.ShowOver(slow, measure.Imperial), "0.6 mph"}, {ride.PerHour(5000).Show(measure.Metric), "5.0 km/h"}, {ride.ShowRolled(1871, measure.Metric), "1.87 m"},
		{ride.ShowRolled(1871, measure.Imperial), "6.1 ft"}, {ride.ShowRolledOver(2054, 2006, measure.Metric), "0.04 m"}, // 2.05 and 2.01, though 48 mm apart
		{ride.ShowRolledOver(2054, 2006, measure.Imperial), "0.1 ft"}, {ride.Watts(159.2).Show(), "160 W"},
	} {
		if c.got != c.want {
			t.Errorf("%s, want %s", c.got, c.want)
		}
	}
	if got := fast.MetresPerHour(); got != 11_560 && got != 11_559 {
		t.Errorf("%d m an hour", got)
	}
}
