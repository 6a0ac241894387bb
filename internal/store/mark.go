package store

import (
	"context"
	"database/sql"
	"errors"
	"fmt"
	"slices"
	"time"
)

// Mark says that something the shop has changed concerns a consultation, or a
// fit summary, a quote or a ride of it, until somebody has seen it or the
// change is undone.
type Mark struct {
	ID           int64 // the later the mark, the greater
	Consultation string
	Quote, Ride  string    // whose mark it is; empty: of neither
	Frame        string    // its code
	Text         string    // what has changed, in words
	Worse        bool      // for the customer
	Created      time.Time // UTC, to the millisecond
}

const (
	insertMark  = `INSERT INTO marks (consultation, judging, frame, text, worse, created) VALUES (?, ?, ?, ?, ?, ?)`
	selectMarks = `SELECT m.id, m.consultation, coalesce(j.quote, ''), coalesce(j.ride, ''), m.frame, m.text, m.worse, m.created
		FROM marks AS m LEFT JOIN judgings AS j ON j.id = m.judging WHERE m.consultation = ? OR ? = '' ORDER BY m.id`
	selectMarksOf = `SELECT id, frame, text FROM marks WHERE judging = ?`
	deleteMark    = `DELETE FROM marks WHERE id = ?`
	deleteMarks   = `DELETE FROM marks WHERE consultation = ? AND id <= ?`

	// What somebody has seen is what was told from now on. Where it changed again
	// before they saw it, that is what was said until then.
	seenBefore = `UPDATE judgings SET base = since, round = round + 1 WHERE consultation = ? AND since IS NOT NULL AND base <> since
		AND NOT EXISTS (SELECT 1 FROM marks WHERE judging = judgings.id)`
	seenAll = `DELETE FROM judgings WHERE consultation = ? AND since IS NULL AND NOT EXISTS (SELECT 1 FROM marks WHERE judging = judgings.id)`

	selectLiveFit = `SELECT id, consultation, frame, document, NULL, created, expires, opened FROM fit_summaries
		WHERE id = ? AND revoked IS NULL AND expires > ?`
)

// replaceMarks puts the marks of a judging in place of those that it had. One
// that says the same stays the one that it was.
func replaceMarks(ctx context.Context, tx *sql.Tx, j Judging, marks []Mark) error {
	rows, err := tx.QueryContext(ctx, selectMarksOf, j.ID)
	if err != nil {
		return err
	}
	left := slices.Clone(marks)
	var gone []int64
	err = eachRow(rows, func(scan func(...any) error) error {
		var old Mark
		err := scan(&old.ID, &old.Frame, &old.Text)
		at := slices.IndexFunc(left, func(m Mark) bool { return m.Frame == old.Frame && m.Text == old.Text })
		if at < 0 {
			gone = append(gone, old.ID)
		} else {
			left = slices.Delete(left, at, at+1)
		}
		return err
	})
	if err != nil {
		return err
	}
	for _, id := range gone {
		if _, err := tx.ExecContext(ctx, deleteMark, id); err != nil {
			return err
		}
	}
	for _, m := range left {
		if _, err := tx.ExecContext(ctx, insertMark, j.Consultation, j.ID, m.Frame, m.Text, m.Worse, m.Created.UnixMilli()); err != nil {
			return err
		}
	}
	return nil
}

// Marks returns the marks of a consultation, or of all where it is empty, the
// oldest first.
func (s *Store) Marks(ctx context.Context, consultation string) ([]Mark, error) {
	marks := []Mark{}
	err := s.list(ctx, "list the marks", selectMarks, func(scan func(...any) error) error {
		var m Mark
		err := scan(&m.ID, &m.Consultation, &m.Quote, &m.Ride, &m.Frame, &m.Text, &m.Worse, timeColumn{&m.Created})
		marks = append(marks, m)
		return err
	}, consultation, consultation)
	return marks, err
}

// DismissMarks deletes the marks of a consultation up to an ID: what came
// later has not been seen. That there is none is no error.
func (s *Store) DismissMarks(ctx context.Context, consultation string, upTo int64) error {
	return s.change(ctx, fmt.Sprintf("dismiss the marks of %q", consultation), func(tx *sql.Tx) error {
		if _, err := tx.ExecContext(ctx, deleteMarks, consultation, upTo); err != nil {
			return err
		}
		for _, statement := range [...]string{seenBefore, seenAll} {
			if _, err := tx.ExecContext(ctx, statement, consultation); err != nil {
				return err
			}
		}
		_, err := tx.ExecContext(ctx, pruneTold)
		return err
	})
}

// LiveFitSummary returns a summary by its ID. The error is an *Error with the
// code NotFound where its link cannot be opened.
func (s *Store) LiveFitSummary(ctx context.Context, id int64, now time.Time) (FitSummary, error) {
	f, err := scanFit(s.readers.QueryRowContext(ctx, selectLiveFit, id, now.UnixMilli()).Scan)
	if errors.Is(err, sql.ErrNoRows) {
		err = &Error{Code: NotFound, Text: fmt.Sprintf("the fit summary %d cannot be opened", id)}
	}
	return f, fault(s.dir, "read a fit summary", err)
}

// list calls row for every row of a query.
func (s *Store) list(ctx context.Context, doing, query string, row func(scan func(...any) error) error, args ...any) error {
	rows, err := s.readers.QueryContext(ctx, query, args...)
	if err == nil {
		err = eachRow(rows, row)
	}
	return fault(s.dir, doing, err)
}
