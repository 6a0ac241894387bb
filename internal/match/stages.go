package match

import (
	"cmp"
	"context"
	"errors"
	"slices"

	"kinwain/internal/catalog"
	"kinwain/internal/fitting"
	"kinwain/internal/measure"
)

// InStages is the part of an answer that is the stage plan.
const InStages Part = "stages"

// Stages are the cheapest sequence of builds on one frame over the years asked
// for; [fitting.Plan] says what it costs to go from one to the next. The first
// need not be the build of the match, which keeps a place for whoever joins
// later and looks at today.
type Stages struct {
	List  []Stage
	Asked measure.Month // the last one asked for
	Until measure.Month // the last one served: no build of the frame carries everyone after it
	Total measure.Money // the frame, all add-ons, and the labour of all changes
	Now   *Unchanged    // buying everything now; nil where no single build serves until then
	// Unproved tells that time was over before every other sequence was ruled
	// out. None is cheaper than the total by more than Cheaper.
	Unproved bool
	Cheaper  measure.Money
}

// Unchanged is the cheapest build that serves all the months of the stages as
// it is.
type Unchanged struct {
	Build *fitting.Build
	Total measure.Money // with the frame
}

// Stage is one build of the sequence.
type Stage struct {
	From, To measure.Month
	Build    *fitting.Build   // as on the first day, with its whole price and labour
	Seated   []fitting.Seated // on that day
	Joining  []Joining        // whoever joins later in the stage
	Bought   []string         // what is paid for when it begins; sorted, with repeats
	PutOn    []string         // bought, kept aside until then, or put back
	TakenOff []string         // kept aside from then on
	Price    measure.Money    // of what is bought
	Labour   measure.Money    // of the change
}

// Joining is somebody who joins within a stage, with the place they then have.
type Joining struct {
	On measure.Date
	fitting.Seated
}

// Due returns what is to be paid when the stage begins, the frame itself
// aside.
func (s *Stage) Due() measure.Money { return s.Price + s.Labour }

// planAhead finds the stages of a frame that fits. It says nothing where
// nobody asked for years or the age of somebody is not known, and leaves it
// open where time was over before any sequence was found.
func (j *judge) planAhead(ctx context.Context, p *fitting.Problem, m *Match) error {
	if !m.Fits() || j.askedMonths() == 0 || j.demand.Ageless() {
		return nil
	}
	f := p.Frame
	plan, err := p.Plan(ctx, j.askedMonths())
	switch {
	case errors.Is(err, fitting.ErrInfeasible):
		return nil // outgrown before this month is over
	case errors.Is(err, fitting.ErrUnsettled):
		m.leaveOpen(InStages)
		return nil
	case err != nil:
		return err
	}
	s := &Stages{Asked: j.demand.Day.InMonth() + measure.Month(j.askedMonths()-1), Until: plan.Until, Total: f.Price + plan.Price + plan.Labour,
		Unproved: plan.Unproved}
	if s.Unproved {
		s.Cheaper = plan.Price + plan.Labour - plan.Least
		m.leaveOpen(InStages)
	}
	if b := plan.Now; b != nil {
		s.Now = &Unchanged{b, f.Price + b.Price + b.Labour}
	}
	for i := range plan.Steps {
		stage, fault := j.stage(p, &plan.Steps[i])
		if fault != nil {
			fault.report(ctx)
			m.leaveOpen(InStages)
			return nil
		}
		s.List = append(s.List, stage)
	}
	m.Stages = s
	return nil
}

// stage fills in who sits where, and has the build checked by another hand on
// every day that counts.
func (j *judge) stage(p *fitting.Problem, step *fitting.Step) (Stage, *Fault) {
	s := Stage{From: step.From, To: step.To, Bought: step.Bought, PutOn: step.PutOn, TakenOff: step.TakenOff, Price: step.Price, Labour: step.Labour}
	var aboard []string
	var fault *Fault
	p.Builds(step, func(d *fitting.Demand, b *fitting.Build) bool {
		if broken := j.auditor.Check(p.Frame, d, b); broken != nil {
			fault = &Fault{broken, p.Frame, b, nil, j.catalogue, j.profile}
			return false
		}
		seated, begins := p.Under(d).Seated(b), s.Build == nil
		if begins {
			s.Build, s.Seated = b, seated
		}
		for _, one := range seated {
			if slices.Contains(aboard, one.Passenger) {
				continue
			}
			if aboard = append(aboard, one.Passenger); !begins {
				s.Joining = append(s.Joining, Joining{d.Day, one})
			}
		}
		return true
	})
	return s, fault
}

// OverTheYears is what one frame costs until a month, in stages.
type OverTheYears struct {
	Frame *catalog.Frame
	Until measure.Month
	Total measure.Money
}

// CheaperOverTheYears returns, of frames that were planned for with the same
// answers, those that serve as long as one of them or longer and cost less in
// all until then, the cheapest first. Nothing is cheaper than what was not
// planned for.
func CheaperOverTheYears(matches []*Match, than *Match) []OverTheYears {
	if than.Stages == nil {
		return nil
	}
	var list []OverTheYears
	for _, m := range matches {
		if s := m.Stages; s != nil && s.Until >= than.Stages.Until && s.Total < than.Stages.Total && m.Frame.Code != than.Frame.Code {
			list = append(list, OverTheYears{m.Frame, s.Until, s.Total})
		}
	}
	slices.SortFunc(list, func(a, b OverTheYears) int {
		return cmp.Or(cmp.Compare(a.Total, b.Total), cmp.Compare(b.Until, a.Until), cmp.Compare(a.Frame.Code, b.Frame.Code))
	})
	return list
}
