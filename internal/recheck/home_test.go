package recheck

import (
	"fmt"
	"math"
)

// How the bike gets home, by trying angles.

const endless = 1e9

// open is a length of a home; one that is not stated does not limit.
func open(a answer[millimetres]) float64 {
	if a.value <= 0 {
		return endless
	}
	return float64(a.value)
}

// circle holds cosines and sines from 0° to 90°.
var circle = func() [][2]float64 {
	list := make([][2]float64, 9001)
	for i := range list {
		t := float64(i) / 9000 * math.Pi / 2
		list[i] = [2]float64{math.Cos(t), math.Sin(t)}
	}
	list[0], list[9000] = [2]float64{1, 0}, [2]float64{0, 1}
	return list
}()

// square is the slack of a p × q rectangle along the walls of an a × b one.
func square(p, q, a, b float64) float64 {
	return max(min(a-p, b-q), min(a-q, b-p))
}

// anyhow is its slack at the best angle. The best one lies where the two walls
// leave the same, between two of the angles tried, or is one of them.
func anyhow(p, q, a, b float64) float64 {
	left := func(cos, sin float64) float64 { return min(a-p*cos-q*sin, b-p*sin-q*cos) }
	best, at := square(p, q, a, b), -1
	for i, c := range circle {
		if s := left(c[0], c[1]); s > best {
			best, at = s, i
		}
	}
	if at < 0 {
		return best
	}
	for i := -2000; i <= 2000; i++ {
		t := (float64(at) + float64(i)/2000) / 9000 * math.Pi / 2
		best = max(best, left(math.Cos(t), math.Sin(t)))
	}
	return best
}

// round is the slack of a rectangle on its way round a corner. Turned by an
// angle, with the ends of its outer long side on the outer walls, at (x, 0)
// and (0, y), its inner long side is a width away from that line, and the
// inner corner of the walls must not be nearer.
func round(p, q, in, out float64) float64 {
	long, wide := max(p, q), min(p, q)
	least := min(in, out) - wide
	if max(in, out) >= endless {
		return least
	}
	for _, c := range circle {
		x, y := long*c[1], long*c[0]
		distance := (in*y + out*x - x*y) / long
		least = min(least, (distance-wide)/(c[0]+c[1]))
	}
	return least
}

// standingBike is the outline of a bike on its wheels and on its tail.
type standingBike struct {
	flat, upright [3]float64 // length, width, height
	stands        bool
}

func (r *recheck) outline() standingBike {
	f := r.frame
	b := standingBike{
		flat:    [3]float64{float64(f.Length), float64(f.Width), float64(f.Height)},
		upright: [3]float64{float64(f.Upright.Length), float64(f.Upright.Width), float64(f.Upright.Height)},
		stands:  f.Upright.Length > 0 && f.Upright.Width > 0 && f.Upright.Height > 0,
	}
	front, rear, height := 0.0, 0.0, 0.0
	for _, code := range r.fitted() {
		a := r.addOn(code)
		front, rear = max(front, float64(a.FrontOver)), max(rear, float64(a.RearOver))
		height = max(height, float64(a.Height))
		b.flat[1], b.upright[1] = max(b.flat[1], float64(a.Width)), max(b.upright[1], float64(a.Width))
		b.stands = b.stands && !a.Blocks
	}
	b.upright[2] += front + rear
	b.upright[0] += max(0, height-b.flat[2])
	b.flat[0] += front + rear
	b.flat[2] = max(b.flat[2], height)
	return b
}

// part is how much one part of the home leaves.
type part struct {
	name  string
	how   string
	slack float64
}

// pass takes a bike through on its wheels where that leaves a hand's breadth,
// and else the better of both ways.
func (b standingBike) pass(name string, slack func(box [3]float64, upright bool) float64) part {
	p := part{name, "flat", slack(b.flat, false)}
	if b.stands && p.slack+1e-4 < 50 {
		if s := slack(b.upright, true); math.Floor(s+1e-4) > math.Floor(p.slack+1e-4) {
			p.how, p.slack = "upright", s
		}
	}
	return p
}

// way lists what the bike meets, the space last.
func (b standingBike) way(h *home) []part {
	var list []part
	for i, d := range h.Doorways.value {
		list = append(list, b.pass(fmt.Sprintf("doorways[%d]", i), func(o [3]float64, _ bool) float64 {
			return min(open(d.Width)-min(o[0], o[1]), open(d.Height)-o[2])
		}))
	}
	for i, c := range h.Corners.value {
		list = append(list, b.pass(fmt.Sprintf("corners[%d]", i), func(o [3]float64, upright bool) float64 {
			slack := round(o[0], o[1], open(c.In), open(c.Out))
			if upright { // pushed along one corridor and sideways along the other
				slack = max(slack, square(o[0], o[1], open(c.In), open(c.Out)))
			}
			return slack
		}))
	}
	if l := h.Lift.value; h.Lift.given {
		list = append(list, b.pass("lift", func(o [3]float64, _ bool) float64 {
			return min(open(l.Door)-min(o[0], o[1]), square(o[0], o[1], open(l.Length), open(l.Width)), open(l.Height)-o[2])
		}))
	}
	return append(list, b.space(h))
}

// space parks the bike: the simplest way that leaves a hand's breadth, or else
// the one that leaves most.
func (b standingBike) space(h *home) part {
	free := float64(max(h.Clearance.value, 0))
	long, wide, high := open(h.Length)-free, open(h.Width)-free, open(h.Height)
	poses := []part{
		{"space", "flat", min(square(b.flat[0], b.flat[1], long, wide), high-b.flat[2])},
		{"space", "turned", min(anyhow(b.flat[0], b.flat[1], long, wide), high-b.flat[2])},
	}
	upright := part{"space", "upright", min(anyhow(b.upright[0], b.upright[1], long, wide), high-b.upright[2])}
	switch {
	case h.Upright.value && !b.stands:
		return part{"space", "upright", endless}
	case h.Upright.value:
		return upright
	case b.stands:
		poses = append(poses, upright)
	}
	best := poses[0]
	for _, p := range poses[1:] {
		if best.slack < 50 && math.Floor(p.slack+1e-3) > math.Floor(best.slack+1e-3) {
			best = p
		}
	}
	return best
}

// parking compares how the build gets home, and returns the tightest part.
func (r *recheck) parking() (tightest part, constrained bool) {
	said := r.match.Parking
	if !r.profile.Home.given || r.leftOut("home") {
		// What is left out may not fit, and is still said to.
		if !r.profile.Home.given && said != nil {
			r.complain("a parking without a home")
		}
		if !r.profile.Home.given {
			return part{}, false
		}
	}
	b, h := r.outline(), &r.profile.Home.value
	least, how, onTail := part{slack: endless}, "", ""
	for _, p := range b.way(h) {
		if p.slack > endless/2 {
			p.slack = endless
		} else {
			p.slack = math.Floor(p.slack + 1e-4)
		}
		if p.slack < least.slack {
			least = p
		}
		if how = p.how; p.name != "space" && p.how == "upright" && p.slack >= 0 && onTail == "" {
			onTail = p.name
		}
	}
	fits := least.slack >= 0 && (!h.Upright.value || b.stands)
	if least.slack == endless {
		least = part{}
	}
	if said == nil || said.Fits != fits || said.How != how || said.Tightest != least.name || math.Abs(float64(said.Slack)-least.slack) > 0 {
		r.complain("parking %+v, but %v %s %+v", said, fits, how, least)
	}
	if fits && onTail != "" {
		r.add(reason{Code: "upright_way", Weight: "care", Part: onTail})
	}
	return least, least.name != ""
}
