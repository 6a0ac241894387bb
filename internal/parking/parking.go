// Package parking answers whether a bike reaches its place at home and fits
// there, and by how much.
//
// It is plane geometry on boxes. A bike is a box while it stands on its wheels
// and, where it can, another box while it stands on end. A home is a space to
// park in and a way to that space: doorways, right-angled corridor corners and
// at most one lift.
//
// Slack measures every answer in the same way. It is the length by which all
// stated dimensions of one obstacle could shrink at once before the bike
// touches it: exact where the bike keeps square to the walls, otherwise
// rounded down to the whole millimetre. Negative slack is what is missing, so
// a bike that fills its space to the millimetre fits with a slack of 0, and
// one that is a millimetre too long has a slack of -1.
//
// Lengths are millimetres. A length of 0 or less in a home is not stated and
// limits nothing. Answers hold for lengths up to a kilometre.
package parking

import "kinwain/internal/measure"

// Box is the outline of a bike in one pose, or the inside of a space.
type Box struct {
	Length, Width, Height measure.Length
}

// Doorway is an opening that the bike goes straight through.
type Doorway struct {
	Width, Height measure.Length
}

// Corner is a right-angled bend between two straight corridors, given by
// their clear widths before and after it. It has no ceiling of its own.
type Corner struct {
	In, Out measure.Length
}

// Lift is a lift car with the clear width of its door. Height is the lower of
// car and door.
type Lift struct {
	Length, Width, Height, Door measure.Length
}

// Home is where the bike will live and all that it passes on the way there.
type Home struct {
	// Space is the inside of the parking space. Its length and width may be
	// given in either order.
	Space Box
	// Clearance is the gap that the customer keeps free in the length and in
	// the width of the space. Slack counts what is left beyond it.
	Clearance measure.Length
	// MustStandUpright says that the bike may be kept on end only.
	MustStandUpright bool
	Doorways         []Doorway
	Corners          []Corner
	// Lift is nil where there is none to take.
	Lift *Lift
}

// How names the pose in which a bike meets one part of a home.
type How string

// The poses, the simplest first.
const (
	Flat    How = "flat"    // on its wheels, along a wall or straight ahead
	Turned  How = "turned"  // on its wheels, at an angle to the walls
	Upright How = "upright" // standing on end, at any angle
)

// comfortable is the slack from which nobody bothers with a less simple pose: 5 cm, a hand's breadth round the handlebar.
const comfortable = 5 * measure.Centimetre

// Fit is the answer for one bike and one home.
type Fit struct {
	// Fits is SpaceFits and WayFits.
	Fits bool
	// How is the pose in the space: the simplest one of Flat, Turned and
	// Upright that leaves at least 5 cm, or else the one that leaves most.
	How How
	// Constrained reports whether any stated length of the home limits the
	// bike. If none does, Slack is 0 and Tightest is empty.
	Constrained bool
	// Tightest names the part with the least slack, as Part does; among equals
	// the first one on the way home.
	Tightest string
	// Slack is the slack of the tightest part, in whole millimetres rounded
	// down. Fits is true exactly where Slack >= 0 and not NeedsUpright.
	Slack measure.Length
	// SpaceFits reports whether the bike fits in the space once it is there.
	SpaceFits bool
	// WayFits reports whether the bike passes every part of the way.
	WayFits bool
	// OnTail names the first part of the way that the bike goes through on end,
	// as Part does, because on its wheels there is too little room; it is empty
	// where there is none.
	OnTail string `json:",omitzero"`
	// NeedsUpright reports that the bike must be kept on end and cannot be.
	// Nothing is then measured in the space: Slack, Tightest and Constrained
	// speak of the way alone, and SpaceFits is false.
	NeedsUpright bool
}

// Part is how a bike meets one part of a home.
type Part struct {
	// Name is "doorways[0]", "corners[0]" and so on by the index in the home,
	// "lift" or "space".
	Name string
	How  How
	// Slack is in whole millimetres, rounded down; negative is missing.
	Slack measure.Length
}
