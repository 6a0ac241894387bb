package store

import (
	"testing"
	"time"

	"github.com/google/go-cmp/cmp"

	"kinwain/internal/catalog"
)

// TestMarks keeps what came of judging until somebody has seen it.
func TestMarks(t *testing.T) {
	t.Parallel()
	s, a := counter(t)
	b := consulted(t, s)
	lowered(t, s, "sedge")
	judged(t, s, Mark{Consultation: a, Frame: "sedge", Text: "one", Created: midday}, Mark{Consultation: b, Frame: "sedge", Text: "two", Worse: true, Created: midday},
		Mark{Consultation: a, Frame: "sedge", Text: "three", Created: midday})
	texts := func(consultation string) (list []string, last int64) {
		marks, err := s.Marks(t.Context(), consultation)
		if err != nil {
			t.Fatal(err)
		}
		for _, m := range marks {
			list, last = append(list, m.Text), m.ID
			if m.Frame != "sedge" || !m.Created.Equal(midday) || m.Worse != (m.Text == "two") {
				t.Errorf("%+v", m)
			}
		}
		return list, last
	}
	ofA, seen := texts(a)
	if diff := cmp.Diff([]string{"one", "three"}, ofA); diff != "" {
		t.Error(diff)
	}
	lowered(t, s, "sedge") // what says the same stays, what does not goes
	judged(t, s, Mark{Consultation: a, Frame: "sedge", Text: "four", Created: midday}, Mark{Consultation: b, Frame: "sedge", Text: "two", Worse: true, Created: midday},
		Mark{Consultation: a, Frame: "sedge", Text: "three", Created: midday})
	if diff := cmp.Diff([]string{"three", "four"}, first(texts(a))); diff != "" {
		t.Error(diff)
	}
	if err := s.DismissMarks(t.Context(), a, seen); err != nil {
		t.Fatal(err)
	}
	if diff := cmp.Diff([]string{"two", "four"}, first(texts(""))); diff != "" {
		t.Errorf("what nobody has seen stays: %s", diff)
	}
	if _, err := s.writer.ExecContext(t.Context(), `DELETE FROM consultations`); err != nil {
		t.Fatal(err)
	}
	if all := first(texts("")); len(all) != 0 {
		t.Errorf("%v are left of consultations that are gone", all)
	}
}

func first[A, B any](a A, _ B) A { return a }

func TestLiveFitSummary(t *testing.T) {
	t.Parallel()
	s := opened(t, t.TempDir())
	a := consulted(t, s)
	issued(t, s, a, "sedge")
	issued(t, s, a, "sedge") // in place of the first
	list, err := s.FitSummaries(t.Context(), a, noon)
	if err != nil || len(list) != 1 {
		t.Fatalf("%v, %v", list, err)
	}
	live := list[0].ID
	if f, err := s.LiveFitSummary(t.Context(), live, noon); err != nil || f.Frame != "sedge" || f.Consultation != a {
		t.Errorf("%+v, %v", f, err)
	}
	_, err = s.LiveFitSummary(t.Context(), live-1, noon)
	wantCode(t, err, NotFound) // revoked
	_, err = s.LiveFitSummary(t.Context(), live, noon.Add(time.Hour))
	wantCode(t, err, NotFound) // expired
}

// Whoever saves one page of the settings leaves the figures of the others
// alone.
func TestChangeSettingsAndTexts(t *testing.T) {
	t.Parallel()
	s := opened(t, t.TempDir())
	if err := s.SetSettings(t.Context(), map[string]int64{"a": 1, "b": 2, "c": 3}); err != nil {
		t.Fatal(err)
	}
	by := Author{Who: "B", How: ByEdit, At: noon}
	if err := s.ChangeSettings(t.Context(), SettingsChange{Set: map[string]int64{"b": 5, "d": 4}, Reset: []string{"c", "nothing"}}, by); err != nil {
		t.Fatal(err)
	}
	got, err := s.Settings(t.Context())
	if diff := cmp.Diff(map[string]int64{"a": 1, "b": 5, "d": 4}, got); diff != "" || err != nil {
		t.Error(diff, err)
	}
	if err := s.SetTexts(t.Context(), map[string]string{"a": "one", "b": "two"}); err != nil {
		t.Fatal(err)
	}
	if err := s.MergeTexts(t.Context(), map[string]string{"b": "", "c": "three"}); err != nil {
		t.Fatal(err)
	}
	texts, err := s.Texts(t.Context())
	if diff := cmp.Diff(map[string]string{"a": "one", "c": "three"}, texts); diff != "" || err != nil {
		t.Error(diff, err)
	}
	if err := s.ChangeSettings(t.Context(), SettingsChange{Texts: map[string]string{"a": "", "c": "three", "e": "five"}}, by); err != nil {
		t.Fatal(err)
	}
	history, err := s.History(t.Context(), SettingsList, "", 9)
	if err != nil || len(history) != 2 {
		t.Fatalf("%v, %v", history, err)
	}
	changed := func(field, old, new string) catalog.Change {
		return catalog.Change{List: SettingsList, Field: field, Old: old, New: new}
	}
	if diff := cmp.Diff([][]catalog.Change{{changed("a", `"one"`, ""), changed("e", "", `"five"`)}, {changed("c", "3", ""), changed("b", "2", "5"), changed("d", "", "4")}},
		[][]catalog.Change{history[0].Changes, history[1].Changes}); diff != "" {
		t.Error(diff)
	}
}
