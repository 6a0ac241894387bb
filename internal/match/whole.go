package match

import (
	"context"
	"errors"
	"slices"

	"kinwain/internal/catalog"
	"kinwain/internal/fitting"
	"kinwain/internal/load"
	"kinwain/internal/measure"
)

// aboard is what is on a bike, with the add-ons and the places that it is in.
type aboard struct {
	items  []load.Item
	fitted []catalog.AddOn
	seated []fitting.Seated
}

// again reports whether an add-on that is fitted is one of those before it.
func (a *aboard) again(i int) bool {
	for k := range i {
		if a.fitted[k].Code == a.fitted[i].Code {
			return true
		}
	}
	return false
}

// Asked is all that was asked for, on a frame that cannot do it all. The load
// sheets and the limits are of this, over the line that it breaks, and not of
// the build that leaves something out: nobody is to read what is spare as if
// everybody rode.
type Asked struct {
	// Build breaks no other rules than those of the reasons: the cheapest set of
	// add-ons, or the lightest where the gross rating is one of them. It is the
	// build of the match where there is no such set.
	Build *fitting.Build
	// NoPlace is the mass of those and of what even this has no place for.
	// It counts in the gross weight, and in no zone and on no axle.
	NoPlace measure.Mass
}

// Offered reports whether the build may be quoted and sent home: it does what
// was asked, with care or without.
func (m *Match) Offered() bool { return m.Fits() }

// whyNot finds what keeps a build from being, and one that breaks nothing else.
// With an error come the reasons that were found before it.
func (j *judge) whyNot(ctx context.Context, p *fitting.Problem, m *Match) ([]Reason, error) {
	c, err := conflictsOf(ctx, p, j.profile.Goal())
	if err != nil && !errors.Is(err, fitting.ErrUnsettled) {
		return nil, err
	}
	m.Asked = &Asked{Build: c.whole}
	reasons, failed := c.reasons(ctx, p)
	if err == nil {
		err = failed
	}
	return reasons, err
}

// weigh writes the load sheets and the limits of all that was asked for.
func (j *judge) weigh(p *fitting.Problem, m *Match) {
	if m.Verdict == NotJudged || len(placeless(p.Demand, m.aboard.items)) == 0 {
		m.Asked = nil // the build carries it all
	}
	if m.Asked != nil {
		m.take(p)
	}
	m.unridden = load.NewSheet(m.Frame, m.aboard.items, load.Rider{}, 0)
	m.Sheets = make([]load.Sheet, 0, len(j.demand.Riders))
	for _, r := range j.demand.Riders {
		m.Sheets = append(m.Sheets, load.NewSheet(m.Frame, m.aboard.items, r, j.settings.CarryShare))
	}
	m.Limits, m.Climbs = m.limits(), j.climbs(m)
}

// Aboard are the seats that the load sheets and the limits are of.
func (m *Match) Aboard() []fitting.Seated {
	if m.Asked != nil {
		return m.aboard.seated
	}
	return m.Seated
}

// take puts all that was asked for aboard.
func (m *Match) take(p *fitting.Problem) {
	a := m.Asked
	if a.Build == nil {
		a.Build = m.Build
	} else {
		m.aboard = aboard{p.Items(a.Build), p.Fitted(a.Build), p.Seated(a.Build)}
	}
	left := placeless(p.Demand, m.aboard.items)
	for _, item := range left {
		a.NoPlace += item.Mass
	}
	m.aboard.items = append(m.aboard.items, left...)
}

// placeless lists who and what is asked for and has no place among items.
func placeless(d *fitting.Demand, items []load.Item) []load.Item {
	var left []load.Item
	add := func(kind load.Kind, label string, mass measure.Mass) {
		if mass > 0 {
			left = append(left, load.Item{Kind: kind, Label: label, Mass: mass, Spot: load.Spot{Zone: load.Nowhere}})
		}
	}
	pet, cargo := d.Pet, d.Cargo
	for _, item := range items {
		switch item.Kind {
		case load.Pet:
			pet -= item.Mass
		case load.Cargo:
			cargo -= item.Mass
		}
	}
	for i, label := range d.Labels {
		if d.Today[i].Present && !slices.ContainsFunc(items, func(item load.Item) bool { return item.Kind == load.Passenger && item.Label == label }) {
			add(load.Passenger, label, d.Today[i].Load)
		}
	}
	add(load.Pet, "", pet)
	add(load.Cargo, "", cargo)
	return left
}
