package match

import (
	"slices"

	"golang.org/x/sync/errgroup"

	"kinwain/internal/catalog"
	"kinwain/internal/measure"
	"kinwain/internal/profile"
)

// trial is one answer that is tried.
type trial struct {
	*asker
	path   string
	about  []int // the frames that it may decide about
	stands map[int64]standing
}

// with returns a judge of the profile with the answer given; nil where the
// profile cannot be.
func (t *trial) with(figure int64) *judge {
	p, ok := t.profile.With(t.path, figure)
	if !ok || p.Check() != nil {
		return nil
	}
	return t.of(p)
}

// plausible narrows a span to what goes with the other answers, and is false
// where nothing does.
func (t *trial) plausible(span *profile.Span) bool {
	can := func(figure int64) bool { return t.with(figure) != nil }
	least, most := can(span.Least), can(span.Most)
	switch {
	case !least && !most:
		return false
	case !most:
		span.Most = edge(span.Least, span.Most, can)
	case !least:
		span.Least = edge(span.Most, span.Least, can)
	}
	return true
}

// at says how all frames stand with the answer given.
func (t *trial) at(figure int64) (standing, error) {
	if s, ok := t.stands[figure]; ok {
		return s, nil
	}
	s, err := t.standing(t.with(figure), t.about...)
	if err == nil {
		t.stands[figure] = s
	}
	return s, err
}

// standing judges frames, all of them where none are named. The others are
// ruled out.
func (a *asker) standing(j *judge, of ...int) (standing, error) {
	if of == nil {
		for i := range a.catalogue.Frames {
			of = append(of, i)
		}
	}
	matches := make([]*Match, len(of))
	group, ctx := errgroup.WithContext(a.ctx)
	turn := &taker{turns: processors}
	for k, i := range of {
		group.Go(func() error {
			err := turn.take(ctx)
			if err != nil {
				return err
			}
			defer turn.give()
			matches[k], err = j.frame(ctx, &j.catalogue.Frames[i])
			return err
		})
	}
	if err := group.Wait(); err != nil {
		return standing{}, err
	}
	s := standing{verdicts: slices.Repeat([]Verdict{DoesNotFit}, len(a.catalogue.Frames))}
	for k, i := range of {
		s.verdicts[i] = matches[k].Verdict
	}
	slices.SortStableFunc(matches, compare)
	for k, m := range matches[:min(len(matches), firstFrames)] {
		if m.Verdict == Fits || m.Verdict == FitsWithCare {
			s.first[k] = m.Frame.Code
		}
	}
	return s, nil
}

// edges finds where the verdict of one frame turns between two figures.
func (t *trial) edges(q *Question, i int, low, high int64, under, from Verdict) error {
	switch {
	case under == from:
		return nil
	case high-low == 1:
		q.Edges = append(q.Edges, Edge{high, &t.catalogue.Frames[i], under, from})
		return nil
	}
	middle := low + (high-low)/2
	j := t.with(middle)
	if j == nil {
		return nil
	}
	m, err := j.frame(t.ctx, &j.catalogue.Frames[i])
	if err != nil {
		return err
	}
	if err := t.edges(q, i, low, middle, under, m.Verdict); err != nil {
		return err
	}
	return t.edges(q, i, middle, high, m.Verdict, from)
}

// weigh works out over how much of the span something differs from now. Where
// the verdicts do, that is known to the unit from the edges; where only the
// order may, it is tried.
func (t *trial) weigh(q *Question, cuts []int64) error {
	for _, e := range q.Edges {
		cuts = append(cuts, e.Figure)
	}
	slices.Sort(cuts)
	cuts = slices.Compact(cuts)
	total := q.Span.Most - q.Span.Least + 1
	var differing int64
	for k, from := range cuts {
		until := q.Span.Most + 1
		if k+1 < len(cuts) {
			until = cuts[k+1]
		}
		n, err := t.differing(q, from, until, max(total/100, 1))
		if err != nil {
			return err
		}
		differing += n
	}
	q.Worth = measure.Share(differing * int64(measure.Whole) / total)
	return nil
}

// differing returns how many figures of a stretch without an edge differ from
// now.
func (t *trial) differing(q *Question, from, until, grain int64) (int64, error) {
	if !slices.Equal(t.verdictsAt(q, from), t.now.verdicts) {
		return until - from, nil
	}
	first, err := t.at(from)
	if err != nil {
		return 0, err
	}
	if until-from == 1 {
		return count(first.differs(t.now), 1), nil
	}
	last, err := t.at(until - 1)
	if err != nil {
		return 0, err
	}
	if first.differs(t.now) == last.differs(t.now) {
		return count(first.differs(t.now), until-from), nil
	}
	low, high := from, until-1
	for high-low > grain {
		middle := low + (high-low)/2
		s, err := t.at(middle)
		if err != nil {
			return 0, err
		}
		if s.differs(t.now) == first.differs(t.now) {
			low = middle
		} else {
			high = middle
		}
	}
	return count(first.differs(t.now), high-from) + count(last.differs(t.now), until-high), nil
}

func count(counts bool, n int64) int64 {
	if counts {
		return n
	}
	return 0
}

// verdictsAt returns the verdicts at a figure, from those at the least and the
// edges.
func (t *trial) verdictsAt(q *Question, figure int64) []Verdict {
	verdicts := slices.Clone(t.stands[q.Span.Least].verdicts)
	for _, e := range q.Edges {
		if e.Figure <= figure {
			verdicts[t.indexOf(e.Frame)] = e.From
		}
	}
	return verdicts
}

func (t *trial) indexOf(f *catalog.Frame) int {
	return slices.IndexFunc(t.catalogue.Frames, func(g catalog.Frame) bool { return g.Code == f.Code })
}
