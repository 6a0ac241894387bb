package quote

import (
	"encoding/csv"
	"io"
	"strconv"
	"strings"
)

// WriteCSV writes the quote as a table by RFC 4180 for a spreadsheet: one row
// a line, then the sums. Amounts are plain numbers in the currency's unit.
// The label tells in words what a line is for.
func (q *Quote) WriteCSV(w io.Writer, label func(Line) string) error {
	rows := [][]string{{"quote", "line", "code", "label", "note", "quantity", "minutes", "each", "amount", "currency"}}
	row := func(line, code, words, note, quantity, minutes, each, amount string) {
		rows = append(rows, []string{q.Name(), line, Cell(code), Cell(words), Cell(note), quantity, minutes, each, amount, Cell(q.Currency)})
	}
	for i, l := range q.Lines {
		row(strconv.Itoa(i+1), l.Code, label(l), l.Note, strconv.Itoa(l.Quantity), strconv.Itoa(l.Minutes), l.Each.String(), l.Amount.String())
	}
	tax := "tax added"
	if q.TaxIncluded {
		tax = "tax included"
	}
	row("", "", "subtotal", "", "", "", "", q.Subtotal.String())
	row("", "", "net", "", "", "", "", q.Net.String())
	row("", "", tax, strings.ReplaceAll(q.TaxRate.String(), "\u00a0", " "), "", "", "", q.Tax.String())
	row("", "", "total", "", "", "", "", q.Total.String())
	row("", "", "deposit", "", "", "", "", q.Deposit.String())
	out := csv.NewWriter(w)
	out.UseCRLF = true // RFC 4180, section 2
	return out.WriteAll(rows)
}

// Cell keeps a spreadsheet from taking a text for a formula: what begins like
// one gets an apostrophe before it, as the OWASP page on CSV injection advises.
func Cell(s string) string {
	if s != "" && strings.ContainsRune("=+-@\t\r", rune(s[0])) {
		return "'" + s
	}
	return s
}
