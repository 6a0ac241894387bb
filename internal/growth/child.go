package growth

import (
	"time"

	"kinwain/internal/measure"
)

// Child is what is known of a growing passenger.
type Child struct {
	// Born is the day of birth, or the month alone; it must be set. A month
	// alone counts as its last day where a child must be old enough, and as
	// its first where it must not be too old and for growth.
	Born measure.Date
	Sex  Sex
	// Measured is the day of weighing and measuring; it must be set where
	// Weight or Stature is. A month alone counts as its first day.
	Measured measure.Date
	// Weight is the scale's reading; 0 is not weighed.
	Weight measure.Mass
	// Stature is the height without shoes; 0 is not measured.
	Stature measure.Length
	// Taped is the day of Stature, where that was read on another day than
	// Weight.
	Taped measure.Date
}

// MonthsOn returns the age for growth on a day: completed months, and of the
// running month the part that has passed. It rises from day to day, is whole
// on the day of the month of birth (on the last day of a shorter month), and
// is negative before birth.
func (c Child) MonthsOn(day measure.Date) float64 {
	born, day := c.Born.Earliest(), day.Earliest()
	completed := int(day.InMonth() - born.InMonth())
	if day.Before(born.AddMonths(completed)) {
		completed--
	}
	from := dayNumber(born.AddMonths(completed))
	until := dayNumber(born.AddMonths(completed + 1))
	return float64(completed) + float64(dayNumber(day)-from)/float64(until-from)
}

// OldEnough reports whether the child, born on the last day that Born may
// mean, has reached an age in months: on the very day, yes.
func (c Child) OldEnough(months int, on measure.Date) bool {
	return !on.Earliest().Before(c.Born.Latest().AddMonths(months))
}

// NotTooOld reports whether the child, born on the first day that Born may
// mean, has not passed an age in months: on the very day it has not, a day
// later it has.
func (c Child) NotTooOld(months int, on measure.Date) bool {
	return !c.Born.Earliest().AddMonths(months).Before(on.Latest())
}

// dayNumber counts days, so that their difference is the time between dates.
func dayNumber(d measure.Date) int64 {
	const secondsPerDay = 24 * 60 * 60
	return time.Date(d.Year, d.Month, d.Day, 0, 0, 0, 0, time.UTC).Unix() / secondsPerDay
}
