package match

import (
	"sync"

	"kinwain/internal/fitting"
	"kinwain/internal/measure"
)

// waitMonths is how far ahead somebody may be told to wait: ten years.
const waitMonths = 12 * 10

// party is what is the same for all frames of a customer, worked out when the
// first one asks.
type party struct {
	once, wait sync.Once
	reasons    []Reason // about the passengers
	days       *fitting.Days
}

func (p *party) about(d *fitting.Demand) []Reason {
	p.once.Do(func() { p.reasons = passengerReasons(d) })
	return p.reasons
}

// barred lists the passengers of a party who may not ride on a day at all.
func (j *judge) barred(on measure.Date, party fitting.Stage) []int {
	var list []int
	for i := range party {
		c := &j.profile.Passengers.Or(nil)[i]
		judged := fitting.JudgedOn(c, j.profile.AsOf, on)
		if party[i].Present && (infant(c, judged) || helpless(c, judged != on)) {
			list = append(list, i)
		}
	}
	return list
}

// firstDays are the first days of the months to come.
func (j *judge) firstDays() *fitting.Days {
	j.party.wait.Do(func() {
		j.party.days = j.demand.Days(waitMonths, j.firstDay, func(on measure.Date, party fitting.Stage) bool { return len(j.barred(on, party)) == 0 })
	})
	return j.party.days
}

// firstDay is the first day of a month after this one, counted from zero.
func (j *judge) firstDay(i int) measure.Date {
	return (j.profile.AsOf.InMonth() + 1 + measure.Month(i)).First()
}

// fitsOn reports whether the frame fits as seen from a day.
func (s *seeker) fitsOn(day measure.Date) bool {
	d := s.demand.On(day)
	return len(s.judge.barred(day, d.Today)) == 0 && s.holds(s.whole.Under(d))
}

// waitUntil looks for the first month on whose first day the frame fits, and
// in the month before for the day from which it does.
func (s *seeker) waitUntil() *Change {
	if len(s.profile.Passengers.Or(nil)) == 0 || s.rider {
		return nil
	}
	first, err := s.whole.FirstDay(s.ctx, s.firstDays(), s.spare(s.whole), func(i int) (bool, error) { return s.fitsOn(s.firstDay(i)), s.err })
	if s.err == nil {
		s.err = err
	}
	if first < 0 || s.err != nil {
		return nil
	}
	day := s.from(s.firstDay(first).InMonth())
	c := &Change{Code: "wait_until", Day: day, Message: say("Fits from %v on.", day)}
	if day.Day == 1 {
		c.Message = say("Fits from %v.", day.InMonth())
	}
	return c
}

// from returns the day from which the frame fits that does on the first of a
// month: one of the month before, or that first.
func (s *seeker) from(m measure.Month) measure.Date {
	day, last := s.profile.AsOf, (m - 1).Last().Day
	if before := (m - 1).First(); day.Before(before) {
		day = before // which did not fit
	}
	day.Day = edge(last+1, day.Day, func(n int) bool {
		on := day
		on.Day = n
		return s.fitsOn(on)
	})
	if day.Day > last {
		return m.First()
	}
	return day
}
