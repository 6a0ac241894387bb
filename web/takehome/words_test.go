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
		"failures": {"Nothing here", "This link opens nothing, or no longer does. Ask the shop for a new one.", "Something broke on our side", "Try again in a while. If it happens twice, tell the shop."},
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
