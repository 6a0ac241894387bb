package say

import (
	"strconv"
	"strings"

	"kinwain/internal/measure"
)

// A figure and its unit stay on one line.
const noBreak = "\u00a0"

// Mass says a mass in the speaker's units.
func (s *Speaker) Mass(m measure.Mass, r measure.Rounding) string {
	return s.figure(m.Show(s.Units, r))
}

// Length says a length in the speaker's units.
func (s *Speaker) Length(l measure.Length, r measure.Rounding) string {
	return s.figure(l.Show(s.Units, r))
}

// figure says a figure with its unit.
func (s *Speaker) figure(shown string) string {
	return strings.ReplaceAll(s.Decimal(shown), " ", noBreak)
}

// Decimal says a number that is written with a point.
func (s *Speaker) Decimal(number string) string { return strings.Replace(number, ".", s.decimal, 1) }

// Money says an amount with the code of its currency (ISO 4217), where the
// language puts that.
func (s *Speaker) Money(m measure.Money, currency string) string {
	digits, sign := m.String(), ""
	if strings.HasPrefix(digits, "-") {
		digits, sign = digits[1:], "-"
	}
	whole, cents, _ := strings.Cut(digits, ".")
	for at := len(whole) - 3; at > 0; at -= 3 {
		whole = whole[:at] + s.group + whole[at:]
	}
	amount := sign + whole + s.decimal + cents
	if s.Language == French || s.Language == German {
		return amount + noBreak + currency
	}
	return currency + noBreak + amount
}

// Percent says a share in percent.
func (s *Speaker) Percent(p measure.Percentage) string {
	shown := s.Decimal(p.String())
	if s.Language == Dutch {
		return strings.ReplaceAll(shown, noBreak, "")
	}
	return shown
}

var months = map[Language][12]string{
	English: {"January", "February", "March", "April", "May", "June", "July", "August", "September", "October", "November", "December"},
	French:  {"janvier", "février", "mars", "avril", "mai", "juin", "juillet", "août", "septembre", "octobre", "novembre", "décembre"},
	German:  {"Januar", "Februar", "März", "April", "Mai", "Juni", "Juli", "August", "September", "Oktober", "November", "Dezember"},
	Dutch:   {"januari", "februari", "maart", "april", "mei", "juni", "juli", "augustus", "september", "oktober", "november", "december"},
}

// Month says a month with its year.
func (s *Speaker) Month(m measure.Month) string {
	return months[s.Language][m.Month()-1] + noBreak + strconv.Itoa(m.Year())
}

// Date says a day of the calendar, or its month where the day is not known.
func (s *Speaker) Date(d measure.Date) string {
	month := s.Month(d.InMonth())
	day := strconv.Itoa(d.Day)
	switch {
	case d.Day == 0:
		return month
	case s.Language == German:
		day += "."
	case s.Language == French && d.Day == 1:
		day += "er"
	}
	return day + noBreak + month
}
