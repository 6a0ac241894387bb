package browser_test

import (
	"strings"
	"testing"

	"github.com/chromedp/chromedp"

	"kinwain/web/webtest"
)

// TestNoAnswerInABrowser stops the shop's computer while a tablet has a page
// open: the app says so itself, and keeps nothing else.
func TestNoAnswerInABrowser(t *testing.T) {
	b := browser(t).tab(webtest.Open(t))
	b.signIn()
	b.until(`navigator.serviceWorker.controller !== null`)
	b.visit("/inventory")
	b.visit("/inventory/frames")
	evaluate[chromedp.Void](b, `{ (async () => {
		const names = async (k) => (await (await caches.open(k)).keys()).map((r) => new URL(r.url).pathname);
		const workers = (await navigator.serviceWorker.getRegistrations()).map((r) => new URL(r.scope).pathname);
		window.kept = [...(await Promise.all((await caches.keys()).map(names))).flat(), "for", ...workers].join(" ");
	})(); }`)
	b.until(`window.kept`)
	if kept := evaluate[string](b, `window.kept`); kept != "/offline /static/app.css for /" {
		t.Errorf("kept is %s", kept)
	}
	b.shop.Server.CloseClientConnections()
	b.shop.Server.Listener.Close() //nolint:errcheck // it is gone, which is what is wanted
	b.expect("net::ERR_CONNECTION_REFUSED")
	b.visit("/inventory/frames")
	if heading, said := b.words("h1"), b.words("main"); heading != "No answer from the shop’s computer" || !strings.Contains(said, "answers of a customer that were not saved yet are kept on this device") {
		t.Errorf("%q: %q", heading, said)
	}
	if ground := evaluate[string](b, `getComputedStyle(document.querySelector(".top")).borderBottomStyle`); ground != "solid" {
		t.Errorf("the page has no style: %s", ground)
	}
}
