// Package picture draws to scale: from a frame, its build, its loads and the
// home to shapes in millimetres, with what each of them is. It knows no page:
// colours, words and units are given to the shapes where they are shown.
//
// In a picture from the side x runs ahead of the rear axle and y above the
// ground; in a plan both run along the walls. When a picture is done
// its shapes are moved into a sheet that begins at 0, 0.
package picture

import (
	"math"
	"slices"

	"kinwain/internal/measure"
)

// Point is a place on the sheet.
type Point struct{ X, Y measure.Length }

// Kind says what a shape is.
type Kind string

// The kinds of shapes.
const (
	Ground    Kind = "ground"
	Wheel     Kind = "wheel"
	Tube      Kind = "tube"
	Zone      Kind = "zone" // where load sits, of a frame without anything on it too
	AddOn     Kind = "add_on"
	Rider     Kind = "rider"
	Passenger Kind = "passenger"
	Pet       Kind = "pet"
	Cargo     Kind = "cargo"
	AxleLoad  Kind = "axle_load"
	Rating    Kind = "rating"  // the line that an axle load may not pass
	Balance   Kind = "balance" // the centre of mass of everything
	Wall      Kind = "wall"
	Bike      Kind = "bike"  // its outline
	Swept     Kind = "swept" // where its outline passes
	Slack     Kind = "slack"
	Measured  Kind = "measured" // a line along which somebody measures
)

// Shape is one line, outline or circle.
type Shape struct {
	Kind   Kind
	Points []Point // of a line, or of an outline where Closed; the centre of a circle
	Closed bool
	Radius measure.Length // of a circle, else 0
	Of     string         // the code of an add-on or zone, the label of a person, front or rear of an axle, the name of an answer
	Mass   measure.Mass   // that it weighs, or bears
	Limit  measure.Mass   // that it may bear; 0 where it is not stated
	Length measure.Length // of a slack
}

// Assumption names a figure that was not stated and was taken as usual.
type Assumption string

// What may have to be assumed.
const (
	AssumedWheelbase Assumption = "wheelbase"
	AssumedWheels    Assumption = "wheels"
	AssumedRider     Assumption = "rider_place"
	AssumedZones     Assumption = "zones"
	AssumedHeights   Assumption = "zone_heights"
	AssumedStature   Assumption = "stature"
	AssumedBulk      Assumption = "bulk"
	HiddenShares     Assumption = "shares" // of the cargo, of which every one is drawn alike
)

// Picture is a sheet with shapes on it, those in front last.
type Picture struct {
	Width, Height measure.Length
	Shapes        []Shape
	Assumed       []Assumption
}

// Glance returns of a picture from the side what tells one bike from another
// when it is small: not the loads, the balance, the backs of seats, flat
// parts, and zones without a box.
func (p *Picture) Glance() Picture {
	var less Picture
	for _, s := range p.Shapes {
		low, high := s.Bounds()
		flat := high.Y-low.Y <= 4*cm || !s.Closed
		if slices.Contains([]Kind{AxleLoad, Rating, Balance}, s.Kind) || flat && (s.Kind == Zone || s.Kind == AddOn) {
			continue
		}
		s.Points = slices.Clone(s.Points)
		less.add(s)
	}
	less.fit(2 * cm)
	return less
}

// Of returns the shapes of a kind.
func (p *Picture) Of(k Kind) []Shape {
	var list []Shape
	for _, s := range p.Shapes {
		if s.Kind == k {
			list = append(list, s)
		}
	}
	return list
}

// Bounds returns the corners of the least rectangle that holds the shape.
func (s *Shape) Bounds() (low, high Point) {
	low, high = s.Points[0], s.Points[0]
	for _, p := range s.Points {
		low = Point{min(low.X, p.X), min(low.Y, p.Y)}
		high = Point{max(high.X, p.X), max(high.Y, p.Y)}
	}
	return Point{low.X - s.Radius, low.Y - s.Radius}, Point{high.X + s.Radius, high.Y + s.Radius}
}

// fit moves the shapes so that the sheet, with a margin, begins at 0, 0.
func (p *Picture) fit(margin measure.Length) {
	if len(p.Shapes) == 0 {
		return
	}
	low, high := p.Shapes[0].Bounds()
	for i := range p.Shapes {
		a, b := p.Shapes[i].Bounds()
		low = Point{min(low.X, a.X), min(low.Y, a.Y)}
		high = Point{max(high.X, b.X), max(high.Y, b.Y)}
	}
	for i := range p.Shapes {
		for k := range p.Shapes[i].Points {
			at := &p.Shapes[i].Points[k]
			at.X += margin - low.X
			at.Y += margin - low.Y
		}
	}
	p.Width, p.Height = high.X-low.X+2*margin, high.Y-low.Y+2*margin
}

func (p *Picture) add(s Shape) { p.Shapes = append(p.Shapes, s) }

func (p *Picture) line(k Kind, of string, points ...Point) {
	p.add(Shape{Kind: k, Of: of, Points: points})
}

func (p *Picture) circle(k Kind, of string, centre Point, radius measure.Length) {
	p.add(Shape{Kind: k, Of: of, Points: []Point{centre}, Radius: radius})
}

// box is a rectangle by its middle at the bottom.
func box(bottom Point, width, height measure.Length) []Point {
	half := width / 2
	return []Point{{bottom.X - half, bottom.Y}, {bottom.X + width - half, bottom.Y}, {bottom.X + width - half, bottom.Y + height}, {bottom.X - half, bottom.Y + height}}
}

// between returns the point that lies a share of the way from a to b.
func between(a, b Point, share float64) Point {
	return Point{a.X + along(b.X-a.X, share), a.Y + along(b.Y-a.Y, share)}
}

func along(l measure.Length, share float64) measure.Length {
	return measure.Length(math.Round(float64(l) * share))
}

// towards returns the point at a distance from a point, at an angle in radians
// from straight ahead, upwards.
func towards(from Point, distance measure.Length, angle float64) Point {
	return Point{from.X + along(distance, math.Cos(angle)), from.Y + along(distance, math.Sin(angle))}
}

const degree = math.Pi / 180
