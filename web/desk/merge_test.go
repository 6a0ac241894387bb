package desk_test

import (
	"net/http"
	"net/url"
	"strings"
	"testing"
	"time"

	"kinwain/web/webtest"
)

// TestTwoTablets has two people answer one form that both opened before.
func TestTwoTablets(t *testing.T) {
	t.Parallel()
	v := webtest.Open(t).Staff()
	address, one := v.Consultation()
	two := v.Get(address).Form()
	one.Set("cargo_kg", "12")
	one.Set("years", "4")
	v.Press(one, address, "save").Is(http.StatusOK, address)
	two.Set("budget_cents", "3000")
	v.Press(two, address, "save").Is(http.StatusOK, address)
	got := v.Get(address).Form().Values
	if got.Get("cargo_kg") != "12" || got.Get("budget_cents") != "3000" {
		t.Errorf("merged: %v", got)
	}
	two.Set("cargo_kg", "30")
	two.Set("pet_kg", "9")
	for _, a := range []*webtest.Answer{v.Press(two, address, "save").Is(http.StatusConflict, address), v.Post(address+"/live", two.Values).Is(http.StatusConflict, address+"/live")} {
		for _, value := range []string{"12", "30"} {
			a.One(`[data-clashes] [type=radio][name="cargo_kg"][value="` + value + `"]`)
		}
	}
	got = v.Get(address).Form().Values
	if got.Get("cargo_kg") != "12" || got.Get("pet_kg") != "9" || got.Get("years") != "4" {
		t.Errorf("while it is asked: %v", got)
	}
	v.Post(address, url.Values{"version": {got.Get("version")}, "cargo_kg": {"30"}, "do": {"save"}}).Is(http.StatusOK, address)
	if chosen := v.Get(address).Form().Values; chosen.Get("cargo_kg") != "30" || chosen.Get("pet_kg") != "9" {
		t.Errorf("after the choice: %v", chosen)
	}
}

// TestOneFieldWipesNothing sends a single field, with and without a version.
func TestOneFieldWipesNothing(t *testing.T) {
	t.Parallel()
	v := webtest.Open(t).Staff()
	address, f := v.Consultation()
	f.Set("cargo_kg", "12")
	f.Set("budget_firm", "yes")
	f.DontKnow("home")
	v.Press(f, address, "save")
	for _, typed := range []url.Values{{"years": {"3"}}, {"years": {"5"}, "version": {"2"}}, {"years": {"5"}, "version": {"9999"}}} {
		v.Post(address+"/live", typed)
		got := v.Get(address).Form().Values
		if got.Get("cargo_kg") != "12" || got.Get("budget_firm") != "yes" || got.Get("unknown") != "home" {
			t.Fatalf("%v left %v", typed, got)
		}
	}
	whole := v.Get(address).Form()
	whole.Values.Del("budget_firm")
	whole.Values.Del("unknown")
	v.Press(whole, address, "save")
	if got := v.Get(address).Form().Values; got.Has("budget_firm") || got.Has("unknown") {
		t.Errorf("boxes that were unticked are ticked: %v", got)
	}
}

// TestPressedTwice presses buttons twice on one page.
func TestPressedTwice(t *testing.T) {
	t.Parallel()
	s := webtest.Open(t)
	v := s.Staff()
	start := url.Values{"once": {v.Get("/").One(`form[action="/consultations"] [name=once]`).AttrOr("value", "")}}
	first := v.Post("/consultations", start)
	if again := v.Post("/consultations", start); again.Path != first.Path {
		t.Errorf("two consultations: %s and %s", first.Path, again.Path)
	}
	f := first.Form()
	v.Press(f, first.Path, "add passengers")
	v.Press(f, first.Path, "add passengers")
	if n := v.Get(first.Path).Page.Find(`[name$="].born"]`).Length(); n != 1 {
		t.Errorf("%d passengers were added", n)
	}
}

// TestAgeIsKeptAsAMonth tells a birth as an age.
func TestAgeIsKeptAsAMonth(t *testing.T) {
	t.Parallel()
	v := webtest.Open(t).Staff()
	address, f := v.Consultation()
	f = v.Press(f, address, "add passengers").Form()
	f.Set("passengers[0].born", "4 years")
	a := v.Post(address+"/live", f.Values).Is(http.StatusOK, address+"/live")
	kept := v.Get(address).Form().Values.Get("passengers[0].born")
	if kept == "4 years" || kept == "" {
		t.Errorf("kept is %q", kept)
	}
	if got := a.One(`[data-other="passengers[0].born"]`).AttrOr("value", ""); got != kept {
		t.Errorf("the page is told %q", got)
	}
	v.Post(address+"/live", f.Values).Is(http.StatusOK, address+"/live") // the page still says 4 years
}

// TestClashOfHiddenWeights has two tablets enter a weight that nobody is to see:
// what is asked names no figure, and either may be chosen.
func TestClashOfHiddenWeights(t *testing.T) {
	t.Parallel()
	s := webtest.Open(t)
	v := s.Staff()
	address, f := v.Consultation()
	f.Set("riders[0].height_cm", "178")
	f.Values.Set("hide", "yes")
	v.Press(f, address, "save").Is(http.StatusOK, address)
	one, two := v.Get(address).Form(), v.Get(address).Form()
	one.Set("riders[0].weight_kg", "83.7")
	s.Passes(5 * time.Hour)
	v.Press(one, address, "save").Is(http.StatusOK, address)
	s.Passes(time.Minute)
	two.Set("riders[0].weight_kg", "91.2")
	for _, path := range []string{address + "/live", address} {
		asked := v.Post(path, two.Values).Is(http.StatusConflict, path).One("[data-clashes]")
		if got := webtest.Words(asked.Find("fieldset")); got != "weight (rider A) a hidden weight, typed here a hidden weight, saved by somebody else at 14:30" {
			t.Errorf("%s asks %q", path, got)
		}
		if at := asked.Find(`[type=radio][value="83.7"]`).Length(); at != 1 {
			t.Errorf("%s does not offer what is saved", path)
		}
	}
	a := v.Post(address+"/live", url.Values{"line": {"A 84 kg"}, "do": {"hear"}, "version": {v.Get(address).Form().Values.Get("version")}})
	if said := a.Text("[data-hearing]"); strings.Contains(said, "84") || !strings.Contains(said, "entered") {
		t.Errorf("heard is %q", said)
	}
	v.Post(address, url.Values{"version": {v.Get(address).Form().Values.Get("version")}, "riders[0].weight_kg": {"91.2"}, "do": {"save"}}).Is(http.StatusOK, address)
	if got := v.Get(address).Form().Values.Get("riders[0].weight_kg"); got != "91.2" {
		t.Errorf("chosen was 91.2, and saved is %q", got)
	}
}
