package match

import (
	"context"
	"runtime"
	"sync"
)

// turns shares the processors among rankings that run at a time. One that is
// alone has all of them. While others wait, none takes more than half, and at
// least one.
type turns struct {
	most    func() int
	mu      sync.Mutex
	changed sync.Cond
	busy    int
	waiting int // for a turn, of all rankings
}

// processors are shared by all rankings of the program.
var processors = newTurns(func() int { return runtime.GOMAXPROCS(0) })

func newTurns(most func() int) *turns {
	t := &turns{most: most}
	t.changed.L = &t.mu
	return t
}

// taker is one ranking that takes turns.
type taker struct {
	*turns
	has, waits int
}

// take waits for a turn. The error is that of the context.
func (t *taker) take(ctx context.Context) error {
	defer context.AfterFunc(ctx, func() {
		t.mu.Lock()
		defer t.mu.Unlock()
		t.changed.Broadcast()
	})()
	t.mu.Lock()
	defer t.mu.Unlock()
	t.wait(1)
	defer t.wait(-1)
	for ctx.Err() == nil && !t.may() {
		t.changed.Wait()
	}
	if err := ctx.Err(); err != nil {
		return err
	}
	t.has++
	t.busy++
	return nil
}

// wait books one more or less that waits; the others may have more then.
func (t *taker) wait(n int) {
	t.waits += n
	t.waiting += n
	t.changed.Broadcast()
}

func (t *taker) may() bool {
	most := t.most()
	return t.busy < most && (t.waiting == t.waits || t.has < max(most/2, 1))
}

// give returns a turn.
func (t *taker) give() {
	t.mu.Lock()
	defer t.mu.Unlock()
	t.has--
	t.busy--
	t.changed.Broadcast()
}
