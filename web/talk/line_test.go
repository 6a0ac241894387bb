package talk

import (
	"strings"
	"testing"

	"kinwain/internal/match"
	"kinwain/internal/measure"
	"kinwain/web/say"
)

// TestALineSaysEverythingOnce holds that until when a frame lasts and what is too
// much for its stand are not said again among its cares.
func TestALineSaysEverythingOnce(t *testing.T) {
	t.Parallel()
	want := map[string]string{
		"second-child-soon on osier-m": "kg too much for the two-leg stand. Lasts until January 2027",
		"second-child-soon on osier-l": "kg too much for the two-leg stand. Lasts until January 2027",
		"schoolchildren on knapweed-m": "And 2 more reasons.",
		"nine-month-old on teasel":     "And 1 more reason.",
	}
	cares := 0
	viewed(t, func(name string, c *Consultation, m *match.Match) {
		c.Speaker = say.New(say.English, measure.Metric)
		line := Line(c, m, nil)
		if !strings.Contains(line, want[name]) {
			t.Errorf("%s: %s", name, line)
		}
		delete(want, name)
		for _, again := range []string{"carries everyone only until", "outgrown soon"} {
			if strings.Contains(line, " until ") && strings.Contains(line, again) {
				t.Errorf("%s: again %q: %s", name, again, line)
			}
		}
		for _, again := range []string{"heavy for its stand", "that the two-leg stand bears"} {
			if strings.Contains(line, "too much for the two-leg stand") && strings.Contains(line, again) {
				t.Errorf("%s: again %q: %s", name, again, line)
			}
		}
		if strings.Contains(line, "Also: ") {
			cares++
		}
	})
	if len(want) > 0 || cares < 20 {
		t.Errorf("%v are not there, and %d lines name what else needs care", want, cares)
	}
}

// TestNamesWithinASentence begins none with a capital.
func TestNamesWithinASentence(t *testing.T) {
	t.Parallel()
	seen := false
	viewed(t, func(name string, c *Consultation, m *match.Match) {
		if name != "large-dog on osier-m" {
			return
		}
		c.Speaker = say.New(say.English, measure.Metric)
		seen = true
		said := View(c, m).axleWords(&m.Sheets[0])
		if want := "Where the wide two-leg stand for heavy loads sits is not stated: its weight counts whole on either axle."; said != want {
			t.Errorf("%q, want %q", said, want)
		}
	})
	if !seen {
		t.Error("there is no such frame")
	}
}

// TestPartsOfASentenceAgree holds that what stands within a sentence has the
// case and the place that the sentence gives it.
func TestPartsOfASentenceAgree(t *testing.T) {
	t.Parallel()
	want := map[string]map[say.Language]string{
		"tradesperson on teasel":      {say.English: "the rear axle takes ", say.German: " für die Hinterachse", say.French: " pour l’essieu arrière", say.Dutch: " voor de achteras"},
		"third-floor-flat on sedge-s": {say.English: "walked on its tail through the lift on the way.", say.German: "Für den Aufzug muss man", say.French: "Pour l’ascenseur, il faut", say.Dutch: "Voor de lift moet hij"},
	}
	viewed(t, func(name string, c *Consultation, m *match.Match) {
		for l, part := range want[name] {
			s := say.New(l, measure.Metric)
			said := Headline(s, m)
			for _, r := range m.Reasons {
				said += " " + s.Message(r.Message)
			}
			if !strings.Contains(said, part) {
				t.Errorf("%s, %s: no %q in %s", name, l, part, said)
			}
		}
		delete(want, name)
	})
	if len(want) > 0 {
		t.Errorf("%v are not there", want)
	}
}
