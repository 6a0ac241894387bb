// One set of add-ons chosen by hand: what keeps it from being put together,
// and whether it carries everyone.
package fitting_test

import (
	"slices"
	"testing"

	"pgregory.net/rapid"

	"kinwain/internal/catalog"
	"kinwain/internal/fitting"
	"kinwain/internal/profile"
)

// drawCounts draws how many of every kind are chosen, at times too many.
func drawCounts(t *rapid.T, w *world) (counts []int, fitted []string) {
	for i := range w.kinds {
		n := rapid.SampledFrom([]int{0, 0, 1, 1, w.kinds[i].delivered, w.kinds[i].most + 1}).Draw(t, "chosen")
		counts = append(counts, n)
		for range n {
			fitted = append(fitted, w.kinds[i].Code)
		}
	}
	return counts, fitted
}

func TestChosenSetsAgainstTheSlowWay(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(t *rapid.T) {
		in := drawInstance(t, anything)
		defer in.show(t)
		w := worldOf(in)
		counts, fitted := drawCounts(t, w)
		only, misfits := in.problem().Only(fitted)
		if got, want := len(misfits) > 0, w.clash(counts) != "" || tooMany(w, counts); got != want {
			t.Fatalf("%v: misfits %v, want any %v (%s)", fitted, misfits, want, w.clash(counts))
		}
		compareChosen(t, w, only, counts)
	})
}

func tooMany(w *world, counts []int) bool {
	for i, n := range counts {
		if n > max(w.kinds[i].UpTo, 1) {
			return true
		}
	}
	return false
}

// compareChosen asks for the chosen set and no other, whatever the objective.
func compareChosen(t *rapid.T, w *world, only *fitting.Problem, counts []int) {
	way := w.settle(counts, party(w.profile, asOf), fitting.AllRules)
	for _, objective := range profile.Objectives {
		b, err := only.Solve(t.Context(), objective, fitting.AllRules)
		if (err == nil) != (way != nil && w.homely(counts)) {
			t.Fatalf("%s: %s (%v); by the slow way it carries everyone: %v, it gets home: %v", objective, said(b), err, way != nil, w.homely(counts))
		}
		if err != nil {
			continue
		}
		price, labour, weight := w.sums(counts)
		if !slices.Equal(w.countsOf(b), counts) || b.Price != price || b.Labour != labour || b.Weight != weight {
			t.Fatalf("%s: %s, for the chosen %v", objective, said(b), counts)
		}
		compareSeating(t, b, way)
		compareCargo(t, b, way)
	}
}

func TestMisfitsSayWhatIsWrong(t *testing.T) {
	t.Parallel()
	seat, bag, lid := seatFor("seat", 1000, anyone), bagFor("bag", "rear", 5*kg, 0), catalog.AddOn{Code: "lid"}
	seat.Uses, seat.UpTo = []catalog.Use{{Mount: "deck_cm", Count: 31}}, 2
	bag.Needs, lid.Excludes = [][]string{{"seat", "lamp"}}, []string{"bag"}
	in := workshop(seat, bag, lid).checked(t)
	for _, c := range []struct {
		fitted []string
		want   []fitting.Misfit
	}{
		{nil, nil},
		{[]string{"seat", "bag"}, nil},
		{[]string{"seat", "seat"}, []fitting.Misfit{{Code: fitting.MountFull, Mount: "deck_cm", Over: 2}}},
		{[]string{"seat", "seat", "seat"}, []fitting.Misfit{{Code: fitting.TooMany, Over: 1}, {Code: fitting.MountFull, Mount: "deck_cm", Over: 33}}},
		{[]string{"bag"}, []fitting.Misfit{{Code: fitting.NeedsMissing}}},
		{[]string{"seat", "bag", "lid"}, []fitting.Misfit{{Code: fitting.Excluded}}},
		// What does not belong to the frame is left out.
		{[]string{"wing", "seat"}, nil},
	} {
		_, misfits := in.problem().Only(c.fitted)
		if len(misfits) != len(c.want) {
			t.Errorf("%v: %+v, want %+v", c.fitted, misfits, c.want)
			continue
		}
		for i, m := range misfits {
			if w := c.want[i]; m.Code != w.Code || m.Over != w.Over || m.Mount != w.Mount {
				t.Errorf("%v: %+v, want %+v", c.fitted, m, w)
			}
		}
	}
}
