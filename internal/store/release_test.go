package store

import (
	"database/sql"
	"errors"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"
	"time"

	"github.com/google/go-cmp/cmp"

	"kinwain/internal/catalog"
	"kinwain/internal/measure"
	"kinwain/internal/problem"
	"kinwain/internal/quality"
)

// unchecked reads a catalogue that was written before some of the rules were.
func unchecked(t *testing.T, file string) *catalog.Catalogue {
	t.Helper()
	data, err := os.ReadFile(file)
	if err != nil {
		t.Fatal(err)
	}
	var c catalog.Catalogue
	if err := problem.Read(data, &c); err != nil {
		t.Fatal(err)
	}
	return &c
}

// mendsWhatItSaves saves things that have a place without limits, which nobody
// asked for when they were stored: each is told at its own save and at no
// other, and the quality page tells them all.
func mendsWhatItSaves(t *testing.T, s *Store, c *catalog.Catalogue, by Author) {
	t.Helper()
	const frame, addOn = "frames[0].places[1].min_months", "add_ons[2].places[1].min_months"
	for _, step := range []struct {
		change func()
		path   string
	}{
		{func() { c.Frames[0].Price++ }, frame},
		{func() { c.Frames[0].Places[1].MinMonths = 12 }, ""},
		{func() { c.AddOns[2].Price++ }, addOn},
		{func() { c.AddOns[2].Places[1].MaxMass = 22 * measure.Kilogram }, ""},
	} {
		step.change()
		var faults problem.List
		err := s.ReplaceCatalogueAt(t.Context(), revision(t, s), c, by)
		if told := errors.As(err, &faults) && len(faults) == 1 && faults[0].Path == step.path; told != (step.path != "") || !told && err != nil {
			t.Errorf("%v, want %q", err, step.path)
		}
	}
	old := unchecked(t, filepath.Join("testdata", "first_release.json"))
	var told []string
	for _, f := range quality.Check(old) {
		if f.Code == quality.NoLimits {
			told = append(told, f.List+"/"+f.Thing)
		}
	}
	if want := []string{"frames/" + old.Frames[0].Code, "add_ons/" + old.AddOns[2].Code}; !slices.Equal(told, want) {
		t.Errorf("the quality page tells of %v, want %v", told, want)
	}
	if _, err := catalog.Parse(document(t, old)); err == nil || !strings.Contains(err.Error(), frame) || !strings.Contains(err.Error(), addOn) {
		t.Errorf("an import says %v", err)
	}
}

// firstRelease returns a folder with a store as the first release left it: its
// schema, and the rows that its own code wrote for the catalogue in first_release.json, with
// one thing of each list retired.
func firstRelease(t *testing.T) (dir string) {
	t.Helper()
	dir = t.TempDir()
	rows, err := os.ReadFile(filepath.Join("testdata", "first_release.sql"))
	if err != nil {
		t.Fatal(err)
	}
	db, err := sql.Open("sqlite", writerName(filepath.Join(dir, FileName)))
	if err != nil {
		t.Fatal(err)
	}
	p, err := migrator(db)
	if err != nil {
		t.Fatal(err)
	}
	if _, err := p.UpTo(t.Context(), 11); err != nil {
		t.Fatal(err)
	}
	if _, err := db.Exec("BEGIN; PRAGMA defer_foreign_keys = ON;\n" + string(rows) + "UPDATE shop_state SET revision = 1, seeded = 1; COMMIT;"); err != nil {
		t.Fatal(err)
	}
	if err := db.Close(); err != nil {
		t.Fatal(err)
	}
	return dir
}

// A store of the first release is taken over whole: the catalogue to the byte,
// what is retired, and the history, which can be undone.
func TestStoreOfTheFirstRelease(t *testing.T) {
	s := opened(t, firstRelease(t))
	want := unchecked(t, filepath.Join("testdata", "first_release.json"))
	wantDocument(t, s, document(t, want))
	retired, err := s.Retired(t.Context())
	things := map[Thing]bool{{"frames", want.Frames[1].Code}: true, {"add_ons", want.AddOns[0].Code}: true, {"units", want.Units[0].Tag}: true}
	if diff := cmp.Diff(things, retired); diff != "" || err != nil {
		t.Errorf("%v %s", err, diff)
	}
	saves, err := s.History(t.Context(), "", "", 10)
	if err != nil || len(saves) != 3 || saves[0].Who != "Ansa" {
		t.Errorf("%v, %v", saves, err)
	}
	by := Author{Who: "Ansa", How: ByEdit, At: time.Unix(1_800_000_000, 0)}
	for thing := range things {
		if err := s.Retire(t.Context(), thing, false, by); err != nil {
			t.Error(err)
		}
	}
	want.Frames[1].Price++
	if err := s.ReplaceCatalogueAt(t.Context(), revision(t, s), want, by); err != nil {
		t.Fatal(err)
	}
	wantDocument(t, s, document(t, want))
	if saves, err = s.History(t.Context(), "", "", 1); err != nil || len(saves[0].Changes) != 1 || saves[0].Changes[0].Field != "price_cents" {
		t.Errorf("a figure changed is recorded as %v, %v", saves, err)
	}
	mendsWhatItSaves(t, s, want, by)
	if loaded, err := s.Seed(t.Context(), rich(t)); err != nil || loaded {
		t.Errorf("Seed = %v, %v", loaded, err)
	}
}

// An upgrade keeps what was there before it. That copy is of the version that
// an earlier program knows, and holds what that had; restored, it is upgraded
// again. What the upgrade made of the store an earlier program refuses.
func TestUpgradeAndRollback(t *testing.T) {
	t.Parallel()
	dir := firstRelease(t)
	kept := filepath.Join(dir, FileName+beforeUpgrade+"11")
	want := document(t, unchecked(t, filepath.Join("testdata", "first_release.json")))
	openClose(t, dir, func(s *Store) {
		if _, err := s.CreateConsultation(t.Context(), "", "since the upgrade", nil, midday); err != nil {
			t.Fatal(err)
		}
	})
	if version := versionOf(t, kept); version != 11 {
		t.Errorf("the copy has version %d", version)
	}
	newest, err := Schema()
	if err != nil || versionOf(t, filepath.Join(dir, FileName)) != newest {
		t.Errorf("the store has version %d, %v", versionOf(t, filepath.Join(dir, FileName)), err)
	}

	if err := Restore(t.Context(), kept, dir); err != nil {
		t.Fatal(err)
	}
	path := filepath.Join(dir, FileName)
	if version := versionOf(t, path); version != 11 {
		t.Errorf("rolled back, the store has version %d", version)
	}
	db, err := sql.Open("sqlite", writerName(path))
	if err != nil {
		t.Fatal(err)
	}
	var frames, consultations int // as the earlier program reads them
	err = db.QueryRowContext(t.Context(), `SELECT (SELECT count(*) FROM frames), (SELECT count(*) FROM consultations)`).Scan(&frames, &consultations)
	if err != nil || frames != len(unchecked(t, filepath.Join("testdata", "first_release.json")).Frames) || consultations != 0 {
		t.Errorf("an earlier program finds %d frames and %d consultations, %v", frames, consultations, err)
	}
	if err := db.Close(); err != nil {
		t.Fatal(err)
	}
	wantDocument(t, opened(t, dir), want)
}

func versionOf(t *testing.T, path string) int64 {
	t.Helper()
	version, err := inspect(t.Context(), path)
	if err != nil {
		t.Fatal(err)
	}
	return version
}
