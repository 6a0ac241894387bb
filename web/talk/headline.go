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
	if !ok || down(s, first.Spare) == down(s, gross) || first.Spare > gross {
		return said
	}
	return Beside(s, said, first)
}

// Beside goes on from what is said of the gross rating with a limit that leaves
// less.
func Beside(s *say.Speaker, said string, l match.Limit) string {
	switch {
	case l.Spare < 0:
		return s.Say("%v; %[3]v too much for %[2]v", said, l.Name, up(-l.Spare))
	case down(s, l.Spare) == down(s, 0):
		return s.Say("%v; %v takes no more", said, l.Name)
	}
	return s.Say("%v; %v takes %v more", said, l.Name, Down(l.Spare))
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
