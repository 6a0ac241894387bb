// A small shop for examples worked out by hand: one frame that states
// everything, a seat, a bag and a crate, and a customer whom it fits without
// any reason against it.
package match_test

import (
	"context"
	"slices"
	"testing"

	"kinwain/internal/catalog"
	"kinwain/internal/match"
	"kinwain/internal/measure"
	"kinwain/internal/profile"
)

const (
	g  = measure.Gram
	kg = measure.Kilogram
	mm = measure.Millimetre
	cm = measure.Centimetre
)

// counter is one customer in one shop.
type counter struct {
	*catalog.Catalogue
	f *catalog.Frame
	p *profile.Profile
	s match.Settings

	silent []string // figures of which nobody noted where they come from
}

// atCounter opens the shop: a frame of 25 kg rated for 200, with a front zone
// over the front axle and a rear zone over the rear axle, a metre apart; a
// rider of 80 kg and 170 cm with nobody and nothing along. Nothing in the shop
// costs labour.
func atCounter() *counter {
	c := &catalog.Catalogue{
		Version: 1,
		Shop:    catalog.Shop{Name: "Low Quay Load Works", Currency: "EUR"},
		Frames: []catalog.Frame{{
			Code: "sedge", Name: "Sedge", GrossRating: 200 * kg, BareWeight: 25 * kg, Price: 200_000,
			RiderMin: 150 * cm, RiderMax: 195 * cm, RiderMaxMass: 120 * kg, PassengersMax: 4, Standover: 52 * cm, SaddleMin: 50 * cm, SaddleMax: 100 * cm,
			Length: 180 * cm, Width: 60 * cm, Height: 110 * cm,
			Wheelbase: 1000 * mm, RiderAhead: 500 * mm, BareFrontShare: 40 * measure.Percent, FrontAxleRating: 200 * kg, RearAxleRating: 200 * kg,
			FrontTyre: "42-622", RearTyre: "42-622", FrontBrake: "hydraulic_disc", RearBrake: "hydraulic_disc",
			Zones:  []catalog.Zone{{Code: "front", Rating: 100 * kg, Ahead: 1000, Height: 70 * cm}, {Code: "rear", Rating: 100 * kg, Height: 60 * cm}},
			Mounts: []catalog.Mount{{Code: "deck_cm", Capacity: 60}},
		}},
		AddOns: []catalog.AddOn{
			{Code: "bag", Name: "Bag", Weight: 1 * kg, Price: 1000, Fits: []string{"sedge"}, Zone: "rear", Cargo: 10 * kg, CargoVolume: 20_000},
			{Code: "crate", Name: "Crate", Weight: 1 * kg, Price: 1000, Fits: []string{"sedge"}, Zone: "front", Pet: 8 * kg},
			{Code: "seat", Name: "Seat", Weight: 1 * kg, Price: 1000, Fits: []string{"sedge"}, Zone: "rear", UpTo: 2,
				Places: []catalog.Place{{Kind: "belted", MinMonths: 1, MaxMass: 200 * kg}}},
		},
	}
	return &counter{c, &c.Frames[0], &profile.Profile{Version: 1, AsOf: day("2026-11-25"), Riders: []profile.Rider{{
		Label: "A", Height: profile.Given(170 * cm), Inseam: profile.Given(80 * cm), Weight: profile.Given(80 * kg), Weighed: profile.Given(profile.Dressed)}}}, match.DefaultSettings(), nil}
}

func day(s string) measure.Date {
	d, err := measure.ParseDate(s)
	if err != nil {
		panic(err)
	}
	return d
}

func later(d measure.Date, days int) measure.Date {
	d.Day += days // within its month
	return d
}

// kid is 15 kg, 16 dressed, and sits unaided.
func kid(label, born string) profile.Passenger {
	return profile.Passenger{Label: label, Born: profile.Given(day(born)), Weight: profile.Given(15 * kg), SitsUnaided: profile.Given(true)}
}

func (k *counter) kids(kids ...profile.Passenger) { k.p.Passengers = profile.Given(kids) }

func (k *counter) seat() *catalog.AddOn { return k.AddOn("seat") }

// hold makes the rear zone itself carry cargo without a limit that matters.
func (k *counter) hold(cargo measure.Mass) {
	k.f.Zones[1].Cargo = 300 * kg
	k.p.Cargo = profile.Given(cargo)
}

func (k *counter) home(h profile.Home) { k.p.Home = profile.Given(h) }

// prove notes of every figure but the silent ones where it comes from.
func (k *counter) prove() {
	for _, list := range []string{"frames", "add_ons"} {
		for _, thing := range k.Things(list) {
			*catalog.EvidenceOf(thing.Of) = nil
			for _, f := range catalog.Figures(list, thing.Of) {
				if !slices.Contains(k.silent, f.Path) {
					*catalog.EvidenceOf(thing.Of) = append(*catalog.EvidenceOf(thing.Of), catalog.Evidence{Figure: f.Path, Kind: "manual", On: day("2026-03")})
				}
			}
		}
	}
}

func (k *counter) check(t testing.TB) {
	t.Helper()
	k.prove()
	if err := k.Check(); err != nil {
		t.Fatalf("catalogue: %v", err)
	}
	if err := k.p.Check(); err != nil {
		t.Fatalf("profile: %v", err)
	}
}

// judge judges the frame, with the change that would make it fit.
func (k *counter) judge(t testing.TB) *match.Match {
	t.Helper()
	k.check(t)
	m, err := match.One(context.Background(), k.Catalogue, k.f, k.p, k.s, match.Options{Changes: true})
	if err != nil {
		t.Fatal(err)
	}
	return m
}

// fits judges a profile on the frame and reports whether it fits at all.
func (k *counter) fits(t testing.TB, p *profile.Profile) bool {
	t.Helper()
	m, err := match.One(context.Background(), k.Catalogue, k.f, p, k.s, match.Options{})
	if err != nil {
		t.Fatal(err)
	}
	return m.Verdict != match.DoesNotFit
}

// reasonsOf returns the reasons of one code.
func reasonsOf(m *match.Match, code match.Code) []match.Reason {
	var list []match.Reason
	for _, r := range m.Reasons {
		if r.Code == code {
			list = append(list, r)
		}
	}
	return list
}

func codesOf(m *match.Match) []string {
	var list []string
	for _, r := range m.Reasons {
		list = append(list, string(r.Code)+" "+string(r.Weight))
	}
	return slices.Clip(list)
}

func TestTheCounterFitsWithoutAReason(t *testing.T) {
	t.Parallel()
	if m := atCounter().judge(t); m.Verdict != match.Fits || len(m.Reasons) > 0 || len(m.Open) > 0 || m.Change != nil || len(m.Relaxed) > 0 {
		t.Errorf("%s: %v", m.Verdict, codesOf(m))
	}
}
