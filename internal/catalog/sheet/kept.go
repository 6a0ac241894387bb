package sheet

import (
	"fmt"
	"maps"
	"slices"

	"kinwain/internal/catalog"
	"kinwain/internal/problem"
)

// placesBefore finds the place that each row of a table without all columns
// stands for. Places have no names: only where the table has as many for an
// owner as there were, of the same kinds in the same order, is the third row the
// third place. A limit is never guessed.
type placesBefore struct {
	r     *reader
	seen  map[holder]int
	wrong bool // it is told already
}

// holder is what places belong to.
type holder struct{ frame, addOn string }

func (b *placesBefore) old(p place, row *placeRow) *placeRow {
	who := holder{row.frame, row.addOn}
	all, i := b.of(who), b.seen[who]
	if len(all) == 0 {
		return nil
	}
	b.seen[who]++
	if i < len(all) && all[i].Kind == row.Kind {
		return &placeRow{row.frame, row.addOn, all[i]}
	}
	b.untold(p, "which place this was cannot be told")
	return nil
}

// untold says once that columns are needed.
func (b *placesBefore) untold(p place, why string) {
	if !b.wrong {
		b.wrong, b.r.unread = true, true // no limit is missing there
		b.r.add(p, "", problem.Conflict, "columns are left out, and %s; export the table and give all of its columns", why)
	}
}

// of returns the places that there were.
func (b *placesBefore) of(who holder) []catalog.Place {
	if a := b.r.was().AddOn(who.addOn); a != nil {
		return a.Places
	}
	if f := b.r.was().Frame(who.frame); f != nil {
		return f.Places
	}
	return nil
}

// end tells of who has fewer places than before.
func (b *placesBefore) end(p place) {
	for who, n := range b.seen {
		if was := len(b.of(who)); n < was {
			b.untold(p, fmt.Sprintf("%q has %d places instead of %d", who.frame+who.addOn, n, was))
		}
	}
}

// locateKept gives what stays a row, as it has in an export of what there was.
func (r *reader) locateKept() {
	if r.current == nil {
		return
	}
	row := map[string]int{}
	at := func(table, path string) {
		row[table]++
		if _, told := r.at[path]; !told && !r.given(table) {
			r.at[path] = place{table, table + extension + " (kept as it was)", row[table] + 1}
		}
	}
	at("shop", "")
	r.at["shop"] = r.at[""]
	for i := range r.current.Frames {
		f := &r.current.Frames[i]
		at("frames", problem.Index("frames", i))
		for j := range f.Zones {
			at("zones", problem.Index(part("frames", i, "zones"), j))
		}
		for j := range f.Combined {
			at("combined", problem.Index(part("frames", i, "combined"), j))
		}
		for j := range f.Places {
			at("places", problem.Index(part("frames", i, "places"), j))
		}
	}
	for i := range r.current.AddOns {
		a := &r.current.AddOns[i]
		at("add_ons", problem.Index("add_ons", i))
		for j := range a.Places {
			at("places", problem.Index(part("add_ons", i, "places"), j))
		}
		for _, frame := range slices.Sorted(maps.Keys(a.OnFrame)) {
			at("on_frame", problem.Join(part("add_ons", i, "on_frame"), frame))
		}
	}
	for i := range r.current.Units {
		at("units", problem.Index("units", i))
	}
}

// locateEvidence gives what has a source the row that says so, now that all is
// in order.
func (r *reader) locateEvidence(c *catalog.Catalogue) {
	for _, list := range catalog.Lists {
		for i, thing := range c.Things(list) {
			all := catalog.EvidenceOf(thing.Of)
			if all == nil {
				continue
			}
			for j, e := range *all {
				of := problem.Index(list, i) + " " + e.Figure
				if rows := r.sources[of]; len(rows) > 0 {
					r.at[problem.Index(part(list, i, evidenceTable.name), j)], r.sources[of] = rows[0], rows[1:]
				}
			}
		}
	}
}
