package inventory_test

import (
	"fmt"
	"net/http"
	"net/url"
	"slices"
	"strings"
	"testing"

	"github.com/PuerkitoBio/goquery"

	"kinwain/internal/catalog"
	"kinwain/web/webtest"
)

func TestFitsGrid(t *testing.T) {
	t.Parallel()
	v := webtest.Open(t).Staff()
	c := v.Catalogue()
	a := v.Get("/inventory/fits")
	form := func(a *webtest.Answer) url.Values {
		values := url.Values{}
		a.Page.Find("form[data-fits] input").Each(func(_ int, i *goquery.Selection) {
			_, checked := i.Attr("checked")
			if checked || i.AttrOr("type", "") == "hidden" {
				values.Add(i.AttrOr("name", ""), i.AttrOr("value", ""))
			}
		})
		return values
	}
	values := form(a)
	// A pair that the domain says cannot be.
	var pair string
	for i := range c.AddOns {
		for j := range c.Frames {
			try := *c
			try.AddOns = append([]catalog.AddOn{}, c.AddOns...)
			try.AddOns[i].Fits = append(append([]string{}, c.AddOns[i].Fits...), c.Frames[j].Code)
			if err := try.Check(); err != nil && pair == "" && !slices.Contains(c.AddOns[i].Fits, c.Frames[j].Code) {
				pair = c.AddOns[i].Code + " " + c.Frames[j].Code
			}
		}
	}
	values.Add("fit", pair)
	values.Set("do", "save")
	a = v.Post("/inventory/fits", values).Is(http.StatusUnprocessableEntity, "/inventory/fits")
	if a.Text(".misfits .faulty") == "" || a.Page.Find(fmt.Sprintf(`input[name="fit"][value="%s"][checked]`, pair)).Length() != 1 {
		t.Errorf("%s: %s", pair, a.Text(".misfits"))
	}
	// Somebody else takes a tick away meanwhile; mine goes together with it.
	values = form(v.Get("/inventory/fits"))
	var gone, mine string
	for i := range c.AddOns[:30] { // of the first page
		if len(c.AddOns[i].OnFrame) == 0 && len(c.AddOns[i].Fits) > 1 {
			gone, mine = c.AddOns[i].Code+" "+c.AddOns[i].Fits[0], c.AddOns[i].Code+" "+c.AddOns[i].Fits[1]
		}
	}
	without := func(from url.Values, pair string) url.Values {
		left := url.Values{"was": from["was"], "do": {"save"}}
		for _, p := range from["fit"] {
			if p != pair {
				left.Add("fit", p)
			}
		}
		return left
	}
	v.Post("/inventory/fits", without(values, gone)).Is(http.StatusOK, "/inventory/fits")
	v.Post("/inventory/fits", without(values, mine)).Is(http.StatusOK, "/inventory/fits")
	code, _, _ := strings.Cut(mine, " ")
	if fits := v.Catalogue().AddOn(code).Fits; slices.Contains(fits, strings.Fields(gone)[1]) || slices.Contains(fits, strings.Fields(mine)[1]) {
		t.Errorf("%s without %s and %s", fits, gone, mine)
	}
}
