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
// makes of the Unicode CLDR. The places of the sign are those of its
// standard patterns: ¤#,##0.00 in English, #,##0.00 ¤ in French and German,
// ¤ #,##0.00 in Dutch.
func TestMoneyIsWrittenAsNumbersAre(t *testing.T) {
	signed := map[Language]func(amount string) string{
		English: func(amount string) string { return "€" + amount }, Dutch: func(amount string) string { return "€\u00a0" + amount },
		French: func(amount string) string { return amount + "\u00a0€" }, German: func(amount string) string { return amount + "\u00a0€" },
	}
	for _, l := range Languages {
		s, p := New(l, measure.Metric), message.NewPrinter(language.Make(string(l)))
		for _, cents := range []int64{0, 5, 99, 100, 99999, 100000, 189050, 12345678, 100000000, 123456789012} {
			amount := p.Sprint(number.Decimal(float64(cents)/100, number.Scale(2)))
			if got, want := s.Money(measure.Money(cents), "EUR"), signed[l](amount); got != want {
				t.Errorf("%s: %d cents are %q, want %q", l, cents, got, want)
			}
		}
	}
}

// TestSignsOfCurrencies writes amounts below zero, and currencies of which the
// sign is a word, or that have none.
func TestSignsOfCurrencies(t *testing.T) {
	for _, c := range []struct {
		in             Language
		cents          int64
		currency, want string
	}{
		{English, -123456, "EUR", "-€1,234.56"}, {French, -123456, "EUR", "-1\u00a0234,56\u00a0€"}, {German, -123456, "EUR", "-1.234,56\u00a0€"}, {Dutch, -123456, "EUR", "€\u00a0-1.234,56"},
		{English, 100, "CHF", "CHF\u00a01.00"}, {English, -100, "CHF", "CHF\u00a0-1.00"}, {German, 100, "CHF", "1,00\u00a0CHF"}, {Dutch, 100, "GBP", "£\u00a01,00"},
		{French, 100, "USD", "1,00\u00a0$US"}, {English, 100, "SEK", "SEK\u00a01.00"}, {English, 100, "???", "???1.00"}, {Dutch, 100, "XTS", "XTS\u00a01,00"},
	} {
		if got := New(c.in, measure.Metric).Money(measure.Money(c.cents), c.currency); got != c.want {
			t.Errorf("%s: %q, want %q", c.in, got, c.want)
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
		en.Length(1780, measure.Down):                                   "70\u00a0inches",
		en.Length(254, measure.Down):                                    "10\u00a0inches",
		en.Length(26, measure.Down):                                     "1\u00a0inch",
		New(German, 1).Length(158, measure.Up):                          "6,3\u00a0Zoll",
		New(Dutch, 1).Length(158, measure.Up):                           "6,3\u00a0inch",
		New(French, 1).Length(158, measure.Up):                          "6,3\u00a0pouces",
		New(French, 1).Length(26, measure.Down):                         "1\u00a0pouce",
		New(French, 1).Length(49, measure.Down):                         "1,9\u00a0pouce",
		New(French, 1).Length(-26, measure.Nearest):                     "-1\u00a0pouce",
		New(Dutch, 0).Figure("12.3 km/h"):                               "12,3\u00a0km/u",
		New(French, 1).Figure("6.1 ft"):                                 "6,1\u00a0pieds",
		New(German, 1).Figure("6.1 ft"):                                 "6,1\u00a0Fuß",
		New(German, 1).LengthUnit():                                     "Zoll",
		New(German, 0).LengthUnit():                                     "cm",
		en.LengthUnit():                                                 "inches",
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

func TestTimes(t *testing.T) {
	from := time.Date(2026, 11, 25, 9, 5, 0, 0, time.UTC)
	for l, want := range map[Language][2]string{
		English: {"Wednesday, 25\u00a0November\u00a02026, 09:05 to 09:35", "Wednesday, 25\u00a0November\u00a02026, 09:05, to Thursday, 26\u00a0November\u00a02026, 09:05"},
		French:  {"mercredi 25\u00a0novembre\u00a02026, de 09\u00a0h\u00a005 à 09\u00a0h\u00a035", "du mercredi 25\u00a0novembre\u00a02026, 09\u00a0h\u00a005, au jeudi 26\u00a0novembre\u00a02026, 09\u00a0h\u00a005"},
		German:  {"Mittwoch, 25.\u00a0November\u00a02026, 09:05 bis 09:35 Uhr", "Mittwoch, 25.\u00a0November\u00a02026, 09:05 Uhr, bis Donnerstag, 26.\u00a0November\u00a02026, 09:05 Uhr"},
		Dutch:   {"woensdag 25\u00a0november\u00a02026, 09:05 tot 09:35 uur", "woensdag 25\u00a0november\u00a02026, 09:05 uur, tot donderdag 26\u00a0november\u00a02026, 09:05 uur"},
	} {
		s := New(l, measure.Metric)
		for i, to := range []time.Time{from.Add(30 * time.Minute), from.AddDate(0, 0, 1)} {
			if got := s.Times(from, to); got != want[i] {
				t.Errorf("%s: %q, want %q", l, got, want[i])
			}
		}
	}
}
