package store

import (
	"context"
	"path/filepath"
	"slices"
	"testing"
	"time"

	"kinwain/internal/catalog"
	"kinwain/internal/wideshop"
)

// wide returns the demo shop over and over until it has so many frames and
// add-ons.
func wide(t testing.TB, frames, addOns int) *catalog.Catalogue {
	t.Helper()
	c := wideshop.Of(parse(t, filepath.Join("..", "..", "testdata", "demo.json")), frames, addOns)
	if err := c.Check(); err != nil {
		t.Fatal(err)
	}
	return c
}

func shops(t testing.TB) map[string]*catalog.Catalogue {
	return map[string]*catalog.Catalogue{"demo": parse(t, filepath.Join("..", "..", "testdata", "demo.json")), "wide": wide(t, 1000, 5000)}
}

// repriced returns the catalogue with another price of one of its frames.
func repriced(c *catalog.Catalogue) *catalog.Catalogue {
	changed := *c
	changed.Frames = slices.Clone(c.Frames)
	changed.Frames[len(changed.Frames)/2].Price++
	return &changed
}

// BenchmarkEdit changes one figure of one frame: the time it takes, and what
// it writes to the disk.
func BenchmarkEdit(b *testing.B) {
	for shop, c := range shops(b) {
		b.Run(shop, func(b *testing.B) {
			s := opened(b, b.TempDir())
			if err := s.ReplaceCatalogue(b.Context(), c); err != nil {
				b.Fatal(err)
			}
			s.logged(b) // that of the import
			written, edits := 0, 0
			for b.Loop() {
				if err := s.edit(b.Context()); err != nil {
					b.Fatal(err)
				}
				b.StopTimer()
				written += s.logged(b)
				edits++
				b.StartTimer()
			}
			b.ReportMetric(float64(written)/float64(edits), "B-written/op")
		})
	}
}

func (s *Store) edit(ctx context.Context) error {
	c, revision, err := s.CatalogueAt(ctx)
	if err != nil {
		return err
	}
	return s.ReplaceCatalogueAt(ctx, revision, repriced(c), Author{Who: "Ansa", How: ByEdit, At: time.Unix(1_800_000_000, 0)})
}

// logged returns how many bytes the log of changes has, and empties it.
func (s *Store) logged(t testing.TB) int {
	t.Helper()
	var busy, pages, moved, size int
	if err := s.writer.QueryRowContext(t.Context(), `PRAGMA wal_checkpoint(PASSIVE)`).Scan(&busy, &pages, &moved); err != nil {
		t.Fatal(err)
	}
	if err := s.writer.QueryRowContext(t.Context(), `PRAGMA page_size`).Scan(&size); err != nil {
		t.Fatal(err)
	}
	if _, err := s.writer.ExecContext(t.Context(), `PRAGMA wal_checkpoint(TRUNCATE)`); err != nil {
		t.Fatal(err)
	}
	const frameHeader = 24 // of every page in the log
	return pages * (size + frameHeader)
}

// BenchmarkStart opens a store and reads its catalogue.
func BenchmarkStart(b *testing.B) {
	for shop, c := range shops(b) {
		b.Run(shop, func(b *testing.B) {
			dir := b.TempDir()
			openClose(b, dir, func(s *Store) {
				if err := s.ReplaceCatalogue(b.Context(), c); err != nil {
					b.Fatal(err)
				}
			})
			for b.Loop() {
				openClose(b, dir, func(s *Store) {
					if _, err := s.Catalogue(b.Context()); err != nil {
						b.Fatal(err)
					}
				})
			}
		})
	}
}
