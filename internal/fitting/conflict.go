package fitting

import (
	"context"
	"errors"
	"slices"

	"kinwain/internal/catalog"
	"kinwain/internal/measure"
	"kinwain/internal/profile"
)

// Feasible reports whether any set of add-ons holds under the rules. The
// error is that of the context, or ErrUnsettled where its time was over.
func (p *Problem) Feasible(ctx context.Context, rules Rules) (bool, error) {
	return p.any(ctx, aim{rules: rules, stages: []Stage{p.Demand.Today}})
}

// Conflict narrows rules that cannot hold together down to a minimal set of
// them: drop any one and the rest can be kept. It drops rules in their order
// for as long as what is left still cannot hold. A load that relieves an axle
// can make a rule droppable only after a later one, so it goes round until
// nothing more can be dropped. The error is that of the context.
func (p *Problem) Conflict(ctx context.Context, rules Rules) (Rules, error) {
	for {
		before := rules
		for one := range before.Each {
			if !p.applies(one) || p.ruledOut(rules&^one) {
				rules &^= one // with what does not apply or without, the same sets hold
				continue
			}
			if fewer := p.likely(rules, one); fewer != 0 {
				if _, err := p.Feasible(ctx, fewer); err != nil {
					return 0, err
				}
			}
			ok, err := p.Feasible(ctx, rules&^one)
			if err != nil {
				return 0, err
			}
			if !ok {
				rules &^= one
			}
		}
		if rules == before || !p.relievable(AllRules) {
			return rules, nil
		}
	}
}

// likely returns fewer rules than are left without one, where it is likely that
// nothing keeps even those: so that one question stands for
// several, of which each would drop one rule more. Whatever the answer is, it is
// known from then on, and the next question is the same. Mostly the last of the
// ratings that are left is in the way alone; and where the weight of the cargo is
// not, its volume is not.
func (p *Problem) likely(rules, one Rules) Rules {
	const ratings = GrossRating | ZoneRating | CombinedRating | AxleRating | FrontLight | AddOnRating
	switch {
	case p.without&refuting != 0:
		return 0
	case one == CargoWeight:
		return rules &^ (CargoWeight | CargoVolume)
	case !ratings.Has(one):
		return 0
	}
	last := one
	for _, of := range p.refuted.all() {
		for rating := range (of & ratings).Each {
			if rules.Has(of) {
				last = max(last, rating)
			}
		}
	}
	if last == one {
		return 0
	}
	return rules &^ (ratings & (last - one)) // all ratings from the one to the last
}

// applies reports whether a rule is about anything that is here.
func (p *Problem) applies(rule Rules) bool {
	d := p.Demand
	switch rule {
	case ZoneRating, CombinedRating, AxleRating, FrontLight:
		for l := range p.limits {
			if rule.enforced(&p.limits[l]) {
				return true
			}
		}
		return false
	case AddOnRating:
		for i := range p.options {
			if p.options[i].MaxLoad > 0 {
				return true
			}
		}
		return false
	case PassengersMax:
		return p.Frame.PassengersMax > 0
	case PlaceMissing, PlaceLimits:
		return slices.ContainsFunc(d.Today, func(st Standing) bool { return st.Present })
	case PetPlace:
		return d.Pet > 0
	case CargoWeight:
		return d.Cargo > 0
	case CargoVolume:
		return d.CargoSize > 0
	case Storage:
		return d.HasHome
	}
	return true
}

// Blame returns the rules of a conflict that a person would name: those that
// forbid something, or the demands themselves where only demands collide.
func (r Rules) Blame() Rules {
	if forbidding := r &^ demands; forbidding != 0 {
		return forbidding
	}
	return r
}

// Breach is how far one rule of a conflict would be broken by the lightest
// build that keeps the others. Whom a place does not suit is the same in every
// build, so that PlaceLimits has none.
type Breach struct {
	Rule  Rules
	About string       // a zone, zones joined by +, an axle, an add-on's code
	Over  measure.Mass // beyond a rating

	// Of PlaceLimits: whom the place does not suit.
	Passenger string
	Standing  Standing
	Place     *catalog.Place

	Build *Build // nil where none keeps the others
}

// Breach describes the breach of one rule of a minimal conflict. The error is
// that of the context.
func (p *Problem) Breach(ctx context.Context, conflict, rule Rules) (Breach, error) {
	br := Breach{Rule: rule}
	if rule == PlaceLimits {
		p.unsuited(&br)
		return br, nil
	}
	b, err := p.Solve(ctx, profile.Lightest, conflict&^rule)
	if errors.Is(err, ErrInfeasible) {
		return br, nil
	}
	if err != nil {
		return br, err
	}
	return p.BreachIn(b, rule), nil
}

// BreachIn describes by how much a build that was found without a rule breaks it.
func (p *Problem) BreachIn(b *Build, rule Rules) Breach {
	br := Breach{Rule: rule, Build: b}
	if !b.holds || rule == PlaceLimits {
		return br
	}
	for l, amount := range p.takes(b) {
		limit := &p.limits[l]
		if amount > limit.Cap && rule.enforced(limit) {
			br.About, br.Over = limit.Name, limit.Over(amount)
			return br
		}
	}
	if rule == AddOnRating {
		p.overborne(&br)
	}
	return br
}

// takes returns what a build takes up of every limit.
func (p *Problem) takes(b *Build) []int64 {
	amounts := p.stateOf(b.counts).load
	put := func(per []int64, mass measure.Mass) {
		for l := 1; l < len(amounts); l++ { // the gross rating is always the first limit
			amounts[l] += per[l] * int64(mass)
		}
	}
	amounts[0] += int64(p.Demand.Pet + p.Demand.Cargo) // wherever they are
	for i := range p.Demand.Today {
		if st := &p.Demand.Today[i]; st.Present {
			amounts[0] += int64(st.Load)
		}
	}
	for _, s := range b.seats {
		put(p.placeOf(s).per, p.Demand.Today[s.passenger].Load)
	}
	if b.pet >= 0 {
		_, per := p.take(nil, p.options[b.pet].spot, 1)
		put(per, p.Demand.Pet)
	}
	for _, s := range b.shares {
		put(s.per, s.mass)
	}
	return amounts
}

// unsuited names the first passenger whom no place on the frame suits, and
// the place that comes nearest. Where everyone has a place that suits but not
// all at once, it names nobody.
func (p *Problem) unsuited(br *Breach) {
	for k := range p.Demand.Today {
		st := &p.Demand.Today[k]
		if !st.Present {
			continue
		}
		nearest, misfit := Breach{}, 0.0
		suited := p.eachPlace(func(code string, pl *place) bool {
			if pl.suits(st, AllRules) {
				return true
			}
			if m := pl.misfit(st); nearest.Place == nil || m < misfit {
				nearest.Place, nearest.About, misfit = pl.Place, code, m
			}
			return false
		})
		if !suited && nearest.Place != nil {
			br.Passenger, br.Standing, br.Place, br.About = p.Demand.Labels[k], *st, nearest.Place, nearest.About
			return
		}
	}
}

// eachPlace visits the frame's own places and those of every add-on, or of all
// that is chosen already, until found reports true.
func (p *Problem) eachPlace(found func(code string, pl *place) bool) bool {
	for i := range p.framed {
		if found("", &p.framed[i]) {
			return true
		}
	}
	for i := range p.options {
		if p.only != nil && p.only.counts[i] == 0 {
			continue
		}
		for j := range p.options[i].places {
			if found(p.options[i].Code, &p.options[i].places[j]) {
				return true
			}
		}
	}
	return false
}

// misfit measures how far a passenger is outside the limits of a place, each
// limit by its own size: it only serves to name the place that comes nearest.
func (pl *place) misfit(st *Standing) float64 {
	outside := func(figure, limit float64) float64 { return max(figure/limit-1, 0) }
	sum := 0.0
	switch {
	case st.Ageless:
		sum += float64(b2i(pl.MinMonths > 0 || pl.MaxMonths > 0))
	case pl.MinMonths > 0:
		sum += outside(float64(pl.MinMonths), float64(max(st.Young, 1)))
	}
	if pl.MinMass > 0 {
		sum += outside(float64(pl.MinMass), float64(max(st.Light, 1)))
	}
	if pl.MaxMonths > 0 && !st.Ageless {
		sum += outside(float64(st.Old), float64(pl.MaxMonths))
	}
	if pl.MaxMass > 0 {
		sum += outside(float64(st.Load), float64(pl.MaxMass))
	}
	if pl.MaxStature > 0 {
		sum += outside(float64(st.Tall), float64(pl.MaxStature))
	}
	return sum
}

// overborne finds the first add-on of a build that carries more than it may.
func (p *Problem) overborne(br *Breach) {
	b := br.Build
	for i, n := range b.counts {
		o := &p.options[i]
		for copied := range n {
			if over := p.carried(b, i, copied) - o.MaxLoad; o.MaxLoad > 0 && over > 0 {
				br.About, br.Over = o.Code, over
				return
			}
		}
	}
}

// carried returns what one copy of an option carries.
func (p *Problem) carried(b *Build, option, copied int) measure.Mass {
	var sum measure.Mass
	for _, s := range b.seats {
		if s.option == option && s.copy == copied {
			sum += p.Demand.Today[s.passenger].Load
		}
	}
	if b.pet == option && b.petCopy == copied {
		sum += p.Demand.Pet
	}
	for _, s := range b.shares {
		if s.option == option && s.copy == copied {
			sum += s.mass
		}
	}
	return sum
}

// Without returns the demand with one kind of thing left out, in the order in
// which a build that cannot be is relaxed.
func (d *Demand) Without(r Relaxation) *Demand {
	less := *d
	switch r {
	case WithoutHome:
		less.HasHome = false
	case WithoutLitres:
		less.CargoSize = 0
	case WithoutCargo:
		less.Cargo = 0
	case WithoutPet:
		less.Pet = 0
	case WithoutPassengers:
		less.Labels, less.Today = nil, nil
		less.future = &future{on: func(measure.Date) Stage { return nil }, from: d.Day.InMonth()}
	}
	return &less
}

// Relaxation is one kind of thing that a build may leave out.
type Relaxation string

// The relaxations, in their order.
const (
	WithoutHome       Relaxation = "home"
	WithoutLitres     Relaxation = "cargo_litres"
	WithoutCargo      Relaxation = "cargo_kg"
	WithoutPet        Relaxation = "pet"
	WithoutPassengers Relaxation = "passengers"
)

// EveryRelaxation lists them all.
var EveryRelaxation = []Relaxation{WithoutHome, WithoutLitres, WithoutCargo, WithoutPet, WithoutPassengers}

// Relaxations lists those that would leave out something the demand asks for.
func (d *Demand) Relaxations() []Relaxation {
	var list []Relaxation
	for _, r := range [...]struct {
		what  Relaxation
		asked bool
	}{
		{WithoutHome, d.HasHome}, {WithoutLitres, d.CargoSize > 0}, {WithoutCargo, d.Cargo > 0},
		{WithoutPet, d.Pet > 0}, {WithoutPassengers, len(d.Today) > 0},
	} {
		if r.asked {
			list = append(list, r.what)
		}
	}
	return list
}

// Under returns the same frame held against another demand of the same
// riders.
func (p *Problem) Under(d *Demand) *Problem {
	other := *p
	other.Demand, other.refuted = d, p.refuted.besides(p.Demand.differing(d))
	other.homes, other.bars = nil, nil
	return &other
}
