package form

import (
	"fmt"
	"strings"

	"kinwain/internal/measure"
)

// Understood says in the units of the form what was understood of an answer
// on a day: 5'11 is 180 cm, a birth is an age. It is empty where the answer
// says so itself, as a bare number does, and where it cannot be read.
func (f Form) Understood(name string, today measure.Date) string {
	typed := strings.TrimSpace(f.Get(name))
	switch {
	case typed == "":
	case strings.HasSuffix(name, "_kg"):
		if m, err := measure.ParseMass(typed, f.System()); err == nil {
			return unlessTyped(typed, m.Show(f.System(), measure.Nearest))
		}
	case strings.HasSuffix(name, "_cm"):
		if l, err := parseLength(name, typed, f.System()); err == nil {
			return unlessTyped(typed, l.Show(f.System(), measure.Nearest))
		}
	case strings.HasSuffix(name, ".born"):
		if d, err := Born(typed, today); err == nil {
			return Age(d, today)
		}
	}
	return ""
}

// unlessTyped returns what is shown, unless the same was typed.
func unlessTyped(typed, shown string) string {
	plain := func(s string) string {
		s = strings.NewReplacer(" ", "", ",", ".").Replace(strings.ToLower(s))
		return strings.TrimRight(s, "abcdefghijklmnopqrstuvwxyz")
	}
	if plain(typed) == plain(shown) {
		return ""
	}
	return shown
}

// Waits reports whether somebody is too young to ride, or not born, on a day.
func Waits(born, today measure.Date) bool { return today.Before(born.AddMonths(12).Latest()) }

// Age says how old somebody is on a day: in months until three years, in years
// from then on; or that a birth is ahead.
func Age(born, today measure.Date) string {
	if today.Before(born.Earliest()) {
		return "expected"
	}
	months := int(today.InMonth() - born.InMonth())
	if born.Day > today.Day {
		months--
	}
	switch {
	case months == 1:
		return "1 month"
	case months < 36:
		return fmt.Sprintf("%d months", months)
	}
	return fmt.Sprintf("%d years", months/12)
}
