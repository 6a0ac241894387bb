package browser_test

import (
	"os"
	"sync"

	"github.com/chromedp/chromedp"
)

// axe is the script of axe-core, or "" where it is not to be had. The
// environment variable KINWAIN_AXE names the file axe.min.js of that package of
// the npm registry.
var axe = sync.OnceValue(func() string {
	path := os.Getenv("KINWAIN_AXE")
	if path == "" {
		return ""
	}
	script, err := os.ReadFile(path)
	if err != nil {
		panic(err) // whoever named it meant it
	}
	return string(script)
})

// rules holds the page as it stands to the rules of axe-core, where those are
// to be had.
func (b *tab) rules(page string) {
	b.Helper()
	if faults := b.breaches(); faults != "" {
		b.Errorf("%s\n%s", page, faults)
	}
}

// breaches lists the rules that a page breaks, and where: those that stand for
// WCAG 2.0 to 2.2, levels A and AA, and best practices. Nobody knows of any
// where axe-core is not to be had.
func (b *tab) breaches() string {
	b.Helper()
	if axe() == "" {
		return ""
	}
	evaluate[chromedp.Void](b, axe()+`;
		window.told = null;
		axe.run(document, { resultTypes: ["violations"] }).then(
			(found) => { window.told = found.violations.map((v) => v.id + ", " + v.help + ": " + v.nodes.map((n) => n.html.slice(0, 160)).join(" | ")).join("\n"); },
			(error) => { window.told = String(error); });`)
	b.until(`window.told !== null`)
	return evaluate[string](b, `window.told`)
}
