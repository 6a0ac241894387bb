package store

import (
	"fmt"
	"slices"
	"testing"

	"pgregory.net/rapid"

	"kinwain/internal/catalog"
	"kinwain/internal/measure"
)

// Whatever passes the check comes back as it was stored, byte for byte and in
// the same order.
func TestAnyCatalogueIsLossless(t *testing.T) {
	t.Parallel()
	s := opened(t, t.TempDir())
	start := rich(t)
	rapid.Check(t, func(r *rapid.T) {
		c := anyCatalogue(r, start)
		if err := c.Check(); err != nil {
			r.Fatalf("the generator makes what is not in order: %v", err)
		}
		if err := s.ReplaceCatalogue(t.Context(), c); err != nil {
			r.Fatal(err)
		}
		want, err := c.Document()
		if err != nil {
			r.Fatal(err)
		}
		stored, err := s.Catalogue(t.Context())
		if err != nil {
			r.Fatal(err)
		}
		got, err := stored.Document()
		if err != nil {
			r.Fatal(err)
		}
		if string(got) != string(want) {
			r.Fatalf("stored\n%s\nread\n%s", want, got)
		}
	})
}

func anyCatalogue(r *rapid.T, start *catalog.Catalogue) *catalog.Catalogue {
	c := &catalog.Catalogue{Version: 1, Shop: start.Shop}
	c.Shop.Name = "x" + rapid.StringN(0, 50, 400).Draw(r, "shop")
	var frameCodes, addOnCodes []string
	for i := range rapid.IntRange(0, 4).Draw(r, "frames") {
		frameCodes = append(frameCodes, fmt.Sprintf("f%d", i))
	}
	for i := range rapid.IntRange(0, 4).Draw(r, "add-ons") {
		addOnCodes = append(addOnCodes, fmt.Sprintf("a%d", i))
	}
	frameCodes, addOnCodes = rapid.Permutation(frameCodes).Draw(r, "frame order"), rapid.Permutation(addOnCodes).Draw(r, "add-on order")
	for _, code := range frameCodes {
		c.Frames = append(c.Frames, anyFrame(r, code, start.Frames[0]))
	}
	for _, code := range addOnCodes {
		c.AddOns = append(c.AddOns, anyAddOn(r, code, frameCodes, addOnCodes))
	}
	if len(frameCodes) > 0 {
		for i := range rapid.IntRange(0, 4).Draw(r, "units") {
			c.Units = append(c.Units, anyUnit(r, fmt.Sprintf("U-%d", 9-i), frameCodes, addOnCodes))
		}
	}
	return c
}

func anyFrame(r *rapid.T, code string, start catalog.Frame) catalog.Frame {
	f := start
	f.Code, f.Notes, f.ComesWith = code, rapid.StringN(0, 200, 2000).Draw(r, "notes"), nil
	f.RiderAhead = measure.Length(rapid.IntRange(-500, 2500).Draw(r, "rider ahead"))
	f.BareFrontShare = measure.Share(rapid.IntRange(0, 10000).Draw(r, "front share"))
	f.OddWheel = rapid.Bool().Draw(r, "odd wheel")
	if rapid.Bool().Draw(r, "cannot stand") {
		f.Upright = catalog.Box{}
	}
	f.Chainrings = rapid.SliceOfN(rapid.IntRange(10, 80), 0, 3).Draw(r, "chainrings")
	f.Sprockets = rapid.SliceOfN(rapid.IntRange(8, 60), 0, 12).Draw(r, "sprockets")
	f.Zones = rapid.Permutation(f.Zones).Draw(r, "zones")
	f.Mounts = some(r, f.Mounts, "mounts")
	f.Combined = some(r, f.Combined, "combined")
	f.Places = some(r, f.Places, "places")
	f.Provides = some(r, f.Provides, "provides")
	return f
}

func anyAddOn(r *rapid.T, code string, frameCodes, addOnCodes []string) catalog.AddOn {
	a := catalog.AddOn{
		Code: code, Name: "x" + rapid.StringN(0, 20, 70).Draw(r, "name"),
		Weight:   measure.Mass(rapid.IntRange(1, 100_000).Draw(r, "weight")),
		Price:    measure.Money(rapid.IntRange(0, 10_000_000).Draw(r, "price")),
		Fits:     some(r, frameCodes, "fits"),
		Needs:    rapid.SliceOfN(rapid.SliceOfN(rapid.SampledFrom([]string{"tag", "other_tag", "a0"}), 1, 3), 0, 4).Draw(r, "needs"),
		Provides: rapid.SliceOfN(rapid.SampledFrom([]string{"tag", "other_tag"}), 0, 3).Draw(r, "provides"),
		UpTo:     rapid.IntRange(0, 8).Draw(r, "up to"),
	}
	a.Excludes = slices.DeleteFunc(some(r, addOnCodes, "excludes"), func(other string) bool { return other == code })
	for _, frame := range a.Fits {
		if rapid.Bool().Draw(r, "pair") {
			if a.OnFrame == nil {
				a.OnFrame = map[string]catalog.Pair{}
			}
			a.OnFrame[frame] = anyPair(r)
		}
	}
	return a
}

func anyPair(r *rapid.T) catalog.Pair {
	length := rapid.Ptr(rapid.Map(rapid.IntRange(0, 2000), func(n int) measure.Length { return measure.Length(n) }), true)
	return catalog.Pair{
		FittingMinutes: rapid.Ptr(rapid.IntRange(0, 24*60), true).Draw(r, "minutes"),
		MaxLoad:        rapid.Ptr(rapid.Map(rapid.IntRange(0, 400_000), func(n int) measure.Mass { return measure.Mass(n) }), true).Draw(r, "load"),
		FrontOverhang:  length.Draw(r, "front"),
		RearOverhang:   length.Draw(r, "rear"),
		OverallWidth:   length.Draw(r, "width"),
		OverallHeight:  length.Draw(r, "height"),
		BlocksUpright:  rapid.Ptr(rapid.Bool(), true).Draw(r, "blocks"),
		Note:           rapid.StringN(0, 20, 500).Draw(r, "note"),
	}
}

func anyUnit(r *rapid.T, tag string, frameCodes, addOnCodes []string) catalog.Unit {
	u := catalog.Unit{
		Tag: tag, Frame: rapid.SampledFrom(frameCodes).Draw(r, "frame"),
		Kind:      rapid.SampledFrom(catalog.UnitKinds).Draw(r, "kind"),
		Status:    rapid.SampledFrom(catalog.UnitStatuses).Draw(r, "status"),
		Colour:    rapid.StringN(0, 20, 60).Draw(r, "colour"),
		WeighedOn: anyDate(r),
		Odometer:  catalog.Kilometres(rapid.IntRange(0, 1_000_000).Draw(r, "odometer")),
	}
	if len(addOnCodes) > 0 {
		u.Fitted = rapid.SliceOfN(rapid.SampledFrom(addOnCodes), 0, 4).Draw(r, "fitted")
	}
	if !u.WeighedOn.IsZero() {
		u.Weighed = measure.Mass(rapid.IntRange(5_000, 250_000).Draw(r, "weighed"))
	}
	return u
}

// anyDate returns a day, a month, or no date.
func anyDate(r *rapid.T) measure.Date {
	month := measure.Month(rapid.IntRange(12, 12*9999+11).Draw(r, "month"))
	switch rapid.IntRange(0, 2).Draw(r, "date") {
	case 0:
		return measure.Date{}
	case 1:
		return measure.Date{Year: month.Year(), Month: month.Month()}
	}
	return rapid.SampledFrom([]measure.Date{month.First(), month.Last()}).Draw(r, "day")
}

// some returns some of the items in some order.
func some[T any](r *rapid.T, items []T, label string) []T {
	if len(items) == 0 {
		return nil
	}
	all := rapid.Permutation(items).Draw(r, label)
	return all[:rapid.IntRange(0, len(all)).Draw(r, label+" count")]
}
