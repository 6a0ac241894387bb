package shop_test

import (
	"net/http"
	"strings"
	"testing"

	"kinwain/web/webtest"
)

// TestAPageThatWasOpenEarlier: what somebody else has saved since stays where
// nobody typed over it, and is told where somebody did.
func TestAPageThatWasOpenEarlier(t *testing.T) {
	t.Parallel()
	for _, test := range []struct{ path, mine, text, shown, other, theirs, stays string }{
		{"/settings/figures", "clothing_g", "1,5 kg", "1.5 kg", "slack_margin_mm", "7 cm", "7 cm"},
		{"/settings/figures", "quote_days", "21", "21 days", "local_helmets_words", "A helmet on every head.", "A helmet on every head."},
		{"/settings/criteria", "hill_weight", "4", "4", "price_weight", "5", "5"},
		{"/settings/shop", "contact_hours", "Every day", "Every day", "contact_phone", "000 555 0143", "000 555 0143"},
		{"/settings/shop", "contact_phone", "000 555 0199", "000 555 0199", "tax_percent", "8,5", "8.5 %"},
	} {
		t.Run(test.mine, func(t *testing.T) {
			t.Parallel()
			v := webtest.Open(t).Staff()
			earlier, later := v.Get(test.path).Fields(), v.Get(test.path).Fields()
			later.Set(test.other, test.theirs)
			v.Post(test.path, later).Is(http.StatusOK, test.path)
			earlier.Set(test.mine, test.text)
			v.Post(test.path, earlier).Is(http.StatusOK, test.path)
			now := v.Get(test.path).Fields()
			if mine, other := now.Get(test.mine), now.Get(test.other); mine != test.shown || other != test.stays {
				t.Errorf("%s is %q, and of the other %s is %q", test.mine, mine, test.other, other)
			}

			earlier.Set(test.other, test.text)
			a := v.Post(test.path, earlier).Is(http.StatusConflict, test.path)
			if got := a.Text(webtest.ByID(test.other + "-error")); !strings.Contains(got, test.stays) {
				t.Errorf("of theirs is said %q", got)
			}
			if got := a.Fields().Get(test.other); got != test.text {
				t.Errorf("what was typed is %q", got)
			}
			if got := v.Get(test.path).Fields().Get(test.other); got != test.stays {
				t.Errorf("theirs is %q", got)
			}
		})
	}
}
