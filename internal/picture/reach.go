package picture

import "kinwain/internal/measure"

// Kept and Best are lines of how many customers so many bikes serve, chosen among
// those that the shop has and among all; Now is a mark for all that it has.
const (
	Kept Kind = "kept"
	Best Kind = "best"
	Now  Kind = "now"
)

// The sheet of the reach, without its margin.
const (
	reachWide = 200 * cm
	reachHigh = 90 * cm
)

// Reached draws how many of some customers are served by 0, 1, 2, … bikes, from
// left to right. Most is the water line: nothing serves more. now is so many bikes
// and customers.
func Reached(of, most int, now [2]int, kept, best []int) Picture {
	var p Picture
	steps := max(now[0], len(kept)-1, len(best)-1, 1)
	at := func(bikes, customers int) Point {
		return Point{reachWide * measure.Length(bikes) / measure.Length(steps), reachHigh * measure.Length(customers) / measure.Length(max(of, 1))}
	}
	p.line(Ground, "", at(0, 0), at(steps, 0))
	p.line(Rating, "", at(0, most), at(steps, most))
	for _, line := range []struct {
		kind   Kind
		served []int
	}{{Best, best}, {Kept, kept}} {
		s := Shape{Kind: line.kind}
		for bikes, customers := range line.served {
			s.Points = append(s.Points, at(bikes, customers))
		}
		if len(s.Points) > 0 {
			p.add(s)
		}
	}
	p.circle(Now, "", at(now[0], now[1]), 3*cm)
	p.fit(12 * cm)
	return p
}
