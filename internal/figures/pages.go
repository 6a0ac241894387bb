package figures

// The figures that only the pages use have their defaults here.

// FitSummaryDays is for how many days the link of a fit summary opens it.
const FitSummaryDays = "fit_summary_days"

const defaultSummaryDays = 60

// SummaryDays returns for how many days a link opens a fit summary, 1 or more,
// out of the figures that the shop has changed.
func SummaryDays(changed map[string]int64) int {
	if days, ok := changed[FitSummaryDays]; ok && days > 0 {
		return int(days)
	}
	return defaultSummaryDays
}

// ForgetDays is after how many days without use a consultation is erased, and
// PapersYears for how many years a quote stays that was accepted.
const (
	ForgetDays  = "forget_days"
	PapersYears = "papers_years"
)

const (
	defaultForgetDays  = 90
	defaultPapersYears = 7
)

// Retention returns for how many days a consultation stays that nobody uses, 1
// or more, and for how many years a quote that was accepted, out of the figures
// that the shop has changed.
func Retention(changed map[string]int64) (days, years int) {
	days, years = defaultForgetDays, defaultPapersYears
	if d, ok := changed[ForgetDays]; ok && d > 0 {
		days = int(d)
	}
	if y, ok := changed[PapersYears]; ok && y >= 0 {
		years = int(y)
	}
	return days, years
}

// OwnDays is of how many days the consultations say what the shop should own,
// and OwnLeast how many they have to be.
const (
	OwnDays  = "own_days"
	OwnLeast = "own_least"
)

const (
	defaultOwnDays  = 180
	defaultOwnLeast = 5
)

// Own returns of how many days the consultations count for what the shop should
// own, and how few of them say nothing, out of the figures that the shop has
// changed.
func Own(changed map[string]int64) (days, least int) {
	days, least = defaultOwnDays, defaultOwnLeast
	if d, ok := changed[OwnDays]; ok && d > 0 {
		days = int(d)
	}
	if n, ok := changed[OwnLeast]; ok && n > 0 {
		least = int(n)
	}
	return days, least
}
