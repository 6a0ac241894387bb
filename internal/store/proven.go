package store

import (
	"context"
	"database/sql"
	"errors"
	"time"
)

// ProvenBackup is a backup that was opened and found whole.
type ProvenBackup struct {
	At   time.Time // UTC, to the millisecond; zero where there never was one
	File string    // its path on the shop's computer
}

// NoteProvenBackup remembers the last backup that was opened and found whole.
func (s *Store) NoteProvenBackup(ctx context.Context, b ProvenBackup) error {
	return s.change(ctx, "note a backup", func(tx *sql.Tx) error {
		_, err := tx.ExecContext(ctx, `INSERT INTO proven_backup (id, at, file) VALUES (1, ?, ?)
			ON CONFLICT (id) DO UPDATE SET at = excluded.at, file = excluded.file`, timeColumn{&b.At}, b.File)
		return err
	})
}

// ProvenBackup returns the last backup that was opened and found whole.
func (s *Store) ProvenBackup(ctx context.Context) (ProvenBackup, error) {
	var b ProvenBackup
	err := s.readers.QueryRowContext(ctx, `SELECT at, file FROM proven_backup`).Scan(timeColumn{&b.At}, &b.File)
	if errors.Is(err, sql.ErrNoRows) {
		err = nil
	}
	return b, fault(s.dir, "read when a backup was proven", err)
}
