package store

import (
	"errors"
	"slices"
	"testing"
	"time"

	"github.com/google/go-cmp/cmp"

	"kinwain/internal/catalog"
	"kinwain/internal/measure"
	"kinwain/internal/problem"
)

// saved stores what a change makes of the catalogue, and returns the changes
// that were recorded.
func saved(t *testing.T, s *Store, change func(c *catalog.Catalogue)) []catalog.Change {
	t.Helper()
	c := rich(t)
	at := revision(t, s)
	stored, err := s.Catalogue(t.Context())
	if err != nil {
		t.Fatal(err)
	}
	c.Frames = slices.Clone(stored.Frames)
	c.AddOns, c.Units = slices.Clone(stored.AddOns), slices.Clone(stored.Units)
	change(c)
	if err := s.ReplaceCatalogueAt(t.Context(), at, c, Author{Who: "Ansa", How: ByEdit, At: time.Date(2026, 11, 25, 9, 0, 0, 0, time.UTC)}); err != nil {
		t.Fatal(err)
	}
	saves, err := s.History(t.Context(), "", "", 1)
	if err != nil {
		t.Fatal(err)
	}
	return saves[0].Changes
}

func sourcesOf(t *testing.T, s *Store) (figures []string) {
	t.Helper()
	c, err := s.Catalogue(t.Context())
	if err != nil {
		t.Fatal(err)
	}
	for _, e := range c.Frame("yarrow").Evidence {
		figures = append(figures, e.Figure)
	}
	return figures
}

// TestFigureLosesItsSource changes figures in every way there is, and takes one
// change back; also after a new start.
func TestFigureLosesItsSource(t *testing.T) {
	t.Parallel()
	dir := t.TempDir()
	both := []string{"gross_rating_kg", "zones[box].rating_kg"}
	openClose(t, dir, func(s *Store) {
		if err := s.ReplaceCatalogue(t.Context(), rich(t)); err != nil {
			t.Fatal(err)
		}
		saved(t, s, func(c *catalog.Catalogue) { c.Frames[0].Price++ })
		if got := sourcesOf(t, s); !slices.Equal(got, both) {
			t.Errorf("after another price %v", got)
		}
		changes := saved(t, s, func(c *catalog.Catalogue) { c.Frames[0].GrossRating -= measure.Kilogram })
		if got := sourcesOf(t, s); !slices.Equal(got, both[1:]) || len(changes) != 2 || changes[1].Field != "evidence[gross_rating_kg]" {
			t.Errorf("after another rating %v, by %v", got, changes)
		}
	})
	s := opened(t, dir)
	if got := sourcesOf(t, s); !slices.Equal(got, both[1:]) {
		t.Errorf("after a new start %v", got)
	}
	saves, err := s.History(t.Context(), "", "", 1)
	if err != nil {
		t.Fatal(err)
	}
	figure, sources, err := s.RecordedChange(t.Context(), saves[0].ID, saves[0].Numbers[0])
	if err != nil || figure.Field != "gross_rating_kg" || len(sources) != 1 || sources[0] != saves[0].Changes[1] {
		t.Fatalf("%v with %v, %v", figure, sources, err)
	}
	c, err := s.Catalogue(t.Context())
	if err != nil {
		t.Fatal(err)
	}
	back, err := catalog.Apply(c, []catalog.Change{figure.Reversed(), sources[0].Reversed()})
	if err != nil {
		t.Fatal(err)
	}
	if err := s.ReplaceCatalogueAt(t.Context(), revision(t, s), back, Author{Who: "Ansa", How: ByUndo, At: time.Date(2026, 11, 25, 10, 0, 0, 0, time.UTC)}); err != nil {
		t.Fatal(err)
	}
	if diff := cmp.Diff(both, sourcesOf(t, s)); diff != "" {
		t.Errorf("taken back: %s", diff)
	}
}

// TestSourceIsNotOfTomorrow refuses a source of a day that is still to come.
func TestSourceIsNotOfTomorrow(t *testing.T) {
	t.Parallel()
	s := opened(t, t.TempDir())
	if err := s.ReplaceCatalogue(t.Context(), rich(t)); err != nil {
		t.Fatal(err)
	}
	c := rich(t)
	c.Frames[0].Evidence[0].On = measure.Date{Year: 2026, Month: 11, Day: 26}
	at := func(day int) error {
		return s.ReplaceCatalogueAt(t.Context(), revision(t, s), c, Author{Who: "Ansa", How: ByImport, At: time.Date(2026, 11, day, 9, 0, 0, 0, time.UTC)})
	}
	var faults problem.List
	if err := at(25); !errors.As(err, &faults) || faults[0].Path != "frames[0].evidence[0].on" {
		t.Errorf("the day before: %v", err)
	}
	if err := at(26); err != nil {
		t.Errorf("on the day: %v", err)
	}
}

// TestSourcesGoWithTheSchema goes back by one version, to a program that knows
// no sources, and up again.
func TestSourcesGoWithTheSchema(t *testing.T) {
	t.Parallel()
	s := opened(t, t.TempDir())
	if err := s.ReplaceCatalogue(t.Context(), rich(t)); err != nil {
		t.Fatal(err)
	}
	p, err := migrator(s.writer)
	if err != nil {
		t.Fatal(err)
	}
	const before = 22
	if _, err := p.DownTo(t.Context(), before); err != nil {
		t.Fatal(err)
	}
	var left int
	if err := s.writer.QueryRowContext(t.Context(), `SELECT count(*) FROM things WHERE document LIKE '%evidence%'`).Scan(&left); err != nil || left != 0 {
		t.Errorf("%d documents have sources, %v", left, err)
	}
	if _, err := p.Up(t.Context()); err != nil {
		t.Fatal(err)
	}
	if err := s.ReplaceCatalogue(t.Context(), rich(t)); err != nil {
		t.Fatal(err)
	}
	wantDocument(t, s, document(t, rich(t)))
}
