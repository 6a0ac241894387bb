package sheet

import (
	"slices"
	"strings"

	"kinwain/internal/catalog"
	"kinwain/internal/problem"
)

// Read returns the catalogue that the files hold together. A table of which
// there is no file stays as it is in the current catalogue; where that is nil
// or of a shop without a name, every table is needed. It shares what stays with
// the current one. The error is a problem.List of every fault, whose paths name
// the file, the row as a spreadsheet counts it, the header being row 1, and the
// column.
func Read(files []File, current *catalog.Catalogue) (*catalog.Catalogue, error) {
	return read(sourcesOf(files), current)
}

func sourcesOf(files []File) []source {
	sources := make([]source, len(files))
	for i, f := range files {
		sources[i] = sourceOf(f.Name, func(known []field) (rows, error) { return openGrid(f.Data, namesOf(known)) })
	}
	return sources
}

// sourceOf names a CSV file by its table, and by its own name where that says
// more.
func sourceOf(file string, open func([]field) (rows, error)) source {
	s := source{file, file, tableOf(file), open}
	switch base := baseOf(file); {
	case s.table == "" || !isTable(file):
		s.table = ""
	case strings.EqualFold(base, s.table+extension):
		s.name = s.table + extension
	default:
		s.name = base
	}
	return s
}

func read(sources []source, current *catalog.Catalogue) (*catalog.Catalogue, error) {
	if current != nil && current.Shop.Name == "" {
		current = nil
	}
	r := &reader{current: current, files: map[string]source{}, columns: map[string][]string{}, renamed: map[string]string{}, at: map[string]place{}, sources: map[string][]place{}}
	r.sort(sources)
	c := r.catalogue()
	if !r.unread {
		c = catalog.Carry(r.was(), c)
		r.locateEvidence(c)
		r.check(c)
	}
	if err := r.err(); err != nil {
		return nil, err
	}
	return c, nil
}

// sort finds the file of every table.
func (r *reader) sort(sources []source) {
	for _, f := range sources {
		switch {
		case f.table == "":
			r.whole(f.name, "", problem.UnknownKey, "there is no table of this name; the tables are %s", strings.Join(Tables(), ", "))
		case r.given(f.table):
			r.whole(f.file, f.table, problem.Duplicate, "the table %s is given twice; keep the right one", f.table)
		default:
			r.files[f.table] = f
		}
	}
	for _, name := range Tables() {
		if _, given := r.files[name]; !given && r.current == nil && name != evidenceTable.name {
			r.whole(name+extension, name, problem.Missing, "this table is missing; an export holds all of them, empty ones with their header")
		}
	}
}

// given reports whether a table is to be read. What it lists is else kept.
func (r *reader) given(table string) bool { _, given := r.files[table]; return given }

// catalogue reads every table and puts the rows together.
func (r *reader) catalogue() *catalog.Catalogue {
	c := &catalog.Catalogue{}
	r.shop(c)
	frames := r.frames(c)
	addOns := r.addOns(c)
	units := readList(r, unitTable, &c.Units, r.was().Units, func(u *catalog.Unit) string { return u.Tag })
	r.zones(c, frames)
	r.combined(c, frames)
	r.places(c, frames, addOns)
	r.pairs(c, addOns)
	r.evidence(c, frames, addOns, units)
	return c
}

// was is the current catalogue, an empty one where there is none.
func (r *reader) was() *catalog.Catalogue {
	if r.current == nil {
		return &catalog.Catalogue{}
	}
	return r.current
}

// readList reads the table of a list of things into all, and returns where each
// stands. A table that is no whole list leaves what it does not name.
func readList[T any](r *reader, t table[T], all *[]T, was []T, code func(*T) string) map[string]int {
	index := positions(was, code)
	if !r.given(t.name) {
		*all = slices.Clone(was)
	}
	old := func(_ place, row *T) *T {
		if i, there := index[code(row)]; there {
			return &was[i]
		}
		return nil
	}
	var from []place
	h := readTable(r, t, old, func(p place, row *T) {
		*all, from = append(*all, *row), append(from, p)
	})
	if h != nil && !h.whole() {
		*all, from = laidOver(r, was, *all, from, index, code)
	}
	for i, p := range from {
		if p.row > 0 {
			r.at[problem.Index(t.name, i)] = p
		}
	}
	return positions(*all, code)
}

// laidOver puts rows in the places of what they change.
func laidOver[T any](r *reader, was, rows []T, from []place, index map[string]int, code func(*T) string) ([]T, []place) {
	all, places := slices.Clone(was), make([]place, len(was))
	for i := range rows {
		at := index[code(&rows[i])]
		if first := places[at]; first.row > 0 {
			r.add(from[i], "", problem.Duplicate, "row %d is about %q already; keep one of the two", first.row, code(&rows[i]))
			continue
		}
		all[at], places[at] = rows[i], from[i]
	}
	return all, places
}

// positions returns where the first of every code stands.
func positions[T any](all []T, code func(*T) string) map[string]int {
	index := make(map[string]int, len(all))
	for i := range all {
		if _, taken := index[code(&all[i])]; !taken {
			index[code(&all[i])] = i
		}
	}
	return index
}

func (r *reader) shop(c *catalog.Catalogue) {
	c.Version, c.Shop = r.was().Version, r.was().Shop
	first := 0
	readTable(r, shopTable, func(place, *shopRow) *shopRow { return &shopRow{c.Version, c.Shop} }, func(p place, row *shopRow) {
		if first > 0 {
			r.add(p, "", problem.Duplicate, "there is one shop, in row %d; remove this row", first)
			return
		}
		first, c.Version, c.Shop = p.row, row.Version, row.Shop
		r.at[""], r.at["shop"] = p, p
	})
	if r.given(shopTable.name) && first == 0 && !r.unread {
		r.whole(r.files[shopTable.name].name, shopTable.name, problem.Missing, "the row of the shop is missing below the header")
	}
}

// frames reads the frames, with those of their parts that are kept.
func (r *reader) frames(c *catalog.Catalogue) map[string]int {
	was := r.was()
	index := readList(r, frameTable, &c.Frames, was.Frames, func(f *catalog.Frame) string { return f.Code })
	old := positions(was.Frames, func(f *catalog.Frame) string { return f.Code })
	for i := range c.Frames {
		f, parts := &c.Frames[i], catalog.Frame{}
		if at, there := old[f.Code]; there {
			parts = was.Frames[at]
		}
		f.Zones, f.Combined, f.Places = kept(r, "zones", parts.Zones), kept(r, "combined", parts.Combined), kept(r, "places", parts.Places)
	}
	return index
}

func (r *reader) addOns(c *catalog.Catalogue) map[string]int {
	was := r.was()
	index := readList(r, addOnTable, &c.AddOns, was.AddOns, func(a *catalog.AddOn) string { return a.Code })
	old := positions(was.AddOns, func(a *catalog.AddOn) string { return a.Code })
	for i := range c.AddOns {
		a := &c.AddOns[i]
		a.Places, a.OnFrame = nil, nil
		if at, there := old[a.Code]; there {
			a.Places = kept(r, "places", was.AddOns[at].Places)
			if !r.given("on_frame") {
				a.OnFrame = was.AddOns[at].OnFrame
			}
		}
	}
	return index
}

// kept returns the parts of something where their table is not given.
func kept[P any](r *reader, table string, parts []P) []P {
	if r.given(table) {
		return nil
	}
	return parts
}

func (r *reader) zones(c *catalog.Catalogue, frames map[string]int) {
	readTable(r, zoneTable, func(_ place, z *zoneRow) *zoneRow {
		if f := r.was().Frame(z.frame); f != nil {
			if i := slices.IndexFunc(f.Zones, func(old catalog.Zone) bool { return old.Code == z.Code }); i >= 0 {
				return &zoneRow{z.frame, f.Zones[i]}
			}
		}
		return nil
	}, func(p place, z *zoneRow) {
		if i, f := owner(r, p, "frame", z.frame, frames, c.Frames); f != nil {
			r.at[problem.Index(part("frames", i, "zones"), len(f.Zones))] = p
			f.Zones = append(f.Zones, z.Zone)
		}
	})
}

func (r *reader) combined(c *catalog.Catalogue, frames map[string]int) {
	readTable(r, combinedTable, nothing, func(p place, row *combinedRow) {
		if i, f := owner(r, p, "frame", row.frame, frames, c.Frames); f != nil {
			r.at[problem.Index(part("frames", i, "combined"), len(f.Combined))] = p
			f.Combined = append(f.Combined, row.Combined)
		}
	})
}

// nothing is what a row of a table stands in place of, of which every column is
// a key.
func nothing[R any](place, *R) *R { return nil }

func (r *reader) places(c *catalog.Catalogue, frames, addOns map[string]int) {
	places := &placesBefore{r: r, seen: map[holder]int{}}
	h := readTable(r, placeTable, places.old, func(p place, row *placeRow) {
		switch {
		case row.frame != "" && row.addOn != "":
			r.add(p, "add_on", problem.Conflict, "a place belongs to a frame or to an add-on; leave one of the two empty")
		case row.addOn != "":
			if i, a := owner(r, p, "add_on", row.addOn, addOns, c.AddOns); a != nil {
				r.at[problem.Index(part("add_ons", i, "places"), len(a.Places))] = p
				a.Places = append(a.Places, row.Place)
			}
		default:
			if i, f := owner(r, p, "frame", row.frame, frames, c.Frames); f != nil {
				r.at[problem.Index(part("frames", i, "places"), len(f.Places))] = p
				f.Places = append(f.Places, row.Place)
			}
		}
	})
	if h != nil {
		places.end(place{placeTable.name, r.files[placeTable.name].name, 1})
	}
}

func (r *reader) pairs(c *catalog.Catalogue, addOns map[string]int) {
	readTable(r, pairTable, func(_ place, row *pairRow) *pairRow {
		if a := r.was().AddOn(row.addOn); a != nil {
			if pair, there := a.OnFrame[row.frame]; there {
				return &pairRow{row.addOn, row.frame, pair}
			}
		}
		return nil
	}, func(p place, row *pairRow) {
		i, a := owner(r, p, "add_on", row.addOn, addOns, c.AddOns)
		if a == nil {
			return
		}
		at := problem.Join(part("add_ons", i, "on_frame"), row.frame)
		_, twice := a.OnFrame[row.frame]
		switch {
		case row.frame == "":
			r.add(p, "frame", problem.Missing, "name the frame on which the add-on differs")
		case twice:
			r.add(p, "frame", problem.Duplicate, "row %d says already what differs for %q on %q", r.at[at].row, a.Code, row.frame)
		default:
			if a.OnFrame == nil {
				a.OnFrame = map[string]catalog.Pair{}
			}
			a.OnFrame[row.frame] = row.Pair
			r.at[at] = p
		}
	})
}

// evidence reads where figures come from. Without its table nothing is said of
// that.
func (r *reader) evidence(c *catalog.Catalogue, frames, addOns, units map[string]int) {
	for _, list := range catalog.Lists {
		for _, thing := range c.Things(list) {
			if all := catalog.EvidenceOf(thing.Of); all != nil {
				if *all = nil; r.given(evidenceTable.name) {
					*all = []catalog.Evidence{}
				}
			}
		}
	}
	readTable(r, evidenceTable, r.sourceBefore, func(p place, row *evidenceRow) {
		if row.frame != "" && row.addOn+row.unit != "" || row.addOn != "" && row.unit != "" {
			r.add(p, "figure", problem.Conflict, "a figure is of a frame, an add-on or a unit; leave the other two empty")
			return
		}
		switch {
		case row.addOn != "":
			if i, a := owner(r, p, "add_on", row.addOn, addOns, c.AddOns); a != nil {
				r.proves(p, problem.Index("add_ons", i), &a.Evidence, row)
			}
		case row.unit != "":
			if i, u := owner(r, p, "unit", row.unit, units, c.Units); u != nil {
				r.proves(p, problem.Index("units", i), &u.Evidence, row)
			}
		default:
			if i, f := owner(r, p, "frame", row.frame, frames, c.Frames); f != nil {
				r.proves(p, problem.Index("frames", i), &f.Evidence, row)
			}
		}
	})
}

// proves adds a row to the evidence of the thing at a path.
func (r *reader) proves(p place, thing string, all *[]catalog.Evidence, row *evidenceRow) {
	*all = append(*all, row.Evidence)
	of := thing + " " + row.Figure
	r.sources[of] = append(r.sources[of], p)
}

// sourceBefore returns the row that said the same source before, with what the
// columns that are left out said of it.
func (r *reader) sourceBefore(_ place, row *evidenceRow) *evidenceRow {
	var all []catalog.Evidence
	if f := r.was().Frame(row.frame); f != nil {
		all = f.Evidence
	} else if a := r.was().AddOn(row.addOn); a != nil {
		all = a.Evidence
	} else if i := slices.IndexFunc(r.was().Units, func(u catalog.Unit) bool { return u.Tag == row.unit }); i >= 0 {
		all = r.was().Units[i].Evidence
	}
	e := catalog.Source(all, row.Figure)
	if e == nil || e.Kind != row.Kind || e.On != row.On {
		return nil
	}
	return &evidenceRow{row.frame, row.addOn, row.unit, *e}
}

// part is the path of one list of a frame or an add-on.
func part(list string, i int, of string) string { return problem.Join(problem.Index(list, i), of) }

// owner finds what a row belongs to.
func owner[T any](r *reader, p place, column, code string, index map[string]int, all []T) (int, *T) {
	i, found := index[code]
	switch {
	case code == "":
		r.add(p, column, problem.Missing, "name what this row belongs to")
		return 0, nil
	case !found:
		if !r.unread { // or else it may stand in the table that could not be read
			r.add(p, column, problem.NotFound, "there is no %q in the table %ss", code, column)
		}
		return 0, nil
	}
	return i, &all[i]
}
