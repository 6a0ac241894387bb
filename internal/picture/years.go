package picture

import (
	"kinwain/internal/match"
	"kinwain/internal/measure"
)

// The sheet of the years: so much for a month, and for a kilogram.
const (
	perMonth    = 10 * mm
	perKilogram = 4 * mm
	// headroom is what is drawn above the rating and below the least load.
	headroom = 10 * measure.Kilogram
)

// Load is the line of the weight that is planned with, Between the band between
// children who grow slowly and fast, and the others are lines from the bottom
// of the sheet to its top, at a day.
const (
	Load    Kind = "load"
	Between Kind = "between"
	Stage   Kind = "stage"
	Event   Kind = "event" // Of says which: a kind of mark
	Year    Kind = "year"  // Of says which: the first of January
)

// Years draws the weight on the wheels under one of the riders, month by month
// from left to right, against the gross rating as the water line. Mass of the
// line of the load is what it comes to at the end; of the rating it is the
// Limit.
func Years(y *match.Years, rider int) Picture {
	var p Picture
	if len(y.Months) == 0 || rider >= len(y.Riders) {
		return p
	}
	low, high := y.Gross, y.Gross
	for _, m := range y.Months {
		low, high = min(low, m.Loads[rider].Slow), max(high, m.Loads[rider].Fast)
	}
	bottom := max(low-headroom, 0) / (10 * measure.Kilogram) * (10 * measure.Kilogram)
	at := func(months float64, mass measure.Mass) Point {
		return Point{along(perMonth, months), along(perKilogram, float64(mass-bottom)/float64(measure.Kilogram))}
	}
	first, last := y.Months[0].Month, float64(len(y.Months))
	top := high + headroom
	p.line(Ground, "", at(0, bottom), at(last, bottom))
	var planned, fast, slow []Point
	for i, m := range y.Months {
		end := float64(i + 1) // what is said of a month is of its last day
		if i == 0 {
			planned, fast, slow = append(planned, at(0, m.Loads[rider].Planned)), append(fast, at(0, m.Loads[rider].Fast)), append(slow, at(0, m.Loads[rider].Slow))
		}
		planned, fast, slow = append(planned, at(end, m.Loads[rider].Planned)), append(fast, at(end, m.Loads[rider].Fast)), append(slow, at(end, m.Loads[rider].Slow))
		if i > 0 && m.Month.Month() == 1 {
			p.line(Year, m.Month.String(), at(float64(i), bottom), at(float64(i), top))
		}
	}
	for i := len(slow) - 1; i >= 0; i-- {
		fast = append(fast, slow[i])
	}
	p.add(Shape{Kind: Between, Points: fast, Closed: true})
	p.add(Shape{Kind: Load, Of: y.Riders[rider], Points: planned, Mass: y.Months[len(y.Months)-1].Loads[rider].Planned})
	p.add(Shape{Kind: Rating, Points: []Point{at(0, y.Gross), at(last, y.Gross)}, Limit: y.Gross})
	for _, m := range y.Marks {
		when := float64(m.On.InMonth()-first) + float64(m.On.Day-1)/31
		kind, of := Event, string(m.Kind)
		if m.Kind == match.StageBegins {
			kind = Stage
		}
		p.line(kind, of, at(when, bottom), at(when, top))
	}
	p.fit(perMonth)
	return p
}
