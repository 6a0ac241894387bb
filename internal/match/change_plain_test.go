package match_test

import (
	"reflect"
	"testing"

	"kinwain/internal/match"
)

// TestChangeIsThePlainOne holds the change against the one that is found by
// asking everything anew, over frames and customers that stand near their
// limits, and of some who ask for as little or as much as
// can be: the very same, down to its words.
func TestChangeIsThePlainOne(t *testing.T) {
	t.Parallel()
	shop, customers := demo(t)
	s := match.DefaultSettings()
	s.Patience = 0
	met := map[string]int{}
	for seed := range 1500 {
		d := newPerturber(shop, customers, uint64(seed))
		c, p := d.one()
		if seed%3 == 0 {
			d.extreme(p)
		}
		f := &c.Frames[0]
		m, err := match.One(t.Context(), c, f, p, s, match.Options{Changes: true})
		if err != nil {
			t.Fatal(err)
		}
		if m.Fits() {
			met["fits"]++
			continue
		}
		want, err := match.PlainChange(t.Context(), c, f, p, s)
		if err != nil {
			t.Fatal(err)
		}
		if !reflect.DeepEqual(m.Change, want) {
			t.Errorf("seed %d: %s: %s, the plain way %s", seed, f.Code, figure(m.Change), figure(want))
		}
		code := "none"
		if want != nil {
			code = want.Code
		}
		met[code]++
	}
	t.Log(met)
	for _, code := range []string{"none", "less_cargo", "fewer_litres", "lying_flat", "wider_doorway", "wider_corner", "larger_space", "larger_lift",
		"without_pet", "wait_until", "without_rider", "without_passenger", "more_budget"} {
		if met[code] == 0 {
			t.Errorf("%s was never met", code)
		}
	}
}
