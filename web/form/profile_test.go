package form_test

import (
	"encoding/json"
	"fmt"
	"net/url"
	"os"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"kinwain/internal/measure"
	"kinwain/internal/problem"
	"kinwain/internal/profile"
	"kinwain/web/form"
)

var today = measure.Date{Year: 2026, Month: 11, Day: 25}

// everything answers every question of the format.
const everything = `{"profile": 1, "as_of": "2026-11-25", "objective": "longest",
 "riders": [
  {"label": "A", "height_cm": 178, "inseam_cm": 82.5, "weight_kg": 81.5, "weighed": "dressed", "grip": "full"},
  {"label": "B", "height_cm": 169, "inseam_cm": 79, "weight_kg": 64, "weighed": "undressed", "grip": "reduced"}],
 "passengers": [
  {"label": "first", "born": "2023-05", "sex": "girl", "weight_kg": 15.2, "stature_cm": 101, "sits_unaided": true, "joins": "2027-01", "leaves_at_years": 9},
  {"label": "second", "born": "2025-11-14", "sex": "boy", "weight_kg": 9.1, "stature_cm": 74, "sits_unaided": false, "joins": "2027-03", "leaves_at_years": 8}],
 "pet_kg": 7.5, "cargo_kg": 12, "cargo_litres": 60.25,
 "home": {"length_cm": 200, "width_cm": 90, "height_cm": 240, "clearance_cm": 5, "must_stand_upright": true,
  "doorways": [{"width_cm": 80, "height_cm": 201}, {"width_cm": 81, "height_cm": 202}], "corners": [{"in_cm": 110, "out_cm": 100}],
  "lift": {"length_cm": 140, "width_cm": 111, "height_cm": 210, "door_cm": 91}, "steps": 4},
 "budget_cents": 350050, "budget_firm": true, "years": 6, "hill_percent": 7.5}`

// fill types a profile document into a form, question by question.
func fill(t *testing.T, document string) url.Values {
	t.Helper()
	decoder := json.NewDecoder(strings.NewReader(document))
	decoder.UseNumber()
	var tree map[string]any
	if err := decoder.Decode(&tree); err != nil {
		t.Fatal(err)
	}
	delete(tree, "profile")
	delete(tree, "as_of")
	posted := url.Values{}
	typeIn(posted, "", tree)
	return posted
}

func typeIn(posted url.Values, path string, node any) {
	switch node := node.(type) {
	case nil:
		posted.Add("unknown", path)
	case bool:
		posted.Set(path, map[bool]string{true: "yes", false: "no"}[node])
	case json.Number:
		if path == "budget_cents" {
			cents, _ := strconv.Atoi(node.String())
			posted.Set(path, fmt.Sprintf("%d.%02d", cents/100, cents%100))
			return
		}
		posted.Set(path, node.String())
	case string:
		posted.Set(path, node)
	case []any:
		for i, item := range node {
			typeIn(posted, fmt.Sprintf("%s[%d]", path, i), item)
		}
	case map[string]any:
		for key, item := range node {
			typeIn(posted, strings.TrimPrefix(path+"."+key, "."), item)
		}
	}
}

// questions lists the names of the fields of a filled form.
func questions(posted url.Values) []string {
	var names []string
	for name := range posted {
		names = append(names, name)
	}
	slices.Sort(names)
	return names
}

func documentOf(t *testing.T, p *profile.Profile) string {
	t.Helper()
	document, err := p.Document()
	if err != nil {
		t.Fatal(err)
	}
	return string(document)
}

// TestFormSaysWhatTheDocumentSays types every sample customer, and one who
// answers everything, into the form and wants their documents back.
func TestFormSaysWhatTheDocumentSays(t *testing.T) {
	files, err := filepath.Glob("../../testdata/profiles/*.json")
	if err != nil || len(files) < 8 {
		t.Fatalf("%d sample customers, %v", len(files), err)
	}
	documents := map[string]string{"everything": everything}
	for _, file := range files {
		data, err := os.ReadFile(file)
		if err != nil {
			t.Fatal(err)
		}
		documents[filepath.Base(file)] = string(data)
	}
	for name, document := range documents {
		want, err := profile.Parse([]byte(document))
		if err != nil {
			t.Fatal(err)
		}
		got, err := form.FromValues(fill(t, document)).Profile(today)
		if err != nil {
			t.Errorf("%s: %v", name, err)
			continue
		}
		if diff := cmp.Diff(documentOf(t, want), documentOf(t, got)); diff != "" {
			t.Errorf("%s: %s", name, diff)
		}
	}
}

// pathsOf lists where the faults of a form are.
func pathsOf(t *testing.T, f form.Form) []string {
	t.Helper()
	p, err := f.Profile(today)
	if err == nil {
		return nil
	}
	faults, ok := err.(problem.List)
	if !ok {
		t.Fatalf("the error is a %T: %v", err, err)
	}
	if p != nil {
		t.Error("there is a profile beside the faults")
	}
	var paths []string
	for _, fault := range faults {
		if fault.Text == "" || fault.Code == "" {
			t.Errorf("nothing is said of %s: %+v", fault.Path, fault)
		}
		paths = append(paths, fault.Path)
	}
	slices.Sort(paths)
	return paths
}

// TestUnreadableAnswerIsAFaultAtItsField holds for every question of the
// format, one by one, and that nothing else is blamed.
func TestUnreadableAnswerIsAFaultAtItsField(t *testing.T) {
	full := fill(t, everything)
	for _, name := range questions(full) {
		if strings.HasSuffix(name, ".label") { // every text is a name
			continue
		}
		f := form.FromValues(full)
		f.Set(name, "?!")
		if got := pathsOf(t, f); !slices.Equal(got, []string{name}) {
			t.Errorf("%s: the faults are at %v", name, got)
		}
		if f.Get(name) != "?!" {
			t.Errorf("%s: what was typed is now %q", name, f.Get(name))
		}
	}
}

// TestImplausibleFigureIsAFaultAtItsField holds for every figure.
func TestImplausibleFigureIsAFaultAtItsField(t *testing.T) {
	full := fill(t, everything)
	figures := 0
	for _, name := range questions(full) {
		if _, err := strconv.ParseFloat(full.Get(name), 64); err != nil {
			continue
		}
		figures++
		f := form.FromValues(full)
		f.Set(name, "9999999")
		want := []string{name}
		if got := pathsOf(t, f); !slices.Equal(got, want) {
			t.Errorf("%s: the faults are at %v", name, got)
		}
	}
	if figures != 33 {
		t.Errorf("%d figures were tried", figures)
	}
}

// TestDontKnowYetIsAnAnswerEverywhere marks every question, one by one.
func TestDontKnowYetIsAnAnswerEverywhere(t *testing.T) {
	full := fill(t, everything)
	for _, name := range append(questions(full), "home", "home.lift", "home.doorways", "home.corners") {
		if strings.HasSuffix(name, ".label") || name == "objective" {
			continue
		}
		marked := fill(t, everything)
		marked.Set("unknown", name)
		p, err := form.FromValues(marked).Profile(today)
		if err != nil {
			t.Errorf("%s: %v", name, err)
			continue
		}
		if got := p.OpenQuestions(); !slices.Equal(got, []string{name}) {
			t.Errorf("%s: the open questions are %v", name, got)
		}
	}
}

func TestUnknownPassengers(t *testing.T) {
	one := url.Values{"riders[0].label": {"A"}, "riders[0].height_cm": {"178"}, "riders[0].weight_kg": {"82"}, "unknown": {"passengers"}}
	p, err := form.FromValues(one).Profile(today)
	if err != nil {
		t.Fatal(err)
	}
	if got := p.OpenQuestions(); !slices.Equal(got, []string{"passengers"}) {
		t.Errorf("open questions %v", got)
	}
}

// TestNothingTypedDoesNotApply holds that what nobody answered is absent from
// the document, neither zero nor unknown.
func TestNothingTypedDoesNotApply(t *testing.T) {
	f := form.New()
	f.Set("riders[0].height_cm", " 178 ")
	f.Set("riders[0].weight_kg", "\t82")
	f.Set("home.length_cm", "  ")
	p, err := f.Profile(today)
	if err != nil {
		t.Fatal(err)
	}
	want, err := profile.Parse([]byte(`{"profile": 1, "as_of": "2026-11-25", "riders": [{"label": "A", "height_cm": 178, "weight_kg": 82}]}`))
	if err != nil {
		t.Fatal(err)
	}
	if diff := cmp.Diff(documentOf(t, want), documentOf(t, p)); diff != "" {
		t.Error(diff)
	}
}

func TestEmptyForm(t *testing.T) {
	if got := pathsOf(t, form.New()); !slices.Equal(got, []string{"riders[0].height_cm", "riders[0].weight_kg"}) {
		t.Errorf("a new form has faults at %v", got)
	}
	if got := pathsOf(t, form.FromValues(nil)); !slices.Equal(got, []string{"riders"}) {
		t.Errorf("a form without a rider has faults at %v", got)
	}
}

// TestFaultsComeAllAtOnce mixes what cannot be read with what cannot be right.
func TestFaultsComeAllAtOnce(t *testing.T) {
	posted := fill(t, everything)
	for name, typed := range map[string]string{
		"riders[0].height_cm":           "tall",      // no length
		"riders[0].weight_kg":           "900",       // no person
		"riders[1].label":               "A",         // twice
		"riders[1].inseam_cm":           "115",       // longer than the legs of 169 cm
		"passengers[0].born":            "soon",      // no month
		"passengers[0].weight_kg":       "",          // which nothing is missing for, once there is a month
		"passengers[1].born":            "12.2029",   // more than two years ahead
		"passengers[1].weight_kg":       "",          // then nothing to estimate from, but first the month
		"passengers[0].stature_cm":      "5 m",       // no child
		"home.steps":                    "a few",     // no number
		"home.doorways[1].width_cm":     "8000",      // a gate
		"home.lift.door_cm":             "wide",      // no length
		"budget_cents":                  "0",         // not an offer
		"hill_percent":                  "steep",     // no percentage
		"passengers[1].sits_unaided":    "sometimes", // neither yes nor no
		"passengers[0].joins":           "2027-13",   // no month
		"home.corners[0].in_cm":         "1200",      // over ten metres
		"objective":                     "prettiest", // not on offer
		"riders[0].grip":                "iron",
		"passengers[1].joins":           "",
		"passengers[1].leaves_at_years": "31",
	} {
		posted.Set(name, typed)
	}
	want := []string{
		"budget_cents", "hill_percent", "home.corners[0].in_cm", "home.doorways[1].width_cm", "home.lift.door_cm", "home.steps", "objective",
		"passengers[0].born", "passengers[0].joins", "passengers[0].stature_cm", "passengers[1].born", "passengers[1].leaves_at_years", "passengers[1].sits_unaided",
		"riders[0].grip", "riders[0].height_cm", "riders[0].weight_kg", "riders[1].inseam_cm", "riders[1].label",
	}
	if diff := cmp.Diff(want, pathsOf(t, form.FromValues(posted))); diff != "" {
		t.Error(diff)
	}
}

// TestFormOfAnExpectedChild types a birth ahead like any other; the child joins
// on its birthday.
func TestFormOfAnExpectedChild(t *testing.T) {
	f := form.New()
	f.Set("riders[0].height_cm", "178")
	f.Set("riders[0].weight_kg", "82")
	f.Set("passengers[0].label", "first")
	f.Set("passengers[0].born", "2.2027")
	p, err := f.Profile(today)
	if err != nil {
		t.Fatal(err)
	}
	child := p.Passengers.Or(nil)[0]
	if day, ok := child.JoinsOn(p.AsOf); !ok || day.String() != "2028-02-28" {
		t.Errorf("joins %v, %v", day, ok)
	}
	f.Set("passengers[0].born", "12.2028") // more than two years ahead
	if got := pathsOf(t, f); !slices.Equal(got, []string{"passengers[0].born"}) {
		t.Errorf("the faults are at %v", got)
	}
}
