package desk_test

import (
	"net/http"
	"strings"
	"testing"

	"github.com/PuerkitoBio/goquery"

	"kinwain/web/webtest"
)

// TestStepsOfTheTalk goes through the profile step by step: one is open, and
// each of the others says its answer in a line.
func TestStepsOfTheTalk(t *testing.T) {
	t.Parallel()
	v := webtest.Open(t).Staff()
	address, f := v.Consultation()
	a := v.Get(address)
	a.Count("details.step", 5)
	opens(t, a, "riders")
	a.Page.Find("details.step").Each(func(_ int, s *goquery.Selection) {
		if s.AttrOr("name", "") != "step" {
			t.Error("nothing keeps the browser from opening two steps")
		}
	})
	f.Set("riders[0].height_cm", "5'11")
	f.Set("riders[0].weight_kg", "84")
	f.Set("riders[0].weighed", "dressed")
	a = v.Press(f, address, "go passengers").Is(http.StatusOK, address)
	opens(t, a, "cargo") // nobody so far is an answer
	if got := says(a, "riders"); got != "A 180.3 cm, 84 kg dressed" {
		t.Errorf("the riders are said as %q", got)
	}
	if got := a.Text(`[data-reads="riders[0].height_cm"]`); got != "180.3 cm" {
		t.Errorf("5'11 is read as %q", got)
	}
	f = v.Press(a.Form(), address, "add passengers").Form()
	f.Set("passengers[0].born", "14 months")
	f.Set("home.length_cm", "200")
	f.Set("budget_cents", "much")
	a = v.Press(f, address, "frames").Is(http.StatusOK, address+"?insist=yes")
	opens(t, a, "money")
	if got := says(a, "passengers"); got != "first child, 14 months" {
		t.Errorf("who comes along is said as %q", got)
	}
	if got := a.Text(`[data-reads="passengers[0].weight_kg"]`); !strings.HasPrefix(got, "likely 1") {
		t.Errorf("what is reckoned with is said as %q", got)
	}
	if got := says(a, "home"); got != "200 × ? × ? cm" {
		t.Errorf("the home is said as %q", got)
	}
	live := v.Post(address+"/live", f.Values)
	if got := live.Text(`[data-said="passengers"]`); got != "first child, 14 months" {
		t.Errorf("the page is told %q", got)
	}
	if got := live.Text(`[data-read="riders[0].height_cm"]`); got != "180.3 cm" {
		t.Errorf("the page is told %q", got)
	}
	f = a.Form()
	f.Set("passengers[0].born", "8 months")
	if got := v.Post(address+"/live", f.Values).Text(`[data-said="passengers"]`); got != "first child, 8 months, rides from the first birthday on" {
		t.Errorf("of an infant it says %q", got)
	}
}

// opens holds that one step is open.
func opens(t *testing.T, a *webtest.Answer, want string) {
	t.Helper()
	open := a.Page.Find("details.step[open]")
	if open.Length() != 1 || open.AttrOr("data-step", "") != want {
		t.Errorf("%d steps are open, the first is %s, want %s", open.Length(), open.AttrOr("data-step", ""), want)
	}
}

func says(a *webtest.Answer, step string) string { return a.Text(`[data-says="` + step + `"]`) }

// TestRowsSayOnceWhatAllSayAlike finds each hint of a list once, tied to the
// fields of every row.
func TestRowsSayOnceWhatAllSayAlike(t *testing.T) {
	t.Parallel()
	v := webtest.Open(t).Staff()
	address, f := v.Consultation()
	a := v.Press(f, address, "add riders")
	hint := a.Page.Find("#riders > .hint span").First().AttrOr("id", "")
	if n := strings.Count(a.Page.Text(), "12 st 12"); n != 1 {
		t.Errorf("how a weight is typed is said %d times", n)
	}
	for _, name := range []string{"riders[0].height_cm", "riders[1].height_cm"} {
		if !strings.Contains(a.One(webtest.ByID(name)).AttrOr("aria-describedby", ""), hint) {
			t.Errorf("%s is not tied to %s", name, hint)
		}
	}
}
