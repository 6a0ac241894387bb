package desk_test

import (
	"strings"
	"testing"

	"kinwain/internal/match"
	"kinwain/web/webtest"
)

// notOffered holds that the page of a frame that does not do what was asked
// offers neither ride, quote nor summary, says what its build leaves out in the
// heading, and of no add-ons not that none are needed.
func notOffered(t *testing.T, m *match.Match, a *webtest.Answer) {
	t.Helper()
	if m.Verdict != match.DoesNotFit {
		return
	}
	if next := a.Text(".next"); next != "Compare" {
		t.Errorf("%s: offers %s", m.Frame.Code, next)
	}
	if strings.Contains(a.Text("main"), "the frame does it as it comes") {
		t.Errorf("%s: said to do it", m.Frame.Code)
	}
	if heading := a.Text("#addons"); len(m.Relaxed) > 0 != strings.Contains(heading, "leaves out") {
		t.Errorf("%s: leaves out %v under %q", m.Frame.Code, m.Relaxed, heading)
	}
	if over := a.Page.Find("figure.sheet.over, .zones .over").Length() > 0; !over && strings.Contains(a.Text(".reasons"), "over the gross rating") {
		t.Errorf("%s: over in the reasons and not in the sheet", m.Frame.Code)
	}
}
