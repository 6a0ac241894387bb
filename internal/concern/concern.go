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
	"errors"
	"runtime"
	"slices"
	"sync"
	"time"

	"golang.org/x/sync/errgroup"

	"kinwain/internal/advice"
	"kinwain/internal/catalog"
	"kinwain/internal/match"
	"kinwain/internal/profile"
	"kinwain/internal/quote"
	"kinwain/internal/store"
	"kinwain/internal/summary"
)

// patience is how long one frame is thought about. Nobody waits for it, and what
// is not settled has to be looked at by hand.
const patience = 20 * time.Second

const (
	// OpenDays is how long after it was last saved a consultation is open.
	OpenDays = store.OpenDays
	// mostOpen bounds how many consultations, and how many summaries, are
	// judged again.
	mostOpen = 500
	// JudgingTime bounds what a page may judge again.
	JudgingTime = 10 * time.Second
)

// Store is what is read to judge again, and written when that is done.
type Store interface {
	advice.Store
	AddMarks(ctx context.Context, marks []store.Mark) error
	Consultation(ctx context.Context, id string) (store.Consultation, error)
	ConsultationsSince(ctx context.Context, since time.Time, limit int) ([]store.Consultation, error)
	LiveFitSummaries(ctx context.Context, now time.Time, limit int) ([]store.FitSummary, error)
	ReplaceCatalogueAt(ctx context.Context, revision int64, c *catalog.Catalogue, by store.Author) error
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
	if err != nil || touch.Nothing() {
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

// Row is one answer that a change makes another one.
type Row struct {
	Consultation string
	Whom         string // the customer, in words
	Frame        string // its code
	Name         string // of the frame
	Sent         bool   // it is about a fit summary that the customer has
	Parts        []string
	Worse        bool // the verdict is worse, or it lasts less long
}

// Found is whom a change concerns, the worst first.
type Found struct {
	Rows     []Row
	Judged   int // answers that could have changed
	Unjudged int // of these, answers that there was no time for
	Unread   int // consultations and fit summaries that cannot be read any more
}

// Consultations counts those with a row.
func (f *Found) Consultations() int {
	whom := map[string]bool{}
	for _, r := range f.Rows {
		whom[r.Consultation] = true
	}
	return len(whom)
}

// answer is what one customer was told of one frame: the best build for an
// open consultation, or the very add-ons of a fit summary.
type answer struct {
	row    Row
	kept   *summary.Kept // of a fit summary
	judge  func(ctx context.Context, s *advice.Shop) (*match.Match, error)
	judged bool
}

// Of says for which open consultations and live fit summaries a change of the
// catalogue changes a verdict, a horizon or a total. Only the frames that it
// touches are judged, on all processors, and no longer than JudgingTime: what
// there was no time for is counted.
func (w *Watch) Of(ctx context.Context, before, after *catalog.Catalogue) (*Found, error) {
	touch, err := catalog.Touched(before, after)
	touched := touch.Frames
	if err != nil || len(touched) == 0 {
		return &Found{}, err
	}
	shops, err := w.shops(ctx, before, after)
	if err != nil {
		return nil, err
	}
	answers, unread, err := w.answers(ctx, before, touched)
	if err != nil {
		return nil, err
	}
	bounded, cancel := context.WithTimeout(ctx, JudgingTime)
	defer cancel()
	group, bounded := errgroup.WithContext(bounded)
	group.SetLimit(runtime.GOMAXPROCS(0))
	for _, a := range answers {
		group.Go(func() error { return a.compare(bounded, shops[0], shops[1]) })
	}
	if err := group.Wait(); err != nil && (ctx.Err() != nil || !errors.Is(err, context.DeadlineExceeded)) {
		return nil, err
	}
	return foundIn(answers, unread), nil
}

// shops returns the shop before and after a change of its catalogue.
func (w *Watch) shops(ctx context.Context, catalogues ...*catalog.Catalogue) ([]*advice.Shop, error) {
	settings, err := advice.Settings(ctx, w.Store)
	if err != nil {
		return nil, err
	}
	var shops []*advice.Shop
	for _, c := range catalogues {
		shop, err := w.Advice.Of(c, settings)
		if err != nil {
			return nil, err
		}
		shops = append(shops, shop)
	}
	return shops, nil
}

// answers lists what has been said of the frames. What cannot be read stands in
// nobody's way: it is told of, counted and left out.
func (w *Watch) answers(ctx context.Context, before *catalog.Catalogue, frames []string) (list []*answer, unread int, err error) {
	open, err := w.Store.ConsultationsSince(ctx, w.Now().AddDate(0, 0, -OpenDays), mostOpen)
	if err != nil {
		return nil, 0, err
	}
	names := map[string]string{}
	for _, saved := range open {
		names[saved.ID] = whomOf(saved)
		p, err := w.Profile(saved)
		if err != nil {
			unread++
			w.Fault("a consultation cannot be read", err)
			continue
		}
		for _, code := range frames {
			if f := before.Frame(code); p != nil && f != nil {
				list = append(list, &answer{row: Row{Consultation: saved.ID, Whom: names[saved.ID], Frame: code, Name: advice.FrameName(f)},
					judge: func(ctx context.Context, s *advice.Shop) (*match.Match, error) {
						return s.Best(ctx, s.Catalogue.Frame(code), p, match.Options{})
					}})
			}
		}
	}
	sent, lost, err := w.sent(ctx, before, frames, names)
	return append(list, sent...), unread + lost, err
}

// sent lists the fit summaries of frames that can be opened.
func (w *Watch) sent(ctx context.Context, before *catalog.Catalogue, frames []string, names map[string]string) (list []*answer, unread int, err error) {
	live, err := w.Store.LiveFitSummaries(ctx, w.Now(), mostOpen)
	if err != nil {
		return nil, 0, err
	}
	for _, f := range live {
		frame := before.Frame(f.Frame)
		if !slices.Contains(frames, f.Frame) || frame == nil {
			continue
		}
		kept, err := summary.Read(f.Document)
		if err != nil {
			unread++
			w.Fault("a fit summary cannot be read", err)
			continue
		}
		if names[f.Consultation] == "" {
			saved, err := w.Store.Consultation(ctx, f.Consultation)
			if err != nil {
				return nil, 0, err
			}
			names[f.Consultation] = whomOf(saved)
		}
		list = append(list, &answer{row: Row{Consultation: f.Consultation, Whom: names[f.Consultation], Frame: f.Frame, Name: advice.FrameName(frame), Sent: true},
			kept: kept, judge: kept.In})
	}
	return list, unread, nil
}

func whomOf(c store.Consultation) string {
	if c.Customer == "" {
		return "a customer without a name"
	}
	return "“" + c.Customer + "”"
}

// foundIn lists the answers that change, the worst first.
func foundIn(answers []*answer, unread int) *Found {
	found := &Found{Judged: len(answers), Unread: unread}
	slices.SortStableFunc(answers, func(a, b *answer) int { return rankWorse(a) - rankWorse(b) })
	for _, a := range answers {
		if !a.judged {
			found.Unjudged++
		}
		if len(a.row.Parts) > 0 {
			found.Rows = append(found.Rows, a.row)
		}
	}
	return found
}

func rankWorse(a *answer) int {
	if a.row.Worse {
		return 0
	}
	return 1
}
