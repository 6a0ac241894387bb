package quality_test

import (
	"fmt"
	"math"
	"slices"
	"strings"
	"testing"

	"kinwain/internal/catalog"
	"kinwain/internal/measure"
	"kinwain/internal/quality"
	"kinwain/testdata"
)

const kg, cm = measure.Kilogram, measure.Centimetre

// frame states everything and has one mount, for the rack.
func frame(code string) catalog.Frame {
	return catalog.Frame{
		Code: code, Name: "Sorrel " + code, Family: "Sorrel " + code, GrossRating: 180 * kg, BareWeight: 25 * kg, RiderMin: 150 * cm, RiderMax: 190 * cm,
		RiderMaxMass: 120 * kg, PassengersMax: 2, Standover: 60 * cm, SaddleMin: 60 * cm, SaddleMax: 80 * cm, Price: 2000_00,
		Length: 190 * cm, Width: 60 * cm, Height: 110 * cm, Wheelbase: 120 * cm, RiderAhead: 30 * cm, BareFrontShare: 45 * measure.Percent,
		FrontAxleRating: 90 * kg, RearAxleRating: 130 * kg, FrontBrake: "hydraulic_disc", RearBrake: "hydraulic_disc",
		Zones: []catalog.Zone{{Code: "rear", Rating: 60 * kg}}, Mounts: []catalog.Mount{{Code: "rail", Capacity: 1}}, Provides: []string{"guard"},
	}
}

func rack(fits ...string) catalog.AddOn {
	return catalog.AddOn{Code: "rack", Name: "Rack", Weight: kg, Fits: fits, Uses: []catalog.Use{{Mount: "rail", Count: 1}}, Zone: "rear"}
}

// shop has one frame and one add-on, and nothing to find.
func shop() *catalog.Catalogue {
	return &catalog.Catalogue{Version: 1, Frames: []catalog.Frame{frame("a")}, AddOns: []catalog.AddOn{rack("a")},
		Units: []catalog.Unit{{Tag: "D-1", Frame: "a", Fitted: []string{"rack"}}}}
}

func seat(p catalog.Place) func(*catalog.Catalogue) {
	return func(c *catalog.Catalogue) { c.AddOns[0].Places = []catalog.Place{p} }
}

func family(of func(f *catalog.Frame, i int)) func(*catalog.Catalogue) {
	return func(c *catalog.Catalogue) {
		c.Frames = nil
		for i := range 5 {
			f := frame(string(rune('a' + i)))
			f.Family = "Sorrel"
			f.RiderMin += measure.Length(i) // or they would be alike
			of(&f, i)
			c.Frames = append(c.Frames, f)
			c.AddOns[0].Fits = append(c.AddOns[0].Fits, f.Code)
		}
	}
}

func TestFindings(t *testing.T) {
	t.Parallel()
	for name, test := range map[string]struct {
		spoil func(*catalog.Catalogue)
		want  []string // code list/thing#field
	}{
		"nothing":             {func(*catalog.Catalogue) {}, nil},
		"no gross rating":     {func(c *catalog.Catalogue) { c.Frames[0].GrossRating = 0 }, []string{"gross_missing frames/a#gross_rating_kg"}},
		"a zone at the gross": {func(c *catalog.Catalogue) { c.Frames[0].Zones[0].Rating = 180 * kg }, nil},
		"a zone over it":      {func(c *catalog.Catalogue) { c.Frames[0].Zones[0].Rating = 180*kg + 1 }, []string{"over_gross frames/a#zones[0].rating_kg"}},
		"zones over it": {func(c *catalog.Catalogue) {
			c.Frames[0].Combined = []catalog.Combined{{Zones: []string{"rear"}, Rating: 200 * kg}}
		}, []string{"over_gross frames/a#combined[0].rating_kg"}},
		"fits nothing": {func(c *catalog.Catalogue) {
			c.AddOns = append(c.AddOns, catalog.AddOn{Code: "bag", Name: "Bag"})
		}, []string{"fits_nothing add_ons/bag#fits"}},
		"only comes with a frame": {func(c *catalog.Catalogue) {
			c.AddOns = append(c.AddOns, catalog.AddOn{Code: "bag", Name: "Bag"})
			c.Frames[0].ComesWith = []string{"bag"}
		}, nil},
		"a need of the frame": {func(c *catalog.Catalogue) { c.AddOns[0].Needs = [][]string{{"guard", "x"}} }, nil},
		"a need of nobody":    {func(c *catalog.Catalogue) { c.AddOns[0].Needs = [][]string{{"guard"}, {"x", "y"}} }, []string{"need_never_met add_ons/rack#needs[1]"}},
		"a need that it excludes": {func(c *catalog.Catalogue) {
			c.AddOns = append(c.AddOns, catalog.AddOn{Code: "bag", Name: "Bag", Fits: []string{"a"}, Excludes: []string{"rack"}})
			c.AddOns[0].Needs = [][]string{{"bag"}}
		}, []string{"need_never_met add_ons/rack#needs[0]"}},
		"room that is not there": {func(c *catalog.Catalogue) { c.AddOns[0].DisplacesCargo = 1 * kg }, []string{"displaces_nothing add_ons/rack#displaces_kg"}},
		"room that is there": {func(c *catalog.Catalogue) {
			c.AddOns[0].DisplacesVolume, c.AddOns[0].DisplacesCargo = 1, 1*kg
			c.Frames[0].Zones[0].Cargo, c.Frames[0].Zones[0].CargoVolume = 1*kg, 1
		}, nil},
		"more room than there is": {func(c *catalog.Catalogue) {
			c.AddOns[0].DisplacesVolume, c.AddOns[0].DisplacesCargo = 2, 1*kg+1
			c.Frames[0].Zones[0].Cargo, c.Frames[0].Zones[0].CargoVolume = 1*kg, 1
		}, []string{"displaces_more add_ons/rack#displaces_kg", "displaces_more add_ons/rack#displaces_litres"}},
		"a stand for the bike": {func(c *catalog.Catalogue) { c.AddOns[0].StandMax = 25 * kg }, nil},
		"a stand for less":     {func(c *catalog.Catalogue) { c.AddOns[0].StandMax = 25*kg - 1 }, []string{"stand_too_weak add_ons/rack#stand_max_kg"}},
		"where its rider sits": {func(c *catalog.Catalogue) {
			c.Frames[0].RiderAhead, c.Frames[0].FrontAxleRating, c.Frames[0].RearAxleRating = 0, 0, 0
		}, []string{"not_stated frames/a#front_axle_max_kg", "not_stated frames/a#rear_axle_max_kg", "not_stated frames/a#rider_ahead_of_rear_axle_cm"}},
		"a place without limits": {seat(catalog.Place{MaxMonths: 96, MinMass: 9 * kg}), []string{"place_no_limits add_ons/rack#places[0].min_months"}},
		"a need of a place":      {seat(catalog.Place{MinMonths: 12, Needs: [][]string{{"x"}}}), []string{"need_never_met add_ons/rack#places[0].needs[0]"}},
		"a need of the frame's place": {func(c *catalog.Catalogue) {
			c.Frames[0].Places = []catalog.Place{{Zone: "rear", MaxMass: 22 * kg, Needs: [][]string{{"x"}}}}
		}, []string{"need_never_met frames/a#places[0].needs[0]"}},
		"a mount for nothing": {func(c *catalog.Catalogue) {
			c.Frames[0].Mounts = append(c.Frames[0].Mounts, catalog.Mount{Code: "peg", Capacity: 1})
		}, []string{"mount_unused frames/a#mounts[1]"}},
		"a strange add-on on a unit": {func(c *catalog.Catalogue) {
			c.Frames = append(c.Frames, frame("b"))
			c.AddOns = append(c.AddOns, catalog.AddOn{Code: "bag", Name: "Bag", Fits: []string{"b"}, Uses: []catalog.Use{{Mount: "rail", Count: 1}}})
			c.Frames[1].RiderMin = 155 * cm
			c.Units[0].Fitted = []string{"rack", "bag"}
		}, []string{"unit_carries units/D-1#fitted[1]"}},
		"too many on a unit": {func(c *catalog.Catalogue) { c.Units[0].Fitted = []string{"rack", "rack", "rack"} }, []string{"unit_carries units/D-1#fitted[1]"}},
		"a unit of no frame": {func(c *catalog.Catalogue) { c.Units[0].Frame = "b" }, []string{"unit_carries units/D-1#frame"}},
		"alike but for the price": {func(c *catalog.Catalogue) {
			c.Frames = append(c.Frames, frame("b"))
			c.Frames[1].Family, c.Frames[1].Price = c.Frames[0].Family, 1
			c.AddOns[0].Fits = []string{"a", "b"}
			c.Frames[1].Manual, c.Frames[1].Names.German, c.Frames[1].NotesIn.Dutch = "https://maker.example/b", "B", "anders"
		}, []string{"frames_alike frames/b#price_cents"}},
		"a slip among the same":    {family(func(f *catalog.Frame, i int) { f.BareWeight += measure.Mass(i/4) * 25 * kg }), []string{"far_out frames/e#bare_weight_kg"}},
		"a little among the same":  {family(func(f *catalog.Frame, i int) { f.BareWeight += measure.Mass(i/4) * 24 * kg }), nil},
		"far from the others":      {family(func(f *catalog.Frame, i int) { f.BareWeight = []measure.Mass{24, 25, 26, 25, 32}[i] * kg }), []string{"far_out frames/e#bare_weight_kg"}},
		"not far enough":           {family(func(f *catalog.Frame, i int) { f.BareWeight = []measure.Mass{24, 25, 26, 25, 30}[i] * kg }), nil},
		"a limit that is missing":  {func(c *catalog.Catalogue) { c.Frames[0].RiderMaxMass = 0 }, []string{"not_stated frames/a#rider_max_kg"}},
		"a zone that is not rated": {func(c *catalog.Catalogue) { c.Frames[0].Zones[0].Rating = 0 }, []string{"not_stated frames/a#zones[0].rating_kg"}},
	} {
		t.Run(name, func(t *testing.T) {
			c := shop()
			test.spoil(c)
			if got := brief(quality.Check(c)); !slices.Equal(got, test.want) {
				t.Errorf("%q, want %q", got, test.want)
			}
		})
	}
}

func brief(list []quality.Finding) []string {
	var all []string
	for _, f := range list {
		all = append(all, fmt.Sprintf("%s %s/%s#%s", f.Code, f.List, f.Thing, f.Field))
	}
	return all
}

// TestPlaces holds limits against percentiles that the CDC has published beside
// its growth reference (2000; testdata/growth has them): at 24 months the 97th
// is 15.59648 kg for boys, the 3rd 9.985668 kg for girls.
func TestPlaces(t *testing.T) {
	t.Parallel()
	for name, test := range map[string]struct {
		place catalog.Place
		field string
	}{
		"usual":              {catalog.Place{MinMonths: 12, MaxMonths: 72, MinMass: 9 * kg, MaxMass: 22 * kg}, ""},
		"no greatest age":    {catalog.Place{MinMonths: 12, MinMass: 60 * kg}, ""},
		"none is so light":   {catalog.Place{MinMonths: 24, MaxMass: 9_980}, "max_kg"},
		"some are so light":  {catalog.Place{MinMonths: 24, MaxMass: 9_990}, ""},
		"too heavy a least":  {catalog.Place{MinMonths: 12, MaxMonths: 24, MinMass: 15_600}, "min_kg"},
		"heavy but possible": {catalog.Place{MinMonths: 12, MaxMonths: 24, MinMass: 15_590}, ""},
		"too light a most":   {catalog.Place{MinMonths: 24, MaxMonths: 72, MaxMass: 9_980}, "max_kg"},
		"light but possible": {catalog.Place{MinMonths: 24, MaxMonths: 72, MaxMass: 9_990}, ""},
		"too tall":           {catalog.Place{MinMonths: 48, MaxMonths: 72, MaxStature: 80 * cm}, "max_stature_cm"},
		"infants only":       {catalog.Place{MaxMonths: 11, MaxMass: 22 * kg}, "max_months"},
		"never both":         {catalog.Place{MinMonths: 12, MaxMonths: 96, MinMass: 25 * kg, MaxStature: 90 * cm}, "max_stature_cm"},
	} {
		t.Run(name, func(t *testing.T) {
			c := shop()
			seat(test.place)(c)
			got, want := brief(quality.Check(c)), []string(nil)
			if test.field != "" {
				want = []string{"place_no_child add_ons/rack#places[0]." + test.field}
			}
			if !slices.Equal(got, want) {
				t.Errorf("%q, want %q", got, want)
			}
		})
	}
}

// TestModifiedZ holds the score of Iglewicz and Hoaglin (1993) against examples
// worked by hand: of 2, 3, 3, 4, 20 the median is 3, the distances from it are
// 1, 0, 0, 1, 17, their median is 1, and so 20 scores 0.6745 × 17 = 11.4665.
func TestModifiedZ(t *testing.T) {
	t.Parallel()
	for _, test := range []struct{ figures, want []float64 }{
		{[]float64{2, 3, 3, 4, 20}, []float64{-0.6745, 0, 0, 0.6745, 11.4665}},
		{[]float64{10, 12, 14, 16}, []float64{-1.01175, -0.33725, 0.33725, 1.01175}}, // median 13, MAD 2
		{[]float64{5, 5, 5, 9}, nil},
		{nil, nil},
	} {
		got := quality.ModifiedZ(test.figures)
		if len(got) != len(test.want) {
			t.Fatalf("%v: %v", test.figures, got)
		}
		for i := range got {
			if math.Abs(got[i]-test.want[i]) > 1e-9 {
				t.Errorf("%v: %v, want %v", test.figures, got, test.want)
			}
		}
	}
}

func TestNeverChosen(t *testing.T) {
	t.Parallel()
	c := shop()
	c.AddOns = append(c.AddOns, catalog.AddOn{Code: "bag", Fits: []string{"a"}}, catalog.AddOn{Code: "bell", Fits: []string{"a"}}, catalog.AddOn{Code: "none"})
	c.Frames[0].ComesWith = []string{"bell"}
	if got := brief(quality.NeverChosen(c, map[string]bool{"rack": true}, 7)); !slices.Equal(got, []string{"never_chosen add_ons/bag#fits"}) {
		t.Errorf("%q", got)
	}
	if got := quality.NeverChosen(c, nil, 0); got != nil {
		t.Errorf("nothing was judged, and yet %v", got)
	}
}

// TestOrder holds that the worst comes first.
func TestOrder(t *testing.T) {
	t.Parallel()
	c := shop()
	c.Frames[0].RiderMaxMass, c.Frames[0].Zones[0].Rating = 0, 300*kg
	c.Frames[0].Mounts = append(c.Frames[0].Mounts, catalog.Mount{Code: "peg"})
	want := []string{"over_gross frames/a#zones[0].rating_kg", "mount_unused frames/a#mounts[1]", "not_stated frames/a#rider_max_kg"}
	if got := brief(quality.Check(c)); !slices.Equal(got, want) {
		t.Errorf("%q, want %q", got, want)
	}
}

// TestDemo looks at the demo shop, in which nothing contradicts itself.
func TestDemo(t *testing.T) {
	t.Parallel()
	c, err := catalog.Parse(testdata.Demo)
	if err != nil {
		t.Fatal(err)
	}
	var looked []string
	gaps := 0
	for _, f := range quality.Check(c) {
		if f.Severity == quality.Gap {
			gaps++
		} else {
			looked = append(looked, brief([]quality.Finding{f})...)
		}
		if !strings.HasSuffix(f.Text, ".") || f.Field == "" {
			t.Errorf("%+v", f)
		}
	}
	want := []string{"mount_unused frames/sedge-s#mounts[3]", "mount_unused frames/knapweed-s#mounts[4]"}
	if !slices.Equal(looked, want) || gaps != 31 {
		t.Errorf("%q and %d gaps, want %q", looked, gaps, want)
	}
}
