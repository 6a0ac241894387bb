package coverage

import (
	"context"
	"slices"
)

// shortcut names what only saves time.
type shortcut uint

const (
	grouping  shortcut = 1 << iota // customers whom the same bikes fit count as one
	dominance                      // a bike that another one can always stand in for is left out
	bounding                       // what cannot beat the best choice known is not looked at
	fixing                         // and neither is a bike that every better choice has, or lacks
	guessing                       // the bikes that count in a bound are tried as a choice

	every = grouping | dominance | bounding | fixing | guessing
)

// candidate is a bike that may be chosen.
type candidate struct {
	at   int   // in the table
	cost int64 // more than all prices together, and its own: fewer bikes come first
	fits []int // groups of customers, in order
}

// search looks for the best choice. What a choice is worth is one whole number:
// its customers, each counting more than all bikes together cost, less what its
// bikes cost.
type search struct {
	with   shortcut
	bikes  []candidate // in the order of their codes
	weight []int64     // of a group of customers
	scale  int64       // what one customer counts

	best  int64 // that a choice is worth which is known
	set   []int // that choice
	top   int64 // no choice is worth more
	nodes int   // that may still be looked at
}

// choice says what is settled of a bike.
type choice int8

const (
	open choice = iota
	in
	out
)

// node is all choices that have some bikes and lack others, and at most so many
// more.
type node struct {
	taken  []choice
	left   int
	shares []int64 // of a group's weight, that its bikes are credited with; see bound.go
}

func (n *node) with(bike int, c choice) node {
	m := node{slices.Clone(n.taken), n.left, n.shares}
	if m.taken[bike] = c; c == in {
		m.left--
	}
	return m
}

// view is what a node has so far.
type view struct {
	worth  int64
	chosen []int
	unmet  []bool // groups that are not served, but may be
}

func (s *search) view(n *node) *view {
	v := &view{unmet: make([]bool, len(s.weight))}
	served := make([]bool, len(s.weight))
	for i, c := range n.taken {
		switch c {
		case in:
			v.chosen = append(v.chosen, i)
			v.worth += s.gain(i, served)
		case open:
			for _, g := range s.bikes[i].fits {
				v.unmet[g] = true
			}
		}
	}
	for g, done := range served {
		v.unmet[g] = v.unmet[g] && !done
	}
	return v
}

// gain is what a bike adds to a choice that serves some groups, which are more
// then.
func (s *search) gain(bike int, served []bool) int64 {
	worth := -s.bikes[bike].cost
	for _, g := range s.bikes[bike].fits {
		if !served[g] {
			served[g] = true
			worth += s.weight[g]
		}
	}
	return worth
}

// note remembers a choice that is the best so far.
func (s *search) note(chosen []int, worth int64) {
	if worth > s.best {
		s.best, s.set = worth, slices.Clone(chosen)
	}
}

// run finds the best choice of at most k bikes; of those that are worth the same
// the one whose codes come first.
func (s *search) run(ctx context.Context, k int) error {
	root := node{make([]choice, len(s.bikes)), k, slices.Clone(s.weight)}
	s.top = s.bound(s.view(&root), &root, rootRounds).most
	if err := s.visit(ctx, root); err != nil || s.spent() {
		return err
	}
	s.top = s.best
	return s.first(ctx, root)
}

// spent reports whether the search was given up.
func (s *search) spent() bool { return s.nodes < 0 }

// visit looks at all choices of a node that may be better than the best.
func (s *search) visit(ctx context.Context, n node) error {
	if s.nodes--; s.spent() || s.best >= s.top || ctx.Err() != nil {
		return ctx.Err()
	}
	v := s.view(&n)
	s.note(v.chosen, v.worth)
	if n.left == 0 {
		return nil
	}
	if s.with&bounding != 0 {
		b := s.bound(v, &n, nodeRounds)
		if b.most <= s.best {
			return nil
		}
		if s.with&fixing != 0 && s.fix(&n, b) {
			return s.visit(ctx, n)
		}
	}
	next := s.promising(&n, v)
	if next < 0 {
		return nil
	}
	if err := s.visit(ctx, n.with(next, in)); err != nil {
		return err
	}
	return s.visit(ctx, n.with(next, out))
}

// promising returns the open bike that adds most to a node, or -1 where none
// adds anything.
func (s *search) promising(n *node, v *view) int {
	next, most := -1, int64(0)
	for i, c := range n.taken {
		if c != open {
			continue
		}
		gain := -s.bikes[i].cost
		for _, g := range s.bikes[i].fits {
			if v.unmet[g] {
				gain += s.weight[g]
			}
		}
		if gain > most {
			next, most = i, gain
		}
	}
	return next
}

// first finds, of all choices that are worth as much as the best, the one whose
// codes come first: bike by bike it asks whether one of them has it.
func (s *search) first(ctx context.Context, n node) error {
	best := s.best
	for i := range s.bikes {
		if n.left == 0 || s.spent() {
			break
		}
		has := slices.Contains(s.set, i) // and all that was found before it
		if !has {
			kept := s.set
			s.best = best - 1
			if err := s.visit(ctx, n.with(i, in)); err != nil {
				return err
			}
			if has = s.best == best; !has {
				s.best, s.set = best, kept
			}
		}
		if has {
			n = n.with(i, in)
		} else {
			n = n.with(i, out)
		}
	}
	return nil
}
