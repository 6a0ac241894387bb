package store

import (
	"context"
	"database/sql"
	"fmt"
)

// Settings returns every setting that the shop has changed, by name. Each is
// in the small unit of what it sets: grams, millimetres, cents,
// ten-thousandths.
func (s *Store) Settings(ctx context.Context) (map[string]int64, error) {
	settings := map[string]int64{}
	err := s.view(ctx, "read the settings", func(tx *sql.Tx) error {
		return each(ctx, tx, `SELECT key, value FROM settings`, func(scan func(...any) error) error {
			var key string
			var value int64
			err := scan(&key, &value)
			settings[key] = value
			return err
		})
	})
	if err != nil {
		return nil, err
	}
	return settings, nil
}

// SetSettings replaces all settings by these.
func (s *Store) SetSettings(ctx context.Context, settings map[string]int64) error {
	return s.change(ctx, "save the settings", func(tx *sql.Tx) error {
		if _, err := tx.ExecContext(ctx, `DELETE FROM settings`); err != nil {
			return err
		}
		for key, value := range settings {
			if _, err := tx.ExecContext(ctx, `INSERT INTO settings (key, value) VALUES (?, ?)`, key, value); err != nil {
				return fmt.Errorf("setting %q: %w", key, err)
			}
		}
		return nil
	})
}

// MergeSettings sets these settings and returns the ones of these names to
// their default. All others stay.
func (s *Store) MergeSettings(ctx context.Context, set map[string]int64, reset []string) error {
	return s.change(ctx, "save settings", func(tx *sql.Tx) error {
		for _, key := range reset {
			if _, err := tx.ExecContext(ctx, `DELETE FROM settings WHERE key = ?`, key); err != nil {
				return err
			}
		}
		for key, value := range set {
			_, err := tx.ExecContext(ctx, `INSERT INTO settings (key, value) VALUES (?, ?) ON CONFLICT (key) DO UPDATE SET value = excluded.value`, key, value)
			if err != nil {
				return fmt.Errorf("setting %q: %w", key, err)
			}
		}
		return nil
	})
}
