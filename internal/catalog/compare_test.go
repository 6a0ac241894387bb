package catalog_test

import (
	"fmt"
	"reflect"
	"regexp"
	"slices"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
	"pgregory.net/rapid"

	"kinwain/internal/catalog"
	"kinwain/internal/measure"
)

func compare(t interface {
	Helper()
	Fatalf(string, ...any)
}, old, new *catalog.Catalogue) []catalog.Change {
	t.Helper()
	changes, err := catalog.Compare(old, new)
	if err != nil {
		t.Fatalf("%v", err)
	}
	return changes
}

// line writes a change on one line.
func line(c catalog.Change) string {
	return fmt.Sprintf("%s %s %s %s: %.40s -> %.40s", c.Kind(), c.List, c.Code, c.Field, c.Old, c.New)
}

func TestCompare(t *testing.T) {
	for name, c := range map[string]struct {
		change func(c *catalog.Catalogue)
		want   []string
	}{
		"nothing":     {func(*catalog.Catalogue) {}, nil},
		"the shop":    {func(c *catalog.Catalogue) { c.Shop.Tax = 900 }, []string{"changed shop  tax_percent: 21.5 -> 9"}},
		"a figure":    {func(c *catalog.Catalogue) { c.Frames[0].GrossRating = 181500 }, []string{"changed frames sedge gross_rating_kg: 180 -> 181.5"}},
		"a text":      {func(c *catalog.Catalogue) { c.Units[0].Colour = "red" }, []string{`changed units D-014 colour: "slate" -> "red"`}},
		"a flag":      {func(c *catalog.Catalogue) { c.AddOns[0].BlocksUpright = false }, []string{"changed add_ons seat-rear blocks_upright: true -> false"}},
		"a list":      {func(c *catalog.Catalogue) { c.Frames[0].Sprockets = []int{11} }, []string{"changed frames sedge sprockets: [11, 13, 15] -> [11]"}},
		"an emptied":  {func(c *catalog.Catalogue) { c.AddOns[0].Excludes = nil }, []string{`changed add_ons seat-rear excludes: ["stand-one-leg"] -> []`}},
		"no upright":  {func(c *catalog.Catalogue) { c.Frames[0].Upright = catalog.Box{} }, []string{`removed frames sedge upright: {"length_cm": 62, "width_cm": 66, "heigh -> `}},
		"its height":  {func(c *catalog.Catalogue) { c.Frames[0].Upright.Height = 1800 }, []string{"changed frames sedge upright.height_cm: 182 -> 180"}},
		"a zone":      {func(c *catalog.Catalogue) { c.Frames[0].Zones[1].Rating = 0 }, []string{"changed frames sedge zones[1].rating_kg: 60 -> 0"}},
		"a rating":    {func(c *catalog.Catalogue) { c.Frames[0].Combined[0].Rating = 74000 }, []string{"changed frames sedge combined[0].rating_kg: 75 -> 74"}},
		"a capacity":  {func(c *catalog.Catalogue) { c.Frames[0].Mounts[0].Capacity = 64 }, []string{"changed frames sedge mounts[0].capacity: 63 -> 64"}},
		"needs":       {func(c *catalog.Catalogue) { c.AddOns[0].Places[0].Needs = nil }, []string{`changed add_ons seat-rear places[0].needs: [["wheel_guard"]] -> []`}},
		"first place": {func(c *catalog.Catalogue) { c.AddOns[0].Places = nil }, []string{`removed add_ons seat-rear places[0]: {"kind": "harnessed", "min_months": 12,  -> `}},
		"a zone put first": {func(c *catalog.Catalogue) {
			c.Frames[0].Zones = append([]catalog.Zone{{Code: "box"}}, c.Frames[0].Zones...)
			c.Frames[0].Zones[2].Rating = 61000
		}, []string{"changed frames sedge zones[1].rating_kg: 60 -> 61", `added frames sedge zones[0]:  -> {"code": "box", "rating_kg": 0, "ahead_o`}},
		"zones turned": {func(c *catalog.Catalogue) { slices.Reverse(c.Frames[0].Zones) }, []string{`changed frames sedge zones: ["front", "rear"] -> ["rear", "front"]`}},
		"a pair":       {func(c *catalog.Catalogue) { *on(c).FittingMinutes = 0 }, []string{"changed add_ons seat-rear on_frame.sedge.fitting_minutes: 40 -> 0"}},
		"a pair left alone": {func(c *catalog.Catalogue) { p := on(c); p.FittingMinutes = nil; c.AddOns[0].OnFrame["sedge"] = *p },
			[]string{"removed add_ons seat-rear on_frame.sedge.fitting_minutes: 40 -> "}},
		"another code": {func(c *catalog.Catalogue) { c.Units[0].Tag = "D-015" },
			[]string{`removed units D-014 : {"tag": "D-014", "frame": "sedge", "kind -> `, `added units D-015 :  -> {"tag": "D-015", "frame": "sedge", "kind`}},
		"frames turned": {func(c *catalog.Catalogue) { slices.Reverse(c.Frames) }, []string{`moved frames  : ["sedge", "osier"] -> ["osier", "sedge"]`}},
		"a frame between": {func(c *catalog.Catalogue) {
			f := c.Frames[1]
			f.Code = "teasel"
			c.Frames = slices.Insert(c.Frames, 1, f)
		}, []string{`added frames teasel :  -> {"code": "teasel", "name": "Osier", "fam`}},
	} {
		old, new := small(), small()
		c.change(new)
		var got []string
		for _, change := range compare(t, old, new) {
			got = append(got, line(change))
			if change.Whole() != (strings.HasSuffix(change.Code, "-014") && name == "another code" || change.Code == "D-015" || change.Code == "teasel") {
				t.Errorf("%s: %v is whole or not", name, change)
			}
		}
		if diff := cmp.Diff(c.want, got); diff != "" {
			t.Errorf("%s: %s", name, diff)
		}
	}
}

func on(c *catalog.Catalogue) *catalog.Pair { p := c.AddOns[0].OnFrame["sedge"]; return &p }

// positionForm is the position of an entry, which depends on the list it is counted in.
var positionForm = regexp.MustCompile(`\[[0-9]+\]`)

// TestCompareLaws holds that a catalogue does not differ from itself, that any
// two with different documents differ, and that the way back is the way there
// turned round.
func TestCompareLaws(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		a, b := drawCatalogue(t), drawCatalogue(t)
		if changes := compare(t, a, a); len(changes) != 0 {
			t.Errorf("against itself: %v", changes)
		}
		there, back := compare(t, a, b), compare(t, b, a)
		documentA, errA := a.Document()
		documentB, errB := b.Document()
		if errA != nil || errB != nil || (len(there) == 0) != (string(documentA) == string(documentB)) {
			t.Errorf("%d changes, %v %v", len(there), errA, errB)
		}
		if again := compare(t, a, b); !reflect.DeepEqual(there, again) {
			t.Errorf("another order: %s", cmp.Diff(there, again))
		}
		turned := func(changes []catalog.Change, turn bool) []string {
			var all []string
			for _, c := range changes {
				if turn {
					c.Old, c.New = c.New, c.Old
				}
				all = append(all, fmt.Sprint(c.Kind(), c.List, c.Code, positionForm.ReplaceAllString(c.Field, "[]"), "\n", c.Old, "\n", c.New))
			}
			slices.Sort(all)
			return all
		}
		if diff := cmp.Diff(turned(there, false), turned(back, true)); diff != "" {
			t.Errorf("the way back: %s", diff)
		}
	})
}

// TestCompareFindsOneFigure changes one figure of a drawn catalogue and looks
// for exactly that.
func TestCompareFindsOneFigure(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		a := drawCatalogue(t)
		document, err := a.Document()
		if err != nil {
			t.Fatal(err)
		}
		b, err := catalog.Parse(document)
		if err != nil {
			t.Fatal(err)
		}
		var want []catalog.Change
		if len(b.Frames) > 0 {
			i := rapid.IntRange(0, len(b.Frames)-1).Draw(t, "frame")
			f := &b.Frames[i]
			z := rapid.IntRange(0, len(f.Zones)-1).Draw(t, "zone")
			want = append(want, catalog.Change{List: "frames", Code: f.Code, Field: fmt.Sprintf("zones[%d].height_cm", z),
				Old: centimetres(f.Zones[z].Height), New: centimetres(f.Zones[z].Height + 1)})
			f.Zones[z].Height++
		}
		if got := compare(t, a, b); !reflect.DeepEqual(got, want) {
			t.Errorf("%v, want %v", got, want)
		}
	})
}

func centimetres(l measure.Length) string {
	text, _ := l.MarshalJSON()
	return string(text)
}

func BenchmarkCompare(b *testing.B) {
	sizes(b, func(c *catalog.Catalogue) func() error {
		other := *c
		other.AddOns = slices.Clone(c.AddOns)
		for i := range other.AddOns {
			other.AddOns[i].Weight++
		}
		return func() error {
			changes, err := catalog.Compare(c, &other)
			if len(changes) != len(c.AddOns) {
				return fmt.Errorf("%d changes, %w", len(changes), err)
			}
			return err
		}
	})
}
