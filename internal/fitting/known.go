package fitting

import (
	"context"
	"slices"

	"kinwain/internal/measure"
	"kinwain/internal/profile"
)

// known are sets that held, whatever was asked then, the last one first. What
// is asked next is mostly nearly the same, and answered by one of them.
type known struct{ sets []state }

// mostKnown bounds them: to look at more costs more than it saves.
const mostKnown = 6

// keep remembers a set.
func (k *known) keep(set *state) {
	at := slices.IndexFunc(k.sets, func(o state) bool { return slices.Equal(o.counts, set.counts) })
	if at < 0 {
		if at = len(k.sets); at == mostKnown {
			at--
		} else {
			k.sets = append(k.sets, state{})
		}
	}
	copy(k.sets[1:at+1], k.sets[:at])
	k.sets[0] = *set
}

// withoutSearch returns what is looked for where that is found without a search,
// or nil.
func (p *Problem) withoutSearch(ctx context.Context, a *aim) *state {
	if !a.first {
		return p.asDelivered(ctx, a)
	}
	set := p.recall(ctx, a)
	if set == nil {
		if set = p.gather(ctx, a); set != nil {
			p.known.keep(set)
		}
	}
	return set
}

// recall returns a known set that is what is looked for, or the frame as it is
// delivered, or nil. What goes together did so before, so only the demand and
// the rules are asked.
func (p *Problem) recall(ctx context.Context, a *aim) *state {
	c := p.newSeating(true)
	defer c.done()
	c.ctx, c.loose = ctx, a.loose
	for i := range p.known.sets {
		if set := &p.known.sets[i]; (!a.limited || set.cost <= a.within) && p.stands(set, a, c) {
			found := *set // which is moved when another one is kept
			return &found
		}
	}
	if !a.limited && p.goTogether(&p.base) && p.stands(&p.base, a, c) {
		return &p.base
	}
	return nil
}

// asDelivered returns the frame as it is delivered, where that holds and nothing
// else can be as good; or nil.
//
// Proof: it costs nothing and has no codes. A set with something of it off costs
// labour, where taking that off takes any time. Whatever else there is has
// something bought besides, costs no less than nothing and weighs more.
func (p *Problem) asDelivered(ctx context.Context, a *aim) *state {
	if a.objective == profile.Lightest || a.limited || p.without&leaving != 0 {
		return nil
	}
	for i := range p.options {
		if o := &p.options[i]; o.delivered > o.stay && o.labour == 0 {
			return nil
		}
	}
	c := p.newSeating(true)
	defer c.done()
	c.ctx, c.loose = ctx, a.loose
	if !p.goTogether(&p.base) || !p.stands(&p.base, a, c) {
		return nil
	}
	return &p.base
}

// remember makes the best of the known sets that hold the incumbent before the
// search begins, so that it closes nodes from the first one on.
func (s *search) remember() {
	if s.first || s.p.without&recalling != 0 {
		return
	}
	for i := range s.p.known.sets {
		if set := &s.p.known.sets[i]; s.p.stands(set, &s.aim, &s.seating) {
			s.state.set(set)
			s.keep()
		}
	}
}

// stands reports whether a set holds under the rules on every stage.
func (p *Problem) stands(set *state, a *aim, c *seating) bool {
	if a.rules.Has(Storage) && !p.atHome(set) {
		return false
	}
	return !slices.ContainsFunc(a.stages, func(stage Stage) bool { return !c.settle(set, stage, a.rules) })
}

// Affordable reports whether any set holds whose price and labour are within a
// sum. The error is as that of Feasible.
func (p *Problem) Affordable(ctx context.Context, rules Rules, within measure.Money) (bool, error) {
	return p.any(ctx, aim{rules: rules, stages: []Stage{p.Demand.Today}, limited: true, within: within})
}

// any reports whether any set is what is looked for.
func (p *Problem) any(ctx context.Context, a aim) (bool, error) {
	a.first = true
	found, err := p.best(ctx, a)
	if err == nil && found.set == nil && !found.proved {
		err = ErrUnsettled
	}
	return found.set != nil, err
}
