package fitting

import (
	"slices"

	"kinwain/internal/measure"
)

// HalfYear is how many months a stage of a plan has.
const HalfYear = 6

// Period is a part of the years ahead: some months, and the days in them that
// tell whether a build holds throughout.
type Period struct {
	From, To measure.Month
	Days     []measure.Date
}

// Periods divides so many months, that of the demand included, into half-years.
// The last one is shorter where they do not come out even.
func (d *Demand) Periods(months int) []Period {
	var list []Period
	first := d.Day.InMonth()
	for from := 0; from < months; from += HalfYear {
		list = append(list, d.period(first+measure.Month(from), min(HalfYear, months-from)))
	}
	return list
}

func (d *Demand) period(from measure.Month, months int) Period {
	p := Period{From: from, To: from + measure.Month(months-1)}
	for m := p.From; m <= p.To; m++ {
		p.Days = append(p.Days, d.daysOf(m)...)
	}
	return p
}

// daysOf returns the days of a month on which what a build has to hold is at
// its hardest: its first, when whoever has to be old or heavy enough is at
// their youngest; its last, when everybody is at their heaviest; the day on
// which somebody joins; and the last on which somebody rides along. No day
// comes before that of the demand.
func (d *Demand) daysOf(m measure.Month) []measure.Date {
	first, last := m.First(), m.Last()
	if first.Before(d.Day) {
		first = d.Day
	}
	days := []measure.Date{first, last}
	add := func(day measure.Date) {
		if first.Before(day) && day.Before(last) {
			days = append(days, day)
		}
	}
	passengers := d.Profile.Passengers.Or(nil)
	for i := range passengers {
		p := &passengers[i]
		if joins, ok := p.JoinsOn(d.Profile.AsOf); ok {
			add(joins)
		}
		born, known := p.Born.Get()
		if years := p.LeavesAtYears.Or(0); years > 0 && known && !born.IsZero() {
			if alone := born.Latest().AddMonths(12 * years); alone.Day > 1 {
				alone.Day--
				add(alone)
			}
		}
	}
	slices.SortFunc(days, measure.Date.Compare)
	return slices.Compact(days)
}

// Riding returns the demand of a later day by those alone who ride along on
// it: for whoever joins after that day, no place is kept.
func (d *Demand) Riding(day measure.Date) *Demand {
	then := *d
	then.Day, then.Today = day, d.riding(day)
	then.future = &future{on: d.riding, from: day.InMonth()}
	return &then
}

func (d *Demand) riding(day measure.Date) Stage {
	stage := d.future.on(day)
	passengers := d.Profile.Passengers.Or(nil)
	for i := range stage {
		if joins, ok := passengers[i].JoinsOn(d.Profile.AsOf); ok && day.Before(joins) {
			stage[i] = Standing{}
		}
	}
	return stage
}

// parties returns who rides along on the days of a period, without repeats.
func (d *Demand) parties(p Period) []Stage {
	var list []Stage
	for _, day := range p.Days {
		list = append(list, d.riding(day))
	}
	return slices.CompactFunc(list, func(a, b Stage) bool { return slices.Equal(a, b) })
}
