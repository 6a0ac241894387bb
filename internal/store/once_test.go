package store

import (
	"testing"
	"time"
)

// TestMadeOnce makes a consultation and a fit summary twice under one name.
func TestMadeOnce(t *testing.T) {
	t.Parallel()
	s := opened(t, t.TempDir())
	first, err := s.CreateConsultation(t.Context(), "once", "A", nil, midday)
	if err != nil {
		t.Fatal(err)
	}
	again, err := s.CreateConsultation(t.Context(), "once", "B", nil, midday.Add(time.Hour))
	if err != nil || again.Customer != "A" || again.ID != first.ID {
		t.Errorf("again: %+v, %v", again, err)
	}
	for range 2 {
		token, err := s.IssueFitSummary(t.Context(), FitSummary{Consultation: "once", Frame: "sedge", Token: "the same", Created: midday, Expires: midday.Add(time.Hour)})
		if err != nil || token != "the same" {
			t.Fatalf("%q, %v", token, err)
		}
	}
	live, err := s.FitSummaries(t.Context(), "once", midday)
	if err != nil || len(live) != 1 {
		t.Errorf("%d links, %v", len(live), err)
	}
}

// TestSavesDoNotBlotOut saves on a version that somebody else has saved since.
func TestSavesDoNotBlotOut(t *testing.T) {
	t.Parallel()
	s := opened(t, t.TempDir())
	c, err := s.CreateConsultation(t.Context(), "", "A", nil, midday)
	if err != nil {
		t.Fatal(err)
	}
	if _, err := s.SaveConsultation(t.Context(), c.ID, 1, "B", nil, midday); err != nil {
		t.Fatal(err)
	}
	if _, err := s.SaveConsultation(t.Context(), c.ID, 1, "C", nil, midday); CodeOf(err) != Conflict {
		t.Errorf("the second save: %v", err)
	}
}
