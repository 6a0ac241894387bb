package form

import (
	"slices"
	"testing"

	"kinwain/internal/problem"
)

// TestWhoIsWholeIsJudged types rows that are empty or cannot be right beside
// one rider who is whole: each takes itself out of what is judged, and no more.
func TestWhoIsWholeIsJudged(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		name           string
		typed          map[string]string
		faults         []string
		open           []string
		riders, aboard int
	}{
		{"an empty rider", map[string]string{"riders[1].label": "B"}, nil, []string{"riders[1].height_cm", "riders[1].weight_kg"}, 2, 0},
		{"a weight of 900 kg", map[string]string{"riders[1].label": "B", "riders[1].height_cm": "165", "riders[1].weight_kg": "900 kg"},
			[]string{"riders[1].weight_kg"}, []string{"riders[1].weight_kg"}, 2, 0},
		{"a name twice", map[string]string{"riders[1].label": "A", "riders[1].height_cm": "165", "riders[1].weight_kg": "60"}, []string{"riders[1].label"}, nil, 2, 0},
		{"an empty passenger", map[string]string{"passengers[0].label": "first child"}, nil, []string{"passengers[0].born"}, 1, 0},
		{"a birth that is none", map[string]string{"passengers[0].label": "p", "passengers[0].born": "soon", "passengers[1].label": "q", "passengers[1].born": "5.2022"},
			[]string{"passengers[0].born"}, []string{"passengers[0].born"}, 1, 1},
		{"an adult not weighed", map[string]string{"passengers[0].label": "p", "passengers[0].born": "1.1990"},
			[]string{"passengers[0].weight_kg"}, []string{"passengers[0].born", "passengers[0].weight_kg"}, 1, 0},
		{"cargo and a door", map[string]string{"cargo_kg": "lots", "home.doorways[0].width_cm": "wide", "budget_firm": "perhaps"},
			[]string{"budget_firm", "cargo_kg", "home.doorways[0].width_cm"}, []string{"cargo_kg", "home.doorways[0].width_cm", "budget_firm"}, 1, 0},
	} {
		f := New()
		f.Set("riders[0].height_cm", "178")
		f.Set("riders[0].weight_kg", "82")
		for name, value := range c.typed {
			f.Set(name, value)
		}
		p, faults, err := f.Judged(thisDay)
		if p == nil || err != nil {
			t.Errorf("%s: %v, %v", c.name, p, err)
			continue
		}
		if got := pathsOf(faults); !slices.Equal(got, c.faults) {
			t.Errorf("%s: the faults are at %v, want %v", c.name, got, c.faults)
		}
		if got := p.OpenQuestions(); !slices.Equal(got, c.open) && len(got)+len(c.open) > 0 {
			t.Errorf("%s: open are %v, want %v", c.name, got, c.open)
		}
		if len(p.Riders) != c.riders || len(p.Known().Passengers.Or(nil)) != c.aboard {
			t.Errorf("%s: %d riders and %d passengers are judged", c.name, len(p.Riders), len(p.Known().Passengers.Or(nil)))
		}
		for name, value := range c.typed {
			if f.Get(name) != value {
				t.Errorf("%s: %s became %q", c.name, name, f.Get(name))
			}
		}
	}
}

// TestNobodyIsWhole finds nothing to judge, and says why.
func TestNobodyIsWhole(t *testing.T) {
	t.Parallel()
	f := New()
	f.Set("riders[0].height_cm", "178")
	f.Set("riders[0].weight_kg", "heavy")
	if p, faults, err := f.Judged(thisDay); p != nil || err != nil || !slices.Equal(pathsOf(faults), []string{"riders[0].weight_kg"}) {
		t.Errorf("%v, %v, %v", p, faults, err)
	}
	for range 9 {
		f.Add(Riders)
	}
	f.Set("riders[0].weight_kg", "82")
	if p, faults, err := f.Judged(thisDay); p != nil || err != nil || !slices.Equal(pathsOf(faults), []string{"riders"}) {
		t.Errorf("ten riders: %v, %v, %v", p, faults, err)
	}
}

func pathsOf(faults problem.List) []string {
	var paths []string
	for _, f := range faults {
		paths = append(paths, f.Path)
	}
	slices.Sort(paths)
	return paths
}
