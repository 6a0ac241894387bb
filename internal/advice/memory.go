package advice

import (
	"context"
	"fmt"
	"runtime/debug"
	"sync"

	"github.com/hashicorp/golang-lru/v2/simplelru"
	"golang.org/x/sync/singleflight"
)

// mostBytes bounds what is remembered: the answers of a shop with fourteen
// frames to some hundred customers.
const mostBytes = 64 << 20

// memory keeps what was worked out, as many bytes of it as it may, and forgets
// first what was asked for least lately.
type memory struct {
	most int

	mu     sync.Mutex
	kept   *simplelru.LRU[key, remembered]
	bytes  int // of all that is kept
	asking map[string]*asking
	work   singleflight.Group
}

// key names what is asked, and of whom: everything that the answer follows
// from.
type key struct {
	of    string // the catalogue, the settings and the day
	what  string // is asked
	frame string
	about [32]byte // the answers, as far as they matter
}

// remembered is an answer.
type remembered struct {
	value any
	rest  string // what else it follows from
	bytes int
}

func newMemory(most int) *memory {
	m := &memory{most: most, asking: map[string]*asking{}}
	// Bounded by bytes, not by count; the error is that of a size below one.
	m.kept, _ = simplelru.NewLRU(1<<30, func(_ key, r remembered) { m.bytes -= r.bytes })
	return m
}

// recall returns what is kept under a key.
func (m *memory) recall(k key) (remembered, bool) {
	m.mu.Lock()
	defer m.mu.Unlock()
	return m.kept.Get(k)
}

// keep remembers an answer, and forgets others where that is needed. What is
// larger than all that may be kept is not kept.
func (m *memory) keep(k key, r remembered) {
	m.mu.Lock()
	defer m.mu.Unlock()
	m.kept.Remove(k)
	if r.bytes > m.most {
		return
	}
	m.kept.Add(k, r)
	for m.bytes += r.bytes; m.bytes > m.most; {
		m.kept.RemoveOldest()
	}
}

// forget drops everything.
func (m *memory) forget() {
	m.mu.Lock()
	defer m.mu.Unlock()
	m.kept.Purge()
}

// asking is everybody who waits for the same work.
type asking struct {
	people int
	ctx    context.Context
	stop   context.CancelFunc
}

// once does a piece of work once for all who ask for it at a time. Whoever goes
// away leaves the others their answer; the work ends with the last of them.
func (m *memory) once(ctx context.Context, name string, work func(context.Context) (any, error)) (any, error) {
	a, done := m.join(ctx, name, work)
	defer m.leave(name, a)
	select {
	case <-ctx.Done():
		return nil, ctx.Err()
	case r := <-done:
		return r.Val, r.Err
	}
}

// join counts one more who waits, and asks with the lock held: whoever is
// counted waits for the work that goes on.
func (m *memory) join(ctx context.Context, name string, work func(context.Context) (any, error)) (*asking, <-chan singleflight.Result) {
	m.mu.Lock()
	defer m.mu.Unlock()
	a := m.asking[name]
	if a == nil {
		a = &asking{}
		a.ctx, a.stop = context.WithCancel(context.WithoutCancel(ctx))
		m.asking[name] = a
	}
	a.people++
	return a, m.work.DoChan(name, func() (value any, err error) {
		defer func() {
			if p := recover(); p != nil { // nobody could recover it on the goroutine of the work
				err = fmt.Errorf("panic: %v\n%s", p, debug.Stack())
			}
		}()
		return work(a.ctx)
	})
}

func (m *memory) leave(name string, a *asking) {
	m.mu.Lock()
	defer m.mu.Unlock()
	if a.people--; a.people == 0 {
		a.stop()
		delete(m.asking, name)
		m.work.Forget(name) // who comes now does not wait for work that was stopped
	}
}
