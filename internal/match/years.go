package match

import (
	"slices"

	"kinwain/internal/fitting"
	"kinwain/internal/measure"
	"kinwain/internal/profile"
)

// YearsUnasked is for how many years it is worth looking ahead where nobody
// asked for any.
const YearsUnasked = 4

// Years is what a bike carries month by month: as its stages have it where
// those were asked for, else as the one build that it has.
type Years struct {
	Gross  measure.Mass // the rating
	Riders []string     // whose weight is known
	Months []MonthAhead
	Marks  []Mark // by day
}

// Shown returns the marks in their order, but for the stage that begins today,
// and an end that is that of all months.
func (y *Years) Shown() []Mark {
	last := y.Months[len(y.Months)-1].Month.Last()
	return slices.DeleteFunc(slices.Clone(y.Marks), func(m Mark) bool {
		return m.Kind == StageBegins && m.Stage == 0 || m.Kind == ServedUntil && m.On == last
	})
}

// MonthAhead is everything on its wheels on the last day of a month, under
// each of the riders.
type MonthAhead struct {
	Month measure.Month
	Loads []Range
}

// Range is a mass as it is planned with, and as it is where the children grow
// slowly and fast.
type Range struct{ Slow, Planned, Fast measure.Mass }

// Mark is something that happens on a day of the years ahead.
type Mark struct {
	Kind      MarkKind
	On        measure.Date
	Stage     int    // of StageBegins, from 0
	Passenger string // of the others but ServedUntil
	AddOn     string // of Outgrown: whose place it is, empty for the frame's own
	Limit     string // of Outgrown: place_weight, place_age or place_stature
}

// MarkKind says what happens.
type MarkKind string

// The marks.
const (
	StageBegins MarkKind = "stage"
	Joins       MarkKind = "joins"    // rides along from this day
	Leaves      MarkKind = "leaves"   // rides alone from this day
	Outgrown    MarkKind = "outgrown" // at the end of this day's month the place is too small, counted with the planning percentile
	ServedUntil MarkKind = "until"    // the last day of the last month that the bike carries everyone
)

// YearsAhead returns what a frame that fits carries in so many months, that of
// the profile included, which the match and the settings must be of. Beyond the
// last stage, or the horizon, the last build goes on, so that it can be seen
// what is in the way. It is nil where the frame does not fit or the age of
// somebody is not known.
func YearsAhead(m *Match, p *profile.Profile, s Settings, months int) *Years {
	d := fitting.NewDemand(p.Known(), p.AsOf, s.Settings)
	if !m.Fits() || d.Ageless() || months <= 0 {
		return nil
	}
	a := &aheadOf{Match: m, demand: d, first: p.AsOf.InMonth(), months: min(months, fitting.HorizonMonths)}
	a.stages = []Stage{{From: a.first, To: a.first + measure.Month(months-1), Build: m.Build, Seated: m.Seated}}
	if m.Stages != nil {
		a.stages = m.Stages.List
	}
	y := &Years{Gross: m.Frame.GrossRating}
	for _, r := range d.Riders {
		y.Riders = append(y.Riders, r.Label)
	}
	for n := range a.months {
		y.Months = append(y.Months, a.month(a.first+measure.Month(n)))
	}
	y.Marks = a.marks()
	return y
}

type aheadOf struct {
	*Match
	demand *fitting.Demand
	stages []Stage
	first  measure.Month
	months int
}

// last is the last day that is looked at.
func (a *aheadOf) last() measure.Date { return (a.first + measure.Month(a.months-1)).Last() }

func (a *aheadOf) month(month measure.Month) MonthAhead {
	out := MonthAhead{Month: month}
	build := a.stages[0].Build
	for i := range a.stages {
		if a.stages[i].From <= month {
			build = a.stages[i].Build
		}
	}
	rides := func(d *fitting.Demand) (sum measure.Mass) {
		for _, st := range d.Riding(month.Last()).Today {
			if st.Present {
				sum += st.Load
			}
		}
		return sum
	}
	planned, fast, slow := rides(a.demand), rides(a.demand.Fast()), rides(a.demand.Slow())
	bike := a.Frame.BareWeight + build.Weight + a.demand.Pet + a.demand.Cargo
	for _, r := range a.demand.Riders {
		all := bike + r.Riding
		out.Loads = append(out.Loads, Range{Slow: all + min(slow, planned), Planned: all + planned, Fast: all + max(fast, planned)})
	}
	return out
}

func (a *aheadOf) marks() []Mark {
	var list []Mark
	for i := range a.stages {
		on := a.stages[i].From.First()
		if i == 0 {
			on = a.demand.Day
		}
		list = append(list, Mark{Kind: StageBegins, On: on, Stage: i})
	}
	switch {
	case a.Match.Stages != nil:
		list = append(list, Mark{Kind: ServedUntil, On: a.Match.Stages.Until.Last()})
	case a.Horizon != nil && a.Horizon.Ends && a.Horizon.Months > 0:
		list = append(list, Mark{Kind: ServedUntil, On: a.Horizon.Month.Last()})
	}
	list = append(list, Comings(a.demand.Profile)...)
	list = append(list, a.outgrown()...)
	list = slices.DeleteFunc(list, func(m Mark) bool { return m.On.Before(a.demand.Day) || a.last().Before(m.On) })
	slices.SortStableFunc(list, func(x, y Mark) int { return x.On.Compare(y.On) })
	return list
}

// Comings tells who joins after the day of the profile, and who leaves for a
// bike of their own, in the order of the passengers.
func Comings(p *profile.Profile) []Mark {
	var list []Mark
	for _, one := range p.Passengers.Or(nil) {
		if joins, ok := one.JoinsOn(p.AsOf); ok && p.AsOf.Before(joins) {
			list = append(list, Mark{Kind: Joins, On: joins, Passenger: one.Label})
		}
		born, known := one.Born.Get()
		if years := one.LeavesAtYears.Or(0); years > 0 && known {
			list = append(list, Mark{Kind: Leaves, On: born.Latest().AddMonths(12 * years), Passenger: one.Label})
		}
	}
	return list
}

// outgrown tells, of every place that somebody has in a stage, the end of the
// first month from then on in which it is too small for them.
func (a *aheadOf) outgrown() []Mark {
	var list []Mark
	seen := map[string]bool{}
	add := func(from measure.Month, s fitting.Seated) {
		name := s.Passenger + "\x00" + s.AddOn + "\x00" + string(rune(s.Seat.Place))
		if seen[name] {
			return
		}
		seen[name] = true
		for month := from; !a.last().Before(month.Last()); month++ {
			st := a.demand.Riding(month.Last()).Today[s.Index]
			limit := ""
			switch pl := s.Place; {
			case !st.Present:
			case pl.MaxMass > 0 && st.Load > pl.MaxMass:
				limit = "place_weight"
			case pl.MaxMonths > 0 && st.Old > pl.MaxMonths:
				limit = "place_age"
			case pl.MaxStature > 0 && st.Tall > pl.MaxStature:
				limit = "place_stature"
			}
			if limit != "" {
				list = append(list, Mark{Kind: Outgrown, On: month.Last(), Passenger: s.Passenger, AddOn: s.AddOn, Limit: limit})
				return
			}
		}
	}
	for i := range a.stages {
		for _, s := range a.stages[i].Seated {
			add(a.stages[i].From, s)
		}
		for _, s := range a.stages[i].Joining {
			add(s.On.InMonth(), s.Seated)
		}
	}
	return list
}
