package catalog_test

import (
	"slices"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"kinwain/internal/catalog"
	"kinwain/internal/measure"
	"kinwain/internal/problem"
)

// faults writes every fault of an error as its path and code, and fails where
// it is no list or a sentence is missing.
func faults(t *testing.T, err error) []string {
	t.Helper()
	found := []string{}
	if err == nil {
		return found
	}
	list, ok := err.(problem.List)
	if !ok {
		t.Fatalf("%#v is no list of faults", err)
	}
	for _, p := range list {
		if p.Text == "" || strings.Contains(p.Text, "\n") {
			t.Errorf("%s: %q is not one sentence", p.Path, p.Text)
		}
		found = append(found, p.Path+" "+p.Code)
	}
	return found
}

// fault is a change to the small catalogue and what it must be told.
type fault struct {
	name string
	make func(c *catalog.Catalogue)
	want []string
}

// holds checks every change in memory and through its document.
func holds(t *testing.T, changes []fault) {
	t.Helper()
	for _, change := range changes {
		t.Run(change.name, func(t *testing.T) {
			c := small()
			change.make(c)
			if diff := cmp.Diff(change.want, faults(t, c.Check())); diff != "" {
				t.Errorf("in memory: %s", diff)
			}
			document, err := c.Document()
			if err != nil {
				t.Fatal(err)
			}
			parsed, err := catalog.Parse(document)
			if diff := cmp.Diff(change.want, faults(t, err)); diff != "" {
				t.Errorf("in a document: %s", diff)
			}
			if parsed != nil && err != nil {
				t.Error("a faulty document gives a catalogue")
			}
		})
	}
}

func is(faults ...string) []string { return append([]string{}, faults...) }

func TestShopFaults(t *testing.T) {
	holds(t, []fault{
		{"none", func(*catalog.Catalogue) {}, is()},
		{"another version", func(c *catalog.Catalogue) { c.Version = 2 }, is("catalogue out_of_range")},
		{"no version", func(c *catalog.Catalogue) { c.Version = 0 }, is("catalogue out_of_range")},
		{"blank name", func(c *catalog.Catalogue) { c.Shop.Name = " \t" }, is("shop.name missing")},
		{"long name", func(c *catalog.Catalogue) { c.Shop.Name = strings.Repeat("ü", 121) }, is("shop.name out_of_range")},
		{"longest name", func(c *catalog.Catalogue) { c.Shop.Name = strings.Repeat("ü", 120) }, is()},
		{"small letters", func(c *catalog.Catalogue) { c.Shop.Currency = "eur" }, is("shop.currency not_one_of")},
		{"a sign", func(c *catalog.Catalogue) { c.Shop.Currency = "€" }, is("shop.currency not_one_of")},
		{"four letters", func(c *catalog.Catalogue) { c.Shop.Currency = "EURO" }, is("shop.currency not_one_of")},
		{"no currency", func(c *catalog.Catalogue) { c.Shop.Currency = "" }, is("shop.currency not_one_of")},
		{"nothing offered", func(c *catalog.Catalogue) { c.Frames, c.AddOns, c.Units = nil, nil, nil }, is()},
	})
}

func TestFrameFaults(t *testing.T) {
	holds(t, []fault{
		{"no gross rating", func(c *catalog.Catalogue) { c.Frames[0].GrossRating = 0 }, is("frames[0].gross_rating_kg missing")},
		{"gross rating below bare weight", func(c *catalog.Catalogue) { c.Frames[0].GrossRating, c.Frames[0].BareWeight = 45*kg, 45*kg+1 },
			is("frames[0].gross_rating_kg conflict")},
		{"gross rating is bare weight", func(c *catalog.Catalogue) { c.Frames[0].GrossRating, c.Frames[0].BareWeight = 45*kg, 45*kg },
			is("frames[0].gross_rating_kg conflict")},
		{"a gram to carry", func(c *catalog.Catalogue) { c.Frames[0].GrossRating, c.Frames[0].BareWeight = 45*kg+1, 45*kg }, is()},
		{"900 kg rider", func(c *catalog.Catalogue) { c.Frames[0].RiderMaxMass = 900 * kg }, is("frames[0].rider_max_kg out_of_range")},
		{"no rider range", func(c *catalog.Catalogue) { c.Frames[1].RiderMin, c.Frames[1].RiderMax = 0, 0 },
			is("frames[1].rider_min_cm missing", "frames[1].rider_max_cm missing")},
		{"rider range turned round", func(c *catalog.Catalogue) { c.Frames[0].RiderMin, c.Frames[0].RiderMax = 190*cm, 150*cm },
			is("frames[0].rider_max_cm conflict")},
		{"no shortest rider", func(c *catalog.Catalogue) { c.Frames[0].RiderMin = 0 }, is("frames[0].rider_min_cm missing")},
		{"no tallest rider", func(c *catalog.Catalogue) { c.Frames[0].RiderMax = 0 }, is("frames[0].rider_max_cm missing")},
		{"widest rider range", func(c *catalog.Catalogue) { c.Frames[0].RiderMin, c.Frames[0].RiderMax = 80*cm, 230*cm }, is()},
		{"rider range of elsewhere", func(c *catalog.Catalogue) { c.Frames[0].RiderMin, c.Frames[0].RiderMax = 80*cm-1, 230*cm+1 },
			is("frames[0].rider_min_cm out_of_range", "frames[0].rider_max_cm out_of_range")},
		{"rider range of giants", func(c *catalog.Catalogue) { c.Frames[0].RiderMin = 230*cm + 1 },
			is("frames[0].rider_min_cm out_of_range", "frames[0].rider_max_cm conflict")},
		{"rider range of toddlers", func(c *catalog.Catalogue) { c.Frames[0].RiderMax = 80*cm - 1 },
			is("frames[0].rider_max_cm out_of_range", "frames[0].rider_max_cm conflict")},
		{"rider range of one", func(c *catalog.Catalogue) { c.Frames[0].RiderMin = c.Frames[0].RiderMax }, is("frames[0].rider_max_cm conflict")},
		{"saddle range turned round", func(c *catalog.Catalogue) { c.Frames[0].SaddleMax = c.Frames[0].SaddleMin - 1 }, is("frames[0].saddle_max_cm conflict")},
		{"saddle range of one", func(c *catalog.Catalogue) { c.Frames[0].SaddleMax = c.Frames[0].SaddleMin }, is()},
		{"highest saddle alone", func(c *catalog.Catalogue) { c.Frames[0].SaddleMin = 0 }, is()},
		{"lowest saddle alone", func(c *catalog.Catalogue) { c.Frames[0].SaddleMax = 0 }, is()},
		{"upright of one side", func(c *catalog.Catalogue) { c.Frames[0].Upright = catalog.Box{Width: 60 * cm} },
			is("frames[0].upright.length_cm missing", "frames[0].upright.height_cm missing")},
		{"not upright", func(c *catalog.Catalogue) { c.Frames[0].Upright = catalog.Box{} }, is()},
		{"no code", func(c *catalog.Catalogue) { c.Frames[1].Code = "" }, is("frames[1].code missing")},
		{"code of capitals", func(c *catalog.Catalogue) { c.Frames[1].Code = "Osier" }, is("frames[1].code out_of_range")},
		{"code with a loose end", func(c *catalog.Catalogue) { c.Frames[1].Code = "osier-" }, is("frames[1].code out_of_range")},
		{"code with a blank", func(c *catalog.Catalogue) { c.Frames[1].Code = "osier 2" }, is("frames[1].code out_of_range")},
		{"longest code", func(c *catalog.Catalogue) { c.Frames[1].Code = strings.Repeat("a", 60) }, is()},
		{"long code", func(c *catalog.Catalogue) { c.Frames[1].Code = strings.Repeat("a", 61) }, is("frames[1].code out_of_range")},
		{"code used twice", func(c *catalog.Catalogue) { c.Frames = append(c.Frames, c.Frames[1]) }, is("frames[2].code duplicate")},
		{"no name", func(c *catalog.Catalogue) { c.Frames[0].Name = "" }, is("frames[0].name missing")},
		{"long name", func(c *catalog.Catalogue) { c.Frames[0].Name = strings.Repeat("a", 81) }, is("frames[0].name out_of_range")},
		{"long family", func(c *catalog.Catalogue) { c.Frames[0].Family = strings.Repeat("a", 81) }, is("frames[0].family out_of_range")},
		{"long material", func(c *catalog.Catalogue) { c.Frames[0].Material = strings.Repeat("a", 81) }, is("frames[0].material out_of_range")},
		{"long size", func(c *catalog.Catalogue) { c.Frames[0].Size = strings.Repeat("a", 41) }, is("frames[0].size out_of_range")},
		{"long notes", func(c *catalog.Catalogue) { c.Frames[0].Notes = strings.Repeat("a", 2001) }, is("frames[0].notes out_of_range")},
		{"unknown type", func(c *catalog.Catalogue) { c.Frames[0].Type = "scooter" }, is("frames[0].type not_one_of")},
		{"unknown brakes", func(c *catalog.Catalogue) { c.Frames[0].FrontBrake, c.Frames[0].RearBrake = "disc", "Drum" },
			is("frames[0].front_brake not_one_of", "frames[0].rear_brake not_one_of")},
		{"no address", func(c *catalog.Catalogue) { c.Frames[0].Manual = "javascript:alert(1)" }, is("frames[0].manual out_of_range")},
		{"long in German", func(c *catalog.Catalogue) {
			c.Frames[0].Names.German, c.AddOns[0].Names.Dutch = strings.Repeat("ß", 81), strings.Repeat("a", 81)
		},
			is("frames[0].names.de out_of_range", "add_ons[0].names.nl out_of_range")},
		{"tyres in inches", func(c *catalog.Catalogue) { c.Frames[0].FrontTyre, c.Frames[0].RearTyre = "20 x 2.0", "50-4060" },
			is("frames[0].front_tyre out_of_range", "frames[0].rear_tyre out_of_range")},
		{"pressures", func(c *catalog.Catalogue) {
			c.Frames[0].FrontTyreMin, c.Frames[0].FrontTyreMax, c.Frames[0].RearTyreMin = 300, 299, 1201
		},
			is("frames[0].front_tyre_max_kpa conflict", "frames[0].rear_tyre_min_kpa out_of_range")},
	})
}

func TestFramePartFaults(t *testing.T) {
	holds(t, []fault{
		{"no zone", func(c *catalog.Catalogue) { c.Frames[1].Zones = nil }, is("frames[1].zones missing")},
		{"zone without a code", func(c *catalog.Catalogue) { c.Frames[1].Zones[0].Code = "" }, is("frames[1].zones[0].code missing")},
		{"two zones of one name", func(c *catalog.Catalogue) { c.Frames[1].Zones = append(c.Frames[1].Zones, c.Frames[1].Zones[0]) },
			is("frames[1].zones[1].code duplicate")},
		{"unknown side", func(c *catalog.Catalogue) { c.Frames[0].Zones[1].Side = "middle" }, is("frames[0].zones[1].side not_one_of")},
		{"combined over one zone", func(c *catalog.Catalogue) { c.Frames[0].Combined[0].Zones = []string{"rear"} }, is("frames[0].combined[0].zones missing")},
		{"combined over nothing known", func(c *catalog.Catalogue) { c.Frames[0].Combined[0].Zones = []string{"rear", "box"} },
			is("frames[0].combined[0].zones[1] not_found")},
		{"combined with itself", func(c *catalog.Catalogue) { c.Frames[0].Combined[0].Zones = []string{"rear", "rear"} },
			is("frames[0].combined[0].zones[1] duplicate")},
		{"combined without a rating", func(c *catalog.Catalogue) { c.Frames[0].Combined[0].Rating = 0 }, is("frames[0].combined[0].rating_kg missing")},
		{"two mounts of one name", func(c *catalog.Catalogue) {
			c.Frames[0].Mounts = append(c.Frames[0].Mounts, catalog.Mount{Code: "belly", Capacity: 2})
		}, is("frames[0].mounts[2].code duplicate")},
		{"mount without a code", func(c *catalog.Catalogue) { c.Frames[1].Mounts = []catalog.Mount{{Capacity: 1}} }, is("frames[1].mounts[0].code missing")},
		{"place in no zone", func(c *catalog.Catalogue) { c.Frames[0].Places[0].Zone = "" }, is("frames[0].places[0].zone not_found")},
		{"place in an unknown zone", func(c *catalog.Catalogue) { c.Frames[0].Places[0].Zone = "box" }, is("frames[0].places[0].zone not_found")},
		{"place of no kind", func(c *catalog.Catalogue) { c.Frames[0].Places[0].Kind = "" }, is("frames[0].places[0].kind not_one_of")},
		{"harnessed without limits", func(c *catalog.Catalogue) { c.Frames[0].Places[0] = catalog.Place{Zone: "rear", Kind: "harnessed"} },
			is("frames[0].places[0].min_months missing", "frames[0].places[0].min_kg missing", "frames[0].places[0].max_kg missing")},
		{"harnessed for one age and weight", func(c *catalog.Catalogue) {
			c.Frames[0].Places[0] = catalog.Place{Zone: "rear", Kind: "harnessed", MinMonths: 12, MaxMonths: 12, MinMass: 1 * kg, MaxMass: 1 * kg}
		}, is()},
		{"harnessed for the heaviest", func(c *catalog.Catalogue) {
			c.Frames[0].Places[0] = catalog.Place{Zone: "rear", Kind: "harnessed", MinMonths: 240, MinMass: 150 * kg, MaxMass: 150 * kg}
		}, is()},
		{"harnessed for more than the heaviest", func(c *catalog.Catalogue) {
			c.Frames[0].Places[0] = catalog.Place{Zone: "rear", Kind: "harnessed", MinMonths: 240, MinMass: 150 * kg, MaxMass: 150*kg + 1}
		}, is("frames[0].places[0].max_kg out_of_range")},
		{"belted without limits", func(c *catalog.Catalogue) { c.Frames[0].Places[0] = catalog.Place{Zone: "rear", Kind: "belted"} },
			is("frames[0].places[0].min_months missing")},
		{"a bench with other limits alone", func(c *catalog.Catalogue) {
			c.Frames[0].Places[0] = catalog.Place{Zone: "rear", Kind: "bench", MaxMonths: 96, MinMass: 9 * kg, MaxStature: 120 * cm}
		}, is("frames[0].places[0].min_months missing")},
		{"belted from an age", func(c *catalog.Catalogue) {
			c.Frames[0].Places[0] = catalog.Place{Zone: "rear", Kind: "belted", MinMonths: 1}
		}, is()},
		{"a bench up to a weight", func(c *catalog.Catalogue) {
			c.Frames[0].Places[0] = catalog.Place{Zone: "rear", Kind: "bench", MaxMass: 1}
		}, is()},
		{"age limits turned round", func(c *catalog.Catalogue) { c.Frames[0].Places[0].MaxMonths = 35 }, is("frames[0].places[0].max_months conflict")},
		{"weight limits turned round", func(c *catalog.Catalogue) { c.Frames[0].Places[0].MaxMass = 11*kg - 1 }, is("frames[0].places[0].max_kg conflict")},
		{"place that needs an empty group", func(c *catalog.Catalogue) { c.Frames[0].Places[0].Needs = [][]string{{"x"}, {}} },
			is("frames[0].places[0].needs[1] missing")},
		{"tag that is an add-on", func(c *catalog.Catalogue) { c.Frames[0].Provides = []string{"wheel_guard", "seat-rear"} },
			is("frames[0].provides[1] conflict")},
		{"tag that is none", func(c *catalog.Catalogue) { c.Frames[0].Provides = []string{"Wheel guard"} }, is("frames[0].provides[0] out_of_range")},
	})
}

func TestDeliveredPartFaults(t *testing.T) {
	holds(t, []fault{
		{"comes with what is not there", func(c *catalog.Catalogue) { c.Frames[0].ComesWith = []string{"stand-three-leg"} },
			is("frames[0].comes_with[0] not_found")},
		{"comes with one too many", func(c *catalog.Catalogue) {
			c.Frames[0].ComesWith, c.Frames[0].Mounts[1].Capacity = []string{"stand-one-leg", "stand-one-leg"}, 2
		}, is("frames[0].comes_with[1] conflict")},
		{"comes with more than the mount holds", func(c *catalog.Catalogue) {
			c.Frames[0].ComesWith, c.AddOns[1].UpTo = []string{"stand-one-leg", "stand-one-leg"}, 2
		}, is("frames[0].comes_with[1] conflict")},
		{"comes with what excludes another", func(c *catalog.Catalogue) { c.Frames[0].ComesWith = []string{"stand-one-leg", "seat-rear"} },
			is("frames[0].comes_with[1] conflict")},
		{"comes with what another excludes", func(c *catalog.Catalogue) {
			c.Frames[0].ComesWith, c.AddOns[0].Excludes, c.AddOns[1].Excludes = []string{"stand-one-leg", "seat-rear"}, nil, []string{"lamp", "seat-rear"}
			c.AddOns = append(c.AddOns, catalog.AddOn{Code: "lamp", Name: "Lamp", Weight: 1})
		}, is("frames[0].comes_with[0] conflict")},
		{"comes with what excludes something else", func(c *catalog.Catalogue) {
			c.AddOns[1].Excludes = []string{"seat-rear"}
		}, is()},
		{"comes with what has no mount", func(c *catalog.Catalogue) { c.Frames[1].ComesWith = []string{"stand-one-leg"} },
			is("frames[1].comes_with[0] conflict")},
		{"comes with what has no zone", func(c *catalog.Catalogue) {
			c.AddOns[1].Zone, c.Frames[1].ComesWith, c.Frames[1].Mounts = "front", []string{"stand-one-leg"}, []catalog.Mount{{Code: "belly", Capacity: 1}}
		}, is("frames[1].comes_with[0] not_found")},
	})
}

func TestAddOnFaults(t *testing.T) {
	holds(t, []fault{
		{"no weight", func(c *catalog.Catalogue) { c.AddOns[1].Weight = 0 }, is("add_ons[1].weight_kg missing")},
		{"code used twice", func(c *catalog.Catalogue) { c.AddOns = append(c.AddOns, c.AddOns[1]) }, is("add_ons[2].code duplicate")},
		{"no code", func(c *catalog.Catalogue) { c.AddOns = append(c.AddOns, catalog.AddOn{Name: "Bag", Weight: 1}) }, is("add_ons[2].code missing")},
		{"no name", func(c *catalog.Catalogue) { c.AddOns[1].Name = "" }, is("add_ons[1].name missing")},
		{"long name", func(c *catalog.Catalogue) { c.AddOns[1].Name = strings.Repeat("a", 81) }, is("add_ons[1].name out_of_range")},
		{"a place outside every zone", func(c *catalog.Catalogue) { c.AddOns[1].Places = c.AddOns[0].Places }, is("add_ons[1].zone missing")},
		{"cargo outside every zone", func(c *catalog.Catalogue) { c.AddOns[1].Cargo = 1 }, is("add_ons[1].zone missing")},
		{"a pet outside every zone", func(c *catalog.Catalogue) { c.AddOns[1].Pet = 1 }, is("add_ons[1].zone missing")},
		{"a place with a zone of its own", func(c *catalog.Catalogue) { c.AddOns[0].Places[0].Zone = "rear" }, is("add_ons[0].places[0].zone conflict")},
		{"harnessed without limits", func(c *catalog.Catalogue) { c.AddOns[0].Places[0] = catalog.Place{Kind: "harnessed"} },
			is("add_ons[0].places[0].min_months missing", "add_ons[0].places[0].min_kg missing", "add_ons[0].places[0].max_kg missing")},
		{"mount without a code", func(c *catalog.Catalogue) { c.Frames[0].ComesWith, c.AddOns[1].Uses[0].Mount = nil, "" },
			is("add_ons[1].uses[0].mount missing")},
		{"mount named twice", func(c *catalog.Catalogue) {
			c.AddOns[1].Uses = append(c.AddOns[1].Uses, catalog.Use{Mount: "belly", Count: 1})
		},
			is("frames[0].comes_with[0] conflict", "add_ons[1].uses[1].mount duplicate")},
		{"needs an empty group", func(c *catalog.Catalogue) { c.AddOns[1].Needs = [][]string{{}} }, is("add_ons[1].needs[0] missing")},
		{"needs what is no code", func(c *catalog.Catalogue) { c.AddOns[1].Needs = [][]string{{"stand"}, {"rack", "", "A"}} },
			is("add_ons[1].needs[1][1] missing", "add_ons[1].needs[1][2] out_of_range")},
		{"excludes itself", func(c *catalog.Catalogue) { c.AddOns[0].Excludes = []string{"seat-rear"} }, is("add_ons[0].excludes[0] conflict")},
		{"excludes what is not there", func(c *catalog.Catalogue) { c.AddOns[0].Excludes = []string{"stand-one-leg", "stand"} },
			is("add_ons[0].excludes[1] not_found")},
		{"excludes a frame", func(c *catalog.Catalogue) { c.AddOns[0].Excludes = []string{"sedge"} }, is("add_ons[0].excludes[0] not_found")},
		{"provides an add-on", func(c *catalog.Catalogue) { c.AddOns[0].Provides = []string{"hand_hold", "stand-one-leg"} },
			is("add_ons[0].provides[1] conflict")},
		{"provides itself", func(c *catalog.Catalogue) { c.AddOns[0].Provides = []string{"seat-rear"} }, is("add_ons[0].provides[0] conflict")},
		{"fits what is not there", func(c *catalog.Catalogue) { c.AddOns[0].Fits = []string{"sedge", "yarrow"} }, is("add_ons[0].fits[1] not_found")},
		{"fits twice", func(c *catalog.Catalogue) { c.AddOns[0].Fits = []string{"sedge", "sedge"} }, is("add_ons[0].fits[1] duplicate")},
		{"fits without the zone", func(c *catalog.Catalogue) {
			c.AddOns[1].Fits, c.AddOns[1].Zone, c.AddOns[1].Uses = []string{"osier", "sedge"}, "front", nil
		},
			is("add_ons[1].fits[0] not_found")},
		{"fits without the mount", func(c *catalog.Catalogue) { c.AddOns[1].Fits = []string{"sedge", "osier"} }, is("add_ons[1].fits[1] conflict")},
		{"takes all of the mount", func(c *catalog.Catalogue) { c.AddOns[0].Uses[0].Count = 63 }, is()},
		{"takes more than the mount", func(c *catalog.Catalogue) { c.AddOns[0].Uses[0].Count = 64 }, is("add_ons[0].fits[0] conflict")},
		{"differs on no frame", func(c *catalog.Catalogue) { c.AddOns[1].OnFrame = map[string]catalog.Pair{"yarrow": {}} },
			is("add_ons[1].on_frame.yarrow not_found")},
		{"differs where it does not fit", func(c *catalog.Catalogue) { c.AddOns[1].OnFrame = map[string]catalog.Pair{"sedge": {}, "osier": {}} },
			is("add_ons[1].on_frame.osier not_found")},
		{"a fault of its own beside a pair", func(c *catalog.Catalogue) {
			c.AddOns[1].FittingMinutes, c.AddOns[1].OnFrame = -1, map[string]catalog.Pair{"sedge": {Note: "tight"}}
		}, is("add_ons[1].fitting_minutes out_of_range")},
		{"harnessed beyond its limits", func(c *catalog.Catalogue) {
			c.AddOns[0].Places[0] = catalog.Place{Kind: "harnessed", MinMonths: 241, MinMass: 151 * kg, MaxMass: 151 * kg}
		}, is("add_ons[0].places[0].min_months out_of_range", "add_ons[0].places[0].min_kg out_of_range", "add_ons[0].places[0].max_kg out_of_range")},
		{"long note", func(c *catalog.Catalogue) {
			c.AddOns[1].OnFrame = map[string]catalog.Pair{"sedge": {Note: strings.Repeat("a", 501)}}
		}, is("add_ons[1].on_frame.sedge.note out_of_range")},
	})
}

func TestUnitFaults(t *testing.T) {
	holds(t, []fault{
		{"ordered", func(c *catalog.Catalogue) {
			c.Units[0].Status, c.Units[0].Arrival = catalog.Ordered, measure.Date{Year: 2027, Month: 1}
		}, is()},
		{"in repair", func(c *catalog.Catalogue) { c.Units[0].Status = catalog.InRepair }, is()},
		{"a price below nothing", func(c *catalog.Catalogue) { c.Units[0].Price = -1 }, is("units[0].price_cents out_of_range")},
		{"one serial number twice", func(c *catalog.Catalogue) {
			twin := c.Units[0]
			twin.Tag, twin.Serial, c.Units[0].Serial = "twin", "A 1", "A 1"
			c.Units = append(c.Units, twin)
		}, is("units[1].serial duplicate")},
		{"no tag", func(c *catalog.Catalogue) { c.Units[0].Tag = "" }, is("units[0].tag missing")},
		{"tag with a blank", func(c *catalog.Catalogue) { c.Units[0].Tag = "D 014" }, is("units[0].tag out_of_range")},
		{"long tag", func(c *catalog.Catalogue) { c.Units[0].Tag = strings.Repeat("D", 61) }, is("units[0].tag out_of_range")},
		{"longest tag", func(c *catalog.Catalogue) { c.Units[0].Tag = strings.Repeat("D", 60) }, is()},
		{"tag used twice", func(c *catalog.Catalogue) { c.Units = append(c.Units, c.Units[0]) }, is("units[1].tag duplicate")},
		{"unknown frame", func(c *catalog.Catalogue) { c.Units[0].Frame = "yarrow" }, is("units[0].frame not_found")},
		{"no frame", func(c *catalog.Catalogue) { c.Units[0].Frame = "" }, is("units[0].frame not_found")},
		{"no words", func(c *catalog.Catalogue) { c.Units[0].Kind, c.Units[0].Status = "", "" }, is("units[0].kind not_one_of", "units[0].status not_one_of")},
		{"long colour", func(c *catalog.Catalogue) { c.Units[0].Colour = strings.Repeat("a", 61) }, is("units[0].colour out_of_range")},
		{"fitted with what is not there", func(c *catalog.Catalogue) { c.Units[0].Fitted = []string{"seat-rear", "sedge"} }, is("units[0].fitted[1] not_found")},
		{"weighed on no day", func(c *catalog.Catalogue) { c.Units[0].WeighedOn = measure.Date{} }, is("units[0].weighed_on missing")},
		{"not weighed", func(c *catalog.Catalogue) { c.Units[0].Weighed, c.Units[0].WeighedOn = 0, measure.Date{} }, is()},
	})
}

// What was stored before a rule came keeps its faults as long as it stays as it
// is; what is changed has none, and brings none about elsewhere.
func TestCheckAfter(t *testing.T) {
	before := small()
	before.Frames[0].Places[0] = catalog.Place{Zone: "rear", Kind: "bench"}
	for _, change := range []fault{
		{"nothing", func(*catalog.Catalogue) {}, is()},
		{"another thing", func(c *catalog.Catalogue) { c.AddOns[0].Price++ }, is()},
		{"another thing that is faulty", func(c *catalog.Catalogue) { c.AddOns[0].Price = -1 }, is("add_ons[0].price_cents out_of_range")},
		{"the thing itself", func(c *catalog.Catalogue) { c.Frames[0].Price++ }, is("frames[0].places[0].min_months missing")},
		{"the order", func(c *catalog.Catalogue) { slices.Reverse(c.Frames) }, is()},
		{"the fault", func(c *catalog.Catalogue) { c.Frames[0].Places[0].MinMonths = 12 }, is()},
		{"a new thing with such a fault", func(c *catalog.Catalogue) {
			more := c.Frames[0]
			more.Code = "osier-xl"
			c.Frames = append(c.Frames, more)
		}, is("frames[2].places[0].min_months missing")},
		{"a fault brought about elsewhere", func(c *catalog.Catalogue) { c.Frames[0].Code = "yarrow" },
			is("frames[0].places[0].min_months missing", "add_ons[0].fits[0] not_found", "add_ons[0].on_frame.sedge not_found", "units[0].frame not_found")},
		{"the shop", func(c *catalog.Catalogue) { c.Shop.Name = "" }, is("shop.name missing")},
	} {
		t.Run(change.name, func(t *testing.T) {
			c := small()
			c.Frames[0].Places[0] = before.Frames[0].Places[0]
			change.make(c)
			if diff := cmp.Diff(change.want, faults(t, c.CheckAfter(before, measure.Date{}))); diff != "" {
				t.Error(diff)
			}
		})
	}
}

func TestFaultsOfWhatIsInNoZone(t *testing.T) {
	holds(t, []fault{
		{"where it lies, in no zone", func(c *catalog.Catalogue) { c.AddOns[1].Zone, c.AddOns[1].Ahead = "", 420 }, is()},
		{"where it lies, in a zone", func(c *catalog.Catalogue) { c.AddOns[0].Ahead = -1 }, is("add_ons[0].ahead_of_rear_axle_cm conflict")},
		{"room of a zone", func(c *catalog.Catalogue) { c.AddOns[0].DisplacesCargo, c.AddOns[0].DisplacesVolume = 1, 1 }, is()},
		{"kilograms of no zone", func(c *catalog.Catalogue) { c.AddOns[1].Zone, c.AddOns[1].DisplacesCargo = "", 1 }, is("add_ons[1].displaces_kg conflict")},
		{"litres of no zone", func(c *catalog.Catalogue) { c.AddOns[1].Zone, c.AddOns[1].DisplacesVolume = "", 1 }, is("add_ons[1].displaces_kg conflict")},
	})
}
