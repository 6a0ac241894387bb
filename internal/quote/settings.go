package quote

import "kinwain/internal/measure"

// Settings are the figures of a quote that a shop may change; what they start
// with is common practice.
type Settings struct {
	Deposit         measure.Share // of the total, to be paid on signing
	Days            int           // a quote is valid, after the day it was made on
	ReservationDays int           // a bike is held, after the day it was reserved on
}

// DefaultSettings returns the figures a shop starts with.
func DefaultSettings() Settings {
	return Settings{Deposit: 20 * measure.Percent, Days: 14, ReservationDays: 7}
}

// The names that the figures are kept by.
const (
	depositName         = "deposit_share" // ten-thousandths
	daysName            = "quote_days"
	reservationDaysName = "reservation_days"
)

// SettingsOf returns the default settings with the named figures replaced,
// each kept within what makes sense: a deposit is no more than the whole, and
// no time runs backwards.
func SettingsOf(figures map[string]int64) Settings {
	s := DefaultSettings()
	if n, ok := figures[depositName]; ok {
		s.Deposit = measure.Share(min(max(n, 0), int64(measure.Whole)))
	}
	if n, ok := figures[daysName]; ok {
		s.Days = days(n)
	}
	if n, ok := figures[reservationDaysName]; ok {
		s.ReservationDays = days(n)
	}
	return s
}

// maxDays is ten years: no promise of a shop is meant to last longer.
const maxDays = 3650

func days(n int64) int { return int(min(max(n, 0), maxDays)) }

// Figures returns the settings by name, as a store keeps them.
func (s Settings) Figures() map[string]int64 {
	return map[string]int64{depositName: int64(s.Deposit), daysName: int64(s.Days), reservationDaysName: int64(s.ReservationDays)}
}
