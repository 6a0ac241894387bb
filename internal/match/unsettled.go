package match

import (
	"context"
	"errors"
	"fmt"
	"slices"
	"time"

	"github.com/go-json-experiment/json"
	"github.com/go-json-experiment/json/jsontext"

	"kinwain/internal/catalog"
	"kinwain/internal/fitting"
	"kinwain/internal/measure"
	"kinwain/internal/profile"
)

// DefaultPatience is how long one frame is thought about at most: far beyond
// what ordinary frames take, and as long as somebody at a counter waits.
const DefaultPatience = 2 * time.Second

// Part is one part of an answer that may be left open where time is over.
type Part string

// The parts. That the build itself is not settled is a verdict, NotJudged.
const (
	WhyNot     Part = "reasons"      // why no build holds
	LeftOut    Part = "relaxed"      // perhaps less had to be left out
	WouldFitIf Part = "would_fit_if" // whether a single change would help
)

// leaveOpen notes that time was over for a part of the answer.
func (m *Match) leaveOpen(part Part) {
	if !slices.Contains(m.Unsettled, part) {
		m.Unsettled = append(m.Unsettled, part)
	}
}

// Help says which single change would make the frame fit, or that this was not
// settled; false where there is nothing to say.
func (m *Match) Help() (Message, bool) {
	switch {
	case m.Change != nil:
		return m.Change.Message, true
	case slices.Contains(m.Unsettled, WouldFitIf):
		return say("Whether a single change would make it fit was not settled in time."), true
	}
	return Message{}, false
}

// Fits reports whether the frame fits, with care or without.
func (m *Match) Fits() bool { return m.Verdict == Fits || m.Verdict == FitsWithCare }

// patient bounds the time that one frame may take.
func (j *judge) patient(ctx context.Context) (context.Context, context.CancelFunc) {
	if j.settings.Patience <= 0 {
		return ctx, func() {}
	}
	return context.WithTimeout(ctx, j.settings.Patience)
}

type reporting struct{}

// Reporting returns a context under which report hears of every build that
// broke a rule, from many goroutines.
func Reporting(ctx context.Context, report func(*Fault)) context.Context {
	return context.WithValue(ctx, reporting{}, report)
}

// Fault is a build that broke a rule when it was checked: an error of the
// program, with all that it needs to be found again.
type Fault struct {
	Broken    error // every rule
	Frame     *catalog.Frame
	Build     *fitting.Build
	Relaxed   []fitting.Relaxation // what the build leaves out
	catalogue *catalog.Catalogue
	profile   *profile.Profile
}

// Error says which rules the build breaks.
func (f *Fault) Error() string {
	return fmt.Sprintf("the build of frame %s breaks rules: %v", f.Frame.Code, f.Broken)
}

// Unwrap returns the rules that the build breaks.
func (f *Fault) Unwrap() error { return f.Broken }

// report tells whoever listens.
func (f *Fault) report(ctx context.Context) {
	if report, ok := ctx.Value(reporting{}).(func(*Fault)); ok {
		report(f)
	}
}

// Inputs writes the catalogue of the frame and its add-ons, the profile and
// the build, each as documents have it, in one line.
func (f *Fault) Inputs() string {
	gone := func(list, code string) bool {
		return list == "units" || list == "frames" && code != f.Frame.Code || list == "add_ons" && !slices.Contains(f.catalogue.AddOn(code).Fits, f.Frame.Code)
	}
	one := f.catalogue.Without(gone)
	one.Frames = []catalog.Frame{*f.Frame} // a unit's own may weigh more
	for i := range one.AddOns {
		a := &one.AddOns[i]
		a.Excludes = slices.DeleteFunc(slices.Clone(a.Excludes), func(code string) bool { return one.AddOn(code) == nil })
	}
	data, err := json.Marshal(struct {
		Catalogue *catalog.Catalogue   `json:"catalogue"`
		Profile   *profile.Profile     `json:"profile"`
		Relaxed   []fitting.Relaxation `json:"relaxed"`
		Build     *fitting.Build       `json:"build"`
	}{one, f.profile, f.Relaxed, f.Build}, json.Deterministic(true), jsontext.Multiline(false))
	if err != nil {
		return err.Error() // cannot be: all of it is written elsewhere
	}
	return string(data)
}

// solve finds the best build. Before anybody is told of it, it is checked by
// another hand; the error is then a *Fault. What m leaves out, and misfits of
// a set that was chosen by hand, are known and no fault.
func (j *judge) solve(ctx context.Context, p *fitting.Problem, m *Match) (*fitting.Build, error) {
	b, err := p.Solve(ctx, j.profile.Goal(), fitting.AllRules)
	if err != nil || len(m.Misfits) > 0 {
		return b, err
	}
	if broken := j.auditor.Check(p.Frame, p.Demand, b); broken != nil {
		return nil, &Fault{broken, p.Frame, b, m.Relaxed, j.catalogue, j.profile}
	}
	return b, nil
}

// undecided makes the match one that says neither that the frame fits nor that
// it does not, where that is for the error. It returns what else went wrong.
func undecided(ctx context.Context, m *Match, err error) error {
	reason := Reason{Code: ReasonUnsettled, Weight: Care,
		Message: say("Whether this frame can carry all that is asked was not settled in time.")}
	if fault, ok := errors.AsType[*Fault](err); ok {
		fault.report(ctx)
		reason = Reason{Code: ReasonUnverified, Weight: Care,
			Message: say("The add-ons found for this frame did not pass a second check, so it is not judged.")}
	} else if !errors.Is(err, fitting.ErrUnsettled) {
		return err
	}
	m.Verdict = NotJudged
	m.Reasons = append(m.Reasons, reason)
	return nil
}

// mayBeCheaper reports whether a build is beyond a firm budget, and one that
// is not was not ruled out before time was over.
func (j *judge) mayBeCheaper(p *fitting.Problem, b *fitting.Build) bool {
	budget, ok := j.profile.Budget.Get()
	return b.Unproved && ok && j.profile.BudgetFirm.Or(false) &&
		p.Frame.Price+b.Price+b.Labour > budget && p.Frame.Price+b.Least <= budget
}

// CheaperAtMost returns by how much another set of add-ons may be cheaper than
// that of an unproved build, at the most. It is known where the cheapest set
// was looked for.
func (m *Match) CheaperAtMost() (by measure.Money, known bool) {
	return m.Build.Price + m.Build.Labour - m.Build.Least, m.objective == profile.LeastCost
}

// unprovedReasons says how good a build is at least, where time was over
// before it was proved to be the best.
func (j *judge) unprovedReasons(m *Match) []Reason {
	if !m.Build.Unproved {
		return nil
	}
	r := Reason{Code: ReasonUnproved, Weight: Care}
	by, known := m.CheaperAtMost()
	switch {
	case known:
		r.Message = say("No other set of add-ons is more than %v cheaper; not all were compared in time.", Cost{by, j.catalogue.Shop.Currency})
	case m.objective == profile.Lightest:
		r.Message = say("Another set of add-ons may be lighter; not all were compared in time.")
	default:
		r.Message = say("Another set of add-ons may last longer; not all were compared in time.")
	}
	return []Reason{r}
}
