package compare_test

import (
	"testing"

	"kinwain/internal/compare"
	"kinwain/internal/match"
	"kinwain/internal/profile"
)

// TestWhatIsNotJudgedDoesNotCompete holds that the figures of the build of a
// frame that is not judged are never the better ones.
func TestWhatIsNotJudgedDoesNotCompete(t *testing.T) {
	t.Parallel()
	judged, matches := customer(t, "tradesperson", asItIs, "teasel", "osier-assist")
	m := *matches[0]
	m.Verdict, m.Score, m.Horizon = match.NotJudged, nil, nil
	rows := compare.Rows(&profile.Profile{}, []*match.Match{&m, matches[1]})
	for _, code := range []string{"total_price", "spare", "home", "length", "handling_mass"} {
		if was, is := find(t, judged, code, ""), find(t, rows, code, ""); was.Cells[0].State != compare.Stated || is.Cells[0].State != compare.Partial {
			t.Errorf("%s: %+v, not judged %+v", code, was.Cells[0], is.Cells[0])
		}
	}
}
