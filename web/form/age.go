package form

import (
	"fmt"
	"regexp"
	"strconv"
	"strings"

	"kinwain/internal/measure"
)

var (
	ageForm    = regexp.MustCompile(`^([0-9]{1,3}) ?([\p{L}.]+)$`)
	yearForm   = regexp.MustCompile(`^(?:19|20)[0-9]{2}$`)
	namedMonth = regexp.MustCompile(`^(?:([0-9]{1,2})\.? )?(\p{L}{3,})\.? ((?:19|20)[0-9]{2})$`)
)

// ages are the words that an age is counted in.
var ages = map[string]int{}

// monthNames are the names of the months in every language.
var monthNames = [12]string{
	"january janvier januar januari jänner", "february février fevrier februar februari", "march mars märz maerz maart mrt",
	"april avril", "may mai mei", "june juin juni", "july juillet juli", "august août aout augustus",
	"september septembre sept", "october octobre oktober", "november novembre", "december décembre decembre dezember",
}

func init() {
	for _, w := range strings.Fields("month months mo mois monat monate monaten maand maanden") {
		ages[w] = 1
	}
	for _, w := range strings.Fields("year years yr yrs y yo an ans jahr jahre jahren jaar") {
		ages[w] = 12
	}
}

// Born reads a birth as people say it on a day: what parseBirth reads, an age
// such as 14 months or 4 years, a month by its name in any language of the
// shop, or a year alone. An age and a year mean the middle of the time that
// they may mean.
func Born(s string, today measure.Date) (measure.Date, error) {
	text := strings.ToLower(strings.Join(strings.Fields(s), " "))
	if m := ageForm.FindStringSubmatch(text); m != nil {
		if unit, ok := ages[strings.Trim(m[2], ".")]; ok {
			n, _ := strconv.Atoi(m[1]) // three digits
			return middleOfAge(n, unit, today), nil
		}
	}
	if yearForm.MatchString(text) {
		year, _ := strconv.Atoi(text)
		return middleOfYear(year, today), nil
	}
	if m := namedMonth.FindStringSubmatch(text); m != nil {
		if month := monthNamed(m[2]); month > 0 {
			text = fmt.Sprintf("%s-%02d", m[3], month)
			if m[1] != "" {
				text += fmt.Sprintf("-%02s", m[1])
			}
			return measure.ParseDate(text)
		}
	}
	return parseBirth(s)
}

// middleOfAge returns the month in the middle of the time in which somebody of
// an age in whole units of months was born.
func middleOfAge(n, unit int, today measure.Date) measure.Date {
	month := today.AddMonths(-n * unit)
	if unit > 1 {
		month = month.AddMonths(-unit / 2)
	} else if month.Day < 15 { // half a month earlier
		month = month.AddMonths(-1)
	}
	return measure.Date{Year: month.Year, Month: month.Month}
}

// middleOfYear returns the middle of the part of a year that has passed.
func middleOfYear(year int, today measure.Date) measure.Date {
	last := 12
	if year == today.Year {
		last = int(today.Month)
	}
	month := measure.MonthOf(year, 1) + measure.Month(last/2)
	return measure.Date{Year: month.Year(), Month: month.Month()}
}

// monthNamed returns the number of the month that a word, of three letters at
// least, begins the name of; zero where it is none or may be several.
func monthNamed(word string) int {
	found := 0
	for i, names := range monthNames {
		for name := range strings.FieldsSeq(names) {
			if strings.HasPrefix(name, word) {
				if found > 0 && found != i+1 {
					return 0
				}
				found = i + 1
			}
		}
	}
	return found
}

// Settle writes births that were told as an age or a year as the month that
// they mean on a day, so that they still mean it on a later one. It returns
// the names of the fields that it wrote.
func (f Form) Settle(today measure.Date) []string {
	var wrote []string
	for row := range f.Rows(Passengers) {
		name := At(Passengers, row, "born")
		typed := strings.TrimSpace(f.Get(name))
		if typed == "" {
			continue
		}
		if _, err := parseBirth(typed); err == nil {
			continue
		}
		if d, err := Born(typed, today); err == nil {
			f.Set(name, writtenBirth(d))
			wrote = append(wrote, name)
		}
	}
	return wrote
}

// writtenBirth is a birth as the form asks for it.
func writtenBirth(d measure.Date) string {
	if d.Day > 0 {
		return fmt.Sprintf("%d.%d.%d", d.Day, d.Month, d.Year)
	}
	return fmt.Sprintf("%d.%d", d.Month, d.Year)
}
