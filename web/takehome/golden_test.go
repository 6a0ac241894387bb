package takehome_test

import (
	"net/http"
	"net/url"
	"testing"

	"kinwain/web/webtest"
)

// TestSummariesAsKept holds the pages of customers against those that are kept:
// of frames that fit with care and that do not, without weights, in other units
// and other languages, and of a link that opens nothing.
func TestSummariesAsKept(t *testing.T) {
	t.Parallel()
	s := webtest.Open(t)
	v := s.Staff()
	address := v.Interview([]byte(webtest.Family))
	for name, c := range map[string]struct {
		frame, query string
		values       url.Values
	}{
		"osier-m-en":                {"osier-m", "?lang=en", nil},
		"teasel-short-de-in-pounds": {"teasel-short", "?lang=de&units=imperial", nil},
		"osier-assist-nl":           {"osier-assist", "?lang=nl", nil},
		"teasel-fr-without-weights": {"teasel", "?lang=fr", url.Values{"hide": {"yes"}}},
	} {
		link := v.SendHome(address, c.frame, c.values) + c.query
		s.Stranger().Get(link).Is(http.StatusOK, link).Golden(name)
	}
	s.Stranger().Get("/fit/x").Is(http.StatusNotFound, "/fit/x").Golden("nothing-here")
}
