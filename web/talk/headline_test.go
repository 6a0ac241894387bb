package talk_test

import (
	"path"
	"strings"
	"testing"

	"kinwain/internal/catalog"
	"kinwain/internal/load"
	"kinwain/internal/match"
	"kinwain/internal/measure"
	"kinwain/internal/profile"
	"kinwain/testdata"
	"kinwain/web/say"
	"kinwain/web/talk"
)

// everybody judges the demo shop for every sample customer.
func everybody(t *testing.T) map[string][]*match.Match {
	t.Helper()
	c, err := catalog.Parse(testdata.Demo)
	if err != nil {
		t.Fatal(err)
	}
	files, err := testdata.Profiles.ReadDir("profiles")
	if err != nil || len(files) < 8 {
		t.Fatal(len(files), err)
	}
	told := map[string][]*match.Match{}
	for _, file := range files {
		document, err := testdata.Profiles.ReadFile(path.Join("profiles", file.Name()))
		if err != nil {
			t.Fatal(err)
		}
		p, err := profile.Parse(document)
		if err != nil {
			t.Fatal(err)
		}
		if told[file.Name()], err = match.Rank(t.Context(), c, p, match.DefaultSettings(), match.Options{}); err != nil {
			t.Fatal(err)
		}
	}
	return told
}

// leastOf works out from the load sheets alone what is left of the gross
// rating, and the least of the gross rating, the zones and the axles.
func leastOf(m *match.Match) (gross, least measure.Mass) {
	gross = m.Frame.GrossRating
	for i := range m.Sheets {
		gross = min(gross, m.Sheets[i].Rating-m.Sheets[i].Total)
	}
	least = gross
	for i := range m.Sheets {
		s := &m.Sheets[i]
		for _, z := range append(append([]load.ZoneLoad{}, s.Zones...), s.Combined...) {
			if z.Rating > 0 && z.Mass > 0 {
				least = min(least, z.Rating-z.Mass)
			}
		}
		if s.Axles && m.Frame.FrontAxleRating > 0 {
			least = min(least, m.Frame.FrontAxleRating-s.Front)
		}
		if s.Axles && m.Frame.RearAxleRating > 0 {
			least = min(least, m.Frame.RearAxleRating-s.Rear)
		}
	}
	return gross, least
}

// TestHeadlinesNameTheFirstLimit holds, over all sample customers and frames,
// in every language and in both systems of units, that a headline says what is
// spare of the gross rating, and never without the limit that leaves less.
func TestHeadlinesNameTheFirstLimit(t *testing.T) {
	t.Parallel()
	named, alone := 0, 0
	for customer, matches := range everybody(t) {
		for _, m := range matches {
			if !m.Fits() || m.Verdict == match.NotJudged {
				continue
			}
			gross, least := leastOf(m)
			for _, l := range m.Limits {
				least = min(least, l.Spare)
			}
			for _, language := range say.Languages {
				for _, units := range []measure.System{measure.Metric, measure.Imperial} {
					s := say.New(language, units)
					got := talk.Headline(s, m)
					whole, first, both := strings.Cut(strings.ReplaceAll(got, "\u202f;", ";"), "; ")
					if want := s.Mass(gross, measure.Down); !strings.Contains(whole, want) {
						t.Errorf("%s on %s: %q does not say %s", customer, m.Frame.Code, got, want)
					}
					if both {
						named++
					} else {
						alone++
					}
					if less := s.Mass(least, measure.Down); both != (less != s.Mass(gross, measure.Down)) {
						t.Errorf("%s on %s: %q, where %s is left", customer, m.Frame.Code, got, less)
					} else if both && least >= 100 && !strings.Contains(first, less) || both && !strings.Contains(first, s.Message(m.Limits[0].Name)) {
						t.Errorf("%s on %s: %q, where %s is left of %s", customer, m.Frame.Code, got, less, s.Message(m.Limits[0].Name))
					}
				}
			}
		}
	}
	if named < 100 || alone < 8 {
		t.Errorf("%d headlines name a limit, %d need none: too few to tell", named, alone)
	}
}

// TestHeadlineEdges tries what the sample customers do not show: the least
// left that is a figure, less than is shown, and a stand that bears too little.
func TestHeadlineEdges(t *testing.T) {
	t.Parallel()
	frame := match.Message{Format: "the gross rating"}
	stand := match.Message{Format: "the %v", Args: []any{match.AddOn{Code: "stand", Name: "Two-leg stand"}}}
	for _, c := range []struct {
		gross, first measure.Mass
		en, de       string
	}{
		{47_940, 100, "47.9 kg to spare; the two-leg stand takes 0.1 kg more", "47,9 kg Reserve; nur noch 0,1 kg für „two-leg stand“"},
		{47_940, 99, "47.9 kg to spare; the two-leg stand takes no more", "47,9 kg Reserve; nichts mehr für „two-leg stand“"},
		{47_940, 0, "47.9 kg to spare; the two-leg stand takes no more", "47,9 kg Reserve; nichts mehr für „two-leg stand“"},
		{47_940, -1, "47.9 kg to spare; 0.1 kg too much for the two-leg stand", "47,9 kg Reserve; 0,1 kg zu viel für „two-leg stand“"},
		{47_940, 47_900, "47.9 kg to spare", "47,9 kg Reserve"},
		{99, 99, "nothing to spare", "keine Reserve"},
		{-1, -1, "0.1 kg over the gross rating", "0,1 kg über dem zulässigen Gesamtgewicht"},
	} {
		m := &match.Match{Sheets: []load.Sheet{{Rating: 200_000, Total: 200_000 - c.gross}, {Rating: 200_000, Total: 100_000}},
			Limits: []match.Limit{{Rating: "stand", Spare: c.first, Name: stand}, {Rating: "gross", Spare: c.gross, Name: frame}}}
		for language, want := range map[say.Language]string{say.English: c.en, say.German: c.de} {
			if got := strings.ReplaceAll(talk.Headline(say.New(language, measure.Metric), m), "\u00a0", " "); got != want {
				t.Errorf("%d and %d g: %q, want %q", c.gross, c.first, got, want)
			}
		}
	}
	if got := talk.Headline(say.New(say.English, measure.Metric), &match.Match{}); got != "" {
		t.Errorf("of nobody: %q", got)
	}
}
