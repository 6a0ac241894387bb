package store

import (
	"context"
	"database/sql"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"strings"
)

// Counted says how much of a kind a store holds.
type Counted struct {
	Kind string // in words: "frames"
	N    int
}

// Contents says what a store holds, kind by kind, always in the same order.
type Contents []Counted

// String lists the counts in words.
func (c Contents) String() string {
	words := make([]string, len(c))
	for i, counted := range c {
		words[i] = fmt.Sprintf("%d %s", counted.N, counted.Kind)
	}
	return strings.Join(words, ", ")
}

// manyOf is how many of a kind have to be missing before their loss is more
// than a few days' work.
const manyOf = 10

// MuchLess reports whether whoever puts c in place of what stands should think
// twice: c is empty and the other is not, or of some kind it has less than
// half, and at least ten fewer.
func (c Contents) MuchLess(stands Contents) bool {
	if c.total() == 0 && stands.total() > 0 {
		return true
	}
	for i := range min(len(c), len(stands)) {
		if lost := stands[i].N - c[i].N; lost >= manyOf && 2*c[i].N < stands[i].N {
			return true
		}
	}
	return false
}

func (c Contents) total() (n int) {
	for _, counted := range c {
		n += counted.N
	}
	return n
}

// kinds says where each kind is counted, the newest schema first: a backup may
// be of an older one.
var kinds = []struct {
	name   string
	places [][2]string // table, condition
}{
	{"frames", [][2]string{{"things", "list = 'frames'"}, {"frames", "TRUE"}}},
	{"add-ons", [][2]string{{"things", "list = 'add_ons'"}, {"add_ons", "TRUE"}}},
	{"bikes", [][2]string{{"things", "list = 'units'"}, {"units", "TRUE"}}},
	{"consultations", [][2]string{{"consultations", "TRUE"}}},
	{"fit summaries", [][2]string{{"fit_summaries", "TRUE"}}},
	{"quotes", [][2]string{{"quotes", "TRUE"}}},
	{"test rides", [][2]string{{"rides", "TRUE"}}},
	{"people", [][2]string{{"people", "TRUE"}}},
	{"photos", [][2]string{{"photos", "TRUE"}}},
	{"photos of sources", [][2]string{{"source_photos", "TRUE"}}},
}

// contents counts what a database of any version holds.
func contents(ctx context.Context, db *sql.DB) (Contents, error) {
	counts := make(Contents, 0, len(kinds))
	for _, kind := range kinds {
		counted := Counted{Kind: kind.name}
		for _, place := range kind.places {
			var there bool
			err := db.QueryRowContext(ctx, `SELECT EXISTS (SELECT 1 FROM sqlite_schema WHERE type = 'table' AND name = ?)`, place[0]).Scan(&there)
			if err != nil {
				return nil, err
			}
			if !there {
				continue
			}
			if err := db.QueryRowContext(ctx, `SELECT count(*) FROM `+place[0]+` WHERE `+place[1]).Scan(&counted.N); err != nil {
				return nil, err
			}
			break
		}
		counts = append(counts, counted)
	}
	return counts, nil
}

// Contents returns what the store holds.
func (s *Store) Contents(ctx context.Context) (Contents, error) {
	counts, err := contents(ctx, s.readers)
	return counts, fault(s.dir, "count what is kept", err)
}

// Standing returns what the store in a folder holds, and nothing where there
// is none. It changes nothing. The error is an *Error with the code Corrupt or
// NewerVersion where that cannot be said.
func Standing(ctx context.Context, dir string) (holds Contents, err error) {
	path, err := filepath.Abs(filepath.Join(dir, FileName))
	if err != nil {
		return nil, fmt.Errorf("look at the store: %w", err)
	}
	if _, err := os.Stat(path); errors.Is(err, fs.ErrNotExist) {
		return nil, nil
	}
	if _, err := inspect(ctx, path); err != nil {
		return nil, err
	}
	db, err := sql.Open("sqlite", visitorName(path))
	if err != nil {
		return nil, fmt.Errorf("open %s: %w", path, err)
	}
	defer func() { err = errors.Join(err, db.Close()) }()
	holds, err = contents(ctx, db)
	return holds, fault(dir, "count what is kept", err)
}
