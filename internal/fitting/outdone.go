package fitting

import (
	"cmp"
	"slices"

	"kinwain/internal/measure"
	"kinwain/internal/profile"
)

// rivals are two options of which one may stand in for the other wherever that
// is fitted, as far as that is the same for every customer: both are bought, and
// sit in the same spot; and the better one takes up no more of any mount, needs
// and excludes no more, and meets as much.
type rivals struct {
	better, worse int
	larger        bool // the better one may make the bike larger than the worse one does
}

func (p *Problem) findRivals() []rivals {
	var list []rivals
	for i := range p.options {
		for j := range p.options {
			if a, b := &p.options[i], &p.options[j]; i != j && a.spot == b.spot && p.standsIn(a, b) {
				list = append(list, rivals{i, j, a.FrontOverhang > b.FrontOverhang || a.RearOverhang > b.RearOverhang ||
					a.OverallWidth > b.OverallWidth || a.OverallHeight > b.OverallHeight || a.BlocksUpright && !b.BlocksUpright})
			}
		}
	}
	return list
}

// standsIn reports whether one option asks for no more than another, and is as
// good to the rest of the bike.
func (p *Problem) standsIn(a, b *option) bool {
	return a.buyable && b.buyable && a.delivered+b.delivered == 0 &&
		a.DisplacesCargo <= b.DisplacesCargo && a.DisplacesVolume <= b.DisplacesVolume &&
		within(a.needs, b.needs) && within(a.excludes, b.excludes) &&
		!slices.ContainsFunc(a.uses, func(u use) bool {
			return !slices.ContainsFunc(b.uses, func(o use) bool { return o.mount == u.mount && o.count >= u.count })
		}) &&
		!slices.ContainsFunc(b.meets, func(g int) bool { return p.offered[g] == 0 && !slices.Contains(a.meets, g) }) &&
		slices.EqualFunc(a.places, b.places, func(a, b place) bool { return a.spot == b.spot && within(a.needs, b.needs) })
}

// findOutdone finds which options outdo which others in what is looked for. What
// is outdone by something that is crowded out by even one of it is of no use.
//
// Proof: let a set that holds have one of the worse kind, and fewer of the better
// kind than there may be. Put one more of the better kind in place of that one,
// with whom and what that carried. All rules hold as before, and the set costs
// less, or weighs less, whichever comes first; or its codes come first. Where any
// set will do, do so for as long as it can be done: each time it weighs less, or
// costs less, or its codes come first, so that this ends. So what is looked for
// has none of the worse kind, unless it has all that there may be of the better.
// More rules only make more conditions: what held under some of them does after.
func (s *search) findOutdone() {
	s.outdone = s.outdone[:0]
	if s.p.without&outdoing != 0 {
		return
	}
	for _, r := range s.p.rivals {
		switch {
		case !s.useful[r.better] || !s.useful[r.worse] || r.larger && s.homely() || !s.outdoes(r.better, r.worse):
		case s.p.crowds(r.better, r.worse):
			s.useful[r.worse] = false
		default:
			s.outdone = append(s.outdone, r)
		}
	}
}

// crowds reports whether some mount bears no one of an option beside all of a
// better one.
func (p *Problem) crowds(better, worse int) bool {
	a, b := &p.options[better], &p.options[worse]
	return slices.ContainsFunc(a.uses, func(u use) bool {
		return slices.ContainsFunc(b.uses, func(o use) bool { return o.mount == u.mount && a.most*u.count+o.count > p.capacity[u.mount] })
	})
}

func (s *search) outdoes(better, worse int) bool {
	a, b := &s.p.options[better], &s.p.options[worse]
	cost, weight := cmp.Compare(a.Price+a.labour, b.Price+b.labour), cmp.Compare(a.Weight, b.Weight)
	order := cmp.Or(cost, weight, better-worse)
	if s.objective == profile.Lightest || s.first {
		order = cmp.Or(weight, cost, better-worse)
	}
	if order > 0 || s.limited && cost > 0 {
		return false
	}
	for l := range s.p.limits {
		if a.per[l] > b.per[l] && s.aim.rules.enforced(&s.p.limits[l]) {
			return false
		}
	}
	return s.carriesAsMuch(a, b) && s.seatsAsMany(a, b)
}

// carriesAsMuch reports whether an option carries all of the pet and the cargo
// that another one does, within its own rating. Where an axle is rated, or
// combined ratings overlap, what can be written in whole grams may depend on
// the order of the carriers and on what they take; there they have to be alike.
func (s *search) carriesAsMuch(a, b *option) bool {
	d, rules := s.p.Demand, s.aim.rules
	var mass measure.Mass
	var size measure.Volume
	if rules.Has(CargoWeight) {
		mass = d.Cargo
	}
	if rules.Has(CargoVolume) {
		size = d.CargoSize
	}
	pet, cargo := rules.Has(PetPlace) && d.Pet > 0 && b.Pet >= d.Pet, b.Cargo > 0 && (mass > 0 || size > 0)
	if pet && a.Pet < d.Pet || cargo && (a.Cargo == 0 || a.Cargo < min(b.Cargo, mass) || a.CargoVolume < min(b.CargoVolume, size)) {
		return false
	}
	rated := rules.Has(AddOnRating) && (pet || cargo || len(b.places) > 0)
	if rated && a.MaxLoad > 0 && (b.MaxLoad == 0 || a.MaxLoad < b.MaxLoad) {
		return false
	}
	return !cargo || mass == 0 || !s.p.relievable(rules) && !(s.p.overlapping && rules.Has(CombinedRating)) ||
		a.Cargo == b.Cargo && a.CargoVolume == b.CargoVolume && a.MaxLoad == b.MaxLoad && s.p.adjacent(a, b)
}

// adjacent reports whether nothing comes between two options where cargo is
// shared out.
func (p *Problem) adjacent(a, b *option) bool {
	at := func(o *option) int {
		return slices.IndexFunc(p.stowage, func(w stowage) bool { return w.option >= 0 && &p.options[w.option] == o })
	}
	by := at(a) - at(b)
	return by == 1 || by == -1
}

// seatsAsMany reports whether whoever suits a place of an option suits the same
// of another one.
func (s *search) seatsAsMany(a, b *option) bool {
	for i := range a.places {
		for _, stage := range s.stages {
			for k := range stage {
				if st := &stage[k]; st.Present && b.places[i].suits(st, s.aim.rules) && !a.places[i].suits(st, s.aim.rules) {
					return false
				}
			}
		}
	}
	return true
}

// ranked asks for all that there may be of the better of two rivals before any
// of the worse.
func (m *model) ranked(r rivals) {
	if better, worse := m.bought[r.better], m.bought[r.worse]; better >= 0 && worse >= 0 {
		m.relax.Term(worse, float64(m.most(r.better)))
		m.relax.Term(better, -float64(m.most(r.worse)))
		m.relax.AtMost(0)
	}
}
