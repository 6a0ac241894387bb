package fitting

import (
	"cmp"
	"math/bits"
	"slices"

	"kinwain/internal/profile"
)

// market is what can be bought, by purpose, and what it costs in terms of the
// objective: cents, or grams where the lightest set is looked for. It does not
// change during a search.
type market struct {
	charges          []int64 // per option, of one
	seats            []int   // options with places; this and the next in order of charge
	pets             []int   // that take the pet
	providers        [][]int // per group of needs, what meets it
	byMass, byVolume []int   // that carry cargo which there is, by what a gram costs, or a millilitre
	serves           []bool  // per option: it may be bought for more than the cargo
	parts            []int   // what the frame comes with
	needy            []int   // of these, what has needs of its own
	packing
	meets, needs []uint64 // per option, groups of needs as bits
}

// packing is the uses of mounts in one word: every mount has a field that
// holds its capacity, and above it a guard. Mounts for which there are no bits
// left are not looked at, which only makes what is worked out with it more
// hopeful.
type packing struct {
	packed []uint64 // per option, what one uses
	guards uint64
}

// rest returns what a use leaves of the mounts, and whether there was enough:
// where a field would fall below zero it borrows from its guard.
func (p *packing) rest(room, use uint64) (uint64, bool) {
	left := (room | p.guards) - use
	return left &^ p.guards, left&p.guards == p.guards
}

// groupBits is how many groups of needs are looked at ahead; see key.
const groupBits = 32

func groupBit(g int) uint64 {
	if g < groupBits {
		return 1 << g
	}
	return 0
}

func groupsAsBits(groups []int) (all uint64) {
	for _, g := range groups {
		all |= groupBit(g)
	}
	return all
}

func (s *search) openMarket() {
	p, n := s.p, len(s.p.options)
	words := make([]uint64, 3*n)
	s.charges, s.serves = make([]int64, n), make([]bool, n)
	s.packed, s.meets, s.needs = words[:n:n], words[n:2*n:2*n], words[2*n:]
	s.pack()
	order := make([]int, 0, n)
	for i := range p.options {
		o := &p.options[i]
		s.charges[i] = int64(o.Price + o.labour)
		if s.objective == profile.Lightest {
			s.charges[i] = int64(o.Weight)
		}
		s.meets[i], s.needs[i] = groupsAsBits(o.meets), groupsAsBits(o.needs)
		s.serves[i] = len(o.places) > 0 || len(o.meets) > 0
		if o.buyable {
			order = append(order, i)
		}
	}
	slices.SortStableFunc(order, func(a, b int) int { return cmp.Compare(s.charges[a], s.charges[b]) })
	s.sortIn(order)
}

// listParts lists what the frame comes with.
func (s *search) listParts() {
	for i := range s.p.options {
		if o := &s.p.options[i]; o.delivered > 0 {
			s.parts = append(s.parts, i)
			if len(o.needs) > 0 {
				s.needy = append(s.needy, i)
			}
		}
	}
}

// sortIn files what can be bought by purpose.
func (s *search) sortIn(order []int) {
	d, meeting := s.p.Demand, 0
	for g := range s.p.groups {
		meeting += len(s.p.groups[g].by)
	}
	lists := make([]int, 0, 4*len(order)+meeting)
	pick := func(wanted func(i int, o *option) bool) []int {
		from := len(lists)
		for _, i := range order {
			if wanted(i, &s.p.options[i]) {
				lists = append(lists, i)
			}
		}
		return lists[from:len(lists):len(lists)]
	}
	s.seats = pick(func(_ int, o *option) bool { return len(o.places) > 0 })
	if d.Pet > 0 && s.rules.Has(PetPlace) {
		s.pets = pick(func(_ int, o *option) bool { return s.takesPet(o) })
	}
	if s.cargoMass() > 0 {
		s.byMass = pick(func(_ int, o *option) bool { return o.Cargo > 0 })
		s.sortByUnit(s.byMass, true)
	}
	if s.cargoVolume() > 0 {
		s.byVolume = pick(func(_ int, o *option) bool { return o.Cargo > 0 && o.CargoVolume > 0 })
		s.sortByUnit(s.byVolume, false)
	}
	s.providers = make([][]int, len(s.p.groups))
	for g := range s.p.groups {
		s.providers[g] = pick(func(_ int, o *option) bool { return slices.Contains(o.meets, g) })
	}
}

// sortByUnit puts those first of which a gram, or a millilitre, costs least.
func (s *search) sortByUnit(list []int, mass bool) {
	slices.SortStableFunc(list, func(a, b int) int {
		return cmp.Compare(s.haulingCharge(a)*s.p.options[b].hauls(mass), s.haulingCharge(b)*s.p.options[a].hauls(mass))
	})
}

func (s *search) takesPet(o *option) bool { return o.Pet > 0 && o.Pet >= s.p.Demand.Pet }

// cargoMass and cargoVolume are what has to be carried, in grams and
// millilitres, as far as the rules ask for it.
func (s *search) cargoMass() int64 {
	if !s.rules.Has(CargoWeight) {
		return 0
	}
	return int64(s.p.Demand.Cargo)
}

func (s *search) cargoVolume() int64 {
	if !s.rules.Has(CargoVolume) {
		return 0
	}
	return int64(s.p.Demand.CargoSize)
}

// pack lays the fields of the mounts out that can be too small for what is
// sold. All delivered parts count as off: they may make room yet.
func (s *search) pack() {
	at := 0
	for m, capacity := range s.p.capacity {
		wanted := 0
		for i := range s.p.options {
			if o := &s.p.options[i]; o.buyable || o.delivered > 0 {
				for _, u := range o.uses {
					if u.mount == m {
						wanted += u.count * max(o.most, o.delivered)
					}
				}
			}
		}
		width := bits.Len(uint(capacity)) + 1
		if wanted <= capacity || at+width > 64 {
			continue
		}
		for i := range s.p.options {
			for _, u := range s.p.options[i].uses {
				if u.mount == m {
					// What is too large for the mount fills the field.
					s.packed[i] += uint64(min(u.count, 1<<(width-1)-1)) << at
				}
			}
		}
		s.room |= uint64(capacity) << at
		s.guards |= 1 << (at + width - 1)
		at += width
	}
}
