package match_test

import (
	"bytes"
	"encoding/json"
	"slices"
	"testing"

	"kinwain/internal/match"
)

// A document begins with every caution, however few frames it is about.
func TestDocumentsBeginWithTheCautions(t *testing.T) {
	t.Parallel()
	for _, list := range [][]*match.Match{nil, {atCounter().judge(t)}} {
		data, err := match.Document(list, nil)
		if err != nil {
			t.Fatal(err)
		}
		var doc struct {
			Cautions []string
			Matches  []json.RawMessage
		}
		if err := json.Unmarshal(data, &doc); err != nil {
			t.Fatal(err)
		}
		var want []string
		for _, c := range match.CautionsFor(true) {
			want = append(want, c.English)
		}
		if !slices.Equal(doc.Cautions, want) || len(want) < 6 || len(doc.Matches) != len(list) || bytes.Index(data, []byte("cautions")) > bytes.Index(data, []byte("matches")) {
			t.Errorf("%s", data)
		}
	}
	if with, without := len(match.CautionsFor(true)), len(match.CautionsFor(false)); without != with-1 {
		t.Errorf("%d cautions, and %d without passengers", with, without)
	}
}
