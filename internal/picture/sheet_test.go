package picture_test

import (
	"encoding/json"
	"math"
	"testing"

	"kinwain/internal/fitting"
	"kinwain/internal/match"
	"kinwain/internal/measure"
	"kinwain/internal/parking"
	"kinwain/internal/picture"
	"kinwain/internal/profile"
	"kinwain/testdata"
)

// onSheet holds that every shape of a picture lies on its sheet, and that the
// sheet is no larger than what is drawn and a margin.
func onSheet(t *testing.T, name string, p *picture.Picture) {
	t.Helper()
	if len(p.Shapes) == 0 {
		t.Errorf("%s: an empty sheet", name)
		return
	}
	least, most := picture.Point{X: math.MaxInt32, Y: math.MaxInt32}, picture.Point{}
	for i := range p.Shapes {
		low, high := p.Shapes[i].Bounds()
		least, most = picture.Point{X: min(least.X, low.X), Y: min(least.Y, low.Y)}, picture.Point{X: max(most.X, high.X), Y: max(most.Y, high.Y)}
	}
	if least.X < 0 || least.Y < 0 || most.X > p.Width || most.Y > p.Height {
		t.Errorf("%s: reaches from %v to %v on a sheet of %v × %v", name, least, most, p.Width, p.Height)
	}
	const margin = 10 * measure.Centimetre
	if least.X > margin || least.Y > margin || p.Width-most.X > margin || p.Height-most.Y > margin {
		t.Errorf("%s: from %v to %v there is more room than that on a sheet of %v × %v", name, least, most, p.Width, p.Height)
	}
}

// TestEveryPictureStaysOnItsSheet draws each demo frame for each sample
// customer small, on its way home part by part, and where it stands.
func TestEveryPictureStaysOnItsSheet(t *testing.T) {
	t.Parallel()
	met := map[string]int{}
	each(t, func(name string, p *profile.Profile, m *match.Match) {
		pic := picture.Side(m, nil, picture.Sitter{})
		onSheet(t, name+", nobody weighed", &pic)
		small := pic.Glance()
		onSheet(t, name+", small", &small)
		met["small"]++
		home := fitting.HomeOf(p)
		if m.Home == nil {
			return
		}
		for _, part := range parking.Explain(m.Bike, home) {
			if pic, is := picture.Passage(m.Bike, home, part); is {
				onSheet(t, name+", "+part.Name, &pic)
				met[part.Name]++
			}
		}
		if home.Space.Length > 0 || home.Space.Width > 0 {
			pic := picture.Space(m.Bike, home, m.Home.How)
			onSheet(t, name+", its place", &pic)
			met["space"]++
		}
	})
	t.Log(met)
	for _, what := range []string{"small", "space", "doorways[0]", "corners[0]", "lift"} {
		if met[what] < 10 {
			t.Errorf("%s was drawn %d times", what, met[what])
		}
	}
}

// centimetres of a document, as millimetres.
type centimetres float64

func (c centimetres) mm() measure.Length { return measure.Length(math.Round(float64(c) * 10)) }

// The parts of the two documents that say where things are.
type (
	wares struct {
		Frames []struct {
			Code      string      `json:"code"`
			Wheelbase centimetres `json:"wheelbase_cm"`
			Zones     []spot      `json:"zones"`
			Places    []spot      `json:"places"`
		} `json:"frames"`
		AddOns []struct {
			Code   string `json:"code"`
			Zone   string `json:"zone"`
			Places []spot `json:"places"`
		} `json:"add_ons"`
	}
	spot struct {
		Code   string      `json:"code"`
		Zone   string      `json:"zone"`
		Ahead  centimetres `json:"ahead_of_rear_axle_cm"`
		Height centimetres `json:"height_cm"`
	}
	answer struct {
		Matches []struct {
			Frame string `json:"frame"`
			Build struct {
				Seating []struct {
					Passenger string `json:"passenger"`
					AddOn     string `json:"add_on"`
					Place     int    `json:"place"`
				} `json:"seating"`
				Cargo []struct {
					Carrier string  `json:"carrier"`
					Litres  float64 `json:"litres"`
				} `json:"cargo"`
			} `json:"build"`
			Loads []struct {
				Rider string  `json:"rider"`
				Front float64 `json:"front_axle_kg"`
				Rear  float64 `json:"rear_axle_kg"`
			} `json:"loads"`
		} `json:"matches"`
	}
)

// seat returns where a place is by the document of the catalogue: by its own
// figures, else by those of its zone.
func (w *wares) seat(t *testing.T, frame, addOn string, place int) (x, y measure.Length, stated bool) {
	t.Helper()
	for i := range w.Frames {
		f := &w.Frames[i]
		if f.Code != frame {
			continue
		}
		var at spot
		if addOn == "" {
			at = f.Places[place]
		}
		for k := range w.AddOns {
			if a := &w.AddOns[k]; a.Code == addOn {
				at = a.Places[place]
				at.Zone = a.Zone
			}
		}
		for _, z := range f.Zones {
			if z.Code == at.Zone {
				if at.Ahead == 0 {
					at.Ahead = z.Ahead
				}
				if at.Height == 0 {
					at.Height = z.Height
				}
			}
		}
		return at.Ahead.mm(), at.Height.mm(), f.Wheelbase > 0 && at.Ahead != 0 && at.Height != 0
	}
	t.Fatalf("there is no frame %s", frame)
	return 0, 0, false
}

// TestPicturesAreAsTheDocumentsHaveIt works out where everybody sits, how large
// the cargo is and what the axles bear from the documents alone, as a program
// reads them, and looks for it in the picture.
func TestPicturesAreAsTheDocumentsHaveIt(t *testing.T) {
	t.Parallel()
	var shop wares
	if err := json.Unmarshal(testdata.Demo, &shop); err != nil {
		t.Fatal(err)
	}
	seats, boxes, axles := 0, 0, 0
	each(t, func(name string, p *profile.Profile, m *match.Match) {
		if !m.Fits() {
			return
		}
		document, err := match.Document([]*match.Match{m}, nil)
		if err != nil {
			t.Fatal(err)
		}
		var told answer
		if err := json.Unmarshal(document, &told); err != nil {
			t.Fatal(err)
		}
		one := told.Matches[0]
		for i, l := range one.Loads {
			pic := picture.Side(m, &m.Sheets[i], sitter(p, l.Rider))
			rear, ground := pic.Of(picture.Wheel)[0].Points[0], pic.Of(picture.Ground)[0].Points[0].Y
			hips := map[string]picture.Point{}
			for _, s := range pic.Of(picture.Passenger) {
				if s.Radius == 0 { // the limbs: foot, knee, hip, shoulder, hand
					hips[s.Of] = s.Points[2]
				}
			}
			abreast := map[picture.Point]measure.Length{}
			for _, seat := range one.Build.Seating {
				x, y, stated := shop.seat(t, one.Frame, seat.AddOn, seat.Place)
				if !stated {
					continue
				}
				at := picture.Point{X: x, Y: y}
				want := picture.Point{X: rear.X + x - abreast[at], Y: ground + y}
				abreast[at] += 120 // who sits at the same place is drawn a little behind
				if got, drawn := hips[seat.Passenger]; !drawn || got != want {
					t.Errorf("%s: %s sits at %v, by the documents at %v", name, seat.Passenger, got, want)
				}
				seats++
			}
			for _, share := range one.Build.Cargo {
				near := false
				for _, s := range pic.Of(picture.Cargo) {
					low, high := s.Bounds()
					litres := float64(high.X-low.X) * float64(high.Y-low.Y) * 400 / 1e6 // 40 cm across
					near = near || s.Of == share.Carrier && (share.Litres == 0 || math.Abs(litres-share.Litres) < 0.03*share.Litres+0.5)
				}
				if !near {
					t.Errorf("%s: no box of %.1f litres in %s", name, share.Litres, share.Carrier)
				}
				boxes++
			}
			for _, s := range pic.Of(picture.AxleLoad) {
				want := map[string]float64{"front": l.Front, "rear": l.Rear}[s.Of]
				if d := float64(s.Mass)/1000 - want; math.Abs(d) > 0.0005 {
					t.Errorf("%s: the %s axle bears %v, by the document %.3f kg", name, s.Of, s.Mass, want)
				}
				axles++
			}
		}
	})
	t.Log(seats, boxes, axles)
	if seats < 30 || boxes < 20 || axles < 40 {
		t.Errorf("only %d seats, %d boxes and %d axles", seats, boxes, axles)
	}
}

// TestAThinBikeTouchesTheCorner draws a bike without width as long as the
// longest ladder that goes round a corner: at its worst it touches both outer
// walls and the inner corner, and where it is longer it cuts that off.
func TestAThinBikeTouchesTheCorner(t *testing.T) {
	t.Parallel()
	for _, c := range [][2]measure.Length{{1000, 1000}, {800, 1300}, {1500, 700}} {
		longest := math.Pow(math.Pow(float64(c[0]), 2.0/3)+math.Pow(float64(c[1]), 2.0/3), 1.5)
		for _, off := range []float64{-60, 0, 60} {
			bike := parking.Bike{Flat: parking.Box{Length: measure.Length(math.Round(longest + off)), Width: 1, Height: 1000}}
			home := parking.Home{Corners: []parking.Corner{{In: c[0], Out: c[1]}}}
			pic, is := picture.Passage(bike, home, parking.Part{Name: "corners[0]"})
			if !is {
				t.Fatal("no corner")
			}
			onSheet(t, "a corner", &pic)
			walls := pic.Of(picture.Wall)
			outer, inner := walls[0].Points[1], walls[1].Points[1]
			a, b := pic.Of(picture.Bike)[0].Points[0], pic.Of(picture.Bike)[0].Points[1]
			if a.Y != outer.Y || b.X != outer.X {
				t.Errorf("%v: the ends are %v and %v, off the walls at %v", c, a, b, outer)
			}
			// How far the inner corner is beyond the line from a to b.
			dx, dy := float64(b.X-a.X), float64(b.Y-a.Y)
			clear := (float64(inner.X-a.X)*dy - float64(inner.Y-a.Y)*dx) / math.Hypot(dx, dy)
			if off == 0 && math.Abs(clear) > 2.5 || off < 0 && clear <= 1 || off > 0 && clear >= -1 {
				t.Errorf("%v: a bike %+.0f mm longer than the longest leaves %.1f mm", c, off, clear)
			}
		}
	}
}
