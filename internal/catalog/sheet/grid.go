package sheet

import (
	"bytes"
	"fmt"
	"io"
	"slices"
	"strings"
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

// What a table may hold, whatever its bytes: a row takes thousands once it is a
// thing. Spreadsheets add empty rows by the million.
const (
	maxRows  = 50_000
	maxCells = 1_200_000
)

// rows gives the rows of a table one by one.
type rows interface {
	// next returns the cells of the next row, which are good until it is
	// called again, or io.EOF. Any other error is a *formError.
	next() (cells []string, err error)
	close() error
}

// bounded counts the rows of a table and ends what goes on for too long.
type bounded struct {
	rows
	row, filled, cells int
}

func (b *bounded) next() ([]string, error) {
	cells, err := b.rows.next()
	if err != nil {
		return nil, err
	}
	b.row++
	if !blank(cells) {
		b.filled++
	}
	if b.cells += len(cells); b.filled > maxRows || b.cells > maxCells {
		return nil, &formError{b.row, fmt.Sprintf("this table goes on for more than %d rows or %d cells; no catalogue does", maxRows, maxCells)}
	}
	return cells, nil
}

// grid is a file of RFC 4180 that is read row by row.
//
// The reader of the standard library does not do here. It leaves out empty
// rows, so that no row would have its number in the spreadsheet, and turns a
// carriage return with a line feed in a text into a line feed alone.
type grid struct {
	rest  []byte
	comma byte
	row   int
	cells []string
}

// openGrid reads a file as text. Its first row tells the separator: the one
// that gives the most cells in the list of known ones.
func openGrid(data []byte, known []string) (*grid, error) {
	text, err := decoded(data)
	if err != nil {
		return nil, err
	}
	return &grid{rest: text, comma: separatorOf(text, known)}, nil
}

func (g *grid) next() ([]string, error) {
	if len(g.rest) == 0 {
		return nil, io.EOF
	}
	g.row++
	var err error
	if g.cells, g.rest, err = record(g.cells[:0], g.rest, g.comma); err != nil {
		return nil, &formError{g.row, err.Error()}
	}
	return g.cells, nil
}

func (g *grid) close() error { return nil }

func separatorOf(text []byte, known []string) byte {
	best, most := separators[0], -1
	for _, comma := range separators {
		cells, _, err := record(nil, text, comma)
		if err != nil {
			continue
		}
		score := len(cells)
		for _, cell := range cells {
			if slices.Contains(known, strings.TrimSpace(cell)) {
				score += len(text) // one known name is worth more than any number of cells
			}
		}
		if score > most {
			best, most = comma, score
		}
	}
	return best
}

// record appends the cells of the first row of a text and returns what is left
// behind the end of that row.
func record(cells []string, text []byte, comma byte) (_ []string, rest []byte, err error) {
	for {
		var cell string
		if len(text) > 0 && text[0] == '"' {
			if cell, text, err = quotedCell(text[1:]); err != nil {
				return nil, nil, err
			}
		} else {
			end := cellEnd(text, comma)
			cell, text = string(text[:end]), text[end:]
		}
		cells = append(cells, cell)
		switch {
		case len(text) == 0:
			return cells, nil, nil
		case text[0] == comma:
			text = text[1:]
		case bytes.HasPrefix(text, []byte("\r\n")):
			return cells, text[2:], nil
		case text[0] == '\n' || text[0] == '\r':
			return cells, text[1:], nil
		default:
			return nil, nil, fmt.Errorf("after the closing quotation mark of %.40q comes something else; a quotation mark within a text is written twice", cell)
		}
	}
}

// cellEnd returns where a cell without quotation marks ends.
func cellEnd(text []byte, comma byte) int {
	for i, c := range text {
		if c == comma || c == '\n' || c == '\r' {
			return i
		}
	}
	return len(text)
}

// quotedCell reads on after an opening quotation mark.
func quotedCell(text []byte) (cell string, rest []byte, err error) {
	var parts strings.Builder // only where a quotation mark is part of the text
	for {
		end := bytes.IndexByte(text, '"')
		if end < 0 {
			return "", nil, fmt.Errorf("a quotation mark opens the text %.40q and none closes it", text)
		}
		if end+1 >= len(text) || text[end+1] != '"' {
			if parts.Len() == 0 {
				return string(text[:end]), text[end+1:], nil
			}
			parts.Write(text[:end])
			return parts.String(), text[end+1:], nil
		}
		parts.Write(text[:end+1])
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
