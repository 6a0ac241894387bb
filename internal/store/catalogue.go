package store

import (
	"context"
	"database/sql"
	"strings"

	"kinwain/internal/catalog"
	"kinwain/internal/measure"
)

// Seed stores the catalogue that a new shop starts with and reports whether it
// did. It does so once in the life of a store: where the store has, or ever
// had, a catalogue, nothing is done. The error is a problem.List where the
// catalogue is not in order.
func (s *Store) Seed(ctx context.Context, c *catalog.Catalogue) (loaded bool, err error) {
	if err := c.Check(); err != nil {
		return false, err
	}
	err = s.change(ctx, "load the first catalogue", func(tx *sql.Tx) error {
		var seeded bool
		if err := tx.QueryRowContext(ctx, `SELECT seeded FROM shop_state`).Scan(&seeded); err != nil || seeded {
			return err
		}
		loaded = true
		return replaceAll(ctx, tx, c)
	})
	return loaded && err == nil, err
}

// ReplaceCatalogue stores the catalogue in place of the one before. It lands
// whole or not at all, and is not recorded. The error is a problem.List where
// the catalogue is not in order.
func (s *Store) ReplaceCatalogue(ctx context.Context, c *catalog.Catalogue) error {
	if err := c.Check(); err != nil {
		return err
	}
	return s.change(ctx, "replace the catalogue", func(tx *sql.Tx) error { return replaceAll(ctx, tx, c) })
}

// ReplaceCatalogueAt is ReplaceCatalogue as long as the catalogue is still at
// a revision, and with the sources of figures that still hold, see
// catalog.Carry; in the same transaction it records who changed what, and queues
// whom that may concern. The error is an *Error with the code Conflict where
// somebody has changed it since.
func (s *Store) ReplaceCatalogueAt(ctx context.Context, revision int64, c *catalog.Catalogue, by Author) error {
	return s.replaceAt(ctx, revision, c, by, func(context.Context, *sql.Tx) error { return nil })
}

// DeleteThings is ReplaceCatalogueAt with a catalogue that lacks some things, as
// long as nothing outside the catalogue names one of them: else the error is an
// *Error with the code Conflict, too.
func (s *Store) DeleteThings(ctx context.Context, revision int64, c *catalog.Catalogue, things []Thing, by Author) error {
	return s.replaceAt(ctx, revision, c, by, func(ctx context.Context, tx *sql.Tx) error {
		for _, t := range things {
			named, err := namedBy(ctx, tx, t)
			if err != nil {
				return err
			}
			if len(named) > 0 {
				return &Error{Code: Conflict, Text: t.Code + " is named by " + strings.Join(named, " and ")}
			}
		}
		return nil
	})
}

func (s *Store) replaceAt(ctx context.Context, revision int64, c *catalog.Catalogue, by Author, also func(context.Context, *sql.Tx) error) error {
	var now *snapshot
	err := s.change(ctx, "replace the catalogue", func(tx *sql.Tx) error {
		old, err := readCatalogue(ctx, tx, s.catalogue.Load())
		if err != nil {
			return err
		}
		c = catalog.Carry(old.catalogue, c)
		if err := c.CheckAfter(old.catalogue, measure.DateOf(by.At)); err != nil {
			return err
		}
		if old.revision != revision {
			return &Error{Code: Conflict, Text: "somebody has changed the catalogue meanwhile, and nothing was imported"}
		}
		if err := also(ctx, tx); err != nil {
			return err
		}
		now, err = retell(ctx, tx, old, c, by)
		return err
	})
	if err == nil {
		s.catalogue.Store(now) // it shares nothing with what the caller has
	}
	return err
}

// retell stores a catalogue in place of an old one, records who changed what and
// queues whom that may concern.
func retell(ctx context.Context, tx *sql.Tx, old *snapshot, c *catalog.Catalogue, by Author) (*snapshot, error) {
	before, err := toldBy(ctx, tx, old)
	if err != nil {
		return nil, err
	}
	changes, err := replace(ctx, tx, old, c)
	if err != nil {
		return nil, err
	}
	now := &snapshot{revision: old.revision + 1}
	if now.catalogue, err = catalog.Apply(old.catalogue, changes); err != nil {
		return nil, err
	}
	touch, err := before.Touched(&Told{Catalogue: now.catalogue, Retired: before.Retired})
	if err != nil {
		return nil, err
	}
	if err := queue(ctx, tx, before, touch, by.At); err != nil {
		return nil, err
	}
	return now, record(ctx, tx, by, changes)
}

// Catalogue returns the catalogue as it was last stored, in the same order;
// before the first it is empty, of a shop without a name. The catalogue is
// shared with everybody who asks until it changes: the caller must not modify
// it.
func (s *Store) Catalogue(ctx context.Context) (*catalog.Catalogue, error) {
	c, _, err := s.CatalogueAt(ctx)
	return c, err
}

// CatalogueAt is Catalogue with the revision of the catalogue, which is
// another after every change of it.
func (s *Store) CatalogueAt(ctx context.Context) (c *catalog.Catalogue, revision int64, err error) {
	if err := s.prepared.revision.QueryRowContext(ctx).Scan(&revision); err != nil {
		return nil, 0, fault(s.dir, "read the revision of the catalogue", err)
	}
	if known := s.catalogue.Load(); known != nil && known.revision == revision {
		return known.catalogue, revision, nil
	}
	var fresh *snapshot
	err = s.view(ctx, "read the catalogue", func(tx *sql.Tx) (err error) {
		fresh, err = readCatalogue(ctx, tx, s.catalogue.Load())
		return err
	})
	if err != nil {
		return nil, 0, err
	}
	// Whoever reads an older revision at the same time may store it last; the
	// next caller then sees that it is old and reads again.
	s.catalogue.Store(fresh)
	return fresh.catalogue, fresh.revision, nil
}

// replaceAll stores a catalogue in place of the one before, whatever it is.
func replaceAll(ctx context.Context, tx *sql.Tx, c *catalog.Catalogue) error {
	old, err := readCatalogue(ctx, tx, nil)
	if err == nil {
		_, err = replace(ctx, tx, old, c)
	}
	return err
}

// replace stores a catalogue and returns what is different.
func replace(ctx context.Context, tx *sql.Tx, old *snapshot, c *catalog.Catalogue) ([]catalog.Change, error) {
	changes, err := catalog.Edits(old.catalogue, c)
	if err != nil {
		return nil, err
	}
	return changes, writeChanges(ctx, tx, c, changes)
}
