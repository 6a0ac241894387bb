package talk

import (
	"kinwain/internal/match"
	"kinwain/internal/measure"
	"kinwain/web/say"
)

// Headline says what a build leaves to spare: of the gross rating, under the
// rider who leaves least of it, and beside it of the first limit where less is
// left there. It is a part of a sentence, such as "47.9 kg to spare; the child
// seat takes 0.1 kg more", in the language and the units of the speaker, and
// empty where no rider is weighed. Whatever page says how much a build can take
// says it with this, so that nobody reads of more than the frame bears.
func Headline(s *say.Speaker, m *match.Match) string {
	if len(m.Sheets) == 0 {
		return ""
	}
	gross := m.Sheets[0].Spare()
	for i := range m.Sheets {
		gross = min(gross, m.Sheets[i].Spare())
	}
	said := spareWords(s, gross)
	first, ok := m.First()
	switch {
	case !ok || down(s, first.Spare) == down(s, gross) || first.Spare > gross:
		return said
	case first.Spare < 0:
		return s.Say("%v; %v bears %v too much", said, first.Name, up(-first.Spare))
	case down(s, first.Spare) == down(s, 0):
		return s.Say("%v; %v takes no more", said, first.Name)
	}
	return s.Say("%v; %v takes %v more", said, first.Name, Down(first.Spare))
}

// down shows a mass as a headline does.
func down(s *say.Speaker, m measure.Mass) string { return s.Mass(m, measure.Down) }

// spareWords says what is left under the gross rating.
func spareWords(s *say.Speaker, spare measure.Mass) string {
	switch {
	case spare < 0:
		return s.Say("%v over the gross rating", up(-spare))
	case down(s, spare) == down(s, 0):
		return s.Say("nothing to spare")
	}
	return s.Say("%v to spare", Down(spare))
}
