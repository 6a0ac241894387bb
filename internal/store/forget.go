package store

import (
	"context"
	"database/sql"
	"errors"
	"fmt"
	"time"

	"kinwain/internal/quote"
)

// EraseConsultation erases a consultation at once with all that hangs on it:
// answers, fit summaries, whose links end, marks, rides and quotes, whose bikes
// are free again. Quotes that were accepted stay, and of the consultation
// nothing but their number and the ID. The pages of the file that held the rest
// are overwritten. The error is an *Error with the code NotFound where there is
// no such consultation, and Conflict while its customer is out on a ride.
func (s *Store) EraseConsultation(ctx context.Context, id string, now time.Time) error {
	err := s.change(ctx, fmt.Sprintf("erase the consultation %q", id), func(tx *sql.Tx) error {
		var there, out bool
		err := tx.QueryRowContext(ctx, `SELECT EXISTS (SELECT 1 FROM consultations WHERE id = ?1 AND erased IS NULL),
			EXISTS (SELECT 1 FROM rides WHERE consultation = ?1 AND status = 'out')`, id).Scan(&there, &out)
		switch {
		case err != nil:
			return err
		case !there:
			return notFound(id, sql.ErrNoRows)
		case out:
			return &Error{Code: Conflict, Text: "a bike is out with this customer"}
		}
		return erase(ctx, tx, id, now)
	})
	if err != nil {
		return err
	}
	s.unemptied.Store(true)
	if err := s.emptyLog(ctx); CodeOf(err) != InUse {
		return err
	}
	return nil // EraseUnused tries again, later
}

// erase deletes what hangs on a consultation, and the rest of it unless
// accepted quotes are left.
func erase(ctx context.Context, tx *sql.Tx, id string, now time.Time) error {
	if err := freeBikes(ctx, tx, `q.consultation = ? AND q.accepted IS NULL`, id); err != nil {
		return err
	}
	for _, statement := range [...]string{
		`DELETE FROM quotes WHERE consultation = ? AND accepted IS NULL`,
		`DELETE FROM rides WHERE consultation = ?`,
		`DELETE FROM fit_summaries WHERE consultation = ?`,
		`DELETE FROM marks WHERE consultation = ?`,
		`DELETE FROM judgings WHERE consultation = ?`,
		`DELETE FROM consultations WHERE id = ? AND NOT EXISTS (SELECT 1 FROM quotes WHERE consultation = consultations.id)`,
	} {
		if _, err := tx.ExecContext(ctx, statement, id); err != nil {
			return err
		}
	}
	_, err := tx.ExecContext(ctx, `UPDATE consultations SET customer = '', answers = x'', erased = ?, updated = ? WHERE id = ?`,
		now.UnixMilli(), now.UnixMilli(), id)
	return err
}

// freeBikes makes the bikes available that are held for quotes which go.
func freeBikes(ctx context.Context, tx *sql.Tx, condition string, args ...any) error {
	rows, err := tx.QueryContext(ctx, `SELECT r.unit FROM reservations AS r JOIN quotes AS q ON q.id = r.quote WHERE `+condition, args...)
	if err != nil {
		return err
	}
	var tags []string
	err = eachRow(rows, func(scan func(...any) error) error {
		var tag string
		err := scan(&tag)
		tags = append(tags, tag)
		return err
	})
	for _, tag := range tags {
		err = errors.Join(err, moveUnitFrom(ctx, tx, tag, quote.Reserved, quote.Available))
	}
	return err
}

// selectUnused are the consultations that nobody has used since a time (?1):
// nothing of them was saved, no link to them opens now (?2), nobody is out on a
// ride or has one to come, and no bike is held on that day (?3).
const selectUnused = `SELECT id FROM consultations AS c WHERE erased IS NULL AND updated < ?1
	AND NOT EXISTS (SELECT 1 FROM rides AS r WHERE r.consultation = c.id AND (r.status = 'out' OR r.updated >= ?1 OR r.ends >= ?1))
	AND NOT EXISTS (SELECT 1 FROM quotes AS q WHERE q.consultation = c.id AND (q.created >= ?1 OR q.accepted >= ?1))
	AND NOT EXISTS (SELECT 1 FROM quotes AS q JOIN reservations AS r ON r.quote = q.id WHERE q.consultation = c.id AND r.until >= ?3)
	AND NOT EXISTS (SELECT 1 FROM fit_summaries AS f WHERE f.consultation = c.id AND (f.created >= ?1 OR f.revoked IS NULL AND f.expires > ?2))`

// EraseUnused erases, as EraseConsultation does, every consultation that nobody
// has used since a time, and every quote that was accepted before another. It
// returns how many of each. Now is in the shop's own time zone. The error is an
// *Error with the code InUse where all are erased, but what was is still to be
// read in the log: then the next call tries to empty it again.
func (s *Store) EraseUnused(ctx context.Context, unusedSince, acceptedBefore, now time.Time) (consultations, quotes int, err error) {
	err = s.change(ctx, "erase what is not used any more", func(tx *sql.Tx) error {
		rows, err := tx.QueryContext(ctx, selectUnused, unusedSince.UnixMilli(), now.UnixMilli(), now.Format(time.DateOnly))
		if err != nil {
			return err
		}
		var unused []string
		err = eachRow(rows, func(scan func(...any) error) error {
			var id string
			err := scan(&id)
			unused = append(unused, id)
			return err
		})
		if err != nil {
			return err
		}
		for _, id := range unused {
			if err := erase(ctx, tx, id, now); err != nil {
				return err
			}
		}
		consultations = len(unused)
		quotes, err = erasePapers(ctx, tx, acceptedBefore)
		return err
	})
	if consultations+quotes > 0 {
		s.unemptied.Store(true)
	}
	return consultations, quotes, errors.Join(err, s.emptyLog(ctx))
}

// erasePapers deletes the quotes that were accepted before a time, and what
// was left of their consultations for them.
func erasePapers(ctx context.Context, tx *sql.Tx, before time.Time) (int, error) {
	if err := freeBikes(ctx, tx, `q.accepted < ?`, before.UnixMilli()); err != nil {
		return 0, err
	}
	done, err := tx.ExecContext(ctx, `DELETE FROM quotes WHERE accepted < ?`, before.UnixMilli())
	if err != nil {
		return 0, err
	}
	if _, err := tx.ExecContext(ctx, `DELETE FROM consultations WHERE erased IS NOT NULL
		AND NOT EXISTS (SELECT 1 FROM quotes WHERE consultation = consultations.id)`); err != nil {
		return 0, err
	}
	n, err := done.RowsAffected()
	return int(n), err
}

// emptyLog moves everything from the log into the file and empties it, where
// something was erased since it was last empty: that would else be read there
// for as long as nobody writes over it. A program that was killed may have left
// such a log.
func (s *Store) emptyLog(ctx context.Context) error {
	if !s.unemptied.Load() {
		return nil
	}
	var busy, pages, moved int
	err := s.writer.QueryRowContext(ctx, `PRAGMA wal_checkpoint(TRUNCATE)`).Scan(&busy, &pages, &moved)
	if err == nil && busy != 0 {
		err = &Error{Code: InUse, Text: "what was erased is still in the log of the store, which somebody is reading"}
	}
	if err == nil {
		s.unemptied.Store(false)
	}
	return fault(s.dir, "empty the log", err)
}

// AcceptQuote keeps when a customer accepted a quote, or that they have not
// where the time is zero. The error is an *Error with the code NotFound where
// there is no such quote, and Conflict where it is handed over: that is taken
// back first.
func (s *Store) AcceptQuote(ctx context.Context, id string, at time.Time) error {
	return s.change(ctx, fmt.Sprintf("accept the quote %q", id), func(tx *sql.Tx) error {
		q, err := readQuote(ctx, tx, id)
		switch {
		case err != nil:
			return err
		case at.IsZero() && !q.HandedOver.IsZero():
			return &Error{Code: Conflict, Text: "all of this quote is handed over"}
		}
		_, err = tx.ExecContext(ctx, `UPDATE quotes SET accepted = ? WHERE id = ?`, maybeTime{&at}, id)
		return err
	})
}
