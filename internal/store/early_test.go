package store

import (
	"context"
	"database/sql"
	"os"
	"path/filepath"
	"slices"
	"testing"
)

// early returns a folder with a store as it was before the program had its
// name: the file, the mark in it and the schema.
func early(t *testing.T, name string) (dir string) {
	t.Helper()
	dir = firstRelease(t)
	db, err := sql.Open("sqlite", writerName(filepath.Join(dir, FileName)))
	if err != nil {
		t.Fatal(err)
	}
	if _, err := db.Exec(`UPDATE shop SET name = ?`, name); err != nil {
		t.Fatal(err)
	}
	if err := db.Close(); err != nil {
		t.Fatal(err)
	}
	if err := os.Rename(filepath.Join(dir, FileName), filepath.Join(dir, earlyName)); err != nil {
		t.Fatal(err)
	}
	return dir
}

func TestTakesOverAStoreUnderTheEarlyName(t *testing.T) {
	t.Parallel()
	dir := early(t, "of old")
	wantName(t, dir, "of old")
	if got, want := files(t, dir), []string{FileName, FileName + beforeUpgrade + "11"}; !slices.Equal(got, want) {
		t.Errorf("the folder holds %v, want %v", got, want)
	}
	var id int
	db, err := sql.Open("sqlite", visitorName(filepath.Join(dir, FileName)))
	if err != nil {
		t.Fatal(err)
	}
	defer db.Close()
	if err := db.QueryRow(`PRAGMA application_id`).Scan(&id); err != nil || id != applicationID {
		t.Errorf("the store is marked %#x, %v", id, err)
	}
}

// What an earlier program was killed over is still in the log beside the file.
func TestTakesTheLogOverToo(t *testing.T) {
	t.Parallel()
	dir := early(t, "before")
	db, err := sql.Open("sqlite", writerName(filepath.Join(dir, earlyName)))
	if err != nil {
		t.Fatal(err)
	}
	if _, err := db.Exec(`UPDATE shop SET name = 'in the log'`); err != nil {
		t.Fatal(err)
	}
	killed := t.TempDir()
	for _, ending := range []string{"", "-wal"} {
		data, err := os.ReadFile(filepath.Join(dir, earlyName+ending))
		if err != nil {
			t.Fatal(err)
		}
		if err := os.WriteFile(filepath.Join(killed, earlyName+ending), data, 0o600); err != nil {
			t.Fatal(err)
		}
	}
	_, err = Open(context.Background(), dir)
	wantCode(t, err, InUse)
	if err := db.Close(); err != nil {
		t.Fatal(err)
	}
	wantName(t, killed, "in the log")
	wantName(t, dir, "in the log")
}

func TestAStoreOfTheOwnNameIsNotReplaced(t *testing.T) {
	t.Parallel()
	dir := early(t, "of old")
	mine := shop(t, "mine")
	if err := os.Rename(filepath.Join(mine, FileName), filepath.Join(dir, FileName)); err != nil {
		t.Fatal(err)
	}
	wantName(t, dir, "mine")
	if got, want := files(t, dir), []string{earlyName, FileName}; !slices.Equal(got, want) {
		t.Errorf("the folder holds %v, want %v", got, want)
	}
}
