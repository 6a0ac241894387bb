package picture_test

import (
	"math"
	"math/rand/v2"
	"testing"

	"kinwain/internal/measure"
	"kinwain/internal/parking"
	"kinwain/internal/picture"
)

func randomLength(r *rand.Rand, least, most int64) measure.Length {
	return measure.Length(least + r.Int64N(most-least+1))
}

// TestSpaceLeavesWhatParkingSays draws random rooms: the least slack that is
// drawn is that of the answer, to the millimetre that points are rounded to.
func TestSpaceLeavesWhatParkingSays(t *testing.T) {
	t.Parallel()
	r := rand.New(rand.NewPCG(3, 5))
	turned := 0
	for range 5000 {
		b := parking.Bike{Flat: parking.Box{Length: randomLength(r, 1500, 2600), Width: randomLength(r, 500, 900), Height: 1100},
			Upright: parking.Box{Length: randomLength(r, 500, 900), Width: randomLength(r, 500, 900), Height: 1900}}
		h := parking.Home{Space: parking.Box{Length: randomLength(r, 500, 3000), Width: randomLength(r, 500, 3000)}, Clearance: randomLength(r, 0, 200)}
		fit := parking.Check(b, h)
		if fit.How == parking.Turned {
			turned++
		}
		least := measure.Length(math.MaxInt32)
		pic := picture.Space(b, h, fit.How)
		for _, s := range pic.Of(picture.Slack) {
			least = min(least, s.Length)
		}
		if d := least - fit.Slack; d < -3 || d > 3 {
			t.Fatalf("%+v in %+v stands %s: drawn with %v to spare, judged with %v", b, h, fit.How, least, fit.Slack)
		}
		for i := range pic.Shapes {
			low, high := pic.Shapes[i].Bounds()
			if low.X < 0 || low.Y < 0 || high.X > pic.Width || high.Y > pic.Height {
				t.Fatalf("%+v off the sheet", pic.Shapes[i])
			}
		}
	}
	if turned < 30 {
		t.Errorf("only %d at an angle", turned)
	}
}

// TestWorstTurnIsThatOfParking holds the angle against the judgement of random
// corners.
func TestWorstTurnIsThatOfParking(t *testing.T) {
	t.Parallel()
	r := rand.New(rand.NewPCG(8, 13))
	for range 5000 {
		outline := parking.Box{Length: randomLength(r, 800, 2600), Width: randomLength(r, 300, 900), Height: 1100}
		c := parking.Corner{In: randomLength(r, 500, 2500), Out: randomLength(r, 500, 2500)}
		_, left := picture.WorstTurn(outline, c.In, c.Out)
		fit := parking.Check(parking.Bike{Flat: outline}, parking.Home{Corners: []parking.Corner{c}})
		if d := left - fit.Slack; d < -1 || d > 1 {
			t.Fatalf("%+v round %+v: %v to spare, judged %v", outline, c, left, fit.Slack)
		}
	}
}

// TestLadderRoundACorner holds the sweep of a bike without width against the
// longest ladder that goes round a corner, (a^⅔ + b^⅔)^1.5, as books of
// calculus work it out (from memory): of that length nothing is to spare.
func TestLadderRoundACorner(t *testing.T) {
	t.Parallel()
	for _, c := range [][2]measure.Length{{1000, 1000}, {800, 1300}, {1500, 700}, {900, 2000}, {640, 640}} {
		longest := math.Pow(math.Pow(float64(c[0]), 2.0/3)+math.Pow(float64(c[1]), 2.0/3), 1.5)
		for _, off := range []float64{-20, 0, 20} {
			angle, left := picture.WorstTurn(parking.Box{Length: measure.Length(math.Round(longest + off))}, c[0], c[1])
			if off < 0 && left <= 0 || off == 0 && (left < -1 || left > 1) || off > 0 && left >= 0 {
				t.Errorf("%v: a ladder of %.0f and %+.0f has %v to spare", c, longest, off, left)
			}
			if want := math.Atan(math.Cbrt(float64(c[0]) / float64(c[1]))); off == 0 && math.Abs(angle-want) > 0.02 {
				t.Errorf("%v: worst at %.3f, want %.3f", c, angle, want)
			}
		}
	}
}
