// Package wares reads what a manager types about a frame, an add-on or a unit,
// and writes it for typing. The fields are those of the catalogue's tables,
// and their names the paths of the document.
package wares

import "kinwain/internal/catalog"

// Section is a part of a form under a heading.
type Section struct {
	Title  string
	Lead   string
	Fields []catalog.Field
}

// The lists of the catalogue.
const (
	FrameList = "frames"
	AddOnList = "add_ons"
	UnitList  = "units"
)

// Key returns the name of the field that names a thing of a list.
func Key(list string) string { return catalog.Of(list)[0].Name }

// Table is the form of every list.
var Table = map[string][]Section{FrameList: sections(FrameList), AddOnList: sections(AddOnList), UnitList: sections(UnitList)}

// sections puts the fields of a list under their headings.
func sections(list string) []Section {
	var all []Section
	for _, g := range catalog.Groups(list) {
		s := Section{Title: g.Title, Lead: g.Lead}
		for _, f := range catalog.Of(list) {
			if f.Group == g {
				s.Fields = append(s.Fields, f)
			}
		}
		all = append(all, s)
	}
	return all
}

// Columns are the fields of a list that can be typed for many things one below
// the other.
func Columns(list string) []catalog.Field {
	var all []catalog.Field
	for _, f := range catalog.Of(list) {
		if f.InColumn() {
			all = append(all, f)
		}
	}
	return all
}
