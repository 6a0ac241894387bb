package fitting

import (
	"slices"

	"kinwain/internal/measure"
)

// HalfYear is how many months a stage of a plan has.
const HalfYear = 6

// Period is a part of the years ahead: some months, and the days in them that
// tell whether a build holds on all of them.
type Period struct {
	From, To measure.Month
	Days     []measure.Date
}

// halfYears divides so many months, that of the demand included. The last one
// is shorter where they do not come out even.
func (p *Problem) halfYears(months int) []Period {
	var list []Period
	first := p.Demand.Day.InMonth()
	for from := 0; from < months; from += HalfYear {
		list = append(list, p.period(first+measure.Month(from), min(HalfYear, months-from)))
	}
	return list
}

func (p *Problem) period(from measure.Month, months int) Period {
	whole := Period{From: from, To: from + measure.Month(months-1)}
	for m := whole.From; m <= whole.To; m++ {
		whole.Days = append(whole.Days, p.daysOf(m)...)
	}
	return whole
}

// daysOf returns the days of a month, none before that of the demand, on which
// a build has to hold to hold on all of them.
//
// From one day to the next nobody gets lighter. So where a build that holds
// with some people also holds with lighter ones, it is at its hardest on the
// last of all days on which the same people ride along and each of them suits
// the same places: whoever may sit together then may on every one of these. The
// first of them counts as well, so that it is seen who joins when. Where
// somebody may be missed as a weight on an axle, every day counts.
func (p *Problem) daysOf(m measure.Month) []measure.Date {
	first, last := m.First(), m.Last()
	if first.Before(p.Demand.Day) {
		first = p.Demand.Day
	}
	every := !p.heavierIsHarder(AllRules)
	places := p.limitsOfPlaces()
	var days []measure.Date
	var before, now []bool
	for day := first; !last.Before(day); day.Day++ {
		before, now = now, suited(before[:0], p.Demand.riding(day), places)
		same := slices.Equal(before, now)
		if !same && len(days) > 0 && days[len(days)-1].Day < day.Day-1 {
			yesterday := day
			yesterday.Day--
			days = append(days, yesterday)
		}
		if every || !same || day == last {
			days = append(days, day)
		}
	}
	return days
}

// limitsOfPlaces returns one place of all that take the same people.
func (p *Problem) limitsOfPlaces() []*place {
	var list []*place
	seen := map[[5]int64]bool{}
	p.eachPlace(func(_ string, pl *place) bool {
		limits := [...]int64{int64(pl.MinMonths), int64(pl.MaxMonths), int64(pl.MinMass), int64(pl.MaxMass), int64(pl.MaxStature)}
		if !seen[limits] {
			seen[limits] = true
			list = append(list, pl)
		}
		return false
	})
	return list
}

// suited tells of everybody whether they ride along, and which places suit
// them.
func suited(into []bool, stage Stage, places []*place) []bool {
	for i := range stage {
		into = append(into, stage[i].Present)
		for _, pl := range places {
			into = append(into, stage[i].Present && pl.suits(&stage[i], AllRules))
		}
	}
	return into
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
