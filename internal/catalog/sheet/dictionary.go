package sheet

import (
	"slices"
	"strings"

	"kinwain/internal/catalog"
)

// Table is a table of a spreadsheet with what its columns hold.
type Table struct {
	Name    string
	Columns []Column
}

// Column is what a column holds.
type Column struct {
	Name   string
	Also   string // another name for it; none for most
	Label  string // as the form has it
	Holds  string
	Range  string // what is plausible
	Hint   string
	Needed bool // of something new
}

// Dictionary tells of every table what its columns hold, from the tables by
// which they are written and read.
func Dictionary() []Table {
	var all []Table
	for _, w := range tablesOf(&catalog.Catalogue{}) {
		t := Table{Name: w.name}
		facts := factsOf(w.name)
		for _, name := range w.columns {
			c := Column{Name: name, Label: strings.ReplaceAll(name, "_", " "), Holds: ofOwner[name], Needed: slices.Contains(w.needs, name)}
			if f := facts[name]; f != nil {
				c.Holds, c.Range, c.Hint = holds(f), f.Range, f.Hint
				if f.Label != "" {
					c.Label = f.Label
				} else if f.Group != nil {
					c.Label = f.Group.Title
				}
				if f.Header() != f.Name {
					c.Also = f.Name
				}
			}
			t.Columns = append(t.Columns, c)
		}
		all = append(all, t)
	}
	return all
}

// ofOwner says what the columns of no fact hold.
var ofOwner = map[string]string{"catalogue": "1, the version of the format", "frame": "the code of a frame", "add_on": "the code of an add-on", "unit": "the tag of a bike"}

// factsOf are the facts of a table by their columns.
func factsOf(table string) map[string]*catalog.Field {
	all := map[string]*catalog.Field{}
	fields := catalog.Of(table)
	for i := range fields {
		f := &fields[i]
		all[f.Header()] = f
		if f.Kind == catalog.Boxed {
			for j := range f.Sub {
				all[f.Column(&f.Sub[j])] = &f.Sub[j]
			}
		}
	}
	return all
}

// holds says what stands in a cell of a field.
func holds(f *catalog.Field) string {
	if len(f.Words) > 0 {
		return "one of " + strings.Join(f.Words, ", ")
	}
	if f.Kind == catalog.Share && strings.HasSuffix(f.Name, "_percent") {
		return "per cent: 21"
	}
	if f.Kind == catalog.Rows {
		return "mounts, each with its number: deck_cm:34 belly:1"
	}
	return inCells[f.Kind]
}

// inCells says what stands in a cell by the kind of its fact.
var inCells = map[catalog.FieldKind]string{
	catalog.Text: "text", catalog.Long: "text of several lines", catalog.Code: "text without blanks", catalog.Link: "an address on the web",
	catalog.Mass: "kilograms", catalog.Length: "centimetres", catalog.Signed: "centimetres, behind the rear axle with a minus", catalog.Volume: "litres",
	catalog.Money: "the currency: 139.00", catalog.Number: "whole number", catalog.Share: "part of one: 0.45", catalog.Day: "day: 2026-11-25",
	catalog.Tick: "yes or no", catalog.Maybe: "yes or no; empty as the add-on has it", catalog.Teeth: "whole numbers with blanks between: 11 13 15",
	catalog.Codes: "codes with blanks between: front rear", catalog.OneFrame: "the code of a frame", catalog.Frames: "codes of frames with blanks between",
	catalog.OneZone: "the code of a zone", catalog.AddOns: "codes of add-ons with blanks between",
	catalog.Needs: "codes or tags: blanks between what is needed together, | between what will do instead: tray|bench two_leg_stand",
}

// Blank returns the tables without a row, to be filled in.
func Blank() []File {
	var files []File
	for _, w := range tablesOf(&catalog.Catalogue{}) {
		files = append(files, File{Name: w.name + extension, Data: appendRow([]byte(byteOrderMark), w.columns)})
	}
	return files
}
