package sheet

import (
	"kinwain/internal/catalog"
	"kinwain/internal/measure"
)

// field is one column of a table with the cell of one row.
type field struct {
	name string
	cell cell
}

// The rows of the tables. What belongs to a frame or an add-on names it.
type (
	shopRow struct {
		Version int
		catalog.Shop
	}
	zoneRow struct {
		frame string
		catalog.Zone
	}
	combinedRow struct {
		frame string
		catalog.Combined
	}
	placeRow struct {
		frame, addOn string // one of the two
		catalog.Place
	}
	pairRow struct {
		addOn, frame string
		catalog.Pair
	}
)

var shopTable = table[shopRow]{
	name:     "shop",
	required: []string{"catalogue", "name", "currency"},
	fields: func(s *shopRow) []field {
		return []field{
			{"catalogue", count{&s.Version}}, {"name", text{&s.Name}}, {"currency", word{&s.Currency}},
			{"labour_cents_per_hour", figure{&s.LabourPerHour}}, {"tax_percent", figure{&s.Tax}}, {"prices_include_tax", flag{&s.PricesIncludeTax}},
		}
	},
}

var frameTable = table[catalog.Frame]{
	name: "frames",
	required: []string{"code", "name", "gross_rating_kg", "bare_weight_kg", "rider_min_cm", "rider_max_cm", "price_cents",
		"length_cm", "width_cm", "height_cm"},
	fields: func(f *catalog.Frame) []field {
		upright := func(l *measure.Length) cell { return blankWhen{figure{l}, !f.CanStand()} }
		return []field{
			{"code", word{&f.Code}}, {"name", text{&f.Name}}, {"family", text{&f.Family}}, {"type", word{&f.Type}},
			{"material", text{&f.Material}}, {"size", text{&f.Size}},
			{"gross_rating_kg", figure{&f.GrossRating}}, {"bare_weight_kg", figure{&f.BareWeight}},
			{"rider_min_cm", figure{&f.RiderMin}}, {"rider_max_cm", figure{&f.RiderMax}}, {"rider_max_kg", figure{&f.RiderMaxMass}},
			{"passengers_max", count{&f.PassengersMax}}, {"standover_cm", figure{&f.Standover}},
			{"saddle_min_cm", figure{&f.SaddleMin}}, {"saddle_max_cm", figure{&f.SaddleMax}}, {"price_cents", figure{&f.Price}},
			{"length_cm", figure{&f.Length}}, {"width_cm", figure{&f.Width}}, {"height_cm", figure{&f.Height}},
			{"upright.length_cm", upright(&f.Upright.Length)}, {"upright.width_cm", upright(&f.Upright.Width)},
			{"upright.height_cm", upright(&f.Upright.Height)},
			{"wheelbase_cm", figure{&f.Wheelbase}}, {"rider_ahead_of_rear_axle_cm", figure{&f.RiderAhead}},
			{"bare_front_share", figure{&f.BareFrontShare}},
			{"front_axle_max_kg", figure{&f.FrontAxleRating}}, {"rear_axle_max_kg", figure{&f.RearAxleRating}},
			{"front_tyre", word{&f.FrontTyre}}, {"rear_tyre", word{&f.RearTyre}}, {"odd_wheel", flag{&f.OddWheel}},
			{"front_brake", word{&f.FrontBrake}}, {"rear_brake", word{&f.RearBrake}},
			{"chainring", counts{&f.Chainrings}}, {"sprockets", counts{&f.Sprockets}}, {"assist_watts", count{&f.AssistWatts}},
			{"mounts", mounts(&f.Mounts)}, {"provides", words{&f.Provides}}, {"comes_with", words{&f.ComesWith}}, {"notes", text{&f.Notes}},
		}
	},
}

var zoneTable = table[zoneRow]{
	name:     "zones",
	required: []string{"frame", "code"},
	fields: func(z *zoneRow) []field {
		return []field{
			{"frame", word{&z.frame}}, {"code", word{&z.Code}}, {"rating_kg", figure{&z.Rating}},
			{"ahead_of_rear_axle_cm", figure{&z.Ahead}}, {"height_cm", figure{&z.Height}}, {"steered", flag{&z.Steered}},
			{"side", word{&z.Side}}, {"cargo_kg", figure{&z.Cargo}}, {"cargo_litres", figure{&z.CargoVolume}},
		}
	},
}

var combinedTable = table[combinedRow]{
	name:     "combined",
	required: []string{"frame", "zones", "rating_kg"},
	fields: func(c *combinedRow) []field {
		return []field{{"frame", word{&c.frame}}, {"zones", words{&c.Zones}}, {"rating_kg", figure{&c.Rating}}}
	},
}

var placeTable = table[placeRow]{
	name:     "places",
	required: []string{"kind"},
	fields: func(p *placeRow) []field {
		return []field{
			{"frame", word{&p.frame}}, {"add_on", word{&p.addOn}}, {"zone", word{&p.Zone}}, {"kind", word{&p.Kind}},
			{"min_months", count{&p.MinMonths}}, {"max_months", count{&p.MaxMonths}},
			{"min_kg", figure{&p.MinMass}}, {"max_kg", figure{&p.MaxMass}}, {"max_stature_cm", figure{&p.MaxStature}},
			{"needs", groups{&p.Needs}}, {"ahead_of_rear_axle_cm", figure{&p.Ahead}}, {"height_cm", figure{&p.Height}},
		}
	},
}

var addOnTable = table[catalog.AddOn]{
	name:     "add_ons",
	required: []string{"code", "name", "weight_kg"},
	fields: func(a *catalog.AddOn) []field {
		return []field{
			{"code", word{&a.Code}}, {"name", text{&a.Name}}, {"weight_kg", figure{&a.Weight}}, {"price_cents", figure{&a.Price}},
			{"fitting_minutes", count{&a.FittingMinutes}}, {"fits", words{&a.Fits}}, {"uses", uses(&a.Uses)}, {"needs", groups{&a.Needs}},
			{"excludes", words{&a.Excludes}}, {"provides", words{&a.Provides}}, {"zone", word{&a.Zone}},
			{"max_load_kg", figure{&a.MaxLoad}}, {"cargo_kg", figure{&a.Cargo}}, {"cargo_litres", figure{&a.CargoVolume}},
			{"pet_kg", figure{&a.Pet}}, {"up_to", count{&a.UpTo}},
			{"front_overhang_cm", figure{&a.FrontOverhang}}, {"rear_overhang_cm", figure{&a.RearOverhang}},
			{"overall_width_cm", figure{&a.OverallWidth}}, {"overall_height_cm", figure{&a.OverallHeight}},
			{"blocks_upright", flag{&a.BlocksUpright}}, {"removable_seconds", count{&a.RemovableSeconds}},
		}
	},
}

var pairTable = table[pairRow]{
	name:     "on_frame",
	required: []string{"add_on", "frame"},
	fields: func(p *pairRow) []field {
		length := func(of **measure.Length) cell {
			return maybe[measure.Length]{of, func(l *measure.Length) cell { return figure{l} }}
		}
		return []field{
			{"add_on", word{&p.addOn}}, {"frame", word{&p.frame}},
			{"fitting_minutes", maybe[int]{&p.FittingMinutes, func(n *int) cell { return count{n} }}},
			{"max_load_kg", maybe[measure.Mass]{&p.MaxLoad, func(m *measure.Mass) cell { return figure{m} }}},
			{"front_overhang_cm", length(&p.FrontOverhang)}, {"rear_overhang_cm", length(&p.RearOverhang)},
			{"overall_width_cm", length(&p.OverallWidth)}, {"overall_height_cm", length(&p.OverallHeight)},
			{"blocks_upright", maybe[bool]{&p.BlocksUpright, func(b *bool) cell { return flag{b} }}}, {"note", text{&p.Note}},
		}
	},
}

var unitTable = table[catalog.Unit]{
	name:     "units",
	required: []string{"tag", "frame", "kind", "status"},
	fields: func(u *catalog.Unit) []field {
		return []field{
			{"tag", word{&u.Tag}}, {"frame", word{&u.Frame}}, {"kind", word{&u.Kind}}, {"colour", text{&u.Colour}},
			{"fitted", words{&u.Fitted}}, {"status", word{&u.Status}}, {"weighed_kg", figure{&u.Weighed}},
			{"weighed_on", day{&u.WeighedOn}}, {"odometer_km", count{(*int)(&u.Odometer)}},
		}
	},
}
