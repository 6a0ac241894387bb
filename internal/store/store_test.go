package store

import (
	"bytes"
	"context"
	"database/sql"
	"errors"
	"io/fs"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"modernc.org/sqlite"
	sqlite3 "modernc.org/sqlite/lib"

	"kinwain/internal/testfolder"
)

// migrated is a new store without anything in it.
var migrated = testfolder.Once{Make: func(dir string) error {
	s, err := Open(context.Background(), dir)
	if err != nil {
		return err
	}
	return s.Close()
}}

// openHere opens a store in a folder. In an empty one it is a copy of a store
// that is migrated already; where there is no folder it is made from nothing.
func openHere(t testing.TB, dir string) *Store {
	t.Helper()
	if entries, err := os.ReadDir(dir); err == nil && len(entries) == 0 {
		migrated.Fill(t, dir)
	}
	s, err := Open(context.Background(), dir)
	if err != nil {
		t.Fatal(err)
	}
	return s
}

// opened opens a store as openHere does and closes it at the end of the test.
func opened(t testing.TB, dir string) *Store {
	t.Helper()
	s := openHere(t, dir)
	t.Cleanup(func() {
		if err := s.Close(); err != nil {
			t.Error(err)
		}
	})
	return s
}

// openClose opens a store, does something with it and closes it.
func openClose(t testing.TB, dir string, do func(*Store)) {
	t.Helper()
	s := openHere(t, dir)
	do(s)
	if err := s.Close(); err != nil {
		t.Fatal(err)
	}
}

// files returns the names in a folder.
func files(t *testing.T, dir string) []string {
	t.Helper()
	entries, err := os.ReadDir(dir)
	if err != nil {
		t.Fatal(err)
	}
	names := []string{}
	for _, e := range entries {
		names = append(names, e.Name())
	}
	return names
}

func wantCode(t *testing.T, err error, code string) {
	t.Helper()
	if CodeOf(err) != code {
		t.Fatalf("the code is %q, want %q: %v", CodeOf(err), code, err)
	}
	if strings.Contains(err.Error(), "\n") {
		t.Errorf("the error is more than one line: %q", err)
	}
}

func resultCode(err error) int {
	var e *sqlite.Error
	if errors.As(err, &e) {
		return e.Code()
	}
	return 0
}

func TestOpenMakesAPrivateFolderAndLeavesOneFile(t *testing.T) {
	t.Parallel()
	dir := filepath.Join(t.TempDir(), "new", "a b?c#d%20é&_pragma=x")
	openClose(t, dir, func(s *Store) {
		if err := s.SetSettings(t.Context(), map[string]int64{"a": 1}); err != nil {
			t.Error(err)
		}
	})
	if got := files(t, dir); len(got) != 1 || got[0] != FileName {
		t.Errorf("the folder holds %v after Close, want only %s", got, FileName)
	}
	for path, want := range map[string]fs.FileMode{dir: 0o700 | fs.ModeDir, filepath.Join(dir, FileName): 0o600} {
		info, err := os.Stat(path)
		if err != nil {
			t.Fatal(err)
		}
		if info.Mode() != want {
			t.Errorf("the mode of %s is %v, want %v", path, info.Mode(), want)
		}
	}
	openClose(t, dir, func(s *Store) {
		if got, err := s.Settings(t.Context()); err != nil || got["a"] != 1 {
			t.Errorf("Settings after reopening = %v, %v", got, err)
		}
	})
}

func TestEveryConnectionHasTheSettings(t *testing.T) {
	t.Parallel()
	s := opened(t, t.TempDir())
	for _, pool := range []struct {
		name string
		db   *sql.DB
		want map[string]string
	}{
		{"writer", s.writer, map[string]string{"foreign_keys": "1", "busy_timeout": "10000", "journal_mode": "wal", "synchronous": "2", "secure_delete": "1"}},
		{"readers", s.readers, map[string]string{"foreign_keys": "1", "busy_timeout": "10000", "journal_mode": "wal"}},
	} {
		connections := pool.db.Stats().MaxOpenConnections
		for range connections { // all at once, so that each is another one
			conn, err := pool.db.Conn(t.Context())
			if err != nil {
				t.Fatal(err)
			}
			defer conn.Close()
			for pragma, want := range pool.want {
				var got string
				if err := conn.QueryRowContext(t.Context(), "PRAGMA "+pragma).Scan(&got); err != nil || got != want {
					t.Errorf("%s: %s = %q, %v, want %q", pool.name, pragma, got, err, want)
				}
			}
		}
		if pool.name == "writer" && connections != 1 {
			t.Errorf("%d connections write, want 1", connections)
		}
	}
}

func TestReadersCannotWrite(t *testing.T) {
	t.Parallel()
	s := opened(t, t.TempDir())
	for _, statement := range []string{
		`INSERT INTO settings (key, value) VALUES ('a', 1)`,
		`UPDATE shop_state SET revision = 7`,
		`DELETE FROM shop_state`,
		`CREATE TABLE more (a TEXT)`,
		`PRAGMA user_version = 3`,
	} {
		if _, err := s.readers.ExecContext(t.Context(), statement); resultCode(err)&0xff != sqlite3.SQLITE_READONLY {
			t.Errorf("%s: %v, want that it is refused as read-only", statement, err)
		}
	}
}

func TestOpenUnwritable(t *testing.T) {
	t.Parallel()
	file := filepath.Join(t.TempDir(), "file")
	if err := os.WriteFile(file, nil, 0o600); err != nil {
		t.Fatal(err)
	}
	inTheWay := t.TempDir()
	if err := os.Mkdir(filepath.Join(inTheWay, FileName), 0o700); err != nil {
		t.Fatal(err)
	}
	dirs := []string{filepath.Join(file, "data"), file, inTheWay}
	if os.Geteuid() != 0 { // root may write everywhere
		noEntry, readOnly := t.TempDir(), t.TempDir()
		openClose(t, readOnly, func(*Store) {})
		for path, mode := range map[string]fs.FileMode{noEntry: 0o500, filepath.Join(readOnly, FileName): 0o400} {
			if err := os.Chmod(path, mode); err != nil {
				t.Fatal(err)
			}
		}
		dirs = append(dirs, noEntry, readOnly)
	}
	for _, dir := range dirs {
		s, err := Open(t.Context(), dir)
		if err == nil {
			t.Errorf("%s: opened", dir)
			_ = s.Close()
			continue
		}
		wantCode(t, err, Unwritable)
		if !strings.Contains(err.Error(), "the folder "+dir+" cannot be written") {
			t.Errorf("%q does not name the folder", err)
		}
	}
}

func TestOpenSomethingElse(t *testing.T) {
	t.Parallel()
	other := filepath.Join(t.TempDir(), "other.db")
	db, err := sql.Open("sqlite", other)
	if err != nil {
		t.Fatal(err)
	}
	if _, err := db.Exec(`CREATE TABLE recipes (name TEXT); INSERT INTO recipes VALUES ('soup')`); err != nil {
		t.Fatal(err)
	}
	if err := db.Close(); err != nil {
		t.Fatal(err)
	}
	otherDatabase, err := os.ReadFile(other)
	if err != nil {
		t.Fatal(err)
	}
	for name, content := range map[string][]byte{
		"garbage":          []byte(strings.Repeat("this is no database\n", 500)),
		"one byte":         []byte("x"),
		"just too short":   bytes.Repeat([]byte("x"), 511),
		"just long enough": bytes.Repeat([]byte("x"), 512),
		"another database": otherDatabase,
	} {
		t.Run(name, func(t *testing.T) {
			dir := t.TempDir()
			path := filepath.Join(dir, FileName)
			if err := os.WriteFile(path, content, 0o600); err != nil {
				t.Fatal(err)
			}
			_, err := Open(t.Context(), dir)
			wantCode(t, err, Corrupt)
			after, err := os.ReadFile(path)
			if err != nil || string(after) != string(content) {
				t.Errorf("the file was changed: %v", err)
			}
			if got := files(t, dir); len(got) != 1 {
				t.Errorf("the folder holds %v", got)
			}
		})
	}
}

func TestOpenDamaged(t *testing.T) {
	t.Parallel()
	dir := t.TempDir()
	openClose(t, dir, func(s *Store) {
		if err := s.ReplaceCatalogue(t.Context(), rich(t)); err != nil {
			t.Error(err)
		}
	})
	path := filepath.Join(dir, FileName)
	content, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	for i := 4096; i < len(content); i++ { // all but the first page
		content[i] = 0xa5
	}
	if err := os.WriteFile(path, content, 0o600); err != nil {
		t.Fatal(err)
	}
	_, err = Open(t.Context(), dir)
	wantCode(t, err, Corrupt)
}
