package picture_test

import (
	"testing"

	"kinwain/internal/match"
	"kinwain/internal/measure"
	"kinwain/internal/picture"
)

// sixMonths are the years ahead of a bike that may weigh 180 kg under A, who
// stays well below it in the slow and the planned case, and under B.
func sixMonths() *match.Years {
	const kg = measure.Kilogram
	y := &match.Years{Gross: 180 * kg, Riders: []string{"A", "B"}, Marks: []match.Mark{
		{Kind: match.StageBegins, On: measure.Date{Year: 2026, Month: 11, Day: 25}},
		{Kind: match.Outgrown, On: measure.Date{Year: 2027, Month: 2, Day: 28}, Passenger: "p"},
		{Kind: match.StageBegins, On: measure.Date{Year: 2027, Month: 3, Day: 1}, Stage: 1},
		{Kind: match.ServedUntil, On: measure.Date{Year: 2027, Month: 4, Day: 30}},
	}}
	for n := range measure.Month(6) {
		load := match.Range{Slow: 150*kg + measure.Mass(n)*kg, Planned: 152*kg + measure.Mass(n)*2*kg, Fast: 154*kg + measure.Mass(n)*6*kg}
		y.Months = append(y.Months, match.MonthAhead{Month: measure.MonthOf(2026, 11) + n, Loads: []match.Range{load, {Slow: 90 * kg, Planned: 90 * kg, Fast: 90 * kg}}})
	}
	return y
}

// Every shape of the years lies on the sheet, and what weighs more lies higher:
// as much for every kilogram, and every month is as wide.
func TestYearsToScale(t *testing.T) {
	t.Parallel()
	const kg = measure.Kilogram
	p := picture.Years(sixMonths(), 0, picture.Scale{Unit: 10 * kg})
	for i := range p.Shapes {
		if low, high := p.Shapes[i].Bounds(); low.X < 0 || low.Y < 0 || high.X > p.Width || high.Y > p.Height {
			t.Errorf("%+v is off the sheet", p.Shapes[i])
		}
	}
	one := func(k picture.Kind) picture.Shape {
		list := p.Of(k)
		if len(list) != 1 {
			t.Fatalf("%d of %s", len(list), k)
		}
		return list[0]
	}
	rating, line, band, ground := one(picture.Rating), one(picture.Load), one(picture.Between), one(picture.Ground)
	// From 140 kg to an eighth over the 184 kg of the fast end.
	perKilogram := float64(rating.Points[0].Y-ground.Points[0].Y) / 40
	near := func(what string, got measure.Length, kilograms float64) {
		t.Helper()
		if off := float64(got) - kilograms*perKilogram; off < -1 || off > 1 {
			t.Errorf("%s is %d mm high at %.2f mm a kilogram", what, got, perKilogram)
		}
	}
	end := line.Points[len(line.Points)-1]
	_, top := band.Bounds()
	near("18 kg under the rating", rating.Points[0].Y-end.Y, 18)
	near("4 kg over it", top.Y-rating.Points[0].Y, 4)
	if ground.Mass != 140*kg || line.Mass != 162*kg || rating.Limit != 180*kg {
		t.Errorf("from %v, the line ends at %v, rated %v", ground.Mass, line.Mass, rating.Limit)
	}
	for _, tick := range p.Of(picture.Tick) {
		near(tick.Mass.String(), tick.Points[0].Y-ground.Points[0].Y, float64(tick.Mass-140*kg)/float64(kg))
	}
	wide := end.X - line.Points[0].X
	years := p.Of(picture.Year)
	if len(years) != 2 || years[0].Of != "2026-11" || years[1].Of != "2027-01" || years[1].Points[0].X-line.Points[0].X != wide/3 {
		t.Errorf("the years begin at %+v", years)
	}
	stages, events := p.Of(picture.Stage), p.Of(picture.Event)
	if len(stages) != 1 || stages[0].Points[0].X-line.Points[0].X != wide*4/6 || len(events) != 1 || events[0].Of != "outgrown" || events[0].Points[1].Y == stages[0].Points[1].Y {
		t.Errorf("marks at %+v and %+v", stages, events)
	}
	if p := picture.Years(sixMonths(), 2, picture.Scale{Unit: kg}); len(p.Shapes) != 0 {
		t.Error("a picture of nobody")
	}
}

// Where what is spare is read, the lines across are whole units under the
// rating, and never so many that they crowd.
func TestLinesAcrossTheYears(t *testing.T) {
	t.Parallel()
	const pounds10 = measure.Mass(4536)
	for _, rider := range []int{0, 1} {
		for _, s := range []picture.Scale{{Unit: 10_000}, {Unit: pounds10}, {Unit: pounds10, Spare: true}} {
			p := picture.Years(sixMonths(), rider, s)
			from := measure.Mass(0)
			if s.Spare {
				from = 180 * measure.Kilogram
			}
			lines := append(p.Of(picture.Ground), p.Of(picture.Tick)...)
			if len(lines) < 2 || len(lines) > 8 {
				t.Errorf("rider %d, %+v: %d lines", rider, s, len(lines))
			}
			for _, line := range lines {
				if (line.Mass-from)%s.Unit != 0 {
					t.Errorf("rider %d, %+v: a line at %v", rider, s, line.Mass)
				}
			}
		}
	}
}
