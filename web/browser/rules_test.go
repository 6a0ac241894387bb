package browser_test

import (
	"fmt"
	"io"
	"net/http"
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

const rulesPath = "/rules-of-accessibility.js"

// withRules adds the script of axe-core to the addresses of a shop, to be kept
// by the browser: what it has made of the script when it first ran, which takes
// longer than most pages are held to the rules, is there for every further page.
func withRules(shop http.Handler) http.Handler {
	return http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		if r.URL.Path != rulesPath {
			shop.ServeHTTP(w, r)
			return
		}
		w.Header().Set("Content-Type", "text/javascript")
		w.Header().Set("Cache-Control", "max-age=3600")
		io.WriteString(w, axe()) //nolint:errcheck // who left does not need it
	})
}

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
// where axe-core is not to be had. The shop is one withRules.
func (b *tab) breaches() string {
	b.Helper()
	if axe() == "" {
		return ""
	}
	return evaluate[string](b, fmt.Sprintf(`(async () => {
		const script = Object.assign(document.createElement("script"), { src: %q });
		await new Promise((loaded) => { script.onload = loaded; document.head.append(script); });
		const found = await axe.run(document, { resultTypes: ["violations"], rules: { "color-contrast": { enabled: false } } }), fresh = (%s)();
		if (fresh.length > 0) found.violations.push(...(await axe.run({ include: fresh }, { resultTypes: ["violations"], runOnly: ["color-contrast"] })).violations);
		return found.violations.map((v) => v.id + ", " + v.help + ": " + v.nodes.map((n) => n.html.slice(0, 160)).join(" | ")).join("\n");
	})()`, rulesPath, freshTexts), chromedp.EvalAwaitPromise)
}

// freshTexts returns the elements with a text that looks like none that the tab
// has shown before: their contrast alone takes half of what all rules take, and
// most of a page is drawn as another one was.
const freshTexts = `() => {
	const shown = new Set(JSON.parse(sessionStorage.getItem("shown") ?? "[]")), ways = new Map();
	const look = (e) => { const s = getComputedStyle(e); return [e.tagName, e.className, s.color, s.backgroundColor, s.fontSize, s.fontWeight, s.opacity, s.position].join(); };
	const short = (text) => [...text].reduce((sum, sign) => (sum * 31 + sign.codePointAt(0)) % 281474976710597, 7);
	const way = (e) => { // all that it stands within, too
		if (!ways.has(e)) ways.set(e, e === document.body ? 0 : short(way(e.parentElement) + look(e)));
		return ways.get(e);
	};
	const fresh = [...document.body.querySelectorAll("*")].filter((e) => {
		const says = e.matches("input, select, textarea") || [...e.childNodes].some((n) => n.nodeType === Node.TEXT_NODE && n.data.trim());
		return says && !shown.has(way(e)) && shown.add(way(e));
	});
	sessionStorage.setItem("shown", JSON.stringify([...shown]));
	return fresh;
}`
