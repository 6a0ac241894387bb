package talk

import (
	"slices"
	"testing"

	"kinwain/internal/catalog"
	"kinwain/internal/match"
	"kinwain/web/kit"
)

// TestOnlyWhatFitsIsPromised holds that a frame that was not judged, or does not
// fit, can be ridden and looked at, and is offered neither quoted nor sent home.
func TestOnlyWhatFitsIsPromised(t *testing.T) {
	t.Parallel()
	for verdict, want := range map[match.Verdict]bool{match.Fits: true, match.FitsWithCare: true, match.NotJudged: false, match.DoesNotFit: false} {
		c := &Choice{Match: &match.Match{Frame: &catalog.Frame{Code: "sedge"}, Verdict: verdict}}
		steps := c.Next(&Consultation{ID: "a"})
		for _, label := range []string{"Quote", "Send home"} {
			if got := slices.ContainsFunc(steps, func(s kit.Step) bool { return s.Label == label }); got != want {
				t.Errorf("%s of what %s: %v", label, verdict, got)
			}
		}
		if len(steps) < 3 {
			t.Errorf("%s: %v", verdict, steps)
		}
	}
}
