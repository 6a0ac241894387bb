package say

import (
	"testing"
	"time"

	"golang.org/x/text/language"
	"golang.org/x/text/message"
	"golang.org/x/text/number"

	"kinwain/internal/measure"
)

// TestMoneyIsWrittenAsNumbersAre compares amounts with what golang.org/x/text
// makes of the Unicode CLDR.
func TestMoneyIsWrittenAsNumbersAre(t *testing.T) {
	for _, l := range Languages {
		s, p := New(l, measure.Metric), message.NewPrinter(language.Make(string(l)))
		for _, cents := range []int64{0, 5, 99, 100, 99999, 100000, 189050, 12345678, 100000000, 123456789012} {
			want := p.Sprint(number.Decimal(float64(cents)/100, number.Scale(2)))
			got := s.Money(measure.Money(cents), "EUR")
			if got != "EUR\u00a0"+want && got != want+"\u00a0EUR" {
				t.Errorf("%s: %d cents are %q, want %q", l, cents, got, want)
			}
		}
		if got := s.Money(-123456, "EUR"); got != s.money("-", "EUR") {
			t.Errorf("%s: %q", l, got)
		}
	}
}

// money writes 1,234.56 with a sign.
func (s *Speaker) money(sign, currency string) string {
	amount := sign + "1" + s.group + "234" + s.decimal + "56"
	return map[Language]string{English: currency + noBreak + amount, Dutch: currency + noBreak + amount, French: amount + noBreak + currency, German: amount + noBreak + currency}[s.Language]
}

func TestEnglishMoneyIsThatOfTheCounter(t *testing.T) {
	for _, m := range []measure.Money{0, -5, 350000, -123456789} {
		if got, want := New(English, measure.Metric).Money(m, "EUR"), m.Show("EUR"); got != want {
			t.Errorf("%q, want %q", got, want)
		}
	}
}

func TestFigures(t *testing.T) {
	de, en, nl := New(German, measure.Metric), New(English, measure.Imperial), New(Dutch, measure.Metric)
	for got, want := range map[string]string{
		de.Mass(82550, measure.Up):                                      "82,6\u00a0kg",
		de.Mass(-82550, measure.Down):                                   "-82,6\u00a0kg",
		de.Length(1780, measure.Nearest):                                "178\u00a0cm",
		en.Mass(82550, measure.Down):                                    "181.9\u00a0lb",
		en.Length(1780, measure.Down):                                   "70\u00a0in",
		de.Percent(2150):                                                "21,5\u00a0%",
		nl.Percent(2150):                                                "21,5%",
		en.Percent(8000):                                                "80\u00a0%",
		de.Decimal("1234.5"):                                            "1234,5",
		de.Say("%v to spare", measure.Volume(1500)):                     "1,5\u00a0l Reserve",
		de.Month(measure.MonthOf(2029, time.March)):                     "März\u00a02029",
		de.Date(measure.Date{Year: 2026, Month: 11, Day: 25}):           "25.\u00a0November\u00a02026",
		nl.Date(measure.Date{Year: 2026, Month: 11}):                    "november\u00a02026",
		New(French, 0).Date(measure.Date{Year: 2027, Month: 1, Day: 1}): "1er\u00a0janvier\u00a02027",
	} {
		if got != want {
			t.Errorf("%q, want %q", got, want)
		}
	}
}
