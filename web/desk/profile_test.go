package desk_test

import (
	"fmt"
	"maps"
	"net/http"
	"net/url"
	"slices"
	"strings"
	"testing"
	"time"

	"github.com/PuerkitoBio/goquery"

	"kinwain/internal/problem"
	"kinwain/internal/profile"
	"kinwain/web/webtest"
)

// TestConsultationIsKeptAndResumed goes away from a half-filled form and comes
// back to it from the start.
func TestConsultationIsKeptAndResumed(t *testing.T) {
	t.Parallel()
	s := webtest.Open(t)
	v := s.Staff()
	v.Get("/").Count(".resume li", 0)
	address, f := v.Consultation()
	f.Set("customer", "  M. ")
	f.Set("riders[0].height_cm", `5'10"`)
	f.Set("cargo_kg", "a few bags")
	f.DontKnow("pet_kg")
	f.Values.Set("home.must_stand_upright", "yes")
	v.Press(f, address, "save").Is(http.StatusOK, address)
	v.Press(v.Get(address).Form(), address, "add passengers")
	s.Passes(26 * time.Hour)

	start := s.Stranger()
	start.Client.Jar = v.Client.Jar
	row := start.Get("/").One(".resume li a")
	if row.AttrOr("href", "") != address || webtest.Words(row.Find("strong")) != "M." || webtest.Words(row.Find("span")) != "1 rider, 1 passenger" || webtest.Words(row.Find("time")) != "25 November 2026, 09:30" {
		t.Errorf("%s to %s", webtest.Words(row), row.AttrOr("href", ""))
	}
	a := start.Get(address)
	back := a.Form().Values
	for name, want := range map[string]string{
		"customer": "  M. ", "riders[0].height_cm": `5'10"`, "cargo_kg": "a few bags", "unknown": "pet_kg", "home.must_stand_upright": "yes", "passengers[0].label": "first child",
	} {
		if got := back.Get(name); got != want {
			t.Errorf("%s is %q, want %q", name, got, want)
		}
	}
}

func TestStartOffersTheNewestFirst(t *testing.T) {
	t.Parallel()
	s := webtest.Open(t)
	v := s.Staff()
	var want []string
	for i := range 14 {
		s.Passes(time.Minute)
		address, f := v.Consultation()
		f.Set("customer", fmt.Sprint("C", i))
		v.Press(f, address, "save")
		want = slices.Insert(want, 0, fmt.Sprint("C", i))
	}
	var got []string
	v.Get("/").Page.Find(".resume strong").Each(func(_ int, name *goquery.Selection) { got = append(got, webtest.Words(name)) })
	if !slices.Equal(got, want[:12]) {
		t.Errorf("%v", got)
	}
}

// TestFaultsAreShownWhereTheyAreAndNothingIsLost presses the button with
// several mistakes of several sorts.
func TestFaultsAreShownWhereTheyAreAndNothingIsLost(t *testing.T) {
	t.Parallel()
	s := webtest.Open(t)
	v := s.Staff()
	address, f := v.Consultation()
	for _, list := range webtest.Lists {
		f = v.Press(f, address, "add "+list).Form()
	}
	typed := map[string]string{
		"customer": "<b>\"M'&", "riders[0].height_cm": "tall", "riders[0].weight_kg": "900 kg", "riders[1].height_cm": "169", "riders[1].weight_kg": "64", "riders[1].label": "A",
		"passengers[0].born": "next spring", "passengers[0].weight_kg": "13.1", "passengers[0].stature_cm": "5 m", "cargo_kg": "12", "home.doorways[0].width_cm": "wide",
		"home.corners[0].in_cm": "1.1 m", "home.lift.door_cm": "?", "budget_cents": "0", "home.steps": "3.5",
	}
	want := []string{"budget_cents", "home.doorways[0].width_cm", "home.lift.door_cm", "home.steps", "passengers[0].born", "passengers[0].stature_cm", "riders[0].height_cm", "riders[0].weight_kg", "riders[1].label"}
	for name, text := range typed {
		f.Set(name, text)
	}
	f.DontKnow("years")
	sent := f.Values
	a := v.Press(f, address, "frames").Is(http.StatusOK, address+"?insist=yes")
	if !same(a.Form().Values, sent) {
		t.Errorf("sent %v, back came %v", sent, a.Form().Values)
	}
	if got := faultyFields(a); !slices.Equal(got, want) {
		t.Errorf("the faults are at %v, want %v", got, want)
	}
	if got := webtest.Words(a.One(".alert[role=alert]")); got != "9 answers cannot be right yet. They are marked below." {
		t.Error(got)
	}
	a.Count("[data-frame]", 14) // of the rider who is whole
	for _, name := range want { // what is wrong is not folded away within its step
		if closed := a.Page.Find(webtest.ByID(name)).Closest("details:not([open]):not(.step)"); closed.Length() > 0 {
			t.Errorf("%s is folded away", name)
		}
	}
	again := v.Get(address)
	if !same(again.Form().Values, sent) {
		t.Errorf("kept is %v", again.Form().Values)
	}
}

// TestEveryQuestionIsAsked holds that each question of the table has its field,
// its words and, where it may be open, its box in the form.
func TestEveryQuestionIsAsked(t *testing.T) {
	t.Parallel()
	s := webtest.Open(t)
	v := s.Staff()
	address, f := v.Consultation()
	for _, list := range webtest.Lists {
		f = v.Press(f, address, "add "+list).Form()
	}
	a := v.Get(address)
	asked := 0
	var look func(path string, questions []profile.Question)
	look = func(path string, questions []profile.Question) {
		for _, q := range questions {
			name := problem.Join(path, q.Name)
			switch {
			case q.IsList():
				look(problem.Index(name, 0), q.Sub)
				continue
			case q.Sub != nil:
				look(name, q.Sub)
				continue
			}
			asked++
			field := a.Page.Find(webtest.ByID(name)).Closest(".field")
			said := webtest.Words(field) + webtest.Words(field.Closest(".section").ChildrenFiltered(".hint")) // of all rows once
			if field.Length() != 1 || !strings.Contains(webtest.Words(field.Find("label").First()), q.Label) || q.Label == "" || !strings.Contains(said, q.Hint) {
				t.Errorf("%s is asked as %q", name, webtest.Words(field))
			}
			if open := field.Find("[name=unknown]").Length(); (open == 1) == q.Sure {
				t.Errorf("%s has %d boxes for an open answer", name, open)
			}
		}
	}
	look("", profile.Questions)
	if asked < 35 {
		t.Errorf("only %d are asked", asked)
	}
}

// same reports whether two forms hold the same.
// same reports whether two forms hold the same answers, in whichever version.
func same(a, b url.Values) bool {
	a, b = maps.Clone(a), maps.Clone(b)
	a.Del("version")
	b.Del("version")
	return a.Encode() == b.Encode()
}

// faultyFields lists the fields that are marked as wrong: to the eye, to a
// screen reader and in words.
func faultyFields(a *webtest.Answer) []string {
	a.Helper()
	var names []string
	a.Page.Find("[aria-invalid]").Each(func(_ int, field *goquery.Selection) {
		name := field.AttrOr("name", "")
		names = append(names, name)
		said := strings.Fields(field.AttrOr("aria-describedby", ""))
		if field.AttrOr("aria-invalid", "") != "true" || field.Closest(".field.bad").Length() != 1 || !slices.Contains(said, name+"-error") || webtest.Words(a.Page.Find(webtest.ByID(name+"-error"))) == "" {
			a.Errorf("%s is not marked whole", name)
		}
	})
	slices.Sort(names)
	said := 0
	a.Page.Find(".error").Each(func(_ int, e *goquery.Selection) {
		if webtest.Words(e) != "" {
			said++
		}
	})
	if said != len(names) {
		a.Errorf("%d faults are said at %d fields", said, len(names))
	}
	return names
}

// TestOpenFormIsNotBlamed holds that nobody is told off for what they have
// not come to yet.
func TestOpenFormIsNotBlamed(t *testing.T) {
	t.Parallel()
	s := webtest.Open(t)
	v := s.Staff()
	address, f := v.Consultation()
	f.Set("riders[0].weight_kg", "82")
	a := v.Press(f, address, "save").Is(http.StatusOK, address)
	if got := faultyFields(a); len(got) > 0 {
		t.Errorf("blamed are %v", got)
	}
	if got := a.Text("#ranking .empty"); got != "One rider’s height and weight, and the first frames come up here." {
		t.Error(got)
	}
	missing := v.Press(a.Form(), address, "frames").Is(http.StatusOK, address+"?insist=yes")
	if got := faultyFields(missing); !slices.Equal(got, []string{"riders[0].height_cm"}) {
		t.Errorf("missing is %v", got)
	}
}

// TestRowsComeAndGoByButtons adds and removes rows around typed ones.
func TestRowsComeAndGoByButtons(t *testing.T) {
	t.Parallel()
	s := webtest.Open(t)
	v := s.Staff()
	address, f := v.Consultation()
	f.Set("riders[0].height_cm", "178")
	for i, born := range []string{"2021-01", "2022-02", "2023-03"} {
		a := v.Press(f, address, "add passengers")
		if want := address; a.Status != http.StatusOK || a.Path != want {
			t.Fatalf("%d at %s", a.Status, a.Path)
		}
		f = a.Form()
		f.Set(fmt.Sprintf("passengers[%d].born", i), born)
	}
	f.DontKnow("passengers[1].weight_kg")
	f = v.Press(f, address, "remove passengers 0").Form()
	if f.Values.Get("passengers[0].born") != "2022-02" || f.Values.Get("passengers[1].born") != "2023-03" || f.Values.Has("passengers[2].born") {
		t.Errorf("%v", f.Values)
	}
	if f.Values.Get("unknown") != "passengers[0].weight_kg" || f.Values.Get("riders[0].height_cm") != "178" {
		t.Errorf("%v", f.Values)
	}
	f = v.Press(f, address, "add passengers").Form()
	if got := f.Values.Get("passengers[2].label"); got != "first child" {
		t.Errorf("the new one is called %q", got)
	}
	if n := f.Page.Find(`button[value^="remove riders"]`).Length(); n != 0 {
		t.Errorf("the last rider has %d buttons to be removed by", n)
	}
}

// TestButtonsThatAreNotThere posts actions that no page offers.
func TestButtonsThatAreNotThere(t *testing.T) {
	t.Parallel()
	s := webtest.Open(t)
	v := s.Staff()
	address, f := v.Consultation()
	f.Set("cargo_kg", "12")
	for _, do := range []string{"", "add", "add home", "add riders twice", "remove riders -1", "remove riders 99999999999999999999", "remove riders x", "remove home 0", "drop tables", "add \x00", strings.Repeat("add ", 1000)} {
		values := url.Values{"do": {do}}
		for name, list := range f.Values {
			values[name] = list
		}
		a := v.Post(address, values).Is(http.StatusOK, address)
		if got := a.Form().Values; !same(got, f.Values) {
			t.Errorf("%.30q made %v", do, got)
		}
	}
}

// TestWhatIsNoFormChangesNothing sends what is not the form: the answers stay.
func TestWhatIsNoFormChangesNothing(t *testing.T) {
	t.Parallel()
	s := webtest.Open(t)
	v := s.Staff()
	address, f := v.Consultation()
	f.Set("cargo_kg", "12")
	v.Press(f, address, "save")
	kept := v.Get(address).Form().Values
	for _, c := range []struct {
		name, kind, body string
		status           int
	}{
		{"nothing", "application/x-www-form-urlencoded", "", http.StatusBadRequest},
		{"a document", "application/json", `{"cargo_kg": 13}`, http.StatusBadRequest},
		{"no type", "", "cargo_kg=13", http.StatusBadRequest},
		{"a damaged form", "application/x-www-form-urlencoded", "cargo_kg=%zz", http.StatusBadRequest},
		{"a film", "application/x-www-form-urlencoded", "cargo_kg=" + strings.Repeat("1", 1<<20), http.StatusRequestEntityTooLarge},
	} {
		for _, path := range []string{address, address + "/live"} {
			r := v.Request(http.MethodPost, path, strings.NewReader(c.body))
			if c.kind != "" {
				r.Header.Set("Content-Type", c.kind)
			}
			if a := v.Send(r); a.Status != c.status || a.Text("main h1") == "" {
				t.Errorf("%s to %s: %d %s", c.name, path, a.Status, a.Text("main h1"))
			}
		}
		if got := v.Get(address).Form().Values; !same(got, kept) {
			t.Errorf("%s made %v", c.name, got)
		}
	}
}

// TestUnitsAreSwitchedOnce types in one system, switches, and types on.
func TestUnitsAreSwitchedOnce(t *testing.T) {
	t.Parallel()
	s := webtest.Open(t)
	v := s.Staff()
	address, f := v.Consultation()
	f.Set("riders[0].height_cm", "178")
	f.Set("riders[0].weight_kg", "82,5")
	f.Set("cargo_kg", "20 lb")
	f.Set("units", "imperial")
	a := v.Press(f, address, "save").Is(http.StatusOK, address)
	f = a.Form()
	for name, want := range map[string]string{"riders[0].height_cm": "178 cm", "riders[0].weight_kg": "82,5 kg", "cargo_kg": "20 lb"} {
		if got := f.Values.Get(name); got != want {
			t.Errorf("%s is %q, want %q", name, got, want)
		}
	}
	if got := webtest.Words(a.Page.Find(`label[for="cargo_kg"] .unit`)); got != "lb" {
		t.Errorf("the cargo is asked in %q", got)
	}
	f.Set("cargo_kg", "30")
	f.Set("units", "metric")
	f = v.Press(f, address, "save").Form()
	if got := f.Values.Get("cargo_kg"); got != "30 lb" {
		t.Errorf("the cargo is %q", got)
	}
}

// TestLiveListFollowsEveryAnswer posts as the script does.
func TestLiveListFollowsEveryAnswer(t *testing.T) {
	t.Parallel()
	s := webtest.Open(t)
	v := s.Staff()
	address, f := v.Consultation()
	f.Set("riders[0].height_cm", "178")
	a := v.Post(address+"/live", f.Values).Is(http.StatusOK, address+"/live")
	if a.Page.Find("[data-frame]").Length() > 0 || a.One("[data-version]").AttrOr("data-summary", "") != "Waiting for answers" {
		t.Errorf("there is a list before there is a weight")
	}
	if got := webtest.Words(a.One(`[data-fault="riders[0].weight_kg"]`)); got == "" {
		t.Error("what is missing is not said")
	}
	f.Set("riders[0].weight_kg", "82")
	f.Values.Set("units", "imperial") // the fields on the screen are still in kilograms
	a = v.Post(address+"/live", f.Values).Is(http.StatusOK, address+"/live")
	before := toldByLive(a)
	if len(before) != 14 || a.One("[data-version]").AttrOr("data-version", "") != "3" {
		t.Errorf("%d frames, version %s", len(before), a.One("[data-version]").AttrOr("data-version", ""))
	}
	if got := v.Get(address).Form().Values; got.Get("units") != "metric" || got.Get("riders[0].weight_kg") != "82" {
		t.Errorf("kept in %s: %s", got.Get("units"), got.Get("riders[0].weight_kg"))
	}
	f.Values.Set("units", "metric")
	f.Set("cargo_kg", "60")
	after := toldByLive(v.Post(address+"/live", f.Values))
	if slices.Equal(before, after) || len(after) != len(before) {
		t.Errorf("60 kg of cargo changed nothing: %v", after)
	}
	a = v.Post(address+"/live", f.Values)
	if got := a.One("[data-version]").AttrOr("data-version", ""); got != "4" {
		t.Errorf("saving the same again is version %s", got)
	}
	a.Count("details.unfit:not([open])", 1)
	f = v.Get(address).Form()
	f.Set("cargo_kg", "400")
	v.Post(address+"/live", f.Values).Count("details.unfit[open]", 1) // what nothing fits says why at once
}

// TestAFaultyRowWipesNothing types rows that cannot be right, or nothing into
// them, beside a rider who is whole.
func TestAFaultyRowWipesNothing(t *testing.T) {
	t.Parallel()
	v := webtest.Open(t).Staff()
	address, f := v.Consultation()
	f.Set("riders[0].height_cm", "178")
	f.Set("riders[0].weight_kg", "82")
	f = v.Press(f, address, "add riders").Form()
	f = v.Press(f, address, "add passengers").Form()
	for _, c := range []struct{ name, typed string }{{"passengers[0].born", ""}, {"passengers[0].born", "soon"}, {"riders[1].weight_kg", "900 kg"}} {
		f.Set(c.name, c.typed)
		a := v.Post(address+"/live", f.Values).Is(http.StatusOK, address+"/live")
		if n := len(toldByLive(a)); n != 14 {
			t.Errorf("%s %q: %d frames", c.name, c.typed, n)
		}
		a.Count(".short .fits", 0) // who is not whole is open
		if said := a.Page.Find(`[data-fault="` + c.name + `"]`).Length(); (said == 1) != (c.typed != "") {
			t.Errorf("%s %q: said %d times", c.name, c.typed, said)
		}
		if open := v.Get(address + "/frames").Text(".questions-open"); !strings.Contains(open, "birth month (first child)") {
			t.Errorf("%s %q: open are %q", c.name, c.typed, open)
		}
	}
}

func toldByLive(a *webtest.Answer) []webtest.Told {
	var list []webtest.Told
	a.Page.Find(".short > li[data-frame]").Each(func(_ int, li *goquery.Selection) {
		list = append(list, webtest.Told{Frame: li.AttrOr("data-frame", ""), Verdict: webtest.VerdictOf(li.Find(".verdict"))})
	})
	return list
}
