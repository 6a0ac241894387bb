package catalog_test

import (
	"fmt"
	"reflect"
	"testing"

	"kinwain/internal/catalog"
)

// plausible is a figure of a document with its plausible range, ends
// included. Zero is within the range, or means that nobody states the figure,
// or is missed.
type plausible struct {
	path        string
	least, most int64
	zero        string // "missing" or "unstated", empty where the range decides
	figure      func(c *catalog.Catalogue) any
}

// holdRanges tries every figure at and just beyond both ends.
func holdRanges(t *testing.T, figures []plausible) {
	t.Helper()
	var changes []fault
	for _, p := range figures {
		try := func(n int64, code string) {
			want := is()
			if code != "" {
				want = is(p.path + " " + code)
			}
			changes = append(changes, fault{fmt.Sprintf("%s %d", p.path, n), func(c *catalog.Catalogue) {
				reflect.ValueOf(p.figure(c)).Elem().SetInt(n)
			}, want})
		}
		try(p.most, "")
		try(p.most+1, "out_of_range")
		switch p.zero {
		case "unstated":
			try(0, "")
		case "missing":
			try(0, "missing")
		}
		if p.least != 0 || p.zero == "" {
			try(p.least, "")
		}
		if below := p.least - 1; below != 0 || p.zero == "" {
			try(below, "out_of_range")
		}
		if p.least > 0 {
			try(-1, "out_of_range")
		}
		if p.least > 1 && p.zero == "" {
			try(0, "out_of_range")
		}
	}
	holds(t, changes)
}

func TestShopAndUnitRanges(t *testing.T) {
	holdRanges(t, []plausible{
		{"shop.labour_cents_per_hour", 0, 100_000, "", func(c *catalog.Catalogue) any { return &c.Shop.LabourPerHour }},
		{"shop.tax_percent", 0, 10_000, "", func(c *catalog.Catalogue) any { return &c.Shop.Tax }},
		{"units[0].weighed_kg", 5_000, 250_000, "unstated", func(c *catalog.Catalogue) any { return &c.Units[0].Weighed }},
		{"units[0].odometer_km", 0, 1_000_000, "", func(c *catalog.Catalogue) any { return &c.Units[0].Odometer }},
	})
}

func TestFrameRanges(t *testing.T) {
	// frame returns the frame that states only what it must.
	frame := func(c *catalog.Catalogue) *catalog.Frame { return &c.Frames[1] }
	first := func(c *catalog.Catalogue) *catalog.Frame { return &c.Frames[0] }
	holdRanges(t, []plausible{
		{"frames[1].gross_rating_kg", 40_000, 600_000, "missing", func(c *catalog.Catalogue) any { return &frame(c).GrossRating }},
		{"frames[1].bare_weight_kg", 5_000, 200_000, "missing", func(c *catalog.Catalogue) any {
			frame(c).GrossRating = 600 * kg
			return &frame(c).BareWeight
		}},
		{"frames[1].rider_max_kg", 30_000, 300_000, "unstated", func(c *catalog.Catalogue) any { return &frame(c).RiderMaxMass }},
		{"frames[1].front_axle_max_kg", 10_000, 600_000, "unstated", func(c *catalog.Catalogue) any { return &frame(c).FrontAxleRating }},
		{"frames[1].rear_axle_max_kg", 10_000, 600_000, "unstated", func(c *catalog.Catalogue) any { return &frame(c).RearAxleRating }},
		{"frames[1].bare_front_share", 0, 10_000, "", func(c *catalog.Catalogue) any { return &frame(c).BareFrontShare }},
		{"frames[1].passengers_max", 0, 12, "", func(c *catalog.Catalogue) any { return &frame(c).PassengersMax }},
		{"frames[1].price_cents", 1, 10_000_000, "missing", func(c *catalog.Catalogue) any { return &frame(c).Price }},
		{"frames[1].standover_cm", 100, 1200, "unstated", func(c *catalog.Catalogue) any { return &frame(c).Standover }},
		{"frames[1].saddle_min_cm", 200, 1200, "unstated", func(c *catalog.Catalogue) any { return &frame(c).SaddleMin }},
		{"frames[1].saddle_max_cm", 200, 1200, "unstated", func(c *catalog.Catalogue) any { return &frame(c).SaddleMax }},
		{"frames[1].length_cm", 800, 5000, "missing", func(c *catalog.Catalogue) any { return &frame(c).Length }},
		{"frames[1].width_cm", 200, 2000, "missing", func(c *catalog.Catalogue) any { return &frame(c).Width }},
		{"frames[1].height_cm", 500, 2500, "missing", func(c *catalog.Catalogue) any { return &frame(c).Height }},
		{"frames[0].upright.length_cm", 200, 3000, "missing", func(c *catalog.Catalogue) any { return &first(c).Upright.Length }},
		{"frames[0].upright.width_cm", 200, 2000, "missing", func(c *catalog.Catalogue) any { return &first(c).Upright.Width }},
		{"frames[0].upright.height_cm", 500, 4000, "missing", func(c *catalog.Catalogue) any { return &first(c).Upright.Height }},
		{"frames[1].wheelbase_cm", 500, 3500, "unstated", func(c *catalog.Catalogue) any { return &frame(c).Wheelbase }},
		{"frames[1].rider_ahead_of_rear_axle_cm", -500, 2500, "", func(c *catalog.Catalogue) any { return &frame(c).RiderAhead }},
		{"frames[0].chainring[1]", 10, 80, "", func(c *catalog.Catalogue) any { return &first(c).Chainrings[1] }},
		{"frames[0].sprockets[2]", 8, 60, "", func(c *catalog.Catalogue) any { return &first(c).Sprockets[2] }},
		{"frames[1].assist_watts", 0, 2000, "", func(c *catalog.Catalogue) any { return &frame(c).AssistWatts }},
		{"frames[1].zones[0].rating_kg", 1000, 400_000, "unstated", func(c *catalog.Catalogue) any { return &frame(c).Zones[0].Rating }},
		{"frames[1].zones[0].ahead_of_rear_axle_cm", -1500, 3500, "", func(c *catalog.Catalogue) any { return &frame(c).Zones[0].Ahead }},
		{"frames[1].zones[0].height_cm", 0, 2000, "", func(c *catalog.Catalogue) any { return &frame(c).Zones[0].Height }},
		{"frames[1].zones[0].cargo_kg", 0, 400_000, "", func(c *catalog.Catalogue) any { return &frame(c).Zones[0].Cargo }},
		{"frames[1].zones[0].cargo_litres", 0, 2_000_000, "", func(c *catalog.Catalogue) any { return &frame(c).Zones[0].CargoVolume }},
		{"frames[0].combined[0].rating_kg", 1000, 400_000, "missing", func(c *catalog.Catalogue) any { return &first(c).Combined[0].Rating }},
		{"frames[1].mounts[0].capacity", 1, 10_000, "", func(c *catalog.Catalogue) any {
			frame(c).Mounts = []catalog.Mount{{Code: "belly"}}
			return &frame(c).Mounts[0].Capacity
		}},
	})
}

func TestAddOnRanges(t *testing.T) {
	seat := func(c *catalog.Catalogue) *catalog.AddOn { return &c.AddOns[0] }
	stand := func(c *catalog.Catalogue) *catalog.AddOn { return &c.AddOns[1] }
	place := func(c *catalog.Catalogue, p catalog.Place) *catalog.Place {
		p.Kind = "bench"
		seat(c).Places[0] = p
		return &seat(c).Places[0]
	}
	// bench returns a place without limits but a greatest weight.
	bench := func(c *catalog.Catalogue) *catalog.Place { return place(c, catalog.Place{MaxMass: 200 * kg}) }
	holdRanges(t, []plausible{
		{"add_ons[1].weight_kg", 1, 100_000, "missing", func(c *catalog.Catalogue) any { return &stand(c).Weight }},
		{"add_ons[1].price_cents", 0, 10_000_000, "", func(c *catalog.Catalogue) any { return &stand(c).Price }},
		{"add_ons[1].fitting_minutes", 0, 1440, "", func(c *catalog.Catalogue) any { return &stand(c).FittingMinutes }},
		{"add_ons[1].max_load_kg", 0, 400_000, "", func(c *catalog.Catalogue) any { return &stand(c).MaxLoad }},
		{"add_ons[0].cargo_kg", 0, 400_000, "", func(c *catalog.Catalogue) any { return &seat(c).Cargo }},
		{"add_ons[0].cargo_litres", 0, 2_000_000, "", func(c *catalog.Catalogue) any { return &seat(c).CargoVolume }},
		{"add_ons[0].displaces_kg", 0, 400_000, "", func(c *catalog.Catalogue) any { return &seat(c).DisplacesCargo }},
		{"add_ons[0].displaces_litres", 0, 2_000_000, "", func(c *catalog.Catalogue) any { return &seat(c).DisplacesVolume }},
		{"add_ons[1].ahead_of_rear_axle_cm", -1500, 3500, "", func(c *catalog.Catalogue) any {
			stand(c).Zone = ""
			return &stand(c).Ahead
		}},
		{"add_ons[0].pet_kg", 0, 150_000, "", func(c *catalog.Catalogue) any { return &seat(c).Pet }},
		{"add_ons[1].up_to", 0, 8, "", func(c *catalog.Catalogue) any { return &stand(c).UpTo }},
		{"add_ons[1].front_overhang_cm", 0, 2000, "", func(c *catalog.Catalogue) any { return &stand(c).FrontOverhang }},
		{"add_ons[1].rear_overhang_cm", 0, 2000, "", func(c *catalog.Catalogue) any { return &stand(c).RearOverhang }},
		{"add_ons[1].overall_width_cm", 0, 2000, "", func(c *catalog.Catalogue) any { return &stand(c).OverallWidth }},
		{"add_ons[1].overall_height_cm", 0, 2500, "", func(c *catalog.Catalogue) any { return &stand(c).OverallHeight }},
		{"add_ons[1].removable_seconds", 0, 3600, "", func(c *catalog.Catalogue) any { return &stand(c).RemovableSeconds }},
		{"add_ons[1].uses[0].count", 1, 10_000, "", func(c *catalog.Catalogue) any {
			c.Frames[0].ComesWith = nil
			return &stand(c).Uses[0].Count
		}},
		{"add_ons[0].places[0].min_months", 0, 240, "", func(c *catalog.Catalogue) any { return &bench(c).MinMonths }},
		{"add_ons[0].places[0].max_months", 0, 1200, "", func(c *catalog.Catalogue) any { return &bench(c).MaxMonths }},
		{"add_ons[0].places[0].min_kg", 0, 150_000, "", func(c *catalog.Catalogue) any { return &bench(c).MinMass }},
		{"add_ons[0].places[0].max_kg", 0, 200_000, "", func(c *catalog.Catalogue) any { return &place(c, catalog.Place{MinMonths: 1}).MaxMass }},
		{"add_ons[0].places[0].max_stature_cm", 0, 2300, "", func(c *catalog.Catalogue) any { return &bench(c).MaxStature }},
		{"add_ons[0].places[0].ahead_of_rear_axle_cm", -1500, 3500, "", func(c *catalog.Catalogue) any { return &bench(c).Ahead }},
		{"add_ons[0].places[0].height_cm", 0, 2000, "", func(c *catalog.Catalogue) any { return &bench(c).Height }},
		{"add_ons[0].on_frame.sedge.fitting_minutes", 0, 1440, "", func(c *catalog.Catalogue) any { return seat(c).OnFrame["sedge"].FittingMinutes }},
		{"add_ons[0].on_frame.sedge.max_load_kg", 0, 400_000, "", func(c *catalog.Catalogue) any { return seat(c).OnFrame["sedge"].MaxLoad }},
		{"add_ons[0].on_frame.sedge.front_overhang_cm", 0, 2000, "", func(c *catalog.Catalogue) any { return seat(c).OnFrame["sedge"].FrontOverhang }},
		{"add_ons[0].on_frame.sedge.rear_overhang_cm", 0, 2000, "", func(c *catalog.Catalogue) any { return seat(c).OnFrame["sedge"].RearOverhang }},
		{"add_ons[0].on_frame.sedge.overall_width_cm", 0, 2000, "", func(c *catalog.Catalogue) any { return seat(c).OnFrame["sedge"].OverallWidth }},
		{"add_ons[0].on_frame.sedge.overall_height_cm", 0, 2500, "", func(c *catalog.Catalogue) any { return seat(c).OnFrame["sedge"].OverallHeight }},
	})
}
