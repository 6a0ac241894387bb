// Package wares reads what a manager types about a frame, an add-on or a unit,
// and writes it for typing. The fields are those of the catalogue's tables,
// and their names the paths of the document.
package wares

import "kinwain/internal/catalog"

// Field and Kind are those of the catalogue.
type (
	Field = catalog.Field
	Kind  = catalog.FieldKind
)

// The kinds of fields.
const (
	Text     = catalog.Text
	Long     = catalog.Long
	Code     = catalog.Code
	Mass     = catalog.Mass
	Length   = catalog.Length
	Signed   = catalog.Signed
	Volume   = catalog.Volume
	Money    = catalog.Money
	Number   = catalog.Number
	Share    = catalog.Share
	Day      = catalog.Day
	Tick     = catalog.Tick
	Maybe    = catalog.Maybe
	Word     = catalog.Word
	Teeth    = catalog.Teeth
	Codes    = catalog.Codes
	OneFrame = catalog.OneFrame
	Frames   = catalog.Frames
	OneZone  = catalog.OneZone
	AddOns   = catalog.AddOns
	Needs    = catalog.Needs
	Box      = catalog.Boxed
	Link     = catalog.Link
	Rows     = catalog.Rows
	PerFrame = catalog.PerFrame
)

// Section is a part of a form under a heading.
type Section struct {
	Title  string
	Lead   string
	Fields []Field
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
