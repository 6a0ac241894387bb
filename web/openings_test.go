package web

import (
	"context"
	"errors"
	"fmt"
	"maps"
	"math/rand/v2"
	"sync"
	"testing"
)

// shelf keeps openings, unless it is locked.
type shelf struct {
	kept   map[string]int
	locked error
	faults int
}

func (s *shelf) add(_ context.Context, opened map[string]int) error {
	if s.locked != nil {
		return s.locked
	}
	for token, n := range opened {
		s.kept[token] += n
	}
	clear(opened) // it is whose it was handed to
	return nil
}

func (s *shelf) openings() *Openings {
	return &Openings{add: s.add, fault: func(string, error) { s.faults++ }}
}

// TestOpeningsAreAllKept counts and keeps in any order, with a store that now
// and then takes nothing, and holds what is kept in the end, and whenever it
// took something, against a plain count.
func TestOpeningsAreAllKept(t *testing.T) {
	t.Parallel()
	for seed := range uint64(50) {
		random := rand.New(rand.NewPCG(seed, 1))
		s, want := &shelf{kept: map[string]int{}}, map[string]int{}
		o, failed := s.openings(), 0
		for range 300 {
			if random.IntN(4) > 0 {
				token := fmt.Sprint("link ", random.IntN(5))
				want[token]++
				o.count(token)
				continue
			}
			if s.locked = nil; random.IntN(2) == 0 {
				s.locked = errors.New("the disk is full")
			}
			waiting := len(o.since) > 0
			o.Keep(t.Context())
			if s.locked != nil && waiting {
				failed++
			}
			if s.locked == nil && !maps.Equal(s.kept, want) {
				t.Fatalf("seed %d: kept %v, want %v", seed, s.kept, want)
			}
		}
		s.locked = nil
		o.Keep(t.Context())
		if !maps.Equal(s.kept, want) || failed == 0 || s.faults != failed {
			t.Errorf("seed %d: kept %v, want %v; %d of %d faults are told", seed, s.kept, want, s.faults, failed)
		}
	}
}

// TestOpeningsAtTheSameTime counts from many sides while it is kept.
func TestOpeningsAtTheSameTime(t *testing.T) {
	t.Parallel()
	s := &shelf{kept: map[string]int{}}
	o := s.openings()
	const sides, times = 8, 500
	var counting sync.WaitGroup
	for range sides {
		counting.Go(func() {
			for range times {
				o.count("link")
			}
		})
	}
	for range 50 {
		o.Keep(t.Context())
	}
	counting.Wait()
	o.Keep(t.Context())
	if s.kept["link"] != sides*times {
		t.Errorf("kept %d of %d", s.kept["link"], sides*times)
	}
}
