package takehome

import (
	"net/http"
	"slices"
	"strings"

	"github.com/go-chi/chi/v5"

	"kinwain/internal/advice"
	"kinwain/internal/match"
	"kinwain/internal/picture"
	"kinwain/internal/profile"
	"kinwain/web/kit"
	"kinwain/web/talk"
)

// measureAtHome shows the card of a consultation: what is still to be measured
// at home, with the figures that decide about any frame of the shop.
func (room *Room) measureAtHome(w http.ResponseWriter, r *http.Request) error {
	c, err := room.Whole(r)
	if err != nil {
		return err
	}
	told := c.In(talk.PaperLanguage(r, c.Form))
	asked, err := c.AtHome(r.Context(), c.Profile)
	if err != nil {
		return err
	}
	view := measureView(told, asked)
	view.Title = told.Titled(view.Title)
	view.Back, view.BackTo, view.Languages = c.Address("/frames"), "All frames", switchesOf(r, told)
	return kit.Render(r.Context(), w, http.StatusOK, MeasurePage(view))
}

// measureByLink shows the card to whoever has the link of a fit summary, with
// the figures that decide about its bike. Where the riders' weights are left
// out there are none: what decides beside them may turn on a weight.
func (room *Room) measureByLink(w http.ResponseWriter, r *http.Request) error {
	saved, err := room.summary(r)
	if err != nil {
		return err
	}
	k, _, err := room.read(r.Context(), &saved)
	if err != nil {
		return err
	}
	c := &talk.Consultation{Profile: k.Customer, Shop: k.Shop, Speaker: speakerOf(r, k)}
	var asked []match.Question
	if !k.Hide {
		asked, err = advice.Remember(r.Context(), room.Advice, "measures of a fit summary", readBytes*len(saved.Document), func() ([]match.Question, error) {
			return k.Shop.AtHome(r.Context(), k.Customer)
		}, saved.Document)
		if err != nil {
			return err
		}
	}
	view := measureView(c, asked)
	view.Back, view.BackTo = "/fit/"+chi.URLParam(r, "token"), c.Say("Back to the bike")
	view.Languages, _ = switchesTo(c.Speaker)
	return kit.Render(r.Context(), w, http.StatusOK, MeasurePage(view))
}

// switchesOf lead to a card of staff in other languages.
func switchesOf(r *http.Request, c *talk.Consultation) []Switch {
	var list []Switch
	for _, t := range talk.Tongues(r, c.Speaker.Language) {
		list = append(list, Switch(t))
	}
	return list
}

// openAtHome lists what is still to be measured at home, in the order of the
// talk. A lift is measured where there is one.
func openAtHome(p *profile.Profile) []profile.Unanswered {
	home := p.Home.Or(profile.Home{})
	return slices.DeleteFunc(p.Unanswered(), func(u profile.Unanswered) bool {
		name, is := strings.CutPrefix(u.Path, "home.")
		return !is || u.Question.Usual == profile.Span{Most: 1} || strings.HasPrefix(name, "lift.") && home.Lift.IsZero()
	})
}

// measureView draws the card.
func measureView(c *talk.Consultation, asked []match.Question) Measures {
	view := Measures{FitShell: fitShell(c.Speaker), Shop: c.Catalogue.Shop.Name}
	view.Title = c.Say("To measure at home")
	open := openAtHome(c.Profile)
	for len(open) > 0 {
		part, _ := partOf(open[0].Path)
		n := slices.IndexFunc(open, func(u profile.Unanswered) bool { other, _ := partOf(u.Path); return other != part })
		if n < 0 {
			n = len(open)
		}
		view.Parts = append(view.Parts, measuredPart(c, part, open[:n], asked))
		open = open[n:]
	}
	return view
}

// partOf splits the path of a measure into the part of the home, such as
// doorways[0], and the name of the answer.
func partOf(path string) (part, name string) {
	part, name, of := strings.Cut(strings.TrimPrefix(path, "home."), ".")
	switch {
	case of:
		return part, name
	case part == "steps":
		return part, part
	}
	return "place", part
}

// measuredPart is one part of the home with its sketch and what is open there.
func measuredPart(c *talk.Consultation, code string, open []profile.Unanswered, asked []match.Question) MeasuredPart {
	kind, _, _ := strings.Cut(code, "[")
	p := MeasuredPart{Name: talk.PartName(c.Speaker, code)}
	var names []string
	for _, u := range open {
		_, name := partOf(u.Path)
		names = append(names, name)
	}
	pic, _ := picture.Sketch(kind, names...)
	id := "sketch-" + strings.NewReplacer("[", "-", "]", "").Replace(code)
	p.Sketch = kit.Draw(id, p.Name, "", &pic, func(*picture.Shape) string { return "" })
	p.Sketch.Class, p.Sketch.Letter = "drawing plan sketch", max(p.Sketch.Wide, p.Sketch.High)/sketchLetters
	for i, u := range open {
		m := Measure{Text: c.Say(u.Question.Asked.English), Unit: unitOf(c, names[i])}
		for k, s := range pic.Of(picture.Measured) {
			if s.Of == names[i] {
				m.Letter = string(rune('A' + k))
				p.Sketch.Texts = append(p.Sketch.Texts, letterAt(m.Letter, &s, &p.Sketch))
			}
		}
		for k := range asked {
			if asked[k].Path == u.Path {
				m.Says = said(c, &asked[k])
			}
		}
		p.Measures = append(p.Measures, m)
	}
	return p
}

// sketchLetters is how many letters wide a sketch is.
const sketchLetters = 12

// letterAt writes a letter beside the middle of a line.
func letterAt(letter string, s *picture.Shape, d *kit.Drawing) kit.MarkText {
	from, to := s.Points[0], s.Points[1]
	return kit.MarkText{Class: "about", Text: letter, X: int(from.X+to.X)/2 + d.Letter*2/3, Y: d.High - int(from.Y+to.Y)/2 - d.Letter/3}
}

// said is what an answer decides.
func said(c *talk.Consultation, q *match.Question) []string {
	var list []string
	for _, m := range q.Says() {
		list = append(list, c.Speaker.Message(m))
	}
	return list
}

// unitOf is the unit in which an answer is written on the card.
func unitOf(c *talk.Consultation, name string) string {
	if !strings.HasSuffix(name, "_cm") {
		return ""
	}
	return c.Speaker.LengthUnit()
}
