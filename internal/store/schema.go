package store

import (
	"context"
	"database/sql"
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"strings"

	"github.com/pressly/goose/v3"

	"kinwain/migrations"
)

// applicationID marks a file as a store of this program, "Kinw" in ASCII;
// earlyID did so before the migration that writes it.
const (
	applicationID = 0x4b696e77
	earlyID       = 0x4b696e68
)

// smallestFile is the size of the smallest database, one page of 512 bytes.
// SQLite takes a shorter file for a new database and writes over it.
const smallestFile = 512

// migrate brings the schema up to the newest version. Another program may be
// doing the same: whichever comes second to a migration finds it done, fails,
// and goes on from there.
func migrate(ctx context.Context, db *sql.DB) error {
	p, err := migrator(db)
	if err != nil {
		return fmt.Errorf("read the migrations: %w", err)
	}
	for {
		before, err := p.GetDBVersion(ctx)
		if err != nil {
			return fmt.Errorf("read the version of the store: %w", err)
		}
		_, failed := p.Up(ctx)
		if failed == nil {
			return nil
		}
		after, err := p.GetDBVersion(ctx)
		if err != nil || after == before {
			return fmt.Errorf("migrate the store: %w", failed)
		}
	}
}

func migrator(db *sql.DB) (*goose.Provider, error) {
	return goose.NewProvider(goose.DialectSQLite3, db, migrations.Files,
		goose.WithLogger(goose.NopLogger()), goose.WithDisableGlobalRegistry(true))
}

// Schema returns the version of the schema that this program writes: that
// after every migration.
func Schema() (int64, error) {
	entries, err := migrations.Files.ReadDir(".")
	if err != nil {
		return 0, fmt.Errorf("read the migrations: %w", err)
	}
	var newest int64
	for _, e := range entries {
		version, err := goose.NumericComponent(e.Name())
		if err != nil {
			return 0, fmt.Errorf("read the migrations: %w", err)
		}
		newest = max(newest, version)
	}
	return newest, nil
}

// inspect returns the version of the schema of a file, 0 where there is none
// in it yet, without changing the file. The error is an *Error with the code
// Corrupt where the file is something else than a store or is damaged, and
// NewerVersion where this program does not know its schema.
func inspect(ctx context.Context, path string) (version int64, err error) {
	dir := filepath.Dir(path)
	info, err := os.Stat(path)
	if err != nil {
		return 0, unwritable(dir, err)
	}
	if info.Size() == 0 {
		return 0, nil
	}
	if info.Size() < smallestFile {
		return 0, &Error{Code: Corrupt, Text: fmt.Sprintf("%s is too short to be a store", path)}
	}
	db, err := sql.Open("sqlite", visitorName(path))
	if err != nil {
		return 0, fmt.Errorf("open %s: %w", path, err)
	}
	defer func() { err = errors.Join(err, db.Close()) }()
	if version, err = schemaVersion(ctx, db); err != nil {
		return 0, fault(dir, "read "+path, err)
	}
	newest, err := Schema()
	if err == nil && version > newest {
		err = &Error{Code: NewerVersion, Text: fmt.Sprintf(
			"this store was written by a newer version of Kinwain (schema %d, this program knows %d); start that version, or restore what was kept before the upgrade", version, newest)}
	}
	if err == nil {
		err = quickCheck(ctx, db, path)
	}
	return version, err
}

// quickCheck looks through every page and row of a file for damage. It leaves
// out whether indexes agree with their tables, which takes much longer.
func quickCheck(ctx context.Context, db *sql.DB, path string) error {
	var found string
	if err := db.QueryRowContext(ctx, `PRAGMA quick_check(1)`).Scan(&found); err != nil {
		return fault(filepath.Dir(path), "check "+path, err)
	}
	if found != "ok" {
		return damaged(path, found)
	}
	return nil
}

// damaged says what a check has found in a file.
func damaged(path, found string) error {
	return &Error{Code: Corrupt, Text: fmt.Sprintf("%s is damaged: %s", path, strings.Join(strings.Fields(found), " "))}
}

// schemaVersion returns the version of the schema, 0 where the first
// migration has not been run. Tables of anybody else make it an *Error with
// the code Corrupt.
func schemaVersion(ctx context.Context, db *sql.DB) (int64, error) {
	var id, ours, others int64
	err := db.QueryRowContext(ctx, `SELECT (SELECT application_id FROM pragma_application_id),
		count(*) FILTER (WHERE name = 'goose_db_version'),
		count(*) FILTER (WHERE name NOT IN ('goose_db_version', 'sqlite_sequence'))
		FROM sqlite_schema`).Scan(&id, &ours, &others)
	if err != nil {
		return 0, err
	}
	if id != applicationID && id != earlyID && (id != 0 || others > 0) {
		return 0, &Error{Code: Corrupt, Text: "this is a database of another program, not a store of Kinwain"}
	}
	if ours == 0 {
		return 0, nil
	}
	var version int64
	err = db.QueryRowContext(ctx, `SELECT coalesce(max(version_id), 0) FROM goose_db_version WHERE is_applied`).Scan(&version)
	return version, err
}
