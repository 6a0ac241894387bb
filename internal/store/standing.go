package store

import (
	"context"
	"database/sql"
	"errors"
	"fmt"

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
	err := tx.QueryRowContext(ctx, `SELECT frame, document ->> '$.kind', status FROM things WHERE list = 'units' AND code = ?`, tag).Scan(&u.Frame, &u.Kind, &u.Status)
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

const setStatus = `UPDATE things SET document = json_set(document, '$.status', ?), revision = (SELECT revision + 1 FROM shop_state)
	WHERE list = 'units' AND code = ?`

// moveUnit gives a unit another status, where there still is such a unit.
func moveUnit(ctx context.Context, tx *sql.Tx, tag, status string) error {
	return touchUnit(ctx, tx, setStatus, status, tag)
}

// moveUnitFrom does the same where the unit has the one status.
func moveUnitFrom(ctx context.Context, tx *sql.Tx, tag, from, to string) error {
	return touchUnit(ctx, tx, setStatus+` AND status = ?`, to, tag, from)
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
