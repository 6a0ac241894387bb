package fitting

import (
	"slices"

	"kinwain/internal/fitting/relax"
)

// block writes down one stage: who rides along on that day sits, the pet is
// carried, the cargo is stowed and every rating holds.
type block struct {
	*model
	stage   Stage
	sorts   []sort
	pets    []petColumn
	shares  []carrying
	heaps   []heap
	copies  []copies
	others  []*carrying // scratch of cover
	perhaps []int       // per option: an index of copies, or -1
	columns []int       // memory of those of the sorts
	people  []int       // scratch of heads
	mass    float64

	cargoRules Rules // on which it rests what carries how much of the cargo
}

// begin makes the block one of a model, in the memory that it has.
func (b *block) begin(m *model, stage Stage) {
	*b = block{model: m, stage: stage, sorts: b.sorts[:0], pets: b.pets[:0], shares: b.shares[:0], heaps: b.heaps[:0], copies: b.copies[:0],
		others: b.others[:0], perhaps: b.perhaps[:0], columns: b.columns[:0], people: b.people[:0]}
}

// forget lets go of what the block was about, and keeps its memory.
func (b *block) forget() {
	clear(b.sorts[:cap(b.sorts)])
	clear(b.shares[:cap(b.shares)])
	clear(b.heaps[:cap(b.heaps)])
	b.begin(nil, nil)
}

// sort is the places of one carrier that are the same.
type sort struct {
	option  int // -1 for the frame
	copy    int // an index of copies, or -1 for all of the option together
	place   *place
	places  int   // how many, on one
	columns []int // per passenger, or -1
}

type petColumn struct{ option, column int }

// carrying is what can carry a part of the cargo.
type carrying struct {
	*stowage
	part float64 // of the cargo that one takes
	heap int
}

// heap is the cargo in one spot, or of one carrier alone.
type heap struct {
	*stowage // one of the carriers
	column   int
	alone    int // the option, or -1
}

// about says on which rules the rows rest that are written from now on: none but
// what holds for every set where those are kept. Rows that ask nobody and nothing
// to be anywhere rest on none.
func (b *block) about(rules Rules) { b.relax.About(relax.Tags(rules & b.rules)) }

func (b *block) formulate(useful []bool) {
	b.about(0)
	b.mass = 0
	if b.rules.Has(CargoWeight) {
		b.mass = float64(b.p.Demand.Cargo)
	}
	b.tellCopies(useful)
	if b.rules.Has(PlaceMissing) {
		b.sortPlaces(useful)
	}
	if b.rules.Has(PetPlace) && b.p.Demand.Pet > 0 {
		b.listPets(useful)
	}
	b.listShares(useful)
	b.everyoneSits()
	b.about(0)
	b.placesHold()
	b.placesNeed()
	b.carriersBear()
	for l := range b.p.limits {
		b.limit(l)
		b.headsWithin(l)
	}
}

func (b *block) takesPet(o *option) bool {
	return b.rules.Has(PetPlace) && b.p.Demand.Pet > 0 && o.Pet >= b.p.Demand.Pet
}

func (b *block) sortPlaces(useful []bool) {
	for j := range b.p.framed {
		b.addSort(-1, -1, b.p.framed, j)
	}
	for i := range b.p.options {
		if useful[i] && b.can(i) {
			b.eachCarrier(i, func(copy int) {
				for j := range b.p.options[i].places {
					b.addSort(i, copy, b.p.options[i].places, j)
				}
			})
		}
	}
}

// addSort adds the places that are the same as the first of them, where they
// take anybody.
func (b *block) addSort(option, copy int, places []place, first int) {
	if places[first].like > 0 {
		return
	}
	from := len(b.columns)
	b.columns = slices.Grow(b.columns, len(b.stage))[:from+len(b.stage)]
	s := sort{option: option, copy: copy, place: &places[first], places: 1, columns: b.columns[from:]}
	last := first
	for j := first + 1; j < len(places); j++ {
		if places[j].like == last+1 {
			s.places, last = s.places+1, j
		}
	}
	anybody := false
	for k := range b.stage {
		s.columns[k] = -1
		if b.stage[k].Present && s.place.suits(&b.stage[k], b.rules) {
			s.columns[k] = b.relax.Column(0, 0, 1)
			b.sitting = append(b.sitting, s.columns[k])
			anybody = true
		}
	}
	if anybody {
		b.sorts = append(b.sorts, s)
	}
}

func (b *block) listPets(useful []bool) {
	for i := range b.p.options {
		if useful[i] && b.can(i) && b.takesPet(&b.p.options[i]) {
			c := b.relax.Column(0, 0, 1)
			b.pets, b.sitting = append(b.pets, petColumn{i, c}), append(b.sitting, c)
		}
	}
	for _, pet := range b.pets {
		b.relax.Term(pet.column, 1)
		sum := b.fitted(pet.option, -1)
		b.relax.AtMost(-sum)
	}
	for _, pet := range b.pets {
		b.relax.Term(pet.column, 1)
	}
	b.about(PetPlace)
	b.relax.Equal(1)
}

// listShares lists what can carry a part of the cargo. The part is rounded up,
// which makes a row wider and none narrower.
func (b *block) listShares(useful []bool) {
	mass, volume := int64(b.mass), int64(0)
	if b.rules.Has(CargoVolume) {
		volume = int64(b.p.Demand.CargoSize)
	}
	b.cargoRules = 0
	if mass > 0 {
		b.cargoRules |= CargoWeight
	}
	if volume > 0 {
		b.cargoRules |= CargoVolume
	}
	if mass == 0 && volume == 0 {
		return
	}
	for n := range b.p.stowage {
		w := &b.p.stowage[n]
		if w.option >= 0 && !(useful[w.option] && b.can(w.option)) {
			continue
		}
		part := 1.0
		if mass > 0 {
			takes := w.mass
			if w.option >= 0 && b.rules.Has(AddOnRating) && b.p.options[w.option].MaxLoad > 0 {
				takes = min(takes, b.p.options[w.option].MaxLoad)
				b.cargoRules |= AddOnRating
			}
			part = min(part, float64(takes)/float64(mass))
		}
		if volume > 0 {
			part = min(part, float64(w.volume)/float64(volume))
		}
		if part *= 1 + 1e-15; part > 0 {
			b.shares = append(b.shares, carrying{stowage: w, part: part})
		}
	}
	b.about(b.cargoRules)
	b.gather()
}

// gather adds a column for all of the cargo in one spot, which is what the
// ratings are about: it can be any part of it up to what the carriers there
// take together. A carrier with a rating over the cargo and something else has
// a column of its own.
func (b *block) gather() {
	for n := range b.shares {
		s := &b.shares[n]
		at := slices.IndexFunc(b.heaps, func(h heap) bool { return h.alone < 0 && h.spot == s.spot })
		if b.shared(s.option) {
			at = -1
		}
		if at < 0 {
			at = len(b.heaps)
			b.heaps = append(b.heaps, heap{stowage: s.stowage, column: b.relax.Column(0, 0, 1), alone: -1})
			if b.shared(s.option) {
				b.heaps[at].alone = s.option
			}
		}
		s.heap = at
	}
	for _, h := range b.heaps {
		b.relax.Term(h.column, 1)
	}
	b.relax.Equal(1)
	for at := range b.heaps {
		b.hold(at, func(own *carrying) float64 { return -own.part })
	}
	b.displace()
}

// hold says that a heap is no more than the carriers there take together; of a
// zone's own room what the function adds to the row.
func (b *block) hold(at int, own func(*carrying) float64) {
	b.relax.Term(b.heaps[at].column, 1)
	sum := 0.0
	for n := range b.shares {
		s := &b.shares[n]
		switch {
		case s.heap != at:
		case s.option < 0:
			sum += own(s)
		default:
			sum += b.fitted(s.option, -s.part)
			for _, pet := range b.pets {
				if pet.option == s.option {
					b.relax.Term(pet.column, s.part)
				}
			}
		}
	}
	b.relax.AtMost(-sum)
}

// shared reports whether an option has a rating over all that it carries, and
// may carry more than cargo.
func (b *block) shared(option int) bool {
	if option < 0 || !b.rules.Has(AddOnRating) {
		return false
	}
	o := &b.p.options[option]
	return o.MaxLoad > 0 && (len(o.places) > 0 || b.takesPet(o))
}

// everyoneSits gives everyone who rides along a place.
func (b *block) everyoneSits() {
	if !b.rules.Has(PlaceMissing) {
		return
	}
	b.about(sitting)
	for k := range b.stage {
		if !b.stage[k].Present {
			continue
		}
		b.sitters = grown(b.sitters, len(b.sitters)+1)
		who := &b.sitters[len(b.sitters)-1]
		who.columns, who.zones = who.columns[:0], who.zones[:0]
		for _, s := range b.sorts {
			if c := s.columns[k]; c >= 0 {
				b.relax.Term(c, 1)
				who.columns, who.zones = append(who.columns, c), append(who.zones, s.place.spot.Zone)
			}
		}
		b.relax.Equal(1)
	}
}

// placesHold seats no more people than there are places on what is on the
// bike and does not have the pet.
func (b *block) placesHold() {
	for n := range b.sorts {
		s := &b.sorts[n]
		for _, c := range s.columns {
			if c >= 0 {
				b.relax.Term(c, 1)
			}
		}
		b.seatsOn(s, float64(s.places))
	}
	for from, to := 0, 0; from < len(b.sorts); from = to {
		s := &b.sorts[from]
		for to = from + 1; to < len(b.sorts) && b.sorts[to].option == s.option && b.sorts[to].copy == s.copy; to++ {
		}
		if s.option >= 0 && (to-from > 1 || s.places > 1) && b.p.without&parting == 0 {
			b.eachSitsOn(b.sorts[from:to])
		}
	}
}

// eachSitsOn says of every person that they sit on a carrier with several places
// by no larger a part than it is there. All who sit on it together may be there by
// more, so that none of the rows of its places says that.
func (b *block) eachSitsOn(carrier []sort) {
	for k := range b.stage {
		several := false
		for n := range carrier {
			if c := carrier[n].columns[k]; c >= 0 {
				b.relax.Term(c, 1)
				several = several || n > 0 || carrier[n].places > 1
			}
		}
		if several {
			b.seatsOn(&carrier[0], 1)
		} else {
			b.relax.Drop()
		}
	}
}

// seatsOn ends a row of who sits in places: no more than so many on each of the
// carriers that are there, and none where the pet is.
func (b *block) seatsOn(s *sort, places float64) {
	if s.option < 0 {
		b.relax.AtMost(places)
		return
	}
	sum := b.there(s.option, s.copy, -places)
	if s.copy < 0 {
		for _, pet := range b.pets {
			if pet.option == s.option {
				b.relax.Term(pet.column, places)
			}
		}
	}
	b.relax.AtMost(-sum)
}

// placesNeed asks for what the places need that are sat in. A person sits in
// one place, so all the places of that person that need the same are one row.
func (b *block) placesNeed() {
	for k := range b.stage {
		for g := range b.p.groups {
			if b.met[g] < 0 {
				continue
			}
			asking, others := 0, 0
			for n := range b.sorts {
				if s := &b.sorts[n]; s.columns[k] >= 0 && b.asks(s, g) {
					b.relax.Term(s.columns[k], 1)
					asking++
				} else if s.columns[k] >= 0 {
					others++
				}
			}
			if asking > 0 && others == 0 {
				b.relax.Drop()
				b.relax.Raise(b.met[g]) // wherever they sit
				b.raised = true
			} else if asking > 0 {
				b.relax.Term(b.met[g], -1)
				b.relax.AtMost(0)
			}
		}
	}
}

// asks reports whether sitting there asks for a group of needs: the place
// does, or what gives it.
func (b *block) asks(s *sort, g int) bool {
	for _, n := range s.place.needs {
		if n == g {
			return true
		}
	}
	if s.option >= 0 {
		for _, n := range b.p.options[s.option].needs {
			if n == g {
				return true
			}
		}
	}
	return false
}
