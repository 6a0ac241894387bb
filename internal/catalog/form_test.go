package catalog_test

import (
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"kinwain/internal/catalog"
	"kinwain/internal/measure"
)

// TestFaultsOfForm holds what stops the reading at once.
func TestFaultsOfForm(t *testing.T) {
	for _, c := range []struct{ name, old, new, want string }{
		{"unknown key", `"shop": {`, `"shopkeeper": 1, "shop": {`, "shopkeeper unknown_key"},
		{"unknown key in a shop", `"currency"`, `"curency"`, "shop.curency unknown_key"},
		{"unknown key in a frame", `"standover_cm"`, `"standover"`, "frames[0].standover unknown_key"},
		{"unknown key in a zone", `"steered": false`, `"steerd": false`, "frames[0].zones[1].steerd unknown_key"},
		{"unknown key in a combination", `"rating_kg": 75`, `"rating": 75`, "frames[0].combined[0].rating unknown_key"},
		{"unknown key in a mount", `"capacity": 1}`, `"capacity": 1, "bolts": 2}`, "frames[0].mounts[1].bolts unknown_key"},
		{"unknown key in a place", `"min_months": 36`, `"min_years": 3`, "frames[0].places[0].min_years unknown_key"},
		{"unknown key in the upright size", `"upright": {`, `"upright": {"depth_cm": 1, `, "frames[0].upright.depth_cm unknown_key"},
		{"unknown key in an add-on", `"pet_kg"`, `"dog_kg"`, "add_ons[0].dog_kg unknown_key"},
		{"unknown key in a use", `"count": 31`, `"cuont": 31`, "add_ons[0].uses[0].cuont unknown_key"},
		{"unknown key in a pair", `"fitting_minutes": 40`, `"minutes": 40`, "add_ons[0].on_frame.sedge.minutes unknown_key"},
		{"unknown key in a unit", `"odometer_km"`, `"odometer"`, "units[0].odometer unknown_key"},
		{"key in capitals", `"currency"`, `"Currency"`, "shop.Currency unknown_key"},
		{"repeated key", `"code": "osier",`, `"code": "osier", "code": "osier",`, "frames[1].code duplicate"},
		{"repeated pair", `"on_frame": {`, `"on_frame": {"sedge": {}, `, "add_ons[0].on_frame.sedge duplicate"},
		{"not a number", `"bare_weight_kg": 24.5`, `"bare_weight_kg": NaN`, "frames[0].bare_weight_kg syntax"},
		{"infinity", `"rating_kg": 60`, `"rating_kg": Infinity`, "frames[0].zones[1].rating_kg syntax"},
		{"a text that says NaN", `"bare_weight_kg": 24.5`, `"bare_weight_kg": "NaN"`, "frames[0].bare_weight_kg wrong_type"},
		{"a text with a unit", `"bare_weight_kg": 24.5`, `"bare_weight_kg": "24.5 kg"`, "frames[0].bare_weight_kg wrong_type"},
		{"a number beyond counting", `"bare_weight_kg": 24.5`, `"bare_weight_kg": 1e30`, "frames[0].bare_weight_kg wrong_type"},
		{"parts of a cent", `"price_cents": 189000`, `"price_cents": 1890.5`, "frames[0].price_cents wrong_type"},
		{"parts of a tooth", `[40, 38]`, `[40, 38.5]`, "frames[0].chainring[1] wrong_type"},
		{"a list for a zone", `"zones": [{"code": "rear"}]`, `"zones": [[]]`, "frames[1].zones[0] wrong_type"},
		{"no list of zones", `"zones": [{"code": "rear"}]`, `"zones": {"code": "rear"}`, "frames[1].zones wrong_type"},
		{"a number for a word", `"odd_wheel": true`, `"odd_wheel": 1`, "frames[0].odd_wheel wrong_type"},
		{"no such day", `"2026-02-28"`, `"2026-02-29"`, "units[0].weighed_on wrong_type"},
		{"trailing comma", `"odometer_km": 212}]`, `"odometer_km": 212},]`, "units syntax"},
		{"more behind the end", `"odometer_km": 212}]}`, `"odometer_km": 212}]} {}`, " syntax"},
		{"cut short", `, "odometer_km": 212}]}`, ``, "units[0] syntax"},
	} {
		if strings.Count(smallDocument, c.old) == 0 {
			t.Fatalf("%s: %s is not in the document", c.name, c.old)
		}
		got, err := catalog.Parse([]byte(strings.Replace(smallDocument, c.old, c.new, 1)))
		if diff := cmp.Diff(is(c.want), faults(t, err)); diff != "" || got != nil {
			t.Errorf("%s: %v %s", c.name, err, diff)
		}
	}
}

// TestNullIsNotStated holds that a null figure counts as an absent one.
func TestNullIsNotStated(t *testing.T) {
	c := small()
	c.Frames[0].GrossRating, c.Frames[0].Price, c.Frames[0].Standover, c.Frames[0].Zones[1].Rating = 0, 0, 0, 0
	document := strings.NewReplacer(`"gross_rating_kg": 180`, `"gross_rating_kg": null`, `"price_cents": 189000`, `"price_cents": null`,
		`"standover_cm": 52`, `"standover_cm": null`, `"rating_kg": 60`, `"rating_kg": null`).Replace(smallDocument)
	_, err := catalog.Parse([]byte(document))
	if diff := cmp.Diff(is("frames[0].gross_rating_kg missing", "frames[0].price_cents missing"), faults(t, err)); diff != "" {
		t.Error(diff)
	}
	if diff := cmp.Diff(faults(t, c.Check()), faults(t, err)); diff != "" {
		t.Errorf("against zero: %s", diff)
	}
}

// TestAllFaultsAtOnce holds that every fault of meaning is told in one go,
// none twice, in the order of the document.
func TestAllFaultsAtOnce(t *testing.T) {
	c := small()
	c.Shop.Currency = "EURO"
	c.Frames[0].GrossRating, c.Frames[0].RiderMaxMass = 0, 900*kg
	c.Frames[0].Zones[1].Rating = -1
	c.Frames[0].ComesWith = []string{"lamp"}
	c.Frames[1].Code = "sedge"
	c.Frames[1].Zones = nil
	c.AddOns[0].Weight, c.AddOns[0].Excludes = 0, []string{"lamp"}
	c.AddOns[0].Fits = nil
	c.AddOns[0].OnFrame = nil
	c.AddOns[0].Places[0].MinMass = 0
	c.AddOns[1].Provides = []string{"seat-rear"}
	c.Units[0].Frame, c.Units[0].Fitted = "yarrow", []string{"lamp"}
	got := faults(t, c.Check())
	want := is(
		"shop.currency not_one_of",
		"frames[0].gross_rating_kg missing", "frames[0].rider_max_kg out_of_range", "frames[0].zones[1].rating_kg out_of_range", "frames[0].comes_with[0] not_found",
		"frames[1].code duplicate", "frames[1].zones missing",
		"add_ons[0].weight_kg missing", "add_ons[0].excludes[0] not_found", "add_ons[0].places[0].min_kg missing",
		"add_ons[1].provides[0] conflict",
		"units[0].frame not_found", "units[0].fitted[0] not_found",
	)
	if diff := cmp.Diff(want, got); diff != "" {
		t.Error(diff)
	}
}

func FuzzParse(f *testing.F) {
	f.Add([]byte(smallDocument))
	document, err := small().Document()
	if err != nil {
		f.Fatal(err)
	}
	f.Add(document)
	for _, seed := range []string{``, `null`, `{}`, `[]`, `{"catalogue": 1, "shop": {"name": "Low Quay", "currency": "EUR"}}`,
		`{"catalogue":1,"shop":{"name":"x","currency":"EUR"},"frames":[{"code":"osier","name":"Osier","gross_rating_kg":1.6e2,"bare_weight_kg":19.0004,` +
			`"rider_min_cm":155,"rider_max_cm":200,"price_cents":1,"length_cm":185,"width_cm":60,"height_cm":110,"zones":[{"code":"rear"}]}]}`,
		`{"catalogue":1,"shop":{"name":"x","currency":"EUR"},"add_ons":[{"code":"bag","name":"Bag","weight_kg":1e-3,"on_frame":{}}]}`} {
		f.Add([]byte(seed))
	}
	f.Fuzz(func(t *testing.T, data []byte) {
		c, err := catalog.Parse(data)
		if err != nil {
			if c != nil || len(faults(t, err)) == 0 {
				t.Errorf("%v with %v", err, c)
			}
			return
		}
		same(t, c)
	})
}

func TestPairOverrides(t *testing.T) {
	a := small().AddOns[0]
	on := a.On("sedge")
	want := a
	want.FittingMinutes, want.MaxLoad, want.FrontOverhang, want.RearOverhang = 40, 23*kg, 2*cm, 10*cm
	want.OverallWidth, want.OverallHeight, want.BlocksUpright = 73*cm, 133*cm, false
	if diff := cmp.Diff(want, on); diff != "" {
		t.Error(diff)
	}
	if diff := cmp.Diff(small().AddOns[0], a.On("osier")); diff != "" {
		t.Errorf("elsewhere: %s", diff)
	}
	a.OnFrame = map[string]catalog.Pair{"sedge": {MaxLoad: pointer(measure.Mass(0)), FittingMinutes: pointer(0)}}
	want = a
	want.MaxLoad, want.FittingMinutes = 0, 0
	if diff := cmp.Diff(want, a.On("sedge")); diff != "" {
		t.Errorf("a stated zero: %s", diff)
	}
	for upTo, most := range map[int]int{0: 1, 1: 1, 2: 2, 8: 8} {
		if a := (catalog.AddOn{UpTo: upTo}); a.Most() != most {
			t.Errorf("up to %d: %d", upTo, a.Most())
		}
	}
}
