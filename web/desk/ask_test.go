package desk_test

import (
	"net/http"
	"net/url"
	"strings"
	"testing"

	"github.com/PuerkitoBio/goquery"

	"kinwain/web/webtest"
)

// TestNextQuestion answers what is asked next where it is asked, on every page
// that asks, and comes back to it.
func TestNextQuestion(t *testing.T) {
	t.Parallel()
	s := webtest.Open(t)
	for _, page := range []string{"", "/frames", "/frames/%s"} {
		t.Run("page"+page, func(t *testing.T) {
			v := s.Staff()
			address, f := v.Consultation()
			f.Set("riders[0].height_cm", "170")
			f.Set("riders[0].weight_kg", "80")
			v.Press(f, address, "save")
			if strings.Contains(page, "%s") {
				code := v.Get(address+"/frames").Page.Find("[data-frame]").First().AttrOr("data-frame", "")
				page = "/frames/" + code
			}
			before := v.Get(address + page)
			before.Count("#ask input, #ask select", 0)
			a := v.Get(strings.TrimSuffix(before.One("#ask [href$='#ask']").AttrOr("href", ""), "#ask"))
			asked := a.Page.Find("#ask .field")
			if asked.Length() == 0 || asked.Length() > 3 {
				t.Fatalf("%d questions", asked.Length())
			}
			field := asked.Find("input[name$=_cm], input[name$=_kg], input[name$=_litres], input[name$=_cents]").First()
			name := field.AttrOr("name", "")
			if name == "" || !strings.Contains(webtest.Words(a.One("#ask")), ".") {
				t.Fatalf("no figure is asked for: %s", webtest.Words(a.One("#ask")))
			}
			post := a.Page.Find("#ask-form").AttrOr("action", "")
			wrong := v.Post(post, url.Values{name: {"many"}})
			if got := wrong.Page.Find("#ask .bad input"); wrong.Status != http.StatusOK || got.AttrOr("value", "") != "many" || got.AttrOr("name", "") != name {
				t.Errorf("a fault shows %q of %q", got.AttrOr("value", ""), got.AttrOr("name", ""))
			}
			if kept := v.Get(address).Form().Values.Get(name); kept != "" {
				t.Errorf("%q is kept", kept)
			}
			v.Post(post, url.Values{name: {"90"}}).Is(http.StatusOK, address+page)
			if kept := v.Get(address).Form().Values.Get(name); kept != "90" {
				t.Errorf("%s is %q, want 90", name, kept)
			}
			v.Get(address + page + "?ask=1").Page.Find("#ask input, #ask select").Each(func(_ int, e *goquery.Selection) {
				if e.AttrOr("name", "") == name {
					t.Errorf("%s is asked again", name)
				}
			})
		})
	}
}

// TestNoQuestionBeforeTheFirstRider asks nothing while nothing can be ranked, and
// takes no answer to what the form does not have.
func TestNoQuestionBeforeTheFirstRider(t *testing.T) {
	t.Parallel()
	v := webtest.Open(t).Staff()
	address, _ := v.Consultation()
	v.Get(address+"?ask=1").Count("#ask, #ask-form", 0)
	v.Post(address+"/answers?page=//elsewhere.example", url.Values{"home.doorways[7].width_cm": {"80"}, "units": {"imperial"}}).Is(http.StatusOK, address)
	if got := v.Get(address).Form().Values; got.Get("home.doorways[7].width_cm") != "" || got.Get("units") == "imperial" {
		t.Errorf("took what was not asked: %v", got)
	}
}

// TestFieldsLetThemselvesBeTyped finds the keyboard of each field that has one:
// none is nameless, and none that takes 5'11 or 10 st 3 is a number pad.
func TestFieldsLetThemselvesBeTyped(t *testing.T) {
	t.Parallel()
	v := webtest.Open(t).Staff()
	address, _ := v.Consultation()
	fields := v.Get(address).Page.Find("input[inputmode]")
	if fields.Length() == 0 {
		t.Fatal("no field names its keyboard")
	}
	fields.Each(func(_ int, e *goquery.Selection) {
		name, mode := e.AttrOr("name", ""), e.AttrOr("inputmode", "")
		if figure := strings.HasSuffix(name, "_cm") || strings.HasSuffix(name, "_kg"); mode == "" || figure && mode != "text" {
			t.Errorf("%s is typed with %q", name, mode)
		}
	})
}

// TestMoneyIsAskedForAsItIsShown asks what a bike may cost with the sign that
// stands before every price.
func TestMoneyIsAskedForAsItIsShown(t *testing.T) {
	t.Parallel()
	v := webtest.Open(t).Staff()
	address, f := v.Consultation()
	f.Set("riders[0].height_cm", "170")
	f.Set("riders[0].weight_kg", "80")
	f.Set("pet_kg", "30")
	f.Set("cargo_kg", "14")
	v.Press(f, address, "save")
	a := v.Get(address + "/frames?ask=1")
	asked := a.Text("#ask-budget_cents-hint")
	if !strings.Contains(asked, "€") || strings.Contains(asked, "EUR") {
		t.Errorf("it asks %q of %s", asked, a.Text("#ask"))
	}
}
