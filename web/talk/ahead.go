package talk

import (
	"cmp"
	"slices"
	"strconv"
	"strings"

	"kinwain/internal/match"
	"kinwain/internal/measure"
	"kinwain/internal/picture"
	"kinwain/web/kit"
)

// yearsAhead works out what a match of today carries in the years ahead.
func (v *Viewer) yearsAhead() *match.Years {
	return match.YearsAhead(v.Match, v.Profile, v.Settings, 12*v.Profile.Years.Or(match.YearsUnasked))
}

// Ahead draws what the bike carries in the years ahead, under each rider, the
// one for whom least is to spare first.
// Where nobody is to see what a rider weighs, it tells what is spare alone, in
// the order in which they were told.
// There is nothing to draw where nobody on it grows.
func (v *Viewer) Ahead(spare bool) []kit.Ahead {
	y := v.years()
	if y == nil || len(v.Profile.Passengers.Or(nil)) == 0 {
		return nil
	}
	order := make([]int, len(y.Riders))
	for i := range order {
		order[i] = i
	}
	if !spare {
		now := y.Months[0].Loads
		slices.SortStableFunc(order, func(a, b int) int { return cmp.Compare(now[b].Planned, now[a].Planned) })
	}
	var list []kit.Ahead
	for _, rider := range order {
		list = append(list, v.ahead(y, rider, spare))
	}
	return list
}

func (v *Viewer) ahead(y *match.Years, rider int, spare bool) kit.Ahead {
	name, unit := y.Riders[rider], v.System().MassUnit()
	a := kit.Ahead{Drawn: v.aheadDrawing(y, rider, spare), Caption: v.Say("Under rider %v, in figures", name)}
	a.Head = []string{v.Say("End of"), v.Say("Load, %v", unit), v.Say("If slow"), v.Say("If fast"), v.Say("To spare")}
	if spare {
		a.Head = []string{v.Say("End of"), v.Say("To spare, %v", unit), v.Say("If slow"), v.Say("If fast")}
	}
	happens := map[measure.Month][]string{}
	for i, m := range y.Shown() {
		month := m.On.InMonth()
		happens[month] = append(happens[month], v.numbered(i, m))
	}
	for i, m := range y.Months {
		half := m.Month.Month() == 6 || m.Month.Month() == 12
		if i == 0 || i == len(y.Months)-1 || half || len(happens[m.Month]) > 0 {
			a.Rows = append(a.Rows, kit.AheadRow{When: v.Speaker.Month(m.Month), Figures: v.aheadFigures(m.Loads[rider], y.Gross, spare), Happens: happens[m.Month]})
		}
	}
	return a
}

// aheadFigures are what is carried at the end of a month, rounded as a load
// sheet is.
func (v *Viewer) aheadFigures(l match.Range, gross measure.Mass, spare bool) []string {
	var loads, left []string
	for _, mass := range [...]measure.Mass{l.Planned, l.Slow, l.Fast} {
		t := measure.NewTally([]measure.Mass{mass}, gross, v.System())
		loads, left = append(loads, v.Speaker.Decimal(t.Total)), append(left, v.Speaker.Decimal(t.Spare))
	}
	if spare {
		return left
	}
	return append(loads, left[0])
}

// tens are ten units of a system, to the gram.
var tens = [...]measure.Mass{measure.Metric: 10 * measure.Kilogram, measure.Imperial: 4536}

func (v *Viewer) aheadDrawing(y *match.Years, rider int, spare bool) kit.Drawing {
	pic := picture.Years(y, rider, picture.Scale{Unit: tens[v.System()], Spare: spare})
	title := v.Say("What it carries month by month, under rider %v", y.Riders[rider])
	notes := []string{v.Say("Straight line: the gross rating, %v. Thick: what is planned with. Hatched: from slow to fast growth.", Down(y.Gross))}
	for i, m := range y.Shown() {
		notes = append(notes, v.numbered(i, m))
	}
	d := kit.Draw("years-"+strconv.Itoa(rider+1), title, strings.Join(notes, " "), &pic, func(s *picture.Shape) string { return v.aheadWords(s, spare) })
	d.Class, d.Notes, d.Letter = "drawing years", notes, d.Wide/aheadLetters
	marks := 0
	for i := range pic.Shapes {
		switch s := &pic.Shapes[i]; s.Kind {
		case picture.Between:
			d.Marks[i].Pattern = "between"
		case picture.Stage, picture.Event:
			d.Marks[i].Class += " " + s.Of
			marks++
			head := s.Points[1]
			d.Texts = append(d.Texts, kit.MarkText{X: int(head.X), Y: d.High - int(head.Y) + d.Letter, Class: "about flag", Text: strconv.Itoa(marks)})
		}
	}
	d.Texts = append(v.aheadTexts(&pic, &d, spare), d.Texts...)
	return d
}

// aheadLetters is how many letters high would be as high as the picture of the
// years is wide.
const aheadLetters = 29

// aheadTexts write what the lines across stand for, and the years.
func (v *Viewer) aheadTexts(p *picture.Picture, d *kit.Drawing, spare bool) []kit.MarkText {
	var texts []kit.MarkText
	write := func(x, y measure.Length, class, text string) {
		texts = append(texts, kit.MarkText{X: int(x), Y: d.High - int(y), Class: class, Text: text})
	}
	gap := measure.Length(d.Letter / 4)
	gross := p.Of(picture.Rating)[0]
	low, high := gross.Points[0], gross.Points[1]
	for _, s := range append(p.Of(picture.Ground), p.Of(picture.Tick)...) {
		if s.Kind == picture.Tick && max(s.Points[0].Y-low.Y, low.Y-s.Points[0].Y) < measure.Length(d.Letter) {
			continue // the rating is written there
		}
		mass := s.Mass
		if spare {
			mass = gross.Limit - mass
		}
		write(s.Points[0].X, s.Points[0].Y+gap, "from", v.Speaker.Mass(mass, measure.Nearest))
	}
	rating := gross.Limit
	if spare {
		rating = 0
	}
	write(p.Of(picture.Ground)[0].Points[0].X, low.Y+gap, "from rated", v.Speaker.Mass(rating, measure.Down))
	years := p.Of(picture.Year)
	for i, s := range years {
		next := high.X
		if i+1 < len(years) {
			next = years[i+1].Points[0].X
		}
		if at := s.Points[0]; int(next-at.X) > 5*d.Letter/2 {
			write(at.X+gap, at.Y+gap, "from", s.Of[:4])
		}
	}
	return texts
}

// aheadWords say what a line of the years is.
func (v *Viewer) aheadWords(s *picture.Shape, spare bool) string {
	switch {
	case s.Kind == picture.Rating && !spare:
		return v.Say("gross rating") + ", " + v.Speaker.Mass(s.Limit, measure.Down)
	case s.Kind == picture.Between:
		return v.Say("If slow") + " – " + v.Say("If fast")
	}
	return ""
}

func (v *Viewer) numbered(i int, m match.Mark) string {
	return strconv.Itoa(i+1) + ": " + v.markWords(m)
}

// markWords say what happens, and when.
func (v *Viewer) markWords(m match.Mark) string {
	month, whom := m.On.InMonth(), match.Label{Text: m.Passenger}
	switch m.Kind {
	case match.StageBegins:
		return v.Say("From %v: stage %v of the plan.", month, m.Stage+1)
	case match.Joins:
		return v.Say("From %v: %v joins.", m.On, whom)
	case match.Leaves:
		return v.Say("From %v: %v rides a bike of their own.", m.On, whom)
	case match.ServedUntil:
		return v.Say("End of %v: the last month that it carries everyone.", month)
	}
	return v.Say(outgrownTexts[m.Limit], month, whom, v.about(m.AddOn))
}

var outgrownTexts = map[string]string{
	"place_weight":  "End of %v: %v is too heavy for the %v.",
	"place_age":     "End of %v: %v is too old for the %v.",
	"place_stature": "End of %v: %v is too tall for the %v.",
}
