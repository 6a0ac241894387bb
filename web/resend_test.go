package web_test

import (
	"net/http"
	"net/url"
	"testing"

	"github.com/PuerkitoBio/goquery"

	"kinwain/web/webtest"
)

// TestSignedOutInTheMiddle: what was typed into a form outlives the session
// that it was opened in, and counts once somebody has signed in.
func TestSignedOutInTheMiddle(t *testing.T) {
	t.Parallel()
	s := webtest.Open(t)
	v := s.Staff()
	_, _, unit := s.AnyCode()
	at := "/inventory/units/" + unit
	shop, bike := v.Get("/settings/shop").Fields(), v.Get(at).Ware().Values
	shop.Set("contact_hours", "Tuesday “late”\nand Friday & Saturday")
	bike.Set("colour", "plum")
	bike.Set("do", "save")

	gone := s.Stranger()
	sent := gone.Post("/settings/shop", shop)
	withFile := gone.SendFiles(at, bike, map[string][]byte{"source_photo": make([]byte, 100)})
	for a, typed := range map[*webtest.Answer]url.Values{sent: shop, withFile: bike} {
		if a.Status != http.StatusForbidden || a.One(`main a.button[target="_blank"]`).AttrOr("href", "") != "/sign-in" {
			t.Errorf("%d: %s", a.Status, a.Text("main"))
		}
		if got := kept(a).Encode(); got != typed.Encode() {
			t.Errorf("kept is %s\nof %s", got, typed.Encode())
		}
	}
	for a, path := range map[*webtest.Answer]string{sent: "/settings/shop", withFile: at} {
		if got := a.One("main form").AttrOr("action", ""); got != path {
			t.Errorf("it is sent to %q", got)
		}
		v.Post(path, kept(a)).Is(http.StatusOK, path)
	}
	if got := v.Get(at).Ware().Values.Get("colour"); got != "plum" {
		t.Errorf("the bike is %q", got)
	}
	if texts, err := s.Store.Texts(t.Context()); err != nil || texts["contact_hours"] != shop.Get("contact_hours") {
		t.Errorf("%q, %v", texts["contact_hours"], err)
	}

	gone.Post("/me", url.Values{"do": {"passphrase"}, "current": {"a secret of somebody"}}).Count("main form, main input", 0)
}

// kept is what the page that asks to sign in sends again.
func kept(a *webtest.Answer) url.Values {
	values := url.Values{}
	a.Page.Find("main form input").Each(func(_ int, in *goquery.Selection) {
		values.Add(in.AttrOr("name", ""), in.AttrOr("value", ""))
	})
	return values
}
