package form_test

import (
	"fmt"
	"maps"
	"net/url"
	"slices"
	"strings"
	"testing"
	"unicode/utf8"

	"github.com/google/go-cmp/cmp"
	"pgregory.net/rapid"

	"kinwain/web/form"
)

// columns are the fields of one row of each list.
var columns = map[string][]string{
	form.Riders:     {"label", "height_cm", "weight_kg", "weighed", "inseam_cm", "grip", "age_years"},
	form.Passengers: {"label", "born", "sex", "weight_kg", "stature_cm", "sits_unaided", "joins", "leaves_at_years"},
	form.Doorways:   {"width_cm", "height_cm"},
	form.Corners:    {"in_cm", "out_cm"},
}

func TestNewFormHasOneRider(t *testing.T) {
	f := form.New()
	got := map[string]int{}
	for list := range columns {
		got[list] = f.Rows(list)
	}
	want := map[string]int{form.Riders: 1, form.Passengers: 0, form.Doorways: 0, form.Corners: 0}
	if diff := cmp.Diff(want, got); diff != "" {
		t.Error(diff)
	}
	if label := f.Get("riders[0].label"); label != "A" {
		t.Errorf("the first rider is called %q", label)
	}
}

func TestNamesThatTheFormDoesNotHave(t *testing.T) {
	for _, name := range []string{
		"", "unknown", "as_of", "profile", "Customer", "riders", "riders[0]", "riders[].label", "riders[-1].label", "riders[20].label",
		"riders[00].label", "riders[07].label", "riders[99999999999999999999].label", "riders[0].label.x", "riders[0].__proto__", "riders[0].born",
		"passengers[0].inseam_cm", "home.doorways[0].in_cm", "home.corners[0].width_cm", "home.garden[0].width_cm", "homeXdoorways[0].width_cm",
		"riders[0].label\n", " riders[0].label", "riders[0]['label']", "riders[0].label\x00", "home\u200b", "<script>", strings.Repeat("a", 1<<16),
	} {
		f := form.FromValues(url.Values{name: {"x"}, "unknown": {name}})
		if f.Get(name) != "" || f.Unknown(name) {
			t.Errorf("%.60q is kept: %q, unknown %v", name, f.Get(name), f.Unknown(name))
		}
		for list := range columns {
			if f.Rows(list) != 0 {
				t.Errorf("%.60q makes %d rows of %s", name, f.Rows(list), list)
			}
		}
	}
}

func TestFirstOfRepeatedValuesCounts(t *testing.T) {
	f := form.FromValues(url.Values{"cargo_kg": {"12", "13"}, "pet_kg": {}})
	if f.Get("cargo_kg") != "12" || f.Get("pet_kg") != "" {
		t.Errorf("cargo %q, pet %q", f.Get("cargo_kg"), f.Get("pet_kg"))
	}
}

func TestLongValuesAreCutAtWholeLetters(t *testing.T) {
	for _, c := range []struct{ typed, kept string }{
		{strings.Repeat("x", 200), strings.Repeat("x", 200)},
		{strings.Repeat("x", 201), strings.Repeat("x", 200)},
		{strings.Repeat("ß", 1<<18), strings.Repeat("ß", 200)},
		{"82\xff kg", "82\uFFFD kg"},
	} {
		f := form.FromValues(url.Values{"customer": {c.typed}})
		if f.Get(form.Customer) != c.kept {
			t.Errorf("%d bytes became %d: %.20q", len(c.typed), len(f.Get(form.Customer)), f.Get(form.Customer))
		}
	}
}

func TestThousandRows(t *testing.T) {
	posted := url.Values{}
	for i := range 1000 {
		for list, fields := range columns {
			for _, field := range fields {
				posted.Set(form.At(list, i, field), "1")
				posted.Add("unknown", form.At(list, i, field))
			}
		}
	}
	f := form.FromValues(posted)
	for list := range columns {
		if f.Rows(list) != 20 {
			t.Errorf("%s has %d rows", list, f.Rows(list))
		}
		f.Add(list)
		if f.Rows(list) != 20 {
			t.Errorf("%s grew to %d rows", list, f.Rows(list))
		}
	}
	data, err := f.Encode()
	if err != nil || len(data) > 64<<10 {
		t.Errorf("kept in %d bytes, %v", len(data), err)
	}
}

// TestRowsGetNamesOfTheirOwn holds that no new row has the name of another
// one, whatever was removed and renamed before.
func TestRowsGetNamesOfTheirOwn(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		f := form.New()
		list := rapid.SampledFrom([]string{form.Riders, form.Passengers}).Draw(t, "list")
		for range rapid.IntRange(1, 30).Draw(t, "steps") {
			rows := f.Rows(list)
			switch rapid.SampledFrom([]string{"add", "add", "remove", "rename"}).Draw(t, "step") {
			case "remove":
				f.Remove(list, rapid.IntRange(-1, rows).Draw(t, "row"))
			case "rename":
				if rows > 0 {
					f.Set(form.At(list, rapid.IntRange(0, rows-1).Draw(t, "row"), "label"), rapid.SampledFrom([]string{"B", "second child", " C ", ""}).Draw(t, "name"))
				}
			default:
				taken := map[string]bool{}
				for i := range rows {
					taken[strings.TrimSpace(f.Get(form.At(list, i, "label")))] = true
				}
				f.Add(list)
				if f.Rows(list) == rows {
					continue
				}
				if name := f.Get(form.At(list, rows, "label")); name == "" || taken[name] {
					t.Fatalf("the new row is called %q beside %v", name, slices.Sorted(maps.Keys(taken)))
				}
			}
		}
	})
}

func TestListThatGetsARowIsNoLongerUnknown(t *testing.T) {
	for list := range columns {
		f := form.FromValues(url.Values{"unknown": {list, "pet_kg"}})
		f.Add(list)
		if f.Unknown(list) || !f.Unknown("pet_kg") {
			t.Errorf("%s: unknown %v, the pet %v", list, f.Unknown(list), f.Unknown("pet_kg"))
		}
	}
}

// model is what a list should hold: one map of typed values and one of marks
// for every row.
type model []map[string]string

func (m model) form(list string) form.Form {
	posted := url.Values{}
	for i, row := range m {
		for field, typed := range row {
			if mark, found := strings.CutPrefix(field, "?"); found {
				posted.Add("unknown", form.At(list, i, mark))
			} else {
				posted.Set(form.At(list, i, field), typed)
			}
		}
	}
	return form.FromValues(posted)
}

func rowsOf(f form.Form, list string) model {
	var m model
	for i := range f.Rows(list) {
		row := map[string]string{}
		for _, field := range columns[list] {
			row[field] = f.Get(form.At(list, i, field))
			if f.Unknown(form.At(list, i, field)) {
				row["?"+field] = ""
			}
		}
		m = append(m, row)
	}
	return m
}

// TestRowsMoveUpWhole holds that taking out a row takes its values and marks
// along, and those of no other row.
func TestRowsMoveUpWhole(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		list := rapid.SampledFrom(slices.Sorted(maps.Keys(columns))).Draw(t, "list")
		var want model
		for i := range rapid.IntRange(1, 6).Draw(t, "rows") {
			row := map[string]string{}
			for _, field := range columns[list] {
				row[field] = rapid.SampledFrom([]string{"", fmt.Sprint(i), field}).Draw(t, field)
				if rapid.Bool().Draw(t, "unknown") {
					row["?"+field] = ""
				}
			}
			want = append(want, row)
		}
		f := want.form(list)
		for range rapid.IntRange(1, 4).Draw(t, "removals") {
			at := rapid.IntRange(-1, len(want)).Draw(t, "at")
			f.Remove(list, at)
			if at >= 0 && at < len(want) {
				want = slices.Delete(want, at, at+1)
			}
			if diff := cmp.Diff([]map[string]string(want), []map[string]string(rowsOf(f, list))); len(want) > 0 && diff != "" || f.Rows(list) != len(want) {
				t.Fatalf("after taking out %d: %s", at, diff)
			}
		}
	})
}

// TestFormIsKeptWordForWord holds that a form comes back as it was typed.
func TestFormIsKeptWordForWord(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		posted := url.Values{}
		for list, fields := range columns {
			for i := range rapid.IntRange(0, 3).Draw(t, list) {
				for _, field := range fields {
					posted.Set(form.At(list, i, field), rapid.String().Draw(t, field))
				}
			}
		}
		posted.Set("customer", rapid.String().Draw(t, "customer"))
		posted.Set("units", rapid.SampledFrom([]string{"metric", "imperial", ""}).Draw(t, "units"))
		for _, name := range []string{"home", "riders[0].height_cm", "passengers", "home.lift"} {
			if rapid.Bool().Draw(t, name+" unknown") {
				posted.Add("unknown", name)
			}
		}
		f := form.FromValues(posted)
		data, err := f.Encode()
		if err != nil {
			t.Fatal(err)
		}
		back, err := form.Decode(data)
		if err != nil {
			t.Fatal(err)
		}
		if diff := cmp.Diff(f, back, cmp.AllowUnexported(form.Form{})); diff != "" {
			t.Error(diff)
		}
		for name := range posted {
			if typed := f.Get(name); utf8.RuneCountInString(posted.Get(name)) <= 200 && name != "unknown" && typed != posted.Get(name) {
				t.Errorf("%s: typed %q, kept %q", name, posted.Get(name), typed)
			}
		}
		again, err := back.Encode()
		if err != nil || string(again) != string(data) {
			t.Errorf("kept as %s, then as %s, %v", data, again, err)
		}
	})
}

func TestDecodeRefusesWhatIsNoForm(t *testing.T) {
	for _, data := range []string{"", "null and void", "[]", `{"values": []}`, `{"unknown": "home"}`} {
		if f, err := form.Decode([]byte(data)); err == nil {
			t.Errorf("%q is read as %+v", data, f)
		}
	}
}
