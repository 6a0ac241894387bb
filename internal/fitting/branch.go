package fitting

import (
	"cmp"
	"math"
	"slices"

	"kinwain/internal/fitting/relax"
)

// shortcut is something that the search does without in tests, which hold it
// to the same answers.
type shortcut uint16

const (
	covering  shortcut = 1 << iota // rows by rounding, see cover
	heading                        // rows that count heads, see heads
	zoning                         // branch on who sits in which zone
	fixing                         // fix counts by their reduced costs
	lookahead                      // look one step ahead before a node is made
	diving                         // go straight down now and then
	pruning                        // leave out what is of no use, see findUseful
	recalling                      // begin with what held before, see remember
	refuting                       // know what was proved before, see refuted
	parting                        // rows of each person on a carrier, see eachSitsOn
	shrinking                      // branch on what makes the bike too large, see bulk
	outdoing                       // fit nothing where a better one would do, see outdone
	leaving                        // leave the frame as it comes where that will do, see asDelivered
	gathered                       // put a set together before it is searched for, see gather
)

// branch closes a node and opens others that have all of its sets between
// them, or settles the set at which it stands.
func (s *search) branch(n *node) {
	from := len(s.open)
	if s.p.without&diving == 0 && (s.first && s.rounds == 1 || s.rounds > 3 && s.rounds&(s.rounds-1) == 0) {
		s.dive(n)
	}
	if s.err != nil || s.wanting != nil {
		s.floor = min(s.floor, n.bound)
		s.close(n)
		return
	}
	if s.beaten(n.bound) {
		s.close(n)
		return
	}
	s.fixByCost(n)
	if who, zone := s.torn(n); who != nil {
		s.part(n, who, zone)
	} else if column := s.fraction(n); column >= 0 {
		s.split(n, column)
	} else {
		s.settle(n)
	}
	slices.SortStableFunc(s.open[from:], func(a, b *node) int { return cmp.Compare(b.bound, a.bound) }) // the last is next
}

// torn returns who the relaxation has sit in several zones by parts, and the
// zone of which that is least clear.
func (s *search) torn(n *node) (*sitter, int) {
	var who *sitter
	in, most := 0, 1e-5
	if !n.settled || s.p.without&zoning != 0 {
		return nil, 0
	}
	for k := range s.sitters {
		one := &s.sitters[k]
		for z := -1; z < len(s.p.Frame.Zones); z++ {
			if part := one.in(&n.relax, z); min(part, 1-part) > most {
				who, in, most = one, z, min(part, 1-part)
			}
		}
	}
	return who, in
}

// in returns how much of somebody sits in a zone.
func (w *sitter) in(r *relax.Relaxation, zone int) float64 {
	sum := 0.0
	for i, c := range w.columns {
		if w.zones[i] == zone {
			sum += r.Value(c)
		}
	}
	return sum
}

// part branches by whether somebody sits in a zone.
func (s *search) part(n *node, who *sitter, zone int) {
	in := s.copied(n)
	for i, column := range who.columns {
		if who.zones[i] == zone {
			n.relax.Move(column, 0, 0)
		} else {
			in.relax.Move(column, 0, 0)
		}
	}
	bound := n.bound
	s.add(in, bound)
	s.add(n, bound)
}

// fraction returns the column that is branched on, or -1: of the counts that
// are not whole where the relaxation stands, the one for which rounding costs
// most.
func (s *search) fraction(n *node) int {
	if !n.settled {
		return s.loose(n)
	}
	column, most := -1, 0.0
	for _, c := range s.counted {
		v := n.relax.Value(c)
		off := math.Abs(v - math.Round(v))
		if weighed := off * (1 + math.Abs(s.relax.Cost(c))); off > integral && weighed > most {
			column, most = c, weighed
		}
	}
	return column
}

// farthest returns the column that is farthest from whole, or -1.
func (s *search) farthest(r *relax.Relaxation, columns []int) int {
	column, most := -1, integral
	for _, c := range columns {
		if c < 0 {
			continue
		}
		low, high := r.Ends(c)
		v := r.Value(c)
		if off := math.Abs(v - math.Round(v)); off > most && low < high {
			column, most = c, off
		}
	}
	return column
}

// loose returns a column that counts add-ons and can be more than one number,
// or -1.
func (s *search) loose(n *node) int {
	for _, c := range s.counted {
		if low, high := n.relax.Ends(c); low < high {
			return c
		}
	}
	return -1
}

// split branches at where a column stands, or above it where it is whole.
func (s *search) split(n *node, column int) {
	low, high := n.relax.Ends(column)
	down := min(max(math.Floor(n.relax.Value(column)+integral), low), high-1)
	s.cut(n, column, down+1, high)
	if s.hopeless(n, column, low, down) {
		s.close(n)
		return
	}
	n.relax.Move(column, low, down)
	s.add(n, n.bound)
}

// cut opens the node in which a column has other ends.
func (s *search) cut(n *node, column int, low, high float64) {
	if low <= high && !s.hopeless(n, column, low, high) {
		c := s.copied(n)
		c.relax.Move(column, low, high)
		s.add(c, n.bound)
	}
}

func (s *search) hopeless(n *node, column int, low, high float64) bool {
	if s.p.without&lookahead != 0 || !n.relax.Hopeless(column, low, high, s.enough()) {
		return false
	}
	s.blamed |= Rules(n.relax.Blamed())
	return true
}

// fixByCost fixes the columns of which one step more makes every set worse
// than the incumbent: the bound, and what the step costs by the same
// multipliers, are together a bound for the sets beyond it; it is the sum of
// proof.bound with that end moved.
func (s *search) fixByCost(n *node) {
	if !s.found || s.p.without&fixing != 0 {
		return
	}
	r := &n.relax
	for _, columns := range [...][]int{s.counted, s.sitting, s.met} {
		for _, c := range columns {
			if c < 0 {
				continue
			}
			low, high := r.Ends(c)
			if low == high {
				continue
			}
			if by := r.Reduced(c); by > 0 && n.here+by > s.value && r.Value(c) == low {
				r.Move(c, low, low)
			} else if by < 0 && n.here-by > s.value && r.Value(c) == high {
				r.Move(c, high, high)
			}
		}
	}
}

// dive goes down from a node without looking back, to a set that may hold: an
// incumbent closes nodes, so one should be found early.
func (s *search) dive(n *node) {
	c := s.copied(n)
	defer s.close(c)
	r := &c.relax
	for c.settled = n.settled; c.settled; {
		if who, _ := s.torn(c); who != nil {
			s.lean(r, who)
		} else if column := s.highest(r); column >= 0 {
			_, high := r.Ends(column)
			r.Move(column, math.Ceil(r.Value(column)), high)
		} else {
			s.judge(r)
			return
		}
		c.settled = s.exclude(r) && r.Solve(s.enough()) == relax.Solved && !s.beaten(r.Bound())
	}
}

// lean has somebody sit in the zone in which the most of them does.
func (s *search) lean(r *relax.Relaxation, who *sitter) {
	zone, most := 0, -1.0
	for z := -1; z < len(s.p.Frame.Zones); z++ {
		if part := who.in(r, z); part > most {
			zone, most = z, part
		}
	}
	for i, column := range who.columns {
		if who.zones[i] != zone {
			r.Move(column, 0, 0)
		}
	}
}

// highest returns the column that counts add-ons and is nearest to the whole
// number above it, or -1.
func (s *search) highest(r *relax.Relaxation) int {
	column, most := -1, integral
	for _, c := range s.counted {
		v := r.Value(c)
		if off := v - math.Floor(v); off > most && off < 1-integral {
			column, most = c, off
		}
	}
	return column
}
