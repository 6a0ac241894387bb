package takehome

import (
	"maps"
	"slices"
	"testing"

	"kinwain/web/say"
	"kinwain/web/talk"
)

// TestTablesAreSaid holds that whatever the pages look up for a customer is
// said in every language.
func TestTablesAreSaid(t *testing.T) {
	t.Parallel()
	for name, keys := range map[string][]string{
		"discreetly": slices.Collect(maps.Values(talk.Discreetly)), "contact": {"Phone", "E-mail", "Open"},
		"failures": failures(), "still": slices.Collect(maps.Values(stillWords)),
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

func failures() []string {
	all := brokenOpenly[:]
	for _, said := range openFailures {
		all = append(all, said[:]...)
	}
	return all
}
