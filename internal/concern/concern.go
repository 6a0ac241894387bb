// Package concern says whom a change of the catalogue or the settings concerns:
// for which open consultations, fit summaries, quotes and rides an answer is
// another one after it, and what a shop has changed since a summary was made.
//
// A change stands at once. Within its transaction the store queues whom it may
// concern, with what they were told; here they are judged one by one, beside
// everything else, until none is left, also after a restart. Each is held
// against what it was told before the first change that nobody has seen, so that
// changes which cancel each other leave nothing. What somebody changes while one
// is judged has it judged again.
package concern

import (
	"context"
	"sync"
	"time"

	"kinwain/internal/advice"
	"kinwain/internal/catalog"
	"kinwain/internal/match"
	"kinwain/internal/profile"
	"kinwain/internal/quote"
	"kinwain/internal/store"
)

// patience is how long one frame is thought about. Nobody waits for it, and what
// is not settled has to be looked at by hand.
const patience = 20 * time.Second

// Store is what is read to judge again, and written when that is done.
type Store interface {
	advice.Store
	Consultation(ctx context.Context, id string) (store.Consultation, error)
	FinishJudging(ctx context.Context, j store.Judging, marks []store.Mark) (kept bool, err error)
	LiveFitSummary(ctx context.Context, id int64, now time.Time) (store.FitSummary, error)
	NextJudging(ctx context.Context) (store.Judging, error)
	Quote(ctx context.Context, id string) (quote.Quote, error)
	Reach(ctx context.Context, touch catalog.Touch, now time.Time) (store.Reach, error)
	Ride(ctx context.Context, id string) (store.Ride, error)
	Told(ctx context.Context, id int64) (*store.Told, error)
}

// Watch finds out whom changes concern.
type Watch struct {
	Store  Store
	Advice *advice.Advisor
	// Profile reads the profile out of a consultation; nil where answers are
	// missing or wrong.
	Profile func(store.Consultation) (*profile.Profile, error)
	Now     func() time.Time // in the shop's own time zone
	// Fault is told what could not be done though nothing else had to fail for
	// it: what cannot be read, what was not kept.
	Fault func(what string, err error)

	working sync.Mutex // one judges at a time
	held    *pair      // that were held against each other last
}

// Work judges what is queued, whenever it is time to look, until the context
// ends.
func (w *Watch) Work(ctx context.Context, look <-chan time.Time) {
	said := ""
	for {
		switch err := w.Settle(ctx); {
		case ctx.Err() != nil:
			return
		case err == nil:
			said = ""
		case err.Error() != said: // what fails every time is said once
			said = err.Error()
			w.Fault("changes were not judged", err)
		}
		select {
		case <-ctx.Done():
			return
		case <-look:
		}
	}
}

// Settle judges until nothing is queued any more.
func (w *Watch) Settle(ctx context.Context) error {
	w.working.Lock()
	defer w.working.Unlock()
	for {
		j, err := w.Store.NextJudging(ctx)
		if store.CodeOf(err) == store.NotFound {
			w.held = nil // a shop is large, and there may be no change for weeks
			return nil
		}
		if err != nil {
			return err
		}
		marks, err := w.judge(ctx, j)
		if err != nil {
			return err
		}
		if _, err := w.Store.FinishJudging(ctx, j, marks); err != nil {
			return err
		}
	}
}

// Reach counts whom a change from one catalogue to another may concern at the
// most.
func (w *Watch) Reach(ctx context.Context, before, after *catalog.Catalogue) (store.Reach, error) {
	retired, err := w.Store.Retired(ctx)
	if err != nil {
		return store.Reach{}, err
	}
	return w.reach(ctx, &store.Told{Catalogue: before, Retired: retired}, &store.Told{Catalogue: after, Retired: retired})
}

// ReachOfRetiring counts whom it may concern that something is retired, or
// brought back.
func (w *Watch) ReachOfRetiring(ctx context.Context, t store.Thing, retire bool) (store.Reach, error) {
	c, err := w.Store.Catalogue(ctx)
	if err != nil {
		return store.Reach{}, err
	}
	var told [2]*store.Told
	for i := range told {
		retired, err := w.Store.Retired(ctx)
		if err != nil {
			return store.Reach{}, err
		}
		if retired[t] = true; (i == 1) != retire {
			delete(retired, t)
		}
		told[i] = &store.Told{Catalogue: c, Retired: retired}
	}
	return w.reach(ctx, told[0], told[1])
}

func (w *Watch) reach(ctx context.Context, before, after *store.Told) (store.Reach, error) {
	touch, err := before.Touched(after)
	if touch = before.Of(touch); err != nil || touch.Nothing() {
		return store.Reach{}, err
	}
	return w.Store.Reach(ctx, touch, w.Now())
}

// ReachOfSettings counts whom a change of the settings may concern: everybody,
// or nobody where no answer follows from what is changed.
func (w *Watch) ReachOfSettings(ctx context.Context, changed []string) (store.Reach, error) {
	judged := false
	for _, name := range Judged() {
		for _, other := range changed {
			judged = judged || name == other
		}
	}
	if !judged {
		return store.Reach{}, nil
	}
	c, err := w.Store.Catalogue(ctx)
	if err != nil {
		return store.Reach{}, err
	}
	retired, err := w.Store.Retired(ctx)
	if err != nil {
		return store.Reach{}, err
	}
	return w.Store.Reach(ctx, (&store.Told{Catalogue: c, Retired: retired}).Everything(), w.Now())
}

// Judged are the names of the settings from which a verdict, a horizon or a
// total follows. The criteria only say in which order the frames come.
func Judged() []string {
	settings := match.DefaultSettings()
	settings.Criteria = nil
	names := []string{match.WordsOf(match.LocalHelmets)} // with words it asks for care, without it does not
	for name := range settings.Figures() {
		names = append(names, name)
	}
	return names
}
