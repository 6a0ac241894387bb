package quote_test

import (
	"encoding/csv"
	"strings"
	"testing"

	"kinwain/internal/fitting"
	"kinwain/internal/measure"
	"kinwain/internal/quote"
)

// TestCSV reads the file back, checks the ends of lines that RFC 4180,
// section 2, asks for, and that no text can be taken for a formula.
func TestCSV(t *testing.T) {
	t.Parallel()
	c := bench(true)
	c.AddOns[0].Name, c.AddOns[3].Name = `=HYPERLINK("x","y")`, "Strap, \"long\"\nand wide"
	note := c.AddOns[0].OnFrame["sedge"]
	note.Note = "-1+2"
	c.AddOns[0].OnFrame["sedge"] = note
	sum := quote.NewSum(c, &c.Frames[0], &fitting.Build{AddOns: []string{"rack", "strap", "tray"}}, quote.DefaultSettings())
	q := quote.Quote{Year: 2026, Number: 7, Currency: "EUR", Sum: sum}
	var b strings.Builder
	if err := q.WriteCSV(&b, func(l quote.Line) string { return l.Name }); err != nil {
		t.Fatal(err)
	}
	if rest := strings.ReplaceAll(b.String(), "\r\n", ""); strings.Count(rest, "\n") != strings.Count(rest, "\r") || !strings.HasSuffix(b.String(), "\r\n") {
		t.Errorf("the ends of lines are not all CRLF: %q", b.String())
	}
	rows, err := csv.NewReader(strings.NewReader(b.String())).ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	var total measure.Money
	for i, row := range rows[1:] {
		for column, cell := range row {
			if number := column >= 5 && column <= 8; !number && cell != "" && strings.ContainsRune("=+-@\t\r", rune(cell[0])) {
				t.Errorf("row %d: a spreadsheet takes %q for a formula", i, cell)
			}
		}
		if row[1] != "" {
			total += sum.Lines[i].Amount
			if row[8] != sum.Lines[i].Amount.String() {
				t.Errorf("row %d: %s, want %v", i, row[8], sum.Lines[i].Amount)
			}
		}
		if row[3] == "total" && row[8] != total.String() {
			t.Errorf("the total is %s, want %v", row[8], total)
		}
	}
	if rows[2][3] != `'=HYPERLINK("x","y")` || rows[4][4] != "'-1+2" || rows[1][0] != "Q-2026-0007" {
		t.Errorf("%q", rows)
	}
}
