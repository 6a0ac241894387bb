package measure

import (
	"errors"
	"fmt"
	"math/big"
	"regexp"
	"strings"
	"unicode"
)

// unit is one unit of a quantity: how many small units it counts, exactly, as
// a fraction.
type unit struct{ numerator, denominator int64 }

// The yard and pound agreement of 1959 makes a pound 0.45359237 kg and an
// inch 2.54 cm exactly; the rest follow by definition (16 oz to the lb, 14 lb
// to the stone, 12 in to the ft, 231 cubic inches to the US gallon).
var (
	kilogram = unit{1000, 1}
	pound    = unit{45359237, 100000}
	inch     = unit{254, 10}
	foot     = unit{3048, 10}
	centi    = unit{10, 1}

	massUnits = map[string]unit{
		"kg": kilogram, "kgs": kilogram, "kilo": kilogram, "kilos": kilogram,
		"g": {1, 1}, "lb": pound, "lbs": pound, "pound": pound, "pounds": pound,
		"oz": {45359237, 1600000}, "st": {14 * 45359237, 100000}, "stone": {14 * 45359237, 100000},
	}
	lengthUnits = map[string]unit{
		"mm": {1, 1}, "cm": centi, "m": {1000, 1},
		"in": inch, "inch": inch, "inches": inch, `"`: inch,
		"ft": foot, "foot": foot, "feet": foot, "'": foot,
	}
	volumeUnits = map[string]unit{
		"l": {1000, 1}, "litre": {1000, 1}, "litres": {1000, 1}, "liter": {1000, 1}, "liters": {1000, 1},
		"ml": {1, 1}, "gal": {231 * 16387064, 1000000}, "gallon": {231 * 16387064, 1000000}, "gallons": {231 * 16387064, 1000000},
	}
	// next is the unit that a bare number has after another written unit: the 4
	// of "12 st 4" is pounds, the 10 of 5'10 is inches. Nothing follows a unit
	// that is not here.
	next = map[string]string{"st": "lb", "stone": "lb", "ft": "in", "foot": "in", "feet": "in", "'": "in", "lb": "oz", "lbs": "oz", "m": "cm"}
)

// ParseMass reads a mass as people write it: 82 kg, 82,5, 180 lb, 12 st 4. A
// bare number is in kilograms or pounds, as assumed. It rounds to the nearest
// gram. The error is an *Error.
func ParseMass(s string, assume System) (Mass, error) {
	n, err := parseQuantity(s, massUnits, [...]string{"kg", "lb"}[assume], "a weight; write it like 82 kg, 180 lb or 12 st 4")
	return Mass(n), err
}

// ParseLength reads a length as people write it: 178 cm, 1.78 m, 5'10",
// 5 ft 10. A bare number is in centimetres or inches, as assumed. It rounds
// to the nearest millimetre. The error is an *Error.
func ParseLength(s string, assume System) (Length, error) {
	n, err := parseQuantity(s, lengthUnits, [...]string{"cm", "in"}[assume], `a length; write it like 178 cm, 1.78 m or 5'10"`)
	return Length(n), err
}

// ParseVolume reads a volume: 60, 60 l, 15 gal (US). A bare number is in
// litres in either system, in which the trade states its bags and boxes. It
// rounds to the nearest millilitre. The error is an *Error.
func ParseVolume(s string) (Volume, error) {
	n, err := parseQuantity(s, volumeUnits, "l", "a volume; write it like 60 l")
	return Volume(n), err
}

var (
	quantityPart = regexp.MustCompile(`^([0-9]+(?:[.,][0-9]+)?|[.,][0-9]+)\s*([a-z]+\.?|"|'{1,2})?\s*`)
	typography   = strings.NewReplacer("\u00a0", " ", "\u202f", " ", "\u2009", " ", "′", "'", "’", "'", "‘", "'", "″", `"`, "”", `"`, "“", `"`, "''", `"`)
)

// parseQuantity sums the parts of a text such as "12 st 4 lb". The parts go
// from larger units to smaller ones, each less than one of the unit before,
// and only the last has decimals: 5 ft 14 is a slip, not 6 ft 2.
func parseQuantity(s string, units map[string]unit, assumed, want string) (int64, error) {
	bad := &Error{Code: "quantity", Text: quoted(s) + " is not " + want}
	rest := strings.ToLower(strings.TrimSpace(typography.Replace(s)))
	if rest == "" || len(rest) > 60 {
		return 0, bad
	}
	total, bare, before := new(big.Rat), assumed, (*big.Rat)(nil)
	for rest != "" {
		m := quantityPart.FindStringSubmatch(rest)
		if m == nil || bare == "" {
			return 0, bad
		}
		rest = rest[len(m[0]):]
		name, following := strings.TrimSuffix(m[2], "."), ""
		if name == "" {
			name = bare
		} else {
			following = next[name]
		}
		u, known := units[name]
		number, err := parseDecimal(plainDecimal(m[1]))
		if !known || err != nil || rest != "" && !number.IsInt() {
			return 0, bad
		}
		one := big.NewRat(u.numerator, u.denominator)
		part := number.Mul(number, one)
		if before != nil && (one.Cmp(before) >= 0 || part.Cmp(before) >= 0) {
			return 0, bad
		}
		total.Add(total, part)
		bare, before = following, one
	}
	return roundCount(total, 1, 1)
}

func plainDecimal(s string) string {
	s = strings.Replace(s, ",", ".", 1)
	if strings.HasPrefix(s, ".") {
		s = "0" + s
	}
	return s
}

// moneyForm is whole units, plain or in groups of three digits with one sign
// between them, and cents.
var moneyForm = regexp.MustCompile(`^([0-9]+|[1-9][0-9]{0,2}(?:(?: [0-9]{3})+|(?:\.[0-9]{3})+|(?:,[0-9]{3})+|(?:'[0-9]{3})+))(?:[.,]([0-9]{1,2}))?$`)

// ParseMoney reads an amount: 3500, 3.500,00, 3,500.5, with or without a
// currency sign or code around it. Groups of three digits are thousands; one
// or two digits after the last separator are cents. The error is an *Error.
func ParseMoney(s string) (Money, error) {
	bad := &Error{Code: "money", Text: quoted(s) + " is not an amount; write it like 3500 or 3500.50"}
	text := strings.TrimFunc(typography.Replace(s), func(r rune) bool {
		return unicode.IsLetter(r) || unicode.IsSpace(r) || unicode.Is(unicode.Sc, r)
	})
	m := moneyForm.FindStringSubmatch(text)
	if m == nil {
		return 0, bad
	}
	whole := strings.Map(func(r rune) rune {
		if r < '0' || r > '9' {
			return -1
		}
		return r
	}, m[1])
	n, err := scaledDecimal(fmt.Sprintf("%s.%s", whole, (m[2] + "00")[:2]), 100)
	if err != nil {
		return 0, bad
	}
	return Money(n), nil
}

var percentForm = regexp.MustCompile(`^([0-9]+(?:[.,][0-9]+)?|[.,][0-9]+)\s*(?:%|percent|per cent)?$`)

// ParsePercentage reads a share in percent: 21, 21 %, 8,5 percent. It rounds to
// the nearest hundredth of a percent. The error is an *Error.
func ParsePercentage(s string) (Percentage, error) {
	bad := &Error{Code: "share", Text: quoted(s) + " is not a share; write it like 21 or 8.5 %"}
	m := percentForm.FindStringSubmatch(strings.ToLower(strings.TrimSpace(typography.Replace(s))))
	if m == nil {
		return 0, bad
	}
	n, err := scaledDecimal(plainDecimal(m[1]), 100)
	var large *Error
	switch {
	case errors.As(err, &large) && large.Code == TooLarge:
		return 0, err
	case err != nil:
		return 0, bad
	}
	return Percentage(n), nil
}
