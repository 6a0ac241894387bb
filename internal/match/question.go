package match

import (
	"cmp"
	"context"
	"errors"
	"slices"
	"strings"

	"kinwain/internal/catalog"
	"kinwain/internal/fitting"
	"kinwain/internal/growth"
	"kinwain/internal/measure"
	"kinwain/internal/problem"
	"kinwain/internal/profile"
)

// MostQuestions is how many are asked at a time.
const MostQuestions = 3

// framesOfPatience is for how many frames the patience with one is enough
// for all questions: they are asked for once, and read after the ranking.
const framesOfPatience = 5

// firstFrames are the frames at the head of the list whose order counts.
const firstFrames = 5

// Question is one answer that is open or was never asked for, and that would
// decide something.
type Question struct {
	Path  string       // of the answer, such as home.doorways[0].width_cm
	Span  profile.Span // what nearly everybody answers, within what is plausible
	Edges []Edge       // by figure, then by the order of the catalogue
	// Worth is the share of the span over which the verdict of a frame or the
	// order of the first five that fit differs from now, good to a hundredth.
	Worth measure.Share

	unit     string // of its figures, as the path ends: cm, kg, litres, cents, percent; month; or none
	who      any    // Label or name of whom it is asked
	currency string
	ifAny    bool // it is asked of a lift, which there may be none of
}

// Edge is a figure at which the verdict of one frame changes: Under one unit
// below it, From at it.
type Edge struct {
	Figure      int64
	Frame       *catalog.Frame
	Under, From Verdict
}

// Questions returns the answers that could still be given and would decide
// most, the one that decides most first, at most MostQuestions. What would
// change nothing is not among them. Settled is false where time was over before
// all were tried, the patience that there is with five frames; what was found is returned then. The
// error is that of the context where it was cancelled.
//
// An edge is found by halving: for the figures that are asked for here, more
// room, money or time never makes a verdict worse, nor does less weight. A
// frame may still turn at a figure between two of equal verdict where another
// set of add-ons becomes the cheapest; three figures are looked at first, so
// that most of those are found too.
func (r *Ready) Questions(ctx context.Context, p *profile.Profile, s Settings) (asked []Question, settled bool, err error) {
	asked, settled, err = r.QuestionsOf(ctx, p, s, "")
	return asked[:min(len(asked), MostQuestions)], settled, err
}

// QuestionsOf returns all of those whose paths begin with a part of the
// profile, as Questions does.
func (r *Ready) QuestionsOf(ctx context.Context, p *profile.Profile, s Settings, part string) (asked []Question, settled bool, err error) {
	j := r.judge(p, s)
	j.brief = true
	j.settings.Patience *= framesOfPatience
	ctx, done := j.patient(ctx)
	defer done()
	a := &asker{judge: j, profile: p, ctx: ctx}
	if a.now, err = a.standing(a.judge); err != nil {
		return nil, false, pastTime(ctx, err)
	}
	for _, u := range a.open() {
		if !strings.HasPrefix(u.Path, part) {
			continue
		}
		q, err := a.ask(u)
		if err != nil {
			return best(asked), false, pastTime(ctx, err)
		}
		if q.Worth > 0 {
			asked = append(asked, q)
		}
	}
	return best(asked), true, nil
}

// Questions is Ready.Questions of one catalogue.
func Questions(ctx context.Context, c *catalog.Catalogue, p *profile.Profile, s Settings) (asked []Question, settled bool, err error) {
	return NewReady(c).Questions(ctx, p, s)
}

// pastTime forgives that time was over, which is no failure.
func pastTime(ctx context.Context, err error) error {
	if errors.Is(err, fitting.ErrUnsettled) || errors.Is(ctx.Err(), context.DeadlineExceeded) {
		return nil
	}
	return err
}

func best(asked []Question) []Question {
	slices.SortStableFunc(asked, func(a, b Question) int { return cmp.Compare(b.Worth, a.Worth) })
	return asked
}

// standing is how the frames stand, in the order of the catalogue.
type standing struct {
	verdicts []Verdict
	first    [firstFrames]string // the codes at the head of the list, of those that fit
}

func (s standing) differs(t standing) bool {
	return !slices.Equal(s.verdicts, t.verdicts) || s.first != t.first
}

// asker tries answers on all frames.
type asker struct {
	*judge
	profile *profile.Profile // with those who are not judged yet
	ctx     context.Context
	now     standing
}

// open lists what may be asked, with the span of each: what the form asks,
// and of children what their age makes likely.
func (a *asker) open() []spanned {
	var list []spanned
	for _, u := range a.profile.Unanswered() {
		list = append(list, spanned{u.Path, u.Question.Usual, 2})
	}
	for i := range a.profile.Passengers.Or(nil) {
		list = append(list, a.months(i)...)
		list = append(list, a.likely(i)...)
	}
	return list
}

// spanned is an answer that may be asked for, over so many parts of a span
// that are looked at one by one.
type spanned struct {
	Path  string
	Span  profile.Span
	parts int64
}

// months returns the months that may be asked for: of a birth within the last
// twelve years, which neither young nor old makes better, and of joining
// within the next.
func (a *asker) months(i int) []spanned {
	c := &a.profile.Passengers.Or(nil)[i]
	path, now := problem.Index("passengers", i), int64(a.profile.AsOf.InMonth())
	if c.Born.IsUnknown() {
		return []spanned{{problem.Join(path, "born"), profile.Span{Least: now - 12*12, Most: now}, 24}}
	}
	if c.Expected(a.profile.AsOf) {
		return nil // on the first birthday, unless the family says a later month
	}
	infant := a.profile.AsOf.Before(c.Born.Or(a.profile.AsOf).Latest().AddMonths(profile.FirstRideMonths))
	if c.Joins.IsUnknown() || infant && c.Joins.IsZero() {
		return []spanned{{problem.Join(path, "joins"), profile.Span{Least: now, Most: now + 12}, 2}}
	}
	return nil
}

// Two standard deviations either side of the median hold 95 of 100 children.
const likelyZ = 2

// likely returns what a child of the age weighs and measures, where that was
// not read.
func (a *asker) likely(i int) []spanned {
	c := &a.profile.Passengers.Or(nil)[i]
	born, ok := c.Born.Get()
	if !ok || born.IsZero() || c.Expected(a.profile.AsOf) {
		return nil
	}
	child := growth.Child{Born: born, Sex: fitting.ReferenceOf(c)}
	low, high := growth.Plan(child, -likelyZ, -likelyZ).On(a.profile.AsOf), growth.Plan(child, likelyZ, likelyZ).On(a.profile.AsOf)
	path := problem.Index("passengers", i)
	var list []spanned
	if !c.Weight.IsGiven() {
		list = append(list, spanned{problem.Join(path, "weight_kg"), profile.Span{Least: int64(low.Light), Most: int64(high.Heavy)}, 2})
	}
	if !c.Stature.IsGiven() {
		list = append(list, spanned{problem.Join(path, "stature_cm"), profile.Span{Least: int64(low.Tall), Most: int64(high.Tall)}, 2})
	}
	return list
}

// ask tries one answer over its span.
func (a *asker) ask(u spanned) (Question, error) {
	t := &trial{asker: a, path: u.Path, about: a.touched(u.Path), stands: map[int64]standing{}}
	q := a.question(u)
	if !t.plausible(&q.Span) {
		return q, nil
	}
	var cuts []int64
	for k := range u.parts + 1 {
		cuts = append(cuts, q.Span.Least+(q.Span.Most-q.Span.Least)*k/u.parts)
	}
	cuts = slices.Compact(cuts)
	if _, err := t.at(q.Span.Least); err != nil { // of one figure alone there is no stretch below
		return q, err
	}
	for k := 1; k < len(cuts); k++ {
		from, err := t.at(cuts[k-1])
		if err != nil {
			return q, err
		}
		to, err := t.at(cuts[k])
		if err != nil {
			return q, err
		}
		for _, i := range t.about {
			if err := t.edges(&q, i, cuts[k-1], cuts[k], from.verdicts[i], to.verdicts[i]); err != nil {
				return q, err
			}
		}
	}
	slices.SortStableFunc(q.Edges, func(x, y Edge) int { return cmp.Compare(x.Figure, y.Figure) })
	return q, t.weigh(&q, cuts)
}

func (a *asker) question(u spanned) Question {
	q := Question{Path: u.Path, Span: u.Span, currency: a.catalogue.Shop.Currency}
	_, name, _ := strings.Cut(u.Path, ".")
	name = cmp.Or(name, u.Path)
	if name == "born" || name == "joins" {
		q.unit = "month"
	} else if at := strings.LastIndexByte(name, '_'); at >= 0 {
		q.unit = name[at+1:]
	}
	q.ifAny = strings.HasPrefix(u.Path, "home.lift.") && a.profile.Home.Or(profile.Home{}).Lift.IsZero()
	for i, r := range a.profile.Riders {
		if strings.HasPrefix(u.Path, problem.Index("riders", i)+".") {
			q.who = r.Label
		}
	}
	for i, c := range a.profile.Passengers.Or(nil) {
		if strings.HasPrefix(u.Path, problem.Index("passengers", i)+".") {
			q.who = Label{Text: c.Label}
		}
	}
	return q
}

// touched lists the frames that the answer may decide about: not those that
// are ruled out by a rider or passenger whom the answer does not speak of.
func (a *asker) touched(path string) []int {
	var list []int
	for i := range a.catalogue.Frames {
		f := &a.catalogue.Frames[i]
		out := !strings.HasPrefix(path, "riders") && stops(riderReasons(f, a.demand, a.settings)) ||
			!strings.HasPrefix(path, "passengers") && stops(passengerReasons(a.demand))
		if !out {
			list = append(list, i)
		}
	}
	return list
}

func stops(reasons []Reason) bool {
	return slices.ContainsFunc(reasons, func(r Reason) bool { return r.Weight == Stop })
}
