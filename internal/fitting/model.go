package fitting

import (
	"math"

	"kinwain/internal/fitting/relax"
	"kinwain/internal/measure"
	"kinwain/internal/profile"
)

// model is the search for a best build as an integer programme: how many of
// every option, who sits on what, what carries the pet, and which part of the
// cargo goes where. It is a relaxation: whatever keeps the rules keeps its
// rows, so what its rows rule out is ruled out. What they do not tell, the
// copies of one option apart, exclusions among several of a kind and the home,
// is for settle to find.
//
// Columns: of every option how many are bought and how many delivered ones are
// off; and for each stage that is looked at, how much of a person sits in a
// sort of place, how much of the pet is in a carrier, and which part of the
// cargo is in a stowage.
type model struct {
	p       *Problem
	rules   Rules
	unit    unit
	relax   relax.Program
	bought  []int // per option: its column, or -1
	off     []int // per option: its column, or -1
	sitting []int // columns of who sits where
	met     []int // per group of needs: the column that tells whether it is met, or -1
	sitters []sitter
	blocks  []block
	raised  bool // a need is met since somebody has to sit where that is asked for
}

// sitter is somebody who has to have one of several places, each in a zone.
type sitter struct{ columns, zones []int }

// forget lets go of what the model was about, and keeps its memory.
func (m *model) forget() {
	for i := range m.blocks {
		m.blocks[i].forget()
	}
	m.p = nil
}

// unit turns cost and weight into one number, the one that comes first
// counting more than all that the other can be.
type unit struct{ cost, weight float64 }

// unitOf finds what all add-ons together can cost, and weigh, one way and the
// other. Where their product is too large for whole numbers in floating point,
// the search may look at more nodes and errs in nothing: bounds are below the
// truth by more than that, and sets are compared by their own figures.
func (p *Problem) unitOf(objective profile.Objective) unit {
	cost, weight := 1.0, 1.0
	for i := range p.options {
		o := &p.options[i]
		cost += float64(max(o.most, o.delivered)) * float64(o.Price+o.labour)
		weight += 2 * float64(max(o.most, o.delivered)) * float64(o.Weight)
	}
	if objective == profile.Lightest {
		return unit{cost: 1, weight: power(cost)}
	}
	return unit{cost: power(weight), weight: 1}
}

// power returns the least power of two above a number.
func power(above float64) float64 {
	_, exponent := math.Frexp(above)
	return math.Ldexp(1, exponent)
}

// upTo is more than any set comes to that costs no more than a sum, and less
// than any that costs more; of a unit in which cost comes first.
func (u unit) upTo(sum measure.Money) float64 { return u.cost * (float64(sum) + 0.5) }

func (u unit) of(s *state) float64 { return u.cost*float64(s.cost) + u.weight*float64(s.weight) }

// formulate writes the model down anew for the stages.
func (m *model) formulate(p *Problem, a *aim, stages []Stage, useful []bool, outdone []rivals) {
	m.p, m.rules = p, a.rules
	m.relax.Reset()
	m.raised = false
	m.bought, m.off, m.sitting, m.sitters = m.bought[:0], m.off[:0], m.sitting[:0], m.sitters[:0]
	for i := range p.options {
		m.count(i, useful[i])
	}
	for mount := range p.capacity {
		m.mount(mount)
	}
	m.met, m.blocks = m.met[:0], m.blocks[:0]
	for g := range p.groups {
		m.meet(g)
	}
	for i := range p.options {
		if useful[i] {
			m.needsOf(i)
			m.exclusionsOf(i)
		}
	}
	for _, r := range outdone {
		m.ranked(r)
	}
	for _, stage := range stages {
		m.blocks = grown(m.blocks, len(m.blocks)+1)
		b := &m.blocks[len(m.blocks)-1]
		b.begin(m, stage)
		b.formulate(useful)
	}
}

// count adds the columns of how many of an option are on the bike.
func (m *model) count(i int, useful bool) {
	o := &m.p.options[i]
	bought, off := -1, -1
	if more := o.most - o.delivered; o.buyable && more > 0 && useful {
		bought = m.relax.Column(m.unit.cost*float64(o.Price+o.labour)+m.unit.weight*float64(o.Weight), 0, float64(more))
	}
	if o.delivered > 0 {
		off = m.relax.Column(m.unit.cost*float64(o.labour)-m.unit.weight*float64(o.Weight), 0, float64(o.delivered-o.stay))
	}
	m.bought, m.off = append(m.bought, bought), append(m.off, off)
}

// fitted adds value times how many of an option are on the bike to the row
// being written, and returns the part of it that does not change.
func (m *model) fitted(i int, value float64) float64 {
	if c := m.bought[i]; c >= 0 {
		m.relax.Term(c, value)
	}
	if c := m.off[i]; c >= 0 {
		m.relax.Term(c, -value)
	}
	return value * float64(m.p.options[i].delivered)
}

// can reports whether any of an option can be on the bike.
func (m *model) can(i int) bool { return m.bought[i] >= 0 || m.off[i] >= 0 }

// most returns how many of an option can be on the bike.
func (m *model) most(i int) int {
	o := &m.p.options[i]
	if m.bought[i] >= 0 {
		return o.most
	}
	return o.delivered
}

func (m *model) mount(mount int) {
	sum := 0.0
	for _, u := range m.p.users[mount] {
		if m.can(u.option) {
			sum += m.fitted(u.option, float64(u.count))
		}
	}
	m.relax.AtMost(float64(m.p.capacity[mount]) - sum)
}

// meet adds the column that tells whether a group of needs is met: by as much
// of it at the most as there is of all that meets it.
func (m *model) meet(g int) {
	column := -1
	if only := m.only(g); only >= 0 {
		column = only
	} else if m.p.offered[g] == 0 {
		column = m.relax.Column(0, 0, 1)
		m.relax.Term(column, 1)
		sum := 0.0
		for _, j := range m.p.groups[g].by {
			if m.can(j) {
				sum += m.fitted(j, -1)
			}
		}
		m.relax.AtMost(-sum)
	}
	m.met = append(m.met, column)
}

// only returns the column of the one add-on that meets a group of needs, where
// there is one alone and at most one of it: it tells by itself.
func (m *model) only(g int) int {
	column := -1
	for _, j := range m.p.groups[g].by {
		if !m.can(j) {
			continue
		}
		if column >= 0 || m.off[j] >= 0 || m.most(j) > 1 {
			return -1
		}
		column = m.bought[j]
	}
	if m.p.offered[g] > 0 {
		return -1
	}
	return column
}

// needsOf asks for every group of needs of an option to be met where it is on
// the bike, however many there may be of it.
func (m *model) needsOf(i int) {
	for _, g := range m.p.options[i].needs {
		if column := m.met[g]; column >= 0 {
			sum := m.fitted(i, 1)
			m.relax.Term(column, -float64(m.most(i)))
			m.relax.AtMost(-sum)
		}
	}
}

// exclusionsOf asks for no more than one of two that exclude each other; of
// which there may be several, for no more than all of one kind.
func (m *model) exclusionsOf(i int) {
	for _, x := range m.p.options[i].excludes {
		if x < i && m.can(x) && m.can(i) {
			sum := m.fitted(i, 1/float64(m.most(i)))
			sum += m.fitted(x, 1/float64(m.most(x)))
			m.relax.AtMost(1 + wider - sum)
		}
	}
}

// countsAt reads how many of every option a point of the relaxation has, where
// those are whole.
func (m *model) countsAt(r *relax.Relaxation, counts []int) (whole bool) {
	for i := range m.p.options {
		n := m.p.options[i].delivered
		for sign, c := range [...]int{m.off[i], m.bought[i]} {
			if c < 0 {
				continue
			}
			v := r.Value(c)
			low, high := r.Ends(c)
			if low == high {
				v = low // also where the relaxation was not solved to its end
			}
			near := math.Round(v)
			if math.Abs(v-near) > integral || near < low || near > high {
				return false
			}
			n += (2*sign - 1) * int(near)
		}
		counts[i] = n
	}
	return true
}

// integral is how near to a whole number counts as one.
const integral = 1e-6
