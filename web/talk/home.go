package talk

import (
	"strings"

	"kinwain/internal/fitting"
	"kinwain/internal/measure"
	"kinwain/internal/parking"
	"kinwain/internal/picture"
	"kinwain/web/kit"
)

// HomeDrawings draw the place where the bike will live with the bike in it,
// and the tightest part of the way there. There are none where nothing of the
// home is known, or where an answer was kept without the bike's outline.
func (v *Viewer) HomeDrawings() []kit.Drawing {
	if v.Home == nil || v.Bike.Flat == (parking.Box{}) {
		return nil
	}
	home := fitting.HomeOf(v.Profile)
	var drawn []kit.Drawing
	var tightest *parking.Part
	for _, part := range v.parts() {
		switch {
		case part.Name != "space":
			if tightest == nil || part.Slack < tightest.Slack {
				tightest = &part
			}
		case home.Space.Length > 0 || home.Space.Width > 0:
			pic := picture.Space(v.Bike, home, part.How)
			drawn = append(drawn, v.homeDrawing("place", part, &pic))
		}
	}
	if tightest != nil {
		if pic, ok := picture.Passage(v.Bike, home, *tightest); ok {
			drawn = append(drawn, v.homeDrawing("way", *tightest, &pic))
		}
	}
	return drawn
}

// homeDrawing draws one part of the home, with what is left in it: how much,
// and by a pattern as well as in words whether that is enough.
func (v *Viewer) homeDrawing(id string, part parking.Part, p *picture.Picture) kit.Drawing {
	title := "%v, from above, to scale"
	if strings.HasPrefix(part.Name, "doorways") {
		title = "%v, from ahead, to scale"
	}
	outline := v.Bike.Flat
	if part.How == parking.Upright {
		outline = v.Bike.Upright
	}
	notes := []string{v.gradeWords(part.Slack), v.Say("The bike as built, %v, is %v long, %v wide and %v high.", v.Say(HowWords[part.How]), up(outline.Length), up(outline.Width), up(outline.Height))}
	least := leastSlack(p)
	switch {
	case least == nil || part.Slack < least.Length-rounded:
		notes = append(notes, v.Say("It is tightest in height, which a view from above does not show."))
	default:
		least.Length = part.Slack
	}
	if len(p.Of(picture.Swept)) > 0 {
		notes = append(notes, v.Say("The thin outlines show its way round, the thick one where there is least room."))
	}
	d := kit.Draw(id, v.Say(title, v.partLabel(part.Name)), strings.Join(notes, " "), p, v.shapeWords)
	d.Class, d.Notes, d.Letter = "drawing plan", notes, max(d.Wide/planLetters, d.High/planLines)
	if d.High > d.Wide {
		d.Class += " tall"
	}
	for i := range p.Shapes {
		s := &p.Shapes[i]
		if s.Kind != picture.Slack {
			continue
		}
		if s == least {
			grade := v.grade(s.Length)
			d.Marks[i].Class += " " + grade
			d.Marks[i].Pattern = grade
		}
		d.Texts = append(d.Texts, v.slackText(s, &d, p))
	}
	return d
}

// planLetters and planLines are how many letters wide and high a plan may be:
// its letters are as large as those beside it, whatever its scale.
const planLetters, planLines = 20, 15

// rounded is by how much a drawn slack may differ from the judged one: points
// of a drawing are whole millimetres.
const rounded = 3 * measure.Millimetre

// leastSlack returns the mark of the least that is drawn as left.
func leastSlack(p *picture.Picture) *picture.Shape {
	var least *picture.Shape
	for i := range p.Shapes {
		if s := &p.Shapes[i]; s.Kind == picture.Slack && (least == nil || s.Length < least.Length) {
			least = s
		}
	}
	return least
}

// grade is how much a slack counts: as a verdict does, in the classes of
// reasons.
func (v *Viewer) grade(slack measure.Length) string {
	switch {
	case slack < 0:
		return "stop"
	case slack < v.Settings.SlackMargin:
		return "care"
	}
	return "enough"
}

func (v *Viewer) gradeWords(slack measure.Length) string {
	switch v.grade(slack) {
	case "stop":
		return v.Say("Stop, crossed lines: %v too large.", up(-slack))
	case "care":
		return v.Say("Care, slanted lines: only %v to spare.", Down(slack))
	}
	return v.Say("Enough, filled: %v to spare.", Down(slack))
}

// slackText writes beside a slack how much it is: within the bike's outline,
// and at a corner beyond the wall.
func (v *Viewer) slackText(s *picture.Shape, d *kit.Drawing, p *picture.Picture) kit.MarkText {
	from, to := s.Points[0], s.Points[1]
	down := d.Letter / 3 // from the middle of a letter to its foot
	t := kit.MarkText{X: int(from.X) - down, Y: int(p.Height-from.Y) + down, Class: "to", Text: v.Speaker.Length(s.Length, measure.Down)}
	switch {
	case len(p.Of(picture.Swept)) > 0:
		t.X, t.Y, t.Class = int(to.X)+down, int(p.Height-to.Y)-down, "from"
	case s.Of == "door":
		t.X, t.Y, t.Class = int(to.X)+2*down, int(p.Height-(from.Y+to.Y)/2)+down, "from"
	case s.Length < 0 && from.Y == to.Y: // above the crossed lines
		t.Y -= d.Letter
	case from.X == to.X:
		t.X, t.Y, t.Class = int(from.X), int(p.Height-from.Y)+4*down, "about"
	}
	return t
}
