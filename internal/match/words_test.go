package match_test

import (
	"strings"
	"testing"

	"kinwain/internal/match"
	"kinwain/internal/measure"
	"kinwain/internal/profile"
)

// TestOnePassengerIsSpokenOfAsOne says of the only passenger nothing of places
// that do not go together.
func TestOnePassengerIsSpokenOfAsOne(t *testing.T) {
	t.Parallel()
	for _, c := range []struct{ customer, frame, want string }{
		{"third-floor-flat", "osier-m", "A place suits the passenger, but on this frame not together with all else that was asked for."},
		{"twins", "sedge", "Everyone has a place that suits, but these places do not go together on this frame."},
	} {
		ranking, err := match.Rank(t.Context(), demoShop(t), customers(t)[c.customer], match.DefaultSettings(), match.Options{})
		if err != nil {
			t.Fatal(err)
		}
		for _, m := range ranking {
			if m.Frame.Code == c.frame {
				if list := reasonsOf(m, match.ReasonPlaceLimits); len(list) != 1 || list[0].Message.In(measure.Metric) != c.want {
					t.Errorf("%s, %s: %v", c.customer, c.frame, list)
				}
			}
		}
	}
}

// TestWhatCannotStandUprightSaysWhy blames add-ons only for what the frame could
// do without them.
func TestWhatCannotStandUprightSaysWhy(t *testing.T) {
	t.Parallel()
	for _, stands := range []bool{false, true} {
		k := atCounter()
		k.kids(kid("p", "2023-05"))
		k.home(profile.Home{MustStandUpright: profile.Given(true)})
		if stands {
			k.f.Upright.Length, k.f.Upright.Width, k.f.Upright.Height = 60*cm, 60*cm, 180*cm
			k.seat().BlocksUpright = true
		}
		list := reasonsOf(k.judge(t), match.ReasonUpright)
		if len(list) != 1 || strings.Contains(list[0].Message.In(measure.Metric), "with these add-ons") != stands {
			t.Errorf("a frame that can stand, %t: %v", stands, list)
		}
	}
}
