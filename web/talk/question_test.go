package talk

import (
	"testing"

	"kinwain/internal/measure"
	"kinwain/internal/profile"
	"kinwain/web/say"
)

// TestACornerIsNamed holds that a corridor says that it is that of a corner, and
// of which where there are several.
func TestACornerIsNamed(t *testing.T) {
	t.Parallel()
	for l, want := range map[say.Language][2]string{
		say.English: {"corridor before the corner", "corridor after the corner (corner 2)"},
		say.French:  {"couloir avant l’angle", "couloir après l’angle (l’angle 2)"},
		say.German:  {"Gang vor der Ecke", "Gang nach der Ecke (Ecke 2)"},
		say.Dutch:   {"gang voor de hoek", "gang na de hoek (hoek 2)"},
	} {
		c := &Consultation{Speaker: say.New(l, measure.Metric), Profile: &profile.Profile{}}
		for i, path := range []string{"home.corners[0].in_cm", "home.corners[1].out_cm"} {
			c.Profile.Home = profile.Given(profile.Home{Corners: profile.Given(make([]profile.Corner, i+1))})
			if got := Question(c, path); got != want[i] {
				t.Errorf("%s, %s: %q, want %q", l, path, got, want[i])
			}
		}
	}
}
