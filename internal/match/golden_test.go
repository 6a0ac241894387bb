// The sample customers in the demo shop, by their documents; run with -update
// to write anew what is kept of them, and read the difference.
package match_test

import (
	"bytes"
	"cmp"
	"context"
	"encoding/json"
	"flag"
	"fmt"
	"os"
	"path/filepath"
	"regexp"
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
	s := match.DefaultSettings()
	s.Patience = 0 // the same on a slow machine
	ctx := match.Reporting(context.Background(), func(f *match.Fault) { t.Error(f) })
	list, err := match.Rank(ctx, c, p, s, match.Options{Changes: true, Stages: true})
	if err != nil {
		t.Fatal(err)
	}
	data, err := match.Document(list, nil)
	if err != nil {
		t.Fatal(err)
	}
	return append(bytes.TrimRight(data, "\n"), '\n')
}

// wholeCustomer is the sample customer whose document is kept whole; of the
// others what a person would look at first.
const wholeCustomer = "large-dog"

// goldenOf returns what is kept of the document of a sample customer, and the
// file that keeps it.
func goldenOf(t testing.TB, name string, document []byte) (path, kept string) {
	t.Helper()
	if name == wholeCustomer {
		return filepath.Join("testdata", "golden", name+".json"), folded(document)
	}
	return filepath.Join("testdata", "golden", name+".txt"), outline(t, document)
}

var innermost, breaks = regexp.MustCompile(`[\[{][^\[\]{}]*[\]}]`), regexp.MustCompile(`\n *`)

// folded writes every object and list of a document that has no others in it
// on one line.
func folded(document []byte) string {
	return innermost.ReplaceAllStringFunc(string(document), func(s string) string { return breaks.ReplaceAllString(s, " ") })
}

// outlined is what an outline reads of one frame.
type outlined struct {
	Frame, Verdict string
	Score          *float64
	Relaxed        []string
	Open           []string `json:"open_questions"`
	Reasons        []struct {
		Code, Weight, Rider, Passenger string
		Fields                         []string
	}
	Build struct {
		AddOns   []string `json:"add_ons"`
		TakenOff []string `json:"taken_off"`
	}
	Loads []struct {
		Rider string
		Total float64 `json:"total_kg"`
		Spare float64 `json:"spare_kg"`
	}
	Horizon *string
	Early   *string `json:"horizon_early"`
	Late    *string `json:"horizon_late"`
	Stages  []struct {
		From, To string
		AddOns   []string `json:"add_ons"`
		Due      int      `json:"due_cents"`
	}
	Ahead struct {
		Total int `json:"total_cents"`
	} `json:"years_ahead"`
	Total  int             `json:"total_cents"`
	Change json.RawMessage `json:"would_fit_if"`
}

// outline returns the verdict, the score, the total and until when it lasts of
// every frame of a document, what is fitted and taken off, what each rider
// makes of it, the codes of the reasons, and what would help.
func outline(t testing.TB, document []byte) string {
	t.Helper()
	var d struct{ Matches []outlined }
	if err := json.Unmarshal(document, &d); err != nil {
		t.Fatal(err)
	}
	var b strings.Builder
	for _, m := range d.Matches {
		fmt.Fprintf(&b, "%s %s", m.Frame, m.Verdict)
		if m.Score != nil {
			fmt.Fprintf(&b, " %v", *m.Score)
		}
		fmt.Fprintf(&b, ", %d cents", m.Total)
		for _, l := range m.Loads {
			fmt.Fprintf(&b, ", %s %v kg and %v to spare", l.Rider, l.Total, l.Spare)
		}
		if m.Horizon != nil {
			fmt.Fprintf(&b, ", until %s, between %s and %s", *m.Horizon, month(m.Early), month(m.Late))
		}
		changes := append(prefixed("with ", m.Build.AddOns), prefixed("without ", m.Build.TakenOff)...)
		fmt.Fprintf(&b, "\n  %s\n", cmp.Or(strings.Join(changes, ", "), "as it comes"))
		reasons := append(prefixed("relaxed ", m.Relaxed), prefixed("open ", m.Open)...)
		for _, r := range m.Reasons {
			reasons = append(reasons, strings.Join(strings.Fields(strings.Join([]string{r.Weight, r.Code, r.Rider, r.Passenger, strings.Join(r.Fields, " ")}, " ")), " "))
		}
		fmt.Fprintf(&b, "  %s\n", cmp.Or(strings.Join(reasons, ", "), "nothing to say"))
		for _, s := range m.Stages {
			fmt.Fprintf(&b, "  %s to %s with %s, %d cents\n", s.From, s.To, cmp.Or(strings.Join(s.AddOns, " "), "nothing"), s.Due)
		}
		if m.Ahead.Total > 0 {
			fmt.Fprintf(&b, "  %d cents over the years\n", m.Ahead.Total)
		}
		if string(m.Change) != "null" {
			fmt.Fprintf(&b, "  %s\n", breaks.ReplaceAllString(string(m.Change), " "))
		}
	}
	return b.String()
}

func month(m *string) string {
	if m == nil {
		return "ten years"
	}
	return *m
}

func prefixed(prefix string, list []string) []string {
	var all []string
	for _, s := range list {
		all = append(all, prefix+s)
	}
	return all
}

func TestGoldenDocuments(t *testing.T) {
	t.Parallel()
	c, profiles := demo(t)
	for name, p := range profiles {
		t.Run(name, func(t *testing.T) {
			path, got := goldenOf(t, name, documentOf(t, c, p))
			if updating() {
				if err := os.MkdirAll(filepath.Dir(path), 0o755); err != nil {
					t.Fatal(err)
				}
				if err := os.WriteFile(path, []byte(got), 0o644); err != nil {
					t.Fatal(err)
				}
				return
			}
			want, err := os.ReadFile(path)
			if err != nil {
				t.Fatal(err)
			}
			if diff := gocmp.Diff(strings.Split(string(want), "\n"), strings.Split(got, "\n")); diff != "" {
				t.Errorf("(− golden, + got): %s", diff)
			}
		})
	}
}

// Every golden file is some sample customer's.
func TestNoGoldenFileIsLeftOver(t *testing.T) {
	t.Parallel()
	_, profiles := demo(t)
	var want []string
	for name := range profiles {
		path, _ := goldenOf(t, name, []byte("{}"))
		want = append(want, path)
	}
	slices.Sort(want)
	if got, err := filepath.Glob("testdata/golden/*"); err != nil || !slices.Equal(got, want) {
		t.Errorf("%v, want %v; %v", got, want, err)
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
	t.Parallel()
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
