package desk

import (
	"encoding/json"
	"testing"

	"github.com/google/go-cmp/cmp"

	"kinwain/internal/measure"
	"kinwain/internal/profile"
)

// TestSamplesAreTypedAsTheyAre holds that the form of a sample customer is read
// as their document says, today and years later, when everyone is as old.
func TestSamplesAreTypedAsTheyAre(t *testing.T) {
	t.Parallel()
	cards, err := samples()
	if err != nil || len(cards) < 8 {
		t.Fatalf("%d cards, %v", len(cards), err)
	}
	for _, card := range cards {
		want, document, err := sample(card.Code)
		if err != nil {
			t.Fatal(err)
		}
		for _, later := range []int{0, 29} {
			f, err := typed(document, measure.Month(later))
			if err != nil {
				t.Fatal(err)
			}
			got, err := f.Profile(want.AsOf.AddMonths(later))
			if err != nil {
				t.Errorf("%s: %v", card.Code, err)
				continue
			}
			if got.AsOf != want.AsOf.AddMonths(later) || got.Version != want.Version {
				t.Errorf("%s is of %v", card.Code, got.AsOf)
			}
			for i, p := range want.Passengers.Or(nil) {
				born, known := p.Born.Get()
				if of := got.Passengers.Or(nil)[i].Born.Or(measure.Date{}); known && of != born.AddMonths(later) {
					t.Errorf("%s: born %v, %d months later %v", card.Code, born, later, of)
				}
			}
			if later > 0 {
				continue
			}
			if diff := cmp.Diff(documentOf(t, want), documentOf(t, got)); diff != "" {
				t.Errorf("%s: %s", card.Code, diff)
			}
		}
	}
}

// documentOf is a profile without the answers that mean the same as none.
func documentOf(t *testing.T, p *profile.Profile) any {
	t.Helper()
	document, err := p.Document()
	if err != nil {
		t.Fatal(err)
	}
	var tree any
	if err := json.Unmarshal(document, &tree); err != nil {
		t.Fatal(err)
	}
	return told(tree)
}

func told(node any) any {
	switch node := node.(type) {
	case []any:
		for i := range node {
			node[i] = told(node[i])
		}
	case map[string]any:
		for key, value := range node {
			word, text := value.(string)
			if text && first[word] || value == false && key != "sits_unaided" {
				delete(node, key)
				continue
			}
			node[key] = told(value)
		}
	}
	return node
}
