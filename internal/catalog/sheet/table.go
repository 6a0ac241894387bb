package sheet

import (
	"errors"
	"fmt"
	"slices"
	"strings"

	"kinwain/internal/problem"
)

// table is one CSV file of rows R. Without the required columns it cannot be
// read; the others may be left out, which is an absent key in every row.
type table[R any] struct {
	name     string
	required []string
	fields   func(*R) []field
}

// located is a row with where it stands.
type located[R any] struct {
	place
	of R
}

func (t table[R]) names() []string {
	var none R
	var names []string
	for _, f := range t.fields(&none) {
		names = append(names, f.name)
	}
	return names
}

func (t table[R]) write(rows []R) File {
	columns := t.names()
	data := appendRow([]byte(byteOrderMark), columns)
	cells := make([]string, len(columns))
	for i := range rows {
		for j, f := range t.fields(&rows[i]) {
			cells[j] = f.cell.write()
		}
		data = appendRow(data, cells)
	}
	return File{Name: t.name + extension, Data: data}
}

// readTable reads the rows of a table, each with its faults told.
func readTable[R any](r *reader, t table[R]) []located[R] {
	file, given := r.files[t.name]
	if !given {
		return nil // its absence is told already
	}
	columns := t.names()
	r.columns[t.name] = columns
	rows, err := parseGrid(file.data, columns)
	var form *formError
	if errors.As(err, &form) {
		r.form(place{t.name, file.name, form.row}, form.text)
		return nil
	}
	header := place{t.name, file.name, 1}
	if len(rows) == 0 || blank(rows[0]) {
		r.form(header, "the first row names the columns: "+strings.Join(columns, ", "))
		return nil
	}
	order := r.header(header, rows[0], columns, t.required)
	if order == nil {
		return nil
	}
	var all []located[R]
	for i, cells := range rows[1:] {
		if blank(cells) {
			continue
		}
		row := located[R]{place: place{t.name, file.name, i + 2}}
		r.row(row.place, cells, order, t.fields(&row.of))
		all = append(all, row)
	}
	return all
}

// header returns for every cell of a row its column, -1 where there is none,
// or nothing where the columns are not in order.
func (r *reader) header(p place, cells, columns, required []string) []int {
	order := make([]int, len(cells))
	whole := true
	fault := func(column, code, format string, args ...any) {
		r.add(p, column, code, format, args...)
		r.unread, whole = true, false
	}
	for i, cell := range cells {
		name := strings.TrimSpace(cell)
		order[i] = slices.Index(columns, name)
		switch {
		case name == "":
		case order[i] < 0:
			fault(fmt.Sprintf("%.40s", name), problem.UnknownKey, "there is no such column; the columns are %s", strings.Join(columns, ", "))
		case slices.Index(order, order[i]) < i:
			fault(name, problem.Duplicate, "this column is there twice; keep the right one")
		}
	}
	for _, name := range required {
		if !slices.Contains(order, slices.Index(columns, name)) {
			fault(name, problem.Missing, "this column is missing")
		}
	}
	if !whole {
		return nil
	}
	return order
}

// row reads the cells of one row into its fields.
func (r *reader) row(p place, cells []string, order []int, fields []field) {
	for i, cell := range cells {
		empty := strings.TrimSpace(cell) == ""
		if i >= len(order) || order[i] < 0 {
			if !empty {
				r.add(p, "", problem.UnknownKey, "%.40q stands in a column without a name; name it in row 1, or clear the cell", cell)
			}
			continue
		}
		f := fields[order[i]]
		if _, free := f.cell.(text); empty && !free {
			continue
		}
		if err := f.cell.read(cell); err != nil {
			r.add(p, f.name, problem.WrongType, "%s", err)
		}
	}
}
