package advice

import (
	"encoding/json"
	"fmt"
	"io/fs"
	"maps"
	"math/rand/v2"
	"path"
	"reflect"
	"slices"
	"strings"
	"testing"

	"kinwain/internal/match"
	"kinwain/internal/profile"
	"kinwain/testdata"
)

// everything is a customer who has answered every question.
const everything = `{"profile": 1, "as_of": "2026-11-25", "objective": "lightest",
 "riders": [{"label": "A", "height_cm": 178, "inseam_cm": 82, "weight_kg": 82, "weighed": "dressed", "grip": "full", "age_years": 40},
  {"label": "B", "height_cm": 158, "inseam_cm": 70, "weight_kg": 64, "weighed": "undressed", "grip": "reduced", "age_years": 30}],
 "passengers": [{"label": "first", "born": "2023-05-03", "sex": "girl", "weight_kg": 15.2, "stature_cm": 101, "sits_unaided": true, "joins": "2027-01", "leaves_at_years": 8},
  {"label": "second", "born": "2025-09", "sex": "boy", "weight_kg": 11, "stature_cm": 78, "sits_unaided": true, "joins": "2027-03", "leaves_at_years": 9}],
 "pet_kg": 6, "cargo_kg": 12, "cargo_litres": 40,
 "home": {"length_cm": 240, "width_cm": 90, "height_cm": 220, "clearance_cm": 2, "must_stand_upright": false,
   "doorways": [{"width_cm": 85, "height_cm": 210}], "corners": [{"in_cm": 130, "out_cm": 120}],
   "lift": {"length_cm": 240, "width_cm": 110, "height_cm": 210, "door_cm": 90}, "steps": 4},
 "budget_cents": 350000, "budget_firm": false, "years": 4, "hill_percent": 7}`

// customers are the samples, and one who has answered everything.
func customers(t *testing.T) map[string][]byte {
	t.Helper()
	documents := map[string][]byte{"everything": []byte(everything)}
	files, err := fs.Glob(testdata.Profiles, "profiles/*.json")
	if err != nil || len(files) == 0 {
		t.Fatalf("%d sample customers, %v", len(files), err)
	}
	for _, file := range files {
		if documents[strings.TrimSuffix(path.Base(file), ".json")], err = testdata.Profiles.ReadFile(file); err != nil {
			t.Fatal(err)
		}
	}
	return documents
}

// choices are the words that an answer may be.
var choices = map[string][]any{
	"objective": {"least_cost", "lightest", "longest"}, "weighed": {"dressed", "undressed", "stated"}, "grip": {"full", "reduced"},
	"sex": {"girl", "boy", "unstated"}, "joins": {"", "2027-06", "2028-01"}, "born": {"2020-02", "2024-06-30", "2026-01"},
	"as_of": {"2026-11-26", "2027-05-01"}, "label": {"Z"},
}

// mutations returns every document that differs from one in one answer: other
// figures, other words, not known, and not said.
func mutations(t *testing.T, document []byte) map[string][]byte {
	t.Helper()
	var tree map[string]any
	if err := json.Unmarshal(document, &tree); err != nil {
		t.Fatal(err)
	}
	all := map[string][]byte{}
	note := func(name string) {
		data, err := json.Marshal(tree)
		if err != nil {
			t.Fatal(err)
		}
		all[name] = data
	}
	var walk func(at string, node map[string]any)
	walk = func(at string, node map[string]any) {
		for name, was := range maps.Clone(node) {
			for i, now := range others(name, was) {
				node[name] = now
				note(fmt.Sprintf("%s.%s %d", at, name, i))
			}
			delete(node, name)
			note(fmt.Sprintf("%s.%s not said", at, name))
			node[name] = was
			switch was := was.(type) {
			case map[string]any:
				walk(at+"."+name, was)
			case []any:
				for i, member := range was {
					if member, ok := member.(map[string]any); ok {
						walk(fmt.Sprintf("%s.%s[%d]", at, name, i), member)
					}
				}
			}
		}
	}
	walk("", tree)
	return all
}

func others(name string, was any) []any {
	list := append([]any{nil}, choices[name]...)
	switch was := was.(type) {
	case float64:
		for _, by := range [...]float64{0.5, 1.04, 3} {
			list = append(list, float64(int(was*by)))
		}
		list = append(list, was+1)
	case bool:
		list = append(list, !was)
	case []any:
		list = append(list, was[1:])
	}
	return list
}

func parsed(t *testing.T, document []byte) *profile.Profile {
	t.Helper()
	p, err := profile.Parse(document)
	if err != nil {
		t.Fatal(err)
	}
	return p
}

// remembering returns the demo shop with a memory that knows nothing yet.
func remembering(t *testing.T) *Shop {
	t.Helper()
	return &Shop{Catalogue: demo(t), Settings: match.DefaultSettings(), memory: newMemory(mostBytes), of: "demo"}
}

// TestOneChangedAnswer holds what is remembered of the answers before a change,
// and of every change before it, against what is worked out anew, for every
// answer there is: in the sample customers some of them by chance, in the one
// who answered everything all.
func TestOneChangedAnswer(t *testing.T) {
	chance := rand.New(rand.NewPCG(13, 14)) //nolint:gosec // the same in every run
	cold := &Shop{Catalogue: demo(t), Settings: match.DefaultSettings()}
	cold.Settings.Patience = 0
	judged, kept := 0, 0
	for _, name := range slices.Sorted(maps.Keys(customers(t))) {
		document := customers(t)[name]
		before := parsed(t, document)
		all := mutations(t, document)
		warm := remembering(t)
		warm.Settings.Patience = 0
		for _, what := range slices.Sorted(maps.Keys(all)) {
			now, err := profile.Parse(all[what])
			if err != nil || name != "everything" && chance.IntN(12) > 0 {
				continue // no answer, or not this one
			}
			options := match.Options{Changes: chance.IntN(12) == 0, Stages: chance.IntN(3) == 0}
			was, err := warm.Rank(t.Context(), before, options)
			if err != nil {
				t.Fatal(err)
			}
			got, err := warm.Rank(t.Context(), now, options)
			if err != nil {
				t.Fatal(err)
			}
			want, err := cold.Rank(t.Context(), now, options)
			if err != nil {
				t.Fatal(err)
			}
			same(t, name+what, got, want)
			for _, m := range got {
				if slices.Contains(was, m) {
					kept++
				}
			}
			judged += len(got)
		}
	}
	if judged < 1000 || kept < judged/50 {
		t.Errorf("of %d answers %d are kept: this tells little", judged, kept)
	}
	t.Logf("of %d answers %d are kept", judged, kept)
}

// same holds two rankings to be the same in everything.
func same(t *testing.T, what string, got, want []*match.Match) {
	t.Helper()
	if len(got) != len(want) {
		t.Fatalf("%s: %d frames, want %d", what, len(got), len(want))
	}
	for i := range got {
		if got[i].Frame.Code != want[i].Frame.Code || !reflect.DeepEqual(got[i], want[i]) {
			t.Errorf("%s: at %d is %s, %s, worked out anew %s, %s", what, i, got[i].Frame.Code, got[i].Verdict, want[i].Frame.Code, want[i].Verdict)
		}
	}
}

// TestKeepsWhatAChangeCannotTouch holds that what a change of the answers
// cannot touch is not worked out again.
func TestKeepsWhatAChangeCannotTouch(t *testing.T) {
	shop := remembering(t)
	p := parsed(t, []byte(everything))
	first, err := shop.Rank(t.Context(), p, match.Options{Changes: true})
	if err != nil {
		t.Fatal(err)
	}
	longer := *p
	longer.Years = profile.Given(6)
	second, err := shop.Rank(t.Context(), &longer, match.Options{Changes: true})
	if err != nil {
		t.Fatal(err)
	}
	kept, unfit := 0, 0
	for _, m := range first {
		if m.Verdict == match.DoesNotFit {
			unfit++
		}
		if slices.Contains(second, m) {
			kept++
		}
	}
	if unfit == 0 || kept != unfit {
		t.Errorf("of %d that do not fit %d are kept", unfit, kept)
	}
}

// TestHelpIsAddedToWhatIsKnown asks for a ranking, then for what would help each
// frame of it, all together and one by one: that is what is worked out anew, and
// the ranking that was given before stays as it was.
func TestHelpIsAddedToWhatIsKnown(t *testing.T) {
	cold := &Shop{Catalogue: demo(t), Settings: match.DefaultSettings()}
	cold.Settings.Patience = 0
	changes, longer := 0, 0
	for name, document := range customers(t) {
		p := parsed(t, document)
		rank := func(s *Shop, o match.Options) []*match.Match {
			ranked, err := s.Rank(t.Context(), p, o)
			if err != nil {
				t.Fatal(err)
			}
			return ranked
		}
		want := rank(cold, match.Options{Changes: true})
		warm := remembering(t)
		warm.Settings.Patience = 0
		first := rank(warm, match.Options{})
		half := len(first) / 2
		helped, err := warm.Again(t.Context(), first[half:], p, match.Options{Changes: true})
		if err != nil {
			t.Fatal(err)
		}
		same(t, name+", half of it", helped, want[half:])
		for i, m := range first[:half] {
			if helped, err := warm.Best(t.Context(), m.Frame, p, match.Options{Changes: true}); err != nil || !reflect.DeepEqual(helped, want[i]) {
				t.Errorf("%s: what would help %s is not what it is without a memory; %v", name, m.Frame.Code, err)
			}
		}
		same(t, name, rank(warm, match.Options{Changes: true}), want)
		same(t, name+", before", first, rank(cold, match.Options{}))
		for _, m := range want {
			changes, longer = changes+b2i(m.Change != nil), longer+b2i(m.Longer != nil)
		}
	}
	if changes < 10 || longer < 3 {
		t.Errorf("%d changes help and %d others last longer: this tells little", changes, longer)
	}
}

func b2i(b bool) int {
	if b {
		return 1
	}
	return 0
}

// TestOnePlanForEveryPage asks for the years ahead, alone and with what would help,
// where time was over before the plan was proved: every answer has the one plan
// that was told first, and none has it where more than the plan is open.
func TestOnePlanForEveryPage(t *testing.T) {
	t.Parallel()
	s := remembering(t)
	p := parsed(t, customers(t)["two-parents"])
	about, err := core(p)
	if err != nil {
		t.Fatal(err)
	}
	planned, other := match.Options{Stages: true}, match.Options{Stages: true, Changes: true}
	told, err := (&Shop{Catalogue: s.Catalogue, Settings: s.Settings}).Best(t.Context(), s.Catalogue.Frame("osier-m"), p, planned)
	if err != nil || told.Stages == nil {
		t.Fatalf("%v, %v", told.Stages, err)
	}
	open := *told.Stages
	open.Unproved = true
	told.Stages, told.Unsettled = &open, []match.Part{match.InStages}
	if told.Settled() {
		t.Fatal("the plan is proved")
	}
	s.remember(told, p, about, planned)
	for _, o := range []match.Options{planned, other, planned, other} {
		m, err := s.Best(t.Context(), told.Frame, p, o)
		if err != nil || m.Stages != &open || len(m.Unsettled) != 1 {
			t.Errorf("%+v: another plan, %v open, %v", o, m.Unsettled, err)
		}
	}
	more := *told
	more.Unsettled = []match.Part{match.InStages, match.WhyNot}
	s = remembering(t)
	s.remember(&more, p, about, planned)
	if s.recall(told.Frame, p, about, planned) != nil {
		t.Error("an answer that is open elsewhere is kept")
	}
}
