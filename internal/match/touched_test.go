package match_test

import (
	"maps"
	"slices"
	"testing"

	"kinwain/internal/catalog"
	"kinwain/internal/match"
	"kinwain/internal/measure"
	"kinwain/testdata"
)

func TestTouched(t *testing.T) {
	t.Parallel()
	parse := func() *catalog.Catalogue {
		c, err := catalog.Parse(testdata.Demo)
		if err != nil {
			t.Fatal(err)
		}
		return c
	}
	every := []string{}
	for _, f := range parse().Frames {
		every = append(every, f.Code)
	}
	seat := parse().AddOn("seat-rear")
	for name, test := range map[string]struct {
		change func(*catalog.Catalogue)
		want   []string
	}{
		"nothing":             {func(*catalog.Catalogue) {}, nil},
		"where a unit is":     {func(c *catalog.Catalogue) { c.Units[0].Status, c.Units[0].Odometer = "reserved", 9 }, nil},
		"a unit that is sold": {func(c *catalog.Catalogue) { c.Units[0].Status = "sold" }, nil},
		"a unit's own price":  {func(c *catalog.Catalogue) { c.Units[0].Price = 1 }, nil},
		"a unit for stock":    {func(c *catalog.Catalogue) { c.Units[0].Kind = "stock" }, nil},
		"what is on a unit":   {func(c *catalog.Catalogue) { c.Units[0].Fitted = append(slices.Clone(c.Units[0].Fitted), "box-deck") }, nil},
		"the shop's name":     {func(c *catalog.Catalogue) { c.Shop.Name = "Other" }, nil},
		"labour":              {func(c *catalog.Catalogue) { c.Shop.LabourPerHour++ }, every},
		"currency":            {func(c *catalog.Catalogue) { c.Shop.Currency = "CHF" }, every},
		"a frame":             {func(c *catalog.Catalogue) { c.Frame("osier-m").Zones[0].Rating -= measure.Kilogram }, []string{"osier-m"}},
		"an add-on":           {func(c *catalog.Catalogue) { c.AddOn("seat-rear").Weight++ }, seat.Fits},
		"less that it fits":   {func(c *catalog.Catalogue) { c.AddOn("seat-rear").Fits = seat.Fits[1:] }, seat.Fits[:1]},
		"what it is called":   {func(c *catalog.Catalogue) { c.AddOn("seat-rear").Name, c.Frame("osier-m").Notes = "Seat", "New." }, nil},
		"on one frame":        {func(c *catalog.Catalogue) { *c.AddOn("seat-rear") = onOne(*c.AddOn("seat-rear"), seat.Fits[0]) }, seat.Fits[:1]},
		"what it comes with":  {func(c *catalog.Catalogue) { c.AddOn("stand-one-leg").Weight++ }, nil},
	} {
		t.Run(name, func(t *testing.T) {
			before, after := parse(), parse()
			test.change(after)
			touch, err := catalog.Touched(before, after)
			if err != nil {
				t.Fatal(err)
			}
			got := touch.Frames
			first := map[bool][]string{true: {before.Units[0].Tag}}
			both := name == "what is on a unit" || name == "a unit that is sold"
			if units := first[both || name == "a unit's own price"]; !slices.Equal(touch.Units, units) {
				t.Errorf("promised units %v, want %v", touch.Units, units)
			}
			if units := first[both || name == "a unit for stock"]; !slices.Equal(touch.Ridden, units) {
				t.Errorf("units to ride %v, want %v", touch.Ridden, units)
			}
			if name == "what it comes with" {
				if !slices.Contains(got, "sedge") {
					t.Errorf("%v lack the frame that it comes with", got)
				}
				return
			}
			slices.Sort(got)
			if want := slices.Sorted(slices.Values(test.want)); !slices.Equal(got, want) {
				t.Errorf("%v, want %v", got, want)
			}
		})
	}
}

// TestUntouchedFramesStayAsTheyAre holds for every sample customer that
// nothing changes for a frame which Touched leaves out.
func TestUntouchedFramesStayAsTheyAre(t *testing.T) {
	t.Parallel()
	before, err := catalog.Parse(testdata.Demo)
	if err != nil {
		t.Fatal(err)
	}
	after, err := catalog.Parse(testdata.Demo)
	if err != nil {
		t.Fatal(err)
	}
	after.Frame("osier-m").GrossRating -= 20 * measure.Kilogram
	after.AddOn("seat-rear").Price += 10_00
	tray := after.AddOn("tray-front")
	tray.Fits = tray.Fits[1:]
	touch, err := catalog.Touched(before, after)
	touched := touch.Frames
	if err != nil || len(touched) == 0 || len(touched) == len(before.Frames) {
		t.Fatalf("%v, %v", touched, err)
	}
	changed := 0
	_, customers := demo(t)
	for name, p := range customers {
		for i := range before.Frames {
			f := &before.Frames[i]
			old, err := match.One(t.Context(), before, f, p, match.DefaultSettings(), match.Options{})
			if err != nil {
				t.Fatal(err)
			}
			new, err := match.One(t.Context(), after, after.Frame(f.Code), p, match.DefaultSettings(), match.Options{})
			if err != nil {
				t.Fatal(err)
			}
			same := old.Verdict == new.Verdict && old.Total == new.Total && (old.Horizon == nil) == (new.Horizon == nil) && (old.Horizon == nil || *old.Horizon == *new.Horizon)
			if !same {
				changed++
			}
			if !same && !slices.Contains(touched, f.Code) {
				t.Errorf("%s: %s is not touched and yet changes", name, f.Code)
			}
		}
	}
	if changed == 0 {
		t.Error("nothing changes at all")
	}
}

// onOne gives an add-on another weight over all on one frame.
func onOne(a catalog.AddOn, frame string) catalog.AddOn {
	most := 7 * measure.Kilogram
	a.OnFrame = maps.Clone(a.OnFrame)
	a.OnFrame[frame] = catalog.Pair{MaxLoad: &most}
	return a
}
