package shop_test

import (
	"maps"
	"net/http"
	"slices"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"kinwain/internal/advice"
	"kinwain/internal/match"
	"kinwain/internal/measure"
	"kinwain/internal/quote"
	"kinwain/web/webtest"
)

// TestEveryFigureHasAField holds that no figure which is read is out of the
// manager's reach, and that each says what it starts with and why.
func TestEveryFigureHasAField(t *testing.T) {
	t.Parallel()
	v := webtest.Open(t).Staff()
	want := match.DefaultSettings().Figures()
	maps.Copy(want, quote.DefaultSettings().Figures())
	want["fit_summary_days"], want["forget_days"], want["papers_years"] = 60, 90, 7
	want["own_days"], want["own_least"] = 180, 5
	for _, rule := range match.LocalRules {
		want[match.WordsOf(rule)] = 0 // a text
	}
	var got []string
	for _, path := range []string{"/settings/figures", "/settings/criteria"} {
		a := v.Get(path).Is(http.StatusOK, path)
		for name := range a.Fields() {
			if strings.HasSuffix(name, ".was") {
				continue
			}
			got = append(got, name)
			hint := a.Text(webtest.ByID(name + "-hint"))
			if strings.HasPrefix(name, "local_") { // the law of a place is nobody's practice
				if !strings.HasPrefix(hint, "Default nothing.") && !strings.Contains(hint, "Empty: ") {
					t.Errorf("the hint of %s is %q", name, hint)
				}
				continue
			}
			if !strings.HasPrefix(hint, "Default ") {
				t.Errorf("the hint of %s is %q", name, hint)
			}
			if path == "/settings/figures" && !strings.Contains(a.Text(webtest.ByID(name+"-hint")), "ractice") {
				t.Errorf("%s does not say where it comes from", name)
			}
		}
		a.Count(".setting button", 0) // all stand at their default
	}
	if diff := cmp.Diff(slices.Sorted(maps.Keys(want)), slices.Sorted(slices.Values(got))); diff != "" {
		t.Error(diff)
	}
}

// TestSettingsAreReadAsTheyAreShown saves every page as it is and changes
// nothing by it.
func TestSettingsAreReadAsTheyAreShown(t *testing.T) {
	t.Parallel()
	s := webtest.Open(t)
	v := s.Staff()
	before := map[string]int64{"carry_share": 7550, "undressed_g": 4255, "slack_margin_mm": 51, "handling_mass_one": 17_500, "unknown_to_this_version": 3, "quote_days": 1}
	if err := s.Store.SetSettings(t.Context(), before); err != nil {
		t.Fatal(err)
	}
	document := s.Document()
	for _, path := range []string{"/settings/figures", "/settings/criteria", "/settings/shop"} {
		a := v.Get(path).Is(http.StatusOK, path)
		if got := v.Post(path, a.Fields()).Is(http.StatusOK, path).Text(".done"); !strings.HasPrefix(got, "Saved.") {
			t.Errorf("%s: %q", path, got)
		}
	}
	if diff := cmp.Diff(before, s.Settings()); diff != "" {
		t.Error(diff)
	}
	if s.Document() != document {
		t.Error("the catalogue is another one")
	}
}

func TestSaveFigures(t *testing.T) {
	t.Parallel()
	const path = "/settings/figures"
	s := webtest.Open(t)
	v := s.Staff()
	f := v.Get(path).Fields()
	f.Set("undressed_g", "11 lb")
	f.Set("standover_margin_mm", `1.5"`)
	f.Set("carry_share", "82,5 %")
	f.Set("quote_days", "30 days")
	f.Set("steps_max", "5")
	f.Set("stated_g", "")
	a := v.Post(path, f).Is(http.StatusOK, path)
	// A pound is 0.45359237 kg and an inch 2.54 cm, by the agreement of 1959.
	want := map[string]int64{"undressed_g": 4990, "standover_margin_mm": 38, "carry_share": 8250, "quote_days": 30, "steps_max": 5}
	if diff := cmp.Diff(want, s.Settings()); diff != "" {
		t.Error(diff)
	}
	a.Count(".setting button", len(want))
	// A default that is asked for is typed, and kept only with the rest.
	f = a.Fields()
	f.Set("front_share", "15")
	f.Set("reset", "undressed_g")
	a = v.Post(path, f).Is(http.StatusOK, path)
	if got := a.Fields(); got.Get("undressed_g") != "4 kg" || got.Get("front_share") != "15" || s.Settings()["undressed_g"] != 4990 {
		t.Errorf("%v", got)
	}
	v.Post(path, a.Fields()).Is(http.StatusOK, path)
	if got := s.Settings(); got["undressed_g"] != 0 || got["front_share"] != 1500 || len(got) != 5 {
		t.Errorf("%v", got)
	}
	f = a.Fields()
	f.Set("reset", "all")
	v.Post(path, v.Post(path, f).Fields())
	if got := s.Settings(); len(got) != 0 {
		t.Errorf("%v are left", got)
	}
}

func TestFaultsOfFigures(t *testing.T) {
	t.Parallel()
	const figures, criteria = "/settings/figures", "/settings/criteria"
	s := webtest.Open(t)
	v := s.Staff()
	for _, test := range []struct{ path, name, text, at, want string }{
		{figures, "undressed_g", "heavy", "undressed_g", "is not a weight"},
		{figures, "undressed_g", "21 kg", "undressed_g", "Choose from 0 kg to 20 kg."},
		{figures, "carry_share", "9.99 %", "carry_share", "Choose from 10 % to 300 %."},
		{figures, "quote_days", "-1", "quote_days", "Choose from 0 days to"},
		{figures, "quote_days", "99999999999", "quote_days", "Choose from 0 days to"},
		{figures, "quote_days", "soon", "quote_days", "Write a whole number."},
		{figures, "carry_share", "999999999999", "carry_share", "Choose from 10 % to 300 %."},
		{figures, "clothing_g", "999999999999", "clothing_g", "Choose from 0 kg to"},
		{figures, "hill_speed", "quick", "hill_speed", "\"quick\" is not a figure in km/h; write it like 4.5 km/h."},
		{figures, "hill_speed", "4.2505", "hill_speed", "is not a figure in km/h"},
		{figures, "hill_effort", "99999999999999999999", "hill_effort", "Choose from 0.5 W to 5 W."},
		{figures, "steps_max", "2.5", "steps_max", "Write a whole number."},
		{figures, "fit_summary_days", "0", "fit_summary_days", "Choose from 1 day"},
		{figures, "planning_percentile", "100", "planning_percentile", "Choose from 50 % to 99 %."},
		{criteria, "price_weight", "101", "price_weight", "Choose from 0 to 100."},
		{criteria, "storage_slack_one", "0 cm", "storage_slack_one", "The two ends must differ"},
		{criteria, "handling_mass_one", "18 %", "handling_mass_one", "is not a weight"},
	} {
		f := v.Get(test.path).Fields()
		f.Set(test.name, test.text)
		f.Set("quote_days_typed", "") // what the page does not have is left out
		a := v.Post(test.path, f).Is(http.StatusUnprocessableEntity, test.path)
		if got := a.Text(webtest.ByID(test.at + "-error")); !strings.Contains(got, test.want) {
			t.Errorf("%s = %s: %q, want %q", test.name, test.text, got, test.want)
		}
		if a.Fields().Get(test.name) != test.text || a.One(webtest.ByID(test.at)).AttrOr("aria-invalid", "") != "true" {
			t.Errorf("%s = %s is lost, or not marked", test.name, test.text)
		}
	}
	f := v.Get(criteria).Fields()
	for name := range f {
		if strings.HasSuffix(name, "_weight") {
			f.Set(name, "0")
		}
	}
	v.Post(criteria, f).Is(http.StatusUnprocessableEntity, criteria)
	v.Post(criteria, nil).Is(http.StatusBadRequest, criteria)
	if got := s.Settings(); len(got) != 0 {
		t.Errorf("%v was saved", got)
	}
}

// TestPreviewOfCriteria gives all the weight to lifting and pushing: by the
// definition of that criterion the lightest build then comes first of its
// verdict. Nothing is saved by looking.
func TestPreviewOfCriteria(t *testing.T) {
	t.Parallel()
	const path = "/settings/criteria"
	s := webtest.Open(t)
	v := s.Staff()
	a := v.Get(path)
	a.Count(".orders tbody tr", len(webtest.Customers(t)))
	a.Count(".orders .shift", 0)
	f := a.Fields()
	for name := range f {
		if strings.HasSuffix(name, "_weight") {
			f.Set(name, "0")
		}
	}
	f.Set("handling_mass_weight", "5")
	f.Set("do", "preview")
	whole := v.Post(path, f).Is(http.StatusOK, path)
	f.Del("do")
	part := v.Post(path+"/preview", f).Is(http.StatusOK, path+"/preview")
	if whole.Text(".orders") != part.Text(".orders") || part.Page.Find(".orders .shift").Length() == 0 || part.Page.Find("h1").Length() != 0 {
		t.Errorf("with the button %q, as typed %q", whole.Text(".orders"), part.Text(".orders"))
	}
	if got := whole.Fields().Get("handling_mass_weight"); got != "5" || len(s.Settings()) != 0 {
		t.Errorf("%q is typed and %v is saved", got, s.Settings())
	}
	lightest := part.Text(".orders tbody tr:nth-child(1) td:nth-child(3) li:nth-child(1)")
	v.Post(path, f).Is(http.StatusOK, path)
	if got := v.Get(path).Text(".orders tbody tr:nth-child(1) td:nth-child(2) li:nth-child(1)"); !strings.HasPrefix(lightest, got) || len(s.Settings()) == 0 {
		t.Errorf("after saving %q is first, the preview said %q", got, lightest)
	}
	f.Set("price_weight", "many")
	if got := v.Post(path+"/preview", f).Text(`[data-fault="price_weight"]`); got != "Write a whole number." {
		t.Errorf("the fault is %q", got)
	}
}

func TestSaveShop(t *testing.T) {
	t.Parallel()
	const path = "/settings/shop"
	s := webtest.Open(t)
	v := s.Staff()
	f := v.Get(path).Fields()
	f.Set("name", "Other Works")
	f.Set("tax_percent", "8,5")
	f.Set("labour_cents_per_hour", "€ 72.50")
	f.Del("prices_include_tax")
	f.Set("contact_email", "hello@other.example")
	stale := maps.Clone(f)
	v.Post(path, f).Is(http.StatusOK, path)
	c, err := s.Store.Catalogue(t.Context())
	if err != nil || c.Shop.Name != "Other Works" || c.Shop.Tax != 850 || c.Shop.LabourPerHour != 72_50 || c.Shop.PricesIncludeTax || len(c.Frames) != 14 {
		t.Errorf("%+v, %v", c.Shop, err)
	}
	if texts, err := s.Store.Texts(t.Context()); err != nil || texts["contact_email"] != "hello@other.example" {
		t.Errorf("%v, %v", texts, err)
	}
	stale.Set("name", "Too Late")
	a := v.Post(path, stale).Is(http.StatusConflict, path)
	if a.Fields().Get("name") != "Too Late" {
		t.Error("what was typed is lost")
	}
	v.Post(path, a.Fields()).Is(http.StatusOK, path)
	for name, text := range map[string]string{"name": " ", "currency": "euro", "tax_percent": "101", "labour_cents_per_hour": "free", "contact_email": "nowhere"} {
		f := v.Get(path).Fields()
		f.Set(name, text)
		if got := v.Post(path, f).Is(http.StatusUnprocessableEntity, path).Text(webtest.ByID(name + "-error")); got == "" {
			t.Errorf("%s = %q has no fault at its field", name, text)
		}
	}
	if c, _ = s.Store.Catalogue(t.Context()); c.Shop.Name != "Too Late" {
		t.Errorf("%+v", c.Shop)
	}
}

func TestSettingsAreForStaff(t *testing.T) {
	t.Parallel()
	s := webtest.Open(t)
	for _, path := range []string{"/settings", "/settings/shop", "/settings/figures", "/settings/criteria", "/inventory/quality"} {
		s.Stranger().Get(path).Is(http.StatusForbidden, path)
	}
	a := s.Staff().Get("/settings")
	for _, path := range []string{"/settings/shop", "/settings/figures", "/settings/criteria", "/settings/staff", "/settings/tokens", "/inventory/quality"} {
		a.One(`a[href="` + path + `"]`)
	}
}

// TestLocalRulesAreTheShopsWords sets a rule and its words, sees both in a
// match, and empties them again.
func TestLocalRulesAreTheShopsWords(t *testing.T) {
	t.Parallel()
	const path = "/settings/figures"
	s := webtest.Open(t)
	v := s.Staff()
	f := v.Get(path).Fields()
	if f.Get("local_width_mm") != "" || f.Get("local_helmets_words") != "" {
		t.Errorf("a rule is set: %q, %q", f.Get("local_width_mm"), f.Get("local_helmets_words"))
	}
	f.Set("local_rider_age", "18")
	f.Set("local_rider_age_words", "Wer Kinder fährt, ist 18")
	v.Post(path, f).Is(http.StatusOK, path)
	shop, err := advice.On(t.Context(), s.Store, measure.Date{Year: 2026, Month: 11, Day: 25})
	if err != nil || shop.Settings.Local.RiderAge != 18 || shop.Settings.Local.Words[match.LocalRiderAge] != "Wer Kinder fährt, ist 18" {
		t.Errorf("%+v, %v", shop.Settings.Local, err)
	}
	f = v.Get(path).Fields()
	f.Set("local_rider_age", "")
	f.Set("local_rider_age_words", "")
	v.Post(path, f).Is(http.StatusOK, path)
	if shop, err = advice.On(t.Context(), s.Store, measure.Date{Year: 2026, Month: 11, Day: 25}); err != nil || shop.Settings.Local.RiderAge != 0 || len(shop.Settings.Local.Words) > 0 {
		t.Errorf("%+v, %v", shop.Settings.Local, err)
	}
}
