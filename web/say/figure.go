package say

import (
	"strconv"
	"strings"
	"time"
	"unicode"
	"unicode/utf8"

	"golang.org/x/text/currency"

	"kinwain/internal/measure"
)

// A figure and its unit stay on one line.
const noBreak = "\u00a0"

// Mass says a mass in the speaker's units.
func (s *Speaker) Mass(m measure.Mass, r measure.Rounding) string {
	return s.Figure(m.Show(s.Units, r))
}

// Length says a length in the speaker's units.
func (s *Speaker) Length(l measure.Length, r measure.Rounding) string {
	return s.Figure(l.Show(s.Units, r))
}

// unitWords are the units that have no sign that every language knows, of one
// and of several. An inch is a word in all of them: its sign is one already.
var unitWords = map[Language]map[string][2]string{
	French: {"inches": {"pouce", "pouces"}, "ft": {"pied", "pieds"}},
	German: {"inches": {"Zoll", "Zoll"}, "ft": {"Fuß", "Fuß"}},
	Dutch:  {"inches": {"inch", "inch"}, "ft": {"voet", "voet"}, "km/h": {"km/u", "km/u"}, "mph": {"mijl/u", "mijl/u"}},
}

// Figure says a figure that is written with a point and its unit: 6.2 inches.
func (s *Speaker) Figure(shown string) string {
	number, unit, is := strings.Cut(shown, " ")
	if !is {
		return s.Decimal(number)
	}
	if unit == "inch" {
		unit = "inches"
	}
	words, translated := unitWords[s.Language][unit]
	switch {
	case !translated && unit == "inches":
		_, unit, _ = strings.Cut(shown, " ")
	case translated && s.one(number):
		unit = words[0]
	case translated:
		unit = words[1]
	}
	return s.Decimal(number) + noBreak + unit
}

// one reports whether a number takes the singular: in French up to two, not
// included (CLDR).
func (s *Speaker) one(number string) bool {
	number = strings.TrimPrefix(number, "-")
	if s.Language == French {
		whole, _, _ := strings.Cut(number, ".")
		return whole == "0" || whole == "1"
	}
	return number == "1"
}

// LengthUnit is the unit of lengths in a word or a sign.
func (s *Speaker) LengthUnit() string {
	if words, is := unitWords[s.Language]["inches"]; is && s.Units == measure.Imperial {
		return words[1]
	}
	return strings.TrimLeft(measure.Length(0).Show(s.Units, measure.Nearest), "0 ")
}

// Decimal says a number that is written with a point.
func (s *Speaker) Decimal(number string) string { return strings.Replace(number, ".", s.decimal, 1) }

// Money says an amount with the sign of its currency, or its code (ISO 4217)
// where it has none, in the place that the language gives it (Unicode CLDR).
func (s *Speaker) Money(m measure.Money, code string) string {
	digits, minus := m.String(), ""
	if strings.HasPrefix(digits, "-") {
		digits, minus = digits[1:], "-"
	}
	whole, cents, _ := strings.Cut(digits, ".")
	for at := len(whole) - 3; at > 0; at -= 3 {
		whole = whole[:at] + s.group + whole[at:]
	}
	amount, sign := whole+s.decimal+cents, s.currency(code)
	last, _ := utf8.DecodeLastRuneInString(sign)
	switch {
	case s.Language == French || s.Language == German:
		return minus + amount + noBreak + sign
	case s.Language == Dutch:
		return sign + noBreak + minus + amount
	case unicode.IsLetter(last): // apart from the digits, as words are
		return sign + noBreak + minus + amount
	}
	return minus + sign + amount
}

// currency returns the sign of a currency in the language, or its code where
// there is none.
func (s *Speaker) currency(code string) string {
	unit, err := currency.ParseISO(code)
	if err != nil {
		return code
	}
	return s.printer.Sprint(currency.Symbol(unit))
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

// Sundays first, as time.Weekday counts.
var weekdays = map[Language][7]string{
	English: {"Sunday", "Monday", "Tuesday", "Wednesday", "Thursday", "Friday", "Saturday"},
	French:  {"dimanche", "lundi", "mardi", "mercredi", "jeudi", "vendredi", "samedi"},
	German:  {"Sonntag", "Montag", "Dienstag", "Mittwoch", "Donnerstag", "Freitag", "Samstag"},
	Dutch:   {"zondag", "maandag", "dinsdag", "woensdag", "donderdag", "vrijdag", "zaterdag"},
}

// Times says from when to when, by the clock of the two.
func (s *Speaker) Times(from, to time.Time) string {
	if measure.DateOf(from) == measure.DateOf(to) {
		return s.Say("%v, %v to %v", s.day(from), s.clock(from), s.clock(to))
	}
	return s.Say("%v, %v, to %v, %v", s.day(from), s.clock(from), s.day(to), s.clock(to))
}

// day says a day with its name.
func (s *Speaker) day(t time.Time) string {
	name, date := weekdays[s.Language][t.Weekday()], s.Date(measure.DateOf(t))
	if s.Language == French || s.Language == Dutch {
		return name + " " + date
	}
	return name + ", " + date
}

// clock says a time of day.
func (s *Speaker) clock(t time.Time) string {
	if s.Language == French {
		return t.Format("15" + noBreak + "h" + noBreak + "04")
	}
	return t.Format("15:04")
}
