package store

import (
	"context"
	"database/sql"
	"errors"
	"fmt"
	"time"
)

// Photo is the one picture of a thing.
type Photo struct {
	Alt          string // what is to be seen
	Large, Small []byte // JPEG
	At           time.Time
}

// SavePhoto keeps the photo of a thing in place of the one before.
func (s *Store) SavePhoto(ctx context.Context, t Thing, p Photo) error {
	return s.change(ctx, fmt.Sprintf("keep the photo of %s %q", t.List, t.Code), func(tx *sql.Tx) error {
		_, err := tx.ExecContext(ctx, `INSERT INTO photos (list, code, alt, large, small, at) VALUES (?, ?, ?, ?, ?, ?)
			ON CONFLICT (list, code) DO UPDATE SET alt = excluded.alt, large = excluded.large, small = excluded.small, at = excluded.at`,
			t.List, t.Code, p.Alt, p.Large, p.Small, p.At.UnixMilli())
		return err
	})
}

// DeletePhoto deletes the photo of a thing. That there is none is no error.
func (s *Store) DeletePhoto(ctx context.Context, t Thing) error {
	return s.change(ctx, "delete a photo", func(tx *sql.Tx) error {
		_, err := tx.ExecContext(ctx, `DELETE FROM photos WHERE list = ? AND code = ?`, t.List, t.Code)
		return err
	})
}

// Photo returns the photo of a thing. The error is an *Error with the code
// NotFound where it has none.
func (s *Store) Photo(ctx context.Context, t Thing) (Photo, error) {
	var p Photo
	err := s.readers.QueryRowContext(ctx, `SELECT alt, large, small, at FROM photos WHERE list = ? AND code = ?`, t.List, t.Code).
		Scan(&p.Alt, &p.Large, &p.Small, timeColumn{&p.At})
	if errors.Is(err, sql.ErrNoRows) {
		err = &Error{Code: NotFound, Text: fmt.Sprintf("%s %q has no photo", t.List, t.Code)}
	}
	return p, fault(s.dir, "read a photo", err)
}

// Photos returns what is to be seen on the photos of a list, and when each was
// kept, without the pictures.
func (s *Store) Photos(ctx context.Context, list string) (map[string]Photo, error) {
	photos := map[string]Photo{}
	err := s.view(ctx, "list the photos", func(tx *sql.Tx) error {
		rows, err := tx.QueryContext(ctx, `SELECT code, alt, at FROM photos WHERE list = ?`, list)
		if err != nil {
			return err
		}
		return eachRow(rows, func(scan func(...any) error) error {
			var code string
			var p Photo
			err := scan(&code, &p.Alt, timeColumn{&p.At})
			photos[code] = p
			return err
		})
	})
	return photos, err
}
