// Package measure holds the quantities of the trade as exact integers, and
// reads and shows them in the units that people use.
//
// Every quantity is a type of its own, so that a sum of masses is exact, an
// edge is an edge and a gram is never added to a millimetre. Documents write
// kilograms, centimetres and litres with decimals, read to the nearest gram,
// millimetre and millilitre.
package measure

// Mass is a mass in grams.
type Mass int64

// Length is a length in millimetres.
type Length int64

// Volume is a volume in millilitres.
type Volume int64

// Money is an amount in cents of the shop's currency.
type Money int64

// Share is a part of a whole in ten-thousandths: 8000 is 80 %, or 0.8.
type Share int64

// The units in which the quantities are counted.
const (
	Gram       Mass   = 1
	Kilogram   Mass   = 1000
	Millimetre Length = 1
	Centimetre Length = 10
	Metre      Length = 1000
	Millilitre Volume = 1
	Litre      Volume = 1000
	Cent       Money  = 1
	Percent    Share  = 100
	Whole      Share  = 10000
)

// System is the system of units in which a person enters and reads figures.
type System uint8

// The two systems.
const (
	Metric System = iota
	Imperial
)
