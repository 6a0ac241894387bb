package sheet_test

import (
	"slices"
	"strings"
	"testing"

	"kinwain/internal/catalog/sheet"
	"kinwain/internal/problem"
)

// TestDictionaryTellsEveryColumn holds the dictionary against what is written,
// and what it says is needed against what is asked for.
func TestDictionaryTellsEveryColumn(t *testing.T) {
	files := sheet.Write(demo(t))
	for i, table := range sheet.Dictionary() {
		header, _, _ := strings.Cut(strings.TrimPrefix(string(files[i].Data), "\ufeff"), "\r\n")
		var names []string
		for _, c := range table.Columns {
			names = append(names, c.Name)
			if c.Holds == "" || c.Label == "" {
				t.Errorf("nothing is said of %s in %s", c.Name, table.Name)
			}
		}
		if files[i].Name != table.Name+".csv" || strings.Join(names, ",") != header {
			t.Errorf("%s: %v, want %s", table.Name, names, header)
		}
	}
}

// TestBlankTables reads what a blank table lacks where a needed column goes.
func TestBlankTables(t *testing.T) {
	blank := sheet.Blank()
	if len(blank) != len(sheet.Tables()) {
		t.Fatalf("%d tables", len(blank))
	}
	for i, table := range sheet.Dictionary() {
		for _, c := range table.Columns {
			header := strings.TrimSuffix(strings.TrimPrefix(string(blank[i].Data), "\ufeff"), "\r\n")
			left := slices.DeleteFunc(strings.Split(header, ","), func(name string) bool { return name == c.Name })
			files := slices.Clone(blank)
			files[i].Data = []byte(strings.Join(left, ",") + "\r\n")
			_, err := sheet.Read(files, nil)
			missing := false
			list, _ := err.(problem.List)
			for _, p := range list {
				missing = missing || p.Code == problem.Missing && strings.HasSuffix(p.Path, ", "+c.Name)
			}
			if missing != c.Needed {
				t.Errorf("%s of %s: missing is %v, needed is %v", c.Name, table.Name, missing, c.Needed)
			}
		}
	}
}
