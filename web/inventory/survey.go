package inventory

import (
	"bytes"
	"context"
	"crypto/sha256"
	"fmt"
	"runtime/debug"
	"slices"
	"sync"
	"time"

	"kinwain/internal/advice"
	"kinwain/internal/coverage"
	"kinwain/internal/match"
	"kinwain/internal/measure"
	"kinwain/web/form"
)

// surveyor judges many customers for one page, beside its requests: one after
// the other, so that whoever is served at the counter comes between them. What it
// has found stays until the shop is another one, under nothing but a digest of
// the answers. It stops a while after the last one who asked.
type surveyor struct {
	fault func(what string, err error)
	few   int           // so many customers are waited for,
	wait  time.Duration // so long; of more the progress is shown at once
	idle  time.Duration // after the last look the work ends

	mu    sync.Mutex
	shop  *advice.Shop
	known map[answers]*coverage.Answer // nil where there is nothing to judge
	done  *surveyed
	run   *surveyRun
}

// answers is a digest of what a customer said.
type answers [sha256.Size]byte

// surveyed is what came of a list of customers.
type surveyed struct {
	of     answers // all of them
	survey *coverage.Survey
	judged int // of them, the others have not said enough
}

// surveyRun is one piece of work.
type surveyRun struct {
	of   answers
	stop context.CancelFunc
	last *time.Timer
	over chan struct{}
	err  error
}

// surveying says how far it is.
type surveying struct {
	seen, of int
	done     *surveyed // nil while it goes on
}

// look returns what came of a list of answers as they were saved, or how far that
// is. The work goes on after the request, until nobody looks for it any more.
func (s *surveyor) look(ctx context.Context, shop *advice.Shop, saved [][]byte, day measure.Date) (surveying, error) {
	each, all := digests(saved)
	s.mu.Lock()
	if s.shop != shop {
		s.halt()
		s.shop, s.known, s.done = shop, nil, nil
	}
	if s.done != nil && s.done.of == all {
		defer s.mu.Unlock()
		return surveying{len(saved), len(saved), s.done}, nil
	}
	if s.run == nil || s.run.of != all {
		s.halt()
		s.begin(ctx, all, each, saved, day)
	}
	run, wait := s.run, time.Duration(0)
	run.last.Reset(s.idle)
	if len(saved)-s.seen(each) <= s.few {
		wait = s.wait
	}
	s.mu.Unlock()

	select {
	case <-run.over:
	case <-time.After(wait):
	case <-ctx.Done():
		return surveying{}, ctx.Err()
	}
	s.mu.Lock()
	defer s.mu.Unlock()
	now := surveying{seen: s.seen(each), of: len(saved)}
	if s.done != nil && s.done.of == all {
		now.done = s.done
	}
	return now, run.err
}

// seen counts the answers that have been judged.
func (s *surveyor) seen(each []answers) int {
	n := 0
	for _, a := range each {
		if _, is := s.known[a]; is {
			n++
		}
	}
	return n
}

// digests returns that of each answers, and one of them all whatever their order.
func digests(saved [][]byte) (each []answers, all answers) {
	for _, data := range saved {
		each = append(each, sha256.Sum256(data))
	}
	sorted := slices.SortedFunc(slices.Values(each), func(a, b answers) int { return bytes.Compare(a[:], b[:]) })
	h := sha256.New()
	for _, a := range sorted {
		h.Write(a[:])
	}
	return each, answers(h.Sum(nil))
}

// halt ends the work that goes on.
func (s *surveyor) halt() {
	if s.run != nil {
		s.run.last.Stop()
		s.run.stop()
		s.run = nil
	}
}

// begin starts to judge what is not known yet, and forgets what is not asked for
// any more.
func (s *surveyor) begin(ctx context.Context, all answers, each []answers, saved [][]byte, day measure.Date) {
	known := map[answers]*coverage.Answer{}
	for _, a := range each {
		if answer, is := s.known[a]; is {
			known[a] = answer
		}
	}
	ctx, stop := context.WithCancel(context.WithoutCancel(ctx))
	run := &surveyRun{of: all, stop: stop, last: time.AfterFunc(s.idle, stop), over: make(chan struct{})}
	s.known, s.run = known, run
	shop := s.shop
	go func() {
		done, err := s.work(ctx, shop, known, each, saved, day)
		s.mu.Lock()
		defer s.mu.Unlock()
		if done != nil && s.shop == shop {
			done.of, s.done = all, done
		}
		if err != nil && ctx.Err() == nil {
			run.err = err
			s.fault("customers were not judged for what to own", err)
		}
		if s.run == run {
			s.run = nil
		}
		run.last.Stop()
		stop()
		close(run.over)
	}()
}

// work judges what is not known and surveys it all. The error is that of the
// context, or of what broke: there is nobody whose request it could end instead.
func (s *surveyor) work(ctx context.Context, shop *advice.Shop, known map[answers]*coverage.Answer, each []answers, saved [][]byte, day measure.Date) (done *surveyed, err error) {
	defer func() {
		if p := recover(); p != nil {
			done, err = nil, fmt.Errorf("panic: %v\n%s", p, debug.Stack())
		}
	}()
	passing := shop.Passing()
	var all []coverage.Answer
	for i, a := range each {
		s.mu.Lock()
		answer, is := known[a]
		s.mu.Unlock()
		if !is {
			if answer, err = judgeSaved(ctx, passing, saved[i], day); err != nil {
				return nil, err
			}
			s.mu.Lock()
			known[a] = answer
			s.mu.Unlock()
		}
		if answer != nil {
			all = append(all, *answer)
		}
	}
	survey, err := coverage.Of(ctx, shop.Catalogue, all)
	return &surveyed{survey: survey, judged: len(all)}, err
}

// judgeSaved judges all frames for a customer; nil where too little was said. Of
// one whom none fits it asks for the changes that would help.
func judgeSaved(ctx context.Context, shop *advice.Shop, saved []byte, day measure.Date) (*coverage.Answer, error) {
	p, err := form.Saved(saved, day)
	if err != nil {
		p = nil // what cannot be read has nothing to say, and its own page tells why
	}
	if p == nil {
		return nil, nil
	}
	ranked, err := shop.Rank(ctx, p, match.Options{})
	if err != nil {
		return nil, err
	}
	answer := coverage.AnswerOf(shop.Catalogue, ranked)
	if answer.Served() {
		return &answer, nil
	}
	if ranked, err = shop.Rank(ctx, p, match.Options{Changes: true}); err != nil {
		return nil, err
	}
	answer = coverage.AnswerOf(shop.Catalogue, ranked)
	return &answer, nil
}
