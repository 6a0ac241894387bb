package store

import (
	"context"
	"database/sql"
	"fmt"
)

// Texts returns every setting of the shop that is a text, by name.
func (s *Store) Texts(ctx context.Context) (map[string]string, error) {
	var texts map[string]string
	err := s.view(ctx, "read the texts", func(tx *sql.Tx) (err error) {
		texts, err = readTexts(ctx, tx)
		return err
	})
	return texts, err
}

func readTexts(ctx context.Context, tx *sql.Tx) (map[string]string, error) {
	texts := map[string]string{}
	return texts, each(ctx, tx, `SELECT key, value FROM shop_texts`, func(scan func(...any) error) error {
		var key, value string
		err := scan(&key, &value)
		texts[key] = value
		return err
	})
}

// SetTexts replaces all texts by these.
func (s *Store) SetTexts(ctx context.Context, texts map[string]string) error {
	return s.change(ctx, "save the texts", func(tx *sql.Tx) error {
		if _, err := tx.ExecContext(ctx, `DELETE FROM shop_texts`); err != nil {
			return err
		}
		for key, value := range texts {
			if _, err := tx.ExecContext(ctx, `INSERT INTO shop_texts (key, value) VALUES (?, ?)`, key, value); err != nil {
				return fmt.Errorf("text %q: %w", key, err)
			}
		}
		return nil
	})
}

// MergeTexts sets these texts, and forgets those of them that are empty. All
// others stay.
func (s *Store) MergeTexts(ctx context.Context, set map[string]string) error {
	return s.change(ctx, "save texts", func(tx *sql.Tx) error {
		for key, value := range set {
			if err := writeText(ctx, tx, key, value); err != nil {
				return fmt.Errorf("text %q: %w", key, err)
			}
		}
		return nil
	})
}

func writeText(ctx context.Context, tx *sql.Tx, key, value string) error {
	if _, err := tx.ExecContext(ctx, `DELETE FROM shop_texts WHERE key = ?`, key); err != nil || value == "" {
		return err
	}
	_, err := tx.ExecContext(ctx, `INSERT INTO shop_texts (key, value) VALUES (?, ?)`, key, value)
	return err
}
