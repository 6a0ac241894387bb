package measure

import (
	"fmt"
	"math/big"
	"regexp"
	"strconv"
	"strings"
)

// decimalForm bounds what is read as a number, so that no text, however long
// or however large its exponent, can cost more than a few machine words. Other
// programs write up to 17 digits: 0.30000000000000004.
var decimalForm = regexp.MustCompile(`^-?[0-9]{1,13}(\.[0-9]{1,30})?([eE][+-]?[0-9]{1,2})?$`)

// maxCount bounds every count of grams, millimetres, millilitres or cents, so
// that sums of many of them stay far inside 64 bits.
const maxCount = 1_000_000_000_000

// parseDecimal reads a plain decimal number exactly.
func parseDecimal(s string) (*big.Rat, error) {
	bad := &Error{Code: "number", Text: quoted(s) + " is not a plain number, such as 82.5"}
	if !decimalForm.MatchString(s) {
		return nil, bad
	}
	r, ok := new(big.Rat).SetString(s)
	if !ok {
		return nil, bad
	}
	return r, nil
}

// roundCount returns r times the given number of small units, rounded to the
// nearest, halves away from zero.
func roundCount(r *big.Rat, numerator, denominator int64) (int64, error) {
	scaled := new(big.Rat).Mul(r, big.NewRat(numerator, denominator))
	twice := new(big.Int).Mul(scaled.Num(), big.NewInt(2))
	if scaled.Sign() < 0 {
		twice.Sub(twice, scaled.Denom())
	} else {
		twice.Add(twice, scaled.Denom())
	}
	twice.Quo(twice, new(big.Int).Mul(scaled.Denom(), big.NewInt(2)))
	if !twice.IsInt64() || twice.Int64() > maxCount || twice.Int64() < -maxCount {
		return 0, &Error{Code: TooLarge, Text: "this figure is far too large"}
	}
	return twice.Int64(), nil
}

// scaledDecimal reads a decimal number of units of which each counts per.
func scaledDecimal(s string, per int64) (int64, error) {
	r, err := parseDecimal(s)
	if err != nil {
		return 0, err
	}
	return roundCount(r, per, 1)
}

// decimal writes count/per with as few decimals as say it exactly; per is a
// power of ten.
func decimal(count, per int64) string {
	s := fixed(count, per)
	if strings.Contains(s, ".") {
		s = strings.TrimRight(strings.TrimRight(s, "0"), ".")
	}
	return s
}

// fixed writes count/per with all the decimals of per, a power of ten.
func fixed(count, per int64) string {
	sign := ""
	if count < 0 {
		sign, count = "-", -count
	}
	whole, rest := count/per, count%per
	if per == 1 {
		return sign + strconv.FormatInt(whole, 10)
	}
	digits := len(strconv.FormatInt(per, 10)) - 1
	return fmt.Sprintf("%s%d.%0*d", sign, whole, digits, rest)
}

func quoted(s string) string {
	if r := []rune(s); len(r) > 40 {
		s = string(r[:40]) + "…"
	}
	return strconv.Quote(s)
}
