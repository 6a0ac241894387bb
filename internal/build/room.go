package build

import (
	"cmp"
	"math"
	"slices"

	"kinhaul/internal/load"
)

// room is what the rating of a zone, or of zones together, leaves.
type room struct {
	zones []int // the zones that share it
	spare int64 // grams; what may yet come off counts as off
}

// rooms lists the room of every zone, and after them that of combined zones.
// A zone without a rating has all the room there is.
func (s *search) rooms() []room {
	s.roomy = s.roomy[:0]
	for z := range s.p.Frame.Zones {
		s.roomy = append(s.roomy, room{zones: s.p.byItself[z], spare: endless})
	}
	for l := range s.p.limits {
		limit := &s.p.limits[l]
		if limit.Rule != load.InZone && limit.Rule != load.Combined || !s.rules.enforced(limit) {
			continue
		}
		spare := limit.Cap - s.state.load[l] + s.mayComeOff(l)
		if zones := s.p.zonesOf[l]; limit.Rule == load.InZone {
			s.roomy[zones[0]].spare = spare
		} else {
			s.roomy = append(s.roomy, room{zones: zones, spare: spare})
		}
	}
	return s.roomy
}

// endless is more than any load, and far from overflowing a sum of them.
const endless = int64(1) << 40

// mayComeOff returns how much of a limit the parts take up that may come off.
func (s *search) mayComeOff(l int) int64 {
	var sum int64
	for i := range s.p.options {
		if o := &s.p.options[i]; o.delivered > 0 && s.canTakeOff(i) {
			sum += int64(s.state.counts[i]) * max(o.per[l], 0)
		}
	}
	return sum
}

// lackRoom compares the party and the cargo with the places and carriers that
// each zone's rating lets be used.
//
// A zone with p places seats at most as many as it has places, and at most as
// many as are the lightest of the party that weigh no more than its room. Where
// the zones together fall short, some zone with room for more people than
// places needs a further place: a place anywhere else helps nothing. The same
// holds of grams of cargo, and with zones under a combined rating counted
// together.
func (s *search) lackRoom() {
	rooms := s.rooms()
	zones := rooms[:len(s.p.Frame.Zones)]
	if s.rules.Has(PlaceMissing) {
		s.countSeats()
		for _, stage := range s.ends() {
			if s.lackSeats(stage, rooms, zones) {
				break
			}
		}
	}
	if cargo := int64(s.p.Demand.Cargo); cargo > 0 && s.rules.Has(CargoWeight) {
		s.countCargo()
		s.lackOver(lackMass, cargo, rooms, zones, s.inZone, func(spare int64) int64 { return max(spare, 0) })
	}
}

// countSeats counts the places of every zone, countCargo the grams that its
// carriers bear.
func (s *search) countSeats() {
	clear(s.inZone)
	note := func(places []place, copies int) {
		for k := range places {
			if z := places[k].spot.Zone; z >= 0 && s.usable(&places[k]) {
				s.inZone[z] += int64(copies)
			}
		}
	}
	note(s.p.framed, 1)
	for i, n := range s.state.counts {
		if n > 0 {
			note(s.p.options[i].places, n)
		}
	}
}

func (s *search) countCargo() {
	clear(s.inZone)
	for i := range s.p.stowage {
		w := &s.p.stowage[i]
		n := int64(1)
		if w.option >= 0 {
			n = int64(s.state.counts[w.option])
		}
		if w.spot.Zone >= 0 {
			s.inZone[w.spot.Zone] += n * int64(w.mass)
		}
	}
}

func (s *search) lackSeats(stage Stage, rooms, zones []room) bool {
	s.loads = s.loads[:0]
	for k := range stage {
		if stage[k].Present {
			s.loads = append(s.loads, int64(stage[k].Load))
		}
	}
	slices.Sort(s.loads)
	heads := func(spare int64) (n int64) {
		for _, m := range s.loads {
			if spare -= m; spare < 0 {
				break
			}
			n++
		}
		return n
	}
	return s.lackOver(lackPlaces, int64(len(s.loads)), rooms, zones, s.inZone, heads)
}

// lackOver adds a lack for the zones by themselves, or else for one combined
// rating, where they fall short of what is asked. fits says how much fits in
// so many grams of room.
func (s *search) lackOver(kind lackKind, asked int64, rooms, zones []room, have []int64, fits func(int64) int64) bool {
	for c := len(zones) - 1; c < len(rooms); c++ {
		var sum, inside, most int64
		shared := []int(nil)
		if c >= len(zones) {
			shared, most = rooms[c].zones, fits(rooms[c].spare)
		}
		for z := range zones {
			n := min(have[z], fits(zones[z].spare))
			if slices.Contains(shared, z) {
				inside += n
			} else {
				sum += n
			}
		}
		if short := asked - sum - min(inside, most); short > 0 {
			helps := make([]bool, len(zones))
			for z := range zones {
				in := slices.Contains(shared, z)
				helps[z] = have[z] < fits(zones[z].spare) && (!in || inside < most)
			}
			s.lacks = append(s.lacks, lack{kind: kind, units: short, zones: helps})
			return true
		}
	}
	return false
}

// lackImplied adds what meeting a lack needs in turn: whichever option serves
// it, either that option has no need of its own that is not met, or something
// that meets one of its needs must come too. One of all these must be fitted.
func (s *search) lackImplied() {
	for k := range len(s.lacks) {
		if l := &s.lacks[k]; l.kind == lackNeeds && s.canTakeOff(l.owner) {
			continue
		}
		for nth := range maxImplied {
			implied := lack{kind: lackImplied, units: 1, brings: s.row()}
			if !s.implied(&s.lacks[k], nth, implied.brings) {
				break
			}
			for i, b := range implied.brings {
				if b > 0 && s.may[i] > 0 {
					implied.choice++
				} else {
					implied.brings[i] = 0
				}
			}
			s.lacks = append(s.lacks, implied)
		}
	}
}

const maxImplied = 4

// implied marks what must come with the options that serve a lack: for each
// something that meets its nth unmet need, or itself where it has none. It
// reports whether any of them has one.
func (s *search) implied(l *lack, nth int, helps []int64) bool {
	any := false
	meets := func(g *group) {
		any = true
		for j := range s.p.options {
			if s.p.options[j].meets(g, j) {
				helps[j] = 1
			}
		}
	}
	for i := range s.p.options {
		if l.brings[i] == 0 {
			continue
		}
		o := &s.p.options[i]
		g, rest := s.unmet(o, i, o.needs, nth)
		switch {
		case g != nil:
			meets(g)
		case l.kind != lackPlaces || s.places[i] == 0 || !l.helpsIn(o.spot.Zone) || s.unlocks(l, i):
			helps[i] = 1
		default:
			for k := range o.places {
				if !s.suitsSomebody(&o.places[k]) {
					continue
				}
				if g, _ := s.unmet(o, i, o.places[k].needs, rest); g != nil {
					meets(g)
				} else {
					helps[i] = 1
				}
			}
		}
	}
	return any
}

// unlocks reports whether an option makes a place usable that is there.
func (s *search) unlocks(l *lack, i int) bool {
	return slices.ContainsFunc(s.unusable, func(u locked) bool {
		return l.helpsIn(u.place.spot.Zone) && u.needs(&s.p.options[i], i)
	})
}

// unmet returns the nth of the needs that neither the present set nor the
// option itself meets, or nil and how many are left to count.
func (s *search) unmet(o *option, i int, needs []group, nth int) (*group, int) {
	for k := range needs {
		if g := &needs[k]; !s.state.met(*g) && !o.meets(g, i) {
			if nth == 0 {
				return g, 0
			}
			nth--
		}
	}
	return nil, nth
}

// offer is what one option can bring toward what is missing.
type offer struct {
	price float64 // of one unit
	units float64 // that it can bring in all
	mount int     // the mount it takes most of, or -1
}

// offer lists what the options can bring toward a lack, and sets onMount to
// what those on a mount can bring together: no more than the best of them
// would with the whole of the mount.
func (s *search) offer(l *lack) {
	s.offers = s.offers[:0]
	clear(s.onMount)
	for i, units := range l.brings {
		if units == 0 {
			continue
		}
		offer := offer{price: s.prices[i] / float64(units), units: float64(units) * float64(s.may[i]), mount: -1}
		most := 0.0
		for _, u := range s.p.options[i].uses {
			if part := float64(u.count) / float64(max(s.free[u.mount], 1)); part > most {
				most, offer.mount = part, u.mount
			}
		}
		if offer.mount >= 0 {
			s.onMount[offer.mount] = max(s.onMount[offer.mount], math.Floor(float64(units)/most+surely))
		}
		s.offers = append(s.offers, offer)
	}
}

// short reports whether all that may yet come is too little for a lack.
func (s *search) short(l *lack) bool {
	s.offer(l)
	left := float64(l.units)
	for _, o := range s.offers {
		left -= s.takeFrom(o, left)
	}
	return left > 0
}

// takeFrom takes what an offer has of the units left to find.
func (s *search) takeFrom(o offer, left float64) float64 {
	n := min(left, o.units)
	if o.mount >= 0 {
		n = min(n, s.onMount[o.mount])
		s.onMount[o.mount] -= n
	}
	return n
}

// dearest prices the lack of a kind that costs most, and takes what was
// charged for it off the options: of each its whole price, or, of those that
// are dearer than the last unit bought, what that cost.
func (s *search) dearest(kind lackKind) float64 {
	var dearest *lack
	most, price := 0.0, 0.0
	for k := range s.lacks {
		if l := &s.lacks[k]; l.kind == kind && l.units > 1 {
			if sum, last := s.least(l); dearest == nil || sum > most {
				dearest, most, price = l, sum, last
			}
		}
	}
	if dearest != nil {
		for i, b := range dearest.brings {
			s.prices[i] = max(s.prices[i]-price*float64(b), 0)
		}
	}
	return most
}

// least returns the least that a lack costs, and what the last unit of it
// costs: they are bought from the option with the lowest price a unit on, of
// each as many as it and its mount can bring.
//
// Proof: no set can bring more from an option, or from those on a mount, than
// the offers say, so in the sum over options of price × units no less is paid.
// No option above the last price is bought, so it might as well have had that
// price.
func (s *search) least(l *lack) (sum, last float64) {
	s.offer(l)
	slices.SortFunc(s.offers, func(a, b offer) int { return cmp.Compare(a.price, b.price) })
	left := float64(l.units)
	for _, o := range s.offers {
		if n := s.takeFrom(o, left); n > 0 {
			left, sum, last = left-n, sum+n*o.price, o.price
		}
	}
	return sum, last
}
