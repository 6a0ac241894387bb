package store

import (
	"bytes"
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"reflect"
	"testing"

	"github.com/google/go-cmp/cmp"

	"kinwain/internal/catalog"
	"kinwain/internal/measure"
	"kinwain/internal/problem"
)

// rich returns a catalogue that uses every field there is.
func rich(t testing.TB) *catalog.Catalogue {
	t.Helper()
	return parse(t, filepath.Join("testdata", "rich.json"))
}

func parse(t testing.TB, file string) *catalog.Catalogue {
	t.Helper()
	data, err := os.ReadFile(file)
	if err != nil {
		t.Fatal(err)
	}
	c, err := catalog.Parse(data)
	if err != nil {
		t.Fatalf("%s: %v", file, err)
	}
	return c
}

func document(t testing.TB, c *catalog.Catalogue) []byte {
	t.Helper()
	data, err := c.Document()
	if err != nil {
		t.Fatal(err)
	}
	return data
}

func wantDocument(t testing.TB, s *Store, want []byte) {
	t.Helper()
	c, err := s.Catalogue(t.Context())
	if err != nil {
		t.Fatal(err)
	}
	if got := document(t, c); !bytes.Equal(got, want) {
		t.Fatalf("the catalogue came back as another one:\n%s", cmp.Diff(string(want), string(got)))
	}
}

// usedFields notes every field of every struct that holds something.
func usedFields(v reflect.Value, used map[string]bool) {
	switch v.Kind() {
	case reflect.Pointer:
		if !v.IsNil() {
			usedFields(v.Elem(), used)
		}
	case reflect.Slice:
		for i := range v.Len() {
			usedFields(v.Index(i), used)
		}
	case reflect.Map:
		for _, key := range v.MapKeys() {
			usedFields(v.MapIndex(key), used)
		}
	case reflect.Struct:
		for i := range v.NumField() {
			name := v.Type().Name() + "." + v.Type().Field(i).Name
			used[name] = used[name] || !v.Field(i).IsZero()
			usedFields(v.Field(i), used)
		}
	}
}

func TestRichUsesEveryField(t *testing.T) {
	t.Parallel()
	used := map[string]bool{}
	usedFields(reflect.ValueOf(rich(t)), used)
	delete(used, "Evidence.Anew") // of a change, and of no document
	for name, isUsed := range used {
		if !isUsed {
			t.Errorf("no %s in the catalogue holds anything, so its way through the store is not tested", name)
		}
	}
}

func TestCatalogueIsLossless(t *testing.T) {
	t.Parallel()
	plain := rich(t)
	plain.Frames[0].Chainrings, plain.Frames[1].Combined, plain.AddOns[0].Fits, plain.Units[0].Fitted = nil, nil, nil, nil
	odd := rich(t)
	odd.Frames[0].Notes = "a\x00b \t\r\n '); DROP TABLE frames; --"
	odd.Units[1].Colour = "\x00"
	emptied := rich(t)
	emptied.Units, emptied.AddOns, emptied.Frames = nil, nil, nil
	for name, c := range map[string]*catalog.Catalogue{
		"rich": rich(t), "nil lists": plain, "odd texts": odd, "emptied": emptied,
		"demo": parse(t, filepath.Join("..", "..", "testdata", "demo.json")),
	} {
		t.Run(name, func(t *testing.T) {
			dir, want := t.TempDir(), document(t, c)
			openClose(t, dir, func(s *Store) {
				for range 2 { // over nothing, and over itself
					if err := s.ReplaceCatalogue(t.Context(), c); err != nil {
						t.Fatal(err)
					}
					wantDocument(t, s, want)
				}
			})
			wantDocument(t, opened(t, dir), want)
		})
	}
}

func TestEveryWordCanBeStored(t *testing.T) {
	t.Parallel()
	s := opened(t, t.TempDir())
	c := rich(t)
	store := func(word *string, words []string) {
		t.Helper()
		for _, *word = range words {
			if err := s.ReplaceCatalogue(t.Context(), c); err != nil {
				t.Errorf("%q: %v", *word, err)
			}
		}
	}
	store(&c.Frames[0].Type, catalog.Types)
	store(&c.Frames[0].FrontBrake, catalog.Brakes)
	store(&c.Frames[0].RearBrake, catalog.Brakes)
	store(&c.Frames[0].Zones[0].Side, catalog.Sides)
	store(&c.Frames[0].Places[0].Kind, catalog.PlaceKinds)
	store(&c.AddOns[2].Places[0].Kind, catalog.PlaceKinds)
	store(&c.Units[0].Kind, catalog.UnitKinds)
	store(&c.Units[0].Status, catalog.UnitStatuses)
}

func TestCatalogueBeforeTheFirst(t *testing.T) {
	t.Parallel()
	wantDocument(t, opened(t, t.TempDir()), document(t, &catalog.Catalogue{Version: 1}))
}

func TestCatalogueIsReadOncePerRevision(t *testing.T) {
	t.Parallel()
	dir := t.TempDir()
	here, there := opened(t, dir), opened(t, dir)
	if err := here.ReplaceCatalogue(t.Context(), rich(t)); err != nil {
		t.Fatal(err)
	}
	read := func() *catalog.Catalogue {
		t.Helper()
		c, err := here.Catalogue(t.Context())
		if err != nil {
			t.Fatal(err)
		}
		return c
	}
	first := read()
	if read() != first {
		t.Error("an unchanged catalogue was read twice")
	}
	changed := rich(t)
	changed.Shop.Name = "Another name"
	if err := there.ReplaceCatalogue(t.Context(), changed); err != nil {
		t.Fatal(err)
	}
	if got := read().Shop.Name; got != changed.Shop.Name {
		t.Errorf("the shop is named %q after another program named it %q", got, changed.Shop.Name)
	}
	if first.Shop.Name != rich(t).Shop.Name {
		t.Error("a catalogue that was handed out has changed")
	}
}

func TestReplaceCatalogueRefusesWhatIsNotInOrder(t *testing.T) {
	t.Parallel()
	s := opened(t, t.TempDir())
	if err := s.ReplaceCatalogue(t.Context(), rich(t)); err != nil {
		t.Fatal(err)
	}
	broken := rich(t)
	broken.Units[0].Frame = "nothing"
	var list problem.List
	if err := s.ReplaceCatalogue(t.Context(), broken); !errors.As(err, &list) || list.At("units[0].frame") == "" {
		t.Errorf("ReplaceCatalogue = %v, want a fault at units[0].frame", err)
	}
	if _, err := opened(t, t.TempDir()).Seed(t.Context(), broken); !errors.As(err, &list) {
		t.Errorf("Seed = %v, want a list of faults", err)
	}
	wantDocument(t, s, document(t, rich(t)))
}

// What passes the check and still cannot be stored leaves the former
// catalogue whole, its revision included.
func TestReplaceCatalogueLandsWholeOrNotAtAll(t *testing.T) {
	t.Parallel()
	s := opened(t, t.TempDir())
	if err := s.ReplaceCatalogue(t.Context(), rich(t)); err != nil {
		t.Fatal(err)
	}
	before := revision(t, s)
	failing := rich(t)
	failing.Shop.Name = "Half a shop"
	last := &failing.Units[len(failing.Units)-1]
	last.WeighedOn = measure.Date{Year: 2026, Month: 2, Day: 30}
	wantCode(t, s.ReplaceCatalogue(t.Context(), failing), Conflict)
	if after := revision(t, s); after != before {
		t.Errorf("the revision went from %d to %d", before, after)
	}
	wantDocument(t, s, document(t, rich(t)))
	if err := s.ReplaceCatalogue(t.Context(), rich(t)); err != nil {
		t.Error(err)
	}
	if after := revision(t, s); after != before+1 {
		t.Errorf("the revision went from %d to %d", before, after)
	}
}

// What somebody has changed since it was read is not replaced.
func TestReplaceCatalogueAt(t *testing.T) {
	t.Parallel()
	s := opened(t, t.TempDir())
	if err := s.ReplaceCatalogue(t.Context(), rich(t)); err != nil {
		t.Fatal(err)
	}
	mine, at, err := s.CatalogueAt(t.Context())
	if err != nil || at != revision(t, s) {
		t.Fatalf("revision %d of %d, %v", at, revision(t, s), err)
	}
	theirs := rich(t)
	theirs.Shop.Name = "High Quay"
	if err := s.ReplaceCatalogueAt(t.Context(), at, theirs, Author{Who: "Ansa", How: ByEdit}); err != nil {
		t.Fatal(err)
	}
	wantCode(t, s.ReplaceCatalogueAt(t.Context(), at, mine, Author{Who: "Ansa", How: ByEdit}), Conflict)
	wantDocument(t, s, document(t, theirs))
	theirs.Shop.Currency = ""
	var list problem.List
	if err := s.ReplaceCatalogueAt(t.Context(), at+1, theirs, Author{Who: "Ansa", How: ByEdit}); !errors.As(err, &list) {
		t.Errorf("%v, want a list of faults", err)
	}
}

func revision(t *testing.T, s *Store) (revision int64) {
	t.Helper()
	if err := s.prepared.revision.QueryRowContext(t.Context()).Scan(&revision); err != nil {
		t.Fatal(err)
	}
	return revision
}

func TestSeedOnce(t *testing.T) {
	t.Parallel()
	dir := t.TempDir()
	emptied := rich(t)
	emptied.Units, emptied.AddOns, emptied.Frames = nil, nil, nil
	seed := func(s *Store, want bool) {
		t.Helper()
		if loaded, err := s.Seed(t.Context(), rich(t)); err != nil || loaded != want {
			t.Fatalf("Seed = %v, %v, want %v", loaded, err, want)
		}
	}
	openClose(t, dir, func(s *Store) {
		seed(s, true)
		seed(s, false)
		wantDocument(t, s, document(t, rich(t)))
		if err := s.ReplaceCatalogue(t.Context(), emptied); err != nil {
			t.Fatal(err)
		}
		seed(s, false)
	})
	s := opened(t, dir)
	seed(s, false)
	wantDocument(t, s, document(t, emptied))
}

func TestSeedFailing(t *testing.T) {
	t.Parallel()
	s := opened(t, t.TempDir())
	failing := rich(t)
	failing.Units[0].WeighedOn = measure.Date{Year: 2026, Month: 2, Day: 30}
	loaded, err := s.Seed(t.Context(), failing)
	wantCode(t, err, Conflict)
	if loaded {
		t.Error("Seed says that it loaded what it did not")
	}
	if loaded, err := s.Seed(t.Context(), rich(t)); err != nil || !loaded {
		t.Errorf("Seed after one that failed = %v, %v", loaded, err)
	}
}

// A shop that brings its own catalogue is never given the demo.
func TestSeedAfterAnImport(t *testing.T) {
	t.Parallel()
	s := opened(t, t.TempDir())
	own := rich(t)
	own.Shop.Name = "Own shop"
	if err := s.ReplaceCatalogue(t.Context(), own); err != nil {
		t.Fatal(err)
	}
	if loaded, err := s.Seed(t.Context(), rich(t)); err != nil || loaded {
		t.Errorf("Seed = %v, %v", loaded, err)
	}
	wantDocument(t, s, document(t, own))
}

// A row that has lost its owner is reported, not passed over.
func TestCatalogueWithAStray(t *testing.T) {
	t.Parallel()
	s := opened(t, t.TempDir())
	if err := s.ReplaceCatalogue(t.Context(), rich(t)); err != nil {
		t.Fatal(err)
	}
	for _, statement := range []string{`PRAGMA foreign_keys = OFF`, `DELETE FROM things WHERE list = 'frames'`} {
		if _, err := s.writer.ExecContext(t.Context(), statement); err != nil {
			t.Fatal(err)
		}
	}
	_, err := s.Catalogue(t.Context())
	wantCode(t, err, Corrupt)
}

// What somebody else has read later is not taken for what stands now.
func TestCatalogueBesideALaterSnapshot(t *testing.T) {
	s := opened(t, t.TempDir())
	if err := s.ReplaceCatalogue(t.Context(), rich(t)); err != nil {
		t.Fatal(err)
	}
	later := rich(t)
	later.Frames[0].Price++
	s.catalogue.Store(&snapshot{revision: revision(t, s) + 1, catalogue: later})
	wantDocument(t, s, document(t, rich(t)))
}

// large returns a catalogue of many add-ons and units on the frames of rich.
func large(t testing.TB, n int) *catalog.Catalogue {
	t.Helper()
	c := rich(t)
	seat, unit := c.AddOns[2], c.Units[1]
	for i := range n {
		seat.Code, unit.Tag = fmt.Sprintf("seat-%d", i), fmt.Sprintf("L-%d", i)
		unit.Fitted = []string{seat.Code}
		c.AddOns, c.Units = append(c.AddOns, seat), append(c.Units, unit)
	}
	return c
}

func BenchmarkReplaceCatalogue(b *testing.B) {
	for _, n := range []int{0, 10_000} {
		b.Run(fmt.Sprintf("more=%d", n), func(b *testing.B) {
			s, c := opened(b, b.TempDir()), large(b, n)
			for b.Loop() {
				if err := s.ReplaceCatalogue(b.Context(), c); err != nil {
					b.Fatal(err)
				}
			}
		})
	}
}

func BenchmarkCatalogue(b *testing.B) {
	for _, n := range []int{0, 10_000} {
		s := opened(b, b.TempDir())
		if err := s.ReplaceCatalogue(b.Context(), large(b, n)); err != nil {
			b.Fatal(err)
		}
		for name, cached := range map[string]bool{"cached": true, "uncached": false} {
			b.Run(fmt.Sprintf("more=%d/%s", n, name), func(b *testing.B) {
				if _, err := s.Catalogue(b.Context()); err != nil {
					b.Fatal(err)
				}
				for b.Loop() {
					if !cached {
						s.catalogue.Store(nil)
					}
					if _, err := s.Catalogue(b.Context()); err != nil {
						b.Fatal(err)
					}
				}
			})
		}
	}
}
