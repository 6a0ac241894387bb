package desk_test

import (
	"slices"
	"strings"
	"testing"

	"kinwain/internal/match"
	"kinwain/web/webtest"
)

// brakesAreSaid holds that the page of a frame names the brakes in words and
// says that they suit, or that there is something to mind: never both, and
// that something is said of a grip that was asked about.
func brakesAreSaid(t *testing.T, m *match.Match, reduced bool, a *webtest.Answer) {
	t.Helper()
	text := a.Text("article > header .brakes")
	for _, brake := range []string{m.Frame.FrontBrake, m.Frame.RearBrake} {
		if !strings.Contains(text, strings.ReplaceAll(brake, "_", " ")) || strings.Contains(text, "_") {
			t.Errorf("%s: %q does not name %q", m.Frame.Code, text, brake)
		}
	}
	cared := slices.ContainsFunc(m.Reasons, func(r match.Reason) bool { return r.Code == match.ReasonGrip || r.Code == match.ReasonBrakes })
	stated := m.Frame.FrontBrake != "" && m.Frame.RearBrake != ""
	if minds := strings.Contains(text, "Mind what"); cared != minds || minds && strings.Contains(text, "suit") {
		t.Errorf("%s: %q, with care %v", m.Frame.Code, text, cared)
	} else if !cared && reduced && stated && !strings.Contains(text, "suit a reduced grip") {
		t.Errorf("%s: nothing is said of the grip asked about: %q", m.Frame.Code, text)
	}
}

// notOffered holds that the page of a frame that does not do what was asked
// offers neither quote nor summary, says what its build leaves out in the
// heading, and of no add-ons not that none are needed.
func notOffered(t *testing.T, m *match.Match, a *webtest.Answer) {
	t.Helper()
	if m.Verdict != match.DoesNotFit {
		return
	}
	if next := a.Text(".next"); strings.Contains(next, "Quote") || strings.Contains(next, "Send home") || !strings.Contains(next, "though it does not fit") {
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
