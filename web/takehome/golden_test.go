package takehome_test

import (
	"net/http"
	"net/url"
	"testing"

	"kinwain/web/webtest"
)

// TestSummariesAsKept holds the pages of customers against those that are kept:
// of a frame that fits with care, of one that does not fit, without weights, in
// other units and other languages, and of a link that opens nothing.
func TestSummariesAsKept(t *testing.T) {
	t.Parallel()
	s := webtest.Open(t)
	v := s.Staff()
	address := v.Interview([]byte(webtest.Family))
	for name, c := range map[string]struct {
		frame, query string
		values       url.Values
	}{
		"fit-with-care-en":      {"osier-m", "?lang=en", nil},
		"fit-with-care-de-lb":   {"osier-l", "?lang=de&units=imperial", nil},
		"fit-not-nl":            {"knapweed-s", "?lang=nl", nil},
		"fit-hidden-weights-fr": {"teasel", "?lang=fr", url.Values{"hide": {"yes"}}},
	} {
		link := v.SendHome(address, c.frame, c.values) + c.query
		s.Stranger().Get(link).Is(http.StatusOK, link).Golden(name)
	}
	s.Stranger().Get("/fit/x").Is(http.StatusNotFound, "/fit/x").Golden("fit-nothing-here")
}
