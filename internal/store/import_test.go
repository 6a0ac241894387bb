package store

import (
	"testing"
	"time"

	"github.com/google/go-cmp/cmp"
)

func TestImports(t *testing.T) {
	t.Parallel()
	s := opened(t, t.TempDir())
	now := time.Date(2026, 11, 25, 9, 30, 0, 123_456_789, time.UTC)
	kept, err := s.CreateImport(t.Context(), "prices.csv", []byte("{}"), 7, now, now.Add(time.Hour))
	if err != nil {
		t.Fatal(err)
	}
	other, err := s.CreateImport(t.Context(), "", nil, 8, now, now.Add(2*time.Hour))
	if err != nil || other.ID == kept.ID || len(kept.ID) < 26 {
		t.Fatalf("%q and %q, %v", kept.ID, other.ID, err)
	}
	for _, want := range []Import{kept, other} {
		got, err := s.Import(t.Context(), want.ID, now.Add(time.Hour-time.Millisecond))
		if diff := cmp.Diff(want, got); diff != "" || err != nil {
			t.Errorf("%v %s", err, diff)
		}
	}
	_, err = s.Import(t.Context(), kept.ID, now.Add(time.Hour))
	wantCode(t, err, NotFound)
	_, err = s.Import(t.Context(), "", now)
	wantCode(t, err, NotFound)
	if _, err := s.CreateImport(t.Context(), "", nil, 8, now.Add(time.Hour), now.Add(3*time.Hour)); err != nil { // deletes what has expired
		t.Fatal(err)
	}
	_, err = s.Import(t.Context(), kept.ID, now)
	wantCode(t, err, NotFound)
	if err := s.DeleteImport(t.Context(), other.ID); err != nil {
		t.Fatal(err)
	}
	_, err = s.Import(t.Context(), other.ID, now)
	wantCode(t, err, NotFound)
	if err := s.DeleteImport(t.Context(), other.ID); err != nil {
		t.Errorf("deleting nothing: %v", err)
	}
}
