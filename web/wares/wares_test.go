package wares_test

import (
	"fmt"
	"net/url"
	"reflect"
	"strings"
	"testing"

	"github.com/go-json-experiment/json"
	"github.com/google/go-cmp/cmp"

	"kinwain/internal/catalog"
	"kinwain/internal/problem"
	"kinwain/testdata"
	"kinwain/web/wares"
)

// TestEveryThingComesBack shows every frame, add-on and unit of the demo shop
// for typing and reads it back.
func TestEveryThingComesBack(t *testing.T) {
	demo, err := catalog.Parse(testdata.Demo)
	if err != nil {
		t.Fatal(err)
	}
	for i := range demo.Frames {
		comesBack(t, wares.FrameList, demo.Frames[i])
	}
	for i := range demo.AddOns {
		comesBack(t, wares.AddOnList, demo.AddOns[i])
	}
	for i := range demo.Units {
		comesBack(t, wares.UnitList, demo.Units[i])
	}
}

func comesBack[T any](t *testing.T, list string, thing T) {
	t.Helper()
	want, err := json.Marshal(thing, json.Deterministic(true))
	if err != nil {
		t.Fatal(err)
	}
	typed, err := wares.Show(list, want)
	if err != nil {
		t.Fatal(err)
	}
	document, err := typed.Document(list)
	if err != nil {
		t.Fatalf("%v\n%s", err, want)
	}
	var got T
	if err := problem.Read(document, &got); err != nil {
		t.Fatal(err)
	}
	if all := catalog.EvidenceOf(&got); len(*all) == 0 {
		*all = nil // a form says that there is none, where a document need not
	}
	again, err := json.Marshal(got, json.Deterministic(true))
	if err != nil {
		t.Fatal(err)
	}
	if diff := cmp.Diff(string(want), string(again)); diff != "" {
		t.Error(diff)
	}
}

// TestEveryFieldIsAsked holds that every fact of a thing has its place in the
// form, once.
func TestEveryFieldIsAsked(t *testing.T) {
	for list, sections := range wares.Table {
		asked := map[string]int{}
		for _, s := range sections {
			for _, f := range s.Fields {
				asked[f.Name]++
			}
		}
		for _, f := range catalog.Of(list) {
			if asked[f.Name] != 1 {
				t.Errorf("%s: %s is asked %d times", list, f.Name, asked[f.Name])
			}
		}
	}
}

func TestReadsWhatPeopleType(t *testing.T) {
	for typed, want := range map[string]string{"24,5": "24.5", "54 lb": "24.494", "24.5 kg": "24.5"} {
		document, err := wares.FromValues(url.Values{"bare_weight_kg": {typed}, "front_tyre": {""}}).Document(wares.FrameList)
		if err != nil || !strings.Contains(string(document), `"bare_weight_kg":`+want+`,`) {
			t.Errorf("%q: %s, %v", typed, document, err)
		}
	}
	_, err := wares.FromValues(url.Values{"length_cm": {"long"}, "zones[0].rating_kg": {"60 apples"}, "sprockets": {"11 x"}, "bare_front_share": {"half"}}).Document(wares.FrameList)
	list, ok := err.(problem.List)
	if !ok {
		t.Fatal(err)
	}
	for _, path := range []string{"length_cm", "zones[0].rating_kg", "sprockets", "bare_front_share"} {
		if list.At(path) == "" {
			t.Errorf("no fault at %s: %v", path, list)
		}
	}
}

func TestRowsComeAndGo(t *testing.T) {
	typed := wares.FromValues(url.Values{"zones[0].code": {"front"}, "zones[1].code": {"rear"}, "zones[1].rating_kg": {"60"},
		"needs[0]": {"", ""}, "needs[1]": {"a", "", "b"}})
	if typed.Rows("needs") != 1 || !reflect.DeepEqual(typed.All("needs[0]"), []string{"a", "b"}) {
		t.Errorf("needs: %d %v", typed.Rows("needs"), typed.All("needs[0]"))
	}
	typed.Remove("zones", 0)
	typed.Remove("zones", 7)
	typed.Add("zones", "code")
	if typed.Rows("zones") != 2 || typed.Get("zones[0].rating_kg") != "60" || typed.Get("zones[1].code") != "" {
		t.Errorf("%+v", typed)
	}
}

// TestAnAddOnFitsHundredsOfFrames keeps each frame that was ticked.
func TestAnAddOnFitsHundredsOfFrames(t *testing.T) {
	var codes []string
	for n := range 500 {
		codes = append(codes, fmt.Sprintf("sedge-%d", n))
	}
	document, err := wares.FromValues(url.Values{"fits": codes}).Document(wares.AddOnList)
	var a struct {
		Fits []string `json:"fits"`
	}
	if err == nil {
		err = json.Unmarshal(document, &a)
	}
	if err != nil || !reflect.DeepEqual(a.Fits, codes) {
		t.Errorf("%d of %d frames, %v", len(a.Fits), len(codes), err)
	}
}

// TestSourcesAreChosenBesideTheirFigures chooses some anew, keeps one, and
// chooses one of a figure that is not there.
func TestSourcesAreChosenBesideTheirFigures(t *testing.T) {
	typed := wares.FromValues(url.Values{
		"gross_rating_kg": {"220"}, wares.SourceOf("gross_rating_kg"): {"rating_plate"}, "bare_weight_kg": {"30"},
		"zones[0].code": {"box"}, "zones[0].rating_kg": {"60"}, wares.SourceOf("zones[0].rating_kg"): {wares.Kept},
		wares.WasOf("zones[0].rating_kg"): {`{"figure":"zones[front].rating_kg","kind":"manual","on":"2026-03","link":"https://maker.example"}`},
		"combined[0].zones":               {"box, rear"}, "combined[0].rating_kg": {"70"}, wares.SourceOf("combined[0].rating_kg"): {"maker_answer"},
		wares.SourceOn: {"2026-11-27"}, wares.SourceBy: {" M. "},
	})
	document, err := typed.Document(wares.FrameList)
	want := `"evidence":[{"figure":"combined[box+rear].rating_kg","kind":"maker_answer","on":"2026-11-27","by":"M."},` +
		`{"figure":"gross_rating_kg","kind":"rating_plate","on":"2026-11-27","by":"M."},` +
		`{"figure":"zones[box].rating_kg","kind":"manual","on":"2026-03","link":"https://maker.example"}]`
	if err != nil || !strings.Contains(string(document), want) {
		t.Errorf("%s, %v", document, err)
	}
	if anew := typed.Anew(wares.FrameList); !reflect.DeepEqual(anew, []string{"gross_rating_kg", "combined[box+rear].rating_kg"}) {
		t.Errorf("anew %v", anew)
	}
	typed.Remove("zones", 0)
	if typed.Get(wares.SourceOf("zones[0].rating_kg")) != "" {
		t.Error("a zone is gone, and its source is there")
	}
	typed.Set("gross_rating_kg", "")
	typed.Set(wares.SourceOn, "yesterday")
	_, err = typed.Document(wares.FrameList)
	list, _ := err.(problem.List)
	if list.At(wares.SourceOf("gross_rating_kg")) == "" || list.At(wares.SourceOn) == "" {
		t.Errorf("%v", err)
	}
}
