package browser_test

import (
	"fmt"
	"net/http"
	"net/url"
	"testing"

	"github.com/chromedp/cdproto/emulation"
	"github.com/chromedp/chromedp"

	"kinwain/internal/catalog"
	"kinwain/internal/measure"
	"kinwain/internal/skipped"
	"kinwain/web/say"
	"kinwain/web/webtest"
)

// TestLooksInABrowser opens every page on a phone, a tablet and a desk, with
// text of the usual size and of twice that, in both colour schemes, and holds it
// to the rules of axe-core.
func TestLooksInABrowser(t *testing.T) {
	c := browser(t)
	s := webtest.OpenWith(t, withRules)
	b := c.tab(s)
	b.expect("status of 403")
	b.expect("status of 404")
	b.expect("status of 422")
	var breaches []string
	rules := func(page string) {
		if faults := b.breaches(); faults != "" {
			breaches = append(breaches, page+"\n"+faults)
		}
	}
	b.visit("/")
	b.until(`location.pathname === "/sign-in"`)
	b.look("not signed in")
	rules("not signed in")
	b.signIn()
	b.look("start, nothing to resume")
	for _, path := range pathsToLookAt(s) {
		b.visit(path)
		evaluate[chromedp.Void](b, `document.querySelectorAll("details").forEach((d) => { d.removeAttribute("name"); d.open = true; })`)
		b.look(path)
		rules(path)
	}
	b.faultyForm()
	b.look("a profile with faults")
	rules("a profile with faults")
	v := s.Staff()
	link := v.SendHome(v.Interview([]byte(webtest.Family)), "osier-m", nil)
	for _, path := range []string{link, link + "?lang=de&units=imperial", "/fit/nothing"} { // which other tests look at
		b.visit(path)
		rules(path)
	}
	t.Run("rules of accessibility", func(t *testing.T) {
		if axe() == "" {
			skipped.Test(t, "the rules of axe-core: KINWAIN_AXE names its axe.min.js, see .ci/run")
		}
		for _, faults := range breaches {
			t.Error(faults)
		}
	})
}

// pathsToLookAt lists pages of every kind, of a customer with whom every part
// of them comes up.
func pathsToLookAt(s *webtest.Shop) []string {
	v := s.Staff()
	empty, f := v.Consultation()
	f.Set("riders[0].weight_kg", "900")
	f.Set("riders[0].height_cm", "tall")
	v.Press(f, empty, "save")
	address := v.Interview([]byte(webtest.Family))
	paths := []string{"/", "/nowhere", empty, empty + "/frames", empty + "/erase", address, address + "/frames", address + "/weigh/0"}
	changing := v.Upload(webtest.Edited(v.T, v.Tables()["zones.csv"], "sedge,rear,70,", "sedge,rear,65,", "osier-m,rear,", "osier-m,tail-of-a-long-name,"))
	paths = append(paths, webtest.ImportPath, changing.Path)
	v.SendHome(address, "osier-m", nil)
	seen := map[string]bool{}
	for _, one := range webtest.ToldByRanking(v.Get(address+"/frames").Is(http.StatusOK, address+"/frames")) {
		if !seen[one.Verdict] {
			seen[one.Verdict] = true
			frame := address + "/frames/" + one.Frame
			paths = append(paths, frame, frame+"/by-hand", frame+"/by-hand?chosen=yes", frame+"/quote", frame+"/send", frame+"?more=10&child=4&tall=170&heavy=70")
		}
	}
	frame := address + "/frames/osier-m"
	held := v.Holds(v.Quoted(frame), "S-105", "2026-12-01").Path
	paths = append(paths, "/?find=nobody", frame+"/quote", held, frame+"/ride", v.Booked(frame, "D-014", "2026-11-26", "10:00").Path, "/")
	paths = append(paths, "/settings", "/settings/shop", "/settings/figures", "/settings/criteria", "/inventory/quality?chosen=yes", "/inventory/quality/sources")
	concerning := v.Upload(webtest.ChangedShop(v.T, func(c *catalog.Catalogue) { c.Frame("osier-m").GrossRating -= 35 * measure.Kilogram }))
	v.Confirm(concerning)
	s.Settle()
	again := v.Upload(webtest.ChangedShop(v.T, func(*catalog.Catalogue) {}))
	paths = append(paths, address+"/frames", "/", again.Path)
	paths = append(paths, inventoryPaths(v)...)
	taking := v.StocktakeBegun()
	for _, tag := range []string{"D-011", "S-113", "Z-9"} {
		v.Post(taking+"/scan", url.Values{"tag": {tag}})
	}
	paths = append(paths, "/inventory/delivery", "/units", "/units?tag=Z-9", "/units/S-106?alone=yes", "/labels?tag=D-014&tag=S-106", "/stocktakes", taking, frame+"?unit=D-014", frame+"/quote?unit=S-113")
	return append(paths, address+"/compare?frame=teasel&frame=osier-m&frame=knapweed-s&frame=yarrow-assist", address+"/compare?frame=osier-m&frame=osier-l", address+"/compare")
}

// TestLooksForWhoSeesLess opens pages in the few colours that a system forces
// on them, and magnified four times on a small screen: what a drawing tells by
// its colour keeps an edge, and nothing stays in sight over the fields.
func TestLooksForWhoSeesLess(t *testing.T) {
	c := browser(t)
	s := webtest.Open(t)
	v := s.Staff()
	address := v.Interview([]byte(webtest.Family))
	b := c.tab(s)
	b.signIn()
	forced := emulation.SetEmulatedMediaParams{Features: []*emulation.MediaFeature{{Name: "forced-colors", Value: "active"}}}
	if _, err := chromedp.Call(b.ctx, emulation.SetEmulatedMedia, forced); err != nil {
		t.Fatal(err)
	}
	b.visit(address + "/frames/osier-m")
	if n, bare := evaluate[int](b, `document.querySelectorAll(".swatch").length`), evaluate[[]string](b, edgeless); n == 0 || len(bare) > 0 {
		t.Errorf("%d swatches, without an edge: %q", n, bare)
	}
	if fills := evaluate[int](b, `new Set([...document.querySelectorAll(".swatch:not(.off)")].map((e) => getComputedStyle(e).backgroundColor)).size`); fills < 4 {
		t.Errorf("the swatches have %d colours", fills)
	}
	b.scheme("light")
	b.do(chromedp.EmulateViewport(320, 256))
	for _, path := range []string{address, address + "/frames", "/settings/figures", "/inventory/frames/osier-m"} {
		b.visit(path)
		for _, over := range evaluate[[]string](b, covering) {
			t.Errorf("%s: covers the page: %s", path, over)
		}
	}
}

// edgeless lists what tells by its colour and has no edge.
const edgeless = `[...document.querySelectorAll(".swatch, .bar rect")].flatMap((e) => {
	const style = getComputedStyle(e), edge = e.matches("rect") ? style.stroke : style.borderTopColor;
	return edge === "none" || edge.startsWith("rgba") && edge.endsWith(" 0)") || edge === style.backgroundColor ? [e.outerHTML.slice(0, 80)] : [];
})`

// covering lists what stays in sight and takes more than a quarter of the
// screen.
const covering = `[...document.querySelectorAll("body *")].flatMap((e) => {
	const stays = ["sticky", "fixed"].includes(getComputedStyle(e).position) && !e.closest(".scroll, .fit-grid, table");
	return stays && e.getBoundingClientRect().height > innerHeight / 4 ? [e.outerHTML.slice(0, 80)] : [];
})`

// faultyForm opens a form that was sent with mistakes.
func (b *tab) faultyForm() {
	b.visit("/")
	b.click(".start .primary")
	b.until(`document.querySelector("form[data-live]")`)
	b.write("riders[0].height_cm", "tall")
	b.expect("status of 422")
	b.click(".send .primary")
	b.until(`document.querySelector(".alert")`)
}

// look checks one page in every scheme and size.
func (b *tab) look(page string) {
	b.Helper()
	for _, scheme := range []string{"light", "dark"} {
		b.scheme(scheme)
		for _, text := range evaluate[[]string](b, faintText) {
			b.Errorf("%s, %s: hard to read: %s", page, scheme, text)
		}
	}
	if dark := evaluate[bool](b, `matchMedia("(prefers-color-scheme: dark)").matches && lightness(document.body, "backgroundColor") < 0.2`); !dark {
		b.Errorf("%s: the dark page is not dark", page)
	}
	b.scheme("light")
	b.fits(page)
}

// lookIn checks a page in one language of all in which it is checked: another
// one has words of other lengths, in the same colours.
func (b *tab) lookIn(l say.Language, page string) {
	b.Helper()
	page += " in " + string(l)
	if l == say.English {
		b.look(page)
		return
	}
	b.fits(page)
}

// fits checks one page in every size.
func (b *tab) fits(page string) {
	b.Helper()
	narrow := func(width int64, size string) {
		b.Helper()
		for _, element := range evaluate[[]string](b, fmt.Sprintf(tooWide, size)) {
			b.Errorf("%s, %d px, text at %q: wider than the page: %s", page, width, size, element)
		}
	}
	whole := func(width int64) {
		b.Helper()
		narrow(width, "100%")
		narrow(width, "200%")
		evaluate[chromedp.Void](b, `document.documentElement.style.removeProperty("font-size")`)
		for _, element := range evaluate[[]string](b, smallTargets) {
			b.Errorf("%s, %d px: too small to touch: %s", page, width, element)
		}
	}
	b.do(chromedp.EmulateViewport(1280, tabletHeight))
	whole(1280)
	for _, width := range []int64{320, 360, 390, 412, 430} {
		b.do(chromedp.EmulateViewport(width, tabletHeight))
		narrow(width, "") // the size that the page chooses
		if width == 390 {
			whole(width)
		}
	}
	b.do(chromedp.EmulateViewport(tabletWidth, tabletHeight))
	whole(tabletWidth)
}

// tooWide lists what makes the page scroll sideways, and cells that begin left of
// it, where nobody can scroll to.
const tooWide = `(() => {
	document.documentElement.style.setProperty("font-size", "%s");
	const cut = [...document.querySelectorAll("main :is(td, th)")].filter((e) => e.getBoundingClientRect().left < -1 && !e.closest(".scroll, .fit-grid, .sr")).slice(0, 5).map((e) => "cut off: " + e.textContent.trim().slice(0, 40));
	if (cut.length > 0 || document.documentElement.scrollWidth <= innerWidth) return cut;
	return ["the page is " + document.documentElement.scrollWidth + " px"].concat([...document.querySelectorAll("main *, header *")].filter((e) => e.getBoundingClientRect().right > innerWidth + 0.5)
		.slice(0, 5).map((e) => e.tagName + " " + e.className + " " + e.textContent.trim().slice(0, 40)));
})()`

// smallTargets lists what is to be touched and under 44 px high or wide. A box
// is touched by its label too; a link within a sentence is as high as a line.
const smallTargets = `[...document.querySelectorAll("a[href], button, input, select, textarea, summary")].flatMap((e) => {
	const target = e.matches("[type=checkbox], [type=radio]") ? e.closest("label") : e, r = target.getBoundingClientRect(), style = getComputedStyle(target);
	const unseen = e.matches("[type=hidden], [aria-hidden]") || r.right < 0 || r.width === 0 || style.visibility === "hidden";
	const within = e.matches("a") && style.display === "inline" && e.parentElement.matches("p, li") && e.parentElement.textContent.trim() !== e.textContent.trim();
	return unseen || within || r.width >= 43.5 && r.height >= 43.5 ? [] : [e.outerHTML.slice(0, 100) + " " + Math.round(r.width) + " × " + Math.round(r.height)];
})`

// faintText lists texts whose contrast with what is behind them is under
// 4.5:1, computed as the Web Content Accessibility Guidelines 2.2 define it,
// and borders of fields and fills of drawings under 3:1.
const faintText = `(() => {
	const canvas = Object.assign(document.createElement("canvas"), { width: 1, height: 1 }).getContext("2d", { willReadFrequently: true });
	const once = (known, work) => (key) => known.get(key) ?? (known.set(key, work(key)), known.get(key));
	const rgba = once(new Map(), (colour) => { canvas.clearRect(0, 0, 1, 1); canvas.fillStyle = colour; canvas.fillRect(0, 0, 1, 1); return [...canvas.getImageData(0, 0, 1, 1).data].map((c) => c / 255); });
	const over = ([r, g, b, a], under) => [r, g, b].map((c, i) => c * a + under[i] * (1 - a));
	const behind = once(new Map(), (e) => e ? over(rgba(getComputedStyle(e).backgroundColor), behind(e.parentElement)) : [1, 1, 1]);
	const luminance = (rgb) => { const [r, g, b] = rgb.map((c) => c <= 0.04045 ? c / 12.92 : ((c + 0.055) / 1.055) ** 2.4); return 0.2126 * r + 0.7152 * g + 0.0722 * b; };
	const contrast = (colour, ground) => { const [high, low] = [luminance(over(rgba(colour), ground)), luminance(ground)].sort((a, b) => b - a); return (high + 0.05) / (low + 0.05); };
	window.lightness = (e, property) => luminance(over(rgba(getComputedStyle(e)[property]), [1, 1, 1]));
	const faint = new Set(), texts = document.createTreeWalker(document.body, NodeFilter.SHOW_TEXT);
	let seen = 0;
	while (texts.nextNode()) {
		const e = texts.currentNode.parentElement;
		if (!texts.currentNode.textContent.trim() || !e.checkVisibility({ visibilityProperty: true }) || e.closest("svg, .sr, .default, option")) continue;
		seen++;
		const ratio = contrast(getComputedStyle(e).color, behind(e));
		if (ratio < 4.5) faint.add(ratio.toFixed(2) + " " + e.tagName + " " + e.className + " " + texts.currentNode.textContent.trim().slice(0, 40));
	}
	for (const e of document.querySelectorAll("input:not([type=hidden]):not([type=checkbox]):not([type=radio]), select, textarea, button.add")) {
		const ratio = contrast(getComputedStyle(e).borderTopColor, behind(e.parentElement));
		if (e.checkVisibility() && ratio < 3) faint.add(ratio.toFixed(2) + " border of " + e.outerHTML.slice(0, 60));
		if (e.checkVisibility() && contrast(getComputedStyle(e).color, behind(e)) < 4.5) faint.add("what stands in " + e.outerHTML.slice(0, 60));
	}
	for (const e of document.querySelectorAll(".bar rect, .bar .line, .verdict circle, .verdict rect, .verdict .solid")) {
		const style = getComputedStyle(e), ratio = contrast(e.matches(".line") ? style.stroke : style.fill, behind(e.closest("svg").parentElement));
		if (ratio < 3) faint.add(ratio.toFixed(2) + " drawn " + e.outerHTML.slice(0, 60));
	}
	return seen < 5 ? ["only " + seen + " texts are seen"] : [...faint];
})()`
