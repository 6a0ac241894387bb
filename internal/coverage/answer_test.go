package coverage

import (
	"encoding/json"
	"io/fs"
	"slices"
	"strings"
	"testing"

	"kinwain/internal/catalog"
	"kinwain/internal/match"
	"kinwain/internal/profile"
	"kinwain/testdata"
)

// told is what a document says of one frame.
type told struct {
	Frame, Verdict string
	Reasons        []struct {
		Code, Weight, Zone, Axle string
		AddOn                    string `json:"add_on"`
	}
	Build struct {
		AddOns   []string `json:"add_ons"`
		TakenOff []string `json:"taken_off"`
	}
	Change *struct{ Change string } `json:"would_fit_if"`
}

// surveyed is the demo shop with its sample customers, as the survey has them
// and as their documents do.
func surveyed(t *testing.T) (*catalog.Catalogue, *Survey, [][]told) {
	t.Helper()
	c, err := catalog.Parse(testdata.Demo)
	if err != nil {
		t.Fatal(err)
	}
	c.Units[0].Status = "sold"
	files, err := fs.Glob(testdata.Profiles, "profiles/*.json")
	if err != nil || len(files) < 8 {
		t.Fatalf("%d sample customers, %v", len(files), err)
	}
	var answers []Answer
	var documents [][]told
	for _, file := range files {
		data, err := testdata.Profiles.ReadFile(file)
		if err != nil {
			t.Fatal(err)
		}
		p, err := profile.Parse(data)
		if err != nil {
			t.Fatal(err)
		}
		settings := match.DefaultSettings()
		settings.Patience = 0
		ranked, err := match.Rank(t.Context(), c, p, settings, match.Options{Changes: true})
		if err != nil {
			t.Fatal(err)
		}
		answers = append(answers, AnswerOf(c, ranked))
		document, err := match.Document(ranked, nil)
		if err != nil {
			t.Fatal(err)
		}
		var read struct{ Matches []told }
		if err := json.Unmarshal(document, &read); err != nil {
			t.Fatal(err)
		}
		documents = append(documents, read.Matches)
	}
	s, err := Of(t.Context(), c, answers)
	if err != nil {
		t.Fatal(err)
	}
	return c, s, documents
}

// TestSurveyOfTheDemoShop counts everything again, out of the documents.
func TestSurveyOfTheDemoShop(t *testing.T) {
	t.Parallel()
	c, s, documents := surveyed(t)
	demo := map[string]bool{}
	for _, u := range c.Units {
		demo[u.Frame] = demo[u.Frame] || u.Kind == "demo" && u.Status != "sold"
	}
	var now, any Count
	helps, stops, missing, needed := map[string]int{}, map[string]int{}, map[string]int{}, map[string]bool{}
	for _, document := range documents {
		best, bestDemo := 0, 0
		would, in, on := map[string]bool{}, map[string]bool{}, map[string]bool{}
		for _, m := range document {
			grade := slices.Index([]string{"does_not_fit", "fits_with_care", "fits"}, m.Verdict)
			best = max(best, grade)
			if demo[m.Frame] {
				bestDemo = max(bestDemo, grade)
			}
			for _, r := range m.Reasons {
				if grade == 0 && r.Weight == "stop" {
					in[m.Frame+" "+r.Code+" "+r.AddOn+r.Zone+r.Axle] = true
				}
			}
			if m.Change != nil {
				would[m.Change.Change] = true
			}
			for _, code := range slices.Concat(m.Build.AddOns, c.Frame(m.Frame).ComesWith) {
				if grade > 0 && !slices.Contains(m.Build.TakenOff, code) {
					on[code] = true
				}
			}
		}
		count(&any, best)
		count(&now, bestDemo)
		tick(stops, in)
		if best == 0 {
			tick(helps, would)
		}
		if bestDemo == 0 {
			for code := range on {
				if !slices.ContainsFunc(c.AddOn(code).Fits, func(f string) bool { return demo[f] }) {
					missing[code]++
				}
			}
		}
		for code := range on {
			needed[code] = true
		}
	}
	for i, f := range c.Frames {
		if slices.Contains(s.Have, i) != demo[f.Code] {
			t.Errorf("%s is a demo: %v", f.Code, demo[f.Code])
		}
	}
	if s.Now != now || s.Any != any || now == any {
		t.Errorf("now %v and any %v, want %v and %v", s.Now, s.Any, now, any)
	}
	same(t, "helps", s.Helps, helps, func(code string) string { return code })
	same(t, "stops", s.Stops, stops, func(o Stop) string { return c.Frames[o.Frame].Code + " " + string(o.Code) + " " + o.At })
	same(t, "missing", s.Missing, missing, func(i int) string { return c.AddOns[i].Code })
	for i, a := range c.AddOns {
		if slices.Contains(s.Unneeded, i) == needed[a.Code] {
			t.Errorf("%s: needed %v", a.Code, needed[a.Code])
		}
	}
	if len(stops) < 10 || len(helps) == 0 || len(s.Unneeded) == 0 || len(s.Keep) == 0 {
		t.Errorf("%d stops, %d helps, %d unneeded, %d plans: too few to hold anything", len(stops), len(helps), len(s.Unneeded), len(s.Keep))
	}
}

func count(n *Count, grade int) {
	if grade > 0 {
		n.Served++
	}
	if grade > 1 {
		n.Well++
	}
}

func tick(counts map[string]int, seen map[string]bool) {
	for key := range seen {
		counts[key]++
	}
}

func same[T comparable](t *testing.T, what string, got []Tally[T], want map[string]int, name func(T) string) {
	t.Helper()
	if len(got) != len(want) {
		t.Errorf("%s: %d, want %d", what, len(got), len(want))
	}
	for i, one := range got {
		if want[name(one.Of)] != one.Customers {
			t.Errorf("%s: %s concerns %d, want %d", what, name(one.Of), one.Customers, want[name(one.Of)])
		}
		if i > 0 && one.Customers > got[i-1].Customers {
			t.Errorf("%s: %d after %d", what, one.Customers, got[i-1].Customers)
		}
	}
}

// TestNobodyIsNamed holds that what a survey says of a reason is a part of the
// frame or an add-on, and never a person or a place of theirs.
func TestNobodyIsNamed(t *testing.T) {
	t.Parallel()
	c, s, _ := surveyed(t)
	parts := 0
	for _, one := range s.Stops {
		f := &c.Frames[one.Of.Frame]
		for _, at := range strings.FieldsFunc(one.Of.At, func(r rune) bool { return r == '+' }) {
			parts++
			if c.AddOn(at) == nil && f.ZoneIndex(at) < 0 && at != "front" && at != "rear" {
				t.Errorf("%s of %s is about %q", one.Of.Code, f.Code, one.Of.At)
			}
		}
	}
	if parts == 0 {
		t.Error("no reason is about a part")
	}
}

// TestSteps holds what one bike more adds, and one less costs, to the plain
// difference.
func TestSteps(t *testing.T) {
	t.Parallel()
	table := shopTable(2, 20, 120)
	have := []int{3, 7, 11}
	now := table.Served(have).Served
	next := table.Next(have)
	for i, step := range next {
		if got := table.Served(append([]int{step.Bike}, have...)).Served - now; got != step.Customers || got <= 0 || slices.Contains(have, step.Bike) {
			t.Errorf("bike %d adds %d, said %d", step.Bike, got, step.Customers)
		}
		if i > 0 && step.Customers > next[i-1].Customers {
			t.Errorf("%v after %v", step, next[i-1])
		}
	}
	least := -1
	for _, step := range table.Without(have) {
		left := slices.DeleteFunc(slices.Clone(have), func(b int) bool { return b == step.Bike })
		if got := now - table.Served(left).Served; got != step.Customers || got < least {
			t.Errorf("without %d %d are lost, said %d after %d", step.Bike, got, step.Customers, least)
		}
		least = step.Customers
	}
	if len(next) < 3 || least <= 0 {
		t.Errorf("%v, and %d lost at the most: nothing to hold", next, least)
	}
}
