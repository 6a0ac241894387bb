package measure_test

import (
	"fmt"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"kinwain/internal/measure"
)

func TestParseMoney(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		want  measure.Money
		texts []string
	}{
		{350000, []string{"3500", "3500.0", "3500,00", "3.500", "3,500", "3 500", "3'500", "3’500", "3\u00a0500", "3\u202f500", "3\u2009500",
			"3.500,00", "3,500.00", "3 500,00", "3'500.00", " 3500 ", "EUR 3500", "3500 EUR", "€3.500", "3500 €", "$ 3,500", "£3,500.00", "eur\u00a03,500.00", "003500"}},
		{350050, []string{"3500.5", "3500,5", "3,500.5", "3.500,50", "3500.50 EUR"}},
		{123456789, []string{"1234567.89", "1,234,567.89", "1.234.567,89", "1 234 567,89", "1'234'567.89"}},
		{5, []string{"0.05", "0,05", "€ 0,05"}},
		{50, []string{"0.5", "0,50"}},
		{0, []string{"0", "0.00", "0 EUR"}},
		{99, []string{"0.99"}},
		{1_000_000_000_000, []string{"10000000000", "10,000,000,000.00"}},
	} {
		for _, text := range c.texts {
			if got, err := measure.ParseMoney(text); err != nil || got != c.want {
				t.Errorf("%q: %d cents, %v; want %d", text, int64(got), err, int64(c.want))
			}
		}
	}
}

// A number of three decimals behind a group or behind a zero is no amount:
// read as thousands it would be a thousand times too much.
func TestParseMoneyRefuses(t *testing.T) {
	t.Parallel()
	for _, text := range []string{"", " ", "EUR", "€", "NaN", "free", "-5", "−5", "EUR -5", "- 5", "(500)", "5-", "12%", "1e5", "5.", ".5", "5,",
		"1.2345", "12.3456", "1,23,456", "1234,567.00", "1,234.567", "1.234,567", "1 234.567", "0.500", "0,500", "000.500", "12.34.56", "3..500", "3.,5",
		"3500.505", "5 ft 10", `5'10"`, "1/2", "5 5", "1234567890123", "10000000000.01", "999,999,999,999", strings.Repeat("9", 100_000), "5\x00", "5\xff"} {
		m, err := measure.ParseMoney(text)
		refused(t, fmt.Sprintf("%.40q", text), err, "money")
		if m != 0 {
			t.Errorf("%.40q: refused, yet %d", text, int64(m))
		}
	}
}

func TestShowMoney(t *testing.T) {
	t.Parallel()
	for m, want := range map[measure.Money]string{
		0: "EUR\u00a00.00", 5: "EUR\u00a00.05", 99999: "EUR\u00a0999.99", 100000: "EUR\u00a01,000.00",
		123456789: "EUR\u00a01,234,567.89", -5: "EUR\u00a0-0.05", -99999: "EUR\u00a0-999.99", -123456789: "EUR\u00a0-1,234,567.89",
	} {
		if got := m.Show("EUR"); got != want {
			t.Errorf("%d cents: %q, want %q", int64(m), got, want)
		}
	}
	if got := measure.Money(-350050).String(); got != "-3500.50" {
		t.Errorf("String: %q", got)
	}
}

func TestMoneyShownParsesBack(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(t *rapid.T) {
		m := measure.Money(rapid.Int64Range(0, 1_000_000_000_000).Draw(t, "cents"))
		for _, text := range []string{m.Show("EUR"), m.String(), strings.NewReplacer(",", ".", ".", ",").Replace(m.Show("CHF"))} {
			if got, err := measure.ParseMoney(text); err != nil || got != m {
				t.Errorf("%q: %d, %v; want %d", text, int64(got), err, int64(m))
			}
		}
	})
}
