package measure_test

import (
	"encoding/json"
	"fmt"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"kinwain/internal/measure"
)

// quantity is any of the types that documents write as a number.
type quantity interface {
	~int64
	json.Marshaler
}

// read is json.Unmarshal into a fresh quantity, as a bare count.
func read[Q quantity](text string) (int64, error) {
	var q Q
	err := json.Unmarshal([]byte(text), &q)
	return int64(q), err
}

func write[Q quantity](count int64) (string, error) {
	data, err := json.Marshal(Q(count))
	return string(data), err
}

// documents lists every quantity with the decimals that say its smallest unit.
var documents = []struct {
	name     string
	decimals int
	read     func(string) (int64, error)
	write    func(int64) (string, error)
}{
	{"mass", 3, read[measure.Mass], write[measure.Mass]},
	{"length", 1, read[measure.Length], write[measure.Length]},
	{"volume", 3, read[measure.Volume], write[measure.Volume]},
	{"money", 0, read[measure.Money], write[measure.Money]},
	{"share", 4, read[measure.Share], write[measure.Share]},
	{"percentage", 2, read[measure.Percentage], write[measure.Percentage]},
}

func TestDocumentNumbers(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		got  func(string) (int64, error)
		text string
		want int64
	}{
		{read[measure.Mass], "82", 82000},
		{read[measure.Mass], "24.5", 24500},
		{read[measure.Mass], "0.30000000000000004", 300}, // as other programs write 0.1 + 0.2
		{read[measure.Mass], "82.449999999999999999999999", 82450},
		{read[measure.Mass], "8.2e1", 82000},
		{read[measure.Mass], "8200E-2", 82000},
		{read[measure.Mass], "1e-99", 0},
		{read[measure.Mass], "-0", 0},
		{read[measure.Mass], "0.0005", 1},
		{read[measure.Mass], "0.00049999", 0},
		{read[measure.Mass], "0.0015", 2},
		{read[measure.Mass], "-0.0005", -1},
		{read[measure.Mass], "-0.00049999", 0},
		{read[measure.Mass], "-0.0025", -3},
		{read[measure.Mass], "1000000000", 1_000_000_000_000},
		{read[measure.Mass], "-1000000000", -1_000_000_000_000},
		{read[measure.Length], "178", 1780},
		{read[measure.Length], "151.5", 1515},
		{read[measure.Length], "0.05", 1},
		{read[measure.Length], "-4", -40},
		{read[measure.Volume], "12.345", 12345},
		{read[measure.Money], "189000", 189000},
		{read[measure.Money], "1.89e5", 189000},
		{read[measure.Money], "5.00", 5},
		{read[measure.Share], "0.45", 4500},
		{read[measure.Share], "1", int64(measure.Whole)},
		{read[measure.Share], "0.00005", 1},
		{read[measure.Percentage], "21", int64(21 * measure.Percent)},
		{read[measure.Percentage], "21.5", 2150},
		{read[measure.Percentage], "100", int64(measure.Whole)},
	} {
		if got, err := c.got(c.text); err != nil || got != c.want {
			t.Errorf("%s: %d, %v; want %d", c.text, got, err, c.want)
		}
	}
}

func TestDocumentNumbersRefused(t *testing.T) {
	t.Parallel()
	for _, d := range documents {
		for _, text := range []string{`"82"`, `""`, `"NaN"`, "true", "{}", "[]", "[1]", "1e100", "1e-100", "12345678901234", "0." + strings.Repeat("3", 100)} {
			n, err := d.read(text)
			refused(t, d.name+" "+text, err, "number")
			if n != 0 {
				t.Errorf("%s %s: refused, yet %d", d.name, text, n)
			}
		}
		for _, text := range []string{"1e13", "-1e13", "1e99", "999999999999e99"} {
			n, err := d.read(text)
			refused(t, d.name+" "+text, err, "too_large")
			if n != 0 {
				t.Errorf("%s %s: refused, yet %d", d.name, text, n)
			}
		}
		for _, text := range []string{"NaN", "Infinity", "-Infinity", "+1", ".5", "1.", "01", "0x1", "1,5", ""} {
			if n, err := d.read(text); err == nil {
				t.Errorf("%s: read %q as %d", d.name, text, n)
			}
		}
	}
	for _, text := range []string{"1.5", "0.01", "1e-1"} {
		_, err := read[measure.Money](text)
		refused(t, text+" cents", err, "cents")
	}
}

// TestNullLeavesTheFigure holds the convention of encoding/json.
func TestNullLeavesTheFigure(t *testing.T) {
	t.Parallel()
	m, l, v, c, s, p := measure.Mass(1), measure.Length(2), measure.Volume(3), measure.Money(4), measure.Share(5), measure.Percentage(6)
	for i, target := range []json.Unmarshaler{&m, &l, &v, &c, &s, &p} {
		if err := target.UnmarshalJSON([]byte("null")); err != nil {
			t.Errorf("%T: %v", target, err)
		}
		if got := [...]int64{int64(m), int64(l), int64(v), int64(c), int64(s), int64(p)}[i]; got != int64(i+1) {
			t.Errorf("%T: null made it %d", target, got)
		}
	}
}

// TestValueToDocumentAndBack holds that every count is written exactly.
func TestValueToDocumentAndBack(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(t *rapid.T) {
		n := rapid.Int64Range(-1_000_000_000_000, 1_000_000_000_000).Draw(t, "count")
		for _, d := range documents {
			text, err := d.write(n)
			if back, readErr := d.read(text); err != nil || readErr != nil || back != n {
				t.Errorf("%s: %d became %s and %d, %v, %v", d.name, n, text, back, err, readErr)
			}
		}
	})
}

// TestDocumentToValueAndBack holds that a figure written in the shortest way
// comes back as the same text.
func TestDocumentToValueAndBack(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(t *rapid.T) {
		sign := rapid.SampledFrom([]string{"", "-"}).Draw(t, "sign")
		whole := rapid.IntRange(0, 999_999).Draw(t, "whole")
		digits := rapid.StringMatching("[0-9]{4}").Draw(t, "decimals")
		for _, d := range documents {
			text := fmt.Sprintf("%s%d", sign, whole)
			if rest := strings.TrimRight(digits[:d.decimals], "0"); rest != "" {
				text += "." + rest
			}
			n, err := d.read(text)
			back, writeErr := d.write(n)
			if text == "-0" {
				text = "0"
			}
			if err != nil || writeErr != nil || back != text {
				t.Errorf("%s: %s became %d and %s, %v, %v", d.name, text, n, back, err, writeErr)
			}
		}
	})
}
