package sheet_test

import (
	"bytes"
	"encoding/csv"
	"regexp"
	"strings"
	"testing"

	zerocsv "github.com/fikrimohammad/go-zerocsv"
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
// are enclosed (6) and quotation marks doubled (7). Two readers that have
// nothing to do with this one, the standard library's and another, read the
// same cells.
func TestOthersReadTheFiles(t *testing.T) {
	shop := demo(t)
	shop.Frames[0].Notes = "one, \"two\";\nthree\t'four'\n\nfive"
	shop.Frames[1].Notes = "=SUM(A1:A9)"
	shop.Units[0].Colour = " -slate "
	for _, f := range sheet.Write(shop) {
		want := cellsOf(t, f.Data)
		data := bytes.TrimPrefix(f.Data, []byte("\ufeff"))
		if len(data) == len(f.Data) || !bytes.HasSuffix(data, []byte("\r\n")) {
			t.Errorf("%s does not begin with the mark or end in CRLF", f.Name)
		}
		records, err := zerocsv.NewReader(bytes.NewReader(data)).ReadAll()
		if err != nil {
			t.Fatalf("%s: %v", f.Name, err)
		}
		var got [][]string
		for _, r := range records {
			if r.Len() != len(want[0]) {
				t.Errorf("%s: %d fields in one row, %d in the header", f.Name, r.Len(), len(want[0]))
			}
			got = append(got, r.Strings())
		}
		if diff := cmp.Diff(want, got); diff != "" {
			t.Errorf("%s: %s", f.Name, diff)
		}
		for i, row := range want[1:] {
			for j, cell := range row {
				if cell != "" && strings.ContainsAny(cell[:1], "=+-@\t\r") && !number.MatchString(cell) {
					t.Errorf("%s, row %d, %s: %q would be computed", f.Name, i+2, want[0][j], cell)
				}
			}
		}
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
