package sheet

import (
	"archive/zip"
	"bytes"
	"errors"
	"fmt"
	"io"
	"math"
	"slices"
	"strconv"
	"strings"
	"unicode/utf16"

	"github.com/xuri/excelize/v2"

	"kinwain/internal/catalog"
	"kinwain/internal/problem"
)

// workbookExtension ends the name of a workbook, which holds one sheet for each
// table.
const workbookExtension = ".xlsx"

// mostInCell is how much a cell of a workbook holds, in units of UTF-16.
const mostInCell = 32767

// Workbook writes the tables of a catalogue as the sheets of one workbook. What
// no cell of a workbook can hold is an error.
func Workbook(c *catalog.Catalogue) (data []byte, err error) {
	f := excelize.NewFile()
	defer func() { err = errors.Join(err, f.Close()) }()
	for i, table := range tablesOf(c) {
		if i == 0 {
			err = f.SetSheetName(f.GetSheetName(0), table.name)
		} else {
			_, err = f.NewSheet(table.name)
		}
		if err == nil {
			err = writeSheet(f, table)
		}
		if err != nil {
			return nil, fmt.Errorf("write the sheet %s: %w", table.name, err)
		}
	}
	var b bytes.Buffer
	if err := f.Write(&b); err != nil {
		return nil, fmt.Errorf("write the workbook: %w", err)
	}
	return b.Bytes(), nil
}

// twoDecimals is the format of numbers that shows cents, as ISO/IEC 29500 counts
// those that every program has.
const twoDecimals = 2

func writeSheet(f *excelize.File, table written) error {
	w, err := f.NewStreamWriter(table.name)
	if err != nil {
		return err
	}
	if err := w.SetPanes(&excelize.Panes{Freeze: true, YSplit: 1, TopLeftCell: "A2", ActivePane: "bottomLeft"}); err != nil {
		return err
	}
	inCents, err := f.NewStyle(&excelize.Style{NumFmt: twoDecimals})
	if err != nil {
		return err
	}
	row := 0
	put := func(cells []any) error {
		row++
		return w.SetRow("A"+strconv.Itoa(row), cells)
	}
	if err := put(anyOf(table.columns)); err != nil {
		return err
	}
	err = table.each(func(fields []field) error {
		cells := make([]any, len(fields))
		for i, f := range fields {
			if cells[i], err = typed(f); err != nil {
				return fmt.Errorf("row %d, %s: %w", row+1, f.name, err)
			}
			if f.also != "" {
				cells[i] = excelize.Cell{StyleID: inCents, Value: cells[i]}
			}
		}
		return put(cells)
	})
	if err != nil {
		return err
	}
	return w.Flush()
}

func anyOf(texts []string) []any {
	all := make([]any, len(texts))
	for i, text := range texts {
		all[i] = text
	}
	return all
}

// typed returns what stands in the cell of a field: a figure as a number, so
// that a spreadsheet computes with it, and else its text.
func typed(f field) (any, error) {
	text := f.cell.write()
	if f.number {
		if n, err := strconv.ParseFloat(text, 64); err == nil {
			return n, nil
		}
	}
	control := func(r rune) bool { return r < ' ' && !strings.ContainsRune("\t\n\r", r) || r == 0xfffe || r == 0xffff }
	switch {
	case text == "":
		return nil, nil
	case len(utf16.Encode([]rune(text))) > mostInCell:
		return nil, fmt.Errorf("this is too long for a cell of a workbook; write CSV instead")
	case strings.ContainsFunc(text, control):
		return nil, fmt.Errorf("%.40q has a sign that no workbook holds; write CSV instead", text)
	}
	return text, nil
}

// workbook returns the sheets of a workbook as tables, and what ends its use.
// Where it has one sheet of another name, the name of the file says which table
// that is.
func workbook(file File) (sources []source, end func() error, err error) {
	if err := bearable(file); err != nil {
		return nil, nil, err
	}
	f, err := excelize.OpenReader(bytes.NewReader(file.Data), excelize.Options{RawCellValue: true, UnzipSizeLimit: maxUnzipped, UnzipXMLSizeLimit: inMemory})
	if err != nil {
		return nil, nil, problem.List{{Path: file.Name, Code: problem.Syntax, Text: "this is not a workbook, or it arrived damaged, or it is protected by a password"}}
	}
	names := slices.DeleteFunc(f.GetSheetList(), func(name string) bool { return emptySheet(f, name) })
	for _, name := range names {
		table := tableNamed(name)
		if table == "" && len(names) == 1 {
			table = tableOf(file.Name)
		}
		sources = append(sources, source{"sheet " + name, "sheet " + name, table, func(all []field) (rows, error) {
			from, err := f.Rows(name)
			if err != nil {
				return nil, &formError{1, "this sheet cannot be read"}
			}
			return &sheetRows{from: from, fields: all}, nil
		}})
	}
	return sources, f.Close, nil
}

// inMemory bounds a sheet that is unpacked into memory; larger ones go to a
// file until they are read.
const inMemory = 1 << 20

// bearable looks at what a workbook says it unfolds to before it is unpacked.
func bearable(file File) error {
	archive, err := zip.NewReader(bytes.NewReader(file.Data), int64(len(file.Data)))
	if err != nil {
		return nil // it is told by who reads it
	}
	var all uint64
	for _, entry := range archive.File {
		if all += entry.UncompressedSize64; all > maxUnzipped || len(archive.File) > maxFiles {
			return problem.List{{Path: file.Name, Code: problem.TooMany, Text: errTooMuch.Error()}}
		}
	}
	return nil
}

func emptySheet(f *excelize.File, name string) bool {
	from, err := f.Rows(name)
	if err != nil {
		return false // and is told when it is read
	}
	defer func() { _ = from.Close() }() // what is in it is read again
	for from.Next() {
		if cells, err := from.Columns(); err != nil || !blank(cells) {
			return false
		}
	}
	return true
}

// sheetRows gives the rows of a sheet as those of a CSV file would be.
type sheetRows struct {
	from   *excelize.Rows
	fields []field
	order  []*field // of the columns, once the first row is read
}

func (s *sheetRows) next() ([]string, error) {
	if !s.from.Next() {
		if err := s.from.Error(); err != nil {
			return nil, &formError{1, "this sheet cannot be read to its end"}
		}
		return nil, io.EOF
	}
	cells, err := s.from.Columns()
	if err != nil {
		return nil, &formError{1, "this sheet cannot be read to its end"}
	}
	if s.order == nil {
		s.order = []*field{}
		for _, cell := range cells {
			i := slices.IndexFunc(s.fields, func(f field) bool { return f.name == strings.TrimSpace(cell) })
			s.order = append(s.order, at(s.fields, i))
		}
		return cells, nil
	}
	for i := range cells {
		if i < len(s.order) && s.order[i] != nil {
			cells[i] = plainly(*s.order[i], cells[i])
		}
	}
	return cells, nil
}

func (s *sheetRows) close() error { return s.from.Close() }

func at(fields []field, i int) *field {
	if i < 0 {
		return nil
	}
	return &fields[i]
}

// plainly writes what a workbook has in a cell as a CSV file would have it. A
// workbook keeps a number to the last bit, 4.0999999999999996 for 4.1, a day as
// the number of days, and a yes as 1.
func plainly(f field, cell string) string {
	n, err := strconv.ParseFloat(cell, 64)
	if err != nil || math.IsInf(n, 0) || math.IsNaN(n) {
		return cell
	}
	if f.number {
		return strconv.FormatFloat(n, 'f', -1, 64)
	}
	switch f.cell.(type) {
	case flag:
		return map[string]string{"1": "yes", "0": "no"}[cell]
	case day:
		if day, err := excelize.ExcelDateToTime(n, false); err == nil && n >= 1 && n == math.Trunc(n) {
			return day.Format("2006-01-02")
		}
	}
	return cell
}
