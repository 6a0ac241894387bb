package takehome_test

import (
	"net/url"
	"strings"
	"testing"

	"kinwain/web/webtest"
)

// TestNobodyIsAskedToWeighAChildToBeBorn reads a summary of a family that expects
// a child, with and without the riders' weights.
func TestNobodyIsAskedToWeighAChildToBeBorn(t *testing.T) {
	t.Parallel()
	s := webtest.Open(t)
	v := s.Staff()
	address := v.Interview(webtest.Customers(t)["baby-on-the-way"])
	frame := ""
	for _, one := range webtest.ToldByRanking(v.Get(address + "/frames")) {
		if frame == "" && one.Verdict != "does_not_fit" {
			frame = one.Frame
		}
	}
	if text := v.Get(address + "/frames/" + frame).Text(".reasons"); !strings.Contains(text, "Second child is not born yet") || strings.Contains(text, "Second child is not weighed") {
		t.Errorf("staff read: %s", text)
	}
	for name, hide := range map[string]url.Values{"with weights": nil, "without": {"hide": {"yes"}}} {
		link := v.SendHome(address, frame, hide)
		text := s.Stranger().Get(link).Text("[aria-labelledby=again]")
		if !strings.Contains(text, "First child is not weighed") || !strings.Contains(text, "Second child is not born yet") || strings.Contains(text, "Second child is not weighed") {
			t.Errorf("%s: %s", name, text)
		}
		speaksNoEnglish(s, link, english(demo(s)), name)
	}
}
