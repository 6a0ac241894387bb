package sheet

import (
	"encoding/csv"
	"io"
	"slices"
	"strings"
	"testing"
	"unicode/utf8"

	"github.com/google/go-cmp/cmp"
	"github.com/google/go-cmp/cmp/cmpopts"
)

// FuzzRows holds that rows are read as encoding/csv reads them, where that
// reads them at all: it leaves out empty rows and changes carriage returns, so
// there are none here.
func FuzzRows(f *testing.F) {
	for _, text := range []string{"a,b\nc,d\n", "\"a\"\"b\",\"c\nd\"\n", "a;b\n\n;\n", "\"\n", "a\"b,c", "\"a\"b", "\"\",\n,", "a\tb"} {
		f.Add(text)
	}
	f.Fuzz(func(t *testing.T, text string) {
		text = strings.ReplaceAll(text, "\r", "")
		if !utf8.ValidString(text) {
			return
		}
		for _, comma := range separators {
			theirs := csv.NewReader(strings.NewReader(text))
			theirs.Comma, theirs.FieldsPerRecord = rune(comma), -1
			want, err := theirs.ReadAll()
			if err != nil {
				continue
			}
			got, err := rowsOf(text, comma)
			empty := func(row []string) bool { return len(row) == 1 && row[0] == "" }
			diff := cmp.Diff(slices.DeleteFunc(want, empty), slices.DeleteFunc(got, empty), cmpopts.EquateEmpty())
			if diff != "" || err != nil {
				t.Errorf("%q with %q between: %v %s", text, comma, err, diff)
			}
		}
	})
}

func rowsOf(text string, comma byte) ([][]string, error) {
	var all [][]string
	for g := (&grid{rest: []byte(text), comma: comma}); ; {
		cells, err := g.next()
		if err == io.EOF {
			return all, nil
		}
		if err != nil {
			return nil, err
		}
		all = append(all, slices.Clone(cells))
	}
}
