package concern

import (
	"context"
	"maps"
	"slices"

	"kinwain/internal/advice"
	"kinwain/internal/catalog"
	"kinwain/internal/match"
	"kinwain/internal/measure"
	"kinwain/internal/store"
)

// pair is what somebody was told by, and what the shop says by today. Neither
// remembers what it is asked: nobody asks the same again, and what the pages
// remember stays.
type pair struct {
	base     int64
	today    *advice.Shop // that the new one was made of
	old, new *advice.Shop
	touched  []string // codes of the frames that may be another match
	retired  map[store.Thing]bool
}

// against returns the pair of what was told and today.
func (w *Watch) against(ctx context.Context, base int64) (*pair, error) {
	today, err := w.Advice.On(ctx, measure.DateOf(w.Now()))
	if err != nil {
		return nil, err
	}
	if w.held != nil && w.held.base == base && w.held.today == today {
		return w.held, nil
	}
	told, err := w.Store.Told(ctx, base)
	if err != nil {
		return nil, err
	}
	p := &pair{base: base, today: today, new: patient(today.Catalogue, today.Settings),
		old: patient(told.Offered(), match.SettingsOf(told.Settings).WithTexts(told.Texts))}
	if p.retired, err = w.Store.Retired(ctx); err != nil {
		return nil, err
	}
	if p.touched, err = p.frames(); err != nil {
		return nil, err
	}
	w.held = p
	return p, nil
}

func patient(c *catalog.Catalogue, settings match.Settings) *advice.Shop {
	settings.Patience = patience
	return &advice.Shop{Catalogue: c, Settings: settings}
}

// frames lists the frames of which somebody was told and that may be another
// match.
func (p *pair) frames() ([]string, error) {
	touch, err := catalog.Touched(p.old.Catalogue, p.new.Catalogue)
	if err != nil {
		return nil, err
	}
	all := !sameVerdicts(p.old.Settings, p.new.Settings)
	var codes []string
	for i := range p.old.Catalogue.Frames {
		if code := p.old.Catalogue.Frames[i].Code; all || slices.Contains(touch.Frames, code) {
			codes = append(codes, code)
		}
	}
	return codes, nil
}

// sameVerdicts reports whether two settings lead to the same answers, whatever
// order they give them.
func sameVerdicts(a, b match.Settings) bool {
	a.Criteria, b.Criteria = nil, nil
	return maps.Equal(a.Figures(), b.Figures()) && maps.Equal(a.Local.Texts(), b.Local.Texts())
}
