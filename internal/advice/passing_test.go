package advice

import (
	"testing"

	"kinwain/internal/match"
	"kinwain/internal/store"
)

// TestPassing has somebody ask by the way: the shop remembers no more than
// before, and what it does remember is not worked out again.
func TestPassing(t *testing.T) {
	a := NewAdvisor(&versioned{kept: kept{catalogue: demo(t), retired: map[store.Thing]bool{}, settings: map[string]int64{}}})
	shop, err := a.On(t.Context(), today)
	if err != nil {
		t.Fatal(err)
	}
	p, passing := customer(t), shop.Passing()
	if _, err := passing.Rank(t.Context(), p, match.Options{}); err != nil || a.memory.bytes != 0 {
		t.Fatalf("%d bytes are remembered, %v", a.memory.bytes, err)
	}
	known, err := shop.Rank(t.Context(), p, match.Options{})
	if err != nil || a.memory.bytes == 0 {
		t.Fatalf("nothing is remembered, %v", err)
	}
	again, err := passing.Rank(t.Context(), p, match.Options{})
	if err != nil {
		t.Fatal(err)
	}
	for i, m := range again {
		if m != known[i] {
			t.Errorf("%s was worked out again", m.Frame.Code)
		}
	}
}
