package web_test

import (
	"maps"
	"net/http"
	"net/url"
	"slices"
	"strings"
	"testing"

	"github.com/PuerkitoBio/goquery"
	"github.com/google/go-cmp/cmp"

	"kinwain/internal/match"
	"kinwain/internal/quote"
)

// fields reads what the form of the settings holds, as a browser would send
// it.
func (a *answer) fields() url.Values {
	a.Helper()
	values := url.Values{}
	a.one("form.settings").Find("input").Each(func(_ int, field *goquery.Selection) {
		if _, checked := field.Attr("checked"); checked || field.AttrOr("type", "") != "checkbox" {
			values.Set(field.AttrOr("name", ""), field.AttrOr("value", ""))
		}
	})
	return values
}

func (s *shop) settings() map[string]int64 {
	s.Helper()
	figures, err := s.store.Settings(s.Context())
	if err != nil {
		s.Fatal(err)
	}
	return figures
}

// TestEveryFigureHasAField holds that no figure which is read is out of the
// manager's reach, and that each says what it starts with and why.
func TestEveryFigureHasAField(t *testing.T) {
	v := open(t).staff()
	want := match.DefaultSettings().Figures()
	maps.Copy(want, quote.DefaultSettings().Figures())
	want["fit_summary_days"] = 60
	var got []string
	for _, path := range []string{"/settings/figures", "/settings/criteria"} {
		a := v.get(path).is(http.StatusOK, path)
		for name := range a.fields() {
			got = append(got, name)
			if hint := a.text(byID(name + "-hint")); !strings.HasPrefix(hint, "Default ") {
				t.Errorf("the hint of %s is %q", name, hint)
			}
			if path == "/settings/figures" && !strings.Contains(a.text(byID(name+"-hint")), "ractice") {
				t.Errorf("%s does not say where it comes from", name)
			}
		}
		a.count(".setting button", 0) // all stand at their default
	}
	if diff := cmp.Diff(slices.Sorted(maps.Keys(want)), slices.Sorted(slices.Values(got))); diff != "" {
		t.Error(diff)
	}
}

// TestSettingsAreReadAsTheyAreShown saves every page as it is and changes
// nothing by it.
func TestSettingsAreReadAsTheyAreShown(t *testing.T) {
	s := open(t)
	v := s.staff()
	before := map[string]int64{"carry_share": 7550, "undressed_g": 4255, "slack_margin_mm": 51, "handling_mass_one": 17_500, "unknown_to_this_version": 3, "quote_days": 1}
	if err := s.store.SetSettings(t.Context(), before); err != nil {
		t.Fatal(err)
	}
	document := s.document()
	for _, path := range []string{"/settings/figures", "/settings/criteria", "/settings/shop"} {
		a := v.get(path).is(http.StatusOK, path)
		if got := v.post(path, a.fields()).is(http.StatusOK, path).text(".done"); !strings.HasPrefix(got, "Saved.") {
			t.Errorf("%s: %q", path, got)
		}
	}
	if diff := cmp.Diff(before, s.settings()); diff != "" {
		t.Error(diff)
	}
	if s.document() != document {
		t.Error("the catalogue is another one")
	}
}

func TestSaveFigures(t *testing.T) {
	const path = "/settings/figures"
	s := open(t)
	v := s.staff()
	f := v.get(path).fields()
	f.Set("undressed_g", "11 lb")
	f.Set("standover_margin_mm", `1.5"`)
	f.Set("carry_share", "82,5 %")
	f.Set("quote_days", "30 days")
	f.Set("steps_max", "5")
	f.Set("stated_g", "")
	a := v.post(path, f).is(http.StatusOK, path)
	// A pound is 0.45359237 kg and an inch 2.54 cm, by the agreement of 1959.
	want := map[string]int64{"undressed_g": 4990, "standover_margin_mm": 38, "carry_share": 8250, "quote_days": 30, "steps_max": 5}
	if diff := cmp.Diff(want, s.settings()); diff != "" {
		t.Error(diff)
	}
	a.count(".setting button", len(want))
	// A default that is asked for is typed, and kept only with the rest.
	f = a.fields()
	f.Set("budget_margin", "15")
	f.Set("reset", "undressed_g")
	a = v.post(path, f).is(http.StatusOK, path)
	if got := a.fields(); got.Get("undressed_g") != "4 kg" || got.Get("budget_margin") != "15" || s.settings()["undressed_g"] != 4990 {
		t.Errorf("%v", got)
	}
	v.post(path, a.fields()).is(http.StatusOK, path)
	if got := s.settings(); got["undressed_g"] != 0 || got["budget_margin"] != 1500 || len(got) != 5 {
		t.Errorf("%v", got)
	}
	f = a.fields()
	f.Set("reset", "all")
	v.post(path, v.post(path, f).fields())
	if got := s.settings(); len(got) != 0 {
		t.Errorf("%v are left", got)
	}
}

func TestFaultsOfFigures(t *testing.T) {
	const figures, criteria = "/settings/figures", "/settings/criteria"
	s := open(t)
	v := s.staff()
	for _, test := range []struct{ path, name, text, at, want string }{
		{figures, "undressed_g", "heavy", "undressed_g", "is not a weight"},
		{figures, "undressed_g", "21 kg", "undressed_g", "Choose from 0 kg to 20 kg."},
		{figures, "carry_share", "9.99 %", "carry_share", "Choose from 10 % to 300 %."},
		{figures, "quote_days", "-1", "quote_days", "Write a whole number."},
		{figures, "steps_max", "2.5", "steps_max", "Write a whole number."},
		{figures, "fit_summary_days", "0", "fit_summary_days", "Choose from 1 day"},
		{figures, "planning_percentile", "100", "planning_percentile", "Choose from 50 % to 99 %."},
		{criteria, "price_weight", "101", "price_weight", "Choose from 0 to 100."},
		{criteria, "storage_slack_one", "0 cm", "storage_slack_one", "The two ends must differ"},
		{criteria, "handling_mass_one", "18 %", "handling_mass_one", "is not a weight"},
	} {
		f := v.get(test.path).fields()
		f.Set(test.name, test.text)
		f.Set("quote_days_typed", "") // what the page does not have is left out
		a := v.post(test.path, f).is(http.StatusUnprocessableEntity, test.path)
		if got := a.text(byID(test.at + "-error")); !strings.Contains(got, test.want) {
			t.Errorf("%s = %s: %q, want %q", test.name, test.text, got, test.want)
		}
		if a.fields().Get(test.name) != test.text || a.one(byID(test.at)).AttrOr("aria-invalid", "") != "true" {
			t.Errorf("%s = %s is lost, or not marked", test.name, test.text)
		}
	}
	f := v.get(criteria).fields()
	for name := range f {
		if strings.HasSuffix(name, "_weight") {
			f.Set(name, "0")
		}
	}
	v.post(criteria, f).is(http.StatusUnprocessableEntity, criteria)
	v.post(criteria, nil).is(http.StatusBadRequest, criteria)
	if got := s.settings(); len(got) != 0 {
		t.Errorf("%v was saved", got)
	}
}

// TestPreviewOfCriteria gives all the weight to lifting and pushing: by the
// definition of that criterion the lightest build then comes first of its
// verdict. Nothing is saved by looking.
func TestPreviewOfCriteria(t *testing.T) {
	const path = "/settings/criteria"
	s := open(t)
	v := s.staff()
	a := v.get(path)
	a.count(".orders tbody tr", 8)
	a.count(".orders .shift", 0)
	f := a.fields()
	for name := range f {
		if strings.HasSuffix(name, "_weight") {
			f.Set(name, "0")
		}
	}
	f.Set("handling_mass_weight", "5")
	f.Set("do", "preview")
	whole := v.post(path, f).is(http.StatusOK, path)
	f.Del("do")
	part := v.post(path+"/preview", f).is(http.StatusOK, path+"/preview")
	if whole.text(".orders") != part.text(".orders") || part.page.Find(".orders .shift").Length() == 0 || part.page.Find("h1").Length() != 0 {
		t.Errorf("with the button %q, as typed %q", whole.text(".orders"), part.text(".orders"))
	}
	if got := whole.fields().Get("handling_mass_weight"); got != "5" || len(s.settings()) != 0 {
		t.Errorf("%q is typed and %v is saved", got, s.settings())
	}
	lightest := part.text(".orders tbody tr:nth-child(1) td:nth-child(3) li:nth-child(1)")
	v.post(path, f).is(http.StatusOK, path)
	if got := v.get(path).text(".orders tbody tr:nth-child(1) td:nth-child(2) li:nth-child(1)"); !strings.HasPrefix(lightest, got) || len(s.settings()) == 0 {
		t.Errorf("after saving %q is first, the preview said %q", got, lightest)
	}
	f.Set("price_weight", "many")
	if got := v.post(path+"/preview", f).text(`[data-fault="price_weight"]`); got != "Write a whole number." {
		t.Errorf("the fault is %q", got)
	}
}

func TestSaveShop(t *testing.T) {
	const path = "/settings/shop"
	s := open(t)
	v := s.staff()
	f := v.get(path).fields()
	f.Set("name", "Other Works")
	f.Set("tax_percent", "8,5")
	f.Set("labour_cents_per_hour", "€ 72.50")
	f.Del("prices_include_tax")
	f.Set("contact_email", "hello@other.example")
	stale := maps.Clone(f)
	v.post(path, f).is(http.StatusOK, path)
	c, err := s.store.Catalogue(t.Context())
	if err != nil || c.Shop.Name != "Other Works" || c.Shop.Tax != 850 || c.Shop.LabourPerHour != 72_50 || c.Shop.PricesIncludeTax || len(c.Frames) != 14 {
		t.Errorf("%+v, %v", c.Shop, err)
	}
	if texts, err := s.store.Texts(t.Context()); err != nil || texts["contact_email"] != "hello@other.example" {
		t.Errorf("%v, %v", texts, err)
	}
	stale.Set("name", "Too Late")
	a := v.post(path, stale).is(http.StatusConflict, path)
	if a.fields().Get("name") != "Too Late" {
		t.Error("what was typed is lost")
	}
	v.post(path, a.fields()).is(http.StatusOK, path)
	for name, text := range map[string]string{"name": " ", "currency": "euro", "tax_percent": "101", "labour_cents_per_hour": "free", "contact_email": "nowhere"} {
		f := v.get(path).fields()
		f.Set(name, text)
		if got := v.post(path, f).is(http.StatusUnprocessableEntity, path).text(byID(name + "-error")); got == "" {
			t.Errorf("%s = %q has no fault at its field", name, text)
		}
	}
	if c, _ = s.store.Catalogue(t.Context()); c.Shop.Name != "Too Late" {
		t.Errorf("%+v", c.Shop)
	}
}

func TestSettingsAreForStaff(t *testing.T) {
	s := open(t)
	for _, path := range []string{"/settings", "/settings/shop", "/settings/figures", "/settings/criteria", "/inventory/quality"} {
		s.stranger().get(path).is(http.StatusForbidden, path)
	}
	a := s.staff().get("/settings")
	for _, path := range []string{"/settings/shop", "/settings/figures", "/settings/criteria", "/settings/staff", "/settings/tokens", "/inventory/quality"} {
		a.one(`a[href="` + path + `"]`)
	}
}

// managerPages adds the pages of the settings and of the quality, in every
// state.
func managerPages(v *visitor, pages map[string]*answer) {
	v.Helper()
	for name, path := range map[string]string{"settings": "/settings", "settings of the shop": "/settings/shop", "figures": "/settings/figures", "criteria": "/settings/criteria", "quality": "/inventory/quality", "quality, with what is chosen": "/inventory/quality?chosen=yes"} {
		pages[name] = v.get(path).is(http.StatusOK, path)
	}
	f := pages["criteria"].fields()
	f.Set("price_weight", "9")
	f.Set("reset", "horizon_weight")
	pages["criteria, previewed"] = v.post("/settings/criteria", f).is(http.StatusOK, "/settings/criteria")
	f.Set("price_weight", "many")
	pages["criteria with a fault"] = v.post("/settings/criteria", f).is(http.StatusUnprocessableEntity, "/settings/criteria")
	f = pages["settings of the shop"].fields()
	f.Set("labour_cents_per_hour", "99")
	f.Set("do", "consequences")
	pages["whom a shop concerns"] = v.post("/settings/shop", f).is(http.StatusOK, "/settings/shop")
}
