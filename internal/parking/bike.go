package parking

import "kinwain/internal/measure"

// Bike is the outline of a bike with everything that is fitted to it. A length
// of 0 takes up no room.
type Bike struct {
	// Flat is the bike on its wheels.
	Flat Box
	// Upright is the bike on end. It is the zero Box where the frame cannot
	// stand so, or where an add-on prevents it.
	Upright Box
}

// CanStand reports whether the bike can stand upright. All three dimensions of
// that pose must be stated: an unknown one would let the bike pass everywhere.
func (b Bike) CanStand() bool {
	return b.Upright.Length > 0 && b.Upright.Width > 0 && b.Upright.Height > 0
}

// Grown returns the frame with its add-ons fitted.
//
// The length grows by the overhang in front and the overhang behind. width and
// height are the greatest overall width and height of any add-on; the frame's
// own stay where they are greater. On end, the bike stands on its rear: its
// height grows by both overhangs, since what sticks out behind is then under
// it, and its length, which is its depth from the wheels to the handlebar, by
// what height is more than the frame's own. With blocksUpright the bike can no
// longer stand. Negative figures count as 0.
func Grown(frame Bike, overhangFront, overhangRear, width, height measure.Length, blocksUpright bool) Bike {
	front, rear := max(overhangFront, 0), max(overhangRear, 0)
	grown := Bike{Flat: Box{
		Length: frame.Flat.Length + front + rear,
		Width:  max(frame.Flat.Width, width),
		Height: max(frame.Flat.Height, height),
	}}
	if frame.CanStand() && !blocksUpright {
		grown.Upright = Box{
			Length: frame.Upright.Length + grown.Flat.Height - frame.Flat.Height,
			Width:  max(frame.Upright.Width, width),
			Height: frame.Upright.Height + front + rear,
		}
	}
	return grown
}
