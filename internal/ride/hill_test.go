package ride_test

import (
	"math"
	"testing"

	"kinwain/internal/catalog"
	"kinwain/internal/measure"
	"kinwain/internal/ride"
)

// By hand, after Martin et al. (1998) at an even speed and without wind:
//
//	P × 0.976 = v × (m × 9.80665 × (sin a + 0.010 × cos a) + 0.5 × 1.225 × 0.63 × v²)
//
// 140 kg on 7 %: 1372.93 N × 0.079804 = 109.57 N; at 1.25 m/s the air adds
// 0.60, so 110.17 × 1.25 ÷ 0.976 = 141.1 W.
//
// 180 kg on 12 %: 1765.20 N × 0.129074 = 227.84 N; at 0.8 m/s the air adds
// 0.25, so 228.09 × 0.8 ÷ 0.976 = 186.96 W.
//
// 110 kg on 3 %: 1078.73 N × 0.039982 = 43.13 N; at 3 m/s the air adds 3.47,
// so 46.60 × 3 ÷ 0.976 = 143.2 W.
func TestHillSpeedByHand(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		mass   measure.Mass
		slope  measure.Percentage
		effort ride.Watts
		want   float64 // metres a second
	}{{140, 7_00, 141.1, 1.25}, {180, 12_00, 186.96, 0.8}, {110, 3_00, 143.2, 3}} {
		v, turned := ride.HillSpeed(&catalog.Frame{}, c.mass*measure.Kilogram, c.slope, c.effort, 50)
		if math.Abs(float64(v)-c.want) > 0.001*c.want || !turned {
			t.Errorf("%d kg on %v with %v W: %.4f m/s, want %v", c.mass, c.slope, c.effort, v, c.want)
		}
	}
}

// A gear that goes 3.14 m a turn is at 50 turns a minute at 2.6 m/s. With an
// effort for 1.25 m/s only, it stands; a motor of 100 W pushes it against the
// 109.6 N of the hill while the legs give 141.1 W ÷ 2.618 m/s = 53.9 N:
// 100 × 0.976 ÷ (110.2 − 52.6) = 1.69 m/s.
func TestATallGearStands(t *testing.T) {
	t.Parallel()
	f := &catalog.Frame{RearTyre: "50-900", Chainrings: []int{22}, Sprockets: []int{22}} // π × 1000 mm
	v, turned := ride.HillSpeed(f, 140*measure.Kilogram, 7_00, 141.1, 50)
	if v > 0.001 || turned {
		t.Errorf("%.4f m/s, turned %v", v, turned)
	}
	f.AssistWatts = 100
	if v, turned = ride.HillSpeed(f, 140*measure.Kilogram, 7_00, 141.1, 50); math.Abs(float64(v)-1.69) > 0.02 || turned {
		t.Errorf("%.4f m/s with a motor, turned %v", v, turned)
	}
	f.Sprockets, f.AssistWatts = []int{22, 48}, 0 // 1.44 m a turn: 52 turns at 1.25 m/s
	if v, turned = ride.HillSpeed(f, 140*measure.Kilogram, 7_00, 141.1, 50); math.Abs(float64(v)-1.25) > 0.002 || !turned {
		t.Errorf("%.4f m/s in a low gear, turned %v", v, turned)
	}
}

func TestEffortOfARider(t *testing.T) {
	t.Parallel()
	for own, want := range map[measure.Mass]ride.Watts{30: 60, 45: 81, 80: 144, 100: 180, 138: 248.4, 150: 250} {
		if got := ride.EffortOf(own*measure.Kilogram, 1800); math.Abs(float64(got-want)) > 1e-9 {
			t.Errorf("%d kg keep up %v W, want %v", own, got, want)
		}
	}
}
