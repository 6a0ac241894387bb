package parking

import (
	"math"
	"testing"

	"pgregory.net/rapid"

	"kinwain/internal/measure"
)

func length(t *rapid.T, name string, low, high int) measure.Length {
	return mm(rapid.IntRange(low, high).Draw(t, name))
}

func drawBike(t *rapid.T) Bike {
	b := Bike{Flat: Box{length(t, "length", 1, 2600), length(t, "width", 1, 900), length(t, "height", 1, 1400)}}
	if rapid.Bool().Draw(t, "stands") {
		b.Upright = Box{length(t, "up length", 1, 1200), length(t, "up width", 1, 900), length(t, "up height", 1, 2600)}
	}
	return b
}

// drawHome draws a home that often just fits a drawn bike; a 0 is common.
func drawHome(t *rapid.T) Home {
	dim := func(name string, high int) measure.Length {
		return length(t, name, 0, high) * length(t, name+" stated", 0, 1)
	}
	h := Home{
		Space:            Box{dim("space length", 3200), dim("space width", 3200), dim("space height", 3200)},
		Clearance:        dim("clearance", 200),
		MustStandUpright: rapid.Bool().Draw(t, "must stand"),
	}
	for range rapid.IntRange(0, 2).Draw(t, "doorways") {
		h.Doorways = append(h.Doorways, Doorway{dim("door width", 1300), dim("door height", 3000)})
	}
	for range rapid.IntRange(0, 2).Draw(t, "corners") {
		h.Corners = append(h.Corners, Corner{dim("in", 2500), dim("out", 2500)})
	}
	if rapid.Bool().Draw(t, "lift") {
		h.Lift = &Lift{dim("lift length", 3000), dim("lift width", 3000), dim("lift height", 3000), dim("lift door", 1300)}
	}
	return h
}

// larger returns a copy of the home in which every stated length has grown.
func larger(t *rapid.T, h Home) Home {
	grow := func(l *measure.Length) {
		if *l > 0 {
			*l += length(t, "more", 0, 300)
		}
	}
	doorways, corners := h.Doorways, h.Corners
	h.Doorways, h.Corners = nil, nil
	for _, d := range doorways {
		grow(&d.Width)
		grow(&d.Height)
		h.Doorways = append(h.Doorways, d)
	}
	for _, c := range corners {
		grow(&c.In)
		grow(&c.Out)
		h.Corners = append(h.Corners, c)
	}
	if h.Lift != nil {
		l := *h.Lift
		for _, dim := range []*measure.Length{&l.Length, &l.Width, &l.Height, &l.Door} {
			grow(dim)
		}
		h.Lift = &l
	}
	for _, dim := range []*measure.Length{&h.Space.Length, &h.Space.Width, &h.Space.Height} {
		grow(dim)
	}
	h.Clearance -= length(t, "less clearance", 0, int(h.Clearance))
	h.MustStandUpright = h.MustStandUpright && rapid.Bool().Draw(t, "still must stand")
	return h
}

func TestLargerHomeStillFits(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(t *rapid.T) {
		bike, home := drawBike(t), drawHome(t)
		bigger := larger(t, home)
		before, after := Check(bike, home), Check(bike, bigger)
		if before.SpaceFits && !after.SpaceFits || before.WayFits && !after.WayFits || before.Fits && !after.Fits {
			t.Fatalf("%+v\nfits %+v\nbut not %+v", bike, before, after)
		}
		if home.MustStandUpright != bigger.MustStandUpright {
			return
		}
		was, is := Explain(bike, home), Explain(bike, bigger)
		if len(was) != len(is) {
			t.Fatalf("parts %+v became %+v", was, is)
		}
		for i := range was {
			if was[i].How == is[i].How && is[i].Slack < was[i].Slack {
				t.Errorf("in a larger home %+v became %+v", was[i], is[i])
			}
		}
	})
}

func TestLargerBikeFitsNowhereNew(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(t *rapid.T) {
		small, home := drawBike(t), drawHome(t)
		big := Grown(small, length(t, "front", 0, 200), length(t, "rear", 0, 200),
			length(t, "width", 0, 900), length(t, "height", 0, 1400), rapid.Bool().Draw(t, "blocks"))
		if big.CanStand() {
			big.Upright.Length += length(t, "depth", 0, 200)
		}
		s, b := Check(small, home), Check(big, home)
		if b.Fits && !s.Fits || b.WayFits && !s.WayFits || b.SpaceFits && !s.SpaceFits {
			t.Fatalf("%+v\n%+v\ndoes not fit, but\n%+v\n%+v", small, s, big, b)
		}
	})
}

// TestSlackIsTheShrink holds the meaning of slack: both sides smaller by s
// leave s less.
func TestSlackIsTheShrink(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(t *rapid.T) {
		l, w := length(t, "l", 0, 2600), length(t, "w", 0, 2600)
		a, b, s := length(t, "a", 1, 3000), length(t, "b", 1, 3000), length(t, "s", 0, 500)
		for name, slack := range map[string]func(_, _, _, _ measure.Length) measure.Length{
			"aligned": aligned, "turned": turned, "aroundCorner": aroundCorner,
		} {
			if got, want := slack(l, w, a, b), slack(l, w, a+s, b+s)-s; got != want {
				t.Errorf("%s(%d, %d, %d, %d) = %d, but %d from sides %d longer", name, l, w, a, b, got, want, s)
			}
			if got, want := slack(l, w, a, b), slack(w, l, b, a); got != want {
				t.Errorf("%s(%d, %d, %d, %d) = %d, but %d the other way round", name, l, w, a, b, got, want)
			}
		}
	})
}

func FuzzCheck(f *testing.F) {
	f.Add(int32(1780), int32(640), int32(1120), int32(620), int32(640), int32(1820), int32(2000), int32(900), int32(2400), int32(0), false)
	f.Add(int32(2000), int32(500), int32(1100), int32(0), int32(0), int32(0), int32(1900), int32(1600), int32(1200), int32(20), true)
	f.Add(int32(-1), int32(0), int32(math.MaxInt32), int32(1), int32(1), int32(1), int32(math.MinInt32), int32(1), int32(math.MaxInt32), int32(math.MaxInt32), false)
	f.Fuzz(func(t *testing.T, l, w, h, ul, uw, uh, a, b, c, gap int32, stand bool) {
		box := func(l, w, h int32) Box { return Box{measure.Length(l), measure.Length(w), measure.Length(h)} }
		bike := Bike{box(l, w, h), box(ul, uw, uh)}
		space := box(a, b, c)
		home := Home{
			Space: space, Clearance: measure.Length(gap), MustStandUpright: stand,
			Doorways: []Doorway{{space.Width, space.Height}, {space.Height, 0}},
			Corners:  []Corner{{space.Length, space.Width}, {space.Width, space.Height}},
			Lift:     &Lift{space.Length, space.Width, space.Height, space.Width},
		}
		fit := Check(bike, home)
		checkFit(t, fit, bike, home)
	})
}

// checkFit holds what every answer promises.
func checkFit(t *testing.T, fit Fit, bike Bike, home Home) {
	t.Helper()
	least := Part{Slack: measure.Length(math.MaxInt64)}
	parts := Explain(bike, home)
	for _, p := range parts {
		if p.Slack < least.Slack {
			least = p
		}
	}
	if fit.Constrained != (len(parts) > 0) || fit.Constrained && (fit.Tightest != least.Name || fit.Slack != least.Slack) {
		t.Errorf("%+v, but the tightest of %+v is %+v", fit, parts, least)
	}
	if !fit.Constrained && (fit.Tightest != "" || fit.Slack != 0) {
		t.Errorf("unconstrained, yet %+v", fit)
	}
	if fit.Fits != (fit.SpaceFits && fit.WayFits) || fit.Fits != (fit.Slack >= 0 && !fit.NeedsUpright) {
		t.Errorf("the answer contradicts itself: %+v", fit)
	}
	if fit.NeedsUpright != (home.MustStandUpright && !bike.CanStand()) {
		t.Errorf("needs upright: %+v", fit)
	}
	if home.MustStandUpright && fit.How != Upright || fit.How == Upright && !bike.CanStand() && !fit.NeedsUpright {
		t.Errorf("pose %s", fit.How)
	}
}
