package fitting

import (
	"context"
	"slices"
	"sync"

	"kinwain/internal/measure"
)

// gathering puts a set together by what comes to hand first: one add-on after the
// other, with all that it needs, until everyone may have a place, the pet a carrier
// and the cargo room. Where little is weighed that mostly does, and takes a
// fraction of a search. What it comes to is held against every rule as any set is,
// so that nothing is said of it that is not so; and where it comes to nothing, that
// says nothing.
type gathering struct {
	*aim
	p    *Problem
	set  state
	done []int // which options were put on, and, as their complement, taken off, one after the other

	tried int    // how often something was put on
	full  []bool // per stowage, of which no more goes on
}

// mostTried bounds that: what takes longer is for a search to find.
const mostTried = 100

// gatherings keep the memory of those that are done with.
var gatherings = sync.Pool{New: func() any { return new(gathering) }}

// gather returns a set that is what is looked for, where any will do and that is
// easily put together; or nil.
func (p *Problem) gather(ctx context.Context, a *aim) *state {
	if a.limited || len(a.stages) > 1 || p.without&gathered != 0 {
		return nil
	}
	g := gatherings.Get().(*gathering)
	defer g.end()
	g.begin(p, a)
	if !g.seatAll(a.stages[0]) || !g.takePet() || !g.takeCargo() || !p.goTogether(&g.set) {
		return nil
	}
	c := p.newSeating(true)
	defer c.done()
	c.ctx, c.loose = ctx, a.loose
	if !p.stands(&g.set, a, c) {
		return nil
	}
	set := p.empty()
	set.set(&g.set)
	return &set
}

// begin starts from the frame as it is delivered.
func (g *gathering) begin(p *Problem, a *aim) {
	g.aim, g.p, g.done, g.tried = a, p, g.done[:0], 0
	p.clear(&g.set)
	g.set.set(&p.base)
	g.full = grown(g.full, len(p.stowage))
	clear(g.full)
}

func (g *gathering) end() {
	g.aim, g.p = nil, nil
	gatherings.Put(g)
}

// put puts one more of an option on, and all that it needs besides, or nothing.
// What was taken off stays off.
func (g *gathering) put(i int) bool {
	o, n := &g.p.options[i], g.set.counts[i]
	if g.tried++; g.tried > mostTried || !o.buyable || n < o.delivered || n >= o.most || slices.ContainsFunc(o.excludes, func(x int) bool { return g.set.counts[x] > 0 }) {
		return false
	}
	before := len(g.done)
	if slices.ContainsFunc(o.uses, func(u use) bool { return !g.free(u) }) || g.set.counts[i] < n {
		g.back(before)
		return false
	}
	g.p.add(&g.set, i)
	g.done = append(g.done, i)
	if o.bulky() && g.rules.Has(Storage) && !g.p.atHome(&g.set) || !g.meet(o.needs) {
		g.back(before)
		return false
	}
	return true
}

// free makes room on a mount, where it is full by what the frame comes with.
func (g *gathering) free(u use) bool {
	for _, by := range g.p.users[u.mount] {
		o := &g.p.options[by.option]
		for g.set.used[u.mount]+u.count > g.p.capacity[u.mount] && g.set.counts[by.option] > o.stay && g.set.counts[by.option] <= o.delivered {
			g.p.remove(&g.set, by.option)
			g.done = append(g.done, ^by.option)
		}
	}
	return g.set.used[u.mount]+u.count <= g.p.capacity[u.mount]
}

// back undoes what was done last, until so much is left.
func (g *gathering) back(to int) {
	for _, i := range slices.Backward(g.done[to:]) {
		if i < 0 {
			g.p.add(&g.set, ^i)
		} else {
			g.p.remove(&g.set, i)
		}
	}
	g.done = g.done[:to]
}

// meet puts on what meets groups of needs.
func (g *gathering) meet(groups []int) bool {
	for _, n := range groups {
		if g.set.met[n] == 0 && !slices.ContainsFunc(g.p.groups[n].by, g.put) {
			return false
		}
	}
	return true
}

// seatAll sees to it that there are as many places as there are people, for each
// of them that suit.
func (g *gathering) seatAll(stage Stage) bool {
	before := 0
	for k := range stage {
		st := &stage[k]
		if !st.Present || !g.rules.Has(PlaceMissing) {
			continue
		}
		if g.suiting(st) <= before && !g.putPlace(st) {
			return false
		}
		before++
	}
	return true
}

// suiting counts the places on the bike that suit somebody.
func (g *gathering) suiting(st *Standing) int {
	n := 0
	for i := range g.p.framed {
		if pl := &g.p.framed[i]; pl.suits(st, g.rules) && g.set.metAll(pl.needs) {
			n++
		}
	}
	for i, count := range g.set.counts {
		o := &g.p.options[i]
		for j := range o.places {
			if pl := &o.places[j]; g.suits(o, pl, st) && g.set.metAll(pl.needs) {
				n += count
			}
		}
	}
	return n
}

// suits reports whether a place of an option takes somebody, and that bears as
// much in each of its places.
func (g *gathering) suits(o *option, pl *place, st *Standing) bool {
	return pl.suits(st, g.rules) && (o.MaxLoad == 0 || !g.rules.Has(AddOnRating) || measure.Mass(len(o.places))*st.Load <= o.MaxLoad)
}

// putPlace puts on what gives somebody a place, or what a place needs that is there.
func (g *gathering) putPlace(st *Standing) bool {
	for i := range g.p.options {
		o := &g.p.options[i]
		for j := range o.places {
			pl := &o.places[j]
			if !g.suits(o, pl, st) {
				continue
			}
			before := len(g.done)
			if g.put(i) && g.meet(pl.needs) {
				return true
			}
			g.back(before)
		}
	}
	for i := range g.p.framed {
		if pl := &g.p.framed[i]; pl.suits(st, g.rules) && !g.set.metAll(pl.needs) {
			before := len(g.done)
			if g.meet(pl.needs) {
				return true
			}
			g.back(before)
		}
	}
	return false
}

// takePet puts on a carrier for the pet, where none is there.
func (g *gathering) takePet() bool {
	pet := g.p.Demand.Pet
	if pet == 0 || !g.rules.Has(PetPlace) {
		return true
	}
	for i, n := range g.set.counts {
		if n > 0 && g.p.options[i].Pet >= pet {
			return true
		}
	}
	for i := range g.p.options {
		if g.p.options[i].Pet >= pet && g.put(i) {
			return true
		}
	}
	return false
}

// takeCargo puts on what takes the cargo: the carrier next that takes the most of
// it for its weight.
func (g *gathering) takeCargo() bool {
	var mass measure.Mass
	var size measure.Volume
	if g.rules.Has(CargoWeight) {
		mass = g.p.Demand.Cargo
	}
	if g.rules.Has(CargoVolume) {
		size = g.p.Demand.CargoSize
	}
	if mass == 0 && size == 0 {
		return true
	}
	for {
		rest, next, best := 1.0, -1, 0.0
		for n := range g.p.stowage {
			w := &g.p.stowage[n]
			part := w.part(mass, size)
			if w.option < 0 {
				rest -= part
				continue
			}
			rest -= part * float64(g.set.counts[w.option])
			if by := part / float64(g.p.options[w.option].Weight); !g.full[n] && by > best {
				next, best = n, by
			}
		}
		if rest <= 0 || next < 0 {
			return rest <= 0
		}
		g.full[next] = !g.put(g.p.stowage[next].option)
	}
}

// part returns how much of the cargo one carrier takes.
func (w *stowage) part(mass measure.Mass, size measure.Volume) float64 {
	part := 1.0
	if mass > 0 {
		part = min(part, float64(w.mass)/float64(mass))
	}
	if size > 0 {
		part = min(part, float64(w.volume)/float64(size))
	}
	return part
}
