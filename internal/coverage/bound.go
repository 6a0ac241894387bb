package coverage

import (
	"cmp"
	"slices"
)

// How well can a choice do at the most? Each group of customers credits every
// bike that fits it with a share of its weight, from nothing to all, and keeps
// the rest for itself. A choice that serves a group gets the rest and at least
// one share; so no choice is worth more than all rests together and the shares of
// the bikes that get most. That holds for any shares (it is the Lagrangian
// relaxation of the rule that whoever is served is served by a bike of the
// choice), so they are moved to where the sum is least: down where several of
// those bikes fit one group, up where none does.
const (
	rootRounds = 300 // of moving the shares, at the start
	nodeRounds = 12  // and at every node after it
)

// bound is how well the choices of a node can do.
type bound struct {
	most   int64
	values []int64 // of the open bikes: their shares less what they cost
	order  []int   // those bikes, the best first
	picked int     // so many of them count
}

// bound finds the least bound within some rounds, and keeps its shares for what
// comes of the node.
func (s *search) bound(v *view, n *node, rounds int) bound {
	shares, step := slices.Clone(n.shares), 1.0
	var least bound
	for round := range rounds {
		b := s.at(v, n, shares)
		if s.with&guessing != 0 {
			s.note(s.complete(v, b.order[:b.picked]))
		}
		switch {
		case round == 0 || b.most < least.most:
			least, n.shares = b, slices.Clone(shares)
		case round%4 == 3:
			step /= 2
		}
		if least.most <= s.best || !s.move(v, b, shares, step) {
			break
		}
	}
	return least
}

// at is the bound of some shares.
func (s *search) at(v *view, n *node, shares []int64) bound {
	b := bound{most: v.worth, values: make([]int64, len(s.bikes))}
	for g, unmet := range v.unmet {
		if unmet {
			b.most += s.weight[g] - shares[g]
		}
	}
	for i, c := range n.taken {
		if c != open {
			continue
		}
		b.values[i] = -s.bikes[i].cost
		for _, g := range s.bikes[i].fits {
			if v.unmet[g] {
				b.values[i] += shares[g]
			}
		}
		b.order = append(b.order, i)
	}
	slices.SortFunc(b.order, func(i, j int) int { return cmp.Or(cmp.Compare(b.values[j], b.values[i]), i-j) })
	for b.picked < min(n.left, len(b.order)) && b.values[b.order[b.picked]] > 0 {
		b.most += b.values[b.order[b.picked]]
		b.picked++
	}
	return b
}

// complete is a choice with some bikes more, and what it is worth.
func (s *search) complete(v *view, more []int) ([]int, int64) {
	served, worth := make([]bool, len(s.weight)), int64(0)
	chosen := slices.Concat(v.chosen, more)
	for _, i := range chosen {
		worth += s.gain(i, served)
	}
	slices.Sort(chosen)
	return chosen, worth
}

// move moves the shares against the slope of the bound; false where it has none.
func (s *search) move(v *view, b bound, shares []int64, step float64) bool {
	slope, square := make([]int64, len(shares)), int64(0)
	for _, i := range b.order[:b.picked] {
		for _, g := range s.bikes[i].fits {
			slope[g]++
		}
	}
	for g, unmet := range v.unmet {
		if !unmet {
			continue
		}
		if shares[g] < s.weight[g] {
			slope[g]--
		}
		square += slope[g] * slope[g]
	}
	if square == 0 {
		return false
	}
	length := step * float64(b.most-s.best) / float64(square)
	for g, unmet := range v.unmet {
		if unmet {
			shares[g] = min(max(shares[g]-int64(length*float64(slope[g])), 0), s.weight[g])
		}
	}
	return true
}

// fix settles the bikes without which, or with which, no choice of a node beats
// the best; it reports whether there are any.
func (s *search) fix(n *node, b bound) bool {
	last, first := int64(0), int64(0) // of those that count, and of the others
	if b.picked == n.left {
		last = b.values[b.order[b.picked-1]]
	}
	if b.picked < len(b.order) {
		first = max(b.values[b.order[b.picked]], 0)
	}
	any := false
	for place, i := range b.order {
		switch {
		case place < b.picked && b.most-b.values[i]+first <= s.best:
			*n, any = n.with(i, in), true
		case place >= b.picked && b.most-last+b.values[i] <= s.best:
			*n, any = n.with(i, out), true
		}
	}
	return any
}
