package profile_test

import (
	"bytes"
	stdjson "encoding/json"
	"os"
	"path/filepath"
	"reflect"
	"regexp"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
	"github.com/google/go-cmp/cmp/cmpopts"
	"pgregory.net/rapid"

	"kinwain/internal/measure"
	"kinwain/internal/profile"
)

const (
	kg = measure.Kilogram
	cm = measure.Centimetre
)

// fullDocument states every key of the format, each figure differently.
const fullDocument = `{"profile": 1, "as_of": "2026-11-25", "objective": "longest",
 "riders": [{"label": "A", "height_cm": 178, "inseam_cm": 82, "weight_kg": 81.5, "weighed": "dressed", "grip": "reduced"}],
 "passengers": [{"label": "first", "born": "2023-05", "sex": "girl", "weight_kg": 15.2, "stature_cm": 101, "sits_unaided": true, "joins": "2027-01", "leaves_at_years": 9}],
 "pet_kg": 7.5, "cargo_kg": 12, "cargo_litres": 60.25,
 "home": {"length_cm": 200, "width_cm": 90, "height_cm": 240, "clearance_cm": 5, "must_stand_upright": true,
  "doorways": [{"width_cm": 80, "height_cm": 201}], "corners": [{"in_cm": 110, "out_cm": 100}],
  "lift": {"length_cm": 140, "width_cm": 111, "height_cm": 210, "door_cm": 91}, "steps": 4},
 "budget_cents": 350000, "budget_firm": true, "years": 6, "hill_percent": 7.5}`

// full is the profile of fullDocument.
func full() *profile.Profile {
	length := func(l measure.Length) profile.Answer[measure.Length] { return profile.Given(l * cm) }
	return &profile.Profile{
		Version: 1, AsOf: measure.Date{Year: 2026, Month: 11, Day: 25}, Objective: profile.Longest,
		Riders: []profile.Rider{{
			Label: "A", Height: length(178), Inseam: length(82), Weight: profile.Given(81500 * measure.Gram),
			Weighed: profile.Given(profile.Dressed), Grip: profile.Given(profile.ReducedGrip),
		}},
		Passengers: profile.Given([]profile.Passenger{{
			Label: "first", Born: profile.Given(measure.Date{Year: 2023, Month: 5}), Sex: profile.Given(profile.Girl),
			Weight: profile.Given(15200 * measure.Gram), Stature: length(101), SitsUnaided: profile.Given(true),
			Joins: profile.Given(profile.Month{Month: measure.MonthOf(2027, 1)}), LeavesAtYears: profile.Given(9),
		}}),
		Pet: profile.Given(7500 * measure.Gram), Cargo: profile.Given(12 * kg), CargoSize: profile.Given(60250 * measure.Millilitre),
		Home: profile.Given(profile.Home{
			Length: length(200), Width: length(90), Height: length(240), Clearance: length(5), MustStandUpright: profile.Given(true),
			Doorways: profile.Given([]profile.Doorway{{Width: length(80), Height: length(201)}}),
			Corners:  profile.Given([]profile.Corner{{In: length(110), Out: length(100)}}),
			Lift:     profile.Given(profile.Lift{Length: length(140), Width: length(111), Height: length(210), Door: length(91)}),
			Steps:    profile.Given(4),
		}),
		Budget: profile.Given[measure.Money](350000), BudgetFirm: profile.Given(true), Years: profile.Given(6), Hill: profile.Given[measure.Percentage](750),
	}
}

// inside lets cmp look into answers; no list and an empty list are one.
var inside = cmp.Options{cmp.Exporter(func(t reflect.Type) bool { return strings.HasPrefix(t.Name(), "Answer[") }), cmpopts.EquateEmpty()}

func TestParseFullDocument(t *testing.T) {
	got, err := profile.Parse([]byte(fullDocument))
	if err != nil {
		t.Fatal(err)
	}
	if diff := cmp.Diff(full(), got, inside); diff != "" {
		t.Error(diff)
	}
}

// reporter is what testing.T and rapid.T share.
type reporter interface {
	Helper()
	Errorf(string, ...any)
}

// same holds that the profile comes back from its document as it was, and
// that its document is always the same bytes.
func same(t reporter, p *profile.Profile) {
	t.Helper()
	document, err := p.Document()
	if err != nil {
		t.Errorf("writing: %v", err)
		return
	}
	back, err := profile.Parse(document)
	if err != nil {
		t.Errorf("reading back: %v\n%s", err, document)
		return
	}
	if diff := cmp.Diff(p, back, inside); diff != "" {
		t.Errorf("came back changed: %s", diff)
	}
	if again, err := back.Document(); err != nil || !bytes.Equal(document, again) {
		t.Errorf("second document, %v: %s", err, cmp.Diff(string(document), string(again)))
	}
	if diff := cmp.Diff(p.OpenQuestions(), back.OpenQuestions()); diff != "" {
		t.Errorf("open questions changed: %s", diff)
	}
	questionsAreNulls(t, document, p.OpenQuestions())
}

var pathStep = regexp.MustCompile(`[^.\[\]]+`)

// questionsAreNulls holds by another reader that every open question is a
// null of the document and every null an open question.
func questionsAreNulls(t reporter, document []byte, questions []string) {
	t.Helper()
	var tree any
	if err := stdjson.Unmarshal(document, &tree); err != nil {
		t.Errorf("not JSON: %v", err)
		return
	}
	for _, path := range questions {
		at := tree
		for _, step := range pathStep.FindAllString(path, -1) {
			switch node := at.(type) {
			case map[string]any:
				value, ok := node[step]
				if !ok {
					t.Errorf("%s leads nowhere", path)
				}
				at = value
			case []any:
				var i int
				if err := stdjson.Unmarshal([]byte(step), &i); err != nil || i >= len(node) {
					t.Errorf("%s leads nowhere", path)
					return
				}
				at = node[i]
			}
		}
		if at != nil {
			t.Errorf("%s is not null but %v", path, at)
		}
	}
	if n := nulls(tree); n != len(questions) {
		t.Errorf("%d open questions for %d nulls", len(questions), n)
	}
}

func nulls(tree any) int {
	n := 0
	switch node := tree.(type) {
	case nil:
		return 1
	case map[string]any:
		for _, value := range node {
			n += nulls(value)
		}
	case []any:
		for _, value := range node {
			n += nulls(value)
		}
	}
	return n
}

func TestDocumentIsLossless(t *testing.T) {
	same(t, full())
	rapid.Check(t, func(t *rapid.T) { same(t, drawProfile(t)) })
}

func TestSampleProfilesAreCanonical(t *testing.T) {
	files, err := filepath.Glob("../../testdata/profiles/*.json")
	if err != nil || len(files) < 8 {
		t.Fatalf("%d sample profiles, %v", len(files), err)
	}
	for _, file := range files {
		t.Run(filepath.Base(file), func(t *testing.T) {
			data, err := os.ReadFile(file)
			if err != nil {
				t.Fatal(err)
			}
			p, err := profile.Parse(data)
			if err != nil {
				t.Fatal(err)
			}
			same(t, p)
			document, err := p.Document()
			if err != nil {
				t.Fatal(err)
			}
			if diff := cmp.Diff(string(append(document, '\n')), string(data)); diff != "" {
				t.Error(diff)
			}
		})
	}
}

func TestOpenQuestions(t *testing.T) {
	for _, c := range []struct {
		name, document string
		want           []string
	}{
		{"none", `{"profile": 1, "as_of": "2026-11-25", "riders": [{"label": "A", "height_cm": 178, "weight_kg": 82}]}`, []string{}},
		{"home itself", `{"profile": 1, "as_of": "2026-11-25", "riders": [{"label": "A", "height_cm": 178, "weight_kg": 82}], "home": null}`, []string{"home"}},
		{"no lists at all", `{"profile": 1, "as_of": "2026-11-25", "riders": [{"label": "A", "height_cm": 178, "weight_kg": 82}], "passengers": null,
			"home": {"doorways": null, "corners": null, "lift": null}}`, []string{"passengers", "home.doorways", "home.corners", "home.lift"}},
		{"zero, false and empty are answers", `{"profile": 1, "as_of": "2026-11-25", "riders": [{"label": "A", "height_cm": 178, "weight_kg": 82}],
			"passengers": [], "pet_kg": 0, "home": {"length_cm": 0, "must_stand_upright": false, "doorways": [{}], "corners": [], "lift": {}}, "budget_firm": false}`, []string{}},
		// The keys stand in another order than the format has them.
		{"in order", `{"hill_percent": null, "years": null, "budget_firm": null, "budget_cents": null,
			"home": {"steps": null, "lift": {"door_cm": null, "length_cm": 100}, "corners": [{"out_cm": null, "in_cm": null}],
				"doorways": [{"width_cm": null, "height_cm": 200}, {"width_cm": 80, "height_cm": null}], "must_stand_upright": null, "clearance_cm": null, "height_cm": null},
			"cargo_litres": null, "cargo_kg": null, "pet_kg": null,
			"passengers": [{"label": "a", "born": null, "weight_kg": 15, "sex": null}, {"label": "b", "born": "2023-05", "sits_unaided": null, "joins": null, "stature_cm": null, "weight_kg": null, "leaves_at_years": null}],
			"riders": [{"label": "A", "height_cm": 178, "weight_kg": 82, "inseam_cm": null, "weighed": null, "grip": null}, {"label": "B", "height_cm": null, "weight_kg": null}],
			"as_of": "2026-11-25", "profile": 1}`,
			[]string{
				"riders[0].inseam_cm", "riders[0].weighed", "riders[0].grip", "riders[1].height_cm", "riders[1].weight_kg",
				"passengers[0].born", "passengers[0].sex", "passengers[1].weight_kg", "passengers[1].stature_cm", "passengers[1].sits_unaided",
				"passengers[1].joins", "passengers[1].leaves_at_years", "pet_kg", "cargo_kg", "cargo_litres",
				"home.height_cm", "home.clearance_cm", "home.must_stand_upright", "home.doorways[0].width_cm", "home.doorways[1].height_cm",
				"home.corners[0].in_cm", "home.corners[0].out_cm", "home.lift.door_cm", "home.steps",
				"budget_cents", "budget_firm", "years", "hill_percent",
			}},
	} {
		p, err := profile.Parse([]byte(c.document))
		if err != nil {
			t.Errorf("%s: %v", c.name, err)
			continue
		}
		if diff := cmp.Diff(c.want, p.OpenQuestions()); diff != "" {
			t.Errorf("%s: %s", c.name, diff)
		}
		same(t, p)
	}
}

func TestGoal(t *testing.T) {
	for objective, want := range map[profile.Objective]profile.Objective{
		"": profile.LeastCost, profile.LeastCost: profile.LeastCost, profile.Lightest: profile.Lightest, profile.Longest: profile.Longest,
	} {
		if got := (&profile.Profile{Objective: objective}).Goal(); got != want {
			t.Errorf("%q: %q, want %q", objective, got, want)
		}
	}
}
