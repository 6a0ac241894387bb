package desk

import (
	"kinwain/web/kit"
)

// Riding is how a build rides: a starting point for every figure.
type Riding struct {
	Hides         bool // what riders weigh, and the figures that tell it
	Gears, Brakes string
	Hill          string // what the climbs are worked out with, or why there are none
	Pace          string // the speed for which Needed is
	Climbs        []Climb
	Saddles       []kit.Amount // one a rider whose inseam is known
	Tyres         []Tyre
	// What the saddles and the tyres rest on.
	SaddleGround, TyreGround string
	TyresFor                 string // the rider under whom they are loaded
	Ballast                  []Ballast
	Ground                   string // what it rests on
}

// Climb is how the build takes the hill under one rider.
type Climb struct {
	Rider, Effort, Speed, Cadence, Needed, Words string
	Hard                                         bool
}

// Tyre is one wheel, its load and the pressure to start from.
type Tyre struct{ Wheel, Size, Load, Start string }

// Ballast is what to load in one zone for a test ride.
type Ballast struct{ Zone, Half, HalfBottles, Full, FullBottles string }
