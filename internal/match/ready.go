package match

import (
	"cmp"
	"context"
	"runtime"
	"slices"
	"sync/atomic"

	"golang.org/x/sync/errgroup"

	"kinwain/internal/catalog"
	"kinwain/internal/fitting"
	"kinwain/internal/fitting/audit"
	"kinwain/internal/measure"
	"kinwain/internal/profile"
)

// Ready is a catalogue made ready to judge its frames for many customers. It
// is read only and may be shared.
type Ready struct {
	catalogue *catalog.Catalogue
	shelf     *fitting.Shelf
	auditor   *audit.Auditor
	dearest   measure.Money // frame listed
}

// NewReady makes a catalogue ready, which must have been checked and must not
// change any more.
func NewReady(c *catalog.Catalogue) *Ready {
	r := &Ready{catalogue: c, shelf: fitting.NewShelf(c), auditor: audit.New(c)}
	for i := range c.Frames {
		r.dearest = max(r.dearest, c.Frames[i].Price)
	}
	return r
}

// Dearest returns the price of the dearest frame listed, which stands in for
// the budget where none is given.
func (r *Ready) Dearest() measure.Money { return r.dearest }

func (r *Ready) judge(p *profile.Profile, s Settings) *judge {
	return (&judge{Ready: r, settings: s}).of(p)
}

// of returns a judge of another customer, by the same settings.
func (j *judge) of(p *profile.Profile) *judge {
	k := *j
	k.profile, k.open = p.Known(), p.OpenQuestions()
	k.demand, k.party = fitting.NewDemand(k.profile, p.AsOf, j.settings.Settings), new(party)
	return &k
}

// Each judges frames of the catalogue for one customer, and returns the
// answers in the order of the frames; see Rank. The error is that of the
// context.
func (r *Ready) Each(ctx context.Context, frames []*catalog.Frame, p *profile.Profile, s Settings, o Options) ([]*Match, error) {
	j := r.judge(p, s)
	return inTurn(ctx, frames, func(ctx context.Context, f *catalog.Frame) (*Match, error) { return j.whole(ctx, f, o) })
}

// With returns answers of Each with what the options ask for besides, of which
// none was asked for before. Those that are given stay as they are.
func (r *Ready) With(ctx context.Context, known []*Match, p *profile.Profile, s Settings, o Options) ([]*Match, error) {
	j := r.judge(p, s)
	return inTurn(ctx, known, func(ctx context.Context, m *Match) (*Match, error) { return j.with(ctx, m, o) })
}

// inTurn works out a match of each, on all processors that there are turns on.
func inTurn[T any](ctx context.Context, all []T, work func(context.Context, T) (*Match, error)) ([]*Match, error) {
	matches := make([]*Match, len(all))
	group, ctx := errgroup.WithContext(ctx)
	turn := &taker{turns: processors}
	var next atomic.Int64
	for range min(runtime.GOMAXPROCS(0), len(all)) {
		group.Go(func() (err error) { // one goroutine for many, so that its stack grows once
			for i := int(next.Add(1)) - 1; i < len(all) && err == nil; i = int(next.Add(1)) - 1 {
				matches[i], err = turned(ctx, turn, all[i], work)
			}
			return err
		})
	}
	return matches, group.Wait()
}

// turned works out the match of one when it has a turn.
func turned[T any](ctx context.Context, turn *taker, one T, work func(context.Context, T) (*Match, error)) (*Match, error) {
	if err := turn.take(ctx); err != nil {
		return nil, err
	}
	defer turn.give()
	return work(ctx, one)
}

// ByHand judges a frame with add-ons that somebody chose, as the function of
// that name does.
func (r *Ready) ByHand(ctx context.Context, f *catalog.Frame, p *profile.Profile, s Settings, fitted []string) (*Match, error) {
	j := r.judge(p, s)
	only, misfits := j.shelf.Problem(f, j.demand).Only(fitted)
	bounded, done := j.patient(ctx)
	defer done()
	m, err := j.problem(bounded, only, misfits)
	return m, cmp.Or(ctx.Err(), err)
}

// OnUnit judges a frame as one unit of it stands in the shop, as the function
// of that name does.
func (r *Ready) OnUnit(ctx context.Context, u *catalog.Unit, p *profile.Profile, s Settings) (*Match, error) {
	return r.ByHand(ctx, r.frameOf(u), p, s, OnBike(r.catalogue, u))
}

// ByHandOn is ByHand on one unit of a frame, with its weight as it was weighed
// and at its own price.
func (r *Ready) ByHandOn(ctx context.Context, u *catalog.Unit, p *profile.Profile, s Settings, fitted []string) (*Match, error) {
	f := r.frameOf(u)
	f.Price = f.PriceOf(u)
	return r.ByHand(ctx, f, p, s, fitted)
}

// frameOf returns the frame of a unit as heavy as that was weighed: the sheet
// adds up from the bare weight, so that takes up what the scale and the makers'
// figures differ by.
func (r *Ready) frameOf(u *catalog.Unit) *catalog.Frame {
	f := *r.catalogue.Frame(u.Frame)
	if u.Weighed > 0 {
		if bare := f.BareWeight + u.Weighed - computedWeight(r.catalogue, &f, OnBike(r.catalogue, u)); bare > 0 {
			f.BareWeight = bare
		}
	}
	return &f
}

// Sort puts answers in the order of a ranking; see Rank.
func Sort(matches []*Match) { slices.SortStableFunc(matches, compare) }

// Settled reports whether time was over for no part of the answer, so that it
// would be the same another time.
func (m *Match) Settled() bool {
	return m.Verdict != NotJudged && len(m.Unsettled) == 0 && !m.Build.Unproved
}

// SettledButPlan reports whether that is so but for a plan, which was found and of
// which no more than that it is the cheapest is open.
func (m *Match) SettledButPlan() bool {
	return m.Stages != nil && m.withPlan(nil, false).Settled()
}

// PlannedAs returns the answer with the plan that another one about the same frame
// and customer has.
func (m *Match) PlannedAs(other *Match) *Match {
	return m.withPlan(other.Stages, slices.Contains(other.Unsettled, InStages))
}

func (m *Match) withPlan(s *Stages, open bool) *Match {
	with := *m
	with.Stages = s
	with.Unsettled = slices.DeleteFunc(slices.Clone(m.Unsettled), func(p Part) bool { return p == InStages })
	if open {
		with.leaveOpen(InStages)
	}
	return &with
}
