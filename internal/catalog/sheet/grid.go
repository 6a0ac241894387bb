package sheet

import (
	"bytes"
	"fmt"
	"strings"
	"unicode/utf8"
)

// byteOrderMark stands before the text, so that spreadsheets read it as UTF-8
// and not in the code page of the computer.
const byteOrderMark = "\ufeff"

// separators are what may stand between cells, as spreadsheets write them in
// one country or another.
var separators = [...]byte{',', ';', '\t'}

// formError is a fault of the file itself, at a row counted from 1.
type formError struct {
	row  int
	text string
}

func (e *formError) Error() string { return fmt.Sprintf("row %d: %s", e.row, e.text) }

// parseGrid reads a file of RFC 4180 into rows of cells. The first row tells
// the separator: the one that gives the most cells in the list of known ones.
//
// The reader of the standard library does not do here. It leaves out empty
// rows, so that no row would have its number in the spreadsheet, and turns a
// carriage return with a line feed in a text into a line feed alone.
func parseGrid(data []byte, known []string) ([][]string, error) {
	text := string(bytes.TrimPrefix(data, []byte(byteOrderMark)))
	return parseRows(text, separatorOf(text, known))
}

// What a table may hold, whatever its bytes: an empty cell takes sixteen, a row
// thousands once it is a thing. Spreadsheets add empty rows by the million.
const (
	maxRows  = 50_000
	maxCells = 1_200_000
)

func parseRows(text string, comma byte) ([][]string, error) {
	var rows [][]string
	filled, total := 0, 0
	for rest := text; rest != ""; {
		var cells []string
		var err error
		if cells, rest, err = record(rest, comma); err != nil {
			return nil, &formError{len(rows) + 1, err.Error()}
		}
		rows = append(rows, cells)
		if !blank(cells) {
			filled++
		}
		if total += len(cells); filled > maxRows || total > maxCells {
			return nil, &formError{len(rows), fmt.Sprintf("this table goes on for more than %d rows or %d cells; no catalogue does", maxRows, maxCells)}
		}
		for _, cell := range cells {
			if !utf8.ValidString(cell) {
				return nil, &formError{len(rows), "this is not UTF-8 text; in the spreadsheet choose “CSV UTF-8” or the character set “Unicode (UTF-8)” when saving"}
			}
		}
	}
	return rows, nil
}

func separatorOf(text string, known []string) byte {
	best, most := separators[0], -1
	for _, comma := range separators {
		cells, _, err := record(text, comma)
		if err != nil {
			continue
		}
		score := len(cells)
		for _, cell := range cells {
			for _, name := range known {
				if strings.TrimSpace(cell) == name {
					score += len(text) // one known name is worth more than any number of cells
				}
			}
		}
		if score > most {
			best, most = comma, score
		}
	}
	return best
}

// record reads the cells of the first row of a text and returns what is left
// behind the end of that row.
func record(text string, comma byte) (cells []string, rest string, err error) {
	for {
		var cell string
		if strings.HasPrefix(text, `"`) {
			if cell, text, err = quotedCell(text[1:]); err != nil {
				return nil, "", err
			}
		} else {
			end := cellEnd(text, comma)
			cell, text = text[:end], text[end:]
		}
		cells = append(cells, cell)
		switch {
		case text == "":
			return cells, "", nil
		case text[0] == comma:
			text = text[1:]
		case strings.HasPrefix(text, "\r\n"):
			return cells, text[2:], nil
		case text[0] == '\n' || text[0] == '\r':
			return cells, text[1:], nil
		default:
			return nil, "", fmt.Errorf("after the closing quotation mark of %.40q comes something else; a quotation mark within a text is written twice", cell)
		}
	}
}

// cellEnd returns where a cell without quotation marks ends.
func cellEnd(text string, comma byte) int {
	for i := range len(text) {
		if text[i] == comma || text[i] == '\n' || text[i] == '\r' {
			return i
		}
	}
	return len(text)
}

// quotedCell reads on after an opening quotation mark.
func quotedCell(text string) (cell, rest string, err error) {
	var parts strings.Builder // only where a quotation mark is part of the text
	for {
		end := strings.IndexByte(text, '"')
		if end < 0 {
			return "", "", fmt.Errorf("a quotation mark opens the text %.40q and none closes it", text)
		}
		if !strings.HasPrefix(text[end+1:], `"`) {
			if parts.Len() == 0 {
				return text[:end], text[end+1:], nil
			}
			parts.WriteString(text[:end])
			return parts.String(), text[end+1:], nil
		}
		parts.WriteString(text[:end+1])
		text = text[end+2:]
	}
}

// appendRow writes one row. Texts with anything that some reader might take
// for the end of a cell stand in quotation marks.
func appendRow(b []byte, cells []string) []byte {
	for i, cell := range cells {
		if i > 0 {
			b = append(b, ',')
		}
		if !strings.ContainsAny(cell, "\",;\t\r\n") && strings.TrimSpace(cell) == cell {
			b = append(b, cell...)
			continue
		}
		b = append(b, '"')
		b = append(b, strings.ReplaceAll(cell, `"`, `""`)...)
		b = append(b, '"')
	}
	return append(b, "\r\n"...)
}

// blank reports whether nothing is written in a row.
func blank(cells []string) bool {
	for _, cell := range cells {
		if strings.TrimSpace(cell) != "" {
			return false
		}
	}
	return true
}
