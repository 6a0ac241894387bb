package store

import (
	"context"
	"database/sql"
	"errors"
	"fmt"
	"time"

	"kinwain/internal/catalog"
)

// Author is who changes the catalogue, how and when.
type Author struct {
	Who string // name of the person, or of the command
	How string // ByEdit, ByImport, ByUndo or ByRetiring
	At  time.Time
}

// How a catalogue is changed.
const (
	ByEdit     = "edit"
	ByImport   = "import"
	ByUndo     = "undo"
	ByRetiring = "retire"
)

// RetiredField is the field of a change that retires something, or brings it
// back. The document does not have it.
const RetiredField = "retired"

// Save is all that was changed at once.
type Save struct {
	ID int64
	Author
	Changes []catalog.Change
	Numbers []int // of the changes within the save
}

const (
	insertSave   = `INSERT INTO catalogue_saves (who, how, at) VALUES (?, ?, ?)`
	insertChange = `INSERT INTO catalogue_changes (save, position, list, code, field, old, new) VALUES (?, ?, ?, ?, ?, ?, ?)`
	// Of the saves that touch a thing, or of all where no list is named, the
	// newest, each with what it changed of the thing.
	selectHistory = `SELECT s.id, s.who, s.how, s.at, c.position, c.list, c.code, c.field, c.old, c.new
		FROM catalogue_saves s JOIN catalogue_changes c ON c.save = s.id
		WHERE (?1 = '' OR c.list = ?1) AND (?2 = '' OR c.code = ?2) AND s.id IN (
			SELECT DISTINCT save FROM catalogue_changes WHERE (?1 = '' OR list = ?1) AND (?2 = '' OR code = ?2) AND (?4 = 0 OR save < ?4) ORDER BY save DESC LIMIT ?3)
		ORDER BY s.id DESC, c.position`
	// One change of a save first, then the others about the same thing.
	selectChange = `SELECT b.list, b.code, b.field, b.old, b.new FROM catalogue_changes a JOIN catalogue_changes b
		ON b.save = a.save AND b.list = a.list AND b.code = a.code
		WHERE a.save = ? AND a.position = ? ORDER BY b.position <> a.position, b.position`
)

// record writes what a save changes, within its transaction. Nothing changed
// is no save.
func record(ctx context.Context, tx *sql.Tx, by Author, changes []catalog.Change) error {
	if len(changes) == 0 {
		return nil
	}
	done, err := tx.ExecContext(ctx, insertSave, by.Who, by.How, by.At.UnixMilli())
	if err != nil {
		return err
	}
	save, err := done.LastInsertId()
	if err != nil {
		return err
	}
	insert, err := tx.PrepareContext(ctx, insertChange)
	if err != nil {
		return err
	}
	for i, c := range changes {
		if _, err := insert.ExecContext(ctx, save, i, c.List, c.Code, c.Field, c.Old, c.New); err != nil {
			return errors.Join(fmt.Errorf("record a change of %s: %w", c.Path(), err), insert.Close())
		}
	}
	return insert.Close()
}

// History returns the newest saves, the newest first: of one thing, of one
// list where code is empty, or of the whole catalogue where list is empty too.
// Of every save only what concerns these is there.
func (s *Store) History(ctx context.Context, list, code string, most int) ([]Save, error) {
	return s.HistoryBefore(ctx, list, code, 0, most)
}

// HistoryBefore is History of the saves before one, so that a page of it stays
// what it is while more is saved. Before 0 are all.
func (s *Store) HistoryBefore(ctx context.Context, list, code string, before int64, most int) ([]Save, error) {
	saves := []Save{}
	err := s.view(ctx, "read the history", func(tx *sql.Tx) error {
		rows, err := tx.QueryContext(ctx, selectHistory, list, code, most, before)
		if err != nil {
			return err
		}
		return eachRow(rows, func(scan func(...any) error) error {
			var save Save
			var c catalog.Change
			var number int
			if err := scan(&save.ID, &save.Who, &save.How, timeColumn{&save.At}, &number, &c.List, &c.Code, &c.Field, &c.Old, &c.New); err != nil {
				return err
			}
			if n := len(saves); n == 0 || saves[n-1].ID != save.ID {
				saves = append(saves, save)
			}
			last := &saves[len(saves)-1]
			last.Changes, last.Numbers = append(last.Changes, c), append(last.Numbers, number)
			return nil
		})
	})
	return saves, err
}

// RecordedChange returns one change of a save, and what the same save said of
// where the figures that it is about come from. The error is an *Error with the
// code NotFound where there is none.
func (s *Store) RecordedChange(ctx context.Context, save int64, number int) (c catalog.Change, sources []catalog.Change, err error) {
	var all []catalog.Change
	err = s.view(ctx, "read a change", func(tx *sql.Tx) error {
		rows, err := tx.QueryContext(ctx, selectChange, save, number)
		if err != nil {
			return err
		}
		return eachRow(rows, func(scan func(...any) error) error {
			var one catalog.Change
			err := scan(&one.List, &one.Code, &one.Field, &one.Old, &one.New)
			all = append(all, one)
			return err
		})
	})
	if err != nil {
		return c, nil, err
	}
	if len(all) == 0 {
		return c, nil, &Error{Code: NotFound, Text: fmt.Sprintf("there is no change %d of save %d", number, save)}
	}
	return all[0], all[0].Beside(all[1:]), nil
}

// RecordedSave returns all changes of a save in their order. The error is an
// *Error with the code NotFound where there is none.
func (s *Store) RecordedSave(ctx context.Context, save int64) ([]catalog.Change, error) {
	var changes []catalog.Change
	err := s.view(ctx, "read a save", func(tx *sql.Tx) error {
		rows, err := tx.QueryContext(ctx, `SELECT list, code, field, old, new FROM catalogue_changes WHERE save = ? ORDER BY position`, save)
		if err != nil {
			return err
		}
		return eachRow(rows, func(scan func(...any) error) error {
			var c catalog.Change
			err := scan(&c.List, &c.Code, &c.Field, &c.Old, &c.New)
			changes = append(changes, c)
			return err
		})
	})
	if err == nil && len(changes) == 0 {
		err = &Error{Code: NotFound, Text: fmt.Sprintf("there is no save %d", save)}
	}
	return changes, err
}
