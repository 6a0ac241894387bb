package store

import (
	"context"
	"database/sql"
	"fmt"
	"maps"

	"kinwain/internal/catalog"
)

// Thing names a frame, an add-on or a unit: its list in the document, and its
// code or tag.
type Thing struct{ List, Code string }

// Retired returns what is no longer offered.
func (s *Store) Retired(ctx context.Context) (map[Thing]bool, error) {
	var retired map[Thing]bool
	err := s.view(ctx, "read what is retired", func(tx *sql.Tx) (err error) {
		retired, err = readRetired(ctx, tx)
		return err
	})
	return retired, err
}

func readRetired(ctx context.Context, tx *sql.Tx) (map[Thing]bool, error) {
	retired := map[Thing]bool{}
	return retired, each(ctx, tx, `SELECT list, code FROM things WHERE retired IS NOT NULL`, func(scan func(...any) error) error {
		var t Thing
		err := scan(&t.List, &t.Code)
		retired[t] = true
		return err
	})
}

// Retire takes a thing out of what is offered, or brings it back, records it
// and queues whom it may concern. That it is so already is no error and no change.
func (s *Store) Retire(ctx context.Context, t Thing, retire bool, by Author) error {
	return s.change(ctx, fmt.Sprintf("retire %s %q", t.List, t.Code), func(tx *sql.Tx) error {
		change := catalog.Change{List: t.List, Code: t.Code, Field: RetiredField, New: "true"}
		statement, args := `UPDATE things SET retired = ? WHERE list = ? AND code = ? AND retired IS NULL`, []any{by.At.UnixMilli(), t.List, t.Code}
		if !retire {
			change = change.Reversed()
			statement, args = `UPDATE things SET retired = NULL WHERE list = ? AND code = ? AND retired IS NOT NULL`, args[1:]
		}
		before, err := s.toldNow(ctx, tx)
		if err != nil {
			return err
		}
		done, err := tx.ExecContext(ctx, statement, args...)
		if err != nil {
			return err
		}
		if n, err := done.RowsAffected(); err != nil {
			return err
		} else if n == 0 {
			return there(ctx, tx, t)
		}
		after := maps.Clone(before.Retired)
		if after[t] = true; !retire {
			delete(after, t)
		}
		touch, err := before.Touched(&Told{Catalogue: before.Catalogue, Retired: after})
		if err != nil {
			return err
		}
		if err := queue(ctx, tx, before, touch, by.At); err != nil {
			return err
		}
		return record(ctx, tx, by, []catalog.Change{change})
	})
}

// there returns an *Error with the code NotFound where there is no such thing.
func there(ctx context.Context, tx *sql.Tx, t Thing) error {
	var is bool
	err := tx.QueryRowContext(ctx, `SELECT EXISTS (SELECT 1 FROM things WHERE list = ? AND code = ?)`, t.List, t.Code).Scan(&is)
	if err == nil && !is {
		err = &Error{Code: NotFound, Text: fmt.Sprintf("there is no %q among the %s", t.Code, t.List)}
	}
	return err
}

// uses lists who names a thing outside the catalogue, in words.
var uses = map[string][]struct{ words, query string }{
	"frames": {
		{"a quote", `SELECT EXISTS (SELECT 1 FROM quotes WHERE frame = ?1)`},
		{"a test ride", `SELECT EXISTS (SELECT 1 FROM rides WHERE frame = ?1)`},
		{"a fit summary", `SELECT EXISTS (SELECT 1 FROM fit_summaries WHERE frame = ?1)`},
	},
	"add_ons": {
		{"a quote", `SELECT EXISTS (SELECT 1 FROM quote_lines WHERE code = ?1 AND kind <> 'frame')`},
		{"a fit summary", `SELECT EXISTS (SELECT 1 FROM fit_summaries WHERE instr(CAST(document AS TEXT), '"' || ?1 || '"') > 0)`},
	},
	"units": {
		{"a test ride", `SELECT EXISTS (SELECT 1 FROM rides WHERE unit = ?1)`},
		{"a quote for it", `SELECT EXISTS (SELECT 1 FROM quotes WHERE unit = ?1)`},
		{"a quote that holds it", `SELECT EXISTS (SELECT 1 FROM reservations WHERE unit = ?1)`},
		{"a fit summary", `SELECT EXISTS (SELECT 1 FROM fit_summaries WHERE instr(CAST(document AS TEXT), '"' || ?1 || '"') > 0)`},
	},
}

// NamedBy says in words what names a thing outside the catalogue, such as a
// quote: what is named is retired, never deleted.
func (s *Store) NamedBy(ctx context.Context, t Thing) ([]string, error) {
	var named []string
	err := s.view(ctx, fmt.Sprintf("see who names %s %q", t.List, t.Code), func(tx *sql.Tx) error {
		var err error
		named, err = namedBy(ctx, tx, t)
		return err
	})
	return named, err
}

func namedBy(ctx context.Context, tx *sql.Tx, t Thing) ([]string, error) {
	var named []string
	for _, use := range uses[t.List] {
		var is bool
		if err := tx.QueryRowContext(ctx, use.query, t.Code).Scan(&is); err != nil {
			return nil, err
		}
		if is {
			named = append(named, use.words)
		}
	}
	return named, nil
}
