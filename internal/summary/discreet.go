package summary

import (
	"bytes"
	"context"
	"slices"

	"github.com/go-json-experiment/json"

	"kinwain/internal/fitting"
	"kinwain/internal/load"
	"kinwain/internal/match"
	"kinwain/internal/measure"
	"kinwain/internal/profile"
)

// Step is how coarse a page without the riders' weights is: what it says is to
// spare is a whole number of steps, rounded down.
//
// Whoever knows what a frame weighs and may weigh, and who and what else is on
// it, works the heaviest rider out from a single exact figure of what is to
// spare. From a step they learn no more than that somebody weighs within a
// step of it.
const Step measure.Mass = 5000

// byWeight are the reasons that turn on what a rider weighs.
var byWeight = []match.Code{match.ReasonRiderWeight, match.ReasonGrossRating, match.ReasonAxleRating, match.ReasonCarryGuideline,
	match.ReasonFrontLight, match.ReasonHill, match.ReasonBrakes, match.ReasonEstimateMargin}

// tellsWeight reports whether a reason of the match, or that it is missing,
// tells something of what a rider weighs.
func tellsWeight(m *match.Match, r *match.Reason) bool {
	if r.Code == match.ReasonOutgrownSoon || r.Code == match.ReasonOutgrownBefore {
		return m.Horizon != nil && HorizonTellsWeight(m.Horizon)
	}
	return slices.Contains(byWeight, r.Code)
}

// HorizonTellsWeight reports whether a build ends for a rating that a rider's
// weight counts against: the month then tells it, by how fast children grow.
func HorizonTellsWeight(h *fitting.Horizon) bool {
	return h.Ends && slices.Contains([]string{string(load.Gross), string(load.Axle), string(load.Lift)}, h.Limit.Rule)
}

// ChangeTellsWeight reports whether the change that would make the frame fit
// may tell what a rider weighs.
func ChangeTellsWeight(m *match.Match) bool {
	return slices.ContainsFunc(m.Reasons, func(r match.Reason) bool { return r.Weight == match.Stop && tellsWeight(m, &r) })
}

// OfRider reports whether a limit is one that a rider's weight counts against.
func OfRider(l match.Limit) bool { return l.Rider != "" }

// Discreet returns the reasons that a page without the riders' weights may
// name: stops, and what is the same whoever rides. Of the rest, vague reports
// whether there is any that asks for care: each alone would say that somebody
// is lighter or heavier than this or that, and two of them how much they weigh.
func Discreet(m *match.Match) (named []match.Reason, vague bool) {
	for _, r := range m.Reasons {
		if shorter, is := first(r.Message); is && r.Code == match.ReasonOutgrownBefore {
			r.Message = shorter // how long another build lasts may turn on a rider
		}
		switch {
		case r.Weight == match.Stop || !tellsWeight(m, &r):
			named = append(named, r)
		case r.Weight == match.Care:
			vague = true
		}
	}
	return named, vague
}

// first returns the first sentence of a message of several.
func first(m match.Message) (match.Message, bool) {
	if len(m.Args) < 2 {
		return m, false
	}
	sentence, is := m.Args[0].(match.Message)
	return sentence, is
}

// discreet writes what such a page says of a match besides what is to spare.
func discreet(m *match.Match) ([]byte, error) {
	plain, vague := *m, false
	plain.Reasons, vague = Discreet(m)
	t, err := tell(&plain)
	if err != nil {
		return nil, err
	}
	t.Loads, t.Limits = nil, slices.DeleteFunc(t.Limits, func(l limit) bool { return OfRider(l.Limit) })
	for i := range plain.Reasons {
		if tellsWeight(m, &plain.Reasons[i]) {
			t.Reasons[i].Text = message{}
		}
	}
	build := *m.Build
	build.Cargo = slices.Clone(build.Cargo)
	for i := range build.Cargo { // who carries, and not how much: the axles share the cargo out
		build.Cargo[i].Mass, build.Cargo[i].Volume = 0, 0
	}
	t.Build = &build
	if m.Horizon != nil && HorizonTellsWeight(m.Horizon) {
		t.Horizon = &fitting.Horizon{Ends: true}
	}
	t.Band = nil // whichever limit comes first where the children grow fast
	if ChangeTellsWeight(m) {
		t.Change = nil
	}
	return json.Marshal(struct {
		*told
		Vague bool `json:"vague"`
	}{t, vague}, json.Deterministic(true))
}

// least returns what such a page may say is to spare, of the gross rating and
// of both axles and whoever rides; nothing where the frame does not fit.
func (k *Kept) least(ctx context.Context, m *match.Match) (*measure.Mass, error) {
	spare := tightest(m, 0)
	if !m.Fits() || m.Verdict == match.NotJudged || len(m.Sheets) == 0 || spare < 0 {
		return nil, nil
	}
	says, err := discreet(m)
	if err != nil {
		return nil, err
	}
	s := &steps{kept: k, match: m, says: map[measure.Mass][]byte{}}
	shown, ok := s.shown(ctx, int64(spare/Step), says)
	if !ok || s.err != nil {
		return nil, s.err
	}
	least := measure.Mass(shown) * Step
	return &least, nil
}

// steps holds the pages of riders of other weights beside that of a match. A
// step is even where its page is the same from end to end. In one that is not,
// a rule draws a line, and with a figure on it the page would tell on which
// part of the step somebody is: so each part goes with the even step next to
// it, and both say the same figure, which is the lower one.
type steps struct {
	kept  *Kept
	match *match.Match
	says  map[measure.Mass][]byte // by what is spare
	err   error
}

// shown returns the step that the page of a step says, and whether it says any.
func (s *steps) shown(ctx context.Context, step int64, says []byte) (int64, bool) {
	with := step
	switch {
	case s.even(ctx, step):
	case s.joins(ctx, s.light(ctx, step), says, step+1):
		with = step + 1
	case s.joins(ctx, s.heavy(ctx, step), says, step-1):
		with = step - 1
	default:
		return 0, false
	}
	if !s.even(ctx, with-1) && s.joins(ctx, s.light(ctx, with-1), s.heavy(ctx, with), with) {
		return with - 1, true
	}
	return with, true
}

// joins reports whether the part of a step with an end goes with another step,
// which is even.
func (s *steps) joins(ctx context.Context, end, says []byte, with int64) bool {
	return bytes.Equal(end, says) && s.even(ctx, with) && bytes.Equal(s.heavy(ctx, with), says)
}

func (s *steps) even(ctx context.Context, step int64) bool {
	return bytes.Equal(s.heavy(ctx, step), s.light(ctx, step))
}

// heavy and light return the page at either end of a step.
func (s *steps) heavy(ctx context.Context, step int64) []byte {
	return s.page(ctx, measure.Mass(step)*Step, heaviest(s.match, measure.Mass(step)*Step))
}

func (s *steps) light(ctx context.Context, step int64) []byte {
	above := measure.Mass(step+1) * Step
	return s.page(ctx, above-1, heaviest(s.match, above)+1)
}

func (s *steps) page(ctx context.Context, spare, shift measure.Mass) []byte {
	if said, ok := s.says[spare]; ok || s.err != nil {
		return said
	}
	other, err := s.kept.weighing(shift).judge(ctx)
	if err == nil {
		s.says[spare], err = discreet(other)
	}
	s.err = err
	return s.says[spare]
}

// tightest returns what is left of the gross rating and of the axles, whichever
// is least, were every rider heavier by shift.
func tightest(m *match.Match, shift measure.Mass) measure.Mass {
	least := m.Frame.GrossRating
	for i := range m.Sheets {
		r := m.Sheets[i].Rider
		r.Riding += shift
		sh := load.NewSheet(m.Frame, m.Sheets[i].Items, r, 0)
		least = min(least, sh.Spare())
		if sh.Axles && m.Frame.FrontAxleRating > 0 {
			least = min(least, m.Frame.FrontAxleRating-sh.Front)
		}
		if sh.Axles && m.Frame.RearAxleRating > 0 {
			least = min(least, m.Frame.RearAxleRating-sh.Rear)
		}
	}
	return least
}

// heaviest returns by how much every rider may be heavier, or must be lighter
// where it is negative, for at least spare to be left.
func heaviest(m *match.Match, spare measure.Mass) measure.Mass {
	// Nobody is lighter than nothing, and no frame bears more than its rating.
	low, high := -m.Frame.GrossRating, m.Frame.GrossRating
	for high-low > 1 {
		if middle := low + (high-low)/2; tightest(m, middle) >= spare {
			low = middle
		} else {
			high = middle
		}
	}
	return low
}

// weighing returns the summary of the same people with every rider heavier.
func (k *Kept) weighing(more measure.Mass) *Kept {
	other, p := *k, *k.Customer
	p.Riders = slices.Clone(p.Riders)
	for i := range p.Riders {
		if own, ok := p.Riders[i].Weight.Get(); ok {
			p.Riders[i].Weight = profile.Given(own + more)
		}
	}
	other.Customer = &p
	return &other
}
