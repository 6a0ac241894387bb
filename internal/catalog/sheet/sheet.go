// Package sheet writes a catalogue as a folder of CSV files, one for each
// table, for a spreadsheet, and reads such files back.
//
// The tables are shop, frames, zones, combined, places, add_ons, on_frame and
// units; the header of a column is the key that the JSON document has for it.
// A list stands in one cell with blanks between its members (11 13 15), a
// mount with its number as deck_cm:34, and needs as tray|bench where one of
// the two will do. Rows of one owner keep the order of the list that they are.
// An empty cell is what an absent key is. Nothing is lost either way: the
// same catalogue gives the same bytes, and they give the same catalogue.
//
// What is written is RFC 4180 in UTF-8. What is read may come from any
// spreadsheet: commas, semicolons or tabs between cells, a decimal comma,
// columns in any order, empty rows and columns. Thousands are never guessed.
package sheet

import (
	"fmt"
	"maps"
	"slices"
	"strings"

	"kinwain/internal/catalog"
	"kinwain/internal/problem"
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
	return []File{
		shopTable.write([]shopRow{{c.Version, c.Shop}}), frameTable.write(c.Frames), zoneTable.write(zones), combinedTable.write(combined),
		placeTable.write(places), addOnTable.write(c.AddOns), pairTable.write(pairs), unitTable.write(c.Units),
	}
}

// Tables are the names of all tables, in the order in which Write gives them.
func Tables() []string {
	return []string{shopTable.name, frameTable.name, zoneTable.name, combinedTable.name,
		placeTable.name, addOnTable.name, pairTable.name, unitTable.name}
}

// Read returns the catalogue that the files hold together. A table of which
// there is no file stays as it is in the current catalogue; where that is nil
// or of a shop without a name, every table is needed. The error is a problem.List of every fault, whose
// paths name the file, the row as a spreadsheet counts it, the header being
// row 1, and the column.
func Read(files []File, current *catalog.Catalogue) (*catalog.Catalogue, error) {
	r := &reader{files: map[string]source{}, columns: map[string][]string{}, at: map[string]place{}}
	r.sort(files, current)
	c := r.catalogue()
	if !r.unread {
		r.check(c)
	}
	if err := r.err(); err != nil {
		return nil, err
	}
	return c, nil
}

// Kept lists the tables of which none of the files is one.
func Kept(files []File) []string {
	var kept []string
	for _, name := range Tables() {
		if !slices.ContainsFunc(files, func(f File) bool { return tableOf(f.Name) == name }) {
			kept = append(kept, name)
		}
	}
	return kept
}

// tableOf returns the name of the table that a file holds by its own name, in
// whatever folder, and nothing where it is no CSV file.
func tableOf(file string) string {
	base := strings.ToLower(file[strings.LastIndexAny(file, `/\`)+1:])
	name, found := strings.CutSuffix(base, extension)
	if !found {
		return ""
	}
	return name
}

// sort finds the file of every table.
func (r *reader) sort(files []File, current *catalog.Catalogue) {
	for _, f := range files {
		name := tableOf(f.Name)
		_, twice := r.files[name]
		switch {
		case !slices.Contains(Tables(), name):
			r.whole(f.Name, problem.UnknownKey, "there is no table of this name; the tables are %s", strings.Join(Tables(), extension+", ")+extension)
		case twice:
			r.whole(f.Name, problem.Duplicate, "this table is given twice; keep the right one")
		default:
			r.files[name] = source{name + extension, f.Data}
		}
	}
	var kept []File
	if current != nil && current.Shop.Name != "" {
		kept = Write(current)
	}
	for i, name := range Tables() {
		if _, given := r.files[name]; given {
			continue
		}
		if kept == nil {
			r.whole(name+extension, problem.Missing, "this table is missing; an export holds all of them, empty ones with their header")
			continue
		}
		r.files[name] = source{fmt.Sprintf("%s%s (kept as it was)", name, extension), kept[i].Data}
	}
}

// catalogue reads every table and puts the rows together.
func (r *reader) catalogue() *catalog.Catalogue {
	c := &catalog.Catalogue{}
	r.shop(c, readTable(r, shopTable))
	frames, addOns := map[string]int{}, map[string]int{}
	for i, row := range readTable(r, frameTable) {
		c.Frames = append(c.Frames, row.of)
		own(frames, row.of.Code, i)
		r.at[problem.Index("frames", i)] = row.place
	}
	for i, row := range readTable(r, addOnTable) {
		c.AddOns = append(c.AddOns, row.of)
		own(addOns, row.of.Code, i)
		r.at[problem.Index("add_ons", i)] = row.place
	}
	for i, row := range readTable(r, unitTable) {
		c.Units = append(c.Units, row.of)
		r.at[problem.Index("units", i)] = row.place
	}
	for _, row := range readTable(r, zoneTable) {
		if i, f := owner(r, row.place, "frame", row.of.frame, frames, c.Frames); f != nil {
			r.at[problem.Index(part("frames", i, "zones"), len(f.Zones))] = row.place
			f.Zones = append(f.Zones, row.of.Zone)
		}
	}
	for _, row := range readTable(r, combinedTable) {
		if i, f := owner(r, row.place, "frame", row.of.frame, frames, c.Frames); f != nil {
			r.at[problem.Index(part("frames", i, "combined"), len(f.Combined))] = row.place
			f.Combined = append(f.Combined, row.of.Combined)
		}
	}
	r.places(c, frames, addOns)
	r.pairs(c, addOns)
	return c
}

func (r *reader) shop(c *catalog.Catalogue, rows []located[shopRow]) {
	for i, row := range rows {
		if i > 0 {
			r.add(row.place, "", problem.Duplicate, "there is one shop, in row %d; remove this row", rows[0].row)
			continue
		}
		c.Version, c.Shop = row.of.Version, row.of.Shop
		r.at[""], r.at["shop"] = row.place, row.place
	}
	if len(rows) == 0 && !r.unread {
		r.whole(r.files[shopTable.name].name, problem.Missing, "the row of the shop is missing below the header")
	}
}

func (r *reader) places(c *catalog.Catalogue, frames, addOns map[string]int) {
	for _, row := range readTable(r, placeTable) {
		if row.of.frame != "" && row.of.addOn != "" {
			r.add(row.place, "add_on", problem.Conflict, "a place belongs to a frame or to an add-on; leave one of the two empty")
			continue
		}
		if row.of.addOn != "" {
			if i, a := owner(r, row.place, "add_on", row.of.addOn, addOns, c.AddOns); a != nil {
				r.at[problem.Index(part("add_ons", i, "places"), len(a.Places))] = row.place
				a.Places = append(a.Places, row.of.Place)
			}
			continue
		}
		if i, f := owner(r, row.place, "frame", row.of.frame, frames, c.Frames); f != nil {
			r.at[problem.Index(part("frames", i, "places"), len(f.Places))] = row.place
			f.Places = append(f.Places, row.of.Place)
		}
	}
}

func (r *reader) pairs(c *catalog.Catalogue, addOns map[string]int) {
	for _, row := range readTable(r, pairTable) {
		i, a := owner(r, row.place, "add_on", row.of.addOn, addOns, c.AddOns)
		if a == nil {
			continue
		}
		frame := row.of.frame
		_, twice := a.OnFrame[frame]
		switch {
		case frame == "":
			r.add(row.place, "frame", problem.Missing, "name the frame on which the add-on differs")
		case twice:
			r.add(row.place, "frame", problem.Duplicate, "row %d says already what differs for %q on %q", r.at[problem.Join(part("add_ons", i, "on_frame"), frame)].row, a.Code, frame)
		default:
			if a.OnFrame == nil {
				a.OnFrame = map[string]catalog.Pair{}
			}
			a.OnFrame[frame] = row.of.Pair
			r.at[problem.Join(part("add_ons", i, "on_frame"), frame)] = row.place
		}
	}
}

// part is the path of one list of a frame or an add-on.
func part(list string, i int, of string) string { return problem.Join(problem.Index(list, i), of) }

// own makes the first row of a code the owner of what names it.
func own(index map[string]int, code string, i int) {
	if _, taken := index[code]; !taken {
		index[code] = i
	}
}

// owner finds what a row belongs to.
func owner[T any](r *reader, p place, column, code string, index map[string]int, all []T) (int, *T) {
	i, found := index[code]
	switch {
	case code == "":
		r.add(p, column, problem.Missing, "name what this row belongs to")
		return 0, nil
	case !found:
		if !r.unread { // or else it may stand in the table that could not be read
			r.add(p, column, problem.NotFound, "there is no %q in %ss.csv", code, column)
		}
		return 0, nil
	}
	return i, &all[i]
}
