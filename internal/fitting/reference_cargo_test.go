package fitting_test

import (
	"math/big"

	"kinwain/internal/fitting"
	"kinwain/internal/measure"
)

// hauling is something that may take a share of the cargo: a zone, or a copy
// of an add-on. Shares are parts of the whole.
type hauling struct {
	kind, copy int // kind -1: a zone of the frame
	zone       int
	most       *big.Rat // by its kilograms and litres
	when       int      // of a zone: a variable that has to be true, or 0
}

// room is a zone's own room for cargo beside so many of each that take some of
// it: a variable says that just those are on the bike.
type room struct {
	zone, variable int
	mass           measure.Mass
	volume         measure.Volume
}

// displace lists the rooms that a zone may have.
func (e *encoding) displace(zone int) {
	var taking []int
	for i := range e.kinds {
		if k := &e.kinds[i]; k.zone == zone && k.DisplacesCargo+measure.Mass(k.DisplacesVolume) > 0 {
			taking = append(taking, i)
		}
	}
	counts := make([]int, len(e.kinds))
	if len(taking) == 0 {
		mass, volume := e.ownRoom(counts, zone)
		e.rooms = append(e.rooms, room{zone, 0, mass, volume})
		return
	}
	var cases []int
	var choose func(left []int)
	choose = func(left []int) {
		if len(left) > 0 {
			for counts[left[0]] = 0; counts[left[0]] <= e.kinds[left[0]].most; counts[left[0]]++ {
				choose(left[1:])
			}
			counts[left[0]] = 0
			return
		}
		v := e.variable()
		for _, i := range taking {
			for n, fitted := range e.fitted[i] {
				if n < counts[i] {
					e.either(-v, fitted)
				} else {
					e.either(-v, -fitted)
				}
			}
		}
		mass, volume := e.ownRoom(counts, zone)
		cases, e.rooms = append(cases, v), append(e.rooms, room{zone, v, mass, volume})
	}
	choose(taking)
	e.exactlyOne(cases)
}

// haulings lists what may carry cargo at all.
func (e *encoding) haulings() []hauling {
	var list []hauling
	for n, r := range e.rooms {
		if r.mass > 0 {
			list = append(list, hauling{-1, n, r.zone, lesser(portion(r.mass, e.cargo), portion(r.volume, e.size)), r.variable})
		}
	}
	for i := range e.kinds {
		k := &e.kinds[i]
		for n := range k.most {
			if k.AddOn.Cargo > 0 {
				list = append(list, hauling{i, n, k.zone, lesser(portion(k.AddOn.Cargo, e.cargo), portion(k.CargoVolume, e.size)), 0})
			}
		}
	}
	return list
}

// gentlest returns what a gram of cargo takes up of a rating where it takes up
// least; zero where nothing can carry any.
func (e *encoding) gentlest(r *rating) int64 {
	var least int64
	for i, h := range e.haulings() {
		if per := r.per(h.zone, e.spot(h.zone, 0).ahead); i == 0 || per < least {
			least = per
		}
	}
	return least
}

// stowRoughly asks that all carriers together could take the cargo by their
// own kilograms and litres, in millionths of it and rounded in their favour.
func (e *encoding) stowRoughly(d *seatedDay) {
	if e.cargo == 0 && e.size == 0 {
		return
	}
	const whole = 1_000_000
	var room sum
	for _, h := range e.haulings() {
		millionths, _ := new(big.Rat).Mul(h.most, rat(whole)).Float64()
		share := min(int64(millionths)+1, whole)
		if h.most.Sign() == 0 {
			continue
		}
		if h.kind < 0 {
			if h.when > 0 {
				room.add(share, h.when)
			} else {
				room.constant += share
			}
			continue
		}
		room.add(share, e.fitted[h.kind][h.copy])
		if v := d.petOn(h.kind, h.copy); v > 0 {
			room.add(-share, v)
		}
	}
	e.atLeast(room, whole)
}

// petOn returns the variable of the pet in a carrier, 0 where it cannot be.
func (d *seatedDay) petOn(kind, copy int) int {
	for _, p := range d.pets {
		if p.kind == kind && p.copy == copy {
			return p.variable
		}
	}
	return 0
}

// bounding is one inequality over the shares: the sum of of × share is at most
// scale × what a form comes to.
type bounding struct {
	of    func(h *hauling) int64
	scale *big.Rat
	room  sum
}

// boundings lists what bounds the shares of some carriers. Every room is a
// form over the variables, so it can be evaluated for one build or kept as it
// is.
func (e *encoding) boundings(d *seatedDay, list []hauling) []bounding {
	one := rat(1)
	rows := []bounding{ // all shares together are the whole
		{func(*hauling) int64 { return 1 }, one, sum{constant: 1}},
		{func(*hauling) int64 { return -1 }, one, sum{constant: -1}},
	}
	for _, h := range list {
		only := func(o *hauling) int64 { return int64(b2i(o.kind == h.kind && o.copy == h.copy && o.zone == h.zone)) }
		rows = append(rows, bounding{only, h.most, e.there(d, &h)})
		if h.kind >= 0 && e.kinds[h.kind].MaxLoad > 0 {
			rows = append(rows, bounding{func(o *hauling) int64 { return int64(e.cargo) * only(o) }, one,
				less(int64(e.kinds[h.kind].MaxLoad), d.on(h.kind, h.copy))})
		}
	}
	for i := range e.ratings {
		if r := &e.ratings[i]; r.rule != fitting.GrossRating {
			rows = append(rows, bounding{func(h *hauling) int64 { return int64(e.cargo) * r.per(h.zone, e.spot(h.zone, 0).ahead) }, one,
				less(r.room, e.loadOn(d, r))})
		}
	}
	return rows
}

// there is one where a carrier is on the bike and has no pet in it.
func (e *encoding) there(d *seatedDay, h *hauling) sum {
	var there sum
	if h.when > 0 {
		there.add(1, h.when)
		return there
	}
	if h.kind < 0 {
		return sum{constant: 1}
	}
	there.add(1, e.fitted[h.kind][h.copy])
	if v := d.petOn(h.kind, h.copy); v > 0 {
		there.add(-1, v)
	}
	return there
}

// less returns what a load leaves of a limit.
func less(limit int64, load sum) sum {
	left := sum{constant: limit - load.constant}
	for _, t := range load.terms {
		left.add(-t.weight, t.literal)
	}
	return left
}

// weighted is a multiple of a form.
type weighted struct {
	by   *big.Rat
	form sum
}

// stowing returns nil where the cargo of a day can be shared out in the build
// of a model. Otherwise it returns forms that add up to zero or more in every
// build with a sharing, and to less in this one.
//
// By the lemma of Farkas, where no shares of zero or more keep the boundings
// there are weights of zero or more for these under which the coefficients of
// every share add up to zero or more, and the rooms to less than zero. With
// the same weights the rooms of any build with a sharing add up to zero or
// more. Carriers that are not on the bike have no say in the proof; where one
// would upset it, the room that it brings when it is there is added. (J. F.
// Benders, Numerische Mathematik 4, 1962, cuts a problem in two in this way.)
func (e *encoding) stowing(d *seatedDay, m model) []weighted {
	if e.cargo == 0 && e.size == 0 {
		return nil
	}
	var here, absent []hauling
	for _, h := range e.haulings() {
		if there := e.there(d, &h); there.of(m) > 0 {
			here = append(here, h)
		} else {
			absent = append(absent, h)
		}
	}
	rows := e.boundings(d, here)
	table := make([][]*big.Rat, len(rows))
	for i, r := range rows {
		for c := range here {
			table[i] = append(table[i], rat(r.of(&here[c])))
		}
		table[i] = append(table[i], new(big.Rat).Mul(r.scale, rat(r.room.of(m))))
	}
	_, weights := sharing(table)
	if weights == nil {
		return nil
	}
	var cut []weighted
	for i, w := range weights {
		cut = append(cut, weighted{new(big.Rat).Mul(w, rows[i].scale), rows[i].room})
	}
	for _, h := range absent {
		column := new(big.Rat)
		for i, w := range weights {
			column.Add(column, new(big.Rat).Mul(w, rat(rows[i].of(&h))))
		}
		if column.Sign() < 0 {
			cut = append(cut, weighted{column.Mul(column.Neg(column), h.most), e.there(d, &h)})
		}
	}
	return cut
}
