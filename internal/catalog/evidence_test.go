package catalog_test

import (
	"slices"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
	"pgregory.net/rapid"

	"kinwain/internal/catalog"
	"kinwain/internal/measure"
)

// plate is a rating plate that was read of a figure.
func plate(figure string) catalog.Evidence {
	return catalog.Evidence{Figure: figure, Kind: "rating_plate", On: measure.Date{Year: 2026, Month: 3, Day: 12}, By: "M."}
}

func TestFaultsOfEvidence(t *testing.T) {
	of := func(all ...catalog.Evidence) func(c *catalog.Catalogue) {
		return func(c *catalog.Catalogue) { c.Frames[0].Evidence = all }
	}
	kind, day, link, photo, here := plate("gross_rating_kg"), plate("gross_rating_kg"), plate("gross_rating_kg"), plate("gross_rating_kg"), plate("gross_rating_kg")
	kind.Kind, day.On, link.Link, photo.Photo = "hearsay", measure.Date{}, "the drawer", "IMG_0001.JPG"
	here.Photo = "00112233445566778899aabbccddeeff"
	holds(t, []fault{
		{"a rating", of(plate("gross_rating_kg")), is()},
		{"everything", func(c *catalog.Catalogue) {
			for _, list := range []string{"frames", "add_ons", "units"} {
				for _, thing := range c.Things(list) {
					for _, f := range catalog.Figures(list, thing.Of) {
						*catalog.EvidenceOf(thing.Of) = append(*catalog.EvidenceOf(thing.Of), plate(f.Path))
					}
				}
			}
		}, is()},
		{"of nothing", of(plate("")), is("frames[0].evidence[0].figure missing")},
		{"of a figure that has none", of(plate("price_cents")), is("frames[0].evidence[0].figure not_found")},
		{"of a zone that is not there", of(plate("zones[side].rating_kg")), is("frames[0].evidence[0].figure not_found")},
		{"of what is not stated", func(c *catalog.Catalogue) { c.Frames[1].Evidence = []catalog.Evidence{plate("rider_max_kg")} }, is("frames[1].evidence[0].figure not_found")},
		{"of a frame that it does not fit", func(c *catalog.Catalogue) { c.AddOns[0].Evidence = []catalog.Evidence{plate("fits[osier]")} }, is("add_ons[0].evidence[0].figure not_found")},
		{"twice", of(plate("gross_rating_kg"), plate("gross_rating_kg")), is("frames[0].evidence[1].figure duplicate")},
		{"of no kind", of(kind), is("frames[0].evidence[0].kind not_one_of")},
		{"of no day", of(day), is("frames[0].evidence[0].on missing")},
		{"nowhere on the web", of(link), is("frames[0].evidence[0].link out_of_range")},
		{"a photo that nobody has", of(here), is()},
		{"a photo by the name of its file", of(photo), is("frames[0].evidence[0].photo out_of_range")},
	})
}

// TestEvidenceIsNotOfTomorrow holds a day against today, and a month against
// the month of today.
func TestEvidenceIsNotOfTomorrow(t *testing.T) {
	for _, step := range []struct {
		on, today measure.Date
		want      []string
	}{
		{measure.Date{Year: 2026, Month: 3, Day: 12}, measure.Date{Year: 2026, Month: 3, Day: 12}, is()},
		{measure.Date{Year: 2026, Month: 3, Day: 13}, measure.Date{Year: 2026, Month: 3, Day: 12}, is("frames[0].evidence[0].on out_of_range")},
		{measure.Date{Year: 2026, Month: 3}, measure.Date{Year: 2026, Month: 3, Day: 1}, is()},
		{measure.Date{Year: 2026, Month: 4}, measure.Date{Year: 2026, Month: 3, Day: 31}, is("frames[0].evidence[0].on out_of_range")},
	} {
		c := small()
		c.Frames[0].Evidence = []catalog.Evidence{plate("gross_rating_kg")}
		c.Frames[0].Evidence[0].On = step.on
		if diff := cmp.Diff(step.want, faults(t, c.CheckOn(step.today))); diff != "" {
			t.Errorf("%v on %v: %s", step.on, step.today, diff)
		}
	}
}

// TestCarry changes a figure and what is said of where it comes from, and holds
// which sources are left.
func TestCarry(t *testing.T) {
	again := plate("gross_rating_kg")
	again.By = "N."
	anew := plate("gross_rating_kg")
	anew.Anew = true
	kept := []string{"combined[front+rear].rating_kg", "gross_rating_kg", "places[0].max_kg", "zones[rear].rating_kg"}
	but := func(figure string) []string {
		return slices.DeleteFunc(slices.Clone(kept), func(f string) bool { return f == figure })
	}
	for name, step := range map[string]struct {
		change func(f *catalog.Frame)
		want   []string
	}{
		"nothing":                        {func(*catalog.Frame) {}, kept},
		"the price":                      {func(f *catalog.Frame) { f.Price++ }, kept},
		"a figure":                       {func(f *catalog.Frame) { f.GrossRating++ }, but("gross_rating_kg")},
		"a figure that nobody states":    {func(f *catalog.Frame) { f.Zones[1].Rating = 0 }, but("zones[rear].rating_kg")},
		"a zone by its name":             {func(f *catalog.Frame) { slices.Reverse(f.Zones) }, kept},
		"a zone that goes":               {func(f *catalog.Frame) { f.Zones = f.Zones[:1] }, but("zones[rear].rating_kg")},
		"a place that goes":              {func(f *catalog.Frame) { f.Places = nil }, but("places[0].max_kg")},
		"another limit of the place":     {func(f *catalog.Frame) { f.Places[0].MinMonths++ }, kept},
		"silence":                        {func(f *catalog.Frame) { f.Evidence = nil }, kept},
		"silence and a figure":           {func(f *catalog.Frame) { f.Evidence, f.GrossRating = nil, 170*kg }, but("gross_rating_kg")},
		"no source any more":             {func(f *catalog.Frame) { f.Evidence = []catalog.Evidence{} }, nil},
		"a figure with another source":   {func(f *catalog.Frame) { f.GrossRating++; f.Evidence[1] = again }, kept},
		"a figure with the same, anew":   {func(f *catalog.Frame) { f.GrossRating++; f.Evidence[1] = anew }, kept},
		"a source beside another figure": {func(f *catalog.Frame) { f.Price++; f.Evidence[1] = again }, kept},
	} {
		before, after := small(), small()
		for _, c := range []*catalog.Catalogue{before, after} {
			for _, figure := range kept {
				c.Frames[0].Evidence = append(c.Frames[0].Evidence, plate(figure))
			}
		}
		step.change(&after.Frames[0])
		got := catalog.Carry(before, after)
		var figures []string
		for _, e := range got.Frames[0].Evidence {
			figures = append(figures, e.Figure)
		}
		if diff := cmp.Diff(step.want, figures); diff != "" {
			t.Errorf("%s: %s", name, diff)
		}
		if diff := cmp.Diff(got, catalog.Carry(before, got)); diff != "" {
			t.Errorf("%s: a second time there is another: %s", name, diff)
		}
	}
}

// TestCarryOfPairs holds that what fits, and what differs there, have sources
// of their own.
func TestCarryOfPairs(t *testing.T) {
	before, after := small(), small()
	before.AddOns[0].Evidence = []catalog.Evidence{plate("fits[sedge]"), plate("on_frame.sedge")}
	pair := after.AddOns[0].OnFrame["sedge"]
	pair.Note = "only told"
	after.AddOns[0].OnFrame["sedge"] = pair
	if got := catalog.Carry(before, after).AddOns[0].Evidence; len(got) != 2 {
		t.Errorf("after a note %v", got)
	}
	pair.MaxLoad = pointer(21 * kg)
	after.AddOns[0].OnFrame["sedge"] = pair
	if got := catalog.Carry(before, after).AddOns[0].Evidence; len(got) != 1 || got[0].Figure != "fits[sedge]" {
		t.Errorf("after another limit %v", got)
	}
	after.AddOns[0].Fits, after.AddOns[0].OnFrame = nil, nil
	if got := catalog.Carry(before, after).AddOns[0].Evidence; len(got) != 0 {
		t.Errorf("on no frame %v", got)
	}
}

// TestCarryLeavesBothAsTheyAre holds that neither catalogue is changed, and
// that what is carried is in order wherever both are.
func TestCarryLeavesBothAsTheyAre(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		a, b := drawCatalogue(t), drawCatalogue(t)
		wasA, wasB := documentOf(t, a), documentOf(t, b)
		got := catalog.Carry(a, b)
		if documentOf(t, a) != wasA || documentOf(t, b) != wasB {
			t.Error("one of them is another one")
		}
		if err := got.Check(); err != nil {
			t.Error(err)
		}
	})
}

// TestSourcesInTheHistory changes a figure with its source, and takes that back.
func TestSourcesInTheHistory(t *testing.T) {
	old, new := small(), small()
	old.Frames[0].Evidence = []catalog.Evidence{plate("zones[rear].rating_kg")}
	new.Frames[0].Zones[1].Rating = 50 * kg
	new = catalog.Carry(old, new)
	edits, err := catalog.Edits(old, new)
	if err != nil || len(edits) != 2 {
		t.Fatalf("%v, %v", edits, err)
	}
	figure, source := edits[0], edits[1]
	if source.Path() != "frames[sedge].evidence[zones/rear/rating_kg]" || source.New != "" || source.Evidence() != "zones[rear].rating_kg" || figure.Evidence() != "" {
		t.Errorf("%v", edits)
	}
	if beside := figure.Beside(edits); !slices.Equal(beside, edits[1:]) {
		t.Errorf("beside the figure %v", beside)
	}
	if beside := source.Beside(edits); beside != nil {
		t.Errorf("beside the source %v", beside)
	}
	back, err := catalog.Apply(new, []catalog.Change{figure.Reversed(), source.Reversed()})
	if err != nil {
		t.Fatal(err)
	}
	if diff := cmp.Diff(documentOf(t, old), documentOf(t, catalog.Carry(new, back))); diff != "" {
		t.Error(diff)
	}
}

// TestOneSourceIsOneFact holds that another day and kind of a source are one
// change, which nobody takes apart.
func TestOneSourceIsOneFact(t *testing.T) {
	old, new := small(), small()
	old.Frames[0].Evidence, new.Frames[0].Evidence = []catalog.Evidence{plate("gross_rating_kg")}, []catalog.Evidence{plate("gross_rating_kg")}
	new.Frames[0].Evidence[0].Kind, new.Frames[0].Evidence[0].On.Day = "manual", 20
	edits, err := catalog.Edits(old, new)
	if err != nil || len(edits) != 1 || !strings.Contains(edits[0].New, `"kind": "manual", "on": "2026-03-20"`) {
		t.Errorf("%v, %v", edits, err)
	}
}

// TestAnotherSourceTouchesNothing notes, of a figure that has a source, another
// one with a photo, which asks nobody anything; where the only source goes, it does.
func TestAnotherSourceTouchesNothing(t *testing.T) {
	for _, figure := range []string{"gross_rating_kg", "zones[rear].rating_kg"} {
		old, new := small(), small()
		old.Frames[0].Evidence, new.Frames[0].Evidence = []catalog.Evidence{plate(figure)}, []catalog.Evidence{plate(figure)}
		now := &new.Frames[0].Evidence[0]
		now.Kind, now.On.Day, now.Photo = "manual", 20, "00112233445566778899aabbccddeeff"
		if touch, err := catalog.Touched(old, new); err != nil || !touch.Nothing() {
			t.Errorf("another source of %s touches %v, %v", figure, touch.Frames, err)
		}
		if touch, err := catalog.Touched(old, small()); err != nil || !slices.Equal(touch.Frames, []string{"sedge"}) {
			t.Errorf("no source of %s touches %v, %v", figure, touch.Frames, err)
		}
	}
}

// TestSourcesOfAddOnsTouchMatches holds the same of what an add-on carries.
func TestSourcesOfAddOnsTouchMatches(t *testing.T) {
	for figure, want := range map[string][]string{"max_load_kg": {"sedge"}, "on_frame.sedge": {"sedge"}, "weight_kg": nil, "fits[sedge]": nil} {
		old, new := small(), small()
		for _, c := range []*catalog.Catalogue{old, new} {
			c.AddOns[0].MaxLoad = 20 * kg
		}
		new.AddOns[0].Evidence = []catalog.Evidence{plate(figure)}
		touch, err := catalog.Touched(old, new)
		if err != nil || !slices.Equal(touch.Frames, want) {
			t.Errorf("%s touches %v, %v", figure, touch.Frames, err)
		}
	}
}

// TestPictured lists the photos that sources name, and loses none on the way
// through a document.
func TestPictured(t *testing.T) {
	c := small()
	noted := plate("gross_rating_kg")
	noted.Photo = "00112233445566778899aabbccddeeff"
	c.Frames[0].Evidence = []catalog.Evidence{noted, plate("zones[rear].rating_kg")}
	again, err := catalog.Parse([]byte(documentOf(t, c)))
	if err != nil {
		t.Fatal(err)
	}
	want := []catalog.Pictured{{List: "frames", Code: "sedge", Figure: "gross_rating_kg", Photo: noted.Photo}}
	if got := again.Pictured(); !slices.Equal(got, want) {
		t.Errorf("%v", got)
	}
}

// TestSourcesTouchMatches holds that the source of what a match holds loads
// against touches its frame, and that of anything else does not.
func TestSourcesTouchMatches(t *testing.T) {
	for figure, want := range map[string][]string{
		"gross_rating_kg": {"sedge"}, "zones[rear].rating_kg": {"sedge"}, "places[0].max_kg": {"sedge"}, "places[0].min_months": {"sedge"},
		"bare_weight_kg": nil, "rider_min_cm": nil, "zones[front].cargo_kg": nil,
	} {
		old, new := small(), small()
		new.Frames[0].Evidence = []catalog.Evidence{plate(figure)}
		touch, err := catalog.Touched(old, new)
		if err != nil || !slices.Equal(touch.Frames, want) {
			t.Errorf("%s touches %v, %v", figure, touch.Frames, err)
		}
	}
}
