package store

import (
	"context"
	"database/sql"
	"fmt"
	"time"
)

// Mark says that a change of the catalogue concerns a consultation, until
// somebody has seen it.
type Mark struct {
	ID           int64 // the later the mark, the greater
	Consultation string
	Frame        string    // its code
	Text         string    // what has changed, in words
	Created      time.Time // UTC, to the millisecond
}

const (
	insertMark  = `INSERT INTO marks (consultation, frame, text, created) VALUES (?, ?, ?, ?)`
	selectMarks = `SELECT id, consultation, frame, text, created FROM marks WHERE consultation = ? OR ? = '' ORDER BY id`
	deleteMarks = `DELETE FROM marks WHERE consultation = ? AND id <= ?`
	selectSince = `SELECT id, customer, answers, version, created, updated FROM consultations
		WHERE updated >= ? AND erased IS NULL ORDER BY updated DESC, rowid DESC LIMIT ?`
	selectAllLive = `SELECT id, consultation, frame, document, NULL, created, expires FROM fit_summaries
		WHERE revoked IS NULL AND expires > ? ORDER BY created DESC, id DESC LIMIT ?`
)

// AddMarks keeps marks, all of them or none; their IDs are given here. The
// error is an *Error with the code Conflict where there is no such
// consultation.
func (s *Store) AddMarks(ctx context.Context, marks []Mark) error {
	if len(marks) == 0 {
		return nil
	}
	return s.change(ctx, "mark consultations", func(tx *sql.Tx) error {
		for _, m := range marks {
			if _, err := tx.ExecContext(ctx, insertMark, m.Consultation, m.Frame, m.Text, m.Created.UnixMilli()); err != nil {
				return err
			}
		}
		return nil
	})
}

// Marks returns the marks of a consultation, or of all where it is empty, the
// oldest first.
func (s *Store) Marks(ctx context.Context, consultation string) ([]Mark, error) {
	marks := []Mark{}
	err := s.list(ctx, "list the marks", selectMarks, func(scan func(...any) error) error {
		var m Mark
		var created int64
		err := scan(&m.ID, &m.Consultation, &m.Frame, &m.Text, &created)
		m.Created = time.UnixMilli(created).UTC()
		marks = append(marks, m)
		return err
	}, consultation, consultation)
	return marks, err
}

// DismissMarks deletes the marks of a consultation up to an ID: what came
// later has not been seen. That there is none is no error.
func (s *Store) DismissMarks(ctx context.Context, consultation string, upTo int64) error {
	return s.change(ctx, fmt.Sprintf("dismiss the marks of %q", consultation), func(tx *sql.Tx) error {
		_, err := tx.ExecContext(ctx, deleteMarks, consultation, upTo)
		return err
	})
}

// ConsultationsSince returns at most limit consultations that were saved at a
// time or later, the one that was saved last first.
func (s *Store) ConsultationsSince(ctx context.Context, since time.Time, limit int) ([]Consultation, error) {
	open := []Consultation{}
	err := s.list(ctx, "list the open consultations", selectSince, func(scan func(...any) error) error {
		c, err := scanConsultation(scan)
		open = append(open, c)
		return err
	}, since.UnixMilli(), max(limit, 0))
	return open, err
}

// LiveFitSummaries returns at most limit summaries whose links can be opened,
// of all consultations, the newest first.
func (s *Store) LiveFitSummaries(ctx context.Context, now time.Time, limit int) ([]FitSummary, error) {
	live := []FitSummary{}
	err := s.list(ctx, "list the fit summaries", selectAllLive, func(scan func(...any) error) error {
		f, err := scanFit(scan)
		live = append(live, f)
		return err
	}, now.UnixMilli(), max(limit, 0))
	return live, err
}

// list calls row for every row of a query.
func (s *Store) list(ctx context.Context, doing, query string, row func(scan func(...any) error) error, args ...any) error {
	rows, err := s.readers.QueryContext(ctx, query, args...)
	if err == nil {
		err = eachRow(rows, row)
	}
	return fault(s.dir, doing, err)
}
