package match

import (
	"cmp"
	"context"
	"errors"
	"slices"

	"kinwain/internal/catalog"
	"kinwain/internal/fitting"
	"kinwain/internal/profile"
)

// Options say how much of an answer is worked out.
type Options struct {
	// Changes asks, for every frame that does not fit, for the single change
	// that would make it fit; and for every one that is outgrown before the
	// years asked for, for what lasting longer costs.
	Changes bool
	// Stages asks, for every frame that fits, for the cheapest sequence of
	// builds over the years asked for.
	Stages bool
}

// Rank judges every frame of a catalogue for one customer and puts the best
// first: by verdict, then by score, then by total price, then by code; frames
// that are not judged by code; frames that do not fit by their number of
// stops, then by code. Catalogue and profile must have been checked. Frames
// are judged on all processors, or on half of them while other rankings wait;
// the error is that of the context.
func Rank(ctx context.Context, c *catalog.Catalogue, p *profile.Profile, s Settings, o Options) ([]*Match, error) {
	frames := make([]*catalog.Frame, len(c.Frames))
	for i := range c.Frames {
		frames[i] = &c.Frames[i]
	}
	matches, err := NewReady(c).Each(ctx, frames, p, s, o)
	if err != nil {
		return nil, err
	}
	Sort(matches)
	return matches, nil
}

// One judges a single frame as Rank does.
func One(ctx context.Context, c *catalog.Catalogue, f *catalog.Frame, p *profile.Profile, s Settings, o Options) (*Match, error) {
	return NewReady(c).judge(p, s).whole(ctx, f, o)
}

// whole judges a frame in the time that there is for one. It is no answer
// where the time of the context itself was over.
func (j *judge) whole(ctx context.Context, f *catalog.Frame, o Options) (*Match, error) {
	bounded, done := j.patient(ctx)
	defer done()
	p := j.shelf.Problem(f, j.demand)
	m, err := j.problem(bounded, p, nil)
	if err == nil {
		err = j.more(bounded, p, m, o)
	}
	return m, cmp.Or(ctx.Err(), err)
}

// with returns an answer with what the options ask for besides, in the time
// that there is for one frame.
func (j *judge) with(ctx context.Context, known *Match, o Options) (*Match, error) {
	bounded, done := j.patient(ctx)
	defer done()
	m := *known
	m.Reasons, m.Unsettled = slices.Clone(m.Reasons), slices.Clone(m.Unsettled)
	err := j.more(bounded, j.shelf.Problem(m.Frame, j.demand), &m, o)
	return &m, cmp.Or(ctx.Err(), err)
}

// more adds what the options ask for.
func (j *judge) more(ctx context.Context, p *fitting.Problem, m *Match, o Options) (err error) {
	if o.Changes {
		err = j.help(ctx, p, m)
	}
	if err == nil && o.Stages {
		err = j.planAhead(ctx, p, m)
	}
	return err
}

// help adds what Changes ask for.
func (j *judge) help(ctx context.Context, p *fitting.Problem, m *Match) (err error) {
	if m.Verdict == DoesNotFit {
		m.Change, err = j.change(ctx, p)
		if errors.Is(err, fitting.ErrUnsettled) {
			m.leaveOpen(WouldFitIf)
			err = nil
		}
	}
	if err == nil {
		err = j.longer(ctx, p, m)
	}
	return err
}

func compare(a, b *Match) int {
	if d := a.Verdict.rank() - b.Verdict.rank(); d != 0 {
		return d
	}
	if a.Verdict == DoesNotFit {
		return cmp.Or(a.Count(Stop)-b.Count(Stop), cmp.Compare(a.Frame.Code, b.Frame.Code))
	}
	if a.Verdict == NotJudged {
		return cmp.Compare(a.Frame.Code, b.Frame.Code)
	}
	return cmp.Or(b.Score.Cmp(a.Score), cmp.Compare(a.Total, b.Total), cmp.Compare(a.Frame.Code, b.Frame.Code))
}
