package store

import (
	"context"
	"database/sql"
	"encoding/json"
	"fmt"
	"maps"
	"slices"
	"strconv"

	"kinwain/internal/catalog"
)

// Settings returns every setting that the shop has changed, by name. Each is
// in the small unit of what it sets: grams, millimetres, cents,
// ten-thousandths.
func (s *Store) Settings(ctx context.Context) (map[string]int64, error) {
	var settings map[string]int64
	err := s.view(ctx, "read the settings", func(tx *sql.Tx) (err error) {
		settings, err = readSettings(ctx, tx)
		return err
	})
	return settings, err
}

func readSettings(ctx context.Context, tx *sql.Tx) (map[string]int64, error) {
	settings := map[string]int64{}
	return settings, each(ctx, tx, `SELECT key, value FROM settings`, func(scan func(...any) error) error {
		var key string
		var value int64
		err := scan(&key, &value)
		settings[key] = value
		return err
	})
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

// SettingsChange is what a save makes of the settings. All others stay.
type SettingsChange struct {
	Set   map[string]int64  // figures
	Reset []string          // names of figures that go back to their default
	Texts map[string]string // empty: forgotten
	// Judged are the names of the figures and texts from which answers follow.
	Judged []string
}

// SettingsList is the list of a change that is one of the settings. The
// catalogue does not have it.
const SettingsList = "settings"

// ChangeSettings changes settings, records who did so, and queues whom that may
// concern, all in one transaction.
func (s *Store) ChangeSettings(ctx context.Context, c SettingsChange, by Author) error {
	return s.change(ctx, "save settings", func(tx *sql.Tx) error {
		before, err := s.toldNow(ctx, tx)
		if err != nil {
			return err
		}
		changes := c.changes(before)
		for _, change := range changes {
			if err := writeSetting(ctx, tx, c, change.Field); err != nil {
				return fmt.Errorf("setting %q: %w", change.Field, err)
			}
		}
		if slices.ContainsFunc(changes, func(change catalog.Change) bool { return slices.Contains(c.Judged, change.Field) }) {
			if err := queue(ctx, tx, before, before.Everything(), by.At); err != nil {
				return err
			}
		}
		return record(ctx, tx, by, changes)
	})
}

// SettingText writes a figure of the settings, or a text, as the history has it.
func SettingText(figures map[string]int64, texts map[string]string, name string) string {
	if words, said := texts[name]; said {
		return wordsText(words)
	}
	return figureText(figures, name)
}

// changes lists what is another than before, as the history has it: JSON, and
// nothing for a default.
func (c *SettingsChange) changes(before *Told) []catalog.Change {
	var list []catalog.Change
	note := func(name, old, new string) {
		if old != new {
			list = append(list, catalog.Change{List: SettingsList, Field: name, Old: old, New: new})
		}
	}
	for _, name := range c.Reset {
		note(name, figureText(before.Settings, name), "")
	}
	for _, name := range slices.Sorted(maps.Keys(c.Set)) {
		note(name, figureText(before.Settings, name), figureText(c.Set, name))
	}
	for _, name := range slices.Sorted(maps.Keys(c.Texts)) {
		note(name, wordsText(before.Texts[name]), wordsText(c.Texts[name]))
	}
	return list
}

func figureText(figures map[string]int64, name string) string {
	figure, set := figures[name]
	if !set {
		return ""
	}
	return strconv.FormatInt(figure, 10)
}

func wordsText(words string) string {
	if words == "" {
		return ""
	}
	text, err := json.Marshal(words)
	if err != nil {
		panic(err) // a string always has a text
	}
	return string(text)
}

// writeSetting writes one of a change.
func writeSetting(ctx context.Context, tx *sql.Tx, c SettingsChange, name string) error {
	words, isText := c.Texts[name]
	if isText {
		return writeText(ctx, tx, name, words)
	}
	value, set := c.Set[name]
	if !set {
		_, err := tx.ExecContext(ctx, `DELETE FROM settings WHERE key = ?`, name)
		return err
	}
	_, err := tx.ExecContext(ctx, `INSERT INTO settings (key, value) VALUES (?, ?) ON CONFLICT (key) DO UPDATE SET value = excluded.value`, name, value)
	return err
}
