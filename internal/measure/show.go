package measure

import "strings"

// Rounding says which way a shown figure may stray from the exact one.
type Rounding int8

// The ways to round. Down is for what is spare and Up for what is loaded, so
// that rounding never makes a build look safer.
const (
	Down    Rounding = -1
	Nearest Rounding = 0
	Up      Rounding = 1
)

// tenth is a tenth of the unit in which a system shows a quantity, as an
// exact fraction of the small unit.
type tenth struct{ numerator, denominator int64 }

var (
	massTenths   = [...]tenth{{100, 1}, {45359237, 1000000}}
	lengthTenths = [...]tenth{{1, 1}, {254, 100}}
)

// divide returns n over the tenth as a whole number of tenths.
func (t tenth) divide(n int64, r Rounding) int64 {
	a, b := n*t.denominator, t.numerator
	switch r {
	case Up:
		return -floorDiv(-a, b)
	case Down:
		return floorDiv(a, b)
	}
	return floorDiv(2*a+b, 2*b)
}

func floorDiv(a, b int64) int64 {
	q := a / b
	if a%b != 0 && (a < 0) != (b < 0) {
		q--
	}
	return q
}

// MassUnit returns the sign of the unit in which the system shows masses.
func (s System) MassUnit() string { return [...]string{"kg", "lb"}[s] }

// LengthUnit returns the sign of the unit in which the system shows lengths.
func (s System) LengthUnit() string { return [...]string{"cm", "in"}[s] }

// Show writes the mass with its unit: 82.5 kg, 181.9 lb.
func (m Mass) Show(s System, r Rounding) string {
	return withoutZero(fixed(massTenths[s].divide(int64(m), r), 10)) + " " + s.MassUnit()
}

// Show writes the length with its unit: 178 cm, 70.1 in.
func (l Length) Show(s System, r Rounding) string {
	return withoutZero(fixed(lengthTenths[s].divide(int64(l), r), 10)) + " " + s.LengthUnit()
}

// ShowOver writes by how much the mass is over another one: the difference of
// the two as Show writes them, so that it can be checked on paper.
func (m Mass) ShowOver(other Mass, s System, r Rounding) string {
	t := massTenths[s]
	return withoutZero(fixed(t.divide(int64(m), r)-t.divide(int64(other), r), 10)) + " " + s.MassUnit()
}

// ShowOver writes by how much the length is over another one, as that of Mass.
func (l Length) ShowOver(other Length, s System, r Rounding) string {
	t := lengthTenths[s]
	return withoutZero(fixed(t.divide(int64(l), r)-t.divide(int64(other), r), 10)) + " " + s.LengthUnit()
}

// Show writes the volume in litres.
func (v Volume) Show(r Rounding) string {
	return withoutZero(fixed(tenth{100, 1}.divide(int64(v), r), 10)) + " l"
}

// Show writes the amount with its currency code and two decimals: EUR 3,500.00.
func (m Money) Show(currency string) string {
	digits, sign := fixed(int64(m), 100), ""
	if strings.HasPrefix(digits, "-") {
		digits, sign = digits[1:], "-"
	}
	for at := len(digits) - 6; at > 0; at -= 3 {
		digits = digits[:at] + "," + digits[at:]
	}
	return currency + "\u00a0" + sign + digits
}

func withoutZero(s string) string { return strings.TrimSuffix(s, ".0") }

// Tally is a sum of masses against a limit as it is shown: every figure has
// one decimal and no unit, Total is exactly the sum of Rows and Rounding, and
// Limit is exactly Total plus Spare.
type Tally struct {
	// Rows are each mass rounded up, as Show writes it, whatever it is added
	// to: one mass has one figure wherever it stands.
	Rows     []string
	Rounding string // by how much the rows are more than the total; nothing where they add up
	Total    string
	Limit    string
	// Spare is what is left under the limit, with a minus sign where the
	// limit is exceeded.
	Spare string
	Unit  string
}

// NewTally rounds a sum so that it can be checked on paper and never looks
// safer than it is: the rows and the total are rounded up, the spare down.
func NewTally(rows []Mass, limit Mass, s System) Tally {
	unit := massTenths[s]
	t := Tally{Unit: s.MassUnit()}
	exact, sum := Mass(0), int64(0)
	for _, r := range rows {
		n := unit.divide(int64(r), Up)
		exact, sum = exact+r, sum+n
		t.Rows = append(t.Rows, fixed(n, 10))
	}
	total, spare := unit.divide(int64(exact), Up), unit.divide(int64(limit-exact), Down)
	t.Total, t.Spare, t.Limit = fixed(total, 10), fixed(spare, 10), fixed(total+spare, 10)
	if sum != total {
		t.Rounding = fixed(total-sum, 10)
	}
	return t
}

// String shows the mass in kilograms, to the nearest 100 g.
func (m Mass) String() string { return m.Show(Metric, Nearest) }

// String shows the length in centimetres, to the millimetre.
func (l Length) String() string { return l.Show(Metric, Nearest) }

// String shows the volume in litres, to the nearest tenth.
func (v Volume) String() string { return v.Show(Nearest) }

// String shows the amount with two decimals and without a currency.
func (m Money) String() string { return fixed(int64(m), 100) }
