package sheet

import (
	"errors"
	"fmt"
	"io"
	"slices"
	"strings"

	"kinwain/internal/problem"
)

// table is one file of rows R. Without the keys, which say what a row is about,
// it cannot be read. A table with all that is needed is a whole list; one
// without changes what is there. Any other column may be left out, which leaves
// its fact as it is.
type table[R any] struct {
	name   string
	keys   []string
	needed []string // of what is new
	fields func(*R) []field
}

func namesOf(fields []field) []string {
	names := make([]string, len(fields))
	for i, f := range fields {
		names[i] = f.name
	}
	return names
}

// written is a table with its rows, to be written in one form or another.
type written struct {
	name    string
	columns []string
	needs   []string // of these, what is new
	each    func(row func([]field) error) error
}

func (t table[R]) with(rows []R) written {
	var none R
	return written{t.name, namesOf(t.fields(&none)), slices.Concat(t.keys, t.needed), func(row func([]field) error) error {
		for i := range rows {
			if err := row(t.fields(&rows[i])); err != nil {
				return err
			}
		}
		return nil
	}}
}

// file writes the table as CSV.
func (w written) file() File {
	data := appendRow([]byte(byteOrderMark), w.columns)
	cells := make([]string, len(w.columns))
	_ = w.each(func(fields []field) error { // which has no error of its own
		for i, f := range fields {
			cells[i] = f.cell.write()
		}
		data = appendRow(data, cells)
		return nil
	})
	return File{Name: w.name + extension, Data: data}
}

// source is what a table is read from, by the name that its faults give it.
type source struct {
	name  string
	file  string // that it is or is in, as it was given
	table string // empty where it is none
	open  func(known []field) (rows, error)
}

// header is what the first row of a table says.
type header struct {
	order   []int    // of every cell its field, -1 where it has none
	absent  []int    // the fields without a cell
	lacking []string // the columns that something new would need
}

// whole reports whether the table is a whole list.
func (h *header) whole() bool { return len(h.lacking) == 0 }

// readTable reads a table row by row, each with its faults told. It returns
// nothing where there is none, or where it cannot be read. Old returns what a
// row stands in place of, or nothing where it is new; it is asked only where
// columns are left out, which then say the same as there.
func readTable[R any](r *reader, t table[R], old func(place, *R) *R, each func(place, *R)) *header {
	var none R
	columns := t.fields(&none)
	all := append(columns, alternates(columns)...)
	names := namesOf(all)
	r.columns[t.name] = names
	file, given := r.files[t.name]
	if !given {
		return nil
	}
	at := place{t.name, file.name, 1}
	faults, more := len(r.faults), r.more
	var h *header
	rows, err := file.open(all)
	if err == nil {
		h, err = readRows(r, at, rows, func(cells []string) *header { return r.header(at, cells, all, len(columns), t.keys, t.needed) },
			func(p place, cells []string, h *header) {
				row := new(R)
				fields := t.fields(row)
				r.row(p, cells, h.order, append(fields, alternates(fields)...))
				if len(h.absent) > 0 && r.current != nil {
					was := old(p, row)
					if was == nil && !h.whole() {
						r.add(p, t.keys[0], problem.NotFound, "this is not there yet; something new needs the columns %s", strings.Join(h.lacking, ", "))
						return
					}
					if was != nil {
						keep(h.absent, fields, t.fields(was))
					}
				}
				each(p, row)
			})
	}
	var form *formError
	if errors.As(err, &form) {
		r.faults, r.more = r.faults[:faults], more // what else is wrong with it means little
		r.form(place{t.name, file.name, form.row}, form.text)
		return nil
	}
	return h
}

// keep makes fields hold what those of another row hold.
func keep(which []int, fields, was []field) {
	for _, i := range which {
		fields[i].as(was[i])
	}
}

// readRows gives the rows of a table that are not empty, the first to head and
// the others to each. It stops where head returns nothing.
func readRows(r *reader, at place, from rows, head func([]string) *header, each func(place, []string, *header)) (h *header, err error) {
	defer func() { err = errors.Join(err, from.close()) }()
	rows := &bounded{rows: from}
	cells, err := rows.next()
	if err == io.EOF || err == nil && blank(cells) {
		return nil, &formError{1, "the first row names the columns: " + strings.Join(r.columns[at.table], ", ")}
	}
	if err != nil {
		return nil, err
	}
	if h = head(cells); h == nil {
		return nil, nil
	}
	for {
		cells, err := rows.next()
		if err == io.EOF {
			return h, nil
		}
		if err != nil {
			return nil, err
		}
		if !blank(cells) {
			each(place{at.table, at.file, rows.row}, cells, h)
		}
	}
}

// header reads the first row, or returns nothing where the columns are not in
// order. Behind the columns of the table stand those that may take the place
// of one of them.
func (r *reader) header(p place, cells []string, fields []field, columns int, keys, needed []string) *header {
	names := namesOf(fields)
	h := &header{order: make([]int, len(cells))}
	whole := true
	fault := func(column, code, format string, args ...any) {
		r.add(p, column, code, format, args...)
		r.unread, whole = true, false
	}
	there := map[any]string{} // by the fact
	for i, cell := range cells {
		name := strings.TrimSpace(cell)
		at := slices.Index(names, name)
		h.order[i] = at
		switch {
		case name == "":
		case at < 0:
			fault(fmt.Sprintf("%.40s", name), problem.UnknownKey, "there is no such column; the columns are %s", strings.Join(names, ", "))
		case there[fields[at].of] == name:
			fault(name, problem.Duplicate, "this column is there twice; keep the right one")
		case there[fields[at].of] != "":
			fault(name, problem.Conflict, "the column %s says the same; keep one of the two", there[fields[at].of])
		default:
			there[fields[at].of] = name
			if at >= columns {
				i := slices.IndexFunc(fields, func(f field) bool { return f.of == fields[at].of })
				r.renamed[p.table+" "+names[i]] = name
			}
		}
	}
	for i, f := range fields[:columns] {
		if there[f.of] != "" {
			continue
		}
		h.absent = append(h.absent, i)
		if slices.Contains(keys, f.name) || r.current == nil && slices.Contains(needed, f.name) {
			fault(f.name, problem.Missing, "this column is missing")
		} else if slices.Contains(needed, f.name) {
			h.lacking = append(h.lacking, f.name)
		}
	}
	if !whole {
		return nil
	}
	return h
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
