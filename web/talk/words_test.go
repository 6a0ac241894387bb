package talk

import (
	"maps"
	"slices"
	"testing"

	"kinwain/web/say"
)

// TestTablesAreSaid holds that whatever the pages look up for a customer is
// said in every language.
func TestTablesAreSaid(t *testing.T) {
	t.Parallel()
	for name, keys := range map[string][]string{
		"relaxed": slices.Collect(maps.Values(RelaxedNames)), "causes": slices.Collect(maps.Values(causeTexts)), "poses": slices.Collect(maps.Values(HowWords)),
		"verdicts": slices.Collect(maps.Values(VerdictWords)), "weights": slices.Collect(maps.Values(WeightWords)),
	} {
		if len(keys) == 0 {
			t.Errorf("no %s", name)
		}
		for _, key := range keys {
			if !say.Has(key) {
				t.Errorf("%s: nobody says %q", name, key)
			}
		}
	}
}
