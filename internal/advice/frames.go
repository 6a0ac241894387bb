package advice

import (
	"context"
	"crypto/sha256"
	"encoding/hex"
	"fmt"

	"github.com/go-json-experiment/json"

	"kinwain/internal/catalog"
	"kinwain/internal/match"
	"kinwain/internal/measure"
	"kinwain/internal/profile"
)

// What is asked of a frame with the best add-ons.
const (
	best    = "best"
	changed = ", and what would help"
	ahead   = ", and the years ahead"

	questions = "questions" // of all frames
	atHome    = "at home"   // the questions of the home, of all frames
)

// each judges frames with the best add-ons, in their order. What is remembered
// is not judged again; the rest is judged together.
func (s *Shop) each(ctx context.Context, frames []*catalog.Frame, p *profile.Profile, o match.Options) ([]*match.Match, error) {
	if s.memory == nil {
		return s.judge().Each(ctx, frames, p, s.Settings, o)
	}
	about, err := core(p)
	if err != nil {
		return nil, err
	}
	list := make([]*match.Match, len(frames))
	var missing []*catalog.Frame
	var at []int
	for i, f := range frames {
		if list[i] = s.recall(f, p, about, o); list[i] == nil {
			missing, at = append(missing, f), append(at, i)
		}
	}
	if len(missing) == 0 {
		return list, nil
	}
	judged, err := s.judged(ctx, missing, p, about, o)
	for k, m := range judged {
		list[at[k]] = m
	}
	return list, err
}

// judged judges frames and remembers the answers. Whoever asks the same at a
// time waits for the one who judges.
func (s *Shop) judged(ctx context.Context, frames []*catalog.Frame, p *profile.Profile, about [32]byte, o match.Options) ([]*match.Match, error) {
	name, err := nameOf(s.of, frames, p, o)
	if err != nil {
		return nil, err
	}
	value, err := s.memory.once(ctx, name, func(ctx context.Context) (any, error) {
		judged, err := s.work(ctx, frames, p, about, o)
		if err != nil {
			return nil, err
		}
		for i, m := range judged {
			judged[i] = s.agreed(m, p, about, o)
			s.remember(judged[i], p, about, o)
		}
		return judged, nil
	})
	judged, _ := value.([]*match.Match)
	return judged, err
}

// work judges frames. Where more is asked of a frame of which less of the
// answer is remembered, it only adds that: what would help, or the years ahead
// to what would help.
func (s *Shop) work(ctx context.Context, frames []*catalog.Frame, p *profile.Profile, about [32]byte, o match.Options) ([]*match.Match, error) {
	less, more := match.Options{}, o
	if o.Changes && o.Stages {
		less, more = match.Options{Changes: true}, match.Options{Stages: true}
	}
	var known []*match.Match
	var fresh []*catalog.Frame
	list := make([]*match.Match, len(frames))
	for i, f := range frames {
		if o != less {
			list[i] = s.recall(f, p, about, less)
		}
		if list[i] != nil {
			known = append(known, list[i])
		} else {
			fresh = append(fresh, f)
		}
	}
	judged, err := s.judge().Each(ctx, fresh, p, s.Settings, o)
	if err != nil {
		return nil, err
	}
	added, err := s.judge().With(ctx, known, p, s.Settings, more)
	if err != nil {
		return nil, err
	}
	for i := range list {
		from := &judged
		if list[i] != nil {
			from = &added
		}
		list[i], *from = (*from)[0], (*from)[1:]
	}
	return list, nil
}

// nameOf names a piece of work by all that it follows from.
func nameOf(of string, frames []*catalog.Frame, p *profile.Profile, o match.Options) (string, error) {
	h := sha256.New()
	fmt.Fprintf(h, "%q ", of)
	for _, f := range frames {
		fmt.Fprintf(h, "%q ", f.Code)
	}
	fmt.Fprintln(h, asked(o))
	err := json.MarshalWrite(h, p, json.Deterministic(true))
	return hex.EncodeToString(h.Sum(nil)), err
}

// recall returns the answer for a frame, or nil.
func (s *Shop) recall(f *catalog.Frame, p *profile.Profile, about [32]byte, o match.Options) *match.Match {
	return s.recalled(asked(o), f, p, about)
}

// asked names a question by how much of the answer is worked out.
func asked(o match.Options) string {
	what := best
	if o.Changes {
		what += changed
	}
	if o.Stages {
		what += ahead
	}
	return what
}

func (s *Shop) recalled(what string, f *catalog.Frame, p *profile.Profile, about [32]byte) *match.Match {
	r, found := s.memory.recall(key{s.of, what, f.Code, about})
	if !found {
		return nil
	}
	m, _ := r.value.(*match.Match)
	if s.rest(m, p) != r.rest {
		return nil
	}
	return m
}

// agreed gives an answer the plan that is remembered of the same frame with the
// other question of what would help, if there is one: where time was over before
// all others were ruled out, it need not be the same twice.
func (s *Shop) agreed(m *match.Match, p *profile.Profile, about [32]byte, o match.Options) *match.Match {
	if !o.Stages {
		return m
	}
	o.Changes = !o.Changes
	if known := s.recall(m.Frame, p, about, o); known != nil && known.Stages != nil {
		return m.PlannedAs(known)
	}
	return m
}

// remember keeps an answer that would be the same another time. A plan of which
// time was over before all others were ruled out is kept as well, so that every
// page tells a customer the same one, and that it was not worked out to the end.
func (s *Shop) remember(m *match.Match, p *profile.Profile, about [32]byte, o match.Options) {
	if m.Settled() || m.SettledButPlan() {
		s.keep(key{s.of, asked(o), m.Frame.Code, about}, remembered{m, s.rest(m, p), size(m)})
	}
}

// core is what of a profile every frame depends on: all of it but what rest
// looks at, and which questions are open.
func core(p *profile.Profile) ([32]byte, error) {
	less := *p
	less.Years, less.Budget, less.BudgetFirm = profile.Answer[int]{}, profile.Answer[measure.Money]{}, profile.Answer[bool]{}
	if home, given := p.Home.Get(); given {
		home.Steps = profile.Answer[int]{}
		less.Home = profile.Given(home)
	}
	return digest(&less, p.OpenQuestions())
}

func digest(parts ...any) (sum [32]byte, err error) {
	h := sha256.New()
	err = json.MarshalWrite(h, parts, json.Deterministic(true))
	return [32]byte(h.Sum(nil)), err
}

// rest is what else of the answers a match depends on, beyond core, in one
// text. Where it is the same for other answers, so is the match:
//
//   - Years count where a frame fits, in the horizon's reasons and its
//     criterion and for how long it is planned in stages, and nowhere else.
//   - The budget, or the dearest frame in its place, counts in the criterion of
//     a frame that fits. A total beyond it is a reason. No build is chosen by
//     it, so the total is the same whatever it is; only the search for what
//     would help asks for a firm budget.
//   - Steps count where they are more than may be and the bike is too heavy to
//     carry, and nowhere else.
func (s *Shop) rest(m *match.Match, p *profile.Profile) string {
	var years, steps int
	var firm bool
	budget, limited := p.Budget.Get()
	over := limited && m.Total > budget
	switch {
	case m.Fits():
		years = p.Years.Or(0)
		if !limited {
			budget = s.judge().Dearest()
		}
		firm = over && p.BudgetFirm.Or(false)
	case limited && p.BudgetFirm.Or(false):
		firm = true
	case !over:
		budget = 0
	}
	home := p.Home.Or(profile.Home{})
	if n := home.Steps.Or(0); n > s.Settings.StepsMax && m.Handling() > s.Settings.StepsMass {
		steps = n
	}
	return fmt.Sprint(years, budget, firm, limited && over, steps)
}

// whole answers one question about one frame that depends on all that the
// customer said.
func (s *Shop) whole(ctx context.Context, what, frame string, p *profile.Profile, judge func(context.Context) (*match.Match, error)) (*match.Match, error) {
	if s.memory == nil {
		return judge(ctx)
	}
	about, err := digest(p)
	if err != nil {
		return nil, err
	}
	k := key{s.of, what, frame, about}
	if r, found := s.memory.recall(k); found {
		m, _ := r.value.(*match.Match)
		return m, nil
	}
	value, err := s.memory.once(ctx, fmt.Sprintf("%q %s %s %x", k.of, what, frame, about), func(ctx context.Context) (any, error) {
		m, err := judge(ctx)
		if err == nil && m.Settled() {
			s.keep(k, remembered{m, "", size(m)})
		}
		return m, err
	})
	m, _ := value.(*match.Match)
	return m, err
}
