package say

import (
	"testing"

	"kinwain/internal/measure"
)

// TestAListWithCommas holds that a name with a comma does not read as two.
func TestAListWithCommas(t *testing.T) {
	t.Parallel()
	for want, names := range map[string][]string{"stand, tray and seat": {"stand", "tray", "seat"}, "stand; skirts, pair; seat": {"stand", "skirts, pair", "seat"}} {
		if got := New(English, measure.Metric).List(names); got != want {
			t.Errorf("%q, want %q", got, want)
		}
	}
}
