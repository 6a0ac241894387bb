// Package advice says what the shop says to somebody's answers today: what is
// kept, the settings and the solver joined, for the rooms of the web, for
// programs that ask for JSON and for the command line alike.
//
// An answer is a pure function of the catalogue, the settings, the day and what
// the customer said, so an Advisor remembers it under exactly these. Whatever is
// remembered is shared: nobody may change a match that they were given.
//
// It knows no HTTP and no clock: whoever asks says which day it is.
package advice

import (
	"context"
	"fmt"
	"strings"
	"sync"

	"kinwain/internal/catalog"
	"kinwain/internal/match"
	"kinwain/internal/measure"
	"kinwain/internal/profile"
	"kinwain/internal/quote"
	"kinwain/internal/store"
)

// Store is what advice reads of what is kept.
type Store interface {
	Catalogue(ctx context.Context) (*catalog.Catalogue, error)
	Retired(ctx context.Context) (map[store.Thing]bool, error)
	Reservations(ctx context.Context) ([]quote.Reservation, error)
	Settings(ctx context.Context) (map[string]int64, error)
	Texts(ctx context.Context) (map[string]string, error)
}

// Shop is what every judgement needs: the catalogue without what is retired,
// its units with the status that they have on a day, and the settings. One that
// an Advisor gave remembers what it was asked.
type Shop struct {
	Catalogue *catalog.Catalogue
	Settings  match.Settings

	memory  *memory // none: everything is worked out anew
	passing bool    // nothing is added to it
	of      string  // what the answers are remembered under
	once    sync.Once
	ready   *match.Ready
}

// Passing returns the shop for whoever asks about many customers in a row: it
// knows what the shop remembers, and pushes nothing out of it that somebody at
// the counter will ask for again.
func (s *Shop) Passing() *Shop {
	p := &Shop{Catalogue: s.Catalogue, Settings: s.Settings, memory: s.memory, passing: true, of: s.of}
	p.once.Do(func() { p.ready = s.judge() })
	return p
}

// keep remembers an answer.
func (s *Shop) keep(k key, r remembered) {
	if !s.passing {
		s.memory.keep(k, r)
	}
}

// On returns the shop as it is on a day, without a memory.
func On(ctx context.Context, s Store, day measure.Date) (*Shop, error) {
	kept, err := read(ctx, s, day)
	if err != nil {
		return nil, err
	}
	return kept.shop(), nil
}

// read reads what is kept of a shop.
func read(ctx context.Context, s Store, day measure.Date) (*standing, error) {
	kept := &standing{day: day}
	var err error
	if kept.catalogue, err = s.Catalogue(ctx); err != nil {
		return nil, err
	}
	if kept.retired, err = s.Retired(ctx); err != nil {
		return nil, err
	}
	if kept.held, err = s.Reservations(ctx); err != nil {
		return nil, err
	}
	kept.settings, err = Settings(ctx, s)
	return kept, err
}

// shop leaves out what is retired, and says what is held.
func (s *standing) shop() *Shop {
	c := s.catalogue
	if len(s.retired) > 0 {
		c = c.Without(func(list, code string) bool { return s.retired[store.Thing{List: list, Code: code}] })
	}
	if len(s.held) > 0 { // the catalogue is shared, so a copy says what is held
		today := *c
		today.Units = quote.Standing(c.Units, s.held, s.day)
		c = &today
	}
	return &Shop{Catalogue: c, Settings: s.settings}
}

// Settings returns what the shop has set of a match: figures and words.
func Settings(ctx context.Context, s interface {
	Settings(ctx context.Context) (map[string]int64, error)
	Texts(ctx context.Context) (map[string]string, error)
}) (match.Settings, error) {
	figures, err := s.Settings(ctx)
	if err != nil {
		return match.Settings{}, err
	}
	texts, err := s.Texts(ctx)
	return match.SettingsOf(figures).WithTexts(texts), err
}

// judge returns the catalogue made ready to judge frames.
func (s *Shop) judge() *match.Ready {
	s.once.Do(func() { s.ready = match.NewReady(s.Catalogue) })
	return s.ready
}

// Rank ranks all frames for a customer. A page that shows a ranking at once asks
// without Changes, and then Again for the frames that it lists, or Best for one:
// to what is remembered without them they are only added.
func (s *Shop) Rank(ctx context.Context, p *profile.Profile, o match.Options) ([]*match.Match, error) {
	frames := make([]*catalog.Frame, len(s.Catalogue.Frames))
	for i := range s.Catalogue.Frames {
		frames[i] = &s.Catalogue.Frames[i]
	}
	ranked, err := s.each(ctx, frames, p, o)
	if err != nil {
		return nil, err
	}
	match.Sort(ranked)
	return ranked, nil
}

// Again judges frames of a ranking once more, for more of the answer, and keeps
// their order.
func (s *Shop) Again(ctx context.Context, ranked []*match.Match, p *profile.Profile, o match.Options) ([]*match.Match, error) {
	frames := make([]*catalog.Frame, len(ranked))
	for i, m := range ranked {
		frames[i] = s.Catalogue.Frame(m.Frame.Code)
	}
	return s.each(ctx, frames, p, o)
}

// Document ranks all frames for a customer, with the one change that would
// help each that does not fit, the years ahead of each that does, and the
// questions that would decide most, as the interchange document.
func (s *Shop) Document(ctx context.Context, p *profile.Profile) ([]byte, error) {
	ranked, err := s.Rank(ctx, p, match.Options{Changes: true, Stages: true})
	if err != nil {
		return nil, err
	}
	asked, err := s.Questions(ctx, p)
	if err != nil {
		return nil, err
	}
	return match.Document(ranked, asked)
}

// Questions are the answers that could still be given and would decide most.
func (s *Shop) Questions(ctx context.Context, p *profile.Profile) ([]match.Question, error) {
	return s.asked(ctx, p, questions, func(ctx context.Context) ([]match.Question, bool, error) {
		return s.judge().Questions(ctx, p, s.Settings)
	})
}

// AtHome are the measures of the home that could still be given and would
// decide something, all of them.
func (s *Shop) AtHome(ctx context.Context, p *profile.Profile) ([]match.Question, error) {
	return s.asked(ctx, p, atHome, func(ctx context.Context) ([]match.Question, bool, error) {
		return s.judge().QuestionsOf(ctx, p, s.Settings, "home.")
	})
}

// asked asks once for as long as the shop and the answers are the same.
func (s *Shop) asked(ctx context.Context, p *profile.Profile, what string, ask func(context.Context) ([]match.Question, bool, error)) ([]match.Question, error) {
	if s.memory == nil {
		asked, _, err := ask(ctx)
		return asked, err
	}
	about, err := digest(p)
	if err != nil {
		return nil, err
	}
	k := key{of: s.of, what: what, about: about}
	if r, found := s.memory.recall(k); found {
		asked, _ := r.value.([]match.Question)
		return asked, nil
	}
	value, err := s.memory.once(ctx, fmt.Sprintf("%q %s %x", k.of, k.what, about), func(ctx context.Context) (any, error) {
		asked, settled, err := ask(ctx)
		if err == nil && settled {
			s.keep(k, remembered{asked, "", sizeOf(asked)})
		}
		return asked, err
	})
	asked, _ := value.([]match.Question)
	return asked, err
}

// Best judges a frame with the best set of add-ons. The frame is of the shop.
func (s *Shop) Best(ctx context.Context, f *catalog.Frame, p *profile.Profile, o match.Options) (*match.Match, error) {
	one, err := s.each(ctx, []*catalog.Frame{f}, p, o)
	if err != nil {
		return nil, err
	}
	return one[0], nil
}

// ByHand judges a frame with the very add-ons of a list of codes.
func (s *Shop) ByHand(ctx context.Context, f *catalog.Frame, p *profile.Profile, on []string) (*match.Match, error) {
	return s.whole(ctx, "by hand: "+strings.Join(on, " "), f.Code, p, func(ctx context.Context) (*match.Match, error) {
		return s.judge().ByHand(ctx, f, p, s.Settings, on)
	})
}

// ByHandOn is ByHand on one bike of a frame, at its own weight and price. It is
// not remembered.
func (s *Shop) ByHandOn(ctx context.Context, u *catalog.Unit, p *profile.Profile, on []string) (*match.Match, error) {
	return s.judge().ByHandOn(ctx, u, p, s.Settings, on)
}

// Still goes through the stages of a plan as they were told, for a family as it
// is by now; see match.Ready. It is not remembered.
func (s *Shop) Still(f *catalog.Frame, p *profile.Profile, told *match.Stages) (held []match.Held, begins int, until measure.Month) {
	return s.judge().Still(f, p, s.Settings, told)
}

// Alternatives judges a frame with the best set for every objective, in the
// order of profile.Objectives.
func (s *Shop) Alternatives(ctx context.Context, f *catalog.Frame, p *profile.Profile) ([]*match.Match, error) {
	var list []*match.Match
	for _, objective := range profile.Objectives {
		other := *p
		other.Objective = objective
		m, err := s.Best(ctx, f, &other, match.Options{})
		if err != nil {
			return nil, err
		}
		list = append(list, m)
	}
	return list, nil
}

// mostPlanned is for how many other frames the years are looked at beside one,
// those that rank best.
const mostPlanned = 8

// Cheaper returns frames that serve a customer as long as that of a match and
// cost less over the years, the cheapest first. It looks at those that fit and
// rank best, and at none that cost more by themselves.
func (s *Shop) Cheaper(ctx context.Context, m *match.Match, p *profile.Profile) ([]match.OverTheYears, error) {
	if m.Stages == nil {
		return nil, nil
	}
	ranked, err := s.Rank(ctx, p, match.Options{})
	if err != nil {
		return nil, err
	}
	var others []*match.Match
	for _, other := range ranked {
		if other.Fits() && other.Frame.Code != m.Frame.Code && other.Frame.Price < m.Stages.Total && len(others) < mostPlanned {
			others = append(others, other)
		}
	}
	if others, err = s.Again(ctx, others, p, match.Options{Stages: true}); err != nil {
		return nil, err
	}
	return match.CheaperOverTheYears(others, m), nil
}

// OnBike lists the codes of all that is fitted.
func OnBike(m *match.Match) []string {
	var codes []string
	for i := range m.Fitted {
		codes = append(codes, m.Fitted[i].Code)
	}
	return codes
}

// FrameName tells frames of one family apart.
func FrameName(f *catalog.Frame) string { return f.Called() }
