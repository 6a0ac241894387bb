package match

import (
	"context"
	"errors"
	"testing"
	"testing/synctest"
)

// desk is one ranking in the test: it asks for turns and counts them.
type desk struct {
	taker
	t *testing.T
}

func (d *desk) ask(n int) {
	for range n {
		go func() {
			if err := d.take(d.t.Context()); err != nil {
				d.t.Error(err)
			}
		}()
	}
	synctest.Wait()
}

func (d *desk) done() {
	d.give()
	synctest.Wait()
}

func (d *desk) want(has, waits int) {
	d.t.Helper()
	if d.has != has || d.waits != waits {
		d.t.Errorf("has %d and waits for %d, want %d and %d", d.has, d.waits, has, waits)
	}
}

// Alone, a ranking has all processors. Once another waits, it has no more than
// half as soon as what it has begun is done, and all again when that is over.
func TestRankingsShareTheProcessors(t *testing.T) {
	synctest.Test(t, func(t *testing.T) {
		all := newTurns(func() int { return 4 })
		a, b := &desk{taker{turns: all}, t}, &desk{taker{turns: all}, t}
		a.ask(20)
		a.want(4, 16)
		b.ask(3)
		b.want(0, 3) // nothing that was begun is taken away
		a.done()
		a.want(3, 16)
		b.want(1, 2)
		a.done()
		a.want(2, 16)
		b.want(2, 1)
		a.done() // the last of b has to wait: b has its half
		a.want(2, 15)
		b.want(2, 1)
		b.done()
		a.want(2, 15)
		b.want(2, 0)
		b.done() // nobody else waits any more
		a.want(3, 14)
		b.want(1, 0)
		b.done()
		a.want(4, 13)
		for a.has > 0 {
			a.done()
		}
		a.want(0, 0)
	})
}

// Where there is one processor, those who wait take turns all the same.
func TestOneProcessorIsSharedToo(t *testing.T) {
	synctest.Test(t, func(t *testing.T) {
		all := newTurns(func() int { return 1 })
		a, b := &desk{taker{turns: all}, t}, &desk{taker{turns: all}, t}
		a.ask(2)
		b.ask(2)
		for range 4 {
			if a.has+b.has != 1 {
				t.Fatalf("%d and %d at a time", a.has, b.has)
			}
			if a.has == 1 {
				a.done()
			} else {
				b.done()
			}
		}
		a.want(0, 0)
		b.want(0, 0)
	})
}

// Who is called off waits no longer, and keeps nobody else from more than half.
func TestWaitingForATurnEndsWithTheContext(t *testing.T) {
	synctest.Test(t, func(t *testing.T) {
		all := newTurns(func() int { return 2 })
		a, b := &desk{taker{turns: all}, t}, &desk{taker{turns: all}, t}
		a.ask(3)
		ctx, cancel := context.WithCancel(t.Context())
		said := make(chan error, 1)
		go func() { said <- b.take(ctx) }()
		synctest.Wait()
		b.want(0, 1)
		cancel()
		if err := <-said; !errors.Is(err, context.Canceled) {
			t.Errorf("said %v", err)
		}
		b.want(0, 0)
		a.done()
		a.want(2, 0)
		a.done()
		a.done()
	})
}
