// What a reason says besides its code: whom and what it is about, and by how
// much.
package match_test

import (
	"slices"
	"strings"
	"testing"

	"pgregory.net/rapid"

	gocmp "github.com/google/go-cmp/cmp"
	"github.com/google/go-cmp/cmp/cmpopts"

	"kinwain/internal/catalog"
	"kinwain/internal/match"
	"kinwain/internal/measure"
	"kinwain/internal/profile"
)

func TestReasonsSayByHowMuch(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		want match.Reason
		set  func(k *counter)
	}{
		{match.Reason{Code: "rider_height", Weight: stop, Rider: "A", OverSize: 31 * mm}, func(k *counter) { tall(1469*mm)(k, 0) }},
		{match.Reason{Code: "rider_height", Weight: stop, Rider: "A", OverSize: 7 * mm}, func(k *counter) { tall(1957*mm)(k, 0) }},
		{match.Reason{Code: "rider_height", Weight: care, Rider: "A", Slack: 12 * mm}, func(k *counter) { tall(1512*mm)(k, 0) }},
		{match.Reason{Code: "rider_height", Weight: care, Rider: "A", Slack: 3 * mm}, func(k *counter) { tall(1947*mm)(k, 0) }},
		// 117.5 stated and 6 on top of 120.
		{match.Reason{Code: "rider_weight", Weight: stop, Rider: "A", Over: 3500 * g}, func(k *counter) { weighed(117500*g, profile.Stated)(k, 0) }},
		{match.Reason{Code: "standover", Weight: care, Rider: "A", OverSize: 25 * mm}, func(k *counter) { k.p.Riders[0].Inseam = profile.Given(515 * mm) }},
		// 0.883 × 820 = 724.06: 15.94 and 14.06 mm, shown as 16 and 15.
		{match.Reason{Code: "saddle_range", Weight: care, Rider: "A", OverSize: 16 * mm}, func(k *counter) { k.f.SaddleMin, k.p.Riders[0].Inseam = 740*mm, profile.Given(820*mm) }},
		{match.Reason{Code: "saddle_range", Weight: care, Rider: "A", OverSize: 15 * mm}, func(k *counter) { k.f.SaddleMax, k.p.Riders[0].Inseam = 710*mm, profile.Given(820*mm) }},
		{match.Reason{Code: "gross_rating", Weight: stop, Over: 2 * kg}, func(k *counter) { k.f.GrossRating = 103 * kg }},
		{match.Reason{Code: "zone_rating", Weight: stop, Zone: "rear", Over: 1500 * g}, along(func(k *counter) { k.f.Zones[1].Rating = 15500 * g })},
		{match.Reason{Code: "combined_rating", Weight: stop, Zone: "front+rear", Over: 1 * g}, along(func(k *counter) {
			k.f.Combined = []catalog.Combined{{Zones: []string{"front", "rear"}, Rating: 17*kg - 1*g}}
		})},
		{match.Reason{Code: "axle_rating", Weight: stop, Axle: "rear", Over: 2 * kg}, along(func(k *counter) { k.f.RearAxleRating = 70 * kg })},
		{match.Reason{Code: "axle_rating", Weight: stop, Axle: "front", Over: 1 * kg}, func(k *counter) { k.f.FrontAxleRating = 49 * kg }},
		{match.Reason{Code: "add_on_rating", Weight: stop, AddOn: "seat", Over: 4 * kg}, along(func(k *counter) { k.seat().MaxLoad = 12 * kg })},
		{match.Reason{Code: "place_limits", Weight: stop, Passenger: "p", AddOn: "seat", Over: 1 * g}, along(func(k *counter) { k.seat().Places[0].MaxMass = 16*kg - 1*g })},
		{match.Reason{Code: "place_limits", Weight: stop, Passenger: "p", AddOn: "seat"}, along(func(k *counter) { k.seat().Places[0].MinMass = 15*kg + 1*g })},
		{match.Reason{Code: "infant", Weight: stop, Passenger: "p", Day: day("2027-02-20")}, func(k *counter) { k.kids(kid("p", "2026-02-20")) }},
		{match.Reason{Code: "joins_later", Weight: care, Passenger: "p", Day: day("2027-03-01")}, func(k *counter) { k.kids(joining(kid("p", "2024-05"), measure.MonthOf(2027, 3))) }},
		// 60 of cargo and 16 of child are 76; 80 % of 80 are 64.
		{match.Reason{Code: "carry_guideline", Weight: care, Rider: "A", Over: 12 * kg}, along(func(k *counter) { k.hold(60 * kg) })},
		{match.Reason{Code: "storage_space", Weight: stop, Part: "space", OverSize: 13 * mm}, func(k *counter) { k.home(profile.Home{Height: given(1087 * mm)}) }},
		{match.Reason{Code: "storage_way", Weight: stop, Part: "doorways[0]", OverSize: 13 * mm}, func(k *counter) { k.home(doorway(587*mm, 0)) }},
		{match.Reason{Code: "storage_slack", Weight: care, Part: "doorways[0]", Slack: 49 * mm}, func(k *counter) { k.home(doorway(649*mm, 0)) }},
		{match.Reason{Code: "upright", Weight: stop, Part: "space"}, func(k *counter) { k.home(profile.Home{MustStandUpright: profile.Given(true)}) }},
		{match.Reason{Code: "budget", Weight: care, OverPrice: 12_345}, func(k *counter) { k.p.Budget = profile.Given(measure.Money(187_655)) }},
		{match.Reason{Code: "grip", Weight: care, Rider: "A"}, func(k *counter) {
			k.f.FrontBrake, k.p.Riders[0].Grip = "cable_rim", profile.Given(profile.ReducedGrip)
		}},
		{match.Reason{Code: "weight_estimated", Weight: note, Rider: "A"}, func(k *counter) { weighed(70*kg, profile.Undressed)(k, 0) }},
	} {
		k := atCounter()
		c.set(k)
		list := reasonsOf(k.judge(t), c.want.Code)
		if diff := gocmp.Diff([]match.Reason{c.want}, list, cmpopts.IgnoreFields(match.Reason{}, "Message")); diff != "" {
			t.Errorf("%s (− want, + got): %s", c.want.Code, diff)
		}
		for _, r := range list {
			if text := r.Message.In(measure.Metric); text == "" || strings.ContainsAny(text, "{}") || strings.Contains(text, "%!") {
				t.Errorf("%s says %q", r.Code, text)
			}
		}
	}
}

// along brings a child of 16 kg dressed.
func along(set func(k *counter)) func(k *counter) {
	return func(k *counter) {
		k.kids(kid("p", "2023-05"))
		set(k)
	}
}

// Every rider of a shared bike is judged.
func TestEveryRiderIsJudged(t *testing.T) {
	t.Parallel()
	k := atCounter()
	k.p.Riders = append(k.p.Riders, profile.Rider{Label: "B", Height: given(149 * cm), Weight: profile.Given(121 * kg), Weighed: profile.Given(profile.Dressed)},
		profile.Rider{Label: "C", Height: given(196 * cm), Weight: profile.Unknown[measure.Mass]()})
	m := k.judge(t)
	var got []string
	for _, r := range m.Reasons {
		got = append(got, string(r.Code)+" "+r.Rider)
	}
	if want := []string{"rider_height B", "rider_height C", "rider_weight B"}; !slices.Equal(got, want) {
		t.Errorf("reasons %v, want %v", got, want)
	}
	// C's weight is not known: no sheet, and a question that stays open.
	if len(m.Sheets) != 2 || !slices.Equal(m.Open, []string{"riders[2].weight_kg"}) {
		t.Errorf("%d sheets and open questions %v", len(m.Sheets), m.Open)
	}
}

// Whoever rides alone already, since the eighth birthday, is no passenger:
// nothing is asked about them and no place is kept.
func TestWhoRidesAloneIsNoPassenger(t *testing.T) {
	t.Parallel()
	for name, p := range map[string]profile.Passenger{
		"sitting": kid("p", "2015-05"), "not weighed": unweighed(kid("p", "2015-05")), "not sitting": sitting(kid("p", "2015-05"), false),
	} {
		k := atCounter()
		p.LeavesAtYears = profile.Given(8)
		k.kids(p)
		k.AddOns = nil
		if m := k.judge(t); m.Verdict != match.Fits || len(m.Reasons) > 0 || len(m.Seated) > 0 {
			t.Errorf("%s: %s, reasons %v, seated %v", name, m.Verdict, codesOf(m), m.Seated)
		}
	}
}

// A brake pulled by a cable, or on the rim, asks for a firm grip.
func TestGripByBrake(t *testing.T) {
	t.Parallel()
	firm := []string{"cable_disc", "hydraulic_rim", "cable_rim"}
	for _, front := range append(slices.Clone(catalog.Brakes), "") {
		for _, rear := range append(slices.Clone(catalog.Brakes), "") {
			for _, grip := range []profile.Grip{profile.FullGrip, profile.ReducedGrip} {
				k := atCounter()
				k.f.FrontBrake, k.f.RearBrake, k.p.Riders[0].Grip = front, rear, profile.Given(grip)
				want := grip == profile.ReducedGrip && (slices.Contains(firm, front) || slices.Contains(firm, rear))
				list := reasonsOf(k.judge(t), "grip")
				if got := len(list) == 1 && list[0].Weight == care; got != want {
					t.Errorf("%s grip on %q and %q: care %v, want %v", grip, front, rear, got, want)
				}
				if spoken := grip == profile.ReducedGrip && front+rear != ""; spoken != (len(list) == 1) {
					t.Errorf("%s grip on %q and %q: %v", grip, front, rear, list)
				}
			}
		}
	}
}

func TestOddWheels(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		odd         bool
		front, rear string
		want        bool
	}{{true, "50-406", "42-622", true}, {true, "42-622", "50-406", true}, {true, "47-559", "47-559", false}, {false, "50-406", "50-406", false}} {
		k := atCounter()
		k.f.OddWheel, k.f.FrontTyre, k.f.RearTyre = c.odd, c.front, c.rear
		if got := len(reasonsOf(k.judge(t), "odd_wheel")) > 0; got != c.want {
			t.Errorf("%s and %s, odd %v: noted %v, want %v", c.front, c.rear, c.odd, got, c.want)
		}
	}
}

// What the maker does not state is noted where it would bear on this customer,
// and nowhere else.
func TestUnstatedFiguresAreNoted(t *testing.T) {
	t.Parallel()
	child := func(k *counter) { k.kids(kid("p", "2023-05")) }
	weak := func(k *counter) { k.p.Riders[0].Grip = profile.Given(profile.ReducedGrip) }
	unmeasured := func(k *counter) { k.p.Riders[0].Inseam = profile.Answer[measure.Length]{} }
	nothing := func(*counter) {}
	for _, c := range []struct {
		name   string
		asked  func(k *counter)
		forget func(f *catalog.Frame)
		want   string
	}{
		{"rider_max_kg", nothing, func(f *catalog.Frame) { f.RiderMaxMass = 0 }, "rider_max_kg"},
		{"passengers_max with a child", child, func(f *catalog.Frame) { f.PassengersMax = 0 }, "passengers_max"},
		{"passengers_max without", nothing, func(f *catalog.Frame) { f.PassengersMax = 0 }, ""},
		{"standover", nothing, func(f *catalog.Frame) { f.Standover = 0 }, "standover_cm"},
		{"standover, with no inseam", unmeasured, func(f *catalog.Frame) { f.Standover = 0 }, ""},
		{"saddle_min", nothing, func(f *catalog.Frame) { f.SaddleMin = 0 }, "saddle_min_cm"},
		{"saddle, with no inseam", unmeasured, func(f *catalog.Frame) { f.SaddleMin, f.SaddleMax = 0, 0 }, ""},
		{"brake with a reduced grip", weak, func(f *catalog.Frame) { f.FrontBrake = "" }, "front_brake"},
		{"brake with a full grip", nothing, func(f *catalog.Frame) { f.FrontBrake = "" }, ""},
		{"a zone that is loaded", child, func(f *catalog.Frame) { f.Zones[1].Rating = 0 }, "zones[1].rating_kg"},
		{"a zone that is not", child, func(f *catalog.Frame) { f.Zones[0].Rating = 0 }, ""},
		{"both axles", nothing, func(f *catalog.Frame) { f.FrontAxleRating, f.RearAxleRating = 0, 0 }, "front_axle_max_kg rear_axle_max_kg"},
		{"the front axle alone", nothing, func(f *catalog.Frame) { f.FrontAxleRating = 0 }, "front_axle_max_kg"},
		{"the rear axle alone", nothing, func(f *catalog.Frame) { f.RearAxleRating = 0 }, "rear_axle_max_kg"},
		{"neither geometry nor axles", nothing, func(f *catalog.Frame) {
			f.Wheelbase, f.RiderAhead, f.BareFrontShare, f.FrontAxleRating, f.RearAxleRating = 0, 0, 0, 0, 0
		},
			"front_axle_max_kg rear_axle_max_kg wheelbase_cm rider_ahead_of_rear_axle_cm bare_front_share"},
		{"the wheelbase under rated axles", nothing, func(f *catalog.Frame) { f.Wheelbase = 0 }, "wheelbase_cm"},
		{"the saddle's place over rated axles", nothing, func(f *catalog.Frame) { f.RiderAhead = 0 }, "rider_ahead_of_rear_axle_cm"},
		{"the spread of the bare weight", nothing, func(f *catalog.Frame) { f.BareFrontShare = 0 }, "bare_front_share"},
	} {
		k := atCounter()
		c.asked(k)
		c.forget(k.f)
		m := k.judge(t)
		var got []string
		for _, r := range reasonsOf(m, "spec_missing") {
			got = append(got, r.Fields...)
		}
		// A passenger leans on all of these.
		leans := len(m.Seated) > 0 && len(got) > 0
		if strings.Join(got, " ") != c.want || (m.Verdict == match.FitsWithCare) != leans {
			t.Errorf("%s: %s with notes on %v, want %q", c.name, m.Verdict, got, c.want)
		}
	}
}

// Whatever is forgotten of a frame, in whatever order, it gets no fewer
// cautions and no fewer cares for what is not stated.
func TestLessStatedIsNeverLessCautious(t *testing.T) {
	t.Parallel()
	forget := []func(f *catalog.Frame){
		func(f *catalog.Frame) { f.RiderMaxMass = 0 }, func(f *catalog.Frame) { f.PassengersMax = 0 }, func(f *catalog.Frame) { f.Standover = 0 },
		func(f *catalog.Frame) { f.SaddleMin = 0 }, func(f *catalog.Frame) { f.Zones[1].Rating = 0 }, func(f *catalog.Frame) { f.FrontAxleRating = 0 },
		func(f *catalog.Frame) { f.RearAxleRating = 0 }, func(f *catalog.Frame) { f.Wheelbase = 0 }, func(f *catalog.Frame) { f.RiderAhead = 0 },
		func(f *catalog.Frame) { f.BareFrontShare = 0 },
	}
	rapid.Check(t, func(rt *rapid.T) {
		k := atCounter()
		if rapid.Bool().Draw(rt, "child") {
			k.kids(kid("p", "2023-05"))
		}
		if cargo := rapid.IntRange(0, 60_000).Draw(rt, "cargo"); cargo > 0 {
			k.hold(measure.Mass(cargo))
		}
		notes, cares := 0, 0
		for _, i := range rapid.Permutation([]int{0, 1, 2, 3, 4, 5, 6, 7, 8, 9}).Draw(rt, "order") {
			forget[i](k.f)
			m := k.judge(t)
			all, care := 0, 0
			for _, r := range reasonsOf(m, "spec_missing") {
				if all += len(r.Fields); r.Weight == match.Care {
					care += len(r.Fields)
				}
			}
			if all < notes || care < cares {
				rt.Fatalf("%d of %d, and before %d of %d", care, all, cares, notes)
			}
			notes, cares = all, care
		}
	})
}

// TestOneSentenceForAllThatIsNotStated holds that a frame of which little is
// stated says so once for each weight, with every figure in it.
func TestOneSentenceForAllThatIsNotStated(t *testing.T) {
	t.Parallel()
	k := atCounter()
	k.kids(kid("p", "2023-05"))
	k.f.Standover, k.f.SaddleMin, k.f.RearAxleRating, k.f.Wheelbase, k.f.PassengersMax = 0, 0, 0, 0, 0
	var got []string
	for _, r := range reasonsOf(k.judge(t), match.ReasonSpecMissing) {
		got = append(got, string(r.Weight)+" "+r.Message.In(measure.Metric))
	}
	want := []string{
		"care The maker does not state a limit for the number of passengers, a rating for the rear axle and the wheelbase, which this load leans on. Ask the maker before anybody rides.",
		"note The maker does not state a standover height and a saddle range, so this is not checked. Ask before loading to the full.",
	}
	if !slices.Equal(got, want) {
		t.Errorf("%q", got)
	}
}
