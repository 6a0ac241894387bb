package catalog_test

import (
	"bytes"
	"os"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
	"github.com/google/go-cmp/cmp/cmpopts"
	"pgregory.net/rapid"

	"kinwain/internal/catalog"
	"kinwain/internal/measure"
)

const (
	kg = measure.Kilogram
	cm = measure.Centimetre
)

// smallDocument states every key of the format, each with a figure of its
// own, so that no two can be taken for each other unseen.
const smallDocument = `{"catalogue": 1,
 "shop": {"name": "Low Quay", "currency": "EUR", "labour_cents_per_hour": 6050, "tax_percent": 21.5, "prices_include_tax": true},
 "frames": [
  {"code": "sedge", "name": "Sedge", "family": "Sedges", "type": "compact_longtail", "material": "steel", "size": "one size",
   "gross_rating_kg": 180, "bare_weight_kg": 24.5, "rider_min_cm": 150, "rider_max_cm": 195, "rider_max_kg": 120, "passengers_max": 2,
   "standover_cm": 52, "saddle_min_cm": 58, "saddle_max_cm": 84, "price_cents": 189000,
   "length_cm": 178, "width_cm": 64, "height_cm": 112, "upright": {"length_cm": 62, "width_cm": 66, "height_cm": 182},
   "wheelbase_cm": 111, "rider_ahead_of_rear_axle_cm": 38, "bare_front_share": 0.45, "front_axle_max_kg": 90, "rear_axle_max_kg": 140,
   "front_tyre": "50-406", "rear_tyre": "54-507", "odd_wheel": true, "front_brake": "hydraulic_disc", "rear_brake": "roller",
   "chainring": [40, 38], "sprockets": [11, 13, 15], "assist_watts": 250,
   "zones": [
    {"code": "front", "rating_kg": 20, "ahead_of_rear_axle_cm": 118, "height_cm": 70, "steered": true, "side": "left", "cargo_kg": 3.5, "cargo_litres": 12.25},
    {"code": "rear", "rating_kg": 60, "ahead_of_rear_axle_cm": -4, "height_cm": 61, "steered": false, "side": "centre", "cargo_kg": 0, "cargo_litres": 0}],
   "combined": [{"zones": ["front", "rear"], "rating_kg": 75}],
   "mounts": [{"code": "deck_cm", "capacity": 63}, {"code": "belly", "capacity": 1}],
   "places": [{"zone": "rear", "kind": "bench", "min_months": 36, "max_months": 121, "min_kg": 11, "max_kg": 41, "max_stature_cm": 141,
    "needs": [["foot_support", "seat-rear"]], "ahead_of_rear_axle_cm": 5, "height_cm": 65}],
   "provides": ["wheel_guard"], "comes_with": ["stand-one-leg"], "notes": "A note."},
  {"code": "osier", "name": "Osier", "gross_rating_kg": 160, "bare_weight_kg": 19, "rider_min_cm": 155, "rider_max_cm": 200,
   "price_cents": 149900, "length_cm": 185, "width_cm": 60, "height_cm": 110, "zones": [{"code": "rear"}]}],
 "add_ons": [
  {"code": "seat-rear", "name": "Harnessed child seat", "weight_kg": 4.1, "price_cents": 15900, "fitting_minutes": 25,
   "fits": ["sedge"], "uses": [{"mount": "deck_cm", "count": 31}], "needs": [["two_leg_stand"]], "excludes": ["stand-one-leg"], "provides": ["hand_hold"],
   "zone": "rear", "max_load_kg": 26, "cargo_kg": 6, "cargo_litres": 14, "pet_kg": 8, "up_to": 2,
   "places": [{"kind": "harnessed", "min_months": 12, "max_months": 72, "min_kg": 9, "max_kg": 22, "max_stature_cm": 119,
    "needs": [["wheel_guard"]], "ahead_of_rear_axle_cm": 3, "height_cm": 78}],
   "front_overhang_cm": 1, "rear_overhang_cm": 7, "overall_width_cm": 71, "overall_height_cm": 131, "blocks_upright": true, "removable_seconds": 30,
   "on_frame": {"sedge": {"fitting_minutes": 40, "max_load_kg": 23, "front_overhang_cm": 2, "rear_overhang_cm": 10, "overall_width_cm": 73,
    "overall_height_cm": 133, "blocks_upright": false, "note": "the rack goes on first"}}},
  {"code": "stand-one-leg", "name": "One-leg stand", "weight_kg": 0.45, "uses": [{"mount": "belly", "count": 1}]}],
 "units": [{"tag": "D-014", "frame": "sedge", "kind": "demo", "colour": "slate", "fitted": ["seat-rear"], "status": "on_test_ride",
  "weighed_kg": 28.75, "weighed_on": "2026-02-28", "odometer_km": 212}]}`

func pointer[T any](value T) *T { return &value }

// small is the catalogue of smallDocument.
func small() *catalog.Catalogue {
	return &catalog.Catalogue{
		Version: 1,
		Shop:    catalog.Shop{Name: "Low Quay", Currency: "EUR", LabourPerHour: 6050, Tax: 2150, PricesIncludeTax: true},
		Frames: []catalog.Frame{smallFrame(), {
			Code: "osier", Name: "Osier", GrossRating: 160 * kg, BareWeight: 19 * kg, RiderMin: 155 * cm, RiderMax: 200 * cm,
			Price: 149900, Length: 185 * cm, Width: 60 * cm, Height: 110 * cm, Zones: []catalog.Zone{{Code: "rear"}},
		}},
		AddOns: []catalog.AddOn{{
			Code: "seat-rear", Name: "Harnessed child seat", Weight: 4100, Price: 15900, FittingMinutes: 25,
			Fits: []string{"sedge"}, Uses: []catalog.Use{{Mount: "deck_cm", Count: 31}}, Needs: [][]string{{"two_leg_stand"}},
			Excludes: []string{"stand-one-leg"}, Provides: []string{"hand_hold"},
			Zone: "rear", MaxLoad: 26 * kg, Cargo: 6 * kg, CargoVolume: 14 * measure.Litre, Pet: 8 * kg, UpTo: 2,
			Places: []catalog.Place{{
				Kind: "harnessed", MinMonths: 12, MaxMonths: 72, MinMass: 9 * kg, MaxMass: 22 * kg, MaxStature: 119 * cm,
				Needs: [][]string{{"wheel_guard"}}, Ahead: 3 * cm, Height: 78 * cm,
			}},
			FrontOverhang: 1 * cm, RearOverhang: 7 * cm, OverallWidth: 71 * cm, OverallHeight: 131 * cm, BlocksUpright: true, RemovableSeconds: 30,
			OnFrame: map[string]catalog.Pair{"sedge": {
				FittingMinutes: pointer(40), MaxLoad: pointer(23 * kg), FrontOverhang: pointer(2 * cm), RearOverhang: pointer(10 * cm),
				OverallWidth: pointer(73 * cm), OverallHeight: pointer(133 * cm), BlocksUpright: pointer(false), Note: "the rack goes on first",
			}},
		}, {
			Code: "stand-one-leg", Name: "One-leg stand", Weight: 450, Uses: []catalog.Use{{Mount: "belly", Count: 1}},
		}},
		Units: []catalog.Unit{{
			Tag: "D-014", Frame: "sedge", Kind: "demo", Colour: "slate", Fitted: []string{"seat-rear"}, Status: "on_test_ride",
			Weighed: 28750, WeighedOn: measure.Date{Year: 2026, Month: 2, Day: 28}, Odometer: 212,
		}},
	}
}

func smallFrame() catalog.Frame {
	return catalog.Frame{
		Code: "sedge", Name: "Sedge", Family: "Sedges", Type: "compact_longtail", Material: "steel", Size: "one size",
		GrossRating: 180 * kg, BareWeight: 24500, RiderMin: 150 * cm, RiderMax: 195 * cm, RiderMaxMass: 120 * kg, PassengersMax: 2,
		Standover: 52 * cm, SaddleMin: 58 * cm, SaddleMax: 84 * cm, Price: 189000,
		Length: 178 * cm, Width: 64 * cm, Height: 112 * cm, Upright: catalog.Box{Length: 62 * cm, Width: 66 * cm, Height: 182 * cm},
		Wheelbase: 111 * cm, RiderAhead: 38 * cm, BareFrontShare: 4500, FrontAxleRating: 90 * kg, RearAxleRating: 140 * kg,
		FrontTyre: "50-406", RearTyre: "54-507", OddWheel: true, FrontBrake: "hydraulic_disc", RearBrake: "roller",
		Chainrings: []int{40, 38}, Sprockets: []int{11, 13, 15}, AssistWatts: 250,
		Zones: []catalog.Zone{
			{Code: "front", Rating: 20 * kg, Ahead: 118 * cm, Height: 70 * cm, Steered: true, Side: "left", Cargo: 3500, CargoVolume: 12250},
			{Code: "rear", Rating: 60 * kg, Ahead: -4 * cm, Height: 61 * cm, Side: "centre"},
		},
		Combined: []catalog.Combined{{Zones: []string{"front", "rear"}, Rating: 75 * kg}},
		Mounts:   []catalog.Mount{{Code: "deck_cm", Capacity: 63}, {Code: "belly", Capacity: 1}},
		Places: []catalog.Place{{
			Zone: "rear", Kind: "bench", MinMonths: 36, MaxMonths: 121, MinMass: 11 * kg, MaxMass: 41 * kg, MaxStature: 141 * cm,
			Needs: [][]string{{"foot_support", "seat-rear"}}, Ahead: 5 * cm, Height: 65 * cm,
		}},
		Provides: []string{"wheel_guard"}, ComesWith: []string{"stand-one-leg"}, Notes: "A note.",
	}
}

func TestParseSmallDocument(t *testing.T) {
	got, err := catalog.Parse([]byte(smallDocument))
	if err != nil {
		t.Fatal(err)
	}
	if diff := cmp.Diff(small(), got, cmpopts.EquateEmpty()); diff != "" {
		t.Error(diff)
	}
}

// same holds that the catalogue comes back from its document as it was, and
// that its document is always the same bytes.
func same(t interface {
	Helper()
	Errorf(string, ...any)
}, c *catalog.Catalogue) {
	t.Helper()
	document, err := c.Document()
	if err != nil {
		t.Errorf("writing: %v", err)
		return
	}
	back, err := catalog.Parse(document)
	if err != nil {
		t.Errorf("reading back: %v\n%s", err, document)
		return
	}
	if diff := cmp.Diff(c, back, cmpopts.EquateEmpty()); diff != "" {
		t.Errorf("came back changed: %s", diff)
	}
	if again, err := back.Document(); err != nil || !bytes.Equal(document, again) {
		t.Errorf("second document, %v: %s", err, cmp.Diff(string(document), string(again)))
	}
}

// manyPairs is a catalogue of an add-on that differs on eight frames, which no
// document may write now in this order and now in that.
func manyPairs() *catalog.Catalogue {
	c, pairs := small(), map[string]catalog.Pair{}
	osier := c.Frames[1]
	c.AddOns[0].Fits, c.AddOns[0].OnFrame, c.AddOns[0].Uses = nil, pairs, nil
	c.Frames = c.Frames[:1]
	for _, code := range strings.Split("abcdefgh", "") {
		osier.Code = "osier-" + code
		c.Frames = append(c.Frames, osier)
		c.AddOns[0].Fits = append(c.AddOns[0].Fits, osier.Code)
		pairs[osier.Code] = catalog.Pair{Note: code}
	}
	return c
}

func TestDocumentIsLossless(t *testing.T) {
	same(t, small())
	same(t, manyPairs())
	rapid.Check(t, func(t *rapid.T) { same(t, drawCatalogue(t)) })
}

func demo(t *testing.T) ([]byte, *catalog.Catalogue) {
	t.Helper()
	data, err := os.ReadFile("../../testdata/demo.json")
	if err != nil {
		t.Fatal(err)
	}
	c, err := catalog.Parse(data)
	if err != nil {
		t.Fatal(err)
	}
	return data, c
}

func TestDemoIsCanonical(t *testing.T) {
	data, c := demo(t)
	same(t, c)
	document, err := c.Document()
	if err != nil {
		t.Fatal(err)
	}
	if diff := cmp.Diff(string(append(document, '\n')), string(data)); diff != "" {
		t.Error(diff)
	}
}

func TestDemoHoldsWhatItPromises(t *testing.T) {
	_, c := demo(t)
	families := map[string]bool{}
	for _, f := range c.Frames {
		families[f.Family] = true
	}
	if got, want := [...]int{len(c.Frames), len(families), len(c.AddOns), len(c.Units)}, [...]int{14, 5, 47, 30}; got != want {
		t.Errorf("frames, families, add-ons and units: %v, want %v", got, want)
	}
	for i := range c.Frames {
		if c.Frame(c.Frames[i].Code) != &c.Frames[i] {
			t.Errorf("%s is not found by its code", c.Frames[i].Code)
		}
	}
	for i := range c.AddOns {
		if c.AddOn(c.AddOns[i].Code) != &c.AddOns[i] {
			t.Errorf("%s is not found by its code", c.AddOns[i].Code)
		}
	}
	if c.Frame("seat-rear") != nil || c.AddOn("sedge") != nil || c.Frame("") != nil || c.AddOn("") != nil {
		t.Error("a code that is not there is found")
	}
}
