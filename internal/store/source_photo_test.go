package store

import (
	"path/filepath"
	"slices"
	"testing"
	"time"

	"kinwain/internal/catalog"
)

// TestSourcePhotosStayWhileAnythingNamesThem keeps a photo that the catalogue
// names, then one that only the history does, and drops it a year later; and one
// that came with a form nobody saved.
func TestSourcePhotosStayWhileAnythingNamesThem(t *testing.T) {
	t.Parallel()
	s := opened(t, t.TempDir())
	if err := s.ReplaceCatalogue(t.Context(), rich(t)); err != nil {
		t.Fatal(err)
	}
	at := time.Date(2026, 11, 25, 9, 0, 0, 0, time.UTC) // when saved stores a change
	keep := func(picture string) string {
		name, err := s.KeepSourcePhoto(t.Context(), []byte(picture), []byte("small"), at)
		if err != nil || !catalog.APhotoName(name) {
			t.Fatalf("%q, %v", name, err)
		}
		return name
	}
	plate, draft := keep("plate"), keep("draft")
	if keep("plate") != plate || plate == draft {
		t.Error("the same picture has two names")
	}
	left := func(after time.Duration) []string {
		if _, err := s.DropSourcePhotos(t.Context(), at.Add(after)); err != nil {
			t.Fatal(err)
		}
		here, err := s.SourcePhotos(t.Context())
		if err != nil {
			t.Fatal(err)
		}
		return slices.DeleteFunc([]string{plate, draft}, func(name string) bool { return !here[name] })
	}
	name := func(photo string) {
		saved(t, s, func(c *catalog.Catalogue) {
			c.Frames[0].Evidence = slices.Clone(c.Frames[0].Evidence)
			c.Frames[0].Evidence[0].Photo = photo
		})
	}
	const day, year = 24 * time.Hour, 365 * 24 * time.Hour
	name(plate)
	if got := left(day); !slices.Equal(got, []string{plate, draft}) {
		t.Errorf("within a day of both: %v", got)
	}
	if got := left(day + time.Minute); !slices.Equal(got, []string{plate}) {
		t.Errorf("a form that nobody saved for a day: %v", got)
	}
	if got := left(20 * year); !slices.Equal(got, []string{plate}) {
		t.Errorf("as long as the catalogue names it: %v", got)
	}
	name("")
	if got := left(year); !slices.Equal(got, []string{plate}) {
		t.Errorf("as long as a year of the history names it: %v", got)
	}
	if p, err := s.SourcePhoto(t.Context(), plate); err != nil || string(p.Large) != "plate" || string(p.Small) != "small" {
		t.Errorf("%q, %v", p.Large, err)
	}
	if got := left(year + time.Minute); len(got) != 0 {
		t.Errorf("after that: %v", got)
	}
	_, err := s.SourcePhoto(t.Context(), plate)
	wantCode(t, err, NotFound)
	name(plate)
	c, err := s.Catalogue(t.Context())
	if err != nil {
		t.Fatal(err)
	}
	if missing, err := s.PhotosNotHere(t.Context(), c); err != nil || len(missing) != 1 || missing[0].Figure != "gross_rating_kg" || missing[0].Photo != plate {
		t.Errorf("named again, and gone: %v, %v", missing, err)
	}
}

// TestSourcePhotosAreBounded fills the shop with them.
func TestSourcePhotosAreBounded(t *testing.T) {
	t.Parallel()
	s := opened(t, t.TempDir())
	if _, err := s.writer.ExecContext(t.Context(), `WITH RECURSIVE n(i) AS (SELECT 1 UNION ALL SELECT i + 1 FROM n WHERE i < ?)
		INSERT INTO source_photos (name, large, small, at) SELECT printf('%032x', i), x'01', x'01', 0 FROM n`, MostSourcePhotos-1); err != nil {
		t.Fatal(err)
	}
	if _, err := s.KeepSourcePhoto(t.Context(), []byte("last"), []byte("small"), time.UnixMilli(1)); err != nil {
		t.Error(err)
	}
	_, err := s.KeepSourcePhoto(t.Context(), []byte("one more"), []byte("small"), time.UnixMilli(1))
	wantCode(t, err, TooMany)
	if _, err := s.KeepSourcePhoto(t.Context(), []byte("last"), []byte("small"), time.UnixMilli(2)); err != nil {
		t.Errorf("one that is there already: %v", err)
	}
}

// TestSourcePhotosGoWithTheSchema takes the schema down to a program that knows
// no photos of sources, and up again; the sources themselves stay.
func TestSourcePhotosGoWithTheSchema(t *testing.T) {
	t.Parallel()
	s := opened(t, t.TempDir())
	if err := s.ReplaceCatalogue(t.Context(), rich(t)); err != nil {
		t.Fatal(err)
	}
	name, err := s.KeepSourcePhoto(t.Context(), []byte("plate"), []byte("small"), time.UnixMilli(1))
	if err != nil {
		t.Fatal(err)
	}
	saved(t, s, func(c *catalog.Catalogue) {
		c.Frames[0].Evidence = slices.Clone(c.Frames[0].Evidence)
		c.Frames[0].Evidence[0].Photo = name
	})
	copied := filepath.Join(t.TempDir(), "backup.db")
	if holds, err := s.Backup(t.Context(), copied); err != nil || holds[len(holds)-1] != (Counted{"photos of sources", 1}) {
		t.Errorf("the backup holds %v, %v", holds, err)
	}
	p, err := migrator(s.writer)
	if err != nil {
		t.Fatal(err)
	}
	if _, err := p.DownTo(t.Context(), 25); err != nil {
		t.Fatal(err)
	}
	var left, sources int
	if err := s.writer.QueryRowContext(t.Context(), `SELECT (SELECT count(*) FROM things WHERE instr(document, '"photo"') > 0),
		(SELECT count(*) FROM things, json_each(document, '$.evidence') WHERE json_type(value) = 'object')`).Scan(&left, &sources); err != nil || left != 0 {
		t.Errorf("%d documents name a photo, %v", left, err)
	}
	if _, err := p.Up(t.Context()); err != nil {
		t.Fatal(err)
	}
	want := 0
	for _, list := range catalog.Lists {
		for _, thing := range rich(t).Things(list) {
			if of := catalog.EvidenceOf(thing.Of); of != nil {
				want += len(*of)
			}
		}
	}
	if sources != want || want == 0 {
		t.Errorf("%d sources are left of %d", sources, want)
	}
}
