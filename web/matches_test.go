package web_test

import (
	"encoding/json"
	"net/http"
	"slices"
	"strings"
	"testing"
)

// wrong is what the API answers where it does not answer with matches.
type wrong struct {
	Error struct {
		Code, Text string
		Problems   []struct{ Path, Code, Text string }
	}
}

func (a *answer) wrong() wrong {
	a.Helper()
	var w wrong
	decoder := json.NewDecoder(strings.NewReader(string(a.body)))
	decoder.DisallowUnknownFields()
	if err := decoder.Decode(&w); err != nil || a.header.Get("Content-Type") != "application/json" || w.Error.Code == "" || w.Error.Text == "" {
		a.Fatalf("%s %s, %v", a.header.Get("Content-Type"), a.body, err)
	}
	return w
}

const plain = `{"profile": 1, "as_of": "2026-11-25", "riders": [{"label": "A", "height_cm": 178, "weight_kg": 82}]}`

// TestMatchesSayWhatIsWrong sends documents with one fault and with many.
func TestMatchesSayWhatIsWrong(t *testing.T) {
	s := open(t)
	v := s.staff()
	for name, c := range map[string]struct {
		document string
		want     []string // code at path
	}{
		"no number":      {strings.Replace(plain, "82", "NaN", 1), []string{"syntax at riders[0].weight_kg"}},
		"half of it":     {plain[:40], []string{"syntax at "}},
		"nothing":        {"", []string{"syntax at "}},
		"two documents":  {plain + plain, []string{"syntax at "}},
		"an unknown key": {strings.Replace(plain, `"label"`, `"weight": 3, "label"`, 1), []string{"unknown_key at riders[0].weight"}},
		"a key twice":    {strings.Replace(plain, `"label"`, `"height_cm": 3, "label"`, 1), []string{"duplicate at riders[0].height_cm"}},
		"a list":         {"[]", []string{"wrong_type at "}},
		"a text":         {strings.Replace(plain, "82", `"82 kg"`, 1), []string{"wrong_type at riders[0].weight_kg"}},
		"all at once": {
			`{"profile": 1, "as_of": "2026-11-25", "riders": [{"label": "A", "height_cm": 178, "weight_kg": 900}, {"label": "A", "height_cm": 17.8, "weight_kg": 80}],
			 "passengers": [{"label": "first", "born": "2023-05", "stature_cm": 500}, {"label": "second", "born": "2027-05"}], "cargo_kg": -1, "years": 11}`,
			[]string{"out_of_range at riders[0].weight_kg", "duplicate at riders[1].label", "out_of_range at riders[1].height_cm", "out_of_range at passengers[0].stature_cm",
				"out_of_range at passengers[1].born", "out_of_range at cargo_kg", "out_of_range at years"},
		},
	} {
		a := v.postProfile([]byte(c.document)).is(http.StatusUnprocessableEntity, "/matches")
		var got []string
		w := a.wrong()
		for _, p := range w.Error.Problems {
			got = append(got, p.Code+" at "+p.Path)
			if p.Text == "" {
				t.Errorf("%s: nothing is said of %s", name, p.Path)
			}
		}
		slices.Sort(got)
		slices.Sort(c.want)
		if w.Error.Code != "profile" || !slices.Equal(got, c.want) {
			t.Errorf("%s: %s %q, want %q", name, w.Error.Code, got, c.want)
		}
	}
}

func TestMatchesTakeOnlyProfilesOfDecentSize(t *testing.T) {
	s := open(t)
	v := s.staff()
	for _, c := range []struct {
		kind, body, code string
		status           int
	}{
		{"", plain, "media_type", http.StatusUnsupportedMediaType},
		{"text/plain", plain, "media_type", http.StatusUnsupportedMediaType},
		{"application/x-www-form-urlencoded", plain, "media_type", http.StatusUnsupportedMediaType},
		{"application/json;;", plain, "media_type", http.StatusUnsupportedMediaType},
		{"application/json", plain + strings.Repeat(" ", 1<<20), "too_large", http.StatusRequestEntityTooLarge},
	} {
		r := v.request(http.MethodPost, "/matches", strings.NewReader(c.body))
		r.Header.Set("Content-Type", c.kind)
		a := v.send(r).is(c.status, "/matches")
		if w := a.wrong(); w.Error.Code != c.code {
			t.Errorf("%q: %s", c.kind, w.Error.Code)
		}
	}
	for _, kind := range []string{"application/json", "application/json; charset=utf-8", "Application/JSON"} {
		r := v.request(http.MethodPost, "/matches", strings.NewReader(plain))
		r.Header.Set("Content-Type", kind)
		a := v.send(r).is(http.StatusOK, "/matches")
		if got := a.header.Get("Content-Type"); got != "application/json" || len(toldByDocument(t, a.body)) != 14 {
			t.Errorf("%s is answered with %s", kind, got)
		}
	}
}

func TestMatchesOfAnEmptyShop(t *testing.T) {
	s := open(t)
	c, err := s.store.Catalogue(t.Context())
	if err != nil {
		t.Fatal(err)
	}
	empty := *c
	empty.Frames, empty.AddOns, empty.Units = nil, nil, nil
	if err := s.store.ReplaceCatalogue(t.Context(), &empty); err != nil {
		t.Fatal(err)
	}
	v := s.staff()
	a := v.postProfile([]byte(plain)).is(http.StatusOK, "/matches")
	if got := strings.Join(strings.Fields(string(a.body)), ""); got != `{"matches":[]}` {
		t.Error(got)
	}
	address := v.interview([]byte(plain))
	if got := v.get(address + "/frames").text("main .empty"); got == "" {
		t.Error("the page of no frames says nothing")
	}
}
