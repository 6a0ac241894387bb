// Package store keeps what the shop knows in one SQLite file: the catalogue,
// the consultations, the settings, and who is signed in. It holds the only SQL
// of the program outside the migrations.
//
// Every change is one transaction on the one connection that writes, so that
// it lands whole or not at all and is on the disk when the call returns.
// Readers have connections of their own, see the last whole change, and never
// wait for the writer. Another program may use the same folder at the same
// time.
package store

import (
	"context"
	"database/sql"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"net/url"
	"os"
	"path/filepath"
	"runtime"
	"sync/atomic"
	"time"

	_ "modernc.org/sqlite" // the driver named "sqlite"
)

// FileName is the name of the store within its data folder.
const FileName = "kinwain.db"

// Store is an open store. It is safe for concurrent use. Its methods return
// an *Error where one of the codes applies, and the error of the context
// where that ended the work.
type Store struct {
	dir       string
	writer    *sql.DB // one connection
	readers   *sql.DB // cannot write
	prepared  statements
	catalogue atomic.Pointer[snapshot]
	watcher   watcher
	files     []openFile            // what has to be in its place at every commit
	failed    atomic.Pointer[error] // why the last change could not be written; nil where it was
	unemptied atomic.Bool           // the log may hold what was erased
	claim     io.Closer             // nil where others may open the store, too
}

// statements are those on the paths that every page takes.
type statements struct {
	revision, consultation, recent, session, person, entry *sql.Stmt // on readers
	saveConsultation                                       *sql.Stmt // on writer
}

// Open opens the store in a data folder, taking one under its early name
// over and creating both where they are not there yet, and brings the schema
// up to the newest version; of what stood there before it keeps a copy. The
// error is an *Error with the code Unwritable, Full, NewerVersion, InUse or
// Corrupt, and then nothing of an existing store was changed.
func Open(ctx context.Context, dir string) (*Store, error) {
	if err := takeOver(ctx, dir); err != nil {
		return nil, err
	}
	path, err := prepareFile(dir)
	if err != nil {
		return nil, unwritable(dir, err)
	}
	// SQLite itself does not wait where two wait for each other, as they do
	// when both are the first to open a new file.
	for deadline := time.Now().Add(patience); ; {
		s, err := open(ctx, dir, path)
		if CodeOf(err) != InUse || time.Now().After(deadline) {
			return s, err
		}
		select {
		case <-ctx.Done():
			return nil, ctx.Err()
		case <-time.After(patience / 100):
		}
	}
}

// OpenExisting is Open where there is a store, and creates nothing. Without
// one the error is an *Error with the code NotFound.
func OpenExisting(ctx context.Context, dir string) (*Store, error) {
	if !Exists(dir) {
		return nil, &Error{Code: NotFound, Text: fmt.Sprintf("there is no store in the folder %s; name the folder of the shop with -data", dir)}
	}
	return Open(ctx, dir)
}

// Exists reports whether there is a store in a folder.
func Exists(dir string) bool {
	for _, name := range [...]string{FileName, earlyName} {
		if info, err := os.Stat(filepath.Join(dir, name)); err == nil && info.Size() > 0 {
			return true
		}
	}
	return false
}

// OpenAlone is Open for a program that stays: until the store is closed or the
// program ends, however it ends, nobody else can open it so. Those who only
// come by with Open still can. The error is an *Error with the code InUse
// where somebody has it already.
func OpenAlone(ctx context.Context, dir string) (*Store, error) {
	if err := os.MkdirAll(dir, 0o700); err != nil {
		return nil, unwritable(dir, err)
	}
	claim, err := claimFolder(dir)
	if err != nil {
		return nil, err
	}
	s, err := Open(ctx, dir)
	if err != nil {
		return nil, errors.Join(err, claim.Close())
	}
	s.claim = claim
	return s, nil
}

// patience is how long anybody waits for another program.
const patience = 10 * time.Second

func open(ctx context.Context, dir, path string) (*Store, error) {
	version, err := inspect(ctx, path)
	if err != nil {
		return nil, err
	}
	if err := keepBeforeUpgrade(ctx, path, version); err != nil {
		return nil, err
	}
	s := &Store{dir: dir}
	s.unemptied.Store(true)
	if s.writer, err = sql.Open("sqlite", writerName(path)); err != nil {
		return nil, fmt.Errorf("open the store in %s: %w", dir, err)
	}
	if s.readers, err = sql.Open("sqlite", readerName(path)); err != nil {
		return nil, errors.Join(fmt.Errorf("open the store in %s: %w", dir, err), s.writer.Close())
	}
	s.writer.SetMaxOpenConns(1)
	most := 1 + max(4, runtime.NumCPU()) // one of them watches
	s.readers.SetMaxOpenConns(most)
	s.readers.SetMaxIdleConns(most) // a connection that goes takes its prepared statements along
	if err := s.start(ctx); err != nil {
		return nil, errors.Join(fault(dir, "open the store", err), s.readers.Close(), s.writer.Close())
	}
	return s, nil
}

// prepareFile makes sure that the folder and the file in it exist, readable
// by their owner alone, and returns the absolute path of the file.
func prepareFile(dir string) (string, error) {
	path, err := filepath.Abs(filepath.Join(dir, FileName))
	if err != nil {
		return "", err
	}
	if err := os.MkdirAll(filepath.Dir(path), 0o700); err != nil {
		return "", err
	}
	// An existing file is not opened here: closing it again would drop the
	// locks that this process may hold on it.
	f, err := os.OpenFile(path, os.O_CREATE|os.O_EXCL|os.O_WRONLY, 0o600)
	if errors.Is(err, fs.ErrExist) {
		return path, nil
	}
	if err != nil {
		return "", err
	}
	return path, f.Close()
}

// The settings of a connection are part of its name because database/sql
// opens connections whenever it likes.

func writerName(path string) string {
	return connectionName(path) + "&_pragma=journal_mode(WAL)&_pragma=synchronous(FULL)&_pragma=secure_delete(1)&_txlock=immediate"
}

func readerName(path string) string { return connectionName(path) + "&mode=ro" }

// visitorName is for a look at a file that may be anything, and that stays as
// it is. Whoever cannot write leaves the files of the log behind.
func visitorName(path string) string { return connectionName(path) + "&mode=rw" }

func connectionName(path string) string {
	return fmt.Sprintf("%s?_pragma=busy_timeout(%d)&_pragma=foreign_keys(1)", fileURI(path), patience.Milliseconds())
}

// fileURI names a file to SQLite so that no character of its path is taken
// for the settings after it.
func fileURI(path string) string {
	path = filepath.ToSlash(path)
	if path[0] != '/' { // a drive letter
		path = "/" + path
	}
	return (&url.URL{Scheme: "file", Path: path}).String()
}

// start brings the schema up to date, makes sure that the store can be
// written, and prepares the statements.
func (s *Store) start(ctx context.Context) error {
	if err := migrate(ctx, s.writer); err != nil {
		return err
	}
	// A file that may only be read opens all the same, and so does a
	// transaction on it; only a row that changes tells.
	err := s.change(ctx, "write to the store", func(tx *sql.Tx) error {
		_, err := tx.ExecContext(ctx, `UPDATE shop_state SET revision = revision`)
		return err
	})
	if err != nil {
		return err
	}
	for _, p := range [...]struct {
		into **sql.Stmt
		db   *sql.DB
		text string
	}{
		{&s.prepared.revision, s.readers, `SELECT revision FROM shop_state`},
		{&s.prepared.consultation, s.readers, selectConsultation},
		{&s.prepared.recent, s.readers, selectRecent},
		{&s.prepared.session, s.readers, selectSession},
		{&s.prepared.person, s.readers, personByID},
		{&s.prepared.entry, s.readers, selectEntry},
		{&s.prepared.saveConsultation, s.writer, updateConsultation},
	} {
		if *p.into, err = p.db.PrepareContext(ctx, p.text); err != nil {
			return fmt.Errorf("prepare %q: %w", p.text, err)
		}
	}
	return s.noteFiles()
}

// Close waits for the work in progress, moves all of it into the one file and
// closes the store. It is called once.
func (s *Store) Close() error {
	s.watcher.stop()
	err := s.readers.Close()
	// Closing would do this too, but would not say when it fails.
	_, moved := s.writer.ExecContext(context.Background(), `PRAGMA wal_checkpoint(TRUNCATE)`)
	err = fault(s.dir, "close the store", errors.Join(err, moved, s.writer.Close()))
	if s.claim != nil {
		err = errors.Join(err, s.claim.Close())
	}
	return err
}

// change runs fn in a transaction that nobody else can write beside, and
// commits it where fn succeeds and the store is still where it was opened.
func (s *Store) change(ctx context.Context, doing string, fn func(*sql.Tx) error) error {
	err := fault(s.dir, doing, transact(ctx, s.writer, nil, func(tx *sql.Tx) error {
		if err := fn(tx); err != nil {
			return err
		}
		return s.inPlace()
	}))
	s.noteWrite(err)
	return err
}

// view runs fn in a transaction that sees one state of the store throughout.
func (s *Store) view(ctx context.Context, doing string, fn func(*sql.Tx) error) error {
	return fault(s.dir, doing, transact(ctx, s.readers, &sql.TxOptions{ReadOnly: true}, fn))
}

func transact(ctx context.Context, db *sql.DB, options *sql.TxOptions, fn func(*sql.Tx) error) (err error) {
	tx, err := db.BeginTx(ctx, options)
	if err != nil {
		return err
	}
	defer func() {
		if undo := tx.Rollback(); undo != nil && !errors.Is(undo, sql.ErrTxDone) {
			err = errors.Join(err, undo)
		}
		// The end of the context ends the transaction; what is said of the
		// transaction then says less than the context does.
		if errors.Is(err, sql.ErrTxDone) && ctx.Err() != nil {
			err = ctx.Err()
		}
	}()
	if err := fn(tx); err != nil {
		return err
	}
	return tx.Commit()
}

// each calls row for every row of a query, which scans it with the function
// that it is given.
func each(ctx context.Context, tx *sql.Tx, query string, row func(scan func(...any) error) error) error {
	rows, err := tx.QueryContext(ctx, query)
	if err != nil {
		return err
	}
	return eachRow(rows, row)
}

func eachRow(rows *sql.Rows, row func(scan func(...any) error) error) error {
	var err error
	for err == nil && rows.Next() {
		err = row(rows.Scan)
	}
	if err != nil {
		return errors.Join(err, rows.Close())
	}
	return errors.Join(rows.Err(), rows.Close())
}
