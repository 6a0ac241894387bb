package desk_test

import (
	"net/http"
	"slices"
	"strings"
	"testing"

	"kinwain/web/webtest"
)

// TestMatchesSayWhatIsWrong sends documents with one fault and with many.
func TestMatchesSayWhatIsWrong(t *testing.T) {
	t.Parallel()
	s := webtest.Open(t)
	v := s.Staff()
	for name, c := range map[string]struct {
		document string
		want     []string // code at path
	}{
		"no number":      {strings.Replace(webtest.Plain, "82", "NaN", 1), []string{"syntax at riders[0].weight_kg"}},
		"half of it":     {webtest.Plain[:40], []string{"syntax at "}},
		"nothing":        {"", []string{"syntax at "}},
		"two documents":  {webtest.Plain + webtest.Plain, []string{"syntax at "}},
		"an unknown key": {strings.Replace(webtest.Plain, `"label"`, `"weight": 3, "label"`, 1), []string{"unknown_key at riders[0].weight"}},
		"a key twice":    {strings.Replace(webtest.Plain, `"label"`, `"height_cm": 3, "label"`, 1), []string{"duplicate at riders[0].height_cm"}},
		"a list":         {"[]", []string{"wrong_type at "}},
		"a text":         {strings.Replace(webtest.Plain, "82", `"82 kg"`, 1), []string{"wrong_type at riders[0].weight_kg"}},
		"all at once": {
			`{"profile": 1, "as_of": "2026-11-25", "riders": [{"label": "A", "height_cm": 178, "weight_kg": 900}, {"label": "A", "height_cm": 17.8, "weight_kg": 80}],
			 "passengers": [{"label": "first", "born": "2023-05", "stature_cm": 500}, {"label": "second", "born": "2029-05"}], "cargo_kg": -1, "years": 11}`,
			[]string{"out_of_range at riders[0].weight_kg", "duplicate at riders[1].label", "out_of_range at riders[1].height_cm", "out_of_range at passengers[0].stature_cm",
				"out_of_range at passengers[1].born", "out_of_range at cargo_kg", "out_of_range at years"},
		},
	} {
		a := postProfile(v, []byte(c.document)).Is(http.StatusUnprocessableEntity, "/matches")
		var got []string
		w := a.Wrong()
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
	t.Parallel()
	s := webtest.Open(t)
	v := s.Staff()
	for _, c := range []struct {
		kind, body, code string
		status           int
	}{
		{"", webtest.Plain, "media_type", http.StatusUnsupportedMediaType},
		{"text/plain", webtest.Plain, "media_type", http.StatusUnsupportedMediaType},
		{"application/x-www-form-urlencoded", webtest.Plain, "media_type", http.StatusUnsupportedMediaType},
		{"application/json;;", webtest.Plain, "media_type", http.StatusUnsupportedMediaType},
		{"application/json", webtest.Plain + strings.Repeat(" ", 1<<20), "too_large", http.StatusRequestEntityTooLarge},
	} {
		r := v.Request(http.MethodPost, "/matches", strings.NewReader(c.body))
		r.Header.Set("Content-Type", c.kind)
		a := v.Send(r).Is(c.status, "/matches")
		if w := a.Wrong(); w.Error.Code != c.code {
			t.Errorf("%q: %s", c.kind, w.Error.Code)
		}
	}
	for _, kind := range []string{"application/json", "application/json; charset=utf-8", "Application/JSON"} {
		r := v.Request(http.MethodPost, "/matches", strings.NewReader(webtest.Plain))
		r.Header.Set("Content-Type", kind)
		a := v.Send(r).Is(http.StatusOK, "/matches")
		if got := a.Header.Get("Content-Type"); got != "application/json" || len(webtest.ToldByDocument(t, a.Body)) != 14 {
			t.Errorf("%s is answered with %s", kind, got)
		}
	}
}

func TestMatchesOfAnEmptyShop(t *testing.T) {
	t.Parallel()
	s := webtest.Open(t)
	c, err := s.Store.Catalogue(t.Context())
	if err != nil {
		t.Fatal(err)
	}
	empty := *c
	empty.Frames, empty.AddOns, empty.Units = nil, nil, nil
	if err := s.Store.ReplaceCatalogue(t.Context(), &empty); err != nil {
		t.Fatal(err)
	}
	v := s.Staff()
	a := postProfile(v, []byte(webtest.Plain)).Is(http.StatusOK, "/matches")
	if got := strings.Join(strings.Fields(string(a.Body)), ""); !strings.HasPrefix(got, `{"cautions":["Themaker’smanual`) || !strings.HasSuffix(got, `],"matches":[],"questions":[]}`) {
		t.Error(got)
	}
	address := v.Interview([]byte(webtest.Plain))
	if got := v.Get(address + "/frames").Text("main .empty"); got == "" {
		t.Error("the page of no frames says nothing")
	}
}
