package compare

import (
	"math/big"
	"slices"
	"strings"

	"kinwain/internal/catalog"
	"kinwain/internal/load"
	"kinwain/internal/match"
	"kinwain/internal/measure"
	"kinwain/internal/parking"
	"kinwain/internal/profile"
	"kinwain/internal/ride"
)

// Beyond is the wording of a horizon that ends no sooner than is looked ahead.
const Beyond = "beyond"

// Rows puts matches of one customer side by side, row by row. Rows that
// nothing in the profile asks for, such as a hill or a home, are left out.
func Rows(p *profile.Profile, matches []*match.Match) []Row {
	c := comparison{p, matches}
	rows := c.answer()
	rows = append(rows, c.carrying()...)
	rows = append(rows, c.atHome()...)
	return append(rows, c.bike()...)
}

type comparison struct {
	profile *profile.Profile
	matches []*match.Match
}

func (c *comparison) row(code string, q Quantity, better Better, cell func(*match.Match) Cell) Row {
	r := Row{Code: code, Quantity: q, Better: better}
	for _, m := range c.matches {
		r.Cells = append(r.Cells, cell(m))
	}
	return r
}

func figure[N ~int64 | ~int](n N) Cell { return Cell{State: Stated, Figure: int64(n)} }

// unlessZero is a figure of the maker, which is zero where it is not stated.
func unlessZero[N ~int64 | ~int](n N) Cell {
	if n == 0 {
		return Cell{}
	}
	return figure(n)
}

func wording(text string) Cell {
	if text == "" {
		return Cell{}
	}
	return Cell{State: Stated, Words: text}
}

// ofBuild marks what follows from a build that leaves out something, or all
// where the frame is not judged.
func ofBuild(m *match.Match, c Cell) Cell {
	if c.State == Stated && (len(m.Relaxed) > 0 || m.Verdict == match.NotJudged) {
		c.State = Partial
	}
	return c
}

func (c *comparison) answer() []Row {
	return []Row{
		c.row("verdict", Wording, Neither, func(m *match.Match) Cell {
			return wording(string(m.Verdict))
		}),
		c.row("score", Points, More, scoreCell),
		c.row("total_price", Cents, Less, func(m *match.Match) Cell { return ofBuild(m, figure(m.Total)) }),
		c.row("add_ons", Wording, Neither, func(m *match.Match) Cell { return ofBuild(m, addOnCell(m)) }),
		c.row("reasons", Wording, Neither, reasonCell),
	}
}

func scoreCell(m *match.Match) Cell {
	if m.Score == nil {
		return Cell{State: None}
	}
	tenths := new(big.Rat).Mul(m.Score, big.NewRat(10, 1))
	tenths.Add(tenths, big.NewRat(1, 2)) // scores are shown rounded half up
	return figure(new(big.Int).Div(tenths.Num(), tenths.Denom()).Int64())
}

// addOnCell words what is bought and what is taken off by codes, so that the
// same set is the same cell.
func addOnCell(m *match.Match) Cell {
	if len(m.Build.AddOns)+len(m.Build.TakenOff) == 0 {
		return Cell{State: None}
	}
	return Cell{State: Stated, Figure: int64(len(m.Build.AddOns)), Words: strings.Join(m.Build.AddOns, " ") + "|" + strings.Join(m.Build.TakenOff, " ")}
}

// reasonCell words the stops and cares in full, and counts them.
func reasonCell(m *match.Match) Cell {
	var texts []string
	for _, r := range m.Reasons {
		if r.Weight != match.Note {
			texts = append(texts, string(r.Code)+r.Message.In(measure.Metric))
		}
	}
	if len(texts) == 0 {
		return Cell{State: None}
	}
	return Cell{State: Stated, Figure: int64(len(texts)), Words: strings.Join(texts, "\n")}
}

func (c *comparison) carrying() []Row {
	var rows []Row
	if len(c.matches[0].Sheets) > 0 {
		rows = append(rows,
			c.row("spare", Grams, More, func(m *match.Match) Cell { return ofBuild(m, figure(worst(m, (*load.Sheet).Spare))) }),
			c.row("carry_guideline", Grams, More, func(m *match.Match) Cell { return ofBuild(m, figure(worst(m, underGuideline))) }))
	}
	rows = append(rows, c.riders()...)
	return append(append(rows, c.row("horizon", Months, More, horizonCell)), c.facts()...)
}

// facts are the rows that the table of a frame's facts asks for.
func (c *comparison) facts() []Row {
	var rows []Row
	for _, f := range catalog.Of("frames") {
		if !f.Compared {
			continue
		}
		quantity := map[catalog.FieldKind]Quantity{catalog.Mass: Grams, catalog.Length: Millimetres}[f.Kind]
		if quantity == Wording {
			quantity = People
		}
		r := c.row(f.Name, quantity, More, func(m *match.Match) Cell {
			switch fact := f.At(m.Frame).(type) {
			case *measure.Mass:
				return unlessZero(*fact)
			case *measure.Length:
				return unlessZero(*fact)
			case *int:
				return unlessZero(*fact)
			}
			return Cell{}
		})
		r.Label = f.Label
		rows = append(rows, r)
	}
	return rows
}

// worst returns the smallest figure over the load sheets of a match.
func worst(m *match.Match, of func(*load.Sheet) measure.Mass) measure.Mass {
	least := of(&m.Sheets[0])
	for i := range m.Sheets {
		least = min(least, of(&m.Sheets[i]))
	}
	return least
}

func underGuideline(s *load.Sheet) measure.Mass { return s.Guideline - s.Carried }

// riders adds a row for each rider of a shared bike, and the height of a
// single one.
func (c *comparison) riders() []Row {
	var rows []Row
	shared := len(c.profile.Riders) > 1
	add := func(rider string, r Row) {
		if shared {
			r.Rider = rider
		}
		rows = append(rows, r)
	}
	for i := range c.matches[0].Sheets {
		if rider := c.matches[0].Sheets[i].Rider.Label; shared {
			add(rider, c.row("rider_spare", Grams, More, func(m *match.Match) Cell { return ofBuild(m, figure(m.Sheets[i].Spare())) }))
			add(rider, c.row("rider_share", Parts, Less, func(m *match.Match) Cell { return ofBuild(m, carriedShare(&m.Sheets[i])) }))
		}
	}
	for i := range c.profile.Riders {
		if height, ok := c.profile.Riders[i].Height.Get(); ok {
			add(c.profile.Riders[i].Label, c.row("rider_height", Millimetres, More, func(m *match.Match) Cell {
				return figure(min(height-m.Frame.RiderMin, m.Frame.RiderMax-height))
			}))
		}
	}
	return rows
}

// carriedShare is what a rider carries over their own weight, rounded up.
func carriedShare(s *load.Sheet) Cell {
	if s.Rider.Own == 0 {
		return Cell{State: None}
	}
	own := int64(s.Rider.Own)
	return figure((int64(s.Carried)*int64(measure.Whole) + own - 1) / own)
}

func horizonCell(m *match.Match) Cell {
	switch {
	case m.Horizon == nil:
		return Cell{State: None}
	case !m.Horizon.Ends:
		return Cell{Stated, int64(m.Horizon.Months), Beyond}
	}
	return Cell{Stated, int64(m.Horizon.Months), m.Horizon.Month.String()}
}

func (c *comparison) atHome() []Row {
	var rows []Row
	asked := func(m *match.Match) bool { return m.Home != nil && (m.Home.Constrained || m.Home.NeedsUpright) }
	if slices.ContainsFunc(c.matches, asked) {
		rows = append(rows, c.row("home", Millimetres, More, homeCell))
	}
	size := func(code string, of func(parking.Box) measure.Length) Row {
		return c.row(code, Millimetres, Less, func(m *match.Match) Cell { return ofBuild(m, figure(of(m.Bike.Flat))) })
	}
	return append(rows,
		size("length", func(b parking.Box) measure.Length { return b.Length }),
		size("width", func(b parking.Box) measure.Length { return b.Width }),
		size("height", func(b parking.Box) measure.Length { return b.Height }),
		c.row("upright", Millimetres, Less, func(m *match.Match) Cell {
			if !m.Bike.CanStand() {
				return Cell{State: None}
			}
			return ofBuild(m, figure(m.Bike.Upright.Length))
		}),
		c.row("handling_mass", Grams, Less, func(m *match.Match) Cell { return ofBuild(m, figure(m.Handling())) }))
}

func homeCell(m *match.Match) Cell {
	switch {
	case m.Home.NeedsUpright:
		return Cell{State: None, Words: string(parking.Upright)}
	case !m.Home.Constrained:
		return Cell{State: None}
	}
	return ofBuild(m, Cell{Stated, int64(m.Home.Slack), string(m.Home.How)})
}

func (c *comparison) bike() []Row {
	rows := []Row{
		c.row("wheels", Wording, Neither, func(m *match.Match) Cell { return pairOf(m.Frame.FrontTyre, m.Frame.RearTyre) }),
		c.row("brakes", Wording, Neither, func(m *match.Match) Cell { return pairOf(m.Frame.FrontBrake, m.Frame.RearBrake) }),
		c.row("assist", Wording, Neither, func(m *match.Match) Cell { return unlessZero(m.Frame.AssistWatts) }),
		c.row("low_gear", Rolled, Less, lowGear),
	}
	if len(c.matches[0].Climbs) > 0 {
		rows = append(rows, c.row("climb", Hourly, More, func(m *match.Match) Cell { return ofBuild(m, climbCell(m)) }))
	}
	return rows
}

// pairOf words what is in front and what is behind; one of them may not be
// stated.
func pairOf(front, rear string) Cell {
	if front+rear == "" {
		return Cell{}
	}
	return wording(front + " " + rear)
}

func lowGear(m *match.Match) Cell {
	g, ok := ride.GearsOf(m.Frame)
	if !ok {
		return Cell{}
	}
	return figure(g.Development(g.Lowest))
}

// climbCell takes the hill with the slowest of the riders.
func climbCell(m *match.Match) Cell {
	slowest := m.Climbs[0]
	for _, c := range m.Climbs[1:] {
		if c.Speed < slowest.Speed {
			slowest = c
		}
	}
	return Cell{Stated, slowest.Speed.MetresPerHour(), string(slowest.Outcome)}
}
