// Package concern says whom a change of the catalogue concerns: for which open
// consultations and fit summaries an answer is another one after it, and what
// a shop has changed since a summary was made.
package concern

import (
	"context"
	"errors"
	"runtime"
	"slices"
	"time"

	"golang.org/x/sync/errgroup"

	"kinwain/internal/advice"
	"kinwain/internal/catalog"
	"kinwain/internal/match"
	"kinwain/internal/profile"
	"kinwain/internal/store"
	"kinwain/internal/summary"
)

const (
	// OpenDays is how long after it was last saved a consultation is open.
	OpenDays = 60
	// mostOpen bounds how many consultations, and how many summaries, are
	// judged again.
	mostOpen = 500
	// JudgingTime bounds what a page may judge again.
	JudgingTime = 10 * time.Second
)

// Store is what is read to find out whom a change concerns, and written once
// it is made.
type Store interface {
	Consultation(ctx context.Context, id string) (store.Consultation, error)
	ConsultationsSince(ctx context.Context, since time.Time, limit int) ([]store.Consultation, error)
	LiveFitSummaries(ctx context.Context, now time.Time, limit int) ([]store.FitSummary, error)
	Settings(ctx context.Context) (map[string]int64, error)
	Texts(ctx context.Context) (map[string]string, error)
	ReplaceCatalogueAt(ctx context.Context, revision int64, c *catalog.Catalogue, by store.Author) error
	AddMarks(ctx context.Context, marks []store.Mark) error
}

// Watch finds out whom changes concern.
type Watch struct {
	Store  Store
	Advice *advice.Advisor
	// Profile reads the profile out of a consultation; nil where answers are
	// missing or wrong.
	Profile func(store.Consultation) (*profile.Profile, error)
	Now     func() time.Time
	// Fault is told what could not be done though nothing else had to fail for
	// it: a fit summary that cannot be read, marks that were not kept.
	Fault func(what string, err error)
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
