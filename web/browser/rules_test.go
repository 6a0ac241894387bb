package browser_test

import (
	"os"
	"testing"

	"github.com/chromedp/chromedp"

	"kinwain/internal/skipped"
	"kinwain/web/webtest"
)

// TestAccessibilityRulesInABrowser holds every page to the rules of axe-core
// that stand for WCAG 2.0 to 2.2, levels A and AA, and to its best practices.
// The environment variable KINWAIN_AXE names the file axe.min.js of that
// package of the npm registry.
func TestAccessibilityRulesInABrowser(t *testing.T) {
	path := os.Getenv("KINWAIN_AXE")
	if path == "" {
		skipped.Test(t, "the rules of axe-core: KINWAIN_AXE names its axe.min.js, see .ci/run")
	}
	rules, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	c := browser(t)
	s := webtest.Open(t)
	b := c.tab(s)
	b.expect("status of 403")
	b.expect("status of 404")
	b.expect("status of 422")
	check := func(path string) {
		t.Helper()
		b.visit(path)
		evaluate[chromedp.Void](b, `document.querySelectorAll("details").forEach((d) => { d.removeAttribute("name"); d.open = true; })`)
		if faults := b.breaches(string(rules)); faults != "" {
			t.Errorf("%s\n%s", path, faults)
		}
	}
	check("/")
	b.signIn()
	for _, path := range pathsToLookAt(s) {
		check(path)
	}
	v := s.Staff()
	link := v.SendHome(v.Interview([]byte(webtest.Family)), "osier-m", nil)
	for _, path := range []string{link, link + "?lang=de&units=imperial", "/fit/nothing"} {
		check(path)
	}
}

// breaches lists the rules that a page breaks, and where.
func (b *tab) breaches(rules string) string {
	b.Helper()
	evaluate[chromedp.Void](b, rules+`;
		window.told = null;
		axe.run(document, { resultTypes: ["violations"] }).then(
			(found) => { window.told = found.violations.map((v) => v.id + ", " + v.help + ": " + v.nodes.map((n) => n.html.slice(0, 160)).join(" | ")).join("\n"); },
			(error) => { window.told = String(error); });`)
	b.until(`window.told !== null`)
	return evaluate[string](b, `window.told`)
}
