package fitting

import (
	"context"
	"slices"

	"kinwain/internal/measure"
)

// On returns the demand as it is on another day.
func (d *Demand) On(day measure.Date) *Demand {
	other := *d
	other.Day, other.Today = day, d.future.on(day)
	other.future = &future{on: d.future.on, from: day.InMonth()}
	return &other
}

// WithoutPassenger returns the demand with one passenger left at home, by index.
func (d *Demand) WithoutPassenger(i int) *Demand {
	less, on := *d, d.future.on
	all := func(day measure.Date) Stage { return slices.Delete(on(day), i, i+1) }
	less.Labels, less.Today = slices.Delete(slices.Clone(d.Labels), i, i+1), slices.Delete(slices.Clone(d.Today), i, i+1)
	less.future = &future{on: all, from: d.future.from}
	return &less
}

// Days are days to come, one after the other, on which somebody may wait to
// buy. They are the same for every frame, and may be shared.
type Days struct {
	// spans is a binary tree over the days: node 1 spans all of them, and nodes 2n
	// and 2n+1 halve node n. Each is easier than any of its days, and nil where
	// nobody may ride on any of them.
	spans  []Stage
	leaves int
}

// Days works out the party on so many days; those on which somebody on it may
// not ride at all are left out.
func (d *Demand) Days(n int, day func(i int) measure.Date, ride func(on measure.Date, party Stage) bool) *Days {
	days := &Days{leaves: 1}
	for days.leaves < n {
		days.leaves *= 2
	}
	days.spans = make([]Stage, 2*days.leaves)
	for i := range n {
		if party := d.future.on(day(i)); ride(day(i), party) {
			days.spans[days.leaves+i] = party
		}
	}
	for node := days.leaves - 1; node > 0; node-- {
		switch a, b := days.spans[2*node], days.spans[2*node+1]; {
		case a == nil:
			days.spans[node] = b
		case b == nil:
			days.spans[node] = a
		default:
			days.spans[node] = easier(a, b)
		}
	}
	return days
}

// FirstDay returns the first of the days on which something holds, or -1. It
// asks of a span of days whether anything holds for what is easier than all of
// them, within a sum of price and labour where one is given, and only where that
// is so of its halves.
func (p *Problem) FirstDay(ctx context.Context, days *Days, within *measure.Money, holds func(i int) (bool, error)) (int, error) {
	f := firstDay{p, ctx, days, aim{rules: AllRules, loose: true}, p.heavierIsHarder(AllRules), holds}
	if within != nil {
		f.limited, f.within = true, *within
	}
	return f.among(1, 0, days.leaves)
}

type firstDay struct {
	*Problem
	ctx  context.Context
	days *Days
	aim
	harder bool
	holds  func(i int) (bool, error)
}

func (f *firstDay) among(node, from, days int) (int, error) {
	stage := f.days.spans[node]
	if stage == nil {
		return -1, nil
	}
	if days == 1 {
		ok, err := f.holds(from)
		if !ok {
			from = -1
		}
		return from, err
	}
	if f.harder || !mixed(stage) {
		f.stages = []Stage{stage}
		if ok, err := f.any(f.ctx, f.aim); !ok || err != nil {
			return -1, err
		}
	}
	half := days / 2
	if first, err := f.among(2*node, from, half); first >= 0 || err != nil {
		return first, err
	}
	return f.among(2*node+1, from+half, half)
}

// mixed reports whether somebody rides along on some of the days only. Whoever
// is not there relieves nothing, which may be harder.
func mixed(stage Stage) bool {
	return slices.ContainsFunc(stage, func(st Standing) bool { return st.sometimes })
}
