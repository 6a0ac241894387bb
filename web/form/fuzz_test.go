package form_test

import (
	"net/url"
	"strings"
	"testing"

	"kinwain/internal/measure"
	"kinwain/internal/problem"
	"kinwain/internal/profile"
	"kinwain/web/form"
)

// FuzzPostedForm posts anything. It becomes a profile whose document comes
// back, or faults that say where and what; and what is kept comes back.
func FuzzPostedForm(f *testing.F) {
	f.Add("riders[0].label=A&riders[0].height_cm=178&riders[0].weight_kg=82,5&units=imperial", "add riders")
	f.Add("riders[0].label=A&riders[0].height_cm=5'10\"&riders[0].weight_kg=12+st+4&passengers[1].born=5.2023&unknown=home&unknown=passengers[0].born", "remove passengers 0")
	f.Add("riders[19].label=%00&home.lift.door_cm=.5&budget_cents=1'000&hill_percent=7%25&years=-0&joins=1&passengers[0].joins=0.0000", "")
	f.Fuzz(func(t *testing.T, query, list string) {
		posted, err := url.ParseQuery(query)
		if err != nil {
			return
		}
		typed := form.FromValues(posted)
		typed.Add(list)
		typed.SwitchUnits(measure.Metric)
		typed.SwitchUnits(measure.Imperial)
		typed.Remove(list, len(query)%3)
		data, err := typed.Encode()
		if err != nil {
			t.Fatal(err)
		}
		back, err := form.Decode(data)
		if err != nil {
			t.Fatal(err)
		}
		again, err := back.Encode()
		if err != nil || string(again) != string(data) {
			t.Errorf("kept as %s, then as %s, %v", data, again, err)
		}
		judge(t, typed)
	})
}

func judge(t *testing.T, typed form.Form) {
	p, err := typed.Profile(today)
	if err == nil {
		document := documentOf(t, p)
		if _, err := profile.Parse([]byte(document)); err != nil {
			t.Errorf("its document is refused: %v\n%s", err, document)
		}
		return
	}
	faults, ok := err.(problem.List)
	if !ok || len(faults) == 0 || p != nil {
		t.Fatalf("%T: %v", err, err)
	}
	seen := map[string]bool{}
	for _, fault := range faults {
		if fault.Text == "" || seen[fault.Path] || strings.ContainsAny(fault.Path, " \x00<") {
			t.Errorf("at %q: %q", fault.Path, fault.Text)
		}
		seen[fault.Path] = true
	}
}
