package fitting

import (
	"math/bits"
	"slices"
)

// sitting is one way to sit on a carrier.
type sitting struct {
	who   uint64
	at    []int8 // the place of each of them, in their order
	needs uint64 // the groups that their places need, as bits
	// over are the larger sittings with the same people and more that need
	// nothing else.
	over []uint64
}

// outdone reports whether more of those who are left might sit here without
// needing anything else.
func (t *sitting) outdone(left uint64) bool {
	for _, who := range t.over {
		if who&^left == 0 {
			return true
		}
	}
	return false
}

// chart holds the sittings on every option, and on the frame's own places
// after them, filed under the first of those who sit.
type chart struct {
	people int
	lists  [][]sitting
}

// on returns the sittings with a person as the first of them.
func (c *chart) on(p *Problem, at carrier, person int) []sitting {
	i := at.option
	if i < 0 {
		i = len(p.options) + at.copy
	}
	return c.lists[i*c.people+person]
}

// finder works out the sittings on one carrier.
type finder struct {
	stage  Stage
	people []int
	rules  Rules
	places []place
	most   int64 // that the carrier bears, in grams; 0 for no limit
	alone  bool  // the places are one of many, each a carrier by itself
	at     []int8
	all    []sitting // this and the next are one piece of memory for many
	spots  []int8
	above  []uint64
}

func (s *search) findSittings(pl *plan) chart {
	c := chart{people: len(pl.people)}
	if c.people == 0 {
		return c
	}
	c.lists = make([][]sitting, (len(s.p.options)+len(s.p.framed))*c.people)
	f := finder{stage: pl.stage, people: pl.people, rules: s.rules}
	file := func(i int) {
		for person := range pl.people {
			c.lists[i*c.people+person] = f.find(person)
		}
	}
	for i := range s.p.options {
		if o := &s.p.options[i]; len(o.places) > 0 {
			f.places, f.most, f.alone = o.places, 0, false
			if s.rules.Has(AddOnRating) {
				f.most = int64(o.MaxLoad)
			}
			file(i)
		}
	}
	for j := range s.p.framed {
		f.places, f.most, f.alone = s.p.framed[j:j+1], 0, true
		file(len(s.p.options) + j)
	}
	return c
}

// find lists the sittings with a person as the first, the larger ones first.
func (f *finder) find(person int) []sitting {
	st := &f.stage[f.people[person]]
	if f.most > 0 && int64(st.Load) > f.most {
		return nil
	}
	from := len(f.all)
	f.seat(person, 0, 0, int64(st.Load))
	list := f.all[from:len(f.all):len(f.all)]
	slices.SortStableFunc(list, func(a, b sitting) int { return bits.OnesCount64(b.who) - bits.OnesCount64(a.who) })
	for k := range list {
		from := len(f.above)
		for j := range k {
			if a, b := &list[j], &list[k]; a.who&b.who == b.who && a.who != b.who && a.needs&^b.needs == 0 {
				f.above = append(f.above, a.who)
			}
		}
		list[k].over = f.above[from:len(f.above):len(f.above)]
	}
	return list
}

// seat gives a person each place that is free and suits, and then tries to
// seat one more of those after.
func (f *finder) seat(person int, who, taken uint64, load int64) {
	st := &f.stage[f.people[person]]
	for j := range f.places {
		if taken>>j&1 == 1 || !f.places[j].suits(st, f.rules) || f.mirrored(j, taken) {
			continue
		}
		f.at = append(f.at, int8(j))
		f.note(who | 1<<person)
		for next := person + 1; next < len(f.people) && len(f.at) < len(f.places); next++ {
			more := load + int64(f.stage[f.people[next]].Load)
			if f.most == 0 || more <= f.most {
				f.seat(next, who|1<<person, taken|1<<j, more)
			}
		}
		f.at = f.at[:len(f.at)-1]
	}
}

// mirrored reports whether the same place before this one is free: to sit
// there is no different.
func (f *finder) mirrored(j int, taken uint64) bool {
	like := f.places[j].like
	return !f.alone && like > 0 && taken>>(like-1)&1 == 0
}

func (f *finder) note(who uint64) {
	t := sitting{who: who}
	for _, j := range f.at {
		t.needs |= groupsAsBits(f.places[j].needs)
	}
	from := len(f.spots)
	f.spots = append(f.spots, f.at...)
	t.at = f.spots[from:len(f.spots):len(f.spots)]
	f.all = append(f.all, t)
}
