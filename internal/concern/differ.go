package concern

import (
	"fmt"
	"strings"

	"kinwain/internal/match"
)

// differences says in words which verdict, horizon or total is another one.
// Where a frame does not fit before and after there is nothing to tell, and
// where it fits only once, how long it would last and cost is nothing to compare.
func differences(old, new *match.Match, oldCurrency, newCurrency string) (parts []string, worse bool) {
	if !old.Fits() && !new.Fits() {
		return nil, false
	}
	if old.Verdict != new.Verdict {
		parts = append(parts, verdictWords(old.Verdict)+" → "+verdictWords(new.Verdict))
		worse = !new.Fits() || old.Verdict == match.Fits
	}
	if !old.Fits() || !new.Fits() {
		return parts, worse
	}
	if old.Horizon != nil && new.Horizon != nil && horizonWords(old) != horizonWords(new) {
		parts = append(parts, horizonWords(old)+" → "+strings.TrimPrefix(horizonWords(new), "until "))
		worse = worse || new.Horizon.Months < old.Horizon.Months
	}
	if was, is := old.Total.Show(oldCurrency), new.Total.Show(newCurrency); was != is {
		parts = append(parts, was+" → "+is)
	}
	return parts, worse
}

func verdictWords(v match.Verdict) string { return strings.ReplaceAll(string(v), "_", " ") }

func horizonWords(m *match.Match) string {
	if !m.Horizon.Ends {
		return "for ten years"
	}
	return fmt.Sprintf("until %v %d", m.Horizon.Month.Month(), m.Horizon.Month.Year())
}
