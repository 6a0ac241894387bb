package store

import (
	"context"
	"database/sql"
	"errors"
	"fmt"

	"kinwain/internal/catalog"
)

// The catalogue is one row for each thing, the shop among them. An edit writes
// the rows of what it changes.
const (
	selectThings = `SELECT list, code, iif(revision > ?, document, NULL) FROM things ORDER BY list, position`
	saveThing    = `INSERT INTO things (list, code, document, revision, frame, position)
		VALUES (?1, ?2, ?3, ?4, iif(?1 = 'units', ?3 ->> '$.frame', NULL), (SELECT coalesce(max(position), -1) + 1 FROM things WHERE list = ?1))
		ON CONFLICT (list, code) DO UPDATE SET document = excluded.document, revision = excluded.revision`
	saveUnit    = saveThing + `, frame = excluded.frame`
	deleteThing = `DELETE FROM things WHERE list = ? AND code = ?`
	moveThing   = `UPDATE things SET position = ?3 WHERE list = ?1 AND code = ?2 AND position <> ?3`
	nextThings  = `UPDATE shop_state SET revision = revision + 1, seeded = 1 RETURNING revision`
)

// readCatalogue reads the catalogue, of which what has not changed since an
// earlier snapshot is taken from there. What cannot be read is an *Error with
// the code Corrupt.
func readCatalogue(ctx context.Context, tx *sql.Tx, earlier *snapshot) (*snapshot, error) {
	now := &snapshot{catalogue: &catalog.Catalogue{Version: 1}}
	if err := tx.QueryRowContext(ctx, `SELECT revision FROM shop_state`).Scan(&now.revision); err != nil {
		return nil, err
	}
	switch {
	case earlier == nil:
	case earlier.revision == now.revision:
		return earlier, nil
	case earlier.revision > now.revision: // it is later, for whoever began before it was written
		earlier = nil
	}
	lists, known := map[string][]catalog.Thing{}, earlier.things()
	rows, err := tx.QueryContext(ctx, selectThings, earlier.at())
	if err != nil {
		return nil, err
	}
	err = eachRow(rows, func(scan func(...any) error) error {
		var list, code string
		var document sql.NullString
		if err := scan(&list, &code, &document); err != nil {
			return err
		}
		thing, stays := known[Thing{list, code}]
		if document.Valid || !stays {
			var err error
			if thing, err = catalog.ParseThing(list, document.String); err != nil {
				return &Error{Code: Corrupt, Text: fmt.Sprintf("%s %q cannot be read: %v", list, code, err)}
			}
		}
		lists[list] = append(lists[list], thing)
		return nil
	})
	if err != nil {
		return nil, err
	}
	for list, things := range lists {
		now.catalogue.Put(list, things)
	}
	return now, strays(now.catalogue)
}

// strays reports a unit of which the frame is not there.
func strays(c *catalog.Catalogue) error {
	frames := map[string]bool{}
	for i := range c.Frames {
		frames[c.Frames[i].Code] = true
	}
	for i := range c.Units {
		if u := &c.Units[i]; !frames[u.Frame] {
			return &Error{Code: Corrupt, Text: fmt.Sprintf("the unit %q belongs to the frame %q, which is not there", u.Tag, u.Frame)}
		}
	}
	return nil
}

// snapshot is the catalogue as it was read at one revision.
type snapshot struct {
	revision  int64
	catalogue *catalog.Catalogue
}

// at returns the revision, one before the first where there is no snapshot.
func (s *snapshot) at() int64 {
	if s == nil {
		return -1
	}
	return s.revision
}

// things returns the things by their names.
func (s *snapshot) things() map[Thing]catalog.Thing {
	all := map[Thing]catalog.Thing{}
	if s == nil {
		return all
	}
	for _, list := range catalog.Lists {
		for _, t := range s.catalogue.Things(list) {
			all[Thing{list, t.Code}] = t
		}
	}
	return all
}

// writeChanges stores what changes lead from the stored catalogue to another.
func writeChanges(ctx context.Context, tx *sql.Tx, c *catalog.Catalogue, changes []catalog.Change) (err error) {
	var revision int64
	if err := tx.QueryRowContext(ctx, nextThings).Scan(&revision); err != nil {
		return err
	}
	w := &thingWriter{tx: tx, catalogue: c, revision: revision, save: map[string]*sql.Stmt{}}
	defer func() { err = errors.Join(err, w.close()) }()
	return w.write(ctx, changes)
}

// thingWriter writes rows of things within a transaction.
type thingWriter struct {
	tx        *sql.Tx
	catalogue *catalog.Catalogue
	revision  int64
	save      map[string]*sql.Stmt // by list
}

// write takes out what is gone before it writes what is there, list by list:
// a tag that is gone may stand on another bike. What is new stands behind the
// others, unless the order is a change, too.
func (w *thingWriter) write(ctx context.Context, changes []catalog.Change) error {
	changed, moved := map[Thing]bool{}, map[string]bool{}
	for _, c := range changes {
		changed[Thing{c.List, c.Code}] = true
		moved[c.List] = moved[c.List] || c.Kind() == catalog.Moved
		if c.Whole() && c.New == "" {
			if _, err := w.tx.ExecContext(ctx, deleteThing, c.List, c.Code); err != nil {
				return err
			}
		}
	}
	for _, list := range catalog.Lists {
		for i, thing := range w.catalogue.Things(list) {
			if changed[Thing{list, thing.Code}] {
				if err := w.thing(ctx, list, thing); err != nil {
					return fmt.Errorf("write %s %q: %w", list, thing.Code, err)
				}
			}
			if moved[list] {
				if _, err := w.tx.ExecContext(ctx, moveThing, list, thing.Code, i); err != nil {
					return err
				}
			}
		}
	}
	return nil
}

func (w *thingWriter) thing(ctx context.Context, list string, thing catalog.Thing) error {
	document, err := thing.Document()
	if err != nil {
		return err
	}
	if w.save[list] == nil {
		statement := saveThing
		if list == "units" {
			statement = saveUnit
		}
		if w.save[list], err = w.tx.PrepareContext(ctx, statement); err != nil {
			return err
		}
	}
	_, err = w.save[list].ExecContext(ctx, list, thing.Code, document, w.revision)
	return err
}

func (w *thingWriter) close() (err error) {
	for _, statement := range w.save {
		err = errors.Join(err, statement.Close())
	}
	return err
}
