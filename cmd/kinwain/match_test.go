package main

import (
	"errors"
	"io"
	"net/http"
	"path/filepath"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"kinwain/internal/catalog"
	"kinwain/internal/measure"
	"kinwain/internal/store"
)

// TestMatchAndAPIAgree ranks for every sample customer from a file, from the
// store and over HTTP: the same bytes. That the pages show the same is held
// where the pages are.
func TestMatchAndAPIAgree(t *testing.T) {
	t.Parallel()
	dir := demoShop.New(t)
	withoutItsFigures(t, dir) // which a document alone does not know
	a := start(t, dir).signIn()
	for _, file := range sampleProfiles(t) {
		t.Run(filepath.Base(file), func(t *testing.T) {
			fromFile := done(t, "match", "-catalogue", demoFile, "-profile", file)
			if strings.Count(fromFile, `"would_fit_if": `) != 14 || !strings.HasSuffix(fromFile, "}\n") {
				t.Fatalf("no ranking: %.300s", fromFile)
			}
			if diff := cmp.Diff(fromFile, done(t, "match", "-profile", file, "-data", dir)); diff != "" {
				t.Errorf("from the store: %s", diff)
			}
			response, _ := a.post("/matches", "application/json", read(t, file))
			body, err := io.ReadAll(response.Body)
			if err != nil || response.StatusCode != http.StatusOK {
				t.Fatalf("%d, %v", response.StatusCode, err)
			}
			if diff := cmp.Diff(fromFile, string(body)); diff != "" {
				t.Errorf("over HTTP: %s", diff)
			}
		})
	}
	a.stop()
}

// withoutItsFigures has a shop set nothing for itself.
func withoutItsFigures(t *testing.T, dir string) {
	t.Helper()
	s, err := store.Open(t.Context(), dir)
	if err != nil {
		t.Fatal(err)
	}
	if err := errors.Join(s.SetSettings(t.Context(), map[string]int64{}), s.Close()); err != nil {
		t.Fatal(err)
	}
}

// TestMatchNamesEveryFault wants each fault of a document on a line of its
// own, with its path.
func TestMatchNamesEveryFault(t *testing.T) {
	t.Parallel()
	one := write(t, `{"profile": 1, "as_of": "2026-11-25", "riders": [{"label": "A", "height_cm": 178, "weight_kg": 900}]}`)
	many := write(t, `{"profile": 1, "as_of": "2026-11-25", "riders": [{"label": "A", "height_cm": 17.8, "weight_kg": 900}],
		"passengers": [{"label": "first", "born": "2023-05", "stature_cm": 500}], "years": 40}`)
	catalogue := write(t, strings.Replace(strings.Replace(read(t, demoFile), `"code": "sedge"`, `"code": ""`, 1), `"kind": "demo"`, `"kind": "toy"`, 1))
	sample := sampleProfiles(t)[0]
	for name, c := range map[string]struct {
		args  []string
		lines []string // how each line begins
	}{
		"one":         {[]string{"-catalogue", demoFile, "-profile", one}, []string{"kinwain: " + one + ": riders[0].weight_kg: "}},
		"many":        {[]string{"-catalogue", demoFile, "-profile", many}, []string{"kinwain: " + many + " has 4 faults", "riders[0].height_cm: ", "riders[0].weight_kg: ", "passengers[0].stature_cm: ", "years: "}},
		"no profile":  {[]string{"-catalogue", demoFile, "-profile", "nothing.json"}, []string{"kinwain: open nothing.json: "}},
		"no shop":     {[]string{"-catalogue", "nothing.json", "-profile", sample}, []string{"kinwain: open nothing.json: "}},
		"not a shop":  {[]string{"-catalogue", sample, "-profile", sample}, []string{"kinwain: " + sample + ": "}},
		"faulty shop": {[]string{"-catalogue", catalogue, "-profile", sample}, nil},
	} {
		status, out, said := execute(t, append([]string{"match"}, c.args...)...)
		lines := strings.Split(strings.TrimSuffix(said, "\n"), "\n")
		if status != 1 || out != "" || c.lines != nil && len(lines) != len(c.lines) || c.lines == nil && len(lines) < 3 {
			t.Errorf("%s: %d, %q, %q", name, status, out, said)
			continue
		}
		for i, start := range c.lines {
			if !strings.HasPrefix(lines[i], start) {
				t.Errorf("%s: line %d is %q, want %q", name, i+1, lines[i], start)
			}
		}
	}
}

// TestPatience ranks a frame that takes some thought, in no time and in all
// the time that it takes.
func TestPatience(t *testing.T) {
	c := catalog.Catalogue{Version: 1, Shop: catalog.Shop{Name: "Low Quay Load Works", Currency: "EUR"}, Frames: []catalog.Frame{{
		Code: "sedge", Name: "Sedge", GrossRating: 300 * measure.Kilogram, BareWeight: 25 * measure.Kilogram, RiderMin: 1500, RiderMax: 1950, Price: 200_000,
		Length: 1800, Width: 600, Height: 1100, Zones: []catalog.Zone{{Code: "rear"}}, Mounts: []catalog.Mount{{Code: "rail", Capacity: 2011}}}}}
	for i, size := range []int{613, 457, 389, 541, 337, 499, 571, 421, 367, 593} {
		c.AddOns = append(c.AddOns, catalog.AddOn{Code: "bag-" + string(rune('a'+i)), Name: "Bag", Weight: 100, Price: 1000, Fits: []string{"sedge"}, Zone: "rear",
			Uses: []catalog.Use{{Mount: "rail", Count: size}}, Cargo: measure.Mass(size) * 10, CargoVolume: 1000})
	}
	document, err := c.Document()
	if err != nil {
		t.Fatal(err)
	}
	shop := write(t, string(document))
	customer := write(t, `{"profile": 1, "as_of": "2026-11-25", "riders": [{"label": "A", "height_cm": 178, "weight_kg": 80}], "cargo_kg": 20.11}`)
	for patience, want := range map[string]bool{"1ns": true, "0": false, "1h": false} {
		out := done(t, "match", "-catalogue", shop, "-profile", customer, "-patience", patience)
		if strings.Contains(out, `"verdict": "not_judged"`) != want {
			t.Errorf("in %s: %s", patience, out)
		}
	}
}
