package picture_test

import (
	"testing"

	"kinwain/internal/match"
	"kinwain/internal/measure"
	"kinwain/internal/picture"
)

// Every shape of the years lies on the sheet, and what weighs more lies higher:
// by a millimetre for every 250 g.
func TestYearsToScale(t *testing.T) {
	t.Parallel()
	const kg = measure.Kilogram
	first := measure.MonthOf(2026, 11)
	y := &match.Years{Gross: 180 * kg, Riders: []string{"A", "B"}, Marks: []match.Mark{
		{Kind: match.StageBegins, On: measure.Date{Year: 2026, Month: 11, Day: 25}}, {Kind: match.Outgrown, On: measure.Date{Year: 2027, Month: 2, Day: 28}, Passenger: "p"},
	}}
	for n := range measure.Month(6) {
		load := match.Range{Slow: 150*kg + measure.Mass(n)*kg, Planned: 152*kg + measure.Mass(n)*2*kg, Fast: 154*kg + measure.Mass(n)*6*kg}
		y.Months = append(y.Months, match.MonthAhead{Month: first + n, Loads: []match.Range{load, {Slow: 90 * kg, Planned: 90 * kg, Fast: 90 * kg}}})
	}
	p := picture.Years(y, 0)
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
	rating, line, band := one(picture.Rating), one(picture.Load), one(picture.Between)
	end := line.Points[len(line.Points)-1]
	if by := rating.Points[0].Y - end.Y; by != 18*4 || line.Mass != 162*kg || rating.Limit != 180*kg {
		t.Errorf("18 kg under the rating is %d mm", by)
	}
	if width := end.X - line.Points[0].X; width != 60 {
		t.Errorf("six months are %d mm", width)
	}
	_, top := band.Bounds()
	if over := top.Y - rating.Points[0].Y; over != 4*4 {
		t.Errorf("4 kg over the rating is %d mm", over)
	}
	if year := one(picture.Year); year.Of != "2027-01" || year.Points[0].X-line.Points[0].X != 20 {
		t.Errorf("the year begins at %+v", year)
	}
	if stage, event := one(picture.Stage), one(picture.Event); stage.Points[0].X-line.Points[0].X != 8 || event.Points[0].X-line.Points[0].X != 39 || event.Of != "outgrown" {
		t.Errorf("marks at %+v and %+v", stage, event)
	}
	if p := picture.Years(y, 2); len(p.Shapes) != 0 {
		t.Error("a picture of nobody")
	}
}
