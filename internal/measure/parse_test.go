package measure_test

import (
	"errors"
	"fmt"
	"math/big"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"kinwain/internal/measure"
)

// refused fails the test unless err is a *measure.Error of the code, with a
// sentence for the person.
func refused(t testing.TB, what string, err error, code string) {
	t.Helper()
	var e *measure.Error
	if !errors.As(err, &e) {
		t.Errorf("%s: error %v is no *measure.Error", what, err)
		return
	}
	if e.Code != code {
		t.Errorf("%s: code %q, want %q", what, e.Code, code)
	}
	if e.Text == "" || e.Error() != e.Text || strings.Contains(e.Text, "\n") {
		t.Errorf("%s: %q is not one sentence", what, e.Text)
	}
}

func mass(s string) (int64, error) {
	m, err := measure.ParseMass(s, measure.Metric)
	return int64(m), err
}

func length(s string) (int64, error) {
	l, err := measure.ParseLength(s, measure.Metric)
	return int64(l), err
}

func volume(s string) (int64, error) {
	v, err := measure.ParseVolume(s)
	return int64(v), err
}

// The international yard and pound agreement of 1959 makes a pound
// 0.45359237 kg and an inch 2.54 cm. NIST Handbook 44, appendix C, lists what
// follows from it: an ounce of 28.349523125 g, a foot of 30.48 cm, a US gallon
// of 231 cubic inches or 3.785411784 litres; and a stone is 14 lb or
// 6.35029318 kg (all from memory). A large count of a unit shows all its
// digits.
func TestUnitsAgainstTheirDefinitions(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		parse func(string) (int64, error)
		text  string
		want  int64
	}{
		{mass, "1 lb", 454},
		{mass, "100000 lb", 45_359_237},
		{mass, "1 oz", 28},
		{mass, "1600000 oz", 45_359_237},
		{mass, "1 st", 6350},
		{mass, "100000 st", 635_029_318},
		{mass, "1 kg", 1000},
		{mass, "1 g", 1},
		{length, "1 in", 25},
		{length, "100000 in", 2_540_000},
		{length, "1 ft", 305},
		{length, "100000 ft", 30_480_000},
		{length, "1 mm", 1},
		{length, "1 cm", 10},
		{length, "1 m", 1000},
		{volume, "1 gal", 3785},
		{volume, "1000000 gal", 3_785_411_784},
		{volume, "1 l", 1000},
		{volume, "1 ml", 1},
	} {
		if got, err := c.parse(c.text); err != nil || got != c.want {
			t.Errorf("%s: %d, %v; want %d", c.text, got, err, c.want)
		}
	}
}

// TestNamesOfUnits holds that every name of a unit is the same unit.
func TestNamesOfUnits(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		parse func(string) (int64, error)
		names []string
		want  int64
	}{
		{mass, []string{"kg", "kgs", "kilo", "kilos", "KG."}, 1_000_000_000},
		{mass, []string{"lb", "lbs", "pound", "pounds", "Lbs."}, 453_592_370},
		{mass, []string{"st", "stone", "St."}, 6_350_293_180},
		{mass, []string{"oz", "OZ"}, 28_349_523},
		{length, []string{"in", "inch", "inches", `"`, "″", "”", "''", "in."}, 25_400_000},
		{length, []string{"ft", "foot", "feet", "'", "′", "’", "ft."}, 304_800_000},
		{volume, []string{"l", "litre", "litres", "liter", "liters", "L", ""}, 1_000_000_000},
		{volume, []string{"gal", "gallon", "gallons"}, 3_785_411_784},
	} {
		for _, name := range c.names {
			if got, err := c.parse("1000000" + name); err != nil || got != c.want {
				t.Errorf("a million %s: %d, %v; want %d", name, got, err, c.want)
			}
		}
	}
	if got := [...]int64{int64(measure.Kilogram / measure.Gram), int64(measure.Centimetre / measure.Millimetre), int64(measure.Metre / measure.Centimetre),
		int64(measure.Litre / measure.Millilitre), int64(measure.Whole / measure.Percent)}; got != [...]int64{1000, 10, 100, 1000, 100} {
		t.Errorf("units in each other: %v", got)
	}
	if measure.Gram != 1 || measure.Millimetre != 1 || measure.Millilitre != 1 || measure.Cent != 1 {
		t.Error("a smallest unit is not counted singly")
	}
}

// halfAway rounds to the nearest whole number, halves away from zero, by way
// of a decimal text: another way than that of the package.
func halfAway(r *big.Rat) string { return r.FloatString(0) }

// TestPartsAddUp holds a text of two parts and decimals against exact
// fractions.
func TestPartsAddUp(t *testing.T) {
	t.Parallel()
	grams, millimetres := big.NewRat(45359237, 100000), big.NewRat(254, 10)
	rapid.Check(t, func(t *rapid.T) {
		large, small := rapid.Int64Range(0, 400).Draw(t, "large"), rapid.Int64Range(0, 11).Draw(t, "small")
		tenths := rapid.Int64Range(0, 9).Draw(t, "tenths")
		part := big.NewRat(small*10+tenths, 10)
		sum := func(per int64, one *big.Rat) string {
			total := new(big.Rat).Add(big.NewRat(large*per, 1), part)
			return halfAway(total.Mul(total, one))
		}
		for _, form := range []string{"%d st %d.%d", "%d st %d,%d lb", "%dst%d.%dlb", "%d stone %d.%d pounds"} {
			m, err := measure.ParseMass(fmt.Sprintf(form, large, small, tenths), measure.Metric)
			if want := sum(14, grams); err != nil || fmt.Sprint(int64(m)) != want {
				t.Errorf(form+": %d g, %v; want %s", large, small, tenths, int64(m), err, want)
			}
		}
		for _, form := range []string{"%d'%d.%d\"", "%d ft %d,%d", "%d feet %d.%d inches", "%d′ %d.%d″"} {
			l, err := measure.ParseLength(fmt.Sprintf(form, large, small, tenths), measure.Metric)
			if want := sum(12, millimetres); err != nil || fmt.Sprint(int64(l)) != want {
				t.Errorf(form+": %d mm, %v; want %s", large, small, tenths, int64(l), err, want)
			}
		}
	})
}

func TestParseMass(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		assume measure.System
		want   measure.Mass
		texts  []string
	}{
		{measure.Metric, 82000, []string{"82 kg", "82kg", "82", " 82 ", "82.0", "82,000 kg", "82 KG", "82 kgs", "82 kilos", "82 kg.",
			"82\u00a0kg", "82\u202fkg", "82\u2009kg", "\u00a082 kg\t", "082 kg", "82000 g"}},
		{measure.Metric, 82500, []string{"82.5", "82,5", "82,5 kg", "82.5kg", "82500g"}},
		{measure.Metric, 500, []string{".5", ",5 kg", "0.5 kilo", "500 g"}},
		{measure.Metric, 0, []string{"0", "0 kg", "0,0 lb", "0 st 0"}},
		{measure.Metric, 81647, []string{"180 lb", "180lb", "180 lbs", "180 pounds", "180 LB", "180\u00a0lb", "12 st 12"}},
		{measure.Imperial, 81647, []string{"180", "180.0", "180 lb", "12 st 12 lb"}},
		{measure.Imperial, 82000, []string{"82 kg", "82,0 kg"}},
		{measure.Metric, 78018, []string{"12 st 4", "12st4", "12 st 4 lb", "12 st. 4 lb.", "12 stone 4", "12 stone 4 pounds", "12\u00a0st\u00a04\u00a0lb"}},
		{measure.Metric, 78131, []string{"12 st 4 lb 4 oz", "12 st 4 lb 4", "12 st 4.25", "172 lb 4 oz", "172.25 lb"}},
		{measure.Metric, 1, []string{"0.0005", "0,0005 kg", "0.5 g", "1.4999 g"}},
		{measure.Metric, 2, []string{"0.0015", "1.5 g", "2.4999 g"}},
		{measure.Metric, 22_679_619, []string{"50000 lb"}}, // 22679618.5 g
	} {
		for _, text := range c.texts {
			if got, err := measure.ParseMass(text, c.assume); err != nil || got != c.want {
				t.Errorf("%q: %d g, %v; want %d g", text, int64(got), err, int64(c.want))
			}
		}
	}
}

func TestParseLength(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		assume measure.System
		want   measure.Length
		texts  []string
	}{
		{measure.Metric, 1780, []string{"178", "178 cm", "178cm", "178,0", "178.0 CM", "1.78 m", "1,78m", "1 m 78", "1 m 78 cm",
			"1780 mm", "178\u00a0cm", "1,78\u202fm", "178 cm."}},
		{measure.Metric, 1778, []string{`5'10"`, `5' 10"`, "5'10", "5'10''", "5 ' 10 \"", "5’10”", "5‘10“", "5′10″", "5 ft 10", "5ft10",
			"5 ft 10 in", "5 ft. 10 in.", "5 FT 10 IN", "5 foot 10 inch", "5 feet 10 inches", "5\u00a0ft\u00a010\u00a0in", `70"`, "70 in", "70''"}},
		{measure.Imperial, 1778, []string{"70", "70.0", `5'10"`, "70 in"}},
		{measure.Imperial, 1780, []string{"178 cm", "1,78 m"}},
		{measure.Metric, 1791, []string{`5'10.5"`, "5 ft 10,5", "70.5 in"}}, // 1790.7 mm
		{measure.Metric, 1524, []string{"5 ft", "5'", "5′", "5 feet"}},
		{measure.Metric, 500, []string{".5 m", ",5 m", "50"}},
		{measure.Metric, 64, []string{"2.5 in", "6.35"}}, // 63.5 mm
		{measure.Metric, 0, []string{"0", "0 m"}},
	} {
		for _, text := range c.texts {
			if got, err := measure.ParseLength(text, c.assume); err != nil || got != c.want {
				t.Errorf("%q: %d mm, %v; want %d mm", text, int64(got), err, int64(c.want))
			}
		}
	}
}

func TestParseVolume(t *testing.T) {
	t.Parallel()
	for text, want := range map[string]measure.Volume{
		"60": 60000, "60 l": 60000, "60 L": 60000, "60,5 litres": 60500, "60.5 liter": 60500, "750 ml": 750,
		"15 gal": 56781, "0": 0, "0.0005": 1, "1 gallon": 3785, // 56781.17676 ml
	} {
		if got, err := measure.ParseVolume(text); err != nil || got != want {
			t.Errorf("%q: %d ml, %v; want %d ml", text, int64(got), err, int64(want))
		}
	}
	for _, text := range []string{"", "l", "-1", "60 kg", "60 l 5", "NaN"} {
		v, err := measure.ParseVolume(text)
		refused(t, fmt.Sprintf("%q", text), err, "quantity")
		if v != 0 {
			t.Errorf("%q: refused, yet %d", text, int64(v))
		}
	}
}

// nonsense is what no quantity is written like, in either system.
var nonsense = []string{
	"", " ", "\u00a0", "NaN", "nan kg", "Infinity", "inf", "1e5 kg", "1e5", "1E2", "0x52 kg", "-82 kg", "-82", "−82 kg", "+82", "(82)",
	"kg", "cm", "'", `"`, "eighty", "82 kgg", "82 cm kg", "82 kg kg", "82 cm cm", "82.", "82..5", "82.5.5", "82,5,5", "1,234.5", "1.234,5 lb",
	"82 %", "½ kg", "٨٢", "82\x00", "82\xff kg", "82/2", "82 5", "180 5", "12 34 56", "82 kg 5", "82 cm 5", "82;", "82 kg, 5 lb",
	"12345678901234", strings.Repeat("1", 14) + " kg", strings.Repeat(" 1", 40), strings.Repeat("0", 61),
	"1." + strings.Repeat("3", 40),
}

func TestParseRefusesNonsense(t *testing.T) {
	t.Parallel()
	only := map[string][]string{
		"mass": {"178 cm", `5'10"`, "4 lb 12 st", "4 oz 2 lb", "12 st 4 st", "12 st 14", "12 st 40 lb", "5 lb 16", "12.5 st 4", "12 st 4 3",
			"82 kg 500 g", "12 st -4", "12 st 0 st"},
		"length": {"82 kg", "10 in 5 ft", `10"5'`, "5 ft 5 ft", "5 ft 0 ft", "5'5'", "0 cm 0 cm", `5'12"`, "5 ft 14", "5.5 ft 3", "1.78 m 4", "1 m 178", "5'10'' 5", "5'-10",
			"5 ft 10 4", "6 cm 1 m"},
	}
	for _, system := range []measure.System{measure.Metric, measure.Imperial} {
		for _, text := range append(nonsense, only["mass"]...) {
			m, err := measure.ParseMass(text, system)
			refused(t, fmt.Sprintf("mass %q", text), err, "quantity")
			if m != 0 {
				t.Errorf("mass %q: refused, yet %d", text, int64(m))
			}
		}
		for _, text := range append(nonsense, only["length"]...) {
			l, err := measure.ParseLength(text, system)
			refused(t, fmt.Sprintf("length %q", text), err, "quantity")
			if l != 0 {
				t.Errorf("length %q: refused, yet %d", text, int64(l))
			}
		}
	}
}

// TestErrorNamesTheText holds that the sentence repeats what was written, cut
// where it is long, and says what would be right.
func TestErrorNamesTheText(t *testing.T) {
	t.Parallel()
	_, err := measure.ParseMass("heavy", measure.Metric)
	if got := fmt.Sprint(err); !strings.Contains(got, `"heavy"`) || !strings.Contains(got, "82 kg") {
		t.Errorf("sentence %q", got)
	}
	_, err = measure.ParseLength(strings.Repeat("ü", 40), measure.Metric)
	if got := fmt.Sprint(err); !strings.Contains(got, `"`+strings.Repeat("ü", 40)+`"`) {
		t.Errorf("sentence %q", got)
	}
	_, err = measure.ParseLength(strings.Repeat("ü", 41), measure.Metric)
	if got := fmt.Sprint(err); !strings.Contains(got, `"`+strings.Repeat("ü", 40)+`…"`) {
		t.Errorf("sentence %q", got)
	}
	_, err = measure.ParseLength(strings.Repeat("ü", 100_000), measure.Metric)
	if got := fmt.Sprint(err); !strings.Contains(got, strings.Repeat("ü", 40)+"…") || len(got) > 300 {
		t.Errorf("sentence of %d bytes: %.200q", len(got), got)
	}
}

// TestLongestText holds the bound of 60 bytes.
func TestLongestText(t *testing.T) {
	t.Parallel()
	text := "82" + strings.Repeat(" ", 56) + "kg"
	if m, err := measure.ParseMass(text, measure.Metric); err != nil || m != 82*measure.Kilogram {
		t.Errorf("60 bytes: %v, %v", m, err)
	}
	_, err := measure.ParseMass(strings.Replace(text, " ", "  ", 1), measure.Metric)
	refused(t, "61 bytes", err, "quantity")
}

func TestParseRefusesWhatCannotBeCounted(t *testing.T) {
	t.Parallel()
	// 10¹² g, the greatest count, is 10⁹ kg.
	if m, err := measure.ParseMass("1000000000 kg", measure.Metric); err != nil || m != 1_000_000_000_000 {
		t.Errorf("10⁹ kg: %d g, %v", int64(m), err)
	}
	for _, text := range []string{"1000000001 kg", "1000000000.001 kg", "999999999999 st", "999999999999"} {
		m, err := measure.ParseMass(text, measure.Metric)
		refused(t, text, err, "too_large")
		if m != 0 {
			t.Errorf("%s: refused, yet %d", text, int64(m))
		}
	}
	_, err := measure.ParseLength("1000000001 m", measure.Metric)
	refused(t, "10⁹ m", err, "too_large")
}
