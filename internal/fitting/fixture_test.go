// A small shop for examples worked out by hand.
package fitting_test

import (
	"os"
	"path/filepath"
	"strconv"
	"strings"
	"testing"

	"kinwain/internal/catalog"
	"kinwain/internal/fitting"
	"kinwain/internal/measure"
	"kinwain/internal/profile"
)

// workshop is one frame of 25 kg rated for 180, an hourly rate of EUR 60, and
// one rider of 80 kg with nobody and nothing along: 75 kg are left.
func workshop(addOns ...catalog.AddOn) *instance {
	c := &catalog.Catalogue{
		Version: 1,
		Shop:    catalog.Shop{Name: "Low Quay Load Works", Currency: "EUR", LabourPerHour: 6000},
		Frames: []catalog.Frame{{
			Code: "sedge", Name: "Sedge", GrossRating: 180 * kg, BareWeight: 25 * kg, RiderMin: 150 * cm, RiderMax: 195 * cm, Price: 200_000,
			Length: 180 * cm, Width: 60 * cm, Height: 110 * cm,
			Zones:  []catalog.Zone{{Code: "front", Rating: 20 * kg, Ahead: 1000, Height: 70 * cm}, {Code: "rear", Rating: 60 * kg, Height: 60 * cm}},
			Mounts: []catalog.Mount{{Code: "deck_cm", Capacity: 60}, {Code: "belly", Capacity: 1}},
		}},
	}
	for _, a := range addOns {
		a.Name = a.Code
		if a.Weight == 0 {
			a.Weight = 1 * kg
		}
		a.Fits = []string{"sedge"}
		c.AddOns = append(c.AddOns, a)
	}
	return &instance{catalogue: c, frame: &c.Frames[0], profile: &profile.Profile{Version: 1, AsOf: asOf, Riders: []profile.Rider{
		{Label: "A", Height: profile.Given(170 * cm), Weight: profile.Given(80 * kg), Weighed: profile.Given(profile.Dressed)}}}}
}

// with makes further changes to an instance.
func (in *instance) with(change func(f *catalog.Frame, p *profile.Profile)) *instance {
	change(in.frame, in.profile)
	return in
}

// kids brings passengers along; each is born on a day and weighs so much.
func (in *instance) kids(passengers ...profile.Passenger) *instance {
	in.profile.Passengers = profile.Given(passengers)
	return in
}

func kid(label, born string, weight measure.Mass) profile.Passenger {
	d, err := measure.ParseDate(born)
	if err != nil {
		panic(err)
	}
	return profile.Passenger{Label: label, Born: profile.Given(d), Weight: profile.Given(weight)}
}

// checked fails where the documents are faulty: an example has to be one that
// could be met.
func (in *instance) checked(t *testing.T) *instance {
	t.Helper()
	if err := in.catalogue.Check(); err != nil {
		t.Fatalf("catalogue: %v", err)
	}
	if err := in.profile.Check(); err != nil {
		t.Fatalf("profile: %v", err)
	}
	return in
}

// seatFor is a seat with one place for whoever the place suits. Where it would
// take anybody it states what nobody weighs.
func seatFor(code string, price measure.Money, place catalog.Place) catalog.AddOn {
	if place.Kind = "belted"; place.Unlimited() {
		place.MaxMass = 200 * kg
	}
	return catalog.AddOn{Code: code, Zone: "rear", Price: price, Places: []catalog.Place{place}}
}

// bagFor is something that carries cargo in a zone.
func bagFor(code, zone string, mass measure.Mass, volume measure.Volume) catalog.AddOn {
	return catalog.AddOn{Code: code, Zone: zone, Price: 1000, Cargo: mass, CargoVolume: volume}
}

func bearing(a catalog.AddOn, most measure.Mass) catalog.AddOn {
	a.MaxLoad = most
	return a
}

// demo returns the demo shop and its customers by name.
func demo(t testing.TB) (*catalog.Catalogue, map[string]*profile.Profile) {
	t.Helper()
	data, err := os.ReadFile("../../testdata/demo.json")
	if err != nil {
		t.Fatal(err)
	}
	c, err := catalog.Parse(data)
	if err != nil {
		t.Fatal(err)
	}
	paths, _ := filepath.Glob("../../testdata/profiles/*.json")
	profiles := map[string]*profile.Profile{}
	for _, path := range paths {
		data, err := os.ReadFile(path)
		if err != nil {
			t.Fatal(err)
		}
		name := strings.TrimSuffix(filepath.Base(path), ".json")
		if profiles[name], err = profile.Parse(data); err != nil {
			t.Fatalf("%s: %v", name, err)
		}
	}
	if len(profiles) == 0 {
		t.Fatal("no profiles found")
	}
	return c, profiles
}

// wanted is a build as an example states it.
type wanted struct {
	bought, off string // codes with a blank between them
	price       measure.Money
	labour      measure.Money
	weight      measure.Mass
	seats       string // label:add-on/place
	pet         string
	cargo       string // carrier=grams/millilitres
}

func describe(b *fitting.Build) *wanted {
	if b == nil {
		return nil
	}
	w := &wanted{bought: strings.Join(b.AddOns, " "), off: strings.Join(b.TakenOff, " "), price: b.Price, labour: b.Labour, weight: b.Weight, pet: b.Pet}
	var seats, cargo []string
	for _, s := range b.Seating {
		seats = append(seats, s.Passenger+":"+s.AddOn+"/"+string(rune('0'+s.Place)))
	}
	for _, s := range b.Cargo {
		cargo = append(cargo, s.Carrier+"="+grams(s.Mass)+"/"+millilitres(s.Volume))
	}
	w.seats, w.cargo = strings.Join(seats, " "), strings.Join(cargo, " ")
	return w
}

func grams(m measure.Mass) string         { return strconv.FormatInt(int64(m), 10) }
func millilitres(v measure.Volume) string { return strconv.FormatInt(int64(v), 10) }
