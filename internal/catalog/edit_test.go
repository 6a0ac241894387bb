package catalog_test

import (
	"errors"
	"slices"
	"testing"

	"github.com/google/go-cmp/cmp"
	"pgregory.net/rapid"

	"kinwain/internal/catalog"
)

// documentOf is the document of a catalogue.
func documentOf(t interface {
	Helper()
	Fatalf(string, ...any)
}, c *catalog.Catalogue) string {
	t.Helper()
	document, err := c.Document()
	if err != nil {
		t.Fatalf("%v", err)
	}
	return string(document)
}

// TestEditsLeadToTheOther holds that the changes from one drawn catalogue to
// another, made one after the other, give the other to the byte.
func TestEditsLeadToTheOther(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		a, b := drawCatalogue(t), drawCatalogue(t)
		b = catalog.Carry(a, b)
		edits, err := catalog.Edits(a, b)
		if err != nil {
			t.Fatal(err)
		}
		got, err := catalog.Apply(a, edits)
		if err != nil {
			t.Fatalf("%v of %v", err, edits)
		}
		if diff := cmp.Diff(documentOf(t, b), documentOf(t, got)); diff != "" {
			t.Errorf("%v: %s", edits, diff)
		}
	})
}

// TestMergeOfDifferentFields changes one thing here and another there: both
// stand in the end, and nobody is asked.
func TestMergeOfDifferentFields(t *testing.T) {
	base, mine, theirs := small(), small(), small()
	mine.Frames[0].GrossRating += 500
	mine.Frames[0].Zones[0].Rating += 1000
	theirs.Frames[0].BareWeight += 100
	theirs.Frames[0].Zones = append([]catalog.Zone{{Code: "belly", Rating: 5000}}, theirs.Frames[0].Zones...)
	edits, clashes, err := catalog.Merge(base, mine, theirs)
	if err != nil || len(clashes) != 0 || len(edits) != 2 {
		t.Fatalf("%v, clashes %v, %v", edits, clashes, err)
	}
	got, err := catalog.Apply(theirs, edits)
	if err != nil {
		t.Fatal(err)
	}
	want := small()
	want.Frames[0] = theirs.Frames[0]
	want.Frames[0].Zones = slices.Clone(theirs.Frames[0].Zones)
	want.Frames[0].GrossRating += 500
	want.Frames[0].Zones[1].Rating += 1000 // the zone, not the position
	if diff := cmp.Diff(documentOf(t, want), documentOf(t, got)); diff != "" {
		t.Error(diff)
	}
}

func TestMergeAsksWhereBothChangedOne(t *testing.T) {
	for name, c := range map[string]struct {
		mine, theirs func(f *catalog.Frame)
		want         []string // the clashing fields
	}{
		"the same to another value": {func(f *catalog.Frame) { f.Name = "A" }, func(f *catalog.Frame) { f.Name = "B" }, []string{"name"}},
		"the same to the same":      {func(f *catalog.Frame) { f.Name = "A" }, func(f *catalog.Frame) { f.Name = "A" }, nil},
		"a field of what they removed": {func(f *catalog.Frame) { f.Mounts[0].Capacity++ },
			func(f *catalog.Frame) { f.Mounts = slices.Delete(slices.Clone(f.Mounts), 0, 1) }, []string{"mounts[deck_cm]"}},
		"the order and a field":          {func(f *catalog.Frame) { slices.Reverse(f.Zones) }, func(f *catalog.Frame) { f.Zones[0].Rating++ }, nil},
		"a longer name of another field": {func(f *catalog.Frame) { f.FrontTyre = "50-406" }, func(f *catalog.Frame) { f.FrontAxleRating = 90000 }, nil},
	} {
		t.Run(name, func(t *testing.T) {
			base, mine, theirs := small(), small(), small()
			base.Frames[0].FrontTyre, mine.Frames[0].FrontTyre, theirs.Frames[0].FrontTyre = "", "", ""
			c.mine(&mine.Frames[0])
			c.theirs(&theirs.Frames[0])
			_, clashes, err := catalog.Merge(base, mine, theirs)
			if err != nil {
				t.Fatal(err)
			}
			var got []string
			for _, clash := range clashes {
				got = append(got, clash.Field)
			}
			if diff := cmp.Diff(c.want, got); diff != "" {
				t.Error(diff)
			}
			both, err := catalog.Apply(theirs, clashes) // mine is taken where both changed
			if err != nil {
				t.Fatal(err)
			}
			if left, again, err := catalog.Merge(theirs, mine, both); err != nil || len(clashes) > 0 && len(again) > 0 {
				t.Errorf("left %v, %v, %v", left, again, err)
			}
		})
	}
}

func TestApplyRefusesWhatHasMovedOn(t *testing.T) {
	old, new, since := small(), small(), small()
	new.Frames[0].Zones[0].Rating = 21000
	since.Frames[0].Zones[0].Rating = 22000
	edits, err := catalog.Edits(old, new)
	if err != nil || len(edits) != 1 || edits[0].Path() != "frames[sedge].zones[front].rating_kg" {
		t.Fatalf("%v, %v", edits, err)
	}
	var stale *catalog.StaleError
	if _, err := catalog.Apply(since, edits); !errors.As(err, &stale) || stale.Now != "22" {
		t.Errorf("%v", err)
	}
	back, err := catalog.Apply(new, []catalog.Change{edits[0].Reversed()})
	if err != nil || documentOf(t, back) != documentOf(t, old) {
		t.Errorf("not back: %v", err)
	}
}
