package match

import (
	"context"
	"errors"
	"math/big"
	"slices"

	"kinwain/internal/catalog"
	"kinwain/internal/fitting"
	"kinwain/internal/load"
	"kinwain/internal/measure"
	"kinwain/internal/parking"
	"kinwain/internal/profile"
	"kinwain/internal/ride"
)

// Match is the answer for one frame.
type Match struct {
	Frame    *catalog.Frame
	Verdict  Verdict
	Relaxed  []fitting.Relaxation // what the build leaves out where none holds whole
	Open     []string             // paths of the profile's open questions
	Criteria []Criterion          // empty where the frame does not fit
	Score    *big.Rat             // 0 to 100, unrounded; nil where the frame does not fit
	Reasons  []Reason
	Build    *fitting.Build   // of a frame that is not judged, as it is delivered, with nobody and nothing on it
	Sheets   []load.Sheet     // one a rider whose weight is known; of Asked where there is one
	Limits   []Limit          // of what the sheets are of, the one with the least left first
	Climbs   []ride.Climb     // of the hill asked for, one a sheet; none without a hill
	Asked    *Asked           // what was asked for, where the build leaves something of it out
	Horizon  *fitting.Horizon // nil where the frame does not fit, or the age of somebody is not known
	Band     *fitting.Band    // around the horizon, where there is one
	Home     *parking.Fit
	Bike     parking.Bike // the outline of the build
	Fitted   []catalog.AddOn
	Choices  []fitting.Choice // every add-on that may be on the frame
	Misfits  []fitting.Misfit // of add-ons chosen by hand
	Total    measure.Money
	Change   *Change // for a frame that does not fit; nil where no single change helps
	Longer   *Longer // for one that is outgrown before the years asked for; nil where none lasts longer
	Stages   *Stages // for one that fits, where they were asked for
	Seated   []fitting.Seated

	Unsettled []Part // of the answer that time was over for
	objective profile.Objective
	aboard    aboard     // what the load sheets are of
	unridden  load.Sheet // the same without a rider
}

// Count returns how many reasons have the weight.
func (m *Match) Count(w Weight) int {
	n := 0
	for i := range m.Reasons {
		if m.Reasons[i].Weight == w {
			n++
		}
	}
	return n
}

// judge is one customer held against one catalogue.
type judge struct {
	*Ready
	settings Settings
	profile  *profile.Profile
	demand   *fitting.Demand
	party    *party
	open     []string // what is not known yet
	brief    bool     // of a frame that no set of add-ons holds for, nothing but that it does not fit
}

// frame judges one frame whole. The error is that of the context.
func (j *judge) frame(ctx context.Context, f *catalog.Frame) (*Match, error) {
	return j.problem(ctx, j.shelf.Problem(f, j.demand), nil)
}

// usualReasons is how many reasons a match has, mostly no more than that.
const usualReasons = 14

// problem judges a frame whose problem is set up. Misfits are what keeps
// add-ons that were chosen by hand from being put together.
func (j *judge) problem(ctx context.Context, p *fitting.Problem, misfits []fitting.Misfit) (*Match, error) {
	m := &Match{Frame: p.Frame, Open: j.open, Misfits: misfits, objective: j.profile.Goal()}
	m.Reasons = append(make([]Reason, 0, usualReasons), misfitReasons(misfits)...)
	m.Reasons = append(m.Reasons, riderReasons(p.Frame, j.demand, j.settings)...)
	m.Reasons = append(m.Reasons, j.party.about(j.demand)...)
	if j.brief && stops(m.Reasons) {
		return &Match{Frame: p.Frame, Verdict: DoesNotFit}, nil
	}
	relaxed, b, err := j.build(ctx, p, m)
	if j.brief && errors.Is(err, fitting.ErrInfeasible) {
		return &Match{Frame: p.Frame, Verdict: DoesNotFit}, nil
	}
	if err = undecided(ctx, m, err); err != nil {
		return nil, err
	}
	if b == nil {
		b = relaxed.Delivered()
	}
	j.describe(relaxed, b, m)
	j.weigh(p, m)
	j.settle(relaxed, b, m)
	return m, nil
}

// build finds the best build; where none holds the reasons why, and one that
// leaves something out, with the problem that leaves it out too; or none, with
// the error.
func (j *judge) build(ctx context.Context, p *fitting.Problem, m *Match) (*fitting.Problem, *fitting.Build, error) {
	b, err := j.solve(ctx, p, m)
	if err == nil && j.mayBeCheaper(p, b) {
		return p, nil, fitting.ErrUnsettled
	}
	if j.brief || !errors.Is(err, fitting.ErrInfeasible) {
		return p, b, err
	}
	reasons, err := j.whyNot(ctx, p, m)
	if errors.Is(err, fitting.ErrUnsettled) {
		m.leaveOpen(WhyNot)
		if err = nil; len(reasons) == 0 {
			reasons = []Reason{{Code: ReasonUnsettled, Weight: Stop,
				Message: say("No set of add-ons does all that is asked. Which rule is in the way was not settled in time.")}}
		}
	}
	m.Reasons = append(m.Reasons, reasons...)
	if err != nil {
		return p, nil, err
	}
	return j.relax(ctx, p, m)
}

// relax leaves things out, one after the other, until a build exists.
func (j *judge) relax(ctx context.Context, whole *fitting.Problem, m *Match) (*fitting.Problem, *fitting.Build, error) {
	p := whole
	for _, r := range whole.Demand.Relaxations() {
		m.Relaxed = append(m.Relaxed, r)
		if whole.Chosen() {
			m.Relaxed = pared(ctx, whole, m.Relaxed)
		}
		p = without(whole, m.Relaxed)
		b, err := j.solve(ctx, p, m)
		switch {
		case errors.Is(err, fitting.ErrUnsettled):
			m.leaveOpen(LeftOut)
		case !errors.Is(err, fitting.ErrInfeasible):
			return p, b, err
		}
	}
	return p, nil, nil
}

func without(whole *fitting.Problem, left []fitting.Relaxation) *fitting.Problem {
	d := whole.Demand
	for _, r := range left {
		d = d.Without(r)
	}
	return whole.Under(d)
}

// pared returns of what is left out for a set that was chosen by hand only
// what has to be, so that whoever takes one thing off is told of that alone;
// all of it where that is not enough.
func pared(ctx context.Context, whole *fitting.Problem, left []fitting.Relaxation) []fitting.Relaxation {
	holds := func(left []fitting.Relaxation) bool {
		ok, err := without(whole, left).Feasible(ctx, fitting.AllRules)
		return ok && err == nil
	}
	if !holds(left) {
		return left
	}
	for i := 0; i < len(left); {
		if fewer := slices.Delete(slices.Clone(left), i, i+1); holds(fewer) {
			left = fewer
		} else {
			i++
		}
	}
	return left
}

// describe fills in what follows from the build.
func (j *judge) describe(p *fitting.Problem, b *fitting.Build, m *Match) {
	m.Build = b
	m.aboard = aboard{p.Items(b), p.Fitted(b), p.Seated(b)}
	m.Bike, m.Fitted, m.Choices = p.Bike(b), m.aboard.fitted, p.Choices(b)
	if j.demand.HasHome {
		fit := parking.Check(m.Bike, j.demand.Home)
		m.Home = &fit
	}
	m.Seated = m.aboard.seated
	m.Total = m.Frame.Price + b.Price + b.Labour
}

// settle draws the remaining reasons, the verdict and the score.
func (j *judge) settle(p *fitting.Problem, b *fitting.Build, m *Match) {
	judged := m.Verdict != NotJudged // else there is no build to speak of
	if judged {
		m.Reasons = append(m.Reasons, carryReasons(m.Sheets, j.settings)...)
		m.Reasons = append(m.Reasons, j.balanceReasons(m)...)
		m.Reasons = append(m.Reasons, j.marginReasons(m)...)
		m.Reasons = append(m.Reasons, j.roadReasons(m)...)
		m.Reasons = append(m.Reasons, j.homeReasons(m)...)
		m.Reasons = append(m.Reasons, j.budgetReasons(m)...)
		m.Reasons = append(m.Reasons, j.localReasons(m)...)
		m.Reasons = append(m.Reasons, j.specReasons(m)...)
		m.Reasons = append(m.Reasons, sourceReasons(m)...)
		m.Reasons = append(m.Reasons, j.unprovedReasons(m)...)
	}
	switch {
	case m.Count(Stop) > 0:
		m.Verdict = DoesNotFit
	case judged:
		if !j.demand.Ageless() {
			horizon := p.Horizon(b)
			band := p.Band(b, horizon)
			m.Horizon, m.Band = &horizon, &band
			m.Reasons = append(m.Reasons, j.horizonReasons(m.Horizon)...)
		}
		m.Criteria = j.criteria(m)
		m.Score = score(m.Criteria)
		m.Verdict = Fits
		if m.Count(Care) > 0 || len(m.Open) > 0 {
			m.Verdict = FitsWithCare
		}
	}
	m.Reasons = sorted(m.Reasons)
}

// horizonReasons tells of a build that is soon outgrown, or before the years
// asked for.
func (j *judge) horizonReasons(h *fitting.Horizon) []Reason {
	if !h.Ends {
		return nil
	}
	var reasons []Reason
	month := h.Month.String()
	if int64(h.Month-j.demand.Day.InMonth()) < j.settings.OutgrownMonths {
		r := Reason{Code: ReasonOutgrownSoon, Weight: Care, Month: month,
			Message: say("This set-up carries everyone only until the end of %v. Ask what comes after that before you buy.", h.Month)}
		if h.Months == 0 {
			r.Message = say("This set-up is outgrown before this month is over. Ask what comes after that before you buy.")
		}
		reasons = append(reasons, r)
	}
	if asked := j.askedMonths(); h.Months < asked {
		r := Reason{Code: ReasonOutgrownBefore, Weight: Note, Month: month,
			Message: say("This set-up carries everyone until the end of %v, %v of the %v months asked for.", h.Month, h.Months, asked)}
		if h.Months == 0 {
			r.Message = say("This set-up is outgrown before this month is over, short of the %v months asked for.", asked)
		}
		reasons = append(reasons, r)
	}
	return reasons
}
