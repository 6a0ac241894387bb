package match

import (
	"context"
	"errors"

	"kinwain/internal/fitting"
	"kinwain/internal/measure"
	"kinwain/internal/profile"
)

// Longer is the build of the same frame that lasts longest, where the one that
// was chosen is outgrown before the years asked for and another lasts longer.
type Longer struct {
	Build   *fitting.Build
	Horizon fitting.Horizon
	More    measure.Money // than the build that was chosen; less where negative
}

// askedMonths returns for how many months the bike is asked to last.
func (j *judge) askedMonths() int { return 12 * j.profile.Years.Or(0) }

// longer finds the build that lasts longest, of those the cheapest, and says in
// the reason of what is outgrown what it costs. It says nothing where time was
// over before that was proved, or where the build breaks a rule when it is
// checked.
func (j *judge) longer(ctx context.Context, p *fitting.Problem, m *Match) error {
	if !m.Fits() || m.objective == profile.Longest || m.Horizon == nil || !m.Horizon.Ends || m.Horizon.Months >= j.askedMonths() {
		return nil
	}
	b, err := p.Solve(ctx, profile.Longest, fitting.AllRules)
	if errors.Is(err, fitting.ErrUnsettled) {
		return nil
	}
	if err != nil {
		return err
	}
	h := p.Horizon(b)
	if b.Unproved || j.auditor.Check(p.Frame, j.demand, b) != nil || h.Ends && h.Month <= m.Horizon.Month {
		return nil
	}
	m.Longer = &Longer{b, h, b.Price + b.Labour - m.Build.Price - m.Build.Labour}
	for i := range m.Reasons {
		if m.Reasons[i].Code == ReasonOutgrownBefore {
			m.Reasons[i].Message = say("%v %v", m.Reasons[i].Message, m.Longer.words(j.catalogue.Shop.Currency))
		}
	}
	return nil
}

// words say what lasting longer costs.
func (l *Longer) words(currency string) Message {
	more := Cost{l.More, currency}
	switch {
	case l.More <= 0 && l.Horizon.Ends:
		return say("Another set-up costs no more and lasts until the end of %v.", l.Horizon.Month)
	case l.More <= 0:
		return say("Another set-up costs no more and lasts ten years and more.")
	case l.Horizon.Ends:
		return say("Another set-up lasts until the end of %v, for %v more.", l.Horizon.Month, more)
	}
	return say("Another set-up lasts ten years and more, for %v more.", more)
}
