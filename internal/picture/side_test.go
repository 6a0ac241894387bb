package picture_test

import (
	"path"
	"strings"
	"testing"

	"kinwain/internal/catalog"
	"kinwain/internal/load"
	"kinwain/internal/match"
	"kinwain/internal/measure"
	"kinwain/internal/picture"
	"kinwain/internal/profile"
	"kinwain/testdata"
)

// each calls f with every frame of the demo shop as it is for every sample
// customer.
func each(t *testing.T, f func(name string, p *profile.Profile, m *match.Match)) {
	t.Helper()
	c, err := catalog.Parse(testdata.Demo)
	if err != nil {
		t.Fatal(err)
	}
	files, err := testdata.Profiles.ReadDir("profiles")
	if err != nil {
		t.Fatal(err)
	}
	for _, file := range files {
		document, err := testdata.Profiles.ReadFile(path.Join("profiles", file.Name()))
		if err != nil {
			t.Fatal(err)
		}
		p, err := profile.Parse(document)
		if err != nil {
			t.Fatal(err)
		}
		list, err := match.Rank(t.Context(), c, p, match.DefaultSettings(), match.Options{})
		if err != nil {
			t.Fatal(err)
		}
		for _, m := range list {
			if m.Verdict != match.NotJudged {
				f(strings.TrimSuffix(file.Name(), ".json")+" on "+m.Frame.Code, p, m)
			}
		}
	}
}

func sitter(p *profile.Profile, label string) picture.Sitter {
	for _, r := range p.Riders {
		if r.Label == label {
			return picture.Sitter{Height: r.Height.Or(0), Inseam: r.Inseam.Or(0)}
		}
	}
	return picture.Sitter{}
}

// TestSideStaysOnTheSheet holds that every shape of every build lies within
// the sheet, that wheels stand on the ground at the wheelbase, and that
// everything on the load sheet with a place is drawn once.
func TestSideStaysOnTheSheet(t *testing.T) {
	t.Parallel()
	drawn := 0
	each(t, func(name string, p *profile.Profile, m *match.Match) {
		for i := range m.Sheets {
			s := &m.Sheets[i]
			pic := picture.Side(m, s, sitter(p, s.Rider.Label))
			drawn++
			for _, shape := range pic.Shapes {
				low, high := shape.Bounds()
				if low.X < 0 || low.Y < 0 || high.X > pic.Width || high.Y > pic.Height {
					t.Errorf("%s: %s %s reaches %v to %v on a sheet of %v × %v", name, shape.Kind, shape.Of, low, high, pic.Width, pic.Height)
				}
			}
			ground := pic.Of(picture.Ground)[0].Points[0].Y
			wheels := pic.Of(picture.Wheel)
			if len(wheels) != 2 || wheels[0].Points[0].Y-wheels[0].Radius != ground || wheels[1].Points[0].Y-wheels[1].Radius != ground {
				t.Errorf("%s: wheels off the ground", name)
			}
			if w := wheels[1].Points[0].X - wheels[0].Points[0].X; m.Frame.Wheelbase > 0 && w != m.Frame.Wheelbase {
				t.Errorf("%s: a wheelbase of %v, stated %v", name, w, m.Frame.Wheelbase)
			}
			count := map[load.Kind]int{}
			for _, item := range s.Items {
				if item.Spot.Zone != load.Nowhere {
					count[item.Kind]++
				}
			}
			if got, want := len(pic.Of(picture.Cargo)), count[load.Cargo]; got != want {
				t.Errorf("%s: %d boxes of cargo, want %d", name, got, want)
			}
			if got, want := len(pic.Of(picture.Passenger)), 2*count[load.Passenger]; got != want { // limbs and head
				t.Errorf("%s: %d shapes of passengers, want %d", name, got, want)
			}
		}
	})
	if drawn < 100 {
		t.Errorf("only %d pictures", drawn)
	}
}

// TestAxlesByMomentsAboutTheFront works the axle loads and the balance out
// about the other axle: moments of what is drawn, taken about the front.
func TestAxlesByMomentsAboutTheFront(t *testing.T) {
	t.Parallel()
	checked := 0
	each(t, func(name string, p *profile.Profile, m *match.Match) {
		if !m.Frame.StatesAxles() {
			return
		}
		for i := range m.Sheets {
			s := &m.Sheets[i]
			pic := picture.Side(m, s, sitter(p, s.Rider.Label))
			loads := pic.Of(picture.AxleLoad)
			if len(loads) != 2 || loads[0].Of != load.RearAxle || loads[1].Of != load.FrontAxle {
				t.Fatalf("%s: %d axle loads", name, len(loads))
			}
			checked++
			f := m.Frame
			rest := func(x measure.Length) float64 { return float64(f.Wheelbase - x) } // behind the front axle
			moment := float64(f.BareWeight)*float64(measure.Whole-f.BareFrontShare)/float64(measure.Whole)*float64(f.Wheelbase) + float64(s.Rider.Riding)*rest(f.RiderAhead)
			placed := float64(f.BareWeight + s.Rider.Riding)
			whole := 0.0 // of what states no place and counts on either axle
			for _, item := range s.Items {
				weight := float64(item.Mass)
				switch {
				case item.Kind == load.Delivered:
					continue
				case !item.Spot.Placed():
					if item.Kind == load.Added {
						whole += weight
					}
					continue
				case item.Kind == load.TakenOff:
					weight = -weight
				}
				moment += weight * rest(item.Spot.Ahead)
				placed += weight
			}
			rear := moment / float64(f.Wheelbase)
			if d := float64(loads[0].Mass) - rear - whole; d < -1 || d > 1 {
				t.Errorf("%s: the rear axle bears %v, by moments %.1f g", name, loads[0].Mass, rear+whole)
			}
			most := max(loads[0].Mass, loads[1].Mass, f.FrontAxleRating, f.RearAxleRating)
			for _, l := range loads { // both arrows at one scale, the longest figure 30 cm deep
				low, high := l.Bounds()
				if d := float64(high.Y-low.Y) - 300*float64(max(l.Mass, 0))/float64(most); d < -1 || d > 1 {
					t.Errorf("%s: the arrow of %v is %v deep", name, l.Mass, high.Y-low.Y)
				}
			}
			balance := pic.Of(picture.Balance)
			if len(balance) != 1 {
				t.Fatalf("%s: %d balances", name, len(balance))
			}
			at := balance[0].Points[0].X - pic.Of(picture.Wheel)[0].Points[0].X
			if d := float64(f.Wheelbase)*(1-rear/placed) - float64(at); d < -2 || d > 2 {
				t.Errorf("%s: it balances %v ahead, off by %.1f mm", name, at, d)
			}
		}
	})
	if checked < 60 {
		t.Errorf("only %d sheets", checked)
	}
}
