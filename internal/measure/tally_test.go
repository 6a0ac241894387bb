package measure_test

import (
	"math/big"
	"regexp"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
	"pgregory.net/rapid"

	"kinwain/internal/measure"
)

func TestTallyOnPaper(t *testing.T) {
	t.Parallel()
	for name, c := range map[string]struct {
		rows   []measure.Mass
		limit  measure.Mass
		system measure.System
		want   measure.Tally
	}{
		"nothing to round": {[]measure.Mass{24500, 4100, 82000}, 180000, measure.Metric,
			measure.Tally{Rows: []string{"24.5", "4.1", "82.0"}, Total: "110.6", Limit: "180.0", Spare: "69.4", Unit: "kg"}},
		"every row goes up, and what that adds is said": {[]measure.Mass{330, 330, 340}, 2000, measure.Metric,
			measure.Tally{Rows: []string{"0.4", "0.4", "0.4"}, Rounding: "-0.2", Total: "1.0", Limit: "2.0", Spare: "1.0", Unit: "kg"}},
		"of equals all the same": {[]measure.Mass{350, 350, 350, 350}, 2000, measure.Metric,
			measure.Tally{Rows: []string{"0.4", "0.4", "0.4", "0.4"}, Rounding: "-0.2", Total: "1.4", Limit: "2.0", Spare: "0.6", Unit: "kg"}},
		"the total goes up, the spare down": {[]measure.Mass{1001}, 2000, measure.Metric,
			measure.Tally{Rows: []string{"1.1"}, Total: "1.1", Limit: "2.0", Spare: "0.9", Unit: "kg"}},
		"one gram under": {[]measure.Mass{1999}, 2000, measure.Metric,
			measure.Tally{Rows: []string{"2.0"}, Total: "2.0", Limit: "2.0", Spare: "0.0", Unit: "kg"}},
		"one gram over": {[]measure.Mass{2001}, 2000, measure.Metric,
			measure.Tally{Rows: []string{"2.1"}, Total: "2.1", Limit: "2.0", Spare: "-0.1", Unit: "kg"}},
		"a part taken off": {[]measure.Mass{24500, -450}, 180000, measure.Metric,
			measure.Tally{Rows: []string{"24.5", "-0.4"}, Total: "24.1", Limit: "180.0", Spare: "155.9", Unit: "kg"}},
		"no rows": {nil, 180000, measure.Metric,
			measure.Tally{Total: "0.0", Limit: "180.0", Spare: "180.0", Unit: "kg"}},
		// 54.0132, 180.7791 and 234.7923 lb of 396.8321.
		"pounds": {[]measure.Mass{24500, 82000}, 180000, measure.Imperial,
			measure.Tally{Rows: []string{"54.1", "180.8"}, Rounding: "-0.1", Total: "234.8", Limit: "396.8", Spare: "162.0", Unit: "lb"}},
	} {
		if diff := cmp.Diff(c.want, measure.NewTally(c.rows, c.limit, c.system)); diff != "" {
			t.Errorf("%s: %s", name, diff)
		}
	}
}

var tallyFigure = regexp.MustCompile(`^(-?[1-9][0-9]*|-?0)\.[0-9]$`)

// strays returns by how many tenths the shown figure lies above the exact one.
func strays(t *rapid.T, shown string, exact measure.Mass, tenth *big.Rat) *big.Rat {
	if !tallyFigure.MatchString(shown) || shown == "-0.0" {
		t.Fatalf("%q is no figure with one decimal", shown)
	}
	figure := tenths(t, shown, "")
	return figure.Sub(figure, new(big.Rat).Quo(big.NewRat(int64(exact), 1), tenth))
}

// plain takes the unit off a figure, and gives it its decimal.
func plain(shown string) string {
	figure, _, _ := strings.Cut(shown, " ")
	if !strings.Contains(figure, ".") {
		figure += ".0"
	}
	return figure
}

// TestTallyLaws holds what the customer may check on paper, and that rounding
// never makes a build look safer.
func TestTallyLaws(t *testing.T) {
	t.Parallel()
	one := big.NewRat(1, 1)
	rapid.Check(t, func(t *rapid.T) {
		rows := rapid.SliceOfN(rapid.Map(rapid.Int64Range(-60_000, 260_000), func(n int64) measure.Mass { return measure.Mass(n) }), 0, 9).Draw(t, "rows")
		limit := measure.Mass(rapid.Int64Range(0, 600_000).Draw(t, "limit"))
		s := rapid.SampledFrom(systems).Draw(t, "system")
		tally := measure.NewTally(rows, limit, s.system)
		if len(tally.Rows) != len(rows) || tally.Unit != s.system.MassUnit() {
			t.Fatalf("%d rows in %s", len(tally.Rows), tally.Unit)
		}
		sum, exact := new(big.Rat), measure.Mass(0)
		for i, row := range tally.Rows {
			if off := strays(t, row, rows[i], s.mass); off.Sign() < 0 || off.Cmp(one) >= 0 || row != plain(rows[i].Show(s.system, measure.Up)) {
				t.Errorf("row %d of %d g is shown as %s, by itself as %s", i, int64(rows[i]), row, rows[i].Show(s.system, measure.Up))
			}
			sum.Add(sum, tenths(t, row, ""))
			exact += rows[i]
		}
		if tally.Rounding != "" {
			if sum.Add(sum, tenths(t, tally.Rounding, "")); tenths(t, tally.Rounding, "").Sign() >= 0 {
				t.Errorf("rounding adds %s", tally.Rounding)
			}
		}
		if sum.Cmp(tenths(t, tally.Total, "")) != 0 {
			t.Errorf("rows %v do not add up to %s", tally.Rows, tally.Total)
		}
		if sum.Add(sum, tenths(t, tally.Spare, "")).Cmp(tenths(t, tally.Limit, "")) != 0 {
			t.Errorf("%s and %s do not add up to %s", tally.Total, tally.Spare, tally.Limit)
		}
		if off := strays(t, tally.Total, exact, s.mass); off.Sign() < 0 || off.Cmp(one) >= 0 {
			t.Errorf("a total of %d g is shown as %s", int64(exact), tally.Total)
		}
		if off := strays(t, tally.Spare, limit-exact, s.mass); off.Sign() > 0 || off.Neg(off).Cmp(one) >= 0 {
			t.Errorf("a spare of %d g is shown as %s", int64(limit-exact), tally.Spare)
		}
		if off := strays(t, tally.Limit, limit, s.mass); off.Abs(off).Cmp(one) >= 0 {
			t.Errorf("a limit of %d g is shown as %s", int64(limit), tally.Limit)
		}
		if exact > limit && tenths(t, tally.Spare, "").Sign() >= 0 {
			t.Errorf("%d g over the limit is shown with %s to spare", int64(exact-limit), tally.Spare)
		}
	})
}
