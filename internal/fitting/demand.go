// Package fitting chooses the add-ons of a frame and seats everyone, exactly.
//
// A Demand is what a customer profile asks for, day by day as the children
// grow. A Problem is one frame with the add-ons that fit it, held against one
// Demand. Its one question is: is this set of add-ons feasible on that day?
// Choice, horizon and conflict all ask it.
package fitting

import (
	"slices"
	"sync"

	"kinwain/internal/growth"
	"kinwain/internal/load"
	"kinwain/internal/measure"
	"kinwain/internal/parking"
	"kinwain/internal/profile"
)

// Settings are the shop's allowances and percentiles.
type Settings struct {
	load.Allowances
	Clothing measure.Mass  // helmet, shoes and clothes of a passenger
	Planning measure.Share // percentile of an unweighed child, for loads and maxima
	Minimum  measure.Share // percentile of an unweighed child, where a minimum must be reached
}

// DefaultSettings returns the figures a shop starts with (common practice, no
// published source).
func DefaultSettings() Settings {
	return Settings{
		Allowances: load.Allowances{Undressed: 4 * measure.Kilogram, Stated: 6 * measure.Kilogram},
		Clothing:   1 * measure.Kilogram,
		Planning:   75 * measure.Percent,
		Minimum:    25 * measure.Percent,
	}
}

// HorizonMonths is how far ahead a build is judged: ten years.
const HorizonMonths = 120

// Standing is what one passenger is on one day.
type Standing struct {
	Present   bool           // rides along on that day
	Load      measure.Mass   // heavy side, with clothing: for loads and maxima
	Light     measure.Mass   // light side, without clothing: for minima
	Tall      measure.Length // zero: not known
	Young     int            // the age in whole months that has surely been reached
	Old       int            // the least age in whole months that has surely not been passed
	Estimated bool           // the weight is not from a scale
	Beyond    bool           // outside the growth reference, whose end value is held
	Ageless   bool           // the birth month is not known: no place with limits of age, and no growth

	relief    measure.Mass // of several days, the greatest load; see easier
	sometimes bool         // of several days, not on all of them
}

// Stage is all passengers on one day, in profile order.
type Stage []Standing

// Demand is what a profile asks of a build.
type Demand struct {
	Profile   *profile.Profile
	Riders    []load.Rider // whose weight is known
	Labels    []string     // of the passengers
	Pet       measure.Mass
	Cargo     measure.Mass
	CargoSize measure.Volume
	Home      parking.Home
	HasHome   bool

	Today Stage
	Day   measure.Date

	future *future
}

// future is the party on the days to come. It is worked out when it is first
// asked for: most questions are about today.
type future struct {
	once sync.Once
	on   func(measure.Date) Stage
	from measure.Month
	// fast and slow are the same where the children grow so; nil where that is
	// not asked for.
	fast, slow *future

	months []Stage // on the last day of every month, from is the first
	// spans is a binary tree over the months: node 1 spans all of them, and
	// nodes 2n and 2n+1 halve node n. Each is the worst of its months.
	spans []Stage
}

// Months returns the party on the last day of the month of Day and of each of
// the HorizonMonths after it.
func (d *Demand) Months() []Stage { return d.ahead().months }

func (d *Demand) ahead() *future {
	f := d.future
	f.once.Do(func() {
		for m := range measure.Month(HorizonMonths + 1) {
			f.months = append(f.months, f.on((f.from + m).Last()))
		}
		f.span()
	})
	return f
}

// spanMonths is the least power of two that holds all months of a horizon.
const spanMonths = 128

// NewDemand resolves a profile as seen from a day, which is the profile's own
// or a later one.
func NewDemand(p *profile.Profile, day measure.Date, s Settings) *Demand {
	d := &Demand{
		Profile: p, Day: day,
		Riders: load.Riders(p, s.Allowances),
		Pet:    p.Pet.Or(0), Cargo: p.Cargo.Or(0), CargoSize: p.CargoSize.Or(0),
	}
	d.Home, d.HasHome = HomeOf(p), p.Home.IsGiven()
	var growing []*passenger
	for i := range p.Passengers.Or(nil) {
		growing = append(growing, newPassenger(&p.Passengers.Or(nil)[i], p.AsOf, s))
		d.Labels = append(d.Labels, p.Passengers.Or(nil)[i].Label)
	}
	d.future = futureOf(growing, day)
	d.Today = d.future.on(day)
	d.future.fast, d.future.slow = futureOf(paced(growing, s, fast), day), futureOf(paced(growing, s, slow), day)
	return d
}

func futureOf(growing []*passenger, day measure.Date) *future {
	return &future{from: day.InMonth(), on: func(on measure.Date) Stage {
		st := make(Stage, len(growing))
		for i, g := range growing {
			st[i] = g.on(on)
		}
		return st
	}}
}

func paced(growing []*passenger, s Settings, with pace) []*passenger {
	list := make([]*passenger, len(growing))
	for i, g := range growing {
		list[i] = g.at(s, with)
	}
	return list
}

// Ageless reports whether somebody rides along whose birth month is not known.
// How long a build lasts is then not known either.
func (d *Demand) Ageless() bool {
	return slices.ContainsFunc(d.Today, func(st Standing) bool { return st.Ageless })
}

// span sets up the tree of spans.
func (f *future) span() {
	f.spans = make([]Stage, 2*spanMonths)
	for m := range spanMonths {
		f.spans[spanMonths+m] = f.months[min(m, HorizonMonths)]
	}
	for node := spanMonths - 1; node > 0; node-- {
		f.spans[node] = worse(f.spans[2*node], f.spans[2*node+1])
	}
}

// worse returns a stage that is at least as hard to seat as both: whoever is
// on one is on it, with the greater of weights, statures and ages where a
// limit is from above and the smaller where it is from below.
func worse(a, b Stage) Stage {
	w := make(Stage, len(a))
	for i := range a {
		switch {
		case !a[i].Present:
			w[i] = b[i]
		case !b[i].Present:
			w[i] = a[i]
		default:
			w[i] = Standing{Present: true, Load: max(a[i].Load, b[i].Load), Light: min(a[i].Light, b[i].Light),
				Tall: max(a[i].Tall, b[i].Tall), Young: min(a[i].Young, b[i].Young), Old: max(a[i].Old, b[i].Old)}
		}
	}
	return w
}

// easier returns a stage that is no harder to seat than either: whoever is on
// both is on it, with the smaller of weights, statures and ages where a limit is
// from above and the greater where it is from below, or where a load relieves.
// Where no set holds for it, in fractions of a gram either, none holds for any of
// the stages that it was made of.
func easier(a, b Stage) Stage {
	e := make(Stage, len(a))
	for i := range a {
		if !a[i].Present || !b[i].Present {
			e[i].sometimes = a[i].Present || b[i].Present || a[i].sometimes || b[i].sometimes
			continue
		}
		e[i] = Standing{Present: true, Load: min(a[i].Load, b[i].Load), Light: max(a[i].Light, b[i].Light),
			Tall: min(a[i].Tall, b[i].Tall), Young: max(a[i].Young, b[i].Young), Old: min(a[i].Old, b[i].Old),
			relief: max(a[i].Load, b[i].Load, a[i].relief, b[i].relief)}
	}
	return e
}

// takes returns what somebody takes up of a limit of which a gram takes up per.
func (st *Standing) takes(per int64) int64 {
	if per < 0 {
		return per * int64(max(st.relief, st.Load))
	}
	return per * int64(st.Load)
}

// HomeOf returns the home of a profile; what is not known or does not apply
// does not constrain.
func HomeOf(p *profile.Profile) parking.Home {
	h := p.Home.Or(profile.Home{})
	home := parking.Home{
		Space:            parking.Box{Length: h.Length.Or(0), Width: h.Width.Or(0), Height: h.Height.Or(0)},
		Clearance:        h.Clearance.Or(0),
		MustStandUpright: h.MustStandUpright.Or(false),
	}
	for _, d := range h.Doorways.Or(nil) {
		home.Doorways = append(home.Doorways, parking.Doorway{Width: d.Width.Or(0), Height: d.Height.Or(0)})
	}
	for _, c := range h.Corners.Or(nil) {
		home.Corners = append(home.Corners, parking.Corner{In: c.In.Or(0), Out: c.Out.Or(0)})
	}
	if l, ok := h.Lift.Get(); ok {
		home.Lift = &parking.Lift{Length: l.Length.Or(0), Width: l.Width.Or(0), Height: l.Height.Or(0), Door: l.Door.Or(0)}
	}
	return home
}

// passenger foretells one passenger of a profile.
type passenger struct {
	*profile.Passenger
	asOf     measure.Date // of the profile
	child    growth.Child
	plan     growth.Projection
	clothing measure.Mass
}

func newPassenger(p *profile.Passenger, asOf measure.Date, s Settings) *passenger {
	g := &passenger{Passenger: p, asOf: asOf, clothing: s.Clothing}
	born, ok := p.Born.Get()
	if !ok {
		return g
	}
	weighed, taped := p.ReadOn(asOf)
	g.child = growth.Child{Born: born, Sex: ReferenceOf(p), Measured: weighed, Weight: p.Weight.Or(0), Taped: taped, Stature: p.Stature.Or(0)}
	g.plan = growth.Plan(g.child, growth.Z(s.Planning), growth.Z(s.Minimum))
	return g
}

// Reckoned returns what a passenger is reckoned to weigh on a day, without
// clothes, and false where nothing says so.
func Reckoned(p *profile.Passenger, day measure.Date, s Settings) (measure.Mass, bool) {
	g := newPassenger(p, day, s)
	if g.child.Born.IsZero() || day.Before(g.child.Born.Earliest()) || g.child.MonthsOn(day) > growthEnds {
		return g.Weight.Get()
	}
	return g.plan.On(day).Heavy, true
}

// growthEnds is the age in months at which the growth reference ends; nobody
// older is estimated.
const growthEnds = 204.5

// ReferenceOf returns the growth reference of a passenger.
func ReferenceOf(p *profile.Passenger) growth.Sex {
	switch p.Sex.Or(profile.Unstated) {
	case profile.Girl:
		return growth.Girl
	case profile.Boy:
		return growth.Boy
	}
	return growth.Unstated
}

// JudgedOn returns the day on which a passenger of a profile is judged for a
// build of the given day: somebody who joins later is judged as on the very
// day on which they join, so that a place and the load are kept.
func JudgedOn(p *profile.Passenger, asOf, on measure.Date) measure.Date {
	if joins, ok := p.JoinsOn(asOf); ok && on.Before(joins) {
		return joins
	}
	return on
}

func (g *passenger) on(day measure.Date) Standing {
	if g.child.Born.IsZero() {
		return Standing{Present: true, Load: g.Weight.Or(0) + g.clothing, Light: g.Weight.Or(0),
			Tall: g.Stature.Or(0), Young: 0, Old: maxAge, Ageless: true}
	}
	if years := g.LeavesAtYears.Or(0); years > 0 && !day.Before(g.child.Born.Latest().AddMonths(12*years)) {
		return Standing{}
	}
	day = JudgedOn(g.Passenger, g.asOf, day)
	state := g.plan.On(day)
	st := Standing{Present: true, Load: state.Heavy + g.clothing, Light: state.Light, Tall: state.Tall,
		Estimated: state.Estimated, Beyond: state.Beyond}
	st.Young = int(day.InMonth()-g.child.Born.InMonth()) + 1
	for st.Young > 0 && !g.child.OldEnough(st.Young, day) {
		st.Young--
	}
	st.Old = st.Young
	for !g.child.NotTooOld(st.Old, day) {
		st.Old++
	}
	return st
}

// maxAge is the age in months that somebody whose age is not known has surely
// not passed.
const maxAge = 1 << 20
