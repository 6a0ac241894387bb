package fitting

import (
	"context"
	"errors"
	"math"
	"slices"

	"kinwain/internal/measure"
	"kinwain/internal/profile"
)

// Plan is a sequence of builds of one frame that serves a family for years at
// the least cost.
//
// An add-on is paid for once and may be kept aside. Labour is paid as for a
// build of its own, at each change: the minutes of everything that is put on,
// bought then or kept aside until then, and of everything that came with the
// frame and is taken off. Taking off what was bought costs nothing of its own:
// the family can do it, or the workshop does it with what comes in its place.
//
// Of plans that cost the same the one with fewer changes is chosen; then the
// one with fewer add-ons on the bike, and parts off it, over all its stages;
// then the one whose lists of codes, stage by stage, come first.
type Plan struct {
	Steps []Step
	// Until is the last month that is served: the last one asked for, or the
	// one after which no build of the frame carries everyone.
	Until measure.Month
	Price measure.Money // of all add-ons
	// Labour is that of all changes together, the first fitting included.
	Labour measure.Money
	// Now is the cheapest build that serves all of the months unchanged, with
	// nobody and nothing on it; nil where there is none, or time was over.
	Now *Build
	// Unproved tells that the time was over before every other sequence was
	// ruled out. None costs less than Least then.
	Unproved bool
	Least    measure.Money
}

// Step is one build of a plan and how the bike comes to it.
type Step struct {
	From, To measure.Month
	Days     []measure.Date // on which it was held against the rules
	Bought   []string       // what is paid for now; sorted, with repeats
	PutOn    []string       // what is fitted now, bought or kept aside or put back
	TakenOff []string       // what comes off now, to be kept aside
	Price    measure.Money
	Labour   measure.Money

	counts []int
}

// Plan returns the cheapest plan for so many months, that of the demand
// included, or for as many of them as any build serves. The error is
// ErrInfeasible where none serves even the first, ErrUnsettled where the time
// of the context was over before any plan was found, or that of the context
// where it was cancelled.
func (p *Problem) Plan(ctx context.Context, months int) (*Plan, error) {
	if months <= 0 || p.only != nil {
		return nil, ErrInfeasible
	}
	s := &planner{p: p, ctx: ctx, settler: p.newSeating(true), known: map[string]*knownSet{}, floor: math.MaxInt64}
	defer s.settler.done()
	root, err := s.begin(min(months, HorizonMonths))
	if err != nil {
		return nil, err
	}
	now := s.unchanged()
	s.explore(root)
	if s.err != nil && !errors.Is(s.err, context.DeadlineExceeded) {
		return nil, s.err
	}
	if s.best == nil {
		return nil, ErrUnsettled
	}
	plan := s.describe(now)
	if total := plan.Price + plan.Labour; s.floor <= total {
		plan.Unproved, plan.Least = true, s.floor
	}
	return plan, nil
}

// unchanged finds the cheapest set that holds in all periods, which is a plan
// too, or returns nil where there is none or that was not proved in time.
func (s *planner) unchanged() []int {
	var all []Stage
	for _, parties := range s.parties {
		all = append(all, parties...)
	}
	found, err := s.p.best(s.ctx, aim{objective: profile.LeastCost, rules: AllRules, stages: all})
	if err != nil || found.set == nil {
		return nil
	}
	sequence := make([][]int, len(s.periods))
	for k := range sequence {
		sequence[k] = found.set.counts
	}
	s.offer(sequence)
	if !found.proved {
		return nil
	}
	return found.set.counts
}

// describe writes down the best plan.
func (s *planner) describe(now []int) *Plan {
	plan := &Plan{Until: s.periods[len(s.periods)-1].To, Price: s.best.price, Labour: s.best.labour}
	delivered := &s.p.base
	before, most := delivered.counts, slices.Clone(delivered.counts)
	for k, counts := range s.best.sequence {
		period := &s.periods[k]
		if k > 0 && slices.Equal(counts, before) {
			last := &plan.Steps[len(plan.Steps)-1]
			last.To, last.Days = period.To, append(last.Days, period.Days...)
			continue
		}
		step := Step{From: period.From, To: period.To, Days: slices.Clone(period.Days), Labour: s.moving(before, counts),
			Bought: []string{}, PutOn: []string{}, TakenOff: []string{}, counts: counts}
		for i, n := range counts {
			o := &s.p.options[i]
			for range n - max(most[i], o.delivered) {
				step.Bought = append(step.Bought, o.Code)
				step.Price += o.Price
			}
			for range n - before[i] {
				step.PutOn = append(step.PutOn, o.Code)
			}
			for range before[i] - n {
				step.TakenOff = append(step.TakenOff, o.Code)
			}
			most[i] = max(most[i], n)
		}
		plan.Steps = append(plan.Steps, step)
		before = counts
	}
	if now != nil {
		plan.Now = s.p.Describe(now, 0)
	}
	return plan
}

// Builds calls yield with the build of a step on each of its days, and the
// demand that it is for: with everybody seated who rides along then. A day on
// which nobody is any other than on the day before it is passed over. After the
// first day the cargo is shared out in any way that holds, which takes less
// time than the best.
func (p *Problem) Builds(s *Step, yield func(*Demand, *Build) bool) {
	var before Stage
	for i, day := range s.Days {
		then := p.Demand.Riding(day)
		if i > 0 && slices.Equal(then.Today, before) {
			continue
		}
		before = then.Today
		under := p.Under(then)
		c := under.newSeating(false)
		c.uneven = i > 0
		b := under.describe(s.counts, AllRules, c)
		c.done()
		if !yield(then, b) {
			return
		}
	}
}
