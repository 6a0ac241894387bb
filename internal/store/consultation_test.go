package store

import (
	"fmt"
	"maps"
	"regexp"
	"testing"
	"time"

	"github.com/google/go-cmp/cmp"
)

var noon = time.Date(2026, 11, 25, 12, 0, 0, 123456789, time.FixedZone("", 3600))

func TestConsultation(t *testing.T) {
	t.Parallel()
	s := opened(t, t.TempDir())
	ctx := t.Context()
	answers := []byte("{\"riders[0].height\": \"5'10\\\"\"}\x00\xff")
	made, err := s.CreateConsultation(ctx, "", "M.", answers, noon)
	if err != nil {
		t.Fatal(err)
	}
	want := Consultation{ID: made.ID, Customer: "M.", Answers: answers, Version: 1,
		Created: time.Date(2026, 11, 25, 11, 0, 0, 123e6, time.UTC), Updated: time.Date(2026, 11, 25, 11, 0, 0, 123e6, time.UTC)}
	if diff := cmp.Diff(want, made); diff != "" {
		t.Errorf("created:\n%s", diff)
	}
	read := func() {
		t.Helper()
		got, err := s.Consultation(ctx, made.ID)
		if err != nil {
			t.Fatal(err)
		}
		if diff := cmp.Diff(want, got); diff != "" {
			t.Errorf("read:\n%s", diff)
		}
	}
	read()
	saved, err := s.SaveConsultation(ctx, made.ID, 1, "M. and K.", nil, noon.Add(time.Minute))
	if err != nil {
		t.Fatal(err)
	}
	want.Customer, want.Answers, want.Version, want.Updated = "M. and K.", []byte{}, 2, want.Created.Add(time.Minute)
	if diff := cmp.Diff(want, saved); diff != "" {
		t.Errorf("saved:\n%s", diff)
	}
	read()
}

func TestConsultationNotThere(t *testing.T) {
	t.Parallel()
	s := opened(t, t.TempDir())
	_, err := s.Consultation(t.Context(), "nobody")
	wantCode(t, err, NotFound)
	_, err = s.SaveConsultation(t.Context(), "nobody", 1, "", nil, noon)
	wantCode(t, err, NotFound)
	if got, err := s.RecentConsultations(t.Context(), 10); err != nil || len(got) != 0 {
		t.Errorf("RecentConsultations = %v, %v", got, err)
	}
}

func TestConsultationIDs(t *testing.T) {
	t.Parallel()
	s := opened(t, t.TempDir())
	form, seen := regexp.MustCompile(`^[a-z2-7]{16,}$`), map[string]bool{}
	for range 50 {
		c, err := s.CreateConsultation(t.Context(), "", "", nil, noon)
		if err != nil {
			t.Fatal(err)
		}
		if seen[c.ID] || !form.MatchString(c.ID) {
			t.Fatalf("the ID %q is not new or not of at least 80 bits", c.ID)
		}
		seen[c.ID] = true
	}
}

func TestRecentConsultations(t *testing.T) {
	t.Parallel()
	s := opened(t, t.TempDir())
	ids := []string{}
	for i := range 4 {
		c, err := s.CreateConsultation(t.Context(), "", fmt.Sprint(i), nil, noon)
		if err != nil {
			t.Fatal(err)
		}
		ids = append(ids, c.ID)
	}
	if _, err := s.SaveConsultation(t.Context(), ids[1], 1, "1", nil, noon.Add(time.Millisecond)); err != nil {
		t.Fatal(err)
	}
	for limit, want := range map[int]string{-1: "", 0: "", 1: "1", 3: "132", 9: "1320"} {
		recent, err := s.RecentConsultations(t.Context(), limit)
		if err != nil {
			t.Fatal(err)
		}
		got := ""
		for _, c := range recent {
			got += c.Customer
		}
		if got != want {
			t.Errorf("the %d most recent are %q, want %q", limit, got, want)
		}
	}
}

func TestSettings(t *testing.T) {
	t.Parallel()
	s := opened(t, t.TempDir())
	for _, want := range []map[string]int64{{}, {"a": 1, "b": -1 << 63}, {"b": 0, "c": 1<<63 - 1}, {}} {
		if err := s.SetSettings(t.Context(), want); err != nil {
			t.Fatal(err)
		}
		got, err := s.Settings(t.Context())
		if err != nil || !maps.Equal(got, want) {
			t.Errorf("Settings = %v, %v, want %v", got, err, want)
		}
	}
}

func TestSettingsLandWholeOrNotAtAll(t *testing.T) {
	t.Parallel()
	s := opened(t, t.TempDir())
	want := map[string]int64{"a": 1}
	if err := s.SetSettings(t.Context(), want); err != nil {
		t.Fatal(err)
	}
	wantCode(t, s.SetSettings(t.Context(), map[string]int64{"a": 2, "": 3}), Conflict)
	if got, err := s.Settings(t.Context()); err != nil || !maps.Equal(got, want) {
		t.Errorf("Settings = %v, %v, want %v", got, err, want)
	}
}
