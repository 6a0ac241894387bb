package store

import (
	"context"
	"database/sql"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"runtime"
	"strconv"
	"strings"
)

// beforeRestore is added to the name of a store that another one replaced.
const beforeRestore = ".before-restore"

// Backup copies the store, as it is at this moment and while others go on
// using it, to a new file that its owner alone can read, opens that file, looks
// through it for damage, and returns what it holds. The error is an *Error with
// the code Conflict where there is such a file already, Unwritable or Full
// where it cannot be written, and Corrupt where it is not whole; no file is
// left then.
func (s *Store) Backup(ctx context.Context, file string) (holds Contents, err error) {
	file, err = filepath.Abs(file)
	if err != nil {
		return nil, fmt.Errorf("back up the store: %w", err)
	}
	f, err := os.OpenFile(file, os.O_CREATE|os.O_EXCL|os.O_WRONLY, 0o600)
	if errors.Is(err, fs.ErrExist) {
		return nil, &Error{Code: Conflict, Text: fmt.Sprintf("there is a file %s already; a backup is a new file", file)}
	}
	if err != nil {
		return nil, unwritable(filepath.Dir(file), err)
	}
	defer func() {
		if err != nil {
			err = errors.Join(err, os.Remove(file))
		}
	}()
	if err := f.Close(); err != nil {
		return nil, unwritable(filepath.Dir(file), err)
	}
	if err := copyTo(ctx, s.readers, file); err != nil {
		dir := s.dir
		if code := reported(err); code == Unwritable || code == Full {
			dir = filepath.Dir(file) // where it goes, not where it comes from
		}
		return nil, fault(dir, "back up the store to "+file, err)
	}
	return Verify(ctx, file)
}

// copyTo writes a compact copy of a database into an empty file and makes
// sure that it is on the disk.
func copyTo(ctx context.Context, db *sql.DB, file string) error {
	if _, err := db.ExecContext(ctx, `VACUUM INTO ?`, file); err != nil {
		return err
	}
	return syncFile(file)
}

// Restore puts the store that was backed up to a file into a data folder,
// after checking that it is whole. A store that is there already is kept
// beside it, as kinwain.db.before-restore, in place of one kept earlier. The
// error is an *Error with the code NotFound where there is no such file,
// Corrupt or NewerVersion where it cannot be used, Conflict where it is the
// store itself, InUse where the store in the folder is open, and Unwritable or
// Full. The folder is then as it was, but for Unwritable, after which the
// former store may go by its second name.
func Restore(ctx context.Context, file, dir string) (err error) {
	file, err = filepath.Abs(file)
	if err != nil {
		return fmt.Errorf("restore the store: %w", err)
	}
	if same(file, filepath.Join(dir, FileName)) {
		return &Error{Code: Conflict, Text: fmt.Sprintf("%s is the store itself, not a backup of it", file)}
	}
	if _, err := Verify(ctx, file); err != nil {
		return err
	}
	dir, err = filepath.Abs(dir)
	if err != nil {
		return fmt.Errorf("restore the store: %w", err)
	}
	if err := os.MkdirAll(dir, 0o700); err != nil {
		return unwritable(dir, err)
	}
	claim, err := claimFolder(dir)
	if err != nil {
		return err
	}
	defer func() { err = errors.Join(err, claim.Close()) }()
	fresh, err := copyBeside(ctx, file, dir)
	if err != nil {
		return err
	}
	defer func() {
		if gone := os.Remove(fresh); gone != nil && !errors.Is(gone, fs.ErrNotExist) {
			err = errors.Join(err, gone)
		}
	}()
	path := filepath.Join(dir, FileName)
	if err := keepFormer(ctx, path); err != nil {
		return err
	}
	if err := os.Rename(fresh, path); err != nil {
		return unwritable(dir, err)
	}
	return syncFolder(dir)
}

// same reports whether two paths lead to one file.
func same(a, b string) bool {
	one, errOne := os.Stat(a)
	other, errOther := os.Stat(b)
	return errOne == nil && errOther == nil && os.SameFile(one, other)
}

// Verify makes sure that a file is a whole store that this program knows, and
// returns what it holds. The error is as that of Restore.
func Verify(ctx context.Context, file string) (holds Contents, err error) {
	if _, err := os.Stat(file); err != nil {
		return nil, &Error{NotFound, fmt.Sprintf("there is no backup %s", file), err}
	}
	version, err := inspect(ctx, file)
	if CodeOf(err) == Unwritable {
		return nil, &Error{NotFound, fmt.Sprintf("the backup %s cannot be read", file), err}
	}
	if err != nil {
		return nil, fmt.Errorf("the backup %s: %w", file, err)
	}
	if version == 0 {
		return nil, &Error{Code: Corrupt, Text: fmt.Sprintf("there is no store in %s", file)}
	}
	db, err := sql.Open("sqlite", visitorName(file))
	if err != nil {
		return nil, fmt.Errorf("open %s: %w", file, err)
	}
	defer func() { err = errors.Join(err, db.Close()) }()
	var integrity string
	var strays int
	err = db.QueryRowContext(ctx, `SELECT (SELECT integrity_check FROM pragma_integrity_check LIMIT 1),
		(SELECT count(*) FROM pragma_foreign_key_check)`).Scan(&integrity, &strays)
	if err != nil {
		return nil, fault(filepath.Dir(file), "check "+file, err)
	}
	if strays > 0 {
		integrity = fmt.Sprintf("%d rows have lost what they belong to", strays)
	}
	if integrity != "ok" {
		return nil, damaged(file, integrity)
	}
	holds, err = contents(ctx, db)
	return holds, fault(filepath.Dir(file), "count what is in "+file, err)
}

// beforeUpgrade is added, with the version that it has, to the name of a copy of
// a store that was of an earlier version.
const beforeUpgrade = ".before-upgrade-"

// keepBeforeUpgrade copies a store beside itself where its schema has another
// version than this program's: an earlier program can go on with the copy,
// never with what became of the store.
func keepBeforeUpgrade(ctx context.Context, path string, version int64) error {
	newest, err := Schema()
	if err != nil || version == 0 || version == newest {
		return err
	}
	dir := filepath.Dir(path)
	fresh, err := copyBeside(ctx, path, dir)
	if err != nil {
		return fmt.Errorf("keep a copy before the upgrade: %w", err)
	}
	// Another program may have brought the schema up to date since.
	if copied, err := inspect(ctx, fresh); err != nil || copied != version {
		return errors.Join(err, os.Remove(fresh))
	}
	if err := os.Rename(fresh, path+beforeUpgrade+strconv.FormatInt(version, 10)); err != nil {
		return errors.Join(unwritable(dir, err), os.Remove(fresh))
	}
	return syncFolder(dir)
}

// beingCopied begins the names of copies that are not whole yet.
const beingCopied = "copy-"

// IsCopy reports whether a file of the data folder is a copy that a restore or
// an upgrade has left there.
func IsCopy(name string) bool {
	return strings.HasPrefix(name, FileName+beforeRestore) || strings.HasPrefix(name, FileName+beforeUpgrade) ||
		strings.HasPrefix(name, beingCopied) && filepath.Ext(name) == ".db"
}

// copyBeside copies a store to a new file in the folder and returns its path.
func copyBeside(ctx context.Context, file, dir string) (fresh string, err error) {
	f, err := os.CreateTemp(dir, beingCopied+"*.db")
	if err != nil {
		return "", unwritable(dir, err)
	}
	defer func() {
		if err != nil {
			err = errors.Join(err, os.Remove(f.Name()))
		}
	}()
	if err := f.Close(); err != nil {
		return "", unwritable(dir, err)
	}
	db, err := sql.Open("sqlite", visitorName(file))
	if err != nil {
		return "", fmt.Errorf("open %s: %w", file, err)
	}
	defer func() { err = errors.Join(err, db.Close()) }()
	return f.Name(), fault(dir, "copy "+file, copyTo(ctx, db, f.Name()))
}

// keepFormer gives the store at the path, if there is one, its second name.
// The first stays where the file system allows it, so that the folder is
// never without a store.
func keepFormer(ctx context.Context, path string) error {
	dir, kept := filepath.Dir(path), path+beforeRestore
	if _, err := os.Stat(path); errors.Is(err, fs.ErrNotExist) {
		return nil
	}
	if err := release(ctx, path); err != nil {
		return fault(dir, "replace the store", err)
	}
	for _, old := range [...]string{kept, kept + "-wal"} {
		if err := os.Remove(old); err != nil && !errors.Is(err, fs.ErrNotExist) {
			return unwritable(dir, err)
		}
	}
	if os.Link(path, kept) != nil {
		if err := os.Rename(path, kept); err != nil {
			return unwritable(dir, err)
		}
	}
	// Only a damaged store still has these: without them it has lost more,
	// and to the new store they would do damage.
	if err := os.Rename(path+"-wal", kept+"-wal"); err != nil && !errors.Is(err, fs.ErrNotExist) {
		return unwritable(dir, err)
	}
	if err := os.Remove(path + "-shm"); err != nil && !errors.Is(err, fs.ErrNotExist) {
		return unwritable(dir, err)
	}
	return nil
}

// release moves all of a store into its one file. Leaving the write-ahead log
// is something that SQLite allows only to the last one who has the file open,
// so it also tells whether anybody else has. A damaged store is left alone.
func release(ctx context.Context, path string) (err error) {
	db, err := sql.Open("sqlite", fileURI(path)+"?mode=rw&_pragma=busy_timeout(500)")
	if err != nil {
		return err
	}
	defer func() { err = errors.Join(err, db.Close()) }()
	var mode string
	err = db.QueryRowContext(ctx, `PRAGMA journal_mode = DELETE`).Scan(&mode)
	if reported(err) == Corrupt {
		return nil
	}
	return err
}

func syncFile(name string) error {
	f, err := os.OpenFile(name, os.O_WRONLY, 0)
	if err != nil {
		return err
	}
	return errors.Join(f.Sync(), f.Close())
}

// syncFolder makes sure that a change of names is on the disk. Windows does
// that by itself and cannot be asked to.
func syncFolder(dir string) error {
	if runtime.GOOS == "windows" {
		return nil
	}
	f, err := os.Open(dir)
	if err != nil {
		return err
	}
	return errors.Join(f.Sync(), f.Close())
}
