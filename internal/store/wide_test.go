package store

import (
	"context"
	"fmt"
	"path/filepath"
	"slices"
	"testing"
	"time"

	"kinwain/internal/catalog"
)

// wide returns the demo shop over and over until it has so many frames and
// add-ons; every copy is a shop of its own within it, but for one add-on in
// five, which fits the frames of ten copies.
func wide(t testing.TB, frames, addOns int) *catalog.Catalogue {
	t.Helper()
	demo := parse(t, filepath.Join("..", "..", "testdata", "demo.json"))
	c := &catalog.Catalogue{Version: 1, Shop: demo.Shop}
	own := map[string]bool{}
	for _, a := range demo.AddOns {
		own[a.Code] = true
	}
	for copy := 0; len(c.Frames) < frames || len(c.AddOns) < addOns; copy++ {
		if len(c.Frames) < frames {
			for _, f := range demo.Frames {
				f.Code, f.ComesWith = name(f.Code, copy), named(f.ComesWith, copy, own)
				c.Frames = append(c.Frames, f)
			}
			for _, u := range demo.Units {
				u.Tag, u.Frame, u.Fitted = fmt.Sprintf("%s-%d", u.Tag, copy), name(u.Frame, copy), named(u.Fitted, copy, own)
				c.Units = append(c.Units, u)
			}
		}
		for _, a := range demo.AddOns {
			on := copy % (frames/len(demo.Frames) + 1) // add-ons beyond the frames fit those that are there
			a.Fits, a.Excludes = named(a.Fits, on, nil), named(a.Excludes, copy, own)
			needs := [][]string{}
			for _, group := range a.Needs {
				needs = append(needs, named(group, copy, own))
			}
			pairs := map[string]catalog.Pair{}
			for frame, pair := range a.OnFrame {
				pairs[name(frame, on)] = pair
			}
			a.Code, a.Needs, a.OnFrame = name(a.Code, copy), needs, pairs
			c.AddOns = append(c.AddOns, a)
		}
	}
	if err := c.Check(); err != nil {
		t.Fatal(err)
	}
	return c
}

func name(code string, copy int) string { return fmt.Sprintf("%s-%d", code, copy) }

// named names the copies of things; of those that are no codes, where only
// some are, the names stay.
func named(codes []string, copy int, only map[string]bool) []string {
	all := slices.Clone(codes)
	for i, code := range all {
		if only == nil || only[code] {
			all[i] = name(code, copy)
		}
	}
	return all
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
