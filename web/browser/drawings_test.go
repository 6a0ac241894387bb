package browser_test

import (
	"testing"

	"github.com/chromedp/cdproto/emulation"
	"github.com/chromedp/chromedp"

	"kinwain/web/say"
	"kinwain/web/webtest"
)

// faintDrawings lists what a drawing tells and has neither a line nor a filling
// that stands out from the page by 3:1, as the Web Content Accessibility
// Guidelines 2.2 ask of it. What is drawn thin on purpose is the ground, where
// a zone is, the way of an outline, and the lines behind a curve, whose figures
// stand at their ends.
const faintDrawings = `(() => {
	const canvas = Object.assign(document.createElement("canvas"), { width: 1, height: 1 }).getContext("2d", { willReadFrequently: true });
	const rgb = (colour) => { canvas.clearRect(0, 0, 1, 1); canvas.fillStyle = colour; canvas.fillRect(0, 0, 1, 1); return [...canvas.getImageData(0, 0, 1, 1).data].slice(0, 3).map((c) => c / 255); };
	const luminance = (colour) => { const [r, g, b] = rgb(colour).map((c) => c <= 0.04045 ? c / 12.92 : ((c + 0.055) / 1.055) ** 2.4); return 0.2126 * r + 0.7152 * g + 0.0722 * b; };
	const contrast = (a, b) => { const [high, low] = [luminance(a), luminance(b)].sort((x, y) => y - x); return (high + 0.05) / (low + 0.05); };
	const page = getComputedStyle(document.body).backgroundColor, marks = [...document.querySelectorAll(".drawing > path:not(.ground, .zone, .swept, .tick, .year), .drawing > text")];
	const faint = marks.flatMap((e) => {
		const style = getComputedStyle(e), inks = e.matches("text") ? [style.fill] : [style.stroke, Number(style.fillOpacity) === 1 ? style.fill : "none"];
		const seen = inks.some((ink) => ink.startsWith("url") || ink !== "none" && contrast(ink, page) >= 3);
		return seen ? [] : [e.outerHTML.slice(0, 80) + " " + inks];
	});
	return marks.length < 10 ? ["only " + marks.length + " marks"] : faint;
})()`

// unread are the words of drawings that are too small to be read on a phone, by
// the height of their letters on the screen.
const unread = `[...document.querySelectorAll("svg.drawing text")].filter((e) => e.checkVisibility() && e.getBoundingClientRect().height < 9)
	.map((e) => e.textContent + ", " + e.getBoundingClientRect().height.toFixed(1) + " px high")`

// TestDrawingsInABrowser holds that drawings stand out in both colour schemes,
// in print and in forced colours, are as wide as the page lets them, and that
// the card of measures goes on one sheet of paper in every language.
func TestDrawingsInABrowser(t *testing.T) {
	c := browser(t)
	s := webtest.Open(t)
	v := s.Staff()
	address := v.Interview([]byte(webtest.Family))
	link := v.SendHome(address, "teasel", nil)
	b := c.tab(s)
	b.signIn()
	for _, path := range []string{address + "/frames", address + "/frames/yarrow", link, address + "/compare?frame=osier-m&frame=teasel"} {
		b.visit(path)
		for name, media := range map[string]emulation.SetEmulatedMediaParams{
			"light":  {Features: []*emulation.MediaFeature{{Name: "prefers-color-scheme", Value: "light"}}},
			"dark":   {Features: []*emulation.MediaFeature{{Name: "prefers-color-scheme", Value: "dark"}}},
			"forced": {Features: []*emulation.MediaFeature{{Name: "forced-colors", Value: "active"}}},
		} {
			if _, err := chromedp.Call(b.ctx, emulation.SetEmulatedMedia, media); err != nil {
				t.Fatal(err)
			}
			for _, faint := range evaluate[[]string](b, faintDrawings) {
				t.Errorf("%s, %s: %s", path, name, faint)
			}
		}
	}
	b.scheme("light")
	b.do(chromedp.EmulateViewport(390, 844))
	for _, path := range []string{address + "/frames/yarrow", link} {
		b.visit(path)
		evaluate[chromedp.Void](b, `document.querySelectorAll("details").forEach((e) => { e.open = true; })`)
		if n := evaluate[int](b, `document.querySelectorAll("svg.drawing text").length`); n < 4 {
			t.Errorf("%s has %d words in drawings", path, n)
		}
		for _, small := range evaluate[[]string](b, unread) {
			t.Errorf("%s: %s", path, small)
		}
	}
	b.do(chromedp.EmulateViewport(820, 1180))
	b.visit(address + "/compare?frame=osier-m&frame=teasel&frame=yarrow&frame=sedge")
	if n := evaluate[int](b, `new Set([...document.querySelectorAll(".compare .glance")].map((e) => (e.getBoundingClientRect().width / e.viewBox.baseVal.width).toFixed(3))).size`); n != 1 {
		t.Errorf("bikes side by side are drawn at %d scales", n)
	}
	for _, l := range say.Languages {
		for _, path := range []string{address + "/measure", link + "/measure"} {
			b.visit(path + "?lang=" + string(l))
			b.lookIn(l, path)
			if n := b.pages(); n != 1 {
				t.Errorf("%s in %s prints on %d pages", path, l, n)
			}
		}
	}
}
