package parking

import (
	"testing"

	"kinwain/internal/measure"
)

// The bikes of the tables. teasel and yarrow can stand on end, sedge cannot.
var (
	teasel = Bike{Flat: Box{1780, 640, 1120}, Upright: Box{620, 640, 1820}}
	sedge  = Bike{Flat: Box{2000, 500, 1100}}
	yarrow = Bike{Flat: Box{1800, 640, 1100}, Upright: Box{1000, 100, 1800}}
)

func TestCheckSpace(t *testing.T) {
	t.Parallel()
	standing := func(h Home) Home { h.MustStandUpright = true; return h }
	tests := []struct {
		name  string
		bike  Bike
		home  Home
		how   How
		slack measure.Length
	}{
		{"to the millimetre", sedge, Home{Space: Box{2000, 500, 1100}}, Flat, 0},
		{"one too long", sedge, Home{Space: Box{1999, 500, 1100}}, Flat, -1},
		{"one too wide", sedge, Home{Space: Box{2000, 499, 1100}}, Flat, -1},
		{"one too high", sedge, Home{Space: Box{2000, 500, 1099}}, Flat, -1},
		{"length across", sedge, Home{Space: Box{560, 2070, 1200}}, Flat, 60},
		{"only the length stated", sedge, Home{Space: Box{Length: 1900}}, Flat, 1400},
		{"only the height stated", sedge, Home{Space: Box{Height: 1090}}, Flat, -10},

		// cos t = 4/5 and sin t = 3/5: 2000 × 500 spans exactly 1900 × 1600.
		{"turned to the millimetre", sedge, Home{Space: Box{1900, 1600, 0}}, Turned, 0},
		{"turned, one too long", sedge, Home{Space: Box{1899, 1599, 0}}, Turned, -1},
		{"turned with 4 cm", sedge, Home{Space: Box{1640, 1940, 0}}, Turned, 40},
		{"turned under a low ceiling", sedge, Home{Space: Box{1940, 1640, 1110}}, Turned, 10},
		// cos t = 15/17 and sin t = 8/17: 170 × 17 spans exactly 158 × 95, where
		// the floating-point slack is a hair below 0.
		{"turned, arithmetic below the edge", Bike{Flat: Box{170, 17, 0}}, Home{Space: Box{158, 95, 0}}, Turned, 0},
		// At 45° in a square of side a: a - 2500/√8 = a - 1767.77.
		{"straight, as that leaves 5 cm", sedge, Home{Space: Box{2050, 2050, 0}}, Flat, 50},
		{"turned, as straight leaves less", sedge, Home{Space: Box{2049, 2049, 0}}, Turned, 281},
		{"turning gains nothing", sedge, Home{Space: Box{1990, 520, 0}}, Flat, -10},

		{"clearance taken from both", sedge, Home{Space: Box{2100, 600, 1100}, Clearance: 100}, Flat, 0},
		{"clearance too much", sedge, Home{Space: Box{2100, 600, 1100}, Clearance: 101}, Flat, -1},
		{"clearance decides in the width", sedge, Home{Space: Box{2200, 600, 1100}, Clearance: 101}, Flat, -1},
		{"clearance decides in the length", sedge, Home{Space: Box{2100, 700, 1100}, Clearance: 101}, Flat, -1},
		{"negative clearance is none", sedge, Home{Space: Box{2000, 500, 0}, Clearance: -10}, Flat, 0},
		{"clearance beyond the space", sedge, Home{Space: Box{2100, 600, 1100}, Clearance: 700}, Flat, -600},
		{"clearance leaves the height", sedge, Home{Space: Box{0, 0, 1200}, Clearance: 500}, Flat, 100},

		// On its wheels teasel has 4 and 5 cm of slack, on end 18 cm in both.
		{"less simple, as flat is tight", teasel, Home{Space: Box{1820, 800, 2500}}, Upright, 180},
		{"simple, as flat has 5 cm", teasel, Home{Space: Box{1830, 800, 2500}}, Flat, 50},
		{"on end only", teasel, Home{Space: Box{700, 700, 1900}}, Upright, 60},
		{"on end to the millimetre", teasel, Home{Space: Box{620, 640, 1820}}, Upright, 0},
		{"on end, one too high", teasel, Home{Space: Box{620, 640, 1819}}, Upright, -1},
		// On end and at 45° in a square of side a: a - 1100/√2 = a - 777.8.
		{"on end at an angle", yarrow, Home{Space: Box{800, 800, 0}}, Upright, 22},
		{"asked to stand, at an angle", yarrow, standing(Home{Space: Box{800, 800, 0}}), Upright, 22},
		{"asked to stand where flat would fit", teasel, standing(Home{Space: Box{3000, 3000, 1800}}), Upright, -20},
		{"asked to stand and fits", teasel, standing(Home{Space: Box{3000, 700, 1900}}), Upright, 80},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			want := Fit{Fits: tt.slack >= 0, How: tt.how, Constrained: true, Tightest: "space",
				Slack: tt.slack, SpaceFits: tt.slack >= 0, WayFits: true}
			if got := Check(tt.bike, tt.home); got != want {
				t.Errorf("got  %+v\nwant %+v", got, want)
			}
		})
	}
}

func TestCheckWay(t *testing.T) {
	t.Parallel()
	lift := func(l Lift) Home { return Home{Lift: &l} }
	corner := func(in, out measure.Length) Home { return Home{Corners: []Corner{{in, out}}} }
	door := func(width, height measure.Length) Home { return Home{Doorways: []Doorway{{width, height}}} }
	tests := []struct {
		name string
		bike Bike
		home Home
		want Part
	}{
		{"doorway to the millimetre", sedge, door(500, 1100), Part{"doorways[0]", Flat, 0}},
		{"doorway one too narrow", sedge, door(499, 0), Part{"doorways[0]", Flat, -1}},
		{"doorway one too low", sedge, door(0, 1099), Part{"doorways[0]", Flat, -1}},
		{"doorway narrower on end", teasel, door(630, 2000), Part{"doorways[0]", Upright, 10}},
		{"doorway as wide on end", Bike{Box{1780, 640, 1120}, Box{700, 640, 1820}}, door(700, 0), Part{"doorways[0]", Flat, 60}},
		{"doorway too low on end", teasel, door(660, 1800), Part{"doorways[0]", Flat, 20}},

		// At 45° a corner of equal corridors leaves a - (W + L/2)/√2:
		// 1100 - 1500/√2 = 39.34.
		{"corner", sedge, corner(1100, 1100), Part{"corners[0]", Flat, 39}},
		{"corner with one corridor stated", sedge, corner(0, 520), Part{"corners[0]", Flat, 20}},
		// a = 27 u, b = 64 u pass exactly 125 u where the width does not count.
		{"corner to the millimetre", Bike{Flat: Box{1250, 0, 0}}, corner(640, 270), Part{"corners[0]", Flat, 0}},
		{"corner one too long", Bike{Flat: Box{1251, 0, 0}}, corner(270, 640), Part{"corners[0]", Flat, -1}},
		{"corner of no length", Bike{}, corner(500, 400), Part{"corners[0]", Flat, 400}},
		// 1000 - 1500/√2 = -60.7, though it could be pushed round sideways.
		{"corner has to be turned on wheels", Bike{Flat: Box{1000, 1000, 0}}, corner(1000, 1000), Part{"corners[0]", Flat, -61}},
		// Turning on end would ask for (620 + 320)/√2 = 664.7 mm.
		{"corner on end without turning", teasel, corner(650, 650), Part{"corners[0]", Upright, 10}},
		{"corner on end, one too narrow", teasel, corner(639, 639), Part{"corners[0]", Upright, -1}},

		{"lift to the millimetre", sedge, lift(Lift{500, 2000, 1100, 500}), Part{"lift", Flat, 0}},
		{"lift door one too narrow", sedge, lift(Lift{500, 2000, 1100, 499}), Part{"lift", Flat, -1}},
		{"lift one too short", sedge, lift(Lift{500, 1999, 1100, 500}), Part{"lift", Flat, -1}},
		{"lift one too low", sedge, lift(Lift{500, 2000, 1099, 500}), Part{"lift", Flat, -1}},
		{"lift does not count an angle", sedge, lift(Lift{1940, 1640, 2000, 900}), Part{"lift", Flat, -60}},
		{"lift takes it on end", teasel, lift(Lift{1000, 800, 2100, 700}), Part{"lift", Upright, 80}},
		{"lift too low on end", teasel, lift(Lift{1000, 800, 1810, 700}), Part{"lift", Upright, -10}},
		{"lift with only the door stated", sedge, lift(Lift{Door: 520}), Part{"lift", Flat, 20}},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			parts := Explain(tt.bike, tt.home)
			if len(parts) != 1 || parts[0] != tt.want {
				t.Errorf("Explain = %+v, want %+v", parts, tt.want)
			}
			fits := tt.want.Slack >= 0
			want := Fit{Fits: fits, How: Flat, Constrained: true, Tightest: tt.want.Name,
				Slack: tt.want.Slack, SpaceFits: true, WayFits: fits}
			if fits && tt.want.How == Upright {
				want.OnTail = tt.want.Name
			}
			if got := Check(tt.bike, tt.home); got != want {
				t.Errorf("got  %+v\nwant %+v", got, want)
			}
		})
	}
}

func TestCheckWholeHome(t *testing.T) {
	t.Parallel()
	home := Home{
		Space:    Box{2000, 900, 2400},
		Doorways: []Doorway{{900, 2000}, {800, 2000}, {}},
		Corners:  []Corner{{1100, 1000}},
		Lift:     &Lift{1400, 1100, 2100, 900},
	}
	want := []Part{
		{"doorways[0]", Flat, 260},
		{"doorways[1]", Flat, 160},
		{"corners[0]", Upright, 380},
		{"lift", Upright, 280},
		{"space", Flat, 220},
	}
	got := Explain(teasel, home)
	if len(got) != len(want) {
		t.Fatalf("Explain = %+v, want %+v", got, want)
	}
	for i := range want {
		if got[i] != want[i] {
			t.Errorf("part %d = %+v, want %+v", i, got[i], want[i])
		}
	}
	fit := Check(teasel, home)
	if !fit.Fits || fit.Tightest != "doorways[1]" || fit.Slack != 160 || fit.How != Flat || fit.OnTail != "corners[0]" {
		t.Errorf("Check = %+v", fit)
	}
	home.Doorways[0].Width = 800
	if fit := Check(teasel, home); fit.Tightest != "doorways[0]" {
		t.Errorf("of two equal doorways, tightest is %s; want the first", fit.Tightest)
	}
	home.Space.Length = 1940
	if fit := Check(teasel, home); fit.Slack != 160 || fit.Tightest != "doorways[0]" {
		t.Errorf("doorway and space equal, tightest is %s; want the doorway", fit.Tightest)
	}
}

func TestCheckWayAndSpaceApart(t *testing.T) {
	t.Parallel()
	fit := Check(sedge, Home{Space: Box{3000, 3000, 0}, Doorways: []Doorway{{Width: 400}}})
	if fit.Fits || fit.WayFits || !fit.SpaceFits {
		t.Errorf("a doorway too narrow: %+v", fit)
	}
	fit = Check(sedge, Home{Space: Box{1000, 1000, 0}, Doorways: []Doorway{{Width: 900}}})
	if fit.Fits || !fit.WayFits || fit.SpaceFits {
		t.Errorf("a space too small: %+v", fit)
	}
}

func TestCheckUnconstrained(t *testing.T) {
	t.Parallel()
	home := Home{Clearance: 100, Doorways: []Doorway{{}}, Corners: []Corner{{}}, Lift: &Lift{}}
	for _, bike := range []Bike{{}, sedge, teasel} {
		want := Fit{Fits: true, How: Flat, SpaceFits: true, WayFits: true}
		if got := Check(bike, home); got != want {
			t.Errorf("got  %+v\nwant %+v", got, want)
		}
		if parts := Explain(bike, home); len(parts) != 0 {
			t.Errorf("Explain = %+v, want nothing", parts)
		}
	}
	standing := Check(teasel, Home{MustStandUpright: true})
	if want := (Fit{Fits: true, How: Upright, SpaceFits: true, WayFits: true}); standing != want {
		t.Errorf("got  %+v\nwant %+v", standing, want)
	}
}

func TestCheckNeedsUpright(t *testing.T) {
	t.Parallel()
	home := Home{Space: Box{9000, 9000, 9000}, MustStandUpright: true}
	want := Fit{How: Upright, WayFits: true, NeedsUpright: true}
	if got := Check(sedge, home); got != want {
		t.Errorf("without a way: got  %+v\nwant %+v", got, want)
	}
	home.Doorways = []Doorway{{Width: 700}}
	want.Constrained, want.Tightest, want.Slack = true, "doorways[0]", 200
	if got := Check(sedge, home); got != want {
		t.Errorf("with a way: got  %+v\nwant %+v", got, want)
	}
}

func TestCanStand(t *testing.T) {
	t.Parallel()
	for _, tt := range []struct {
		upright Box
		want    bool
	}{
		{Box{}, false},
		{Box{620, 640, 1820}, true},
		{Box{0, 640, 1820}, false},
		{Box{620, 0, 1820}, false},
		{Box{620, 640, 0}, false},
	} {
		if got := (Bike{Upright: tt.upright}).CanStand(); got != tt.want {
			t.Errorf("CanStand with %v = %t, want %t", tt.upright, got, tt.want)
		}
	}
}

func TestGrown(t *testing.T) {
	t.Parallel()
	tests := []struct {
		name                       string
		frame                      Bike
		front, rear, width, height measure.Length
		blocks                     bool
		want                       Bike
	}{
		{"nothing fitted", teasel, 0, 0, 0, 0, false, teasel},
		{"overhangs", teasel, 80, 60, 0, 0, false, Bike{Box{1920, 640, 1120}, Box{620, 640, 1960}}},
		{"wider and higher", teasel, 0, 0, 700, 1300, false, Bike{Box{1780, 700, 1300}, Box{800, 700, 1820}}},
		{"a basket above the handlebar", teasel, 0, 0, 0, 1500, false, Bike{Box{1780, 640, 1500}, Box{1000, 640, 1820}}},
		{"within the frame", teasel, 0, 0, 600, 1000, false, teasel},
		{"kept from standing", teasel, 0, 0, 0, 0, true, Bike{Flat: teasel.Flat}},
		{"never stood", sedge, 80, 0, 700, 0, false, Bike{Flat: Box{2080, 700, 1100}}},
		{"upright half stated", Bike{Flat: sedge.Flat, Upright: Box{Height: 1800}}, 0, 0, 0, 0, false, sedge},
		{"negative figures", teasel, -5, -5, -5, -5, false, teasel},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			got := Grown(tt.frame, tt.front, tt.rear, tt.width, tt.height, tt.blocks)
			if got != tt.want {
				t.Errorf("got %+v, want %+v", got, tt.want)
			}
		})
	}
}

var benchmarkHome = Home{
	Space:     Box{1700, 1400, 2400},
	Clearance: 20,
	Doorways:  []Doorway{{900, 2000}, {800, 2000}},
	Corners:   []Corner{{1100, 1000}},
	Lift:      &Lift{1400, 1100, 2100, 900},
}

func BenchmarkCheck(b *testing.B) {
	b.ReportAllocs()
	for b.Loop() {
		Check(teasel, benchmarkHome)
	}
}

func TestCheckAllocations(t *testing.T) {
	// The names of the tightest part and of one passed on end are all that is
	// built.
	if got := testing.AllocsPerRun(100, func() { Check(teasel, benchmarkHome) }); got > 2 {
		t.Errorf("Check allocates %v times, want at most twice", got)
	}
}

// A bike goes on its wheels where that leaves a hand's breadth, and on its tail
// only where that leaves more: then the first such part is told.
func TestOnTheTail(t *testing.T) {
	t.Parallel()
	narrow := Bike{Flat: Box{1780, 640, 1120}, Upright: Box{500, 640, 1820}}
	for _, c := range []struct {
		width, slack measure.Length
		how          How
		onTail       string
	}{
		{690, 50, Flat, ""}, {689, 189, Upright, "doorways[0]"}, {640, 140, Upright, "doorways[0]"}, {500, 0, Upright, "doorways[0]"},
		{499, -1, Upright, ""}, // it does not get through at all
	} {
		home := Home{Doorways: []Doorway{{Width: c.width}}}
		if got, fit := Explain(narrow, home)[0], Check(narrow, home); got.How != c.how || got.Slack != c.slack || fit.OnTail != c.onTail {
			t.Errorf("a doorway of %v: %+v, on the tail %q; want %+v", c.width, got, fit.OnTail, c)
		}
	}
}
