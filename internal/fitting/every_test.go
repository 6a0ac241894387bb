// The slow way to the best build: every set of add-ons, every seating, every
// carrier for the pet and every sharing of the cargo, in order.
package fitting_test

import (
	"cmp"
	"math/big"
	"slices"
	"strings"

	"kinwain/internal/fitting"
	"kinwain/internal/measure"
	"kinwain/internal/profile"
)

// set is one choice of add-ons: how many of every kind are fitted.
type set struct {
	counts []int
	cost   measure.Money
	weight measure.Mass
	bought []string
}

// sets lists every choice that goes together and, under the rules, gets home.
func (w *world) sets(rules fitting.Rules) []set {
	var list []set
	counts := make([]int, len(w.kinds))
	var choose func(i int)
	choose = func(i int) {
		if i == len(counts) {
			if w.goesTogether(counts) && (!rules.Has(fitting.Storage) || w.homely(counts)) {
				list = append(list, w.set(counts))
			}
			return
		}
		for n := range w.kinds[i].most + 1 {
			counts[i] = n
			choose(i + 1)
		}
		counts[i] = 0
	}
	choose(0)
	return list
}

func (w *world) set(counts []int) set {
	price, labour, weight := w.sums(counts)
	s := set{counts: slices.Clone(counts), cost: price + labour, weight: weight, bought: []string{}}
	for i, n := range counts {
		for range n - w.kinds[i].delivered {
			s.bought = append(s.bought, w.kinds[i].Code)
		}
	}
	return s
}

func byCost(a, b set) int {
	return cmp.Or(cmp.Compare(a.cost, b.cost), cmp.Compare(a.weight, b.weight), slices.CompareFunc(a.bought, b.bought, strings.Compare))
}

func byWeight(a, b set) int {
	return cmp.Or(cmp.Compare(a.weight, b.weight), cmp.Compare(a.cost, b.cost), slices.CompareFunc(a.bought, b.bought, strings.Compare))
}

func inOrder(sets []set, objective profile.Objective) []set {
	order := byCost
	if objective == profile.Lightest {
		order = byWeight
	}
	return slices.SortedFunc(slices.Values(sets), order)
}

// seat is one place on the bike; copy is -1 for the frame's own.
type seat struct{ copy, place int }

// settler looks for a way for everyone to sit, in one set.
type settler struct {
	*world
	rules  fitting.Rules
	counts []int
	people []person
	copies []*copied
	seats  []seat // in the order of code, place and copy
	chosen []seat // of the people so far
	pet    int    // an index of copies, or -1

	stowage
}

// settle returns the first settled way, or nil where there is none.
func (w *world) settle(counts []int, people []person, rules fitting.Rules) *settler {
	s := &settler{world: w, rules: rules, counts: counts, people: people, pet: -1}
	if most := w.frame.PassengersMax; rules.Has(fitting.PassengersMax) && most > 0 && len(people) > most {
		return nil
	}
	for i := range w.frame.Places {
		s.seats = append(s.seats, seat{-1, i})
	}
	for i, n := range counts {
		first := len(s.copies)
		for k := range n {
			s.copies = append(s.copies, &copied{kind: &w.kinds[i], number: k})
		}
		for place := range w.kinds[i].Places {
			for k := range n {
				s.seats = append(s.seats, seat{first + k, place})
			}
		}
	}
	if !s.sit(0) {
		return nil
	}
	return s
}

// sit seats person i and everyone after.
func (s *settler) sit(i int) bool {
	if i == len(s.people) || !s.rules.Has(fitting.PlaceMissing) {
		return s.leash()
	}
	for _, at := range s.seats {
		if slices.Contains(s.chosen, at) || !s.takes(at, &s.people[i]) {
			continue
		}
		s.chosen = append(s.chosen, at)
		if s.sit(i + 1) {
			return true
		}
		s.chosen = s.chosen[:len(s.chosen)-1]
	}
	return false
}

func (s *settler) takes(at seat, p *person) bool {
	kind, zone, places := -1, -1, s.frame.Places
	if at.copy >= 0 {
		k := s.copies[at.copy]
		kind, zone, places = s.kindOf(k.Code), k.zone, k.Places
	} else {
		zone = zoneAt(s.frame, places[at.place].Zone)
	}
	pl := &places[at.place]
	for _, group := range pl.Needs {
		if !s.metFor(s.counts, group, kind, zone) {
			return false
		}
	}
	return !s.rules.Has(fitting.PlaceLimits) || p.suits(pl)
}

// leash tries every carrier for the pet and then the cargo.
func (s *settler) leash() bool {
	s.weigh()
	if s.world.pet == 0 || !s.rules.Has(fitting.PetPlace) {
		return s.stow()
	}
	for i, k := range s.copies {
		if k.people > 0 || k.AddOn.Pet == 0 || k.AddOn.Pet < s.world.pet {
			continue
		}
		s.pet = i
		k.load = s.world.pet
		if s.stow() {
			return true
		}
		k.load, s.pet = 0, -1
	}
	return false
}

// weigh puts the people where they sit.
func (s *settler) weigh() {
	for _, k := range s.copies {
		k.people, k.load = 0, 0
	}
	for i, at := range s.chosen {
		if at.copy >= 0 {
			s.copies[at.copy].people++
			s.copies[at.copy].load += s.people[i].load
		}
	}
}

// riding returns the points of all that has a place, cargo aside.
func (s *settler) riding() []point {
	points := s.parts(s.counts)
	for i, at := range s.chosen {
		zone, places := -1, s.frame.Places
		if at.copy >= 0 {
			zone, places = s.copies[at.copy].zone, s.copies[at.copy].Places
		} else {
			zone = zoneAt(s.frame, places[at.place].Zone)
		}
		points = append(points, s.spot(zone, places[at.place].Ahead).of(s.people[i].load))
	}
	if s.pet >= 0 {
		points = append(points, s.spot(s.copies[s.pet].zone, 0).of(s.world.pet))
	}
	return points
}

// stow checks every rating and asks whether the cargo can be shared out.
func (s *settler) stow() bool {
	for _, k := range s.copies {
		if s.rules.Has(fitting.AddOnRating) && k.MaxLoad > 0 && k.load > k.MaxLoad {
			return false
		}
	}
	s.stowage = stowage{w: s.world}
	points, everything := s.riding(), s.burden()
	for _, p := range points {
		s.lean += s.side(p.zone) * p.inZone
	}
	for i := range s.ratings {
		r := &s.ratings[i]
		if !s.rules.Has(r.rule) {
			continue
		}
		left := r.left(points)
		switch {
		case r.rule == fitting.GrossRating:
			// Whatever rides along counts, wherever it sits.
			left = r.left(s.parts(s.counts)) - int64(everything)
			fallthrough
		case r.rule != fitting.AxleRating && r.rule != fitting.FrontLight:
			if left < 0 {
				return false
			}
		}
		if r.rule != fitting.GrossRating {
			s.bounds = append(s.bounds, bound{r, left})
		}
	}
	return s.share()
}

func (s *settler) burden() measure.Mass {
	sum := s.world.pet + s.cargo
	for i := range s.people {
		sum += s.people[i].load
	}
	return sum
}

// share lists the carriers and asks the question. Without cargo the ratings
// alone decide.
func (s *settler) share() bool {
	mass, size := s.cargo, s.size
	if !s.rules.Has(fitting.CargoWeight) {
		mass = 0
	}
	if !s.rules.Has(fitting.CargoVolume) {
		size = 0
	}
	s.mass = mass
	if mass == 0 && size == 0 {
		return !slices.ContainsFunc(s.bounds, func(b bound) bool { return b.room < 0 })
	}
	for z := range s.frame.Zones {
		if ownMass, ownSize := s.ownRoom(s.counts, z); ownMass > 0 {
			s.carriers = append(s.carriers, carrier{s.frame.Zones[z].Code, z, lesser(portion(ownMass, mass), portion(ownSize, size))})
		}
	}
	for i, k := range s.copies {
		if k.AddOn.Cargo == 0 || i == s.pet {
			continue
		}
		bears := k.AddOn.Cargo
		if k.MaxLoad > 0 && s.rules.Has(fitting.AddOnRating) {
			bears = min(bears, k.MaxLoad-k.load)
		}
		s.carriers = append(s.carriers, carrier{k.Code, k.zone, lesser(portion(bears, mass), portion(k.CargoVolume, size))})
	}
	slices.SortStableFunc(s.carriers, s.sooner)
	return s.possible()
}

// portion returns which part of what is asked for there is room for.
func portion[Q ~int64](room, asked Q) *big.Rat {
	if asked == 0 || room >= asked {
		return rat(1)
	}
	return big.NewRat(int64(max(room, 0)), int64(asked))
}

func lesser(a, b *big.Rat) *big.Rat {
	if a.Cmp(b) < 0 {
		return a
	}
	return b
}

// sooner orders carriers: unsteered zones first, then the lowest, then the
// nearest to the middle of the wheelbase, then by code.
func (s *settler) sooner(a, b carrier) int {
	y, z := &s.frame.Zones[a.zone], &s.frame.Zones[b.zone]
	off := func(ahead measure.Length) measure.Length {
		return max(2*ahead-s.frame.Wheelbase, s.frame.Wheelbase-2*ahead)
	}
	return cmp.Or(b2i(y.Steered)-b2i(z.Steered), cmp.Compare(y.Height, z.Height), cmp.Compare(off(y.Ahead), off(z.Ahead)), strings.Compare(a.code, b.code))
}
