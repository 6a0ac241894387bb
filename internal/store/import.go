package store

import (
	"context"
	"crypto/rand"
	"database/sql"
	"errors"
	"fmt"
	"strings"
	"time"
)

// Import is a catalogue that was uploaded and waits to be confirmed.
type Import struct {
	ID       string    // random, of at least 128 bits
	Name     string    // the files as their owner calls them
	Document []byte    // the catalogue document that would be stored
	Revision int64     // of the catalogue that it was read against
	Expires  time.Time // UTC, to the millisecond
}

// CreateImport keeps a catalogue document until it expires, under an ID that
// nobody can guess. What has expired is deleted.
func (s *Store) CreateImport(ctx context.Context, name string, document []byte, revision int64, now, expires time.Time) (Import, error) {
	i := Import{ID: strings.ToLower(rand.Text()), Name: name, Document: stored(document), Revision: revision, Expires: toMillisecond(expires)}
	err := s.change(ctx, "keep an import", func(tx *sql.Tx) error {
		if _, err := tx.ExecContext(ctx, `DELETE FROM imports WHERE expires <= ?`, now.UnixMilli()); err != nil {
			return err
		}
		_, err := tx.ExecContext(ctx, `INSERT INTO imports (id, name, document, revision, expires) VALUES (?, ?, ?, ?, ?)`,
			i.ID, i.Name, i.Document, i.Revision, i.Expires.UnixMilli())
		return err
	})
	if err != nil {
		return Import{}, err
	}
	return i, nil
}

// Import returns the import of an ID. The error is an *Error with the code
// NotFound where there is none that has not expired.
func (s *Store) Import(ctx context.Context, id string, now time.Time) (Import, error) {
	var i Import
	var expires int64
	err := s.readers.QueryRowContext(ctx, `SELECT id, name, document, revision, expires FROM imports WHERE id = ? AND expires > ?`, id, now.UnixMilli()).
		Scan(&i.ID, &i.Name, &i.Document, &i.Revision, &expires)
	if errors.Is(err, sql.ErrNoRows) {
		err = &Error{Code: NotFound, Text: fmt.Sprintf("there is no import %q", id)}
	}
	if err != nil {
		return Import{}, fault(s.dir, "read an import", err)
	}
	i.Document, i.Expires = stored(i.Document), time.UnixMilli(expires).UTC()
	return i, nil
}

// DeleteImport deletes an import. That there is none is no error.
func (s *Store) DeleteImport(ctx context.Context, id string) error {
	return s.change(ctx, "delete an import", func(tx *sql.Tx) error {
		_, err := tx.ExecContext(ctx, `DELETE FROM imports WHERE id = ?`, id)
		return err
	})
}
