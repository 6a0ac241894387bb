package store

import (
	"slices"
	"testing"
	"time"

	"pgregory.net/rapid"

	"kinwain/internal/catalog"
)

// TestHistoryIsComplete changes the catalogue in many ways, by hand and by
// import, and plays the history again from the first catalogue on: it leads to
// the last one, to the byte.
func TestHistoryIsComplete(t *testing.T) {
	t.Parallel()
	s, draws := opened(t, t.TempDir()), 0
	rapid.Check(t, func(draw *rapid.T) {
		if draws++; draws > 30 {
			return // each waits for the disk several times
		}
		first := rich(t)
		if err := s.ReplaceCatalogue(t.Context(), first); err != nil {
			t.Fatal(err)
		}
		const everySave = 1 << 20
		earlier, err := s.History(t.Context(), "", "", everySave)
		if err != nil {
			t.Fatal(err)
		}
		now := time.Date(2026, 11, 25, 9, 0, 0, 0, time.UTC)
		for range rapid.IntRange(1, 6).Draw(draw, "saves") {
			now = now.Add(time.Minute)
			c, revision, err := s.CatalogueAt(t.Context())
			if err != nil {
				t.Fatal(err)
			}
			if err := s.ReplaceCatalogueAt(t.Context(), revision, altered(draw, c), Author{Who: "Ansa", How: ByEdit, At: now}); err != nil {
				draw.Skip(err) // not in order: not saved, not recorded
			}
		}
		saves, err := s.History(t.Context(), "", "", everySave)
		if err != nil {
			t.Fatal(err)
		}
		saves = saves[:len(saves)-len(earlier)]
		var all []catalog.Change
		for _, save := range slices.Backward(saves) {
			all = append(all, save.Changes...)
		}
		again, err := catalog.Apply(first, all)
		if err != nil {
			draw.Fatalf("%v of %v", err, all)
		}
		last, err := s.Catalogue(t.Context())
		if err != nil {
			t.Fatal(err)
		}
		want, err := last.Document()
		if err != nil {
			t.Fatal(err)
		}
		if got, err := again.Document(); err != nil || string(got) != string(want) {
			draw.Errorf("%v: %s", err, got)
		}
	})
}

// altered returns a catalogue with some things changed.
func altered(draw *rapid.T, c *catalog.Catalogue) *catalog.Catalogue {
	changed := *c
	changed.Frames, changed.AddOns, changed.Units = slices.Clone(c.Frames), slices.Clone(c.AddOns), slices.Clone(c.Units)
	switch rapid.SampledFrom([]string{"figure", "name", "zone", "order", "unit", "less", "shop"}).Draw(draw, "what") {
	case "figure":
		changed.Frames[0].GrossRating += 100
	case "name":
		changed.AddOns[0].Name = rapid.SampledFrom([]string{"Rack", "Seat", `"Quoted" [x]`}).Draw(draw, "name")
	case "zone":
		zones := slices.Clone(changed.Frames[0].Zones)
		at := rapid.IntRange(0, len(zones)).Draw(draw, "at")
		changed.Frames[0].Zones = slices.Insert(zones, at, catalog.Zone{Code: rapid.StringMatching(`z[a-z]{1,5}`).Draw(draw, "zone"), Rating: 5000})
	case "order":
		slices.Reverse(changed.Frames)
		slices.Reverse(changed.Units)
	case "unit":
		unit := catalog.Unit{Tag: rapid.StringMatching(`U-[0-9]{1,4}`).Draw(draw, "tag"), Frame: c.Frames[0].Code, Kind: "demo", Status: "available"}
		changed.Units = slices.Insert(changed.Units, 0, unit)
	case "less":
		changed.Units = changed.Units[:max(0, len(changed.Units)-1)]
	case "shop":
		changed.Shop.Tax++
	}
	return &changed
}

func TestRetire(t *testing.T) {
	t.Parallel()
	s := opened(t, t.TempDir())
	if err := s.ReplaceCatalogue(t.Context(), rich(t)); err != nil {
		t.Fatal(err)
	}
	osier := Thing{List: "frames", Code: "osier"}
	by := Author{Who: "Ansa", How: ByRetiring, At: time.Unix(1_800_000_000, 0)}
	for _, retire := range []bool{true, true, false, false} {
		if err := s.Retire(t.Context(), osier, retire, by); err != nil {
			t.Fatal(err)
		}
		if retired, err := s.Retired(t.Context()); err != nil || retired[osier] != retire {
			t.Errorf("%v, %v", retired, err)
		}
	}
	saves, err := s.History(t.Context(), "frames", "osier", 10)
	if err != nil || len(saves) != 2 || saves[0].Changes[0].Old != "true" || saves[1].Changes[0].New != "true" || !saves[0].At.Equal(by.At) {
		t.Errorf("%+v, %v", saves, err)
	}
	wantCode(t, s.Retire(t.Context(), Thing{List: "bikes", Code: "x"}, true, by), NotFound)
}

func TestFailedSaveRecordsNothing(t *testing.T) {
	t.Parallel()
	s := opened(t, t.TempDir())
	if err := s.ReplaceCatalogue(t.Context(), rich(t)); err != nil {
		t.Fatal(err)
	}
	c, revision, err := s.CatalogueAt(t.Context())
	if err != nil {
		t.Fatal(err)
	}
	changed := *c
	changed.Shop.Name = "Another"
	wantCode(t, s.ReplaceCatalogueAt(t.Context(), revision-1, &changed, Author{Who: "Ansa", How: ByEdit}), Conflict)
	wantCode(t, s.ReplaceCatalogueAt(t.Context(), revision, &changed, Author{Who: "Ansa", How: "guess"}), Conflict)
	if saves, err := s.History(t.Context(), "", "", 10); err != nil || len(saves) != 0 {
		t.Errorf("%v, %v", saves, err)
	}
	if c, err := s.Catalogue(t.Context()); err != nil || c.Shop.Name == "Another" {
		t.Errorf("stored without history, %v", err)
	}
}

func TestPhotosAreKept(t *testing.T) {
	t.Parallel()
	s := opened(t, t.TempDir())
	unit := Thing{List: "units", Code: "D-1"}
	wantCode(t, s.SavePhoto(t.Context(), unit, Photo{Large: []byte{1}, Small: []byte{1}}), Conflict) // no words
	for i, alt := range []string{"left", "right"} {
		if err := s.SavePhoto(t.Context(), unit, Photo{Alt: alt, Large: []byte{byte(i), 2}, Small: []byte{byte(i)}, At: time.UnixMilli(int64(i))}); err != nil {
			t.Fatal(err)
		}
	}
	if p, err := s.Photo(t.Context(), unit); err != nil || p.Alt != "right" || len(p.Large) != 2 || p.Small[0] != 1 {
		t.Errorf("%v, %v", p, err)
	}
	if all, err := s.Photos(t.Context(), "units"); err != nil || all["D-1"].Alt != "right" {
		t.Errorf("%v, %v", all, err)
	}
	if err := s.DeletePhoto(t.Context(), unit); err != nil {
		t.Fatal(err)
	}
	_, err := s.Photo(t.Context(), unit)
	wantCode(t, err, NotFound)
}
