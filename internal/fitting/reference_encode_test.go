// A build as pseudo-Boolean inequalities: one variable for every copy of an
// add-on that may be fitted, one for everyone in every place that suits, one
// for the pet in every carrier.
package fitting_test

import (
	"slices"

	"kinwain/internal/catalog"
	"kinwain/internal/fitting"
)

// encoding is one instance as a formula. Everyone may be seated for several
// days at once, by the same add-ons.
type encoding struct {
	*world
	formula
	fitted [][]int // per kind and copy: at least so many are on the bike
	rooms  []room
	days   []*seatedDay
	cuts   int // how often a model was ruled out
	coarse int // and how often that model alone
}

// seatedDay is who sits where on one day, and what carries the pet.
type seatedDay struct {
	people []person
	sits   []sitting
	pets   []sitting
}

// sitting is one load in one spot: a variable and what it stands for.
type sitting struct {
	variable   int
	person     int
	kind, copy int // kind -1: the frame's own place
	place      int
	point      point
}

// encode says what holds for an instance on every one of some days, each given
// by who rides along.
func encode(in *instance, days ...[]person) *encoding {
	e := encodeSets(worldOf(in))
	e.house()
	for _, people := range days {
		e.live(people)
	}
	return e
}

// encodeSets says which add-ons go together.
func encodeSets(w *world) *encoding {
	e := &encoding{world: w}
	for i := range e.kinds {
		copies := []int{}
		for range e.kinds[i].most {
			copies = append(copies, e.variable())
		}
		for n := 1; n < len(copies); n++ {
			e.either(-copies[n], copies[n-1])
		}
		e.fitted = append(e.fitted, copies)
	}
	e.variable() // a bike without add-ons is a formula too
	for z := range e.frame.Zones {
		e.displace(z)
	}
	e.mount()
	for i := range e.kinds {
		for _, group := range e.kinds[i].Needs {
			e.need(e.fitted[i][0], group, func(int, string) bool { return true })
		}
		for j := range e.kinds {
			if slices.Contains(e.kinds[i].Excludes, e.kinds[j].Code) {
				e.either(-e.fitted[i][0], -e.fitted[j][0])
			}
		}
	}
	return e
}

func (e *encoding) mount() {
	for _, m := range e.frame.Mounts {
		var used sum
		for i := range e.kinds {
			for _, u := range e.kinds[i].Uses {
				if u.Mount == m.Code {
					for _, v := range e.fitted[i] {
						used.add(int64(u.Count), v)
					}
				}
			}
		}
		e.atMost(used, int64(m.Capacity))
	}
}

// need asks for a member of the group where a variable is true. A member that
// names an add-on of the catalogue is that add-on; any other is a tag, of what
// serves who asks.
func (e *encoding) need(when int, group []string, serves func(giver int, tag string) bool) {
	clause := []int{-when}
	for _, member := range group {
		if e.catalogue.AddOn(member) == nil && slices.Contains(e.frame.Provides, member) {
			return
		}
		for i := range e.kinds {
			k := &e.kinds[i]
			if k.Code == member || e.catalogue.AddOn(member) == nil && slices.Contains(k.Provides, member) && serves(i, member) {
				clause = append(clause, e.fitted[i][0])
			}
		}
	}
	e.either(clause...)
}

// live seats the people of a day.
func (e *encoding) live(people []person) {
	d := &seatedDay{people: people}
	e.days = append(e.days, d)
	for p := range people {
		var somewhere []int
		e.eachPlace(func(at sitting, pl *catalog.Place) {
			if !people[p].suits(pl) {
				return
			}
			at.variable, at.person, at.point = e.variable(), p, at.point.of(people[p].load)
			if at.kind >= 0 {
				e.either(-at.variable, e.fitted[at.kind][at.copy])
			}
			for _, group := range pl.Needs {
				e.need(at.variable, group, func(giver int, tag string) bool { return e.reaches(giver, tag, at.kind, at.point.zone) })
			}
			somewhere = append(somewhere, at.variable)
			d.sits = append(d.sits, at)
		})
		e.exactlyOne(somewhere)
	}
	e.onePerPlace(d)
	if most := e.frame.PassengersMax; most > 0 && len(people) > most {
		e.hopeless = true
	}
	e.leash(d)
	e.bear(d)
	e.rate(d)
	e.stowRoughly(d)
}

// eachPlace visits every place that there may be.
func (e *encoding) eachPlace(visit func(at sitting, pl *catalog.Place)) {
	for i := range e.frame.Places {
		pl := &e.frame.Places[i]
		visit(sitting{kind: -1, place: i, point: e.spot(zoneAt(e.frame, pl.Zone), pl.Ahead)}, pl)
	}
	for i := range e.kinds {
		k := &e.kinds[i]
		for n := range k.most {
			for j := range k.Places {
				visit(sitting{kind: i, copy: n, place: j, point: e.spot(k.zone, k.Places[j].Ahead)}, &k.Places[j])
			}
		}
	}
}

func (e *encoding) exactlyOne(variables []int) {
	var all sum
	for _, v := range variables {
		all.add(1, v)
	}
	e.atLeast(all, 1)
	e.atMost(all, 1)
}

func (e *encoding) onePerPlace(d *seatedDay) {
	e.eachPlace(func(at sitting, _ *catalog.Place) {
		var here sum
		for _, s := range d.sits {
			if s.kind == at.kind && s.copy == at.copy && s.place == at.place {
				here.add(1, s.variable)
			}
		}
		e.atMost(here, 1)
	})
}

// leash gives the pet one carrier that nobody sits on.
func (e *encoding) leash(d *seatedDay) {
	if e.pet == 0 {
		return
	}
	var somewhere []int
	for i := range e.kinds {
		k := &e.kinds[i]
		if k.AddOn.Pet == 0 || k.AddOn.Pet < e.pet {
			continue
		}
		for n := range k.most {
			at := sitting{variable: e.variable(), kind: i, copy: n, point: e.spot(k.zone, 0).of(e.pet)}
			e.either(-at.variable, e.fitted[i][n])
			for _, s := range d.sits {
				if s.kind == i && s.copy == n {
					e.either(-at.variable, -s.variable)
				}
			}
			somewhere = append(somewhere, at.variable)
			d.pets = append(d.pets, at)
		}
	}
	e.exactlyOne(somewhere)
}

// on returns what a copy of an add-on carries, cargo aside.
func (d *seatedDay) on(kind, copy int) sum {
	var load sum
	for _, s := range slices.Concat(d.sits, d.pets) {
		if s.kind == kind && s.copy == copy {
			load.add(s.point.whole, s.variable)
		}
	}
	return load
}

// bear holds every copy of an add-on to its own rating.
func (e *encoding) bear(d *seatedDay) {
	for i := range e.kinds {
		for n := range e.kinds[i].most {
			if most := e.kinds[i].MaxLoad; most > 0 {
				e.atMost(d.on(i, n), int64(most))
			}
		}
	}
}

// rate holds every rating with all but the cargo on the bike. Cargo only adds
// to the gross weight and to zones; on an axle it counts here as if all of it
// were where it weighs least.
func (e *encoding) rate(d *seatedDay) {
	for i := range e.ratings {
		r := &e.ratings[i]
		load := e.loadOn(d, r)
		switch r.rule {
		case fitting.GrossRating:
			load.constant += int64(e.cargo)
		case fitting.AxleRating, fitting.FrontLight:
			load.constant += int64(e.cargo) * e.gentlest(r)
		}
		e.atMost(load, r.room)
	}
}

// loadOn returns what add-ons, people and pet take up of a rating.
func (e *encoding) loadOn(d *seatedDay, r *rating) sum {
	var load sum
	inZone := r.rule == fitting.ZoneRating || r.rule == fitting.CombinedRating
	for i := range e.kinds {
		k := &e.kinds[i]
		on, off := e.world.fitted(k), e.gone(k)
		for n, v := range e.fitted[i] {
			if n < k.delivered && !inZone {
				load.add(off.counts(r)*r.per(off.zone, off.ahead), -v) // the bare weight holds it already
			} else {
				load.add(on.counts(r)*r.per(on.zone, on.ahead), v)
			}
		}
	}
	for _, s := range slices.Concat(d.sits, d.pets) {
		load.add(s.point.whole*r.per(s.point.zone, s.point.ahead), s.variable)
	}
	return load
}

// cost and weight of a set over the delivered bike; a delivered part that
// comes off is paid for with its labour.
func (e *encoding) cost() sum {
	var cost sum
	for i := range e.kinds {
		k := &e.kinds[i]
		for n, v := range e.fitted[i] {
			if n < k.delivered {
				cost.add(int64(k.labour), -v)
			} else {
				cost.add(int64(k.Price+k.labour), v)
			}
		}
	}
	return cost
}

func (e *encoding) weight() sum {
	var weight sum
	for i := range e.kinds {
		for n, v := range e.fitted[i] {
			weight.add(int64(e.kinds[i].Weight), v)
			if n < e.kinds[i].delivered {
				weight.constant -= int64(e.kinds[i].Weight)
			}
		}
	}
	return weight
}
