package catalog

import (
	"math"
	"math/big"
	"testing"

	"kinwain/internal/measure"
)

func TestARevisedFigure(t *testing.T) {
	for _, c := range []struct {
		name     string
		by       Revision
		was, now int64
	}{
		{"5 % of 1,890.00", Revision{Percent: 500}, 189000, 198450},
		{"3.5 % to the whole", Revision{Percent: 350, Round: Rounding{Step: 100}}, 189000, 195600}, // 1,956.15
		{"half a cent goes up", Revision{Percent: 50}, 100, 101},                                   // 1.005
		{"to ten less one", Revision{Percent: 500, Round: Rounding{Step: 1000, Below: 100}}, 189000, 198900},
		{"halfway between 1,979 and 1,989 goes up", Revision{Round: Rounding{Step: 1000, Below: 100}}, 198400, 198900},
		{"less", Revision{Percent: -1000}, 15900, 14310},
		{"so much more", Revision{Plus: 250}, 15900, 16150},
		{"so much less than there is", Revision{Plus: -20000}, 15900, 0},
		{"one for all", Revision{Plus: 1200, Fixed: true}, 15900, 1200},
		{"behind the axle stays behind", Revision{Plus: -20}, -40, -60},
		{"nothing asked", Revision{}, 15900, 15900},
		{"of nothing", Revision{Percent: 500}, 0, 0},
	} {
		if now := c.by.Of(c.was); now != c.now {
			t.Errorf("%s: %d becomes %d, want %d", c.name, c.was, now, c.now)
		}
	}
}

// FuzzARevisedFigure holds the sum in whole numbers against one in fractions,
// and rounding against the nearest of the figures around.
func FuzzARevisedFigure(f *testing.F) {
	f.Add(int64(189000), int64(350), int64(0), int64(1000), int64(100))
	f.Add(int64(-400), int64(-10000), int64(3), int64(5), int64(0))
	f.Fuzz(func(t *testing.T, was, percent, plus, step, below int64) {
		was, percent, plus = was%1_000_000_00, percent%1000_00, plus%1_000_000_00
		step = max(step%10_000, 0)
		if below %= max(step, 1); below < 0 {
			below = 0
		}
		now := Revision{Percent: measure.Percentage(percent), Plus: plus, Round: Rounding{step, below}}.Of(was)
		plain := new(big.Rat).Mul(big.NewRat(was, 1), big.NewRat(100_00+percent, 100_00))
		plain.Add(plain, big.NewRat(plus, 1))
		if was >= 0 && now == 0 {
			return // it may have been cut at nothing
		}
		off := new(big.Rat).Sub(big.NewRat(now, 1), plain)
		wide := big.NewRat(max(step, 1)+1, 2) // half a step, and half a unit before it
		if off.Abs(off).Cmp(wide) > 0 {
			t.Fatalf("%d by %d hundredths of a per cent and %d becomes %d, which is not the nearest of steps of %d less %d", was, percent, plus, now, step, below)
		}
		if step > 0 && (now+below)%step != 0 {
			t.Fatalf("%d is no step of %d less %d", now, step, below)
		}
	})
}

func TestAFigureFarBeyond(t *testing.T) {
	if now := (Revision{Percent: math.MaxInt64 / 4}).Of(math.MaxInt64 / 2); now != math.MaxInt64 {
		t.Errorf("became %d", now)
	}
}

// TestColumns sets every field that can be typed one below the other, in a
// copy: the thing itself stays.
func TestColumns(t *testing.T) {
	values := map[FieldKind]any{Text: "x", Code: "x", Mass: measure.Mass(7), Length: measure.Length(7), Signed: measure.Length(-7), Volume: measure.Volume(7),
		Money: measure.Money(7), Number: 7, Share: measure.Share(7), Word: "x", Day: measure.Date{}}
	for list, thing := range map[string]any{"frames": &Frame{}, "add_ons": &AddOn{}, "units": &Unit{}} {
		for _, f := range Of(list) {
			if !f.InColumn() {
				continue
			}
			changed, err := f.With(thing, values[f.Kind])
			if err != nil {
				t.Errorf("%s.%s: %v", list, f.Name, err)
				continue
			}
			if f.Counts() && (f.Figure(thing) != 0 || f.Figure(changed) == 0) {
				t.Errorf("%s.%s: %d became %d", list, f.Name, f.Figure(thing), f.Figure(changed))
			}
			if empty, err := f.With(changed, nil); err != nil || f.Counts() && f.Figure(empty) != 0 {
				t.Errorf("%s.%s: not cleared: %v", list, f.Name, err)
			}
			if _, err := f.With(thing, []string{"x"}); err == nil {
				t.Errorf("%s.%s takes a list", list, f.Name)
			}
		}
	}
}
