package picture

import (
	"math"
	"strings"

	"kinwain/internal/measure"
	"kinwain/internal/parking"
)

// openSide is how far a side without a stated length is drawn beyond the bike.
const openSide = 30 * cm

// Space draws the plan of the place where the bike lives, with its outline as
// it stands there, in a corner, and what is left beside it. Walls that are not
// stated are not drawn.
func Space(b parking.Bike, h parking.Home, how parking.How) Picture {
	outline, turn := b.Flat, false
	switch how {
	case parking.Upright:
		outline, turn = b.Upright, true
	case parking.Turned:
		turn = true
	}
	var p Picture
	p.room(outline, h.Space.Length, h.Space.Width, max(h.Clearance, 0), turn)
	p.fit(10 * cm)
	return p
}

// room draws an outline in the corner of a room, longer side along longer
// side, turned to its best angle where it may be.
func (p *Picture) room(outline parking.Box, a, b, clearance measure.Length, turn bool) {
	long, short := max(outline.Length, outline.Width), min(outline.Length, outline.Width)
	wide, narrow := a, b
	if a > 0 && b > 0 {
		wide, narrow = max(a, b), min(a, b)
	}
	angle := 0.0
	if turn && wide > 0 && narrow > 0 {
		angle = bestAngle(long, short, wide-clearance, narrow-clearance)
	}
	spanX := along(long, math.Cos(angle)) + along(short, math.Sin(angle))
	spanY := along(long, math.Sin(angle)) + along(short, math.Cos(angle))
	right, top := wide, narrow
	if wide == 0 {
		right = spanX + openSide
	}
	if narrow == 0 {
		top = spanY + openSide
	}
	p.line(Wall, "", Point{0, top}, Point{0, 0}, Point{right, 0})
	if wide > 0 {
		p.line(Wall, "", Point{right, 0}, Point{right, top})
		p.slack(Point{spanX, spanY / 2}, Point{right - clearance, spanY / 2})
	}
	if narrow > 0 {
		p.line(Wall, "", Point{0, top}, Point{right, top})
		p.slack(Point{spanX / 2, spanY}, Point{spanX / 2, top - clearance})
	}
	p.add(Shape{Kind: Bike, Closed: true, Points: turned(Point{along(short, math.Sin(angle)), 0}, long, short, angle)})
}

// slack marks what is left between two points, negative where the second lies
// before the first.
func (p *Picture) slack(from, to Point) {
	left := to.X - from.X + to.Y - from.Y
	p.add(Shape{Kind: Slack, Points: []Point{from, to}, Length: left})
}

// turned is a rectangle by one corner, with its long side at an angle.
func turned(corner Point, long, short measure.Length, angle float64) []Point {
	end := towards(corner, long, angle)
	return []Point{corner, end, towards(end, short, angle+math.Pi/2), towards(corner, short, angle+math.Pi/2)}
}

// bestAngle is the angle between the longer sides at which a rectangle has
// most room in another: square to the walls, or where what is left in length
// and in width is the same. There cos t - sin t is the difference of the walls
// over that of the sides.
func bestAngle(long, short, wide, narrow measure.Length) float64 {
	if wide-narrow >= long-short {
		return 0
	}
	k := float64(wide-narrow) / float64(long-short)
	angle := math.Acos(k/math.Sqrt2) - math.Pi/4
	square := min(wide-long, narrow-short)
	if float64(wide)-float64(long)*math.Cos(angle)-float64(short)*math.Sin(angle) <= float64(square) {
		return 0
	}
	return angle
}

// Passage draws the part of the way that a name of package parking tells: a
// doorway from ahead, a corner with the outline at its worst angle, or a lift.
// It is false where the home has no such part.
func Passage(b parking.Bike, h parking.Home, part parking.Part) (Picture, bool) {
	outline := b.Flat
	if part.How == parking.Upright {
		outline = b.Upright
	}
	var p Picture
	kind, _, _ := strings.Cut(part.Name, "[")
	i := index(part.Name)
	switch {
	case kind == "doorways" && i < len(h.Doorways):
		p.doorway(outline, h.Doorways[i])
	case kind == "corners" && i < len(h.Corners):
		p.corner(outline, h.Corners[i])
	case kind == "lift" && h.Lift != nil:
		p.lift(outline, *h.Lift)
	default:
		return p, false
	}
	p.fit(10 * cm)
	return p, true
}

// index returns the number in brackets of a name.
func index(name string) int {
	n := 0
	for _, r := range name {
		if r >= '0' && r <= '9' {
			n = 10*n + int(r-'0')
		}
	}
	return n
}

// doorway is seen from ahead: the opening and the bike in it.
func (p *Picture) doorway(outline parking.Box, d parking.Doorway) {
	narrow := min(outline.Length, outline.Width)
	p.add(Shape{Kind: Bike, Closed: true, Points: []Point{{0, 0}, {narrow, 0}, {narrow, outline.Height}, {0, outline.Height}}})
	right, top := d.Width, d.Height
	if right == 0 {
		right = narrow + openSide
	}
	if top == 0 {
		top = outline.Height + openSide
	}
	p.line(Ground, "", Point{-openSide, 0}, Point{right + openSide, 0})
	if d.Width > 0 {
		p.line(Wall, "", Point{0, 0}, Point{0, top})
		p.line(Wall, "", Point{right, 0}, Point{right, top})
		p.slack(Point{narrow, outline.Height / 2}, Point{right, outline.Height / 2})
	}
	if d.Height > 0 {
		p.line(Wall, "", Point{0, top}, Point{right, top})
		p.slack(Point{narrow / 2, outline.Height}, Point{narrow / 2, top})
	}
}

// sweep is how many outlines show the way round a corner.
const sweep = 6

// corner is a plan: the outer walls along the axes, the inner corner where the
// corridors end, the outline at the angle that leaves least, and its way.
func (p *Picture) corner(outline parking.Box, c parking.Corner) {
	long, short := max(outline.Length, outline.Width), min(outline.Length, outline.Width)
	in, out := c.In, c.Out
	reach := max(long+openSide, 2*max(in, out))
	if in == 0 {
		in = reach
	}
	if out == 0 {
		out = reach
	}
	p.line(Wall, "", Point{0, reach}, Point{0, 0}, Point{reach, 0})
	p.line(Wall, "", Point{in, reach}, Point{in, out}, Point{reach, out})
	for k := range sweep + 1 {
		p.add(Shape{Kind: Swept, Closed: true, Points: atTurn(long, short, float64(k)*math.Pi/2/sweep)})
	}
	worst, left := WorstTurn(outline, in, out)
	p.add(Shape{Kind: Bike, Closed: true, Points: atTurn(long, short, worst)})
	inner := Point{in, out}
	p.add(Shape{Kind: Slack, Length: left, Points: []Point{towards(inner, -along(left, math.Sin(worst)+math.Cos(worst)), worst), inner}})
}

// atTurn is the outline on its way round: its outer long side has its ends on
// the outer walls.
func atTurn(long, short measure.Length, turn float64) []Point {
	a, b := Point{along(long, math.Sin(turn)), 0}, Point{0, along(long, math.Cos(turn))}
	return []Point{a, b, towards(b, short, turn), towards(a, short, turn)}
}

// WorstTurn returns the angle in radians at which an outline on its way round
// a corner has least room, and that room: by which both corridors could be
// narrower. It looks at every quarter of a degree and halves on from the worst.
func WorstTurn(outline parking.Box, in, out measure.Length) (float64, measure.Length) {
	long, short := float64(max(outline.Length, outline.Width)), float64(min(outline.Length, outline.Width))
	room := func(t float64) float64 {
		sin, cos := math.Sin(t), math.Cos(t)
		return (float64(in)*cos + float64(out)*sin - short - long*sin*cos) / (cos + sin)
	}
	worst, step := 0.0, degree/4
	for k := range 361 {
		if t := float64(k) * step; room(t) < room(worst) {
			worst = t
		}
	}
	for ; step > 1e-7; step /= 2 {
		for _, t := range [...]float64{worst - step, worst + step} {
			if t >= 0 && t <= math.Pi/2 && room(t) < room(worst) {
				worst = t
			}
		}
	}
	return worst, measure.Length(math.Floor(room(worst) + 1e-6))
}

// lift is the plan of the car, with the outline in it and the door as a gap in
// the wall that it comes in by.
func (p *Picture) lift(outline parking.Box, l parking.Lift) {
	p.room(outline, l.Length, l.Width, 0, false)
	narrow := min(outline.Length, outline.Width)
	if l.Door > 0 {
		p.line(Slack, "door", Point{-2 * cm, 0}, Point{-2 * cm, l.Door})
		p.Shapes[len(p.Shapes)-1].Length = l.Door - narrow
	}
}
