package web_test

import (
	"fmt"
	"net/http"
	"net/url"
	"slices"
	"strings"
	"testing"
	"time"

	"github.com/PuerkitoBio/goquery"
)

// TestConsultationIsKeptAndResumed goes away from a half-filled form and comes
// back to it from the start.
func TestConsultationIsKeptAndResumed(t *testing.T) {
	s := open(t)
	v := s.staff()
	v.get("/").count(".resume li", 0)
	address, f := v.consultation()
	f.set("customer", "  M. ")
	f.set("riders[0].height_cm", `5'10"`)
	f.set("cargo_kg", "a few bags")
	f.dontKnow("pet_kg")
	f.values.Set("home.must_stand_upright", "yes")
	v.press(f, address, "save").is(http.StatusOK, address)
	v.press(v.get(address).form(), address, "add passengers")
	s.passes(26 * time.Hour)

	start := s.stranger()
	start.client.Jar = v.client.Jar
	row := start.get("/").one(".resume li a")
	if row.AttrOr("href", "") != address || words(row.Find("strong")) != "M." || words(row.Find("span")) != "1 rider, 1 passenger" || words(row.Find("time")) != "25 November 2026, 09:30" {
		t.Errorf("%s to %s", words(row), row.AttrOr("href", ""))
	}
	a := start.get(address)
	back := a.form().values
	for name, want := range map[string]string{
		"customer": "  M. ", "riders[0].height_cm": `5'10"`, "cargo_kg": "a few bags", "unknown": "pet_kg", "home.must_stand_upright": "yes", "passengers[0].label": "first child",
	} {
		if got := back.Get(name); got != want {
			t.Errorf("%s is %q, want %q", name, got, want)
		}
	}
}

func TestStartOffersTheNewestFirst(t *testing.T) {
	s := open(t)
	v := s.staff()
	var want []string
	for i := range 14 {
		s.passes(time.Minute)
		address, f := v.consultation()
		f.set("customer", fmt.Sprint("C", i))
		v.press(f, address, "save")
		want = slices.Insert(want, 0, fmt.Sprint("C", i))
	}
	var got []string
	v.get("/").page.Find(".resume strong").Each(func(_ int, name *goquery.Selection) { got = append(got, words(name)) })
	if !slices.Equal(got, want[:12]) {
		t.Errorf("%v", got)
	}
}

// TestFaultsAreShownWhereTheyAreAndNothingIsLost presses the button with
// several mistakes of several sorts.
func TestFaultsAreShownWhereTheyAreAndNothingIsLost(t *testing.T) {
	s := open(t)
	v := s.staff()
	address, f := v.consultation()
	for _, list := range lists {
		f = v.press(f, address, "add "+list).form()
	}
	typed := map[string]string{
		"customer": "<b>\"M'&", "riders[0].height_cm": "tall", "riders[0].weight_kg": "900 kg", "riders[1].height_cm": "169", "riders[1].weight_kg": "64", "riders[1].label": "A",
		"passengers[0].born": "next spring", "passengers[0].weight_kg": "13.1", "passengers[0].stature_cm": "5 m", "cargo_kg": "12", "home.doorways[0].width_cm": "wide",
		"home.corners[0].in_cm": "1.1 m", "home.lift.door_cm": "?", "budget_cents": "0", "home.steps": "3.5",
	}
	want := []string{"budget_cents", "home.doorways[0].width_cm", "home.lift.door_cm", "home.steps", "passengers[0].born", "passengers[0].stature_cm", "riders[0].height_cm", "riders[0].weight_kg", "riders[1].label"}
	for name, text := range typed {
		f.set(name, text)
	}
	f.dontKnow("years")
	sent := f.values
	a := v.press(f, address, "frames").is(http.StatusUnprocessableEntity, address)
	if !same(a.form().values, sent) {
		t.Errorf("sent %v, back came %v", sent, a.form().values)
	}
	if got := faultyFields(a); !slices.Equal(got, want) {
		t.Errorf("the faults are at %v, want %v", got, want)
	}
	if got := words(a.one(".alert[role=alert]")); got != "9 answers cannot be right yet. They are marked below." {
		t.Error(got)
	}
	a.count("[data-frame]", 0)
	for _, name := range want { // what is wrong is not folded away
		if closed := a.page.Find(byID(name)).Closest("details:not([open])"); closed.Length() > 0 {
			t.Errorf("%s is folded away", name)
		}
	}
	again := v.get(address)
	if !same(again.form().values, sent) {
		t.Errorf("kept is %v", again.form().values)
	}
}

// same reports whether two forms hold the same.
func same(a, b url.Values) bool {
	return a.Encode() == b.Encode()
}

// faultyFields lists the fields that are marked as wrong: to the eye, to a
// screen reader and in words.
func faultyFields(a *answer) []string {
	a.Helper()
	var names []string
	a.page.Find("[aria-invalid]").Each(func(_ int, field *goquery.Selection) {
		name := field.AttrOr("name", "")
		names = append(names, name)
		said := strings.Fields(field.AttrOr("aria-describedby", ""))
		if field.AttrOr("aria-invalid", "") != "true" || field.Closest(".field.bad").Length() != 1 || !slices.Contains(said, name+"-error") || words(a.page.Find(byID(name+"-error"))) == "" {
			a.Errorf("%s is not marked whole", name)
		}
	})
	slices.Sort(names)
	said := 0
	a.page.Find(".error").Each(func(_ int, e *goquery.Selection) {
		if words(e) != "" {
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
	s := open(t)
	v := s.staff()
	address, f := v.consultation()
	f.set("riders[0].weight_kg", "82")
	a := v.press(f, address, "save").is(http.StatusOK, address)
	if got := faultyFields(a); len(got) > 0 {
		t.Errorf("blamed are %v", got)
	}
	if got := a.text("#ranking .empty"); got != "One rider’s height and weight, and the first frames come up here." {
		t.Error(got)
	}
	missing := v.press(a.form(), address, "frames").is(http.StatusUnprocessableEntity, address)
	if got := faultyFields(missing); !slices.Equal(got, []string{"riders[0].height_cm"}) {
		t.Errorf("missing is %v", got)
	}
}

// TestRowsComeAndGoByButtons adds and removes rows around typed ones.
func TestRowsComeAndGoByButtons(t *testing.T) {
	s := open(t)
	v := s.staff()
	address, f := v.consultation()
	f.set("riders[0].height_cm", "178")
	for i, born := range []string{"2021-01", "2022-02", "2023-03"} {
		a := v.press(f, address, "add passengers")
		if want := address; a.status != http.StatusOK || a.path != want {
			t.Fatalf("%d at %s", a.status, a.path)
		}
		f = a.form()
		f.set(fmt.Sprintf("passengers[%d].born", i), born)
	}
	f.dontKnow("passengers[1].weight_kg")
	f = v.press(f, address, "remove passengers 0").form()
	if f.values.Get("passengers[0].born") != "2022-02" || f.values.Get("passengers[1].born") != "2023-03" || f.values.Has("passengers[2].born") {
		t.Errorf("%v", f.values)
	}
	if f.values.Get("unknown") != "passengers[0].weight_kg" || f.values.Get("riders[0].height_cm") != "178" {
		t.Errorf("%v", f.values)
	}
	f = v.press(f, address, "add passengers").form()
	if got := f.values.Get("passengers[2].label"); got != "first child" {
		t.Errorf("the new one is called %q", got)
	}
	if n := f.page.Find(`button[value^="remove riders"]`).Length(); n != 0 {
		t.Errorf("the last rider has %d buttons to be removed by", n)
	}
}

// TestButtonsThatAreNotThere posts actions that no page offers.
func TestButtonsThatAreNotThere(t *testing.T) {
	s := open(t)
	v := s.staff()
	address, f := v.consultation()
	f.set("cargo_kg", "12")
	for _, do := range []string{"", "add", "add home", "add riders twice", "remove riders -1", "remove riders 99999999999999999999", "remove riders x", "remove home 0", "drop tables", "add \x00", strings.Repeat("add ", 10000)} {
		values := url.Values{"do": {do}}
		for name, list := range f.values {
			values[name] = list
		}
		a := v.post(address, values).is(http.StatusOK, address)
		if got := a.form().values; !same(got, f.values) {
			t.Errorf("%.30q made %v", do, got)
		}
	}
}

// TestWhatIsNoFormChangesNothing sends what is not the form: the answers stay.
func TestWhatIsNoFormChangesNothing(t *testing.T) {
	s := open(t)
	v := s.staff()
	address, f := v.consultation()
	f.set("cargo_kg", "12")
	v.press(f, address, "save")
	kept := v.get(address).form().values
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
			r := v.request(http.MethodPost, path, strings.NewReader(c.body))
			if c.kind != "" {
				r.Header.Set("Content-Type", c.kind)
			}
			if a := v.send(r); a.status != c.status || a.text("main h1") == "" {
				t.Errorf("%s to %s: %d %s", c.name, path, a.status, a.text("main h1"))
			}
		}
		if got := v.get(address).form().values; !same(got, kept) {
			t.Errorf("%s made %v", c.name, got)
		}
	}
}

// TestUnitsAreSwitchedOnce types in one system, switches, and types on.
func TestUnitsAreSwitchedOnce(t *testing.T) {
	s := open(t)
	v := s.staff()
	address, f := v.consultation()
	f.set("riders[0].height_cm", "178")
	f.set("riders[0].weight_kg", "82,5")
	f.set("cargo_kg", "20 lb")
	f.set("units", "imperial")
	a := v.press(f, address, "save").is(http.StatusOK, address)
	f = a.form()
	for name, want := range map[string]string{"riders[0].height_cm": "178 cm", "riders[0].weight_kg": "82,5 kg", "cargo_kg": "20 lb"} {
		if got := f.values.Get(name); got != want {
			t.Errorf("%s is %q, want %q", name, got, want)
		}
	}
	if got := words(a.page.Find(`label[for="cargo_kg"] .unit`)); got != "lb" {
		t.Errorf("the cargo is asked in %q", got)
	}
	f.set("cargo_kg", "30")
	f.set("units", "metric")
	f = v.press(f, address, "save").form()
	if got := f.values.Get("cargo_kg"); got != "30 lb" {
		t.Errorf("the cargo is %q", got)
	}
}

// TestLiveListFollowsEveryAnswer posts as the script does.
func TestLiveListFollowsEveryAnswer(t *testing.T) {
	s := open(t)
	v := s.staff()
	address, f := v.consultation()
	f.set("riders[0].height_cm", "178")
	a := v.post(address+"/live", f.values).is(http.StatusOK, address+"/live")
	if a.page.Find("[data-frame]").Length() > 0 || a.one("[data-version]").AttrOr("data-summary", "") != "Waiting for answers" {
		t.Errorf("there is a list before there is a weight")
	}
	if got := words(a.one(`[data-fault="riders[0].weight_kg"]`)); got == "" {
		t.Error("what is missing is not said")
	}
	f.set("riders[0].weight_kg", "82")
	f.values.Set("units", "imperial") // the fields on the screen are still in kilograms
	a = v.post(address+"/live", f.values).is(http.StatusOK, address+"/live")
	before := toldByLive(a)
	if len(before) != 14 || a.one("[data-version]").AttrOr("data-version", "") != "3" {
		t.Errorf("%d frames, version %s", len(before), a.one("[data-version]").AttrOr("data-version", ""))
	}
	if got := v.get(address).form().values; got.Get("units") != "metric" || got.Get("riders[0].weight_kg") != "82" {
		t.Errorf("kept in %s: %s", got.Get("units"), got.Get("riders[0].weight_kg"))
	}
	f.values.Set("units", "metric")
	f.set("cargo_kg", "60")
	after := toldByLive(v.post(address+"/live", f.values))
	if slices.Equal(before, after) || len(after) != len(before) {
		t.Errorf("60 kg of cargo changed nothing: %v", after)
	}
	a = v.post(address+"/live", f.values)
	if got := a.one("[data-version]").AttrOr("data-version", ""); got != "4" {
		t.Errorf("saving the same again is version %s", got)
	}
}

func toldByLive(a *answer) []told {
	var list []told
	a.page.Find(".short > li[data-frame]").Each(func(_ int, li *goquery.Selection) {
		list = append(list, told{Frame: li.AttrOr("data-frame", ""), Verdict: verdictOf(li.Find(".verdict"))})
	})
	return list
}
