package ride

import (
	"math"
	"slices"
	"strconv"
	"strings"

	"kinwain/internal/catalog"
	"kinwain/internal/measure"
)

// Wheel is a tyre on its rim, by the two figures of its ISO 5775 designation.
type Wheel struct {
	Width measure.Length // of the tyre, nominal
	Bead  measure.Length // diameter of the bead seat
}

// WheelOf reads a designation such as 50-406. It is false where the text is
// none.
func WheelOf(tyre string) (Wheel, bool) {
	bead := catalog.BeadSeat(tyre)
	width, _, _ := strings.Cut(tyre, "-")
	n, err := strconv.Atoi(width)
	if bead == 0 || err != nil || n == 0 {
		return Wheel{}, false
	}
	return Wheel{measure.Length(n), bead}, true
}

// Circumference returns how far the wheel rolls in one turn, to the nearest
// millimetre: π × (bead seat + 2 × width). A tyre is taken to be as high as it
// is wide and not to sink under load (common practice, no published source);
// tables for cycle computers lie within 4 % of it.
func (w Wheel) Circumference() measure.Length {
	return measure.Length(math.Round(math.Pi * float64(w.Bead+2*w.Width)))
}

// Gear is one chainring with one sprocket, by their teeth.
type Gear struct{ Chainring, Sprocket int }

// Gears are the two ends of what the frame's gears cover, and the wheel that
// they drive.
type Gears struct {
	Lowest, Highest Gear
	Wheel           Wheel
}

// GearsOf returns the gears of a frame. It is false where the maker does not
// state the chainrings, the sprockets or the rear tyre; hub gears, which have
// no sprockets to count, are such a case.
func GearsOf(f *catalog.Frame) (Gears, bool) {
	wheel, ok := WheelOf(f.RearTyre)
	if !ok || len(f.Chainrings) == 0 || len(f.Sprockets) == 0 {
		return Gears{}, false
	}
	g := Gears{
		Lowest:  Gear{slices.Min(f.Chainrings), slices.Max(f.Sprockets)},
		Highest: Gear{slices.Max(f.Chainrings), slices.Min(f.Sprockets)},
		Wheel:   wheel,
	}
	return g, g.Lowest.Sprocket > 0 && g.Highest.Sprocket > 0
}

// Development returns how far one turn of the cranks goes in a gear, to the
// nearest millimetre.
func (g Gears) Development(in Gear) measure.Length {
	rolled := g.Wheel.Circumference() * measure.Length(in.Chainring)
	half := measure.Length(in.Sprocket) / 2
	return (rolled + half) / measure.Length(in.Sprocket)
}

// Single reports whether there is one gear only.
func (g Gears) Single() bool { return g.Lowest == g.Highest }

// Range returns the highest gear over the lowest: 300 % is three times.
func (g Gears) Range() measure.Share {
	high, low := g.Highest, g.Lowest
	return measure.Share(int64(measure.Whole) * int64(high.Chainring*low.Sprocket) / int64(high.Sprocket*low.Chainring))
}
