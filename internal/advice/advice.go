// Package advice says what the shop says to somebody's answers today: what is
// kept, the settings and the solver joined, for the rooms of the web, for
// programs that ask for JSON and for the command line alike.
//
// It knows no HTTP and no clock: whoever asks says which day it is.
package advice

import (
	"context"

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
// its units with the status that they have on a day, and the settings.
type Shop struct {
	Catalogue *catalog.Catalogue
	Settings  match.Settings
}

// On returns the shop as it is on a day.
func On(ctx context.Context, s Store, day measure.Date) (*Shop, error) {
	c, err := offered(ctx, s)
	if err != nil {
		return nil, err
	}
	held, err := s.Reservations(ctx)
	if err != nil {
		return nil, err
	}
	if len(held) > 0 { // the catalogue is shared, so a copy says what is held
		today := *c
		today.Units = quote.Standing(c.Units, held, day)
		c = &today
	}
	settings, err := Settings(ctx, s)
	if err != nil {
		return nil, err
	}
	return &Shop{c, settings}, nil
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

// offered returns the catalogue without what is retired.
func offered(ctx context.Context, s Store) (*catalog.Catalogue, error) {
	c, err := s.Catalogue(ctx)
	if err != nil {
		return nil, err
	}
	retired, err := s.Retired(ctx)
	if err != nil || len(retired) == 0 {
		return c, err
	}
	return c.Without(func(list, code string) bool { return retired[store.Thing{List: list, Code: code}] }), nil
}

// Rank ranks all frames for a customer.
func (s *Shop) Rank(ctx context.Context, p *profile.Profile, o match.Options) ([]*match.Match, error) {
	return match.Rank(ctx, s.Catalogue, p, s.Settings, o)
}

// Document ranks all frames for a customer, with the one change that would
// help each that does not fit and the questions that would decide most, as the
// interchange document.
func (s *Shop) Document(ctx context.Context, p *profile.Profile) ([]byte, error) {
	ranked, err := s.Rank(ctx, p, match.Options{Changes: true})
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
	asked, _, err := match.Questions(ctx, s.Catalogue, p, s.Settings)
	return asked, err
}

// Best judges a frame with the best set of add-ons. The frame is of the shop.
func (s *Shop) Best(ctx context.Context, f *catalog.Frame, p *profile.Profile, o match.Options) (*match.Match, error) {
	return match.One(ctx, s.Catalogue, f, p, s.Settings, o)
}

// ByHand judges a frame with the very add-ons of a list of codes.
func (s *Shop) ByHand(ctx context.Context, f *catalog.Frame, p *profile.Profile, on []string) (*match.Match, error) {
	return match.ByHand(ctx, s.Catalogue, f, p, s.Settings, on)
}

// Alternatives judges a frame with the best set for every objective.
func (s *Shop) Alternatives(ctx context.Context, f *catalog.Frame, p *profile.Profile) ([]*match.Match, error) {
	return match.Alternatives(ctx, s.Catalogue, f, p, s.Settings)
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
