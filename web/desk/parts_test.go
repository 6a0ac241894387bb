package desk_test

import (
	"net/http"
	"strings"
	"testing"

	"github.com/PuerkitoBio/goquery"

	"kinwain/web/webtest"
)

// TestPartsOfPages holds that a script gets the very part of a page that one
// without gets within the whole, and nothing besides.
func TestPartsOfPages(t *testing.T) {
	t.Parallel()
	v := webtest.Open(t).Staff()
	address := v.Interview([]byte(webtest.Family))
	drawn := func(s *goquery.Selection) string {
		var all strings.Builder
		s.Each(func(_ int, one *goquery.Selection) {
			html, err := goquery.OuterHtml(one)
			if err != nil {
				t.Fatal(err)
			}
			all.WriteString(html)
		})
		return all.String()
	}
	for _, c := range []struct{ page, part, selector string }{
		{"?ask=1", "ask", "#ask"},
		{"/frames?ask=1", "ask", "#ask"},
		{"/frames?changes=1", "changes", "[data-about]"},
		{"/frames/osier-m?ask=1", "ask", "#ask"},
		{"/frames/osier-m?more=10", "supposed", "#supposed"},
		{"/frames/osier-m/by-hand?chosen=yes", "result", "#result"},
	} {
		whole, part := v.Get(address+c.page), v.Get(address+c.page+"&part="+c.part)
		got, want := drawn(part.Page.Find("body").Children()), drawn(whole.Page.Find(c.selector))
		if part.Status != http.StatusOK || want == "" || got != want {
			t.Errorf("%s of %s is %d:\n%s\nwant\n%s", c.part, c.page, part.Status, got, want)
		}
	}
	if got := v.Get(address + "/frames?part=supposed"); got.Status != http.StatusNotFound {
		t.Errorf("a part that the page does not have is %d", got.Status)
	}
}
