package store

import (
	"testing"
	"time"

	"github.com/google/go-cmp/cmp"
)

func TestMarks(t *testing.T) {
	t.Parallel()
	s := opened(t, t.TempDir())
	a, b := consulted(t, s), consulted(t, s)
	mark := func(consultation, text string) Mark {
		return Mark{Consultation: consultation, Frame: "sedge", Text: text, Created: toMillisecond(noon)}
	}
	if err := s.AddMarks(t.Context(), []Mark{mark(a, "one"), mark(b, "two"), mark(a, "three")}); err != nil {
		t.Fatal(err)
	}
	texts := func(consultation string) (list []string, last int64) {
		marks, err := s.Marks(t.Context(), consultation)
		if err != nil {
			t.Fatal(err)
		}
		for _, m := range marks {
			list, last = append(list, m.Text), m.ID
			if want := mark(m.Consultation, m.Text); m.Frame != want.Frame || !m.Created.Equal(want.Created) {
				t.Errorf("%+v", m)
			}
		}
		return list, last
	}
	ofA, seen := texts(a)
	if diff := cmp.Diff([]string{"one", "three"}, ofA); diff != "" {
		t.Error(diff)
	}
	if err := s.AddMarks(t.Context(), []Mark{mark(a, "four")}); err != nil {
		t.Fatal(err)
	}
	if err := s.DismissMarks(t.Context(), a, seen); err != nil {
		t.Fatal(err)
	}
	all, _ := texts("")
	if diff := cmp.Diff([]string{"two", "four"}, all); diff != "" {
		t.Errorf("what nobody has seen stays: %s", diff)
	}
	wantCode(t, s.AddMarks(t.Context(), []Mark{mark(b, "five"), mark("nobody", "six")}), Conflict)
	if all, _ = texts(b); len(all) != 1 {
		t.Errorf("half of the marks were kept: %v", all)
	}
	if _, err := s.writer.ExecContext(t.Context(), `DELETE FROM consultations`); err != nil {
		t.Fatal(err)
	}
	if all, _ = texts(""); len(all) != 0 {
		t.Errorf("%v are left of consultations that are gone", all)
	}
}

func TestConsultationsSince(t *testing.T) {
	t.Parallel()
	s := opened(t, t.TempDir())
	for i := range 4 {
		if _, err := s.CreateConsultation(t.Context(), "", "", nil, noon.Add(time.Duration(i)*time.Hour)); err != nil {
			t.Fatal(err)
		}
	}
	for _, test := range []struct{ hours, limit, want int }{{0, 9, 4}, {1, 9, 3}, {3, 9, 1}, {4, 9, 0}, {0, 2, 2}, {0, -1, 0}} {
		list, err := s.ConsultationsSince(t.Context(), noon.Add(time.Duration(test.hours)*time.Hour), test.limit)
		if err != nil || len(list) != test.want {
			t.Errorf("from %d hours on at most %d: %d, %v, want %d", test.hours, test.limit, len(list), err, test.want)
		}
		for i := 1; i < len(list); i++ {
			if list[i].Updated.After(list[i-1].Updated) {
				t.Errorf("out of order: %v", list)
			}
		}
	}
}

func TestLiveFitSummaries(t *testing.T) {
	t.Parallel()
	s := opened(t, t.TempDir())
	a, b := consulted(t, s), consulted(t, s)
	issued(t, s, a, "sedge")
	issued(t, s, a, "sedge") // in place of the first
	issued(t, s, b, "osier")
	list, err := s.LiveFitSummaries(t.Context(), noon, 9)
	if err != nil || len(list) != 2 || list[0].Consultation != b || list[1].Consultation != a {
		t.Fatalf("%v, %v", list, err)
	}
	if list, err = s.LiveFitSummaries(t.Context(), noon.Add(time.Hour), 9); err != nil || len(list) != 0 {
		t.Errorf("expired ones are live: %v, %v", list, err)
	}
}

// Whoever saves one page of the settings leaves the figures of the others
// alone.
func TestMergeSettingsAndTexts(t *testing.T) {
	t.Parallel()
	s := opened(t, t.TempDir())
	if err := s.SetSettings(t.Context(), map[string]int64{"a": 1, "b": 2, "c": 3}); err != nil {
		t.Fatal(err)
	}
	if err := s.MergeSettings(t.Context(), map[string]int64{"b": 5, "d": 4}, []string{"c", "nothing"}); err != nil {
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
}
