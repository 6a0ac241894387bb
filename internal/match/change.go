package match

import (
	"context"
	"errors"
	"slices"

	"kinwain/internal/fitting"
	"kinwain/internal/measure"
	"kinwain/internal/profile"
)

// Change is the single change that would make a frame fit.
type Change struct {
	Code      string          `json:"change"`
	ToMass    *measure.Mass   `json:"to_kg,omitzero"`
	ToVolume  *measure.Volume `json:"to_litres,omitzero"`
	ToLength  measure.Length  `json:"to_cm,omitzero"`
	ByLength  measure.Length  `json:"by_cm,omitzero"` // every stated length grows by this
	ToCents   measure.Money   `json:"to_cents,omitzero"`
	Part      string          `json:"part,omitzero"` // doorways[0], corners[1]
	Day       measure.Date    `json:"day,omitzero"`
	Rider     string          `json:"rider,omitzero"`
	Passenger string          `json:"passenger,omitzero"`
	Message   Message         `json:"text"`
}

// seeker looks for a change that makes one frame fit one customer. Of most
// changes the riders stay the same, so that the problem of the frame does.
type seeker struct {
	*judge
	ctx    context.Context
	whole  *fitting.Problem // of all that is asked
	rider  bool             // the frame itself rules a rider out
	barred []int            // passengers who may not ride today at all
	placed *bool            // whether any set of add-ons would do if the home were no matter; nil: not asked yet
	err    error
}

// change returns the first change, in the order of seeker.tries, that makes
// the frame fit; nil where no single one does. What it returns was judged
// again with the change made.
func (j *judge) change(ctx context.Context, p *fitting.Problem) (*Change, error) {
	s := &seeker{judge: j, ctx: ctx, whole: p, rider: stops(riderReasons(p.Frame, j.demand, j.settings)), barred: j.barred(j.demand.Day, j.demand.Today)}
	if s.rider && len(j.profile.Riders) == 1 {
		return nil, nil // nothing in the list mends that
	}
	for _, try := range s.tries() {
		if c := try(); c != nil || s.err != nil {
			return c, s.err
		}
	}
	return nil, nil
}

func (s *seeker) tries() []func() *Change {
	return []func() *Change{s.lessCargo, s.fewerLitres, s.lyingFlat, s.widerDoorway, s.widerCorner, s.largerSpace,
		s.largerLift, s.withoutPet, s.waitUntil, s.withoutRider, s.withoutPassenger, s.moreBudget}
}

// fits reports whether the frame fits where the same people, of whom everyone
// may ride, ask for something else.
func (s *seeker) fits(d *fitting.Demand) bool {
	return !s.rider && len(s.barred) == 0 && s.holds(s.whole.Under(d))
}

// holds reports whether any set of add-ons holds, within a firm budget where
// there is one: the one that is chosen, where that need not be the cheapest.
func (s *seeker) holds(p *fitting.Problem) bool {
	return s.ask(func() (bool, error) {
		most := s.spare(p)
		switch {
		case most == nil:
			return p.Feasible(s.ctx, fitting.AllRules)
		case s.profile.Goal() == profile.LeastCost:
			return p.Affordable(s.ctx, fitting.AllRules, *most)
		}
		cost, err := s.chosen(p)
		return err == nil && cost <= *most, err
	})
}

// ask answers one question, none any more after an error. That no set holds is
// none.
func (s *seeker) ask(question func() (bool, error)) bool {
	if s.err == nil && s.ctx.Err() != nil {
		s.err = fitting.ErrUnsettled
	}
	if s.err != nil {
		return false
	}
	yes, err := question()
	if errors.Is(err, fitting.ErrInfeasible) {
		return false
	}
	s.err = err
	return yes && err == nil
}

// spare returns what a firm budget leaves for add-ons; nil where there is none.
func (s *seeker) spare(p *fitting.Problem) *measure.Money {
	budget, limited := s.profile.Budget.Get()
	if !limited || !s.profile.BudgetFirm.Or(false) {
		return nil
	}
	return new(budget - p.Frame.Price)
}

// chosen returns what the set of add-ons costs that is chosen.
func (s *seeker) chosen(p *fitting.Problem) (measure.Money, error) {
	b, err := p.Solve(s.ctx, s.profile.Goal(), fitting.AllRules)
	if err == nil && b.Unproved { // another one may cost less, or be chosen and cost more
		err = fitting.ErrUnsettled
	}
	if err != nil {
		return 0, err
	}
	return b.Price + b.Labour, nil
}

// edge finds the last of the figures from good, which fits, towards bad,
// which does not, that fits; to the smallest unit, by halving. The rules are
// monotone in each figure that it is used for, and the result has been judged.
func edge[Q ~int | ~int64](good, bad Q, fits func(Q) bool) Q {
	for good-bad > 1 || bad-good > 1 {
		middle := bad + (good-bad)/2
		if fits(middle) {
			good = middle
		} else {
			bad = middle
		}
	}
	return good
}

func (s *seeker) lessCargo() *Change {
	cargo := s.demand.Cargo
	with := func(m measure.Mass) bool {
		d := *s.demand
		d.Cargo = m
		return s.fits(&d)
	}
	if cargo == 0 || !with(0) {
		return nil
	}
	to := edge(0, cargo, with)
	c := &Change{Code: "less_cargo", ToMass: &to, Message: say("Fits with %v of cargo instead of %v.", down(to), up(cargo))}
	if to < noMass {
		c.Message = say("Fits without the %v of cargo.", up(cargo))
	}
	return c
}

func (s *seeker) fewerLitres() *Change {
	size := s.demand.CargoSize
	with := func(v measure.Volume) bool {
		d := *s.demand
		d.CargoSize = v
		return s.fits(&d)
	}
	if size == 0 || !with(0) {
		return nil
	}
	to := edge(0, size, with)
	c := &Change{Code: "fewer_litres", ToVolume: &to, Message: say("Fits with %v of cargo instead of %v.", down(to), size)}
	if to < measure.Litre/10 {
		c.Message = say("Fits without the %v of cargo.", size)
	}
	return c
}

func (s *seeker) withoutPet() *Change {
	if s.demand.Pet == 0 || !s.fits(s.demand.Without(fitting.WithoutPet)) {
		return nil
	}
	return &Change{Code: "without_pet", Message: say("Fits without the pet.")}
}

// withoutRider asks a problem of its own: a rider bounds every rating.
func (s *seeker) withoutRider() *Change {
	if len(s.profile.Riders) < 2 || len(s.barred) > 0 {
		return nil
	}
	for i, r := range s.profile.Riders {
		p := *s.profile
		p.Riders = slices.Delete(slices.Clone(p.Riders), i, i+1)
		d := fitting.NewDemand(&p, p.AsOf, s.settings.Settings)
		if p.Check() == nil && !stops(riderReasons(s.whole.Frame, d, s.settings)) && s.holds(s.shelf.Problem(s.whole.Frame, d)) {
			return &Change{Code: "without_rider", Rider: r.Label, Message: say("Fits if rider %v does not ride it.", r.Label)}
		}
	}
	return nil
}

func (s *seeker) withoutPassenger() *Change {
	for i, r := range s.profile.Passengers.Or(nil) {
		if s.rider || slices.ContainsFunc(s.barred, func(k int) bool { return k != i }) {
			continue
		}
		if s.holds(s.whole.Under(s.demand.WithoutPassenger(i))) {
			return &Change{Code: "without_passenger", Passenger: r.Label, Message: say("Fits without %v.", Label{Text: r.Label})}
		}
	}
	return nil
}

// moreBudget names the whole total: no set is chosen by what may be spent, so it
// is the same set however much that is.
func (s *seeker) moreBudget() *Change {
	if s.rider || len(s.barred) > 0 || s.spare(s.whole) == nil {
		return nil
	}
	const most = measure.Money(1_000_000_00)
	total := s.whole.Frame.Price
	holds := s.ask(func() (bool, error) {
		cost, err := s.chosen(s.whole)
		total += cost
		return err == nil && total <= most, err
	})
	if !holds {
		return nil
	}
	return &Change{Code: "more_budget", ToCents: total, Message: say("Fits with a budget of %v.", Cost{total, s.catalogue.Shop.Currency})}
}
