package picture

import (
	"kinwain/internal/match"
	"kinwain/internal/measure"
)

// The sheet of the years: all months fill its width, and what is carried its
// height, from a line under the least load to the rating and a little more. To
// the left is room for what the lines are called, and below for the years.
const (
	yearsWide  = 1800 * mm
	yearsHigh  = 640 * mm
	yearsLeft  = 260 * mm
	yearsBelow = 90 * mm
	// flagRow is how high the sign of a mark is, which stands on its line above
	// all loads, and flagWide how wide: those that would touch stand in rows.
	flagRow  = 84 * mm
	flagWide = 96 * mm
)

// Load is the line of the weight that is planned with, Between the band between
// children who grow slowly and fast, and the others are lines from the bottom
// of the sheet to its top, at a day, or across it, at a mass.
const (
	Load    Kind = "load"
	Between Kind = "between"
	Stage   Kind = "stage"
	Event   Kind = "event" // Of says which: a kind of mark
	Year    Kind = "year"  // Of says which: its first month that is drawn
	Tick    Kind = "tick"  // Mass says what it stands for
)

// Scale says where the lines across the sheet are: a whole number of units from
// nothing or, where what is spare is read instead of what weighs, from the
// rating downwards.
type Scale struct {
	Unit  measure.Mass
	Spare bool
}

// Years draws the weight on the wheels under one of the riders, month by month
// from left to right, against the gross rating as the water line. Mass of the
// line of the load is what it comes to at the end; of the rating it is the
// Limit. Marks are drawn in their order, but for the first stage, which begins
// where the sheet does.
func Years(y *match.Years, rider int, s Scale) Picture {
	c := &years{Years: y, rider: rider, scale: s}
	if len(y.Months) == 0 || rider >= len(y.Riders) || s.Unit <= 0 {
		return c.Picture
	}
	c.measure()
	c.grid()
	c.loads()
	c.line(Rating, "", c.at(0, y.Gross), c.at(c.months(), y.Gross))
	c.Shapes[len(c.Shapes)-1].Limit = y.Gross
	c.marks()
	c.fit(10 * mm)
	return c.Picture
}

type years struct {
	*match.Years
	Picture
	rider             int
	scale             Scale
	step, bottom, top measure.Mass
}

func (c *years) months() float64 { return float64(len(c.Months)) }

// at is where a mass is on the sheet after so many months.
func (c *years) at(months float64, mass measure.Mass) Point {
	return Point{yearsLeft + along(yearsWide, months/c.months()), along(yearsHigh, float64(mass-c.bottom)/float64(c.top-c.bottom))}
}

// measure chooses what the sheet reaches from and to, and the step between the
// lines across it: of round figures the least with which they are few.
func (c *years) measure() {
	low, high := c.Gross, c.Gross
	for _, m := range c.Months {
		low, high = min(low, m.Loads[c.rider].Slow), max(high, m.Loads[c.rider].Fast)
	}
	const few = 5
	for _, n := range [...]measure.Mass{1, 2, 5, 10, 20, 50, 100, 200, 500} {
		if c.step = n * c.scale.Unit; (high-low)/c.step < few {
			break
		}
	}
	below := low - c.origin()
	c.bottom = c.origin() + below/c.step*c.step
	if below%c.step <= 0 {
		c.bottom -= c.step
	}
	c.bottom = max(c.bottom, 0)
	c.top = high + (high-c.bottom)/8
}

// origin is the mass from which the lines across count.
func (c *years) origin() measure.Mass {
	if c.scale.Spare {
		return c.Gross
	}
	return 0
}

// grid draws the lines across, and where each year begins.
func (c *years) grid() {
	end := c.months()
	left := func(p Point) Point { return Point{0, p.Y} }
	for mass := c.bottom; mass <= c.top; mass += c.step {
		kind := Tick
		if mass == c.bottom {
			kind = Ground
		} else if mass > c.Gross-c.step/3 && mass < c.Gross+c.step/3 {
			continue // the rating is there
		}
		c.add(Shape{Kind: kind, Points: []Point{left(c.at(0, mass)), c.at(end, mass)}, Mass: mass})
	}
	for i, m := range c.Months {
		if i == 0 || m.Month.Month() == 1 {
			from := c.at(float64(i), c.bottom)
			c.line(Year, m.Month.String(), Point{from.X, from.Y - yearsBelow}, c.at(float64(i), c.top))
		}
	}
}

// loads draws the band and on it the line that is planned with.
func (c *years) loads() {
	var planned, fast, slow []Point
	add := func(months float64, l match.Range) {
		planned, fast, slow = append(planned, c.at(months, l.Planned)), append(fast, c.at(months, l.Fast)), append(slow, c.at(months, l.Slow))
	}
	add(0, c.Months[0].Loads[c.rider])
	for i, m := range c.Months {
		add(float64(i+1), m.Loads[c.rider]) // what is said of a month is of its last day
	}
	for i := len(slow) - 1; i >= 0; i-- {
		fast = append(fast, slow[i])
	}
	c.add(Shape{Kind: Between, Points: fast, Closed: true})
	c.add(Shape{Kind: Load, Of: c.Riders[c.rider], Points: planned, Mass: c.Months[len(c.Months)-1].Loads[c.rider].Planned})
}

// marks draws what happens, each up to its sign.
func (c *years) marks() {
	first := c.Months[0].Month
	var rows []Point // the last sign in each row
	for _, m := range c.Shown() {
		when := float64(m.On.InMonth()-first) + float64(m.On.Day-1)/31
		kind, of := Event, string(m.Kind)
		if m.Kind == match.StageBegins {
			kind = Stage
		}
		foot, head := c.at(when, c.bottom), c.at(when, c.top)
		row := 0
		for row < len(rows) && foot.X-rows[row].X < flagWide {
			row++
		}
		if row == len(rows) {
			rows = append(rows, Point{})
		}
		head.Y += measure.Length(row+1) * flagRow
		rows[row] = head
		c.line(kind, of, foot, head)
	}
}
