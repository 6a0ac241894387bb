// Package sheet writes a catalogue as a folder of CSV files, one for each
// table, or as a workbook with a sheet for each, and reads such files back.
//
// The tables are shop, frames, zones, combined, places, add_ons, on_frame, units
// and evidence, of which an older export lacks the last; the header of a column is the key that the JSON document has for it.
// A list stands in one cell with blanks between its members (11 13 15), a
// mount with its number as deck_cm:34, and needs as tray|bench where one of
// the two will do. Rows of one owner keep the order of the list that they are.
// An empty cell is what an absent key is. Nothing is lost either way: the
// same catalogue gives the same bytes, and they give the same catalogue.
//
// A column that is left out leaves its fact as it is, and an empty cell clears
// it. A table with every column that something new needs is the whole list:
// what has no row there goes. One without changes what has a row and leaves the
// rest.
//
// What is written is RFC 4180 in UTF-8. What is read may come from any
// spreadsheet: commas, semicolons or tabs between cells, a decimal comma,
// columns in any order, empty rows and columns, UTF-16 with its mark, or
// Windows-1252. Thousands are never guessed.
package sheet

import (
	"maps"
	"slices"
	"strings"

	"kinwain/internal/catalog"
)

// File is one CSV file, or any other that somebody gave.
type File struct {
	Name string
	Data []byte
}

// extension ends the name of every file.
const extension = ".csv"

// Write returns the files of a catalogue in which Check finds no fault, one
// for each table, always in the same order.
func Write(c *catalog.Catalogue) []File {
	var files []File
	for _, table := range tablesOf(c) {
		files = append(files, table.file())
	}
	return files
}

// tablesOf returns the tables of a catalogue with their rows.
func tablesOf(c *catalog.Catalogue) []written {
	var zones []zoneRow
	var combined []combinedRow
	var places []placeRow
	for _, f := range c.Frames {
		for _, z := range f.Zones {
			zones = append(zones, zoneRow{f.Code, z})
		}
		for _, r := range f.Combined {
			combined = append(combined, combinedRow{f.Code, r})
		}
		for _, p := range f.Places {
			places = append(places, placeRow{frame: f.Code, Place: p})
		}
	}
	var pairs []pairRow
	for _, a := range c.AddOns {
		for _, p := range a.Places {
			places = append(places, placeRow{addOn: a.Code, Place: p})
		}
		for _, frame := range slices.Sorted(maps.Keys(a.OnFrame)) {
			pairs = append(pairs, pairRow{a.Code, frame, a.OnFrame[frame]})
		}
	}
	return []written{
		shopTable.with([]shopRow{{c.Version, c.Shop}}), frameTable.with(c.Frames), zoneTable.with(zones), combinedTable.with(combined),
		placeTable.with(places), addOnTable.with(c.AddOns), pairTable.with(pairs), unitTable.with(c.Units), evidenceTable.with(evidenceRows(c)),
	}
}

// evidenceRows are the rows of where figures come from.
func evidenceRows(c *catalog.Catalogue) []evidenceRow {
	var all []evidenceRow
	for _, f := range c.Frames {
		for _, e := range f.Evidence {
			all = append(all, evidenceRow{frame: f.Code, Evidence: e})
		}
	}
	for _, a := range c.AddOns {
		for _, e := range a.Evidence {
			all = append(all, evidenceRow{addOn: a.Code, Evidence: e})
		}
	}
	for _, u := range c.Units {
		for _, e := range u.Evidence {
			all = append(all, evidenceRow{unit: u.Tag, Evidence: e})
		}
	}
	return all
}

// Tables are the names of all tables, in the order in which Write gives them.
func Tables() []string {
	return []string{shopTable.name, frameTable.name, zoneTable.name, combinedTable.name,
		placeTable.name, addOnTable.name, pairTable.name, unitTable.name, evidenceTable.name}
}

// Kept lists the tables of which none of the files is one.
func Kept(files []File) []string { return missing(sourcesOf(files)) }

// isTable reports whether a file is a CSV file by its name.
func isTable(file string) bool { return strings.HasSuffix(strings.ToLower(file), extension) }

// baseOf returns the name of a file in whatever folder.
func baseOf(file string) string { return file[strings.LastIndexAny(file, `/\`)+1:] }

// tableOf returns the name of the table that a file holds by its own name, and
// nothing where it holds none.
func tableOf(file string) string {
	name := strings.ToLower(baseOf(file))
	for _, end := range []string{extension, workbookExtension} {
		if base, found := strings.CutSuffix(name, end); found {
			return tableNamed(base)
		}
	}
	return ""
}

// tableNamed returns the table that a name is about. Browsers and people add to
// a name: what begins or ends with that of one table, as add_ons (1) does, is
// that table.
func tableNamed(name string) string {
	name = strings.ToLower(strings.TrimSpace(name))
	of := ""
	for _, table := range Tables() {
		switch {
		case name == table:
			return table
		case !about(name, table):
		case of != "":
			return "" // it is about two
		default:
			of = table
		}
	}
	return of
}

// about reports whether a name begins or ends with a word.
func about(name, word string) bool {
	letter := func(c byte) bool { return 'a' <= c && c <= 'z' }
	after, begins := strings.CutPrefix(name, word)
	before, ends := strings.CutSuffix(name, word)
	return begins && after != "" && !letter(after[0]) || ends && before != "" && !letter(before[len(before)-1])
}
