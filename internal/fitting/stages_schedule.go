package fitting

import (
	"cmp"
	"math"
	"slices"

	"kinwain/internal/measure"
)

// sequence is a plan: one set for each period.
type sequence struct {
	sequence       [][]int
	price, labour  measure.Money
	changes, codes int
}

// knownSet is what is known of one set.
type knownSet struct {
	state    state
	together bool   // it goes together and gets home
	asked    uint32 // per period, whether that was asked
	holds    uint32
}

// holdsIn reports whether a set holds throughout a period.
func (s *planner) holdsIn(counts []int, period int) bool {
	name := nameOf(counts)
	set := s.known[name]
	if set == nil {
		set = &knownSet{state: s.p.stateOf(counts)}
		set.together = s.p.goTogether(&set.state) && s.p.atHome(&set.state)
		s.known[name] = set
	}
	bit := uint32(1) << s.like[period]
	if set.together && set.asked&bit == 0 {
		set.asked |= bit
		if s.always(&set.state, s.parties[period]) {
			set.holds |= bit
		}
	}
	return set.holds&bit != 0
}

func (s *planner) always(set *state, parties []Stage) bool {
	for i := len(parties) - 1; i >= 0; i-- {
		if !s.settler.settle(set, parties[i], AllRules) {
			return false
		}
	}
	return true
}

// moving returns the labour of coming from one set to another: of all that is
// put on, and of what came with the frame and is taken off.
func (s *planner) moving(from, to []int) measure.Money {
	var sum measure.Money
	for i := range from {
		o := &s.p.options[i]
		sum += measure.Money(max(to[i]-from[i], 0)+max(min(from[i], o.delivered)-to[i], 0)) * o.labour
	}
	return sum
}

// offer makes a plan the best where it is.
func (s *planner) offer(sets [][]int) {
	q := &sequence{sequence: sets}
	owned := make([]int, 2*len(s.p.options))
	before := &s.p.base
	from := before.counts
	for k, counts := range sets {
		s.cover(owned, counts)
		q.labour += s.moving(from, counts)
		if k > 0 && !slices.Equal(counts, from) {
			q.changes++
		}
		q.codes += s.length(counts)
		from = counts
	}
	for i := range s.p.options {
		q.price += measure.Money(owned[i]) * s.p.options[i].Price
	}
	if s.best == nil || s.compare(q, s.best) < 0 {
		s.best = q
	}
}

// length is how many codes a set is written with.
func (s *planner) length(counts []int) int {
	sum := 0
	for i, n := range counts {
		sum += max(n-s.p.options[i].delivered, s.p.options[i].delivered-n)
	}
	return sum
}

func (s *planner) compare(a, b *sequence) int {
	if order := cmp.Or(cmp.Compare(a.price+a.labour, b.price+b.labour), a.changes-b.changes, a.codes-b.codes); order != 0 {
		return order
	}
	return slices.CompareFunc(a.sequence, b.sequence, s.p.compareCodes)
}

// lattice is all sets that can be made of what is owned, each with a number:
// digit after digit, how many of an option are on the bike.
type lattice struct {
	*planner
	options []int // that can be more than one number
	low     []int // per digit, the fewest
	size    []int // per digit, how many numbers it has
	stride  []int
	sets    int
	base    []int // counts of everything else
}

// mostSets bounds the sets of one lattice: beyond it one tries no order.
const mostSets = 1 << 16

// Values of a schedule have the labour, the changes and the length of the
// codes in one number, the first counting most.
const (
	perChange = 1 << 16
	perCent   = 1 << 24
	never     = math.MaxInt64 / 4
)

// schedule offers the best plan that owns no more than so much. It is false
// where there are too many ways, or time is over.
func (s *planner) schedule(owned []int) bool {
	name := nameOf(owned)
	if s.tried[name] || s.beaten(s.standing(owned)) {
		return true
	}
	l := s.lattice(owned)
	if l == nil {
		return false
	}
	// after[k] is, per set that holds in period k, what everything from there
	// on comes to.
	after := make([][]int64, len(s.periods))
	counts := slices.Clone(l.base)
	for k := len(s.periods) - 1; k >= 0; k-- {
		if s.err = s.ctx.Err(); s.err != nil {
			return false
		}
		after[k] = make([]int64, l.sets)
		var moved []int64
		if k+1 < len(s.periods) {
			moved = l.moved(after[k+1])
		}
		for set := range after[k] {
			l.read(set, counts)
			if !s.holdsIn(counts, k) {
				after[k][set] = never
				continue
			}
			after[k][set] = int64(s.length(counts))
			if moved != nil {
				after[k][set] = min(never, after[k][set]+min(after[k+1][set], perChange+moved[set]))
			}
		}
	}
	l.follow(after)
	if s.tried == nil {
		s.tried = map[string]bool{}
	}
	s.tried[name] = true
	return true
}

// nameOf writes counts as a text.
func nameOf(counts []int) string {
	name := make([]byte, 0, 2*len(counts))
	for _, n := range counts {
		name = append(name, byte(n), byte(n>>8))
	}
	return string(name)
}

// lattice numbers the sets, or returns nil where they are too many.
func (s *planner) lattice(owned []int) *lattice {
	l := &lattice{planner: s, sets: 1, base: s.p.base.counts}
	n := len(s.p.options)
	for i := range s.p.options {
		size := owned[i] + owned[n+i] + 1
		if size == 1 {
			continue
		}
		l.options, l.low = append(l.options, i), append(l.low, s.p.options[i].delivered-owned[n+i])
		l.size, l.stride = append(l.size, size), append(l.stride, l.sets)
		if l.sets *= size; l.sets > mostSets {
			return nil
		}
	}
	return l
}

// read writes down a set by its number.
func (l *lattice) read(set int, counts []int) {
	for d, i := range l.options {
		counts[i] = l.low[d] + set/l.stride[d]%l.size[d]
	}
}

// moved returns, per set, the least that it takes to come from it to any other
// and go on from there. Labour adds up over options, and over single steps of
// each, so it is enough to let every digit step up and down by itself.
func (l *lattice) moved(after []int64) []int64 {
	value := slices.Clone(after)
	for d, i := range l.options {
		o := &l.p.options[i]
		stride, labour := l.stride[d], int64(o.labour)*perCent
		for set := l.sets - 1; set >= 0; set-- {
			if set/stride%l.size[d] < l.size[d]-1 {
				value[set] = min(value[set], value[set+stride]+labour)
			}
		}
		for set := range value {
			digit := set / stride % l.size[d]
			if digit == 0 {
				continue
			}
			down := int64(0)
			if l.low[d]+digit <= o.delivered {
				down = labour
			}
			value[set] = min(value[set], value[set-stride]+down)
		}
	}
	return value
}

// follow goes through the periods from the delivered frame on, always to the
// set from which all comes to the least; of several to the one whose codes
// come first.
func (l *lattice) follow(after [][]int64) {
	sets := make([][]int, len(after))
	from, counts := l.base, slices.Clone(l.base)
	for k := range after {
		least := int64(never)
		for set, value := range after[k] {
			if value >= least+1 || value >= never {
				continue
			}
			l.read(set, counts)
			value += int64(l.moving(from, counts)) * perCent
			if k > 0 && !slices.Equal(from, counts) {
				value += perChange
			}
			if value < least || value == least && l.p.compareCodes(counts, sets[k]) < 0 {
				least, sets[k] = value, slices.Clone(counts)
			}
		}
		if sets[k] == nil {
			return // what is owned does not serve
		}
		from = sets[k]
	}
	l.offer(sets)
}
