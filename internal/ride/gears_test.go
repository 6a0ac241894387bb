package ride_test

import (
	"math"
	"testing"

	"pgregory.net/rapid"

	"kinwain/internal/catalog"
	"kinwain/internal/measure"
	"kinwain/internal/ride"
)

// Circumferences from the tables that come with cycle computers (from memory;
// two makers' tables differ by up to 2 % for the same tyre), and 57-559 by the
// same formula on paper: π × (559 + 2 × 57) = 2114.
func TestCircumference(t *testing.T) {
	t.Parallel()
	for tyre, want := range map[string]float64{
		"23-622": 2096, "28-622": 2136, "32-622": 2155, "37-622": 2205, "40-622": 2224, "47-559": 2045, "50-559": 2055, "57-559": 2114, "47-406": 1520,
	} {
		wheel, ok := ride.WheelOf(tyre)
		if got := float64(wheel.Circumference()); !ok || math.Abs(got/want-1) > 0.04 {
			t.Errorf("%s: %.0f mm, a table says %.0f", tyre, got, want)
		}
	}
}

func TestWheelOf(t *testing.T) {
	t.Parallel()
	for tyre, want := range map[string]ride.Wheel{"50-406": {Width: 50, Bead: 406}, "": {}, "26 x 2.0": {}, "00-406": {}, "50-406-1": {}} {
		if got, ok := ride.WheelOf(tyre); got != want || ok != (want != ride.Wheel{}) {
			t.Errorf("%q: %v, %v", tyre, got, ok)
		}
	}
}

func bike(change func(*catalog.Frame)) *catalog.Frame {
	f := &catalog.Frame{Type: "longtail", FrontTyre: "50-406", RearTyre: "50-406", Chainrings: []int{40}, Sprockets: []int{11, 13, 15, 18, 21, 24, 28, 34}}
	if change != nil {
		change(f)
	}
	return f
}

// TestDevelopment holds gears to the rules of racing for juniors: 52 × 14 on a
// road tyre stays within 7.93 m a turn of the cranks and 52 × 13 does not (UCI
// regulation 2.2.023, from memory). The others are worked on paper: 50-406
// rolls π × 506 = 1590 mm; × 40 / 34 is 1871 mm, × 40 / 11 is 5782 mm, and 34
// over 11 is a range of 309 %.
func TestDevelopment(t *testing.T) {
	t.Parallel()
	g, ok := ride.GearsOf(bike(func(f *catalog.Frame) { f.RearTyre, f.Chainrings, f.Sprockets = "25-622", []int{52}, []int{13, 14} }))
	if low, high := g.Development(g.Lowest), g.Development(g.Highest); !ok || low > 7930 || high <= 7930 {
		t.Errorf("52 × 14 goes %v, 52 × 13 goes %v", low, high)
	}
	g, ok = ride.GearsOf(bike(nil))
	if low, high := g.Development(g.Lowest), g.Development(g.Highest); !ok || low != 1871 || high != 5782 || g.Range() != 30909 {
		t.Errorf("from %d to %d mm, a range of %d", low, high, g.Range())
	}
	g, _ = ride.GearsOf(bike(func(f *catalog.Frame) { f.Chainrings = []int{44, 22, 32} }))
	if g.Lowest != (ride.Gear{Chainring: 22, Sprocket: 34}) || g.Highest != (ride.Gear{Chainring: 44, Sprocket: 11}) || g.Single() {
		t.Errorf("from %v to %v", g.Lowest, g.Highest)
	}
}

// TestGearsNotStated holds that what the maker leaves out is not zero.
func TestGearsNotStated(t *testing.T) {
	t.Parallel()
	for name, change := range map[string]func(*catalog.Frame){
		"chainring": func(f *catalog.Frame) { f.Chainrings = nil },
		"sprockets": func(f *catalog.Frame) { f.Sprockets = []int{} },
		"rear tyre": func(f *catalog.Frame) { f.RearTyre = "" },
	} {
		f := bike(change)
		if g, ok := ride.GearsOf(f); ok {
			t.Errorf("without a %s: %v", name, g)
		}
		c := ride.ClimbOf(f, 120*measure.Kilogram, effort, hill(5_00))
		if c.Speed <= 0 || c.Cadence != 0 || c.Outcome != ride.GearUnknown {
			t.Errorf("without a %s: %+v", name, c)
		}
	}
}

// TestGearLaws holds that a larger sprocket is easier, a larger chainring and
// a larger wheel go further.
func TestGearLaws(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(t *rapid.T) {
		wheel := ride.Wheel{Width: measure.Length(rapid.IntRange(20, 60).Draw(t, "width")), Bead: measure.Length(rapid.IntRange(203, 622).Draw(t, "bead"))}
		gear := ride.Gear{Chainring: rapid.IntRange(20, 60).Draw(t, "chainring"), Sprocket: rapid.IntRange(10, 50).Draw(t, "sprocket")}
		at := func(w ride.Wheel, g ride.Gear) measure.Length { return ride.Gears{Wheel: w}.Development(g) }
		here := at(wheel, gear)
		if at(wheel, ride.Gear{Chainring: gear.Chainring, Sprocket: gear.Sprocket + 1}) >= here || at(wheel, ride.Gear{Chainring: gear.Chainring + 1, Sprocket: gear.Sprocket}) <= here {
			t.Fatal("teeth count the wrong way")
		}
		wheel.Bead += 10
		if at(wheel, gear) <= here {
			t.Fatal("a larger wheel goes no further")
		}
	})
}

func TestSaddle(t *testing.T) {
	t.Parallel()
	// 0.883 × 82 cm = 72.4 cm; 0.883 × 75.5 = 66.67.
	if got := [2]measure.Length{ride.Saddle(820), ride.Saddle(755)}; got != [2]measure.Length{724, 667} {
		t.Errorf("the saddle starts at %v", got)
	}
}
