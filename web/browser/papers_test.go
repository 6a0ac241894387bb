package browser_test

import (
	"net/url"
	"testing"

	"kinwain/web/say"
	"kinwain/web/webtest"
)

// TestPapersInABrowser looks at what is handed over the counter in every
// language, on a telephone and on a tablet, and prints it.
func TestPapersInABrowser(t *testing.T) {
	c := browser(t)
	s := webtest.Open(t)
	v := s.Staff()
	address := v.Interview([]byte(webtest.Family))
	book := address + "/frames/osier-m/ride"
	ride := v.Post(book, webtest.Sent(v.Get(book).One("form.book"))).Path
	b := c.tab(s)
	b.signIn()
	for _, l := range say.Languages {
		lang := url.Values{"lang": {string(l)}}
		for name, path := range map[string]string{
			"quote":        v.Post(address+"/frames/osier-m/quote", lang).Path,
			"side by side": address + "/compare?" + lang.Encode() + "&frame=osier-l&frame=teasel&frame=osier-m",
			"ride":         ride + "?" + lang.Encode(),
		} {
			b.visit(path)
			b.lookIn(l, name)
			if n := b.pages(); n < 1 || n > 2 {
				t.Errorf("the %s in %s prints on %d pages", name, l, n)
			}
		}
	}
}
