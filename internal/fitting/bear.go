package fitting

import (
	"cmp"
	"math"
	"slices"

	"kinwain/internal/load"
)

// carriersBear holds what an add-on carries to its own rating.
func (b *block) carriersBear() {
	if !b.rules.Has(AddOnRating) {
		return
	}
	b.about(AddOnRating)
	for i := range b.p.options {
		o := &b.p.options[i]
		if o.MaxLoad == 0 || !b.can(i) || len(o.places) == 0 && !b.takesPet(o) {
			continue
		}
		b.eachCarrier(i, func(copy int) {
			b.bear(i, copy)
			if copy >= 0 || b.most(i) == 1 {
				b.heads(float64(o.MaxLoad), 0, func(s *sort) bool { return s.option == i && s.copy == copy })
			}
		})
		if b.perhaps[i] >= 0 {
			b.bearAll(i)
		}
	}
}

// bear holds the people on a carrier, and on all copies of it together the pet
// and the cargo too, to its rating.
func (b *block) bear(i, copy int) {
	for _, s := range b.sorts {
		if s.option != i || s.copy != copy {
			continue
		}
		for k, c := range s.columns {
			if c >= 0 {
				b.relax.Term(c, float64(b.stage[k].Load))
			}
		}
	}
	if copy < 0 {
		b.burden(i)
	}
	sum := b.there(i, copy, -float64(b.p.options[i].MaxLoad))
	b.relax.AtMost(-sum)
}

func (b *block) bearAll(i int) {
	for _, s := range b.sorts {
		if s.option == i {
			for k, c := range s.columns {
				if c >= 0 {
					b.relax.Term(c, float64(b.stage[k].Load))
				}
			}
		}
	}
	b.burden(i)
	sum := b.fitted(i, -float64(b.p.options[i].MaxLoad))
	b.relax.AtMost(-sum)
}

// headsWithin says of a rating of zones how many people it bears at the most.
func (b *block) headsWithin(l int) {
	limit := &b.p.limits[l]
	if len(b.p.zonesOf[l]) == 0 || !b.rules.enforced(limit) {
		return
	}
	b.about(ruleOf(limit))
	room := float64(limit.Cap)
	for i := range b.p.options {
		room += float64(int64(b.p.options[i].delivered) * b.p.options[i].per[l]) // all of it may come off
	}
	lightest := math.Inf(1) // of what a seat there weighs, for each of its places
	for n := range b.sorts {
		if s := &b.sorts[n]; s.place.per[l] > 0 {
			lightest = min(lightest, b.perPlace(s))
		}
	}
	b.heads(room, lightest, func(s *sort) bool { return s.place.per[l] > 0 })
}

// perPlace returns what an add-on that is bought weighs for each of its
// places.
func (b *block) perPlace(s *sort) float64 {
	if s.option < 0 || b.p.options[s.option].delivered > 0 {
		return 0
	}
	o := &b.p.options[s.option]
	return float64(o.Weight) / float64(len(o.places))
}

// heads writes down how many people find room where the lightest of them, and
// so much more a head, may weigh no more than a sum: of everyone, and of the
// heaviest of them, where that is fewer.
func (b *block) heads(sum, more float64, there func(*sort) bool) {
	if b.p.without&heading != 0 {
		return
	}
	people := b.people[:0]
	for k := range b.stage {
		for n := range b.sorts {
			if s := &b.sorts[n]; s.columns[k] >= 0 && there(s) {
				people = append(people, k)
				break
			}
		}
	}
	b.people = people
	slices.SortFunc(people, func(x, y int) int { return cmp.Compare(b.stage[y].Load, b.stage[x].Load) })
	before := len(people) + 1
	for n := len(people); n > 0; n-- {
		left, fit := sum, 0
		for i := n - 1; i >= 0; i-- {
			if left -= float64(b.stage[people[i]].Load) + more; left < -1 {
				break
			}
			fit++
		}
		if fit >= n || fit >= before {
			continue
		}
		before = fit
		for _, k := range people[:n] {
			for n := range b.sorts {
				if s := &b.sorts[n]; s.columns[k] >= 0 && there(s) {
					b.relax.Term(s.columns[k], 1)
				}
			}
		}
		b.relax.AtMost(float64(fit))
	}
}

// burden adds the pet and the cargo on an option.
func (b *block) burden(i int) {
	for _, pet := range b.pets {
		if pet.option == i {
			b.relax.Term(pet.column, float64(b.p.Demand.Pet))
		}
	}
	for _, h := range b.heaps {
		if h.alone == i {
			b.relax.Term(h.column, b.mass)
		}
	}
}

// limit writes down one rating of the frame.
func (b *block) limit(l int) {
	limit := &b.p.limits[l]
	if !b.rules.enforced(limit) {
		return
	}
	b.about(ruleOf(limit))
	spare := float64(limit.Cap)
	for i := range b.p.options {
		o := &b.p.options[i]
		if c := b.bought[i]; c >= 0 {
			b.relax.Term(c, float64(o.per[l]))
		}
		if c := b.off[i]; c >= 0 {
			b.relax.Term(c, -float64(o.perOff[l]))
		}
	}
	if limit.Rule == load.Gross {
		spare -= float64(b.p.Demand.Pet + b.p.Demand.Cargo)
		for k := range b.stage {
			if b.stage[k].Present {
				spare -= float64(b.stage[k].Load)
			}
		}
		b.relax.AtMost(spare)
		return
	}
	for _, s := range b.sorts {
		for k, c := range s.columns {
			if c >= 0 {
				b.relax.Term(c, float64(b.stage[k].takes(s.place.per[l])))
			}
		}
	}
	for _, pet := range b.pets {
		b.relax.Term(pet.column, float64(limit.Per(b.p.options[pet.option].spot))*float64(b.p.Demand.Pet))
	}
	for _, h := range b.heaps {
		b.relax.Term(h.column, float64(h.per[l])*b.mass)
	}
	b.relax.AtMost(spare)
}
