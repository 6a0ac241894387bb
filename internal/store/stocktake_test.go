package store

import (
	"fmt"
	"strconv"
	"strings"
	"sync"
	"testing"
	"time"

	"github.com/google/go-cmp/cmp"
)

func begun(t *testing.T, s *Store) Stocktake {
	t.Helper()
	one, err := s.BeginStocktake(t.Context(), "A", midday)
	if err != nil {
		t.Fatal(err)
	}
	return one
}

func TestStocktake(t *testing.T) {
	t.Parallel()
	s, _ := counter(t)
	one := begun(t, s)
	if other, err := s.BeginStocktake(t.Context(), "B", midday); err != nil || cmp.Diff(one, other) != "" {
		t.Errorf("a second one beside the first: %+v, %v", other, err)
	}
	for read, want := range map[string]string{"http://shop.example/units/D-011": "D-011", "d-011": "D-011", "D-011": "D-011", "S-113": "S-113", "Z-9": "Z-9"} {
		if tag, _, err := s.Scan(t.Context(), one.ID, read, "B", midday); err != nil || tag != want {
			t.Errorf("%q is %q, %v", read, tag, err)
		}
	}
	if _, again, err := s.Scan(t.Context(), one.ID, "D-011", "B", midday); err != nil || !again {
		t.Errorf("read before: %v, %v", again, err)
	}
	if tag, _, err := s.Scan(t.Context(), one.ID, " ", "B", midday); err != nil || tag != "" {
		t.Errorf("nothing: %q, %v", tag, err)
	}
	if _, _, err := s.Scan(t.Context(), one.ID, strings.Repeat("ü", 900), "B", midday); err != nil {
		t.Error(err)
	}
	if err := s.Unscan(t.Context(), one.ID, strings.Repeat("ü", longTag)); err != nil {
		t.Error(err)
	}
	_, _, err := s.Scan(t.Context(), 99, "D-011", "B", midday)
	wantCode(t, err, NotFound)

	if err := s.Retire(t.Context(), Thing{"units", "S-105"}, true, Author{Who: "A", How: ByRetiring, At: midday}); err != nil {
		t.Fatal(err)
	}
	by := Author{Who: "A", How: ByEdit, At: midday}
	for range 2 {
		if err := s.FinishStocktake(t.Context(), one.ID, by); err != nil {
			t.Fatal(err)
		}
	}
	done, err := s.Stocktake(t.Context(), one.ID)
	if err != nil || done.GoesOn() || done.FinishedBy != "A" {
		t.Fatalf("%+v, %v", done, err)
	}
	var seen, missing []string
	for _, tag := range done.Tags {
		if tag.Seen.IsZero() {
			missing = append(missing, tag.Tag)
		} else {
			seen = append(seen, fmt.Sprintf("%s %v %s", tag.Tag, tag.Known, tag.Who))
		}
	}
	if diff := cmp.Diff([]string{"D-011 true B", "S-113 true B", "Z-9 false B"}, seen); diff != "" {
		t.Error(diff)
	}
	// Not the two that are out, the two that are sold, the ordered ones and the one that is retired.
	want := strings.Fields("D-013 D-014 D-015 D-016 D-017 D-018 D-019 D-021 D-022 D-023 S-101 S-102 S-103 S-106 S-107 S-108 S-109 S-110 S-111 S-116")
	if diff := cmp.Diff(want, missing); diff != "" {
		t.Error(diff)
	}
	_, _, err = s.Scan(t.Context(), one.ID, "D-013", "B", midday)
	wantCode(t, err, Conflict)
	if err := s.Unscan(t.Context(), one.ID, "D-011"); err != nil {
		t.Error(err)
	}
	saves, err := s.History(t.Context(), StocktakesList, strconv.FormatInt(one.ID, 10), 9)
	if err != nil || len(saves) != 1 || !strings.HasPrefix(saves[0].Changes[0].New, `"seen: 2; tags of no bike: 1; not seen: 20, D-013, D-014`) {
		t.Errorf("%+v, %v", saves, err)
	}
	if next := begun(t, s); next.ID == one.ID {
		t.Error("what is finished goes on")
	}
	if list, err := s.Stocktakes(t.Context(), 5); err != nil || len(list) != 2 || list[0].ID <= list[1].ID {
		t.Errorf("%+v, %v", list, err)
	}
}

// TestTabletsScanAtOnce lets two programs on one store read the same bikes: each
// is there once, and nothing is lost.
func TestTabletsScanAtOnce(t *testing.T) {
	t.Parallel()
	s, _ := counter(t)
	other, one := opened(t, s.dir), begun(t, s)
	var group sync.WaitGroup
	for i := range 4 {
		group.Go(func() {
			on := []*Store{s, other}[i%2]
			for tag := 11; tag <= 22; tag++ {
				if _, _, err := on.Scan(t.Context(), one.ID, fmt.Sprintf("D-%03d", tag), "B", midday); err != nil {
					t.Error(err)
				}
			}
		})
	}
	group.Wait()
	if read, err := s.Stocktake(t.Context(), one.ID); err != nil || len(read.Tags) != 12 {
		t.Errorf("%d tags, %v", len(read.Tags), err)
	}
}

// TestUnseen looks for a bike that a stocktake has not seen until another has,
// and for one that was ridden in between.
func TestUnseen(t *testing.T) {
	t.Parallel()
	s, consultation := counter(t)
	tags := []string{"S-101", "D-011", "S-113", "none"} // S-113 is not to be there
	by := Author{Who: "A", How: ByEdit, At: midday}
	unseen := func(want ...string) {
		t.Helper()
		got, err := s.Unseen(t.Context(), tags)
		for _, tag := range want {
			if !got[tag].Equal(midday) {
				t.Errorf("%s is not seen since %v", tag, got[tag])
			}
		}
		if err != nil || len(got) != len(want) {
			t.Errorf("%v, %v, want %v", got, err, want)
		}
	}
	unseen()
	if err := s.FinishStocktake(t.Context(), begun(t, s).ID, by); err != nil {
		t.Fatal(err)
	}
	unseen("S-101", "D-011")
	ride, err := s.BookRide(t.Context(), rideOn(consultation, "D-011", midday.Add(time.Hour), time.Hour), midday)
	if err == nil {
		err = s.SaveRide(t.Context(), ride.ID, RideNotes{}, RideOut, midday.Add(time.Hour))
	}
	if err != nil {
		t.Fatal(err)
	}
	unseen("S-101")
	if _, _, err := s.Scan(t.Context(), begun(t, s).ID, "S-101", "B", midday.Add(time.Hour)); err != nil {
		t.Fatal(err)
	}
	unseen() // while the next one goes on
}
