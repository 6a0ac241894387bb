package sheet_test

import (
	"bytes"
	"encoding/csv"
	"fmt"
	"regexp"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"kinwain/internal/catalog/sheet"
)

// cellsOf reads a file with the reader of the standard library.
func cellsOf(t *testing.T, data []byte) [][]string {
	t.Helper()
	rows, err := csv.NewReader(bytes.NewReader(bytes.TrimPrefix(data, []byte("\ufeff")))).ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	return rows
}

var number = regexp.MustCompile(`^-[0-9]+(\.[0-9]+)?$`)

// TestOthersReadTheFiles holds what is written against RFC 4180, Common Format
// and MIME Type for CSV Files, section 2: lines end in CRLF (1), every line has
// the same number of fields (4), texts with CRLF, quotation marks or commas
// are enclosed (6) and quotation marks doubled (7). The reader of the standard
// library, which has nothing to do with this one, refuses anything else, and
// finds the texts as they were.
func TestOthersReadTheFiles(t *testing.T) {
	shop := demo(t)
	odd := map[string]string{"frames.csv, row 2, notes": "one, \"two\";\nthree\t'four'\n\nfive", "frames.csv, row 3, notes": "'=SUM(A1:A9)", "units.csv, row 2, colour": " -slate "}
	shop.Frames[0].Notes, shop.Frames[1].Notes, shop.Units[0].Colour = odd["frames.csv, row 2, notes"], "=SUM(A1:A9)", " -slate "
	for _, f := range sheet.Write(shop) {
		if !bytes.HasPrefix(f.Data, []byte("\ufeff")) || !bytes.HasSuffix(f.Data, []byte("\r\n")) {
			t.Errorf("%s does not begin with the mark or end in CRLF", f.Name)
		}
		rows := cellsOf(t, f.Data)
		for i, row := range rows[1:] {
			for j, cell := range row {
				at := fmt.Sprintf("%s, row %d, %s", f.Name, i+2, rows[0][j])
				if cell != "" && strings.ContainsAny(cell[:1], "=+-@\t\r") && !number.MatchString(cell) {
					t.Errorf("%s: %q would be computed", at, cell)
				}
				if want, is := odd[at]; is && cell != want {
					t.Errorf("%s: %q, want %q", at, cell, want)
				}
				delete(odd, at)
			}
		}
	}
	if len(odd) != 0 {
		t.Errorf("not found: %v", odd)
	}
}

// TestReadsWhatOthersWrite lets the writer of the standard library write the
// cells.
func TestReadsWhatOthersWrite(t *testing.T) {
	shop := demo(t)
	var files []sheet.File
	for i, f := range sheet.Write(shop) {
		var b bytes.Buffer
		w := csv.NewWriter(&b)
		w.Comma, w.UseCRLF = []rune{',', ';', '\t'}[i%3], i%2 == 0
		if err := w.WriteAll(cellsOf(t, f.Data)); err != nil {
			t.Fatal(err)
		}
		files = append(files, sheet.File{Name: f.Name, Data: b.Bytes()})
	}
	if diff := cmp.Diff(sheet.Write(shop), sheet.Write(reads(t, files))); diff != "" {
		t.Error(diff)
	}
}
