// The sample customers in the demo shop, as documents; run with -update to
// write them anew, and read the difference.
package match_test

import (
	"bytes"
	"context"
	"flag"
	"os"
	"path/filepath"
	"runtime"
	"slices"
	"strings"
	"testing"

	gocmp "github.com/google/go-cmp/cmp"

	"kinwain/internal/catalog"
	"kinwain/internal/match"
	"kinwain/internal/profile"
)

// updating reports whether the golden files are to be written; the flag is
// that of the table of reasons.
func updating() bool {
	f := flag.Lookup("update")
	return f != nil && f.Value.String() == "true"
}

// demo returns the demo shop and its customers by name.
func demo(t testing.TB) (*catalog.Catalogue, map[string]*profile.Profile) {
	t.Helper()
	data, err := os.ReadFile("../../testdata/demo.json")
	if err != nil {
		t.Fatal(err)
	}
	c, err := catalog.Parse(data)
	if err != nil {
		t.Fatal(err)
	}
	paths, _ := filepath.Glob("../../testdata/profiles/*.json")
	profiles := map[string]*profile.Profile{}
	for _, path := range paths {
		data, err := os.ReadFile(path)
		if err != nil {
			t.Fatal(err)
		}
		name := strings.TrimSuffix(filepath.Base(path), ".json")
		if profiles[name], err = profile.Parse(data); err != nil {
			t.Fatalf("%s: %v", name, err)
		}
	}
	if len(profiles) < 8 {
		t.Fatalf("%d sample customers only", len(profiles))
	}
	return c, profiles
}

func documentOf(t testing.TB, c *catalog.Catalogue, p *profile.Profile) []byte {
	t.Helper()
	list, err := match.Rank(context.Background(), c, p, match.DefaultSettings(), match.Options{Changes: true})
	if err != nil {
		t.Fatal(err)
	}
	data, err := match.Document(list)
	if err != nil {
		t.Fatal(err)
	}
	return append(bytes.TrimRight(data, "\n"), '\n')
}

func TestGoldenDocuments(t *testing.T) {
	c, profiles := demo(t)
	for name, p := range profiles {
		t.Run(name, func(t *testing.T) {
			path := filepath.Join("testdata", "golden", name+".json")
			got := documentOf(t, c, p)
			if updating() {
				if err := os.MkdirAll(filepath.Dir(path), 0o755); err != nil {
					t.Fatal(err)
				}
				if err := os.WriteFile(path, got, 0o644); err != nil {
					t.Fatal(err)
				}
				return
			}
			want, err := os.ReadFile(path)
			if err != nil {
				t.Fatal(err)
			}
			if diff := gocmp.Diff(strings.Split(string(want), "\n"), strings.Split(string(got), "\n")); diff != "" {
				t.Errorf("(− golden, + got): %s", diff)
			}
		})
	}
}

// Every golden file is some sample customer's.
func TestNoGoldenFileIsLeftOver(t *testing.T) {
	_, profiles := demo(t)
	paths, _ := filepath.Glob("testdata/golden/*")
	for _, path := range paths {
		if profiles[strings.TrimSuffix(filepath.Base(path), ".json")] == nil {
			t.Errorf("%s is nobody's", path)
		}
	}
}

// The same question has the same answer to the byte, on one processor and on
// all, whatever the order of the frames and the add-ons.
func TestRankIsDeterministic(t *testing.T) {
	c, profiles := demo(t)
	mirrored := *c
	mirrored.Frames, mirrored.AddOns = slices.Clone(c.Frames), slices.Clone(c.AddOns)
	slices.Reverse(mirrored.Frames)
	slices.Reverse(mirrored.AddOns)
	for name, p := range profiles {
		want := documentOf(t, c, p)
		if !bytes.Equal(want, documentOf(t, c, p)) {
			t.Errorf("%s: not the same twice", name)
		}
		was := runtime.GOMAXPROCS(1)
		alone := documentOf(t, c, p)
		runtime.GOMAXPROCS(was)
		if !bytes.Equal(want, alone) {
			t.Errorf("%s: not the same on one processor", name)
		}
		if diff := gocmp.Diff(string(want), string(documentOf(t, &mirrored, p))); diff != "" {
			t.Errorf("%s: not the same with the catalogue in another order: %s", name, diff)
		}
	}
}

// Judging changes neither the catalogue nor the profile.
func TestRankLeavesTheDocumentsAlone(t *testing.T) {
	c, profiles := demo(t)
	before, _ := c.Document()
	for name, p := range profiles {
		was, _ := p.Document()
		documentOf(t, c, p)
		if is, _ := p.Document(); !bytes.Equal(was, is) {
			t.Errorf("%s was changed", name)
		}
	}
	if after, _ := c.Document(); !bytes.Equal(before, after) {
		t.Error("the catalogue was changed")
	}
}
