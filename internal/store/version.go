package store

import (
	"context"
	"database/sql"
	"fmt"
	"sync"
)

// watcher sees whether anything in the store has changed. SQLite tells that of
// one connection, so the watcher has one of its own; after it had to be opened
// anew, everything counts as changed.
type watcher struct {
	mu     sync.Mutex
	conn   *sql.Conn
	opened int
}

// Version returns another text after any change of the store, by this program
// or another.
func (s *Store) Version(ctx context.Context) (string, error) {
	w := &s.watcher
	w.mu.Lock()
	defer w.mu.Unlock()
	if err := ctx.Err(); err != nil {
		return "", err
	}
	ctx = context.WithoutCancel(ctx) // it takes microseconds, and the connection is everybody's
	if w.conn == nil {
		conn, err := s.readers.Conn(ctx)
		if err != nil {
			return "", fault(s.dir, "watch the store", err)
		}
		w.conn = conn
		w.opened++
	}
	var version int64
	if err := w.conn.QueryRowContext(ctx, `PRAGMA data_version`).Scan(&version); err != nil {
		_ = w.conn.Close() // it has failed already
		w.conn = nil
		return "", fault(s.dir, "see the version of the store", err)
	}
	return fmt.Sprintf("%d.%d", w.opened, version), nil
}

// stop gives the connection back.
func (w *watcher) stop() {
	w.mu.Lock()
	defer w.mu.Unlock()
	if w.conn != nil {
		_ = w.conn.Close() // of a connection that only reads
		w.conn = nil
	}
}
