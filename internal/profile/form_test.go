package profile_test

import (
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"kinwain/internal/profile"
)

// TestFaultsOfForm holds what stops the reading at once, however deep inside
// an answer it is.
func TestFaultsOfForm(t *testing.T) {
	for _, c := range []struct{ name, old, new, want string }{
		{"unknown key", `"pet_kg"`, `"dog_kg"`, "dog_kg unknown_key"},
		{"unknown key of a rider", `"inseam_cm"`, `"inseem_cm"`, "riders[0].inseem_cm unknown_key"},
		{"unknown key of a passenger", `"stature_cm"`, `"height_cm"`, "passengers[0].height_cm unknown_key"},
		{"unknown key of a home", `"clearance_cm"`, `"clearance"`, "home.clearance unknown_key"},
		{"unknown key of a doorway", `"height_cm": 201`, `"hight_cm": 201`, "home.doorways[0].hight_cm unknown_key"},
		{"unknown key of a corner", `"out_cm"`, `"exit_cm"`, "home.corners[0].exit_cm unknown_key"},
		{"unknown key of a lift", `"door_cm"`, `"door"`, "home.lift.door unknown_key"},
		{"key in capitals", `"years"`, `"Years"`, "Years unknown_key"},
		{"repeated key", `"years": 6`, `"years": 6, "years": 7`, "years duplicate"},
		{"repeated key of a passenger", `"sex": "girl"`, `"sex": "girl", "sex": null`, "passengers[0].sex duplicate"},
		{"repeated key of a lift", `"door_cm": 91`, `"door_cm": 91, "door_cm": 91`, "home.lift.door_cm duplicate"},
		{"not a number", `"weight_kg": 81.5`, `"weight_kg": NaN`, "riders[0].weight_kg syntax"},
		{"infinity", `"width_cm": 80`, `"width_cm": -Infinity`, "home.doorways[0].width_cm syntax"},
		{"a text that says NaN", `"weight_kg": 15.2`, `"weight_kg": "NaN"`, "passengers[0].weight_kg wrong_type"},
		{"a text with a unit", `"height_cm": 178`, `"height_cm": "178 cm"`, "riders[0].height_cm wrong_type"},
		{"a number beyond counting", `"cargo_kg": 12`, `"cargo_kg": 1e30`, "cargo_kg wrong_type"},
		{"parts of a year", `"years": 6`, `"years": 6.5`, "years wrong_type"},
		{"parts of a cent", `"budget_cents": 350000`, `"budget_cents": 3500.5`, "budget_cents wrong_type"},
		{"a number for yes", `"sits_unaided": true`, `"sits_unaided": 1`, "passengers[0].sits_unaided wrong_type"},
		{"a rider for riders", `"riders": [{"label": "A", `, `"riders": {"label": "A"}, "x": [{`, "riders wrong_type"},
		{"a list for a home", `"home": {`, `"home": [], "x": {`, "home wrong_type"},
		{"no such day", `"2026-11-25"`, `"2026-11-31"`, "as_of wrong_type"},
		{"a year for a month", `"2023-05"`, `"2023"`, "passengers[0].born wrong_type"},
		{"a day for a month", `"2027-01"`, `"2027-01-01"`, "passengers[0].joins wrong_type"},
		{"trailing comma", `"steps": 4}`, `"steps": 4,}`, "home syntax"},
		{"more behind the end", `"hill_percent": 7.5}`, `"hill_percent": 7.5} x`, " syntax"},
		{"cut short", `, "hill_percent": 7.5}`, ``, " syntax"},
	} {
		if strings.Count(fullDocument, c.old) == 0 {
			t.Fatalf("%s: %s is not in the document", c.name, c.old)
		}
		got, err := profile.Parse([]byte(strings.Replace(fullDocument, c.old, c.new, 1)))
		if diff := cmp.Diff(is(c.want), faults(t, err)); diff != "" || got != nil {
			t.Errorf("%s: %v %s", c.name, err, diff)
		}
	}
}

// TestDeepNestingIsRefused holds that no document can exhaust the stack.
func TestDeepNestingIsRefused(t *testing.T) {
	for _, open := range []string{`[`, `{"lift":`} {
		p, err := profile.Parse([]byte(`{"home":` + strings.Repeat(open, 100_000)))
		if p != nil || len(faults(t, err)) != 1 {
			t.Errorf("%s: %v", open, err)
		}
	}
}

func FuzzParse(f *testing.F) {
	f.Add([]byte(fullDocument))
	document, err := full().Document()
	if err != nil {
		f.Fatal(err)
	}
	f.Add(document)
	for _, seed := range []string{``, `null`, `{}`, `[]`,
		`{"profile":1,"as_of":"2026-11-25","riders":[{"label":"A","height_cm":1.78e2,"weight_kg":82.0004}]}`,
		`{"profile":1,"as_of":"2026-11-25","riders":[{"label":"A","height_cm":178,"weight_kg":82,"inseam_cm":null}],"home":null,"passengers":null}`,
		`{"profile":1,"as_of":"2026-11-25","riders":[{"label":"A","height_cm":178,"weight_kg":82}],"home":{"lift":null,"doorways":[{"width_cm":null}]},` +
			`"passengers":[{"label":"a","born":"2023-05-31","joins":""}],"budget_cents":null}`} {
		f.Add([]byte(seed))
	}
	f.Fuzz(func(t *testing.T, data []byte) {
		p, err := profile.Parse(data)
		if err != nil {
			if p != nil || len(faults(t, err)) == 0 {
				t.Errorf("%v with %v", err, p)
			}
			return
		}
		same(t, p)
	})
}
