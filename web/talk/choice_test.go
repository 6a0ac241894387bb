package talk

import (
	"slices"
	"testing"

	"kinwain/internal/catalog"
	"kinwain/internal/match"
	"kinwain/web/kit"
)

// TestOnlyWhatFitsIsPromised holds that a frame that was not judged, or does not
// fit, can be compared, and is offered neither ridden, quoted nor sent home.
func TestOnlyWhatFitsIsPromised(t *testing.T) {
	t.Parallel()
	for verdict, want := range map[match.Verdict]bool{match.Fits: true, match.FitsWithCare: true, match.NotJudged: false, match.DoesNotFit: false} {
		c := &Choice{Match: &match.Match{Frame: &catalog.Frame{Code: "sedge"}, Verdict: verdict}}
		steps := c.Next(&Consultation{ID: "a"}, Done{})
		for _, label := range []string{"Test ride", "Quote", "Send home"} {
			if got := slices.ContainsFunc(steps, func(s kit.Step) bool { return s.Label == label }); got != want {
				t.Errorf("%s of what %s: %v", label, verdict, got)
			}
		}
		if got := slices.ContainsFunc(steps, func(s kit.Step) bool { return s.Label == "Compare" }); !got {
			t.Errorf("%s is not compared: %v", verdict, steps)
		}
	}
}
