package store

import (
	"context"
	"database/sql"
	"errors"
	"fmt"
	"strings"

	"kinwain/internal/catalog"
)

// snapshot is the catalogue as it was read at one revision.
type snapshot struct {
	revision  int64
	catalogue *catalog.Catalogue
}

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
		return replaceCatalogue(ctx, tx, c)
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
	return s.change(ctx, "replace the catalogue", func(tx *sql.Tx) error { return replaceCatalogue(ctx, tx, c) })
}

// ReplaceCatalogueAt is ReplaceCatalogue as long as the catalogue is still at
// a revision, and records in the same transaction who changed what. The error
// is an *Error with the code Conflict where somebody has changed it since.
func (s *Store) ReplaceCatalogueAt(ctx context.Context, revision int64, c *catalog.Catalogue, by Author) error {
	return s.replaceAt(ctx, revision, c, by, func(context.Context, *sql.Tx) error { return nil })
}

// DeleteThing is ReplaceCatalogueAt with a catalogue that lacks a thing, as
// long as nothing outside the catalogue names it: else the error is an *Error
// with the code Conflict, too.
func (s *Store) DeleteThing(ctx context.Context, revision int64, c *catalog.Catalogue, t Thing, by Author) error {
	return s.replaceAt(ctx, revision, c, by, func(ctx context.Context, tx *sql.Tx) error {
		named, err := namedBy(ctx, tx, t)
		if err != nil {
			return err
		}
		if len(named) > 0 {
			return &Error{Code: Conflict, Text: "it is named by " + strings.Join(named, " and ")}
		}
		_, err = tx.ExecContext(ctx, `DELETE FROM retired WHERE list = ? AND code = ?`, t.List, t.Code)
		return err
	})
}

func (s *Store) replaceAt(ctx context.Context, revision int64, c *catalog.Catalogue, by Author, also func(context.Context, *sql.Tx) error) error {
	if err := c.Check(); err != nil {
		return err
	}
	return s.change(ctx, "replace the catalogue", func(tx *sql.Tx) error {
		var now int64
		if err := tx.QueryRowContext(ctx, `SELECT revision FROM shop_state`).Scan(&now); err != nil {
			return err
		}
		if now != revision {
			return &Error{Code: Conflict, Text: "somebody has changed the catalogue meanwhile, and nothing was imported"}
		}
		if err := also(ctx, tx); err != nil {
			return err
		}
		if err := recordReplacement(ctx, tx, by, c); err != nil {
			return err
		}
		return replaceCatalogue(ctx, tx, c)
	})
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
	fresh := &snapshot{}
	err = s.view(ctx, "read the catalogue", func(tx *sql.Tx) error {
		err := tx.StmtContext(ctx, s.prepared.revision).QueryRowContext(ctx).Scan(&fresh.revision)
		if err != nil {
			return err
		}
		fresh.catalogue, err = readCatalogue(ctx, tx)
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

func replaceCatalogue(ctx context.Context, tx *sql.Tx, c *catalog.Catalogue) error {
	if err := emptyCatalogue(ctx, tx); err != nil {
		return err
	}
	if err := insertCatalogue(ctx, tx, c); err != nil {
		return err
	}
	_, err := tx.ExecContext(ctx, `UPDATE shop_state SET revision = revision + 1, seeded = 1`)
	return err
}

// emptyCatalogue deletes what names something before what it names. Parts
// would go with their owners, but one by one.
func emptyCatalogue(ctx context.Context, tx *sql.Tx) error {
	for _, empty := range [...]func(context.Context, *sql.Tx) error{
		units.emptyParts, units.empty,
		addOns.emptyParts, frames.emptyParts,
		addOns.empty, frames.empty,
		table{name: "shop"}.empty,
	} {
		if err := empty(ctx, tx); err != nil {
			return err
		}
	}
	return nil
}

// insertCatalogue writes what is named before what names it.
func insertCatalogue(ctx context.Context, tx *sql.Tx, c *catalog.Catalogue) error {
	w := inserter{tx, map[string]*sql.Stmt{}}
	_, err := tx.ExecContext(ctx, `INSERT INTO shop (id, name, currency, labour_cents_per_hour, tax_share, prices_include_tax)
		VALUES (1, ?, ?, ?, ?, ?)`, c.Shop.Name, c.Shop.Currency, c.Shop.LabourPerHour, c.Shop.Tax, c.Shop.PricesIncludeTax)
	if err != nil {
		return fmt.Errorf("write shop: %w", err)
	}
	for _, insert := range [...]func() error{
		func() error { return addOns.insert(ctx, w, c.AddOns) },
		func() error { return frames.insert(ctx, w, c.Frames) },
		func() error { return frames.insertParts(ctx, w, c.Frames) },
		func() error { return addOns.insertParts(ctx, w, c.AddOns) },
		func() error { return units.insert(ctx, w, c.Units) },
		func() error { return units.insertParts(ctx, w, c.Units) },
	} {
		if err := insert(); err != nil {
			return err
		}
	}
	return nil
}

func readCatalogue(ctx context.Context, tx *sql.Tx) (*catalog.Catalogue, error) {
	c := &catalog.Catalogue{Version: 1}
	err := tx.QueryRowContext(ctx, `SELECT name, currency, labour_cents_per_hour, tax_share, prices_include_tax FROM shop`).
		Scan(&c.Shop.Name, &c.Shop.Currency, &c.Shop.LabourPerHour, &c.Shop.Tax, &c.Shop.PricesIncludeTax)
	if err != nil && !errors.Is(err, sql.ErrNoRows) {
		return nil, fmt.Errorf("read shop: %w", err)
	}
	if c.AddOns, err = addOns.read(ctx, tx); err != nil {
		return nil, err
	}
	if c.Frames, err = frames.read(ctx, tx); err != nil {
		return nil, err
	}
	if c.Units, err = units.read(ctx, tx); err != nil {
		return nil, err
	}
	return c, nil
}
