package coverage

import (
	"cmp"
	"context"
	"slices"
)

// Plan is the best choice of so many bikes.
type Plan struct {
	Bikes []int // in the order of their codes
	Count Count
	// Most is how many customers no choice of as many bikes passes. It is
	// Count.Served, unless the search was given up before that was proved.
	Most int
}

// Proved reports whether no choice of as many bikes serves more.
func (p *Plan) Proved() bool { return p.Most == p.Count.Served }

// mostNodes bounds one search. What people own is settled within some hundred
// nodes; only tables that somebody made to be hard need more.
const mostNodes = 20_000

// Plans returns the best choice of at most 1, 2, … bikes among some, up to as many
// as are asked for or as have anything to add. Best is whoever serves
// most customers; of equals the one with fewer bikes, then the cheapest, then the
// one whose codes come first. The error is that of the context.
func (t *Table) Plans(ctx context.Context, among []int, most int) ([]Plan, error) {
	return t.plans(ctx, among, most, every)
}

func (t *Table) plans(ctx context.Context, among []int, most int, with shortcut) ([]Plan, error) {
	var plans []Plan
	for k := 1; k <= min(most, len(among)); k++ {
		s := t.search(among, with)
		if err := s.run(ctx, k); err != nil {
			return nil, err
		}
		p := s.plan(t)
		if len(plans) > 0 && p.Proved() && p.Count.Served == plans[len(plans)-1].Count.Served {
			break // whom these leave out no bike fits: it would be the one more
		}
		plans = append(plans, p)
	}
	return plans, nil
}

// plan is what was found.
func (s *search) plan(t *Table) Plan {
	var p Plan
	for _, i := range s.set {
		p.Bikes = append(p.Bikes, s.bikes[i].at)
	}
	p.Count = t.Served(p.Bikes)
	p.Most = int((s.top + s.scale - 1) / s.scale) // its bikes cost less than one customer counts
	return p
}

// search sets up the search of a choice among some bikes.
func (t *Table) search(among []int, with shortcut) *search {
	among = slices.Clone(among)
	slices.SortFunc(among, func(a, b int) int { return cmp.Compare(t.Bikes[a].Code, t.Bikes[b].Code) })
	prices := int64(1)
	for _, b := range among {
		prices += int64(t.Bikes[b].Price)
	}
	s := &search{with: with, nodes: mostNodes, scale: 1}
	groups := t.alike(among, with)
	for _, b := range among {
		var fits []int
		for g, group := range groups {
			if t.Rows[group[0]][b] > No {
				fits = append(fits, g)
			}
		}
		cost := prices + int64(t.Bikes[b].Price)
		s.bikes, s.scale = append(s.bikes, candidate{b, cost, fits}), s.scale+cost
	}
	for _, group := range groups {
		s.weight = append(s.weight, s.scale*int64(len(group)))
	}
	if with&dominance != 0 {
		s.bikes = undominated(s.bikes)
	}
	return s
}

// alike groups the customers whom the same of some bikes fit. Whom none fits is
// left out.
func (t *Table) alike(among []int, with shortcut) [][]int {
	var groups [][]int
	known := map[string]int{}
	for c, row := range t.Rows {
		var key []byte
		any := false
		for _, b := range among {
			fits := byte(min(row[b], WithCare))
			any = any || fits > 0
			key = append(key, fits)
		}
		at, seen := known[string(key)]
		switch {
		case !any:
		case seen && with&grouping != 0:
			groups[at] = append(groups[at], c)
		default:
			known[string(key)] = len(groups)
			groups = append(groups, []int{c})
		}
	}
	return groups
}

// undominated leaves out a bike beside which another fits all whom it fits, and
// costs less, or costs the same and comes first: in any choice the other can take
// its place.
func undominated(bikes []candidate) []candidate {
	var left []candidate
	for i, b := range bikes {
		dominated := len(b.fits) == 0 || slices.ContainsFunc(bikes, func(o candidate) bool {
			first := cmp.Or(cmp.Compare(o.cost, b.cost), cmp.Compare(slices.IndexFunc(bikes, func(c candidate) bool { return c.at == o.at }), i)) < 0
			return first && within(b.fits, o.fits)
		})
		if !dominated {
			left = append(left, b)
		}
	}
	return left
}

// within reports whether all of a sorted list are in another.
func within(list, in []int) bool {
	for _, x := range list {
		if _, found := slices.BinarySearch(in, x); !found {
			return false
		}
	}
	return true
}
