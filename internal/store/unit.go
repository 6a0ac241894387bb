package store

import (
	"database/sql/driver"
	"fmt"

	"kinwain/internal/catalog"
	"kinwain/internal/measure"
)

var units = kind[catalog.Unit]{
	table: table{"units", 1, `position, tag, frame, kind, colour, status, weighed_g, weighed_on, odometer_km`},
	key:   func(u *catalog.Unit) *string { return &u.Tag },
	fields: func(u *catalog.Unit) []any {
		return []any{&u.Tag, &u.Frame, &u.Kind, &u.Colour, &u.Status, &u.Weighed, dateColumn{&u.WeighedOn}, &u.Odometer}
	},
	parts: []part[catalog.Unit]{
		words(table{name: "unit_fitted", columns: `unit, position, add_on`},
			func(u *catalog.Unit) *[]string { return &u.Fitted }),
	},
}

// dateColumn is a date held as text, the way documents write it.
type dateColumn struct{ date *measure.Date }

// Value returns the text of the date.
func (d dateColumn) Value() (driver.Value, error) { return d.date.String(), nil }

// Scan reads the date from its text.
func (d dateColumn) Scan(column any) error {
	text, ok := column.(string)
	if !ok {
		return fmt.Errorf("a date is text, not a %T", column)
	}
	return d.date.UnmarshalText([]byte(text))
}
