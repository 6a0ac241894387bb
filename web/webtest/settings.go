package webtest

import (
	"net/http"
	"net/url"

	"github.com/PuerkitoBio/goquery"
)

// Fields reads what the form of the settings holds, as a browser would send
// it.
func (a *Answer) Fields() url.Values {
	a.Helper()
	values := url.Values{}
	a.One("form.settings").Find("input").Each(func(_ int, field *goquery.Selection) {
		if _, checked := field.Attr("checked"); checked || field.AttrOr("type", "") != "checkbox" {
			values.Set(field.AttrOr("name", ""), field.AttrOr("value", ""))
		}
	})
	return values
}

// Settings are the figures that the shop has changed.
func (s *Shop) Settings() map[string]int64 {
	s.Helper()
	figures, err := s.Store.Settings(s.Context())
	if err != nil {
		s.Fatal(err)
	}
	return figures
}

// ManagerPages adds the pages of the settings and of the quality, in every
// state.
func ManagerPages(v *Visitor, pages map[string]*Answer) {
	v.Helper()
	for name, path := range map[string]string{"settings": "/settings", "settings of the shop": "/settings/shop", "figures": "/settings/figures", "criteria": "/settings/criteria", "quality": "/inventory/quality", "quality, with what is chosen": "/inventory/quality?chosen=yes"} {
		pages[name] = v.Get(path).Is(http.StatusOK, path)
	}
	f := pages["criteria"].Fields()
	f.Set("price_weight", "9")
	f.Set("reset", "horizon_weight")
	pages["criteria, previewed"] = v.Post("/settings/criteria", f).Is(http.StatusOK, "/settings/criteria")
	f.Set("price_weight", "many")
	pages["criteria with a fault"] = v.Post("/settings/criteria", f).Is(http.StatusUnprocessableEntity, "/settings/criteria")
	f = pages["settings of the shop"].Fields()
	f.Set("labour_cents_per_hour", "99")
	f.Set("do", "consequences")
	pages["whom a shop concerns"] = v.Post("/settings/shop", f).Is(http.StatusOK, "/settings/shop")
}
