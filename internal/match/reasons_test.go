// Every reason code with its figure just under, at and just over its line.
package match_test

import (
	"context"
	"maps"
	"slices"
	"strings"
	"testing"

	"kinwain/internal/catalog"
	"kinwain/internal/match"
	"kinwain/internal/measure"
	"kinwain/internal/profile"
)

const (
	none = match.Weight("")
	note = match.Note
	care = match.Care
	stop = match.Stop
)

// edge is one line of one rule. set puts the figure one of the smallest unit
// under the line, at it or over it (step −1, 0, 1); want is the weight of the
// reason at each.
type edge struct {
	code match.Code
	line string
	want [3]match.Weight
	set  func(k *counter, step int)
}

var edges = slices.Concat(riderEdges, ratingEdges, passengerEdges, cargoEdges, homeEdges, moneyEdges, balanceEdges, marginEdges, roadEdges, unstatedEdges, sourceEdges, horizonEdges, byHandEdges, localEdges)

func millimetres(step int) measure.Length { return measure.Length(step) }
func grams(step int) measure.Mass         { return measure.Mass(step) }

func weighed(mass measure.Mass, how profile.Weighed) func(k *counter, step int) {
	return func(k *counter, step int) {
		k.p.Riders[0].Weight, k.p.Riders[0].Weighed = profile.Given(mass+grams(step)), profile.Given(how)
	}
}

func tall(height measure.Length) func(k *counter, step int) {
	return func(k *counter, step int) { k.p.Riders[0].Height = profile.Given(height + millimetres(step)) }
}

// The frame is for riders of 150 to 195 cm and 120 kg, with 52 cm standover.
var riderEdges = []edge{
	{"rider_height", "half a centimetre under the shortest", [...]match.Weight{stop, care, care}, tall(1495 * mm)},
	{"rider_height", "the shortest", [...]match.Weight{care, care, care}, tall(150 * cm)},
	{"rider_height", "2 cm above the shortest", [...]match.Weight{care, care, none}, tall(152 * cm)},
	{"rider_height", "2 cm under the tallest", [...]match.Weight{none, care, care}, tall(193 * cm)},
	{"rider_height", "the tallest", [...]match.Weight{care, care, care}, tall(195 * cm)},
	{"rider_height", "half a centimetre over the tallest", [...]match.Weight{care, care, stop}, tall(1955 * mm)},
	{"rider_weight", "120 kg dressed", [...]match.Weight{none, none, stop}, weighed(120*kg, profile.Dressed)},
	{"rider_weight", "116 kg undressed and 4 of clothes", [...]match.Weight{none, none, stop}, weighed(116*kg, profile.Undressed)},
	{"rider_weight", "114 kg stated and 6 on top", [...]match.Weight{none, none, stop}, weighed(114*kg, profile.Stated)},
	{"standover", "52 cm and 2 to spare", [...]match.Weight{care, none, none}, func(k *counter, step int) { k.p.Riders[0].Inseam = profile.Given(54*cm + millimetres(step)) }},
	// 0.883 × 1000 mm = 883 mm.
	{"saddle_range", "the lowest saddle", [...]match.Weight{care, none, none}, func(k *counter, step int) {
		k.f.SaddleMin, k.p.Riders[0].Inseam = 883*mm, profile.Given(1000*mm+millimetres(step))
	}},
	{"saddle_range", "the highest saddle", [...]match.Weight{none, none, care}, func(k *counter, step int) {
		k.f.SaddleMax, k.p.Riders[0].Inseam = 883*mm, profile.Given(1000*mm+millimetres(step))
	}},
	// 0.883 × 820 mm = 724.06 mm, between two millimetres.
	{"saddle_range", "a lowest saddle in parts of a millimetre", [...]match.Weight{none, care, care}, func(k *counter, step int) {
		k.f.SaddleMin, k.p.Riders[0].Inseam = 725*mm+millimetres(step), profile.Given(820*mm)
	}},
	{"saddle_range", "a highest saddle in parts of a millimetre", [...]match.Weight{care, care, none}, func(k *counter, step int) {
		k.f.SaddleMax, k.p.Riders[0].Inseam = 724*mm+millimetres(step), profile.Given(820*mm)
	}},
	{"grip", "full, and reduced with a hydraulic disc and a coaster", [...]match.Weight{none, note, note}, func(k *counter, step int) {
		k.p.Riders[0].Grip = profile.Given([]profile.Grip{profile.FullGrip, profile.ReducedGrip, profile.ReducedGrip}[step+1])
		k.f.RearBrake = []string{"coaster", "hydraulic_disc", "coaster"}[step+1]
	}},
	{"grip", "reduced, with drum, cable disc and hydraulic rim", [...]match.Weight{note, care, care}, func(k *counter, step int) {
		k.p.Riders[0].Grip = profile.Given(profile.ReducedGrip)
		k.f.FrontBrake = []string{"drum", "cable_disc", "hydraulic_rim"}[step+1]
	}},
	{"odd_wheel", "559 mm", [...]match.Weight{note, none, none}, func(k *counter, step int) {
		k.f.OddWheel, k.f.RearTyre = true, "50-"+[]string{"558", "559", "560"}[step+1]
	}},
	{"weight_estimated", "dressed, undressed, stated", [...]match.Weight{none, note, note}, func(k *counter, step int) {
		k.p.Riders[0].Weighed = profile.Given([]profile.Weighed{profile.Dressed, profile.Undressed, profile.Stated}[step+1])
	}},
	{"spec_missing", "120 kg, 30 kg and nothing stated for the rider", [...]match.Weight{none, none, note}, func(k *counter, step int) {
		k.f.RiderMaxMass = []measure.Mass{120 * kg, 80 * kg, 0}[step+1]
	}},
}

// A child of 16 kg dressed on a seat of 1 kg, under a rider of 80 on a bike of
// 25: 122 in all, 17 in the rear zone over the rear axle, which has 60 % of
// the 25 and half of the 80 besides: 72.
var ratingEdges = []edge{
	{"gross_rating", "122 kg", [...]match.Weight{none, none, stop}, seated(func(k *counter, step int) { k.f.GrossRating = 122*kg - grams(step) })},
	{"zone_rating", "17 kg", [...]match.Weight{none, none, stop}, seated(func(k *counter, step int) { k.f.Zones[1].Rating = 17*kg - grams(step) })},
	{"combined_rating", "17 kg together", [...]match.Weight{none, none, stop}, seated(func(k *counter, step int) {
		k.f.Combined = []catalog.Combined{{Zones: []string{"front", "rear"}, Rating: 17*kg - grams(step)}}
	})},
	{"axle_rating", "72 kg behind", [...]match.Weight{none, none, stop}, seated(func(k *counter, step int) { k.f.RearAxleRating = 72*kg - grams(step) })},
	{"axle_rating", "50 kg in front", [...]match.Weight{none, none, stop}, func(k *counter, step int) { k.f.FrontAxleRating = 50*kg - grams(step) }},
	{"add_on_rating", "16 kg on the seat", [...]match.Weight{none, none, stop}, seated(func(k *counter, step int) { k.seat().MaxLoad = 16*kg - grams(step) })},
	// 64 kg are 80 % of 80: the child's 16 and 48 of cargo.
	{"carry_guideline", "64 kg", [...]match.Weight{none, none, care}, seated(func(k *counter, step int) { k.hold(48*kg + grams(step)) })},
	{"carry_guideline", "64 kg, with an allowance on top of the rider's 80", [...]match.Weight{none, none, care}, seated(func(k *counter, step int) {
		k.hold(48*kg + grams(step))
		k.p.Riders[0].Weighed = profile.Given(profile.Stated)
	})},
}

// On the counter's frame the front axle has 10 of the 25 kg and half of the
// rider's 80: 50 kg, and nothing of what is over the rear axle. 20 % of 250 kg
// are 50: with 145 of cargo. Half a metre behind, 100 kg lift as much as the 50
// hold down.
var balanceEdges = []edge{
	{"front_light", "20 % of the whole", [...]match.Weight{none, none, care}, func(k *counter, step int) {
		k.roomy()
		k.hold(145*kg + grams(step))
	}},
	{"front_light", "nothing", [...]match.Weight{care, care, stop}, func(k *counter, step int) {
		k.roomy()
		k.f.Zones[1].Ahead = -500 * mm
		k.AddOn("crate").Zone = "rear" // in front its kilogram would hold the front down
		k.hold(100*kg + grams(step))
	}},
	{"front_light", "nothing, but for a crate in front", [...]match.Weight{care, care, care}, func(k *counter, step int) {
		k.roomy()
		k.f.Zones[1].Ahead = -500 * mm
		k.hold(101*kg + grams(step))
	}},
	{"front_light", "where the rider sits is not stated", [...]match.Weight{none, none, none}, func(k *counter, step int) {
		k.roomy()
		k.f.RiderAhead = 0
		k.hold(200*kg + grams(step))
	}},
	{"side_load", "5 kg", [...]match.Weight{none, none, care}, func(k *counter, step int) {
		k.f.Zones[1].Side, k.f.Zones[0].Side = "right", "left"
		k.f.Zones[0].Cargo = 0
		k.hold(5*kg + grams(step))
	}},
	{"side_load", "in the middle", [...]match.Weight{none, none, none}, func(k *counter, step int) { k.hold(50*kg + grams(step)) }},
	// 25 of the bike, 1 of the stand and 30 of cargo.
	{"stand_rating", "56 kg without the rider", [...]match.Weight{none, none, care}, func(k *counter, step int) {
		k.stand(56*kg - grams(step))
		k.hold(30 * kg)
	}},
	{"stand_rating", "not stated", [...]match.Weight{none, none, none}, func(k *counter, _ int) {
		k.stand(0)
		k.hold(90 * kg)
	}},
}

// TestBrakesAreNamed holds that the brakes of a frame are said as far as they
// are stated, and that they suit only where no reason is against them.
func TestBrakesAreNamed(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		front, rear string
		cargo       measure.Mass
		grip        profile.Grip
		want        string
	}{
		{"hydraulic_disc", "drum", 10 * kg, profile.FullGrip, "Brakes: hydraulic disc in front, drum behind. They suit this load."},
		{"cable_rim", "cable_rim", 10 * kg, profile.FullGrip, "Brakes: cable rim in front, cable rim behind. They suit this load."},
		{"cable_rim", "cable_rim", 10 * kg, profile.ReducedGrip, "Brakes: cable rim in front, cable rim behind."},
		{"cable_rim", "coaster", 60 * kg, profile.FullGrip, "Brakes: cable rim in front, coaster behind."},
		{"", "roller", 10 * kg, profile.FullGrip, "Brake behind: roller. The maker states no other. They suit this load."},
		{"", "", 10 * kg, profile.FullGrip, "The maker does not state the brakes."},
	} {
		k := atCounter()
		k.hold(c.cargo)
		k.f.FrontBrake, k.f.RearBrake, k.p.Riders[0].Grip = c.front, c.rear, profile.Given(c.grip)
		var got []string
		for _, said := range k.judge(t).Brakes() {
			got = append(got, said.In(measure.Metric))
		}
		if text := strings.Join(got, " "); text != c.want {
			t.Errorf("%q, want %q", text, c.want)
		}
	}
}

// roomy lets the bike bear much, so that only its balance is in question.
func (k *counter) roomy() {
	k.f.GrossRating, k.f.RearAxleRating, k.f.Zones[1].Rating = 500*kg, 400*kg, 400*kg
}

// stand makes the frame come with a stand of 1 kg that bears so much, and that
// costs more to take off than to leave.
func (k *counter) stand(most measure.Mass) {
	k.AddOns = append(k.AddOns, catalog.AddOn{Code: "stand", Name: "Stand", Weight: 1 * kg, FittingMinutes: 10, Fits: []string{"sedge"}, Provides: []string{"two_leg_stand"}, StandMax: most})
	k.Shop.LabourPerHour = 6000
	k.f.BareWeight, k.f.ComesWith = 26*kg, []string{"stand"}
}

// Bike and rider are 105 kg, and 111 with what is added to a stated weight.
var marginEdges = []edge{
	{"estimate_margin", "5 kg of the gross rating, estimated", [...]match.Weight{none, none, care}, func(k *counter, step int) {
		k.p.Riders[0].Weighed = profile.Given(profile.Stated)
		k.f.GrossRating = 116*kg - grams(step)
	}},
	{"estimate_margin", "5 kg of the rear axle, estimated", [...]match.Weight{none, none, care}, func(k *counter, step int) {
		k.p.Riders[0].Weighed = profile.Given(profile.Stated)
		k.f.RearAxleRating = 63*kg - grams(step) // 15 of the bike and half of 86
	}},
	{"estimate_margin", "nothing, weighed", [...]match.Weight{none, none, none}, func(k *counter, _ int) { k.f.GrossRating = 105 * kg }},
}

// cabled has nothing but a brake of a kind, and cargo that makes 150 kg of it
// all: 25 of the bike and 80 of the rider besides.
func cabled(front, rear string) func(k *counter, step int) {
	return func(k *counter, step int) {
		k.f.FrontBrake, k.f.RearBrake = front, rear
		k.hold(45*kg + grams(step))
	}
}

// steep has a child along on a hill of 8 %.
func steep(front string) func(k *counter, step int) {
	return seated(func(k *counter, step int) {
		k.f.FrontBrake, k.f.RearBrake, k.f.AssistWatts = front, "cable_rim", 250
		k.p.Hill = profile.Given(measure.Percentage(8_00 + step))
	})
}

// 105 kg on 9.1 %: 1029.698 N × 0.100584 = 103.572 N, and a rider of 80 keeps up
// 144 W: at 1.3479 m/s the air adds 0.701, and 104.273 × 1.3479 ÷ 0.976 = 144.0;
// that is 4852 metres an hour. The lowest gear of
// the wheel that rolls π × 706 mm = 2218 mm goes 22 ÷ 34 of that, 1435 mm: at 50
// turns 4.31 km/h.
var roadEdges = []edge{
	{"hill", "4.852 km/h", [...]match.Weight{none, none, care}, func(k *counter, step int) {
		k.p.Hill = profile.Given(measure.Percentage(9_10))
		k.s.HillSpeed = 4852 + int64(step)
	}},
	{"hill", "no hill", [...]match.Weight{none, none, none}, func(k *counter, step int) { k.p.Hill = profile.Given(measure.Percentage(0)) }},
	// 4852 m ÷ 1435 mm ÷ 60 = 56.4 turns a minute.
	{"hill", "56 turns a minute", [...]match.Weight{none, none, care}, func(k *counter, step int) {
		k.f.Chainrings, k.f.Sprockets = []int{22}, []int{11, 34}
		k.p.Hill = profile.Given(measure.Percentage(9_10))
		k.s.HillTurns = 56 + int64(step)
	}},
	{"brakes", "150 kg on cable and rim", [...]match.Weight{none, none, care}, cabled("cable_disc", "hydraulic_rim")},
	{"brakes", "150 kg on a coaster alone", [...]match.Weight{none, none, care}, cabled("", "coaster")},
	{"brakes", "150 kg on one drum", [...]match.Weight{none, none, none}, cabled("drum", "coaster")},
	{"brakes", "150 kg on nothing stated", [...]match.Weight{none, none, none}, cabled("", "")},
	{"brakes", "a child on 8 %", [...]match.Weight{none, care, care}, steep("cable_disc")},
	{"brakes", "a child on 8 %, one hydraulic disc", [...]match.Weight{none, none, none}, steep("hydraulic_disc")},
}

// bagged has a dog in its crate in a front zone that states no rating.
func bagged(most measure.Mass, rating measure.Mass) func(k *counter) {
	return func(k *counter) {
		k.p.Pet = profile.Given(5 * kg)
		k.AddOn("crate").MaxLoad, k.f.Zones[0].Rating = most, rating
	}
}

// unstatedEdges lean on what the maker does not state.
var unstatedEdges = []edge{
	{"spec_missing", "a rider of 110 kg without a limit", [...]match.Weight{note, note, care}, func(k *counter, step int) {
		k.f.RiderMaxMass = 0
		weighed(110*kg, profile.Dressed)(k, step)
	}},
	{"spec_missing", "25 kg of cargo over unrated axles", [...]match.Weight{note, note, care}, func(k *counter, step int) {
		k.f.FrontAxleRating = 0
		k.hold(25*kg + grams(step))
	}},
	{"spec_missing", "a child over unrated axles", [...]match.Weight{care, care, care}, seated(func(k *counter, _ int) { k.f.RearAxleRating = 0 })},
	{"spec_missing", "a child on a frame without a wheelbase", [...]match.Weight{care, care, care}, seated(func(k *counter, _ int) { k.f.Wheelbase = 0 })},
	{"spec_missing", "a child in a zone without a rating", [...]match.Weight{care, care, care}, seated(func(k *counter, _ int) { k.f.Zones[1].Rating = 0 })},
	{"spec_missing", "children without a limit to their number", [...]match.Weight{care, care, care}, seated(func(k *counter, _ int) { k.f.PassengersMax = 0 })},
	{"spec_missing", "a child in a place without a greatest weight", [...]match.Weight{none, care, none}, place(func(pl *catalog.Place, step int) {
		pl.MaxMass = []measure.Mass{30 * kg, 0, 30 * kg}[step+1]
	})},
	{"spec_missing", "a child in a place without a least age", [...]match.Weight{care, none, none}, place(func(pl *catalog.Place, step int) {
		pl.MinMonths = 1 + step
	})},
	{"spec_missing", "a pet where its crate, neither and its zone are rated", [...]match.Weight{note, care, none}, func(k *counter, step int) {
		bagged([]measure.Mass{8 * kg, 0, 0}[step+1], []measure.Mass{0, 0, 8 * kg}[step+1])(k)
	}},
	{"spec_missing", "cargo in a zone of its own without a rating", [...]match.Weight{note, note, note}, func(k *counter, _ int) {
		k.hold(10 * kg)
		k.f.Zones[1].Rating = 0
	}},
}

// silently notes no source of a figure.
func silently(figure string, set func(k *counter, step int)) func(k *counter, step int) {
	return seated(func(k *counter, step int) {
		k.silent = []string{figure}
		set(k, step)
	})
}

// sourceEdges load to nine tenths of a rating of which nobody noted where it
// comes from. With a child of 16 kg the bike is 122 in all, 17 of them behind.
var sourceEdges = []edge{
	{"source_missing", "126 of 140 kg in all", [...]match.Weight{note, care, care}, silently("gross_rating_kg", func(k *counter, step int) {
		k.f.GrossRating = 140 * kg
		k.hold(4*kg + grams(step))
	})},
	{"source_missing", "18 of 20 kg behind", [...]match.Weight{note, care, care}, silently("zones[rear].rating_kg", func(k *counter, step int) {
		k.f.Zones[1].Rating = 20 * kg
		k.hold(1*kg + grams(step))
	})},
	{"source_missing", "18 of 20 kg in a place", [...]match.Weight{note, care, care}, silently("places[0].max_kg", func(k *counter, step int) {
		k.seat().Places[0].MaxMass = 20 * kg
		child := kid("p", "2023-05")
		child.Weight = profile.Given(17*kg + grams(step))
		k.kids(child)
	})},
	// The child, born in May 2023, is surely 41 months old and surely not over 43.
	{"source_missing", "47 or 48 months in a place", [...]match.Weight{care, care, note}, silently("places[0].max_months", func(k *counter, step int) {
		k.seat().Places[0].MaxMonths = 47 + step
	})},
	{"source_missing", "from 37 or 38 months in a place", [...]match.Weight{note, care, care}, silently("places[0].min_months", func(k *counter, step int) {
		k.seat().Places[0].MinMonths = 38 + step
	})},
	{"source_missing", "from 13 kg in a place, with 14.3", [...]match.Weight{care, care, note}, silently("places[0].min_kg", func(k *counter, step int) {
		k.seat().Places[0].MinMass = 13 * kg
		child := kid("p", "2023-05")
		child.Weight = profile.Given(14_300*g + grams(step))
		k.kids(child)
	})},
	{"source_missing", "up to 100 cm in a place, with 90", [...]match.Weight{note, care, care}, silently("places[0].max_stature_cm", func(k *counter, step int) {
		k.seat().Places[0].MaxStature = 100 * cm
		child := kid("p", "2023-05")
		child.Stature = profile.Given(900*mm + measure.Length(step))
		k.kids(child)
	})},
	{"source_missing", "18 of 20 kg on an add-on", [...]match.Weight{note, care, care}, silently("max_load_kg", func(k *counter, step int) {
		k.seat().MaxLoad = 20 * kg
		child := kid("p", "2023-05")
		child.Weight = profile.Given(17*kg + grams(step))
		k.kids(child)
	})},
	{"source_missing", "18 of 20 kg on an add-on that bears less on this frame", [...]match.Weight{note, care, care}, silently("on_frame.sedge", func(k *counter, step int) {
		k.seat().MaxLoad, k.seat().OnFrame = 90*kg, map[string]catalog.Pair{"sedge": {MaxLoad: new(20 * kg)}}
		child := kid("p", "2023-05")
		child.Weight = profile.Given(17*kg + grams(step))
		k.kids(child)
	})},
	{"source_missing", "a pet of 7.2 kg where 8 are allowed", [...]match.Weight{note, care, care}, silently("pet_kg", func(k *counter, step int) {
		k.p.Pet = profile.Given(7_200*g + grams(step))
	})},
	{"source_missing", "a zone with nothing in it", [...]match.Weight{none, none, none}, silently("zones[front].rating_kg", func(*counter, int) {})},
	{"source_missing", "a least age that is long past", [...]match.Weight{note, note, note}, silently("places[0].min_months", func(*counter, int) {})},
	{"source_missing", "what an add-on may carry that nobody states", [...]match.Weight{none, none, none}, silently("max_load_kg", func(*counter, int) {})},
	{"source_missing", "everything noted", [...]match.Weight{none, none, none}, seated(func(k *counter, _ int) { k.f.GrossRating = 122 * kg })},
}

// seated has one child along.
func seated(set func(k *counter, step int)) func(k *counter, step int) {
	return func(k *counter, step int) {
		k.kids(kid("p", "2023-05"))
		set(k, step)
	}
}

// place changes the place of the seat that the child is to sit in.
func place(change func(pl *catalog.Place, step int)) func(k *counter, step int) {
	return func(k *counter, step int) {
		k.kids(kid("p", "2023-05-25")) // three years and a half old to the day
		k.p.Passengers.Or(nil)[0].Stature = profile.Given(98 * cm)
		change(&k.seat().Places[0], step)
	}
}

// asOf moves the day of judging a day either way.
func asOf(kids ...profile.Passenger) func(k *counter, step int) {
	return func(k *counter, step int) {
		k.p.AsOf = later(k.p.AsOf, step)
		k.kids(kids...)
	}
}

func unasked(p profile.Passenger) profile.Passenger {
	p.SitsUnaided = profile.Answer[bool]{}
	return p
}

func unweighed(p profile.Passenger) profile.Passenger {
	p.Weight = profile.Answer[measure.Mass]{}
	return p
}

func joining(p profile.Passenger, month measure.Month) profile.Passenger {
	p.Joins = profile.Given(profile.Month{Month: month})
	return p
}

func sitting(p profile.Passenger, sits bool) profile.Passenger {
	p.SitsUnaided = profile.Given(sits)
	return p
}

var threeKids = []profile.Passenger{kid("p", "2023-05"), kid("q", "2022-05"), kid("r", "2021-05")}

var passengerEdges = []edge{
	{"age_unknown", "a birth month that is known, is not, and of nobody", [...]match.Weight{none, care, none}, func(k *counter, step int) {
		p := kid("p", "2023-05")
		if p.Stature = profile.Given(98 * cm); step == 0 {
			p.Born = profile.Unknown[measure.Date]()
		}
		if k.seat().Places[0].MinMonths = 0; step < 1 {
			k.kids(p)
		}
	}},
	{"not_sitting", "of an age that is not known", [...]match.Weight{care, care, care}, func(k *counter, _ int) {
		p := unasked(kid("p", "2023-05"))
		p.Born = profile.Unknown[measure.Date]()
		k.seat().Places[0].MinMonths = 0
		k.kids(p)
	}},
	{"place_limits", "from no age, without an age, up to an age", [...]match.Weight{none, stop, stop}, func(k *counter, step int) {
		p := kid("p", "2023-05")
		p.Born = profile.Unknown[measure.Date]()
		k.kids(joining(p, measure.MonthOf(2028, 3)))
		pl := &k.seat().Places[0]
		pl.MinMonths, pl.MaxMonths = step+1, 1200*max(step, 0)
		if step == 1 {
			pl.MinMonths = 0
		}
	}},
	{"passengers_max", "two", [...]match.Weight{none, none, stop}, func(k *counter, step int) {
		k.f.PassengersMax = 2
		k.seat().UpTo = 3
		k.kids(threeKids[:2+step]...)
	}},
	{"place_missing", "two seats", [...]match.Weight{none, none, stop}, func(k *counter, step int) { k.kids(threeKids[:2+step]...) }},
	{"place_limits", "max_kg with the clothes on", [...]match.Weight{none, none, stop}, place(func(pl *catalog.Place, step int) { pl.MaxMass = 16*kg - grams(step) })},
	{"place_limits", "min_kg without", [...]match.Weight{none, none, stop}, place(func(pl *catalog.Place, step int) { pl.MinMass = 15*kg + grams(step) })},
	{"place_limits", "max_stature", [...]match.Weight{none, none, stop}, place(func(pl *catalog.Place, step int) { pl.MaxStature = 98*cm - millimetres(step) })},
	{"place_limits", "min_months on the very day", [...]match.Weight{stop, none, none}, place42(func(pl *catalog.Place) { pl.MinMonths = 42 })},
	{"place_limits", "max_months on the very day", [...]match.Weight{none, none, stop}, place42(func(pl *catalog.Place) { pl.MaxMonths = 42 })},
	{"infant", "twelve months to the day", [...]match.Weight{stop, none, none}, asOf(kid("p", "2025-11-25"))},
	// A birth month alone counts from its last day.
	{"infant", "twelve months from the last day of the month", [...]match.Weight{stop, none, none}, func(k *counter, step int) {
		k.kids(kid("p", "2025-10"))
		k.p.AsOf = []measure.Date{day("2026-10-30"), day("2026-10-31"), day("2026-11-01")}[step+1]
	}},
	{"not_sitting", "two years to the day, not asked", [...]match.Weight{care, none, none}, asOf(unasked(kid("p", "2024-11-25")))},
	{"not_sitting", "two years to the day, not sitting", [...]match.Weight{stop, stop, stop}, asOf(sitting(kid("p", "2024-11-25"), false))},
	{"not_sitting", "not sitting yet, joining now and later", [...]match.Weight{stop, stop, care}, func(k *counter, step int) {
		k.kids(joining(sitting(kid("p", "2025-07"), false), k.p.AsOf.InMonth()+measure.Month(step)))
	}},
	// Two on the 31st of March 2027 at the latest.
	{"not_sitting", "two years old by the first of the month of joining, not asked", [...]match.Weight{care, care, none}, func(k *counter, step int) {
		k.kids(joining(unasked(kid("p", "2025-03")), measure.MonthOf(2027, 3)+measure.Month(step)))
	}},
	// Born on the 30th, joining in the month of the first birthday.
	{"joins_later", "the first birthday", [...]match.Weight{care, none, none}, func(k *counter, step int) {
		k.kids(joining(kid("p", "2025-10-30"), measure.MonthOf(2026, 10)))
		k.p.AsOf = later(day("2026-10-30"), step)
	}},
	{"infant", "the first birthday, joining in its month", [...]match.Weight{none, none, none}, func(k *counter, step int) {
		k.kids(joining(kid("p", "2025-10-30"), measure.MonthOf(2026, 10)))
		k.p.AsOf = later(day("2026-10-30"), step)
	}},
	{"joins_later", "this month", [...]match.Weight{none, none, care}, func(k *counter, step int) {
		k.kids(joining(kid("p", "2024-05"), k.p.AsOf.InMonth()+measure.Month(step)))
	}},
	{"pet_place", "8 kg", [...]match.Weight{none, none, stop}, func(k *counter, step int) { k.p.Pet = profile.Given(8*kg + grams(step)) }},
	{"weight_estimated", "a child weighed or not", [...]match.Weight{none, note, note}, func(k *counter, step int) {
		k.kids([]profile.Passenger{kid("p", "2023-05"), unweighed(kid("p", "2023-05")), unweighed(kid("p", "2015-05"))}[step+1])
	}},
	// Born on the 10th: on the 25th of November half of the 30 days to the
	// 10th of December have passed.
	{"beyond_reference", "12.5 months", [...]match.Weight{note, none, none}, asOf(kid("p", "2025-11-10"))},
	{"beyond_reference", "204.5 months", [...]match.Weight{none, none, note}, asOf(kid("p", "2009-11-10"))},
}

// lasting has a child who is too old for the seat after so many months, which
// end with the month: 42 of them with this November.
func lasting(months, years int) func(k *counter, step int) {
	return func(k *counter, step int) {
		k.kids(kid("p", "2023-05-31"))
		k.seat().Places[0].MaxMonths = months + step
		k.p.Years = profile.Given(years)
	}
}

var horizonEdges = []edge{
	{"outgrown_soon", "six months off", [...]match.Weight{care, none, none}, lasting(48, 0)},
	{"outgrown_soon", "the month that has begun", [...]match.Weight{care, care, care}, lasting(43, 0)},
	{"outgrown_before", "a year", [...]match.Weight{note, none, none}, lasting(53, 1)},
	{"outgrown_before", "no year asked for", [...]match.Weight{none, none, none}, lasting(53, 0)},
}

// place42 has a child who is 42 months old on the day, a day before and after.
func place42(change func(pl *catalog.Place)) func(k *counter, step int) {
	return func(k *counter, step int) {
		asOf(kid("p", "2023-05-25"))(k, step)
		change(&k.seat().Places[0])
	}
}

var cargoEdges = []edge{
	{"cargo_weight", "10 kg in the bag", [...]match.Weight{none, none, stop}, func(k *counter, step int) { k.p.Cargo = profile.Given(10*kg + grams(step)) }},
	{"cargo_volume", "20 l in the bag", [...]match.Weight{none, none, stop}, func(k *counter, step int) { k.p.CargoSize = profile.Given(20_000 + measure.Volume(step)) }},
}

func given(l measure.Length) profile.Answer[measure.Length] { return profile.Given(l) }

func doorway(width, height measure.Length) profile.Home {
	return profile.Home{Doorways: profile.Given([]profile.Doorway{{Width: given(width), Height: given(height)}})}
}

// The bike is 180 × 60 × 110 cm.
var homeEdges = []edge{
	{"storage_space", "as long as the bike", [...]match.Weight{none, none, stop}, func(k *counter, step int) {
		k.home(profile.Home{Length: given(180*cm - millimetres(step)), Width: given(60 * cm)})
	}},
	{"storage_space", "as high as the bike", [...]match.Weight{none, none, stop}, func(k *counter, step int) { k.home(profile.Home{Height: given(110*cm - millimetres(step))}) }},
	{"storage_space", "on end", [...]match.Weight{none, none, stop}, func(k *counter, step int) {
		k.f.Upright = catalog.Box{Length: 60 * cm, Width: 60 * cm, Height: 181 * cm}
		k.home(profile.Home{MustStandUpright: profile.Given(true), Height: given(181*cm - millimetres(step))})
	}},
	{"storage_way", "a doorway as wide as the bike", [...]match.Weight{none, none, stop}, func(k *counter, step int) { k.home(doorway(60*cm-millimetres(step), 0)) }},
	{"storage_way", "a doorway as high as the bike", [...]match.Weight{none, none, stop}, func(k *counter, step int) { k.home(doorway(0, 110*cm-millimetres(step))) }},
	{"storage_way", "a lift as long as the bike", [...]match.Weight{none, none, stop}, func(k *counter, step int) {
		k.home(profile.Home{Lift: profile.Given(profile.Lift{Length: given(180*cm - millimetres(step)), Width: given(60 * cm)})})
	}},
	{"storage_way", "a corridor as wide as the bike", [...]match.Weight{none, none, stop}, func(k *counter, step int) {
		k.home(profile.Home{Corners: profile.Given([]profile.Corner{{In: given(60*cm - millimetres(step)), Out: given(9 * measure.Metre)}})})
	}},
	{"storage_slack", "5 cm to spare", [...]match.Weight{none, none, care}, func(k *counter, step int) { k.home(doorway(65*cm-millimetres(step), 0)) }},
	{"storage_slack", "nothing to spare", [...]match.Weight{care, care, none}, func(k *counter, step int) { k.home(doorway(60*cm-millimetres(step), 0)) }},
	{"upright_way", "a hand's breadth on its wheels", [...]match.Weight{none, none, care}, func(k *counter, step int) {
		k.f.Upright = catalog.Box{Length: 500, Width: 600, Height: 1850}
		k.home(doorway(650*mm-millimetres(step), 0))
	}},
	{"upright", "lying, standing, and standing where it cannot", [...]match.Weight{none, none, stop}, func(k *counter, step int) {
		k.f.Upright = []catalog.Box{{}, {Length: 60 * cm, Width: 60 * cm, Height: 181 * cm}, {}}[step+1]
		k.home(profile.Home{MustStandUpright: profile.Given(step >= 0)})
	}},
	{"steps", "three steps with a bike over 25 kg", [...]match.Weight{none, none, care}, func(k *counter, step int) {
		k.f.BareWeight = 25*kg + 1*g
		k.home(profile.Home{Steps: profile.Given(3 + step)})
	}},
	{"steps", "25 kg up four steps", [...]match.Weight{none, none, care}, func(k *counter, step int) {
		k.f.BareWeight = 25*kg + grams(step)
		k.home(profile.Home{Steps: profile.Given(4)})
	}},
	{"steps", "25 kg with add-ons up four steps", [...]match.Weight{none, none, care}, seated(func(k *counter, step int) {
		k.f.BareWeight = 24*kg + grams(step)
		k.home(profile.Home{Steps: profile.Given(4)})
	})},
}

// priced asks for a total of so many cents within a budget.
func priced(total, budget measure.Money, firm bool) func(k *counter, step int) {
	return func(k *counter, step int) {
		k.f.Price = total + measure.Money(step)
		k.p.Budget, k.p.BudgetFirm = profile.Given(budget), profile.Given(firm)
	}
}

var moneyEdges = []edge{
	{"budget", "all of it", [...]match.Weight{none, none, care}, priced(200_000, 200_000, false)},
	{"budget", "all of it, firm", [...]match.Weight{none, none, stop}, priced(200_000, 200_000, true)},
	{"budget", "a tenth over", [...]match.Weight{care, care, care}, priced(220_000, 200_000, false)},
	{"budget", "add-ons count", [...]match.Weight{none, none, stop}, seated(priced(199_000, 200_000, true))},
}

// By hand: what is on the bike is chosen, by the add-ons' codes.
var byHandEdges = []edge{
	{"mount_full", "60 cm of deck", [...]match.Weight{none, none, stop}, func(k *counter, step int) {
		k.seat().Uses = []catalog.Use{{Mount: "deck_cm", Count: 30}}
		k.AddOn("bag").Uses = []catalog.Use{{Mount: "deck_cm", Count: 30 + step}}
	}},
	{"needs_missing", "needs the bag, nothing, the crate", [...]match.Weight{none, none, stop}, func(k *counter, step int) {
		k.seat().Needs = [][][]string{{{"bag"}}, nil, {{"crate"}}}[step+1]
	}},
	{"excluded", "excludes nothing, the crate, the bag", [...]match.Weight{none, none, stop}, func(k *counter, step int) {
		k.seat().Excludes = [][]string{nil, {"crate"}, {"bag"}}[step+1]
	}},
	{"too_many", "up to three, two, one of two", [...]match.Weight{none, none, stop}, func(k *counter, step int) { k.seat().UpTo = 2 - step }},
}

var chosen = []string{"bag", "seat", "seat"}

// judged judges an edge: with the add-ons chosen for the codes of that kind.
func (e *edge) judged(t *testing.T, step int) *match.Match {
	k := atCounter()
	e.set(k, step)
	if !slices.ContainsFunc(byHandEdges, func(b edge) bool { return b.code == e.code }) {
		return k.judge(t)
	}
	k.check(t)
	fitted := chosen
	if e.code != "too_many" {
		fitted = chosen[:2]
	}
	m, err := match.ByHand(context.Background(), k.Catalogue, k.f, k.p, k.s, fitted)
	if err != nil {
		t.Fatal(err)
	}
	return m
}

func TestEveryReasonAtItsLine(t *testing.T) {
	t.Parallel()
	met := map[match.Code]map[match.Weight]bool{}
	for _, e := range edges {
		for i, want := range e.want {
			name := string(e.code) + ", " + e.line + ", " + [...]string{"under", "at", "over"}[i]
			t.Run(name, func(t *testing.T) {
				m := e.judged(t, i-1)
				got := none
				if list := reasonsOf(m, e.code); len(list) > 1 {
					t.Errorf("given %d times", len(list))
				} else if len(list) == 1 {
					got = list[0].Weight
				}
				if got != want {
					t.Errorf("weight %q, want %q; reasons %v", got, want, codesOf(m))
				}
			})
			if met[e.code] == nil {
				met[e.code] = map[match.Weight]bool{}
			}
			met[e.code][want] = true
		}
	}
	coversTheRules(t, met)
}

// ofTheSearch are the codes that no figure brings about: time does, or a fault.
var ofTheSearch = []match.Code{match.ReasonUnsettled, match.ReasonUnverified, match.ReasonUnproved}

// coversTheRules asks for every code of the table with every weight that it
// states, and for a case without the reason unless it is always there.
func coversTheRules(t *testing.T, met map[match.Code]map[match.Weight]bool) {
	t.Helper()
	for _, r := range match.Rules {
		if slices.Contains(ofTheSearch, r.Code) {
			continue
		}
		weights := met[r.Code]
		delete(met, r.Code)
		if !weights[none] {
			t.Errorf("%s: no case without it", r.Code)
		}
		delete(weights, none)
		stated := map[match.Weight]bool{}
		for w := range strings.SplitSeq(r.Weight, "; ") {
			stated[match.Weight(w)] = true
		}
		if !maps.Equal(weights, stated) {
			t.Errorf("%s: the table states %q, the cases have %v", r.Code, r.Weight, slices.Sorted(maps.Keys(weights)))
		}
	}
	for code := range met {
		t.Errorf("%s is not in the table", code)
	}
}

// A stop rules a frame out, a care asks for attention, a note does neither.
func TestVerdictFollowsTheHeaviestReason(t *testing.T) {
	t.Parallel()
	for _, e := range edges {
		for step := -1; step <= 1; step++ {
			m := e.judged(t, step)
			want := match.Fits
			switch {
			case m.Count(stop) > 0:
				want = match.DoesNotFit
			case m.Count(care) > 0:
				want = match.FitsWithCare
			}
			if m.Verdict != want || (m.Score == nil) != (want == match.DoesNotFit) || (len(m.Criteria) == 0) != (want == match.DoesNotFit) {
				t.Errorf("%s, %s, step %d: %s with score %v and reasons %v", e.code, e.line, step, m.Verdict, m.Score, codesOf(m))
			}
		}
	}
}

// Stops come first, then cares, then notes, each in the order of the table.
func TestReasonsAreInOrder(t *testing.T) {
	t.Parallel()
	weights, codes := []match.Weight{stop, care, note}, map[match.Code]int{}
	for i, r := range match.Rules {
		codes[r.Code] = i
	}
	k := atCounter()
	k.kids(unweighed(kid("p", "2026-05")), kid("q", "2022-05"))
	k.p.Riders[0].Weighed, k.p.Riders[0].Height = profile.Given(profile.Stated), profile.Given(151*cm)
	k.f.RiderMaxMass, k.f.GrossRating = 0, 110*kg
	k.home(profile.Home{Height: given(100 * cm), Steps: profile.Given(12)})
	m := k.judge(t)
	if len(m.Reasons) < 6 || !slices.IsSortedFunc(m.Reasons, func(a, b match.Reason) int {
		if d := slices.Index(weights, a.Weight) - slices.Index(weights, b.Weight); d != 0 {
			return d
		}
		return codes[a.Code] - codes[b.Code]
	}) {
		t.Errorf("reasons %v", codesOf(m))
	}
}
