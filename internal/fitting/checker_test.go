// An independent check of one finished build against every rule: given the
// documents and the answer, and nothing else of the solver.
package fitting_test

import (
	"fmt"
	"slices"

	"kinwain/internal/catalog"
	"kinwain/internal/fitting"
	"kinwain/internal/measure"
)

// checker collects what is wrong with one build on one day.
type checker struct {
	*world
	*fitting.Build
	faults []string
	counts []int
	copies []*copied
	points []point
}

// copied is one fitted copy of an add-on, with what it carries.
type copied struct {
	*kind
	number int
	people int
	load   measure.Mass
	pet    bool
}

func (c *checker) fault(format string, args ...any) {
	c.faults = append(c.faults, fmt.Sprintf(format, args...))
}

// broken lists every rule that a build breaks on a day.
func broken(in *instance, day measure.Date, b *fitting.Build) []string {
	c := &checker{world: worldOf(in), Build: b}
	if !c.recount() {
		return c.faults
	}
	if clash := c.clash(c.counts); clash != "" {
		c.fault("%s", clash)
	}
	if !c.homely(c.counts) {
		c.fault("the bike does not get home or does not fit there")
	}
	c.addUp()
	c.points = c.parts(c.counts)
	c.seat(party(in.profile, day))
	c.leash()
	c.stow()
	return c.faults
}

// recount works out what is fitted from what came, was bought and came off.
func (c *checker) recount() bool {
	c.counts = make([]int, len(c.kinds))
	for i := range c.kinds {
		k := &c.kinds[i]
		bought, off := count(c.AddOns, k.Code), count(c.TakenOff, k.Code)
		c.counts[i] = k.delivered + bought - off
		if bought > 0 && (off > 0 || !slices.Contains(k.Fits, c.frame.Code)) {
			c.fault("%s is bought, though it does not fit or was taken off", k.Code)
		}
		if c.counts[i] < 0 || c.counts[i] > k.most {
			c.fault("%s is fitted %d times of at most %d", k.Code, c.counts[i], k.most)
		}
		for n := range max(c.counts[i], 0) {
			c.copies = append(c.copies, &copied{kind: k, number: n})
		}
	}
	for _, code := range append(slices.Clone(c.AddOns), c.TakenOff...) {
		if c.copyOf(code, 0) == nil && count(c.TakenOff, code) == 0 {
			c.fault("%s is no add-on of this frame", code)
		}
	}
	if !slices.IsSorted(c.AddOns) || !slices.IsSorted(c.TakenOff) {
		c.fault("the codes are not sorted: %v, %v", c.AddOns, c.TakenOff)
	}
	return len(c.faults) == 0
}

func count(list []string, code string) int {
	n := 0
	for _, s := range list {
		n += b2i(s == code)
	}
	return n
}

func (c *checker) copyOf(code string, number int) *copied {
	for _, k := range c.copies {
		if k.Code == code && k.number == number {
			return k
		}
	}
	return nil
}

func (c *checker) addUp() {
	price, labour, weight := c.sums(c.counts)
	if c.Price != price || c.Labour != labour || c.Weight != weight {
		c.fault("price %d, labour %d, weight %d; they sum up to %d, %d, %d", c.Price, c.Labour, c.Weight, price, labour, weight)
	}
}

// seat checks that everyone of the party has a place of their own that suits.
func (c *checker) seat(people []person) {
	if most := c.frame.PassengersMax; most > 0 && len(people) > most {
		c.fault("%d passengers of at most %d", len(people), most)
	}
	if len(c.Seating) != len(people) {
		c.fault("%d of %d passengers are seated", len(c.Seating), len(people))
		return
	}
	taken := map[string]bool{}
	for i, s := range c.Seating {
		p := &people[i]
		if s.Passenger != p.label {
			c.fault("seat %d is %q's, not %q's", i, s.Passenger, p.label)
		}
		if at := fmt.Sprint(s.AddOn, s.Copy, s.Place); taken[at] {
			c.fault("two sit in %s", at)
		} else {
			taken[at] = true
		}
		c.sit(s, p)
	}
}

func (c *checker) sit(s fitting.Seat, p *person) {
	places, zone := c.frame.Places, -1
	if s.AddOn != "" {
		k := c.copyOf(s.AddOn, s.Copy)
		if k == nil {
			c.fault("%s sits on %s number %d, which is not fitted", p.label, s.AddOn, s.Copy)
			return
		}
		places, zone = k.Places, k.zone
		k.people++
		k.load += p.load
	}
	if s.Place < 0 || s.Place >= len(places) {
		c.fault("%s sits in place %d of %d", p.label, s.Place, len(places))
		return
	}
	pl := &places[s.Place]
	if s.AddOn == "" {
		zone = zoneAt(c.frame, pl.Zone)
	}
	c.place(p, pl, c.kindOf(s.AddOn), zone)
}

func (c *checker) place(p *person, pl *catalog.Place, kind, zone int) {
	if !p.suits(pl) {
		c.fault("the place does not suit %s", p.label)
	}
	for _, group := range pl.Needs {
		if !c.metFor(c.counts, group, kind, zone) {
			c.fault("%s sits where %v is needed", p.label, group)
		}
	}
	c.points = append(c.points, c.spot(zone, pl.Ahead).of(p.load))
}

// leash checks the pet. Of several copies of its carrier it has the first that
// nobody sits on.
func (c *checker) leash() {
	if (c.world.pet > 0) != (c.Pet != "") {
		c.fault("a pet of %v rides on %q", c.world.pet, c.Pet)
	}
	if c.Pet == "" {
		return
	}
	for _, k := range c.copies {
		if k.Code == c.Pet && k.people == 0 {
			if k.AddOn.Pet < c.world.pet {
				c.fault("%s takes a pet of %v, not of %v", k.Code, k.AddOn.Pet, c.world.pet)
			}
			k.pet, k.load = true, c.world.pet
			c.points = append(c.points, c.spot(k.zone, 0).of(c.world.pet))
			return
		}
	}
	c.fault("the pet's %s is not fitted, or somebody sits on it", c.Pet)
}

// stow checks the shares of the cargo and then, with all on the bike, every
// rating.
func (c *checker) stow() {
	var mass measure.Mass
	var volume measure.Volume
	for _, s := range c.Cargo {
		mass, volume = mass+s.Mass, volume+s.Volume
		// Both round the same part of the whole, each by less than one.
		if skew := int64(s.Mass)*int64(c.size) - int64(s.Volume)*int64(c.cargo); max(skew, -skew) >= int64(c.size)+int64(c.cargo) && c.cargo > 0 && c.size > 0 {
			c.fault("%d g and %d ml in %s are not of one density", s.Mass, s.Volume, s.Carrier)
		}
		c.points = append(c.points, c.spot(zoneAt(c.frame, s.Zone), 0).of(s.Mass))
	}
	if mass != c.cargo || volume != c.size {
		c.fault("%d g and %d ml of %d and %d are stowed", mass, volume, c.cargo, c.size)
	}
	if !c.carriersHold(0, map[any]bool{}) {
		c.fault("no way to tell the carriers apart lets the shares %v hold", c.Cargo)
	}
	c.rate()
}

// carriersHold finds a carrier for every share: shares name the add-on, not
// the copy, and a zone may be called like an add-on.
func (c *checker) carriersHold(share int, taken map[any]bool) bool {
	if share == len(c.Cargo) {
		return true
	}
	s := &c.Cargo[share]
	try := func(who any, mass measure.Mass, volume measure.Volume) bool {
		if taken[who] || s.Mass > mass || s.Volume > volume {
			return false
		}
		taken[who] = true
		defer delete(taken, who)
		return c.carriersHold(share+1, taken)
	}
	for _, k := range c.copies {
		if k.Code != s.Carrier || k.Zone != s.Zone || k.AddOn.Cargo == 0 || k.pet {
			continue
		}
		mass := k.AddOn.Cargo
		if k.MaxLoad > 0 {
			mass = min(mass, k.MaxLoad-k.load)
		}
		if try(k, mass, k.CargoVolume) {
			return true
		}
	}
	if s.Carrier != s.Zone {
		return false
	}
	at := zoneAt(c.frame, s.Zone)
	mass, volume := c.ownRoom(c.counts, at)
	return mass > 0 && try(&c.frame.Zones[at], mass, volume)
}

// rate checks every rating.
func (c *checker) rate() {
	for _, k := range c.copies {
		if k.MaxLoad > 0 && k.load > k.MaxLoad {
			c.fault("%s carries %d of at most %d g", k.Code, k.load, k.MaxLoad)
		}
	}
	for i := range c.ratings {
		r := &c.ratings[i]
		if left := r.left(c.points); left < 0 {
			c.fault("rating %s %s is exceeded: %d left", r.rule.Code(), r.name, left)
		}
	}
}
