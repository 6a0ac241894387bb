package store

import (
	"bytes"
	"maps"
	"os"
	"path/filepath"
	"regexp"
	"testing"
	"time"

	"github.com/google/go-cmp/cmp"
)

// issued issues a summary of a consultation and a frame for an hour.
func issued(t *testing.T, s *Store, consultation, frame string) string {
	t.Helper()
	token, err := s.IssueFitSummary(t.Context(), FitSummary{Consultation: consultation, Frame: frame, Document: []byte("of " + frame), Created: noon, Expires: noon.Add(time.Hour)})
	if err != nil {
		t.Fatal(err)
	}
	return token
}

func consulted(t *testing.T, s *Store) string {
	t.Helper()
	c, err := s.CreateConsultation(t.Context(), "", "", nil, noon)
	if err != nil {
		t.Fatal(err)
	}
	return c.ID
}

// opens reports whether a link opens, and that it is not found where not.
func opens(t *testing.T, s *Store, token string, now time.Time) bool {
	t.Helper()
	_, err := s.FitSummary(t.Context(), token, now)
	if err != nil {
		wantCode(t, err, NotFound)
	}
	return err == nil
}

func TestFitSummary(t *testing.T) {
	t.Parallel()
	s := opened(t, t.TempDir())
	id := consulted(t, s)
	token := issued(t, s, id, "sedge")
	got, err := s.FitSummary(t.Context(), token, noon)
	if err != nil {
		t.Fatal(err)
	}
	want := FitSummary{ID: got.ID, Consultation: id, Frame: "sedge", Document: []byte("of sedge"), Created: toMillisecond(noon), Expires: toMillisecond(noon.Add(time.Hour))}
	if diff := cmp.Diff(want, got); diff != "" {
		t.Error(diff)
	}
	list, err := s.FitSummaries(t.Context(), id, noon)
	if err != nil {
		t.Fatal(err)
	}
	if diff := cmp.Diff([]FitSummary{want}, list); diff != "" {
		t.Error(diff)
	}
	if list, err := s.FitSummaries(t.Context(), "another", noon); err != nil || len(list) != 0 {
		t.Errorf("of another consultation: %v, %v", list, err)
	}
}

// TestFitSummaryEnds holds that a link ends by its time, by being revoked and
// by a newer one of the same frame, and that nobody can tell which it was.
func TestFitSummaryEnds(t *testing.T) {
	t.Parallel()
	s := opened(t, t.TempDir())
	one, other := consulted(t, s), consulted(t, s)
	first, elsewhere, frame := issued(t, s, one, "sedge"), issued(t, s, other, "sedge"), issued(t, s, one, "osier")
	last := noon.Add(time.Hour - time.Millisecond)
	if !opens(t, s, first, last) || opens(t, s, first, noon.Add(time.Hour)) {
		t.Error("not open for exactly an hour")
	}
	again := issued(t, s, one, "sedge")
	if again == first || opens(t, s, first, noon) || !opens(t, s, again, noon) || !opens(t, s, elsewhere, noon) || !opens(t, s, frame, noon) {
		t.Error("a newer link does not replace the older one alone")
	}
	list, err := s.FitSummaries(t.Context(), one, noon)
	if err != nil || len(list) != 2 || list[0].Frame != "sedge" {
		t.Fatalf("%v, %v", list, err)
	}
	wantCode(t, s.RevokeFitSummary(t.Context(), other, list[0].ID, noon), NotFound) // not theirs
	if err := s.RevokeFitSummary(t.Context(), one, list[0].ID, noon); err != nil {
		t.Fatal(err)
	}
	wantCode(t, s.RevokeFitSummary(t.Context(), one, list[0].ID, noon), NotFound)
	wantCode(t, s.RevokeFitSummary(t.Context(), one, list[1].ID, noon.Add(time.Hour)), NotFound)
	if opens(t, s, again, noon) || !opens(t, s, frame, noon) {
		t.Error("not the one link was revoked")
	}
	messages := map[string]bool{}
	for token, now := range map[string]time.Time{again: noon, elsewhere: noon.Add(2 * time.Hour), "never": noon, frame[:31]: noon, "": noon} {
		_, err := s.FitSummary(t.Context(), token, now)
		wantCode(t, err, NotFound)
		messages[err.Error()] = true
	}
	if len(messages) != 1 {
		t.Errorf("the reason can be told: %v", messages)
	}
}

func TestFitSummaryTokens(t *testing.T) {
	t.Parallel()
	s := opened(t, t.TempDir())
	id := consulted(t, s)
	form, seen := regexp.MustCompile(`^[a-z2-7]{32}$`), map[string]bool{} // 32 × 5 bits
	for range 50 {
		token := issued(t, s, id, "sedge")
		if seen[token] || !form.MatchString(token) {
			t.Fatalf("the token %q is not new or not of 160 bits", token)
		}
		seen[token] = true
	}
	_, err := s.IssueFitSummary(t.Context(), FitSummary{Consultation: "nobody", Frame: "sedge", Created: noon, Expires: noon.Add(time.Hour)})
	wantCode(t, err, Conflict)
}

// TestExpiredFitSummariesAreForgotten holds that what a customer said does not
// stay longer than the link to it.
func TestExpiredFitSummariesAreForgotten(t *testing.T) {
	t.Parallel()
	s := opened(t, t.TempDir())
	id := consulted(t, s)
	issued(t, s, id, "sedge")
	_, err := s.IssueFitSummary(t.Context(), FitSummary{Consultation: id, Frame: "osier", Created: noon.Add(time.Hour), Expires: noon.Add(2 * time.Hour)})
	if n := rowCounts(t, s)["fit_summaries"]; err != nil || n != 1 {
		t.Errorf("%d are stored, %v", n, err)
	}
}

// Nobody can open a summary with what a copy of the store says.
func TestFitSummaryTokensAreNotStored(t *testing.T) {
	t.Parallel()
	dir := t.TempDir()
	var token string
	openClose(t, dir, func(s *Store) { token = issued(t, s, consulted(t, s), "sedge") })
	content, err := os.ReadFile(filepath.Join(dir, FileName))
	if err != nil {
		t.Fatal(err)
	}
	if !bytes.Contains(content, []byte("of sedge")) || !bytes.Contains(content, hash(token)) {
		t.Error("the summary is not in the file at all")
	}
	secret, err := tokenText.DecodeString(string(bytes.ToUpper([]byte(token))))
	if err != nil || len(secret) != tokenBytes {
		t.Fatalf("%d bytes, %v", len(secret), err)
	}
	for _, form := range [][]byte{[]byte(token), bytes.ToUpper([]byte(token)), secret} {
		if bytes.Contains(content, form) {
			t.Errorf("the file holds the token as %q", form)
		}
	}
}

func TestTexts(t *testing.T) {
	t.Parallel()
	s := opened(t, t.TempDir())
	for _, want := range []map[string]string{{}, {"a": "", "b": "Två rader\n\x00"}, {"b": "other"}} {
		if err := s.SetTexts(t.Context(), want); err != nil {
			t.Fatal(err)
		}
		if got, err := s.Texts(t.Context()); err != nil || !maps.Equal(got, want) {
			t.Errorf("Texts = %v, %v, want %v", got, err, want)
		}
	}
	wantCode(t, s.SetTexts(t.Context(), map[string]string{"b": "new", "": "x"}), Conflict)
	if got, err := s.Texts(t.Context()); err != nil || got["b"] != "other" {
		t.Errorf("half of it landed: %v, %v", got, err)
	}
}

// TestOpeningsAreAdded adds to two summaries of three, twice, and to one that
// nobody issued.
func TestOpeningsAreAdded(t *testing.T) {
	t.Parallel()
	s := opened(t, t.TempDir())
	one, other, nobody := consulted(t, s), consulted(t, s), consulted(t, s)
	sedge, osier, teasel := issued(t, s, one, "sedge"), issued(t, s, one, "osier"), issued(t, s, other, "teasel")
	for range 2 {
		if err := s.AddOpenings(t.Context(), map[string]int{sedge: 2, teasel: 1, "never": 7}); err != nil {
			t.Fatal(err)
		}
	}
	for token, want := range map[string]int{sedge: 4, osier: 0, teasel: 2} {
		if got, err := s.FitSummary(t.Context(), token, noon); err != nil || got.Opened != want {
			t.Errorf("%s was opened %d times, want %d; %v", got.Frame, got.Opened, want, err)
		}
	}
	got, err := s.Sent(t.Context(), []string{one, other, nobody}, noon)
	if diff := cmp.Diff(map[string]Sent{one: {2, 4}, other: {1, 2}}, got); err != nil || diff != "" {
		t.Error(diff, err)
	}
	if got, err := s.Sent(t.Context(), []string{other}, noon); err != nil || len(got) != 1 {
		t.Errorf("not asked for: %v, %v", got, err)
	}
	if got, err := s.Sent(t.Context(), []string{one}, noon.Add(time.Hour)); err != nil || len(got) != 0 {
		t.Errorf("expired: %v, %v", got, err)
	}
}
