package form

import (
	"fmt"
	"regexp"
	"strings"

	"kinwain/internal/measure"
)

var (
	metresForm = regexp.MustCompile(`^[0-9][.,][0-9]{1,2}$`)
	feetForm   = regexp.MustCompile(`^[3-7][.,][0-9]{1,2} ?(?:ft|feet|foot)?\.?$`)
)

// parseLength reads a length as people say it. A bare number such as 1.80 is
// in metres where centimetres would make no sense; 5.11 for a person may be
// feet and inches or feet with decimals, so that is asked about.
func parseLength(name, s string, system measure.System) (measure.Length, error) {
	person := strings.HasPrefix(name, Riders) || strings.HasPrefix(name, Passengers)
	switch {
	case person && feetForm.MatchString(strings.ToLower(s)):
		return 0, fmt.Errorf("%q may be feet and inches or feet with decimals; write it like 5'11 or 180 cm", s)
	case system == measure.Metric && !strings.HasSuffix(name, "clearance_cm") && metresForm.MatchString(s):
		s += " m"
	}
	return measure.ParseLength(s, system)
}
