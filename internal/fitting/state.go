package fitting

import (
	"slices"
	"strings"

	"kinwain/internal/load"
	"kinwain/internal/measure"
	"kinwain/internal/parking"
)

// state is a set of add-ons on the frame, with the sums that follow from it.
type state struct {
	counts []int   // per option, how many are fitted
	used   []int   // per mount
	met    []int   // per group of needs, by how many
	load   []int64 // per limit, what the add-ons take up
	cost   measure.Money
	weight measure.Mass
	memory []int // of the first three
}

// deliver works out the frame as the maker delivers it. What it comes with is
// within the caps of the limits already.
func (p *Problem) deliver() state {
	s := p.empty()
	copy(s.met, p.offered)
	for i := range p.options {
		s.counts[i] = p.options[i].delivered
		for range s.counts[i] {
			s.fix(&p.options[i], 1)
		}
	}
	return s
}

// empty returns a state of zeros.
func (p *Problem) empty() state {
	var s state
	p.clear(&s)
	return s
}

// clear makes a state one of zeros, in the memory that it has.
func (p *Problem) clear(s *state) {
	options, mounts, groups := len(p.options), len(p.capacity), len(p.groups)
	s.memory, s.load = grown(s.memory, options+mounts+groups), grown(s.load, len(p.limits))
	clear(s.memory)
	clear(s.load)
	s.counts, s.used, s.met = s.memory[:options], s.memory[options:options+mounts], s.memory[options+mounts:]
	s.cost, s.weight = 0, 0
}

// set makes s the same as another state of the same problem.
func (s *state) set(o *state) {
	copy(s.counts, o.counts)
	copy(s.used, o.used)
	copy(s.met, o.met)
	copy(s.load, o.load)
	s.cost, s.weight = o.cost, o.weight
}

// fix books the mounts and needs of one copy, in or out.
func (s *state) fix(o *option, sign int) {
	for _, u := range o.uses {
		s.used[u.mount] += sign * u.count
	}
	for _, g := range o.meets {
		s.met[g] += sign
	}
}

// add fits one more copy; remove undoes it. Neither checks anything.
func (p *Problem) add(s *state, i int) { p.change(s, i, 1) }

func (p *Problem) remove(s *state, i int) { p.change(s, i, -1) }

// change moves one copy of an option. A copy beyond the delivered ones is
// bought, one below is taken off: for either the labour is paid once.
func (p *Problem) change(s *state, i, sign int) {
	o := &p.options[i]
	before, per := p.charge(i, s.counts[i]), o.per
	if min(s.counts[i], s.counts[i]+sign) < o.delivered {
		per = o.perOff
	}
	s.counts[i] += sign
	s.cost += p.charge(i, s.counts[i]) - before
	s.weight += measure.Mass(sign) * o.Weight
	s.fix(o, sign)
	for l := range s.load {
		s.load[l] += int64(sign) * per[l]
	}
	// A delivered part that comes off leaves its weight in none of the
	// limits; p.limits counts it in its zone, in the gross rating and on the
	// axles, so the same subtraction serves all.
}

// charge returns price and labour of having n copies of an option.
func (p *Problem) charge(i, n int) measure.Money {
	o := &p.options[i]
	if n > o.delivered {
		return measure.Money(n-o.delivered) * (o.Price + o.labour)
	}
	return measure.Money(o.delivered-n) * o.labour
}

// assemble makes s the set with the counts, which starts from the delivered
// frame.
func (p *Problem) assemble(s, delivered *state, counts []int) {
	s.set(delivered)
	for i, n := range counts {
		for s.counts[i] < n {
			p.add(s, i)
		}
		for s.counts[i] > n {
			p.remove(s, i)
		}
	}
}

// goTogether reports whether the mounts bear a set, every need is met and
// nothing is excluded by anything else. That it holds no more of an option
// than there may be is for who made it to see to.
func (p *Problem) goTogether(s *state) bool {
	for mount, used := range s.used {
		if used > p.capacity[mount] {
			return false
		}
	}
	for i, n := range s.counts {
		o := &p.options[i]
		if n > 0 && (!s.metAll(o.needs) || slices.ContainsFunc(o.excludes, func(x int) bool { return s.counts[x] > 0 })) {
			return false
		}
	}
	return true
}

// metAll reports whether all of these groups of needs hold.
func (s *state) metAll(groups []int) bool {
	for _, g := range groups {
		if s.met[g] == 0 {
			return false
		}
	}
	return true
}

// bike returns the outline of the frame with the set fitted.
func (p *Problem) bike(s *state) parking.Bike {
	var front, rear, width, height measure.Length
	blocked := false
	for i, n := range s.counts {
		if n == 0 {
			continue
		}
		o := &p.options[i]
		front, rear = max(front, o.FrontOverhang), max(rear, o.RearOverhang)
		width, height = max(width, o.OverallWidth), max(height, o.OverallHeight)
		blocked = blocked || o.BlocksUpright
	}
	f := p.Frame
	frame := parking.Bike{
		Flat:    parking.Box{Length: f.Length, Width: f.Width, Height: f.Height},
		Upright: parking.Box{Length: f.Upright.Length, Width: f.Upright.Width, Height: f.Upright.Height},
	}
	return parking.Grown(frame, front, rear, width, height, blocked)
}

// bulky reports whether an option may make a bike larger, or keep it from
// standing upright.
func (o *option) bulky() bool {
	return o.FrontOverhang > 0 || o.RearOverhang > 0 || o.OverallWidth > 0 || o.OverallHeight > 0 || o.BlocksUpright
}

// barred marks the options that are bought and with which the bike does not get
// home even if all else that can be off is off.
func (p *Problem) barred() []bool {
	if p.bars == nil {
		p.bars = make([]bool, len(p.options))
		least := p.empty()
		least.set(&p.base)
		for i := range p.options {
			for range p.options[i].delivered - p.options[i].stay {
				p.remove(&least, i)
			}
		}
		home := p.atHome(&least)
		for i := range p.options {
			if p.bars[i] = !home; home && p.options[i].bulky() {
				p.add(&least, i)
				p.bars[i] = !p.atHome(&least)
				p.remove(&least, i)
			}
		}
	}
	return p.bars
}

// atHome reports whether the set reaches the home and fits in it.
func (p *Problem) atHome(s *state) bool {
	if !p.Demand.HasHome {
		return true
	}
	b := p.bike(s)
	for _, v := range p.homes {
		if v.bike == b {
			return v.fits
		}
	}
	fits := parking.Check(b, p.Demand.Home).Fits
	p.homes = append(p.homes, outline{b, fits})
	return fits
}

// codes returns the add-ons bought, sorted and with repeats, and those taken
// off.
func (p *Problem) codes(counts []int) (bought, takenOff []string) {
	bought, takenOff = []string{}, []string{}
	for i, n := range counts {
		o := &p.options[i]
		for range n - o.delivered {
			bought = append(bought, o.Code)
		}
		for range o.delivered - n {
			takenOff = append(takenOff, o.Code)
		}
	}
	return bought, takenOff
}

// compareCodes orders two sets by the sorted lists of their codes.
func (p *Problem) compareCodes(a, b []int) int {
	boughtA, offA := p.codes(a)
	boughtB, offB := p.codes(b)
	if c := slices.CompareFunc(boughtA, boughtB, strings.Compare); c != 0 {
		return c
	}
	return slices.CompareFunc(offA, offB, strings.Compare)
}

// enforced reports whether a limit is among the rules.
func (r Rules) enforced(l *load.Limit) bool { return r.Has(ruleOf(l)) }

// ruleOf returns the rule that a limit is one of.
func ruleOf(l *load.Limit) Rules {
	switch l.Rule {
	case load.Gross:
		return GrossRating
	case load.InZone:
		return ZoneRating
	case load.Combined:
		return CombinedRating
	case load.Lift:
		return FrontLight
	}
	return AxleRating
}
