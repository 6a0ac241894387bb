package takehome_test

import (
	"net/http"
	"testing"

	"kinwain/web/webtest"
)

// TestCodeIsRead reads the code of a link.
func TestCodeIsRead(t *testing.T) {
	t.Parallel()
	s := webtest.Open(t)
	v := s.Staff()
	link := v.SendHome(v.Interview([]byte(webtest.Family)), "teasel", nil)
	a := s.Stranger().Get(link+"/qr.svg").Is(http.StatusOK, link+"/qr.svg")
	if got := a.Header.Get("Content-Type"); got != "image/svg+xml" {
		t.Errorf("the type is %q", got)
	}
	if got := webtest.ReadCode(t, a.Body); got != webtest.Public+link {
		t.Errorf("it says %q, want %q", got, webtest.Public+link)
	}
	for _, page := range []*webtest.Answer{s.Stranger().Get(link)} {
		if got := page.One("img.code"); got.AttrOr("src", "") != link+"/qr.svg" || got.AttrOr("alt", "") == "" {
			t.Errorf("the page shows %q", got.AttrOr("src", ""))
		}
	}
}
