package store

import (
	"context"
	"database/sql"
	"database/sql/driver"
	"errors"
	"fmt"
	"time"

	"kinwain/internal/catalog"
	"kinwain/internal/measure"
	"kinwain/internal/quote"
)

// unitNow is a unit as it stands on a day.
type unitNow struct {
	frame, kind, status string
	held                quote.Reservation // zero where nobody holds it that day
}

// standing reads a unit within a transaction.
func standing(ctx context.Context, tx *sql.Tx, tag string, day measure.Date) (unitNow, error) {
	u := catalog.Unit{Tag: tag}
	err := tx.QueryRowContext(ctx, `SELECT frame, kind, status FROM units WHERE tag = ?`, tag).Scan(&u.Frame, &u.Kind, &u.Status)
	if errors.Is(err, sql.ErrNoRows) {
		return unitNow{}, &Error{Code: NotFound, Text: fmt.Sprintf("there is no unit %q", tag)}
	}
	if err != nil {
		return unitNow{}, err
	}
	all, err := reservations(ctx, tx)
	if err != nil {
		return unitNow{}, err
	}
	now := unitNow{frame: u.Frame, kind: u.Kind, status: quote.Status(&u, all, day)}
	for _, r := range all {
		if r.Unit == tag && r.Holds(day) {
			now.held = r
		}
	}
	return now, nil
}

// moveUnit gives a unit another status, where there still is such a unit.
func moveUnit(ctx context.Context, tx *sql.Tx, tag, status string) error {
	return touchUnit(ctx, tx, `UPDATE units SET status = ? WHERE tag = ?`, status, tag)
}

// moveUnitFrom does the same where the unit has the one status.
func moveUnitFrom(ctx context.Context, tx *sql.Tx, tag, from, to string) error {
	return touchUnit(ctx, tx, `UPDATE units SET status = ? WHERE tag = ? AND status = ?`, to, tag, from)
}

// touchUnit changes a unit, and says so to whoever keeps the catalogue.
func touchUnit(ctx context.Context, tx *sql.Tx, statement string, args ...any) error {
	done, err := tx.ExecContext(ctx, statement, args...)
	if err != nil {
		return err
	}
	if n, err := done.RowsAffected(); err != nil || n == 0 {
		return err
	}
	_, err = tx.ExecContext(ctx, `UPDATE shop_state SET revision = revision + 1`)
	return err
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
