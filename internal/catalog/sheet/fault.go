package sheet

import (
	"cmp"
	"fmt"
	"slices"
	"strings"

	"kinwain/internal/catalog"
	"kinwain/internal/problem"
)

// place is a row of a table; row 0 is the file as a whole.
type place struct {
	table string
	file  string
	row   int
}

// fault is one fault with where it stands.
type fault struct {
	place
	column string
	problem.Problem
}

// reader collects what is read from the files, and its faults.
type reader struct {
	current *catalog.Catalogue  // what is not given stays as it is here; nil where all has to be given
	files   map[string]source   // by the name of the table
	columns map[string][]string // of each table, as they are written
	renamed map[string]string   // columns by another name, by their table and their own
	at      map[string]place    // of everything that has a row, by its path in the document
	sources map[string][]place  // of the evidence of each figure, by the path of its thing and its own
	faults  []fault
	more    int  // faults beyond those kept
	unread  bool // a table could not be read at all: what is missing then means nothing
}

// add notes a fault in a row, or in one column of it.
func (r *reader) add(p place, column, code, format string, args ...any) {
	if len(r.faults) == problem.MaxFaults {
		r.more++
		return
	}
	path := p.file
	if p.row > 0 {
		path += fmt.Sprintf(", row %d", p.row)
	}
	if column != "" {
		path += ", " + column
	}
	r.faults = append(r.faults, fault{p, column, problem.Problem{Path: path, Code: code, Text: fmt.Sprintf(format, args...)}})
}

// whole notes that a file is not what it should be.
func (r *reader) whole(file, table, code, format string, args ...any) {
	r.unread = true
	r.add(place{table, file, 0}, "", code, format, args...)
}

// form notes that a file cannot be read on from a row.
func (r *reader) form(p place, text string) {
	r.unread = true
	r.add(p, "", problem.Syntax, "%s", text)
}

// check adds the faults of meaning, each at the cell that it is about. What
// could not be read is missing only for that.
func (r *reader) check(c *catalog.Catalogue) {
	list, _ := c.Check().(problem.List)
	if len(list) == 0 {
		return
	}
	type spot struct {
		place
		column string
	}
	r.locateKept()
	told := map[spot]bool{}
	for _, f := range r.faults {
		told[spot{f.place, f.column}] = true
	}
	for _, p := range list {
		where, column := r.locate(p.Path)
		if column != "" && !slices.Contains(r.columns[where.table], column) { // the rows of another table
			p.Text, column = p.Text+", in the table "+column, ""
		}
		if !told[spot{where, column}] {
			r.add(where, column, p.Code, "%s", p.Text)
		}
	}
}

// locate finds the row and the column of a path of the document: what has a
// row of its own is the longest part of the path that is known, and the
// column is what follows.
func (r *reader) locate(path string) (place, string) {
	for whole := path; ; {
		if p, found := r.at[whole]; found {
			column := columnOf(p.table, strings.TrimPrefix(path[len(whole):], "."))
			if i := strings.IndexByte(column, '['); i >= 0 {
				column = column[:i]
			}
			return p, cmp.Or(r.renamed[p.table+" "+column], column)
		}
		whole = whole[:max(strings.LastIndexAny(whole, ".["), 0)]
	}
}

// columnOf returns the column of a path within a thing.
func columnOf(table, path string) string {
	box, within, inside := strings.Cut(path, ".")
	for _, f := range catalog.Of(table) {
		if f.Name == path {
			return f.Header()
		}
		for i := range f.Sub {
			if inside && f.Name == box && f.Sub[i].Name == within && f.Kind == catalog.Boxed {
				return f.Column(&f.Sub[i])
			}
		}
	}
	return path
}

// err returns the faults, file by file, row by row and from left to right.
func (r *reader) err() error {
	tables := Tables()
	slices.SortStableFunc(r.faults, func(a, b fault) int {
		return cmp.Or(slices.Index(tables, a.table)-slices.Index(tables, b.table), a.row-b.row,
			slices.Index(r.columns[a.table], a.column)-slices.Index(r.columns[b.table], b.column))
	})
	var list problem.List
	for _, f := range r.faults {
		list = append(list, f.Problem)
	}
	if r.more > 0 {
		list = append(list, problem.Problem{Code: problem.TooMany, Text: fmt.Sprintf("there are %d more faults; mend these first", r.more)})
	}
	return list.Err()
}
