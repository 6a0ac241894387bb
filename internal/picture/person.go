package picture

import (
	"math"

	"kinwain/internal/measure"
)

// The lengths of a body's parts over its stature: Drillis and Contini, Body
// Segment Parameters, 1966, as handbooks of biomechanics show them (from
// memory).
const (
	thigh  = 0.245
	shank  = 0.246
	trunk  = 0.288 // hip to shoulder
	upper  = 0.332 // shoulder to hand
	head   = 0.182 // shoulder to crown
	radius = head * 0.34
)

// person draws somebody of a stature who sits with the hip at a place: head,
// trunk leaning ahead by an angle from upright, leg to the foot and arm to the
// hand, where there is something to hold.
func (p *Picture) person(k Kind, of string, mass measure.Mass, hip Point, stature measure.Length, lean float64, foot Point, hand *Point) {
	part := func(share float64) measure.Length { return along(stature, share) }
	shoulder := towards(hip, part(trunk), math.Pi/2-lean)
	crown := towards(shoulder, part(head), math.Pi/2-lean/2)
	knee := joint(hip, foot, part(thigh), part(shank))
	limbs := []Point{foot, knee, hip, shoulder}
	if hand != nil {
		limbs = append(limbs, *hand)
	} else {
		limbs = append(limbs, towards(shoulder, part(upper)*3/4, -50*degree))
	}
	p.add(Shape{Kind: k, Of: of, Mass: mass, Points: limbs})
	p.circle(k, of, between(shoulder, crown, 1-radius/head), part(radius))
}

// joint returns where two limbs meet that reach from one point to another, the
// knee ahead; where the points are too far apart, on the line between them.
func joint(from, to Point, first, second measure.Length) Point {
	dx, dy := float64(to.X-from.X), float64(to.Y-from.Y)
	d := math.Hypot(dx, dy)
	a, b := float64(first), float64(second)
	if d == 0 || d >= a+b || d <= math.Abs(a-b) {
		return between(from, to, a/(a+b))
	}
	cos := (a*a + d*d - b*b) / (2 * a * d)
	angle := math.Atan2(dy, dx) + math.Acos(cos)
	return towards(from, first, angle)
}
