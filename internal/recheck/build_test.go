package recheck

import (
	"math"
	"slices"
	"time"
)

// Whether a set of add-ons holds on a day, by trying every seat.

// scoped are the tags that serve a place only from where they are.
var scoped = []string{"foot_support", "hand_hold", "backrest"}

// here is something fitted, with which copy of it it is.
type here struct {
	*addOn
	copy int
}

func (r *recheck) heres() []here {
	var list []here
	seen := map[string]int{}
	for _, code := range r.fitted() {
		list = append(list, here{r.addOn(code), seen[code]})
		seen[code]++
	}
	return list
}

// met reports whether one of a group is there. For a place, from is the add-on
// that the place is of and in the zone that it lies in.
func (r *recheck) met(group []string, fitted []here, ofPlace bool, from, in string) bool {
	return slices.ContainsFunc(group, func(member string) bool {
		if r.addOn(member) != nil {
			return slices.ContainsFunc(fitted, func(h here) bool { return h.Code == member })
		}
		if slices.Contains(r.frame.Provides, member) {
			return true
		}
		return slices.ContainsFunc(fitted, func(h here) bool {
			if !slices.Contains(h.Provides, member) {
				return false
			}
			if !ofPlace || !slices.Contains(scoped, member) {
				return true
			}
			if len(h.Places) > 0 {
				return h.Code == from
			}
			return h.Zone == in
		})
	})
}

// suits reports whether a place takes somebody.
func (pl *place) suits(st standing) bool {
	if st.ageless && (pl.MinMonths > 0 || pl.MaxMonths > 0) {
		return false
	}
	return (st.ageless || st.young >= pl.MinMonths) && (pl.MaxMonths == 0 || st.old <= pl.MaxMonths) &&
		down(st.light) >= pl.MinMass && (pl.MaxMass == 0 || up(st.load) <= pl.MaxMass) &&
		(pl.MaxStature == 0 || millimetres(up(st.tall)) <= pl.MaxStature)
}

// up and down round to the safe side, but for the noise of arithmetic.
func up(figure float64) grams   { return grams(math.Ceil(figure - 1e-6)) }
func down(figure float64) grams { return grams(math.Floor(figure + 1e-6)) }

// spot is a place that somebody may take.
type spot struct {
	*place
	from, in string
	copy     int
}

func (r *recheck) spots(fitted []here) []spot {
	var list []spot
	for i := range r.frame.Places {
		list = append(list, spot{&r.frame.Places[i], "", r.frame.Places[i].Zone, 0})
	}
	for _, h := range fitted {
		for i := range h.Places {
			list = append(list, spot{&h.Places[i], h.Code, h.Zone, h.copy})
		}
	}
	return slices.DeleteFunc(list, func(s spot) bool {
		return slices.ContainsFunc(s.Needs, func(g []string) bool { return !r.met(g, fitted, true, s.from, s.in) })
	})
}

// party is what a bike is asked to hold on a day.
type party struct {
	r      *recheck
	fitted []here
	spots  []spot
	people []standing // present
	fixed  []thing    // add-ons
	but    string     // a rule that is left out
	bump   grams      // to each weight
}

// holds reports whether the add-ons of the build hold the party of a day, but
// for one rule; bump is added to the weight of every passenger.
func (r *recheck) holds(day time.Time, but string, bump grams) bool {
	p := party{r: r, fitted: r.heres(), but: but, bump: bump}
	p.spots = r.spots(p.fitted)
	for i := range r.profile.Passengers.value {
		one := &r.profile.Passengers.value[i]
		if joins, later := one.joins(r.asOf); r.joined && later && day.Before(joins) {
			continue
		}
		if st := one.at(r.asOf, day, r.pace); st.present {
			st.load += float64(bump)
			p.people = append(p.people, st)
		}
	}
	for _, t := range r.things(day) {
		if !t.carried() {
			p.fixed = append(p.fixed, t)
		}
	}
	if most := r.frame.Seats; most > 0 && len(p.people) > most && but != "passengers_max" {
		return false
	}
	return p.seat(0, make([]bool, len(p.spots)), nil)
}

func (p *party) seat(next int, taken []bool, sat []thing) bool {
	if next == len(p.people) {
		return p.leash(sat)
	}
	tried := map[[2]any]bool{} // copies with nobody on them are alike
	for i, s := range p.spots {
		if taken[i] || p.but != "place_limits" && !s.suits(p.people[next]) {
			continue
		}
		alone := !slices.ContainsFunc(sat, func(t thing) bool { return t.code == s.from && t.copy == s.copy })
		if key := [2]any{s.from, s.place}; alone && s.from != "" {
			if tried[key] {
				continue
			}
			tried[key] = true
		}
		t := p.r.frame.put(thing{kind: "passenger", code: s.from, copy: s.copy, mass: up(p.people[next].load)}, s.in, s.Ahead)
		taken[i] = true
		if p.seat(next+1, taken, append(sat[:len(sat):len(sat)], t)) {
			return true
		}
		taken[i] = false
	}
	return false
}

func (p *party) leash(sat []thing) bool {
	if p.but != "add_on_rating" && slices.ContainsFunc(p.fitted, func(h here) bool { return h.MaxLoad > 0 && sitting(sat, h) > h.MaxLoad }) {
		return false
	}
	pet := p.r.profile.Pet.value
	if pet == 0 {
		return p.stow(sat, here{})
	}
	for _, h := range p.fitted {
		busy := slices.ContainsFunc(sat, func(t thing) bool { return t.code == h.Code && t.copy == h.copy })
		if h.Pet < pet || busy || h.MaxLoad > 0 && pet > h.MaxLoad && p.but != "add_on_rating" {
			continue
		}
		t := p.r.frame.put(thing{kind: "pet", code: h.Code, copy: h.copy, mass: pet}, h.Zone, 0)
		if p.stow(append(sat[:len(sat):len(sat)], t), h) {
			return true
		}
	}
	return false
}

// sitting is what those weigh who sit on one copy of an add-on.
func sitting(sat []thing, h here) grams {
	sum := grams(0)
	for _, t := range sat {
		if t.code == h.Code && t.copy == h.copy {
			sum += t.mass
		}
	}
	return sum
}

// room is what takes a share of the cargo.
type room struct {
	zone   int
	mass   grams
	volume millilitres
}

// rooms lists the carriers, with what is left of each beside those who sit in
// it.
func (p *party) rooms(sat []thing, pet here) []room {
	var list []room
	for _, h := range p.fitted {
		if h.Cargo == 0 || pet.addOn != nil && h.Code == pet.Code && h.copy == pet.copy {
			continue
		}
		most := h.Cargo
		if h.MaxLoad > 0 && p.but != "add_on_rating" {
			most = min(most, h.MaxLoad-sitting(sat, h))
		}
		list = append(list, room{p.r.frame.zone(h.Zone), most, h.CargoIn})
	}
	for i, z := range p.r.frame.Zones {
		if z.Cargo == 0 {
			continue
		}
		of := p.r.zoneRoom(i)
		list = append(list, of)
	}
	return list
}

// zoneRoom is what a zone holds by itself, beside what is fitted there.
func (r *recheck) zoneRoom(i int) room {
	z := r.frame.Zones[i]
	of := room{i, z.Cargo, z.CargoIn}
	for _, code := range r.fitted() {
		if a := r.addOn(code); a.Zone == z.Code {
			of.mass, of.volume = max(0, of.mass-a.Displaces), max(0, of.volume-a.DisplacesVolume)
		}
	}
	return of
}

// limits are inequalities over the shares of the cargo.
type limits struct {
	rows [][]float64
	caps []float64
}

func (l *limits) add(row []float64, cap float64) {
	l.rows, l.caps = append(l.rows, row), append(l.caps, cap)
}

// stow reports whether the cargo finds room under every rating with everybody
// where they are.
func (p *party) stow(sat []thing, pet here) bool {
	r, f := p.r, p.r.frame
	rooms := p.rooms(sat, pet)
	things := append(slices.Clone(p.fixed), sat...)
	sums := f.sum(things)
	cargo, volume := float64(r.profile.Cargo.value), float64(r.profile.Litres.value)
	if slices.ContainsFunc([]string{"cargo_kg"}, r.leftOut) {
		cargo = 0
	}
	var l limits
	each := func(of func(room) float64) []float64 {
		row := make([]float64, len(rooms))
		for i, c := range rooms {
			row[i] = of(c)
		}
		return row
	}
	inZone := func(z int) func(room) float64 {
		return func(c room) float64 {
			if c.zone == z {
				return 1
			}
			return 0
		}
	}
	heaviest := grams(0)
	for _, w := range r.profile.weighed() {
		heaviest = max(heaviest, w.riding)
	}
	if p.but != "gross_rating" && sums.whole+heaviest+grams(cargo) > f.Gross {
		return false
	}
	if p.but != "zone_rating" {
		for i, z := range f.Zones {
			if z.Rating > 0 {
				l.add(each(inZone(i)), float64(z.Rating-sums.zones[i]))
			}
		}
	}
	if p.but != "combined_rating" {
		for i, c := range f.Combined {
			l.add(each(func(o room) float64 {
				if o.zone >= 0 && slices.Contains(c.Zones, f.Zones[o.zone].Code) {
					return 1
				}
				return 0
			}), float64(c.Rating-sums.combined[i]))
		}
	}
	p.balance(&l, things, rooms)
	return share2(l, rooms, cargo, volume)
}

// balance adds what the axles bear: their ratings, and that the front one
// bears no less than nothing.
func (p *party) balance(l *limits, things []thing, rooms []room) {
	r, f := p.r, p.r.frame
	if !f.statesAxles() {
		return
	}
	riders := r.profile.weighed()
	somebody := len(riders) > 0
	if !somebody {
		riders = []weighed{{}}
	}
	for _, w := range riders {
		a := f.axles(things, w.riding)
		front, rear, back := make([]float64, len(rooms)), make([]float64, len(rooms)), make([]float64, len(rooms))
		for i, c := range rooms {
			arm := float64(f.Zones[c.zone].Ahead) / float64(f.Wheelbase)
			front[i], rear[i], back[i] = arm, 1-arm, -arm
		}
		if p.but != "axle_rating" && f.FrontMax > 0 {
			l.add(front, float64(f.FrontMax-a.nowhere)-float64(a.front)/float64(a.scale))
		}
		if p.but != "axle_rating" && f.RearMax > 0 {
			l.add(rear, float64(f.RearMax-a.nowhere)-float64(a.rear)/float64(a.scale))
		}
		if p.but != "front_light" && somebody {
			l.add(back, float64(a.front)/float64(a.scale)-float64(a.off))
		}
	}
}

// share2 shares cargo out: its kilograms and litres in one proportion, or
// each for itself where the other is nothing.
func share2(l limits, rooms []room, cargo, volume float64) bool {
	one := func(i int, by float64) []float64 {
		row := make([]float64, len(rooms))
		row[i] = by
		return row
	}
	all, none := make([]float64, len(rooms)), make([]float64, len(rooms))
	litres := 0.0
	for i, c := range rooms {
		all[i], none[i] = 1, -1
		litres += float64(c.volume)
		l.add(one(i, 1), float64(c.mass))
		if cargo > 0 && volume > 0 {
			l.add(one(i, volume/cargo), float64(c.volume))
		}
	}
	if cargo == 0 && volume > litres {
		return false
	}
	l.add(all, cargo)
	l.add(none, -cargo)
	if len(rooms) == 0 {
		return cargo == 0 && !slices.ContainsFunc(l.caps, func(cap float64) bool { return cap < -1e-6 })
	}
	return solvable(l.rows, l.caps)
}
