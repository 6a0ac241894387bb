package store

import (
	"context"
	"crypto/sha256"
	"database/sql"
	"encoding/hex"
	"errors"
	"fmt"
	"regexp"
	"slices"
	"time"

	"kinwain/internal/catalog"
)

// SourcePhoto is a photo of where figures come from.
type SourcePhoto struct {
	Name         string // follows from the large picture: the same is kept once
	Large, Small []byte // JPEG
	At           time.Time
}

const (
	// MostSourcePhotos is how many photos of sources are kept at the most.
	MostSourcePhotos = 2000
	// sourcePhotoRest is how long a photo stays that no source names, since it
	// was sent or the history named it last: within it, whatever is undone finds
	// its photo again.
	sourcePhotoRest = 365 * 24 * time.Hour
	// sourcePhotoDraft is how long one stays that no source ever named: it was
	// sent with a form that is not saved yet.
	sourcePhotoDraft = 24 * time.Hour
)

// KeepSourcePhoto keeps a photo of a source and returns its name. The error is
// an *Error with the code TooMany where there are as many as are kept at the most.
func (s *Store) KeepSourcePhoto(ctx context.Context, large, small []byte, now time.Time) (name string, err error) {
	sum := sha256.Sum256(large)
	name = hex.EncodeToString(sum[:16])
	err = s.change(ctx, "keep a photo of a source", func(tx *sql.Tx) error {
		var others int
		if err := tx.QueryRowContext(ctx, `SELECT count(*) FROM source_photos WHERE name <> ?`, name).Scan(&others); err != nil {
			return err
		}
		if others >= MostSourcePhotos {
			return &Error{Code: TooMany, Text: fmt.Sprintf("%d photos of sources are kept already", others)}
		}
		_, err := tx.ExecContext(ctx, `INSERT INTO source_photos (name, large, small, at) VALUES (?, ?, ?, ?)
			ON CONFLICT (name) DO UPDATE SET at = excluded.at`, name, large, small, now.UnixMilli())
		return err
	})
	return name, err
}

// SourcePhoto returns the photo of a name. The error is an *Error with the code
// NotFound where it is not here.
func (s *Store) SourcePhoto(ctx context.Context, name string) (SourcePhoto, error) {
	p := SourcePhoto{Name: name}
	err := s.readers.QueryRowContext(ctx, `SELECT large, small, at FROM source_photos WHERE name = ?`, name).Scan(&p.Large, &p.Small, timeColumn{&p.At})
	if errors.Is(err, sql.ErrNoRows) {
		err = &Error{Code: NotFound, Text: fmt.Sprintf("there is no photo %q of a source", name)}
	}
	return p, fault(s.dir, "read a photo of a source", err)
}

// SourcePhotos returns the names of the photos of sources that are here.
func (s *Store) SourcePhotos(ctx context.Context) (map[string]bool, error) {
	here := map[string]bool{}
	err := s.view(ctx, "list the photos of sources", func(tx *sql.Tx) error {
		rows, err := tx.QueryContext(ctx, `SELECT name FROM source_photos`)
		if err != nil {
			return err
		}
		return eachRow(rows, func(scan func(...any) error) error {
			var name string
			err := scan(&name)
			here[name] = true
			return err
		})
	})
	return here, err
}

// DropSourcePhotos deletes the photos that no source of the catalogue names,
// nor any that the history of a year names, and that were not sent within the
// last day. It returns how many. What is undone later than that names a photo
// that is not here any more.
func (s *Store) DropSourcePhotos(ctx context.Context, now time.Time) (int, error) {
	dropped := 0
	err := s.change(ctx, "delete photos that no source names", func(tx *sql.Tx) error {
		names, err := sentBefore(ctx, tx, now.Add(-sourcePhotoDraft))
		if err != nil || len(names) == 0 {
			return err
		}
		needed, err := namedPhotos(ctx, tx, now.Add(-sourcePhotoRest))
		if err != nil {
			return err
		}
		for _, name := range slices.DeleteFunc(names, func(name string) bool { return needed[name] }) {
			if _, err := tx.ExecContext(ctx, `DELETE FROM source_photos WHERE name = ?`, name); err != nil {
				return err
			}
			dropped++
		}
		return nil
	})
	return dropped, err
}

// sentBefore lists the photos that were not sent since a time.
func sentBefore(ctx context.Context, tx *sql.Tx, before time.Time) ([]string, error) {
	rows, err := tx.QueryContext(ctx, `SELECT name FROM source_photos WHERE at < ?`, before.UnixMilli())
	if err != nil {
		return nil, err
	}
	var names []string
	err = eachRow(rows, func(scan func(...any) error) error {
		var name string
		err := scan(&name)
		names = append(names, name)
		return err
	})
	return names, err
}

// photoNamed finds the photos that documents and parts of them name.
var photoNamed = regexp.MustCompile(`"photo":\s*"([0-9a-f]{32})"`)

// namedPhotos returns the photos that the catalogue names, or what was changed
// of it since a time, on either side.
func namedPhotos(ctx context.Context, tx *sql.Tx, since time.Time) (map[string]bool, error) {
	named := map[string]bool{}
	rows, err := tx.QueryContext(ctx, `SELECT document, '' FROM things WHERE instr(document, '"photo"') > 0 UNION ALL
		SELECT c.old, c.new FROM catalogue_saves s JOIN catalogue_changes c ON c.save = s.id
		WHERE s.at >= ? AND (instr(c.old, '"photo"') > 0 OR instr(c.new, '"photo"') > 0)`, since.UnixMilli())
	if err != nil {
		return nil, err
	}
	err = eachRow(rows, func(scan func(...any) error) error {
		var old, new string
		err := scan(&old, &new)
		for _, text := range []string{old, new} {
			for _, found := range photoNamed.FindAllStringSubmatch(text, -1) {
				named[found[1]] = true
			}
		}
		return err
	})
	return named, err
}

// PhotosNotHere lists the sources of a catalogue that name a photo which is not
// here: those that another shop has, and those that were deleted in time.
func (s *Store) PhotosNotHere(ctx context.Context, c *catalog.Catalogue) ([]catalog.Pictured, error) {
	named := c.Pictured()
	if len(named) == 0 {
		return nil, nil
	}
	here, err := s.SourcePhotos(ctx)
	return slices.DeleteFunc(named, func(p catalog.Pictured) bool { return here[p.Photo] }), err
}
