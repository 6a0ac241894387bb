package store

import (
	"context"
	"database/sql"
	"database/sql/driver"
	"fmt"
	"strings"
	"time"

	"kinwain/internal/measure"
)

// insert writes one row. The fields, which may be pointers to the values,
// stand in the order of the columns.
func insert(ctx context.Context, tx *sql.Tx, table, columns string, fields []any) error {
	more := strings.Repeat(", ?", strings.Count(columns, ","))
	if _, err := tx.ExecContext(ctx, "INSERT INTO "+table+" ("+columns+") VALUES (?"+more+")", fields...); err != nil {
		return fmt.Errorf("write %s: %w", table, err)
	}
	return nil
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

// maybeDate is a dateColumn in which a zero date is NULL.
type maybeDate struct{ date *measure.Date }

// Value returns the text of the date, or NULL.
func (d maybeDate) Value() (driver.Value, error) {
	if d.date.IsZero() {
		return nil, nil
	}
	return d.date.String(), nil
}

// Scan reads the date from its text, or from NULL.
func (d maybeDate) Scan(column any) error {
	if column == nil {
		*d.date = measure.Date{}
		return nil
	}
	return dateColumn(d).Scan(column)
}

// timeColumn is a time held as milliseconds since 1970-01-01 UTC.
type timeColumn struct{ at *time.Time }

// Value returns the milliseconds.
func (c timeColumn) Value() (driver.Value, error) { return c.at.UnixMilli(), nil }

// Scan reads the time from its milliseconds.
func (c timeColumn) Scan(column any) error {
	n, ok := column.(int64)
	if !ok {
		return fmt.Errorf("a time is a number, not a %T", column)
	}
	*c.at = time.UnixMilli(n).UTC()
	return nil
}

// maybeTime is a timeColumn in which a zero time is NULL.
type maybeTime struct{ at *time.Time }

// Value returns the milliseconds, or NULL.
func (c maybeTime) Value() (driver.Value, error) {
	if c.at.IsZero() {
		return nil, nil
	}
	return c.at.UnixMilli(), nil
}

// Scan reads the time from its milliseconds, or from NULL.
func (c maybeTime) Scan(column any) error {
	if column == nil {
		*c.at = time.Time{}
		return nil
	}
	return timeColumn(c).Scan(column)
}

// lines is a column of texts, a line each.
type lines struct{ list *[]string }

func (c lines) Value() (driver.Value, error) { return strings.Join(*c.list, "\n"), nil }

func (c lines) Scan(value any) error {
	text, ok := value.(string)
	if !ok {
		return fmt.Errorf("a %T is no text", value)
	}
	if *c.list = nil; text != "" {
		*c.list = strings.Split(text, "\n")
	}
	return nil
}
