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
	ask    *sql.Stmt // on it
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
	var version int64
	err := w.open(ctx, s.readers)
	if err == nil {
		err = w.ask.QueryRowContext(ctx).Scan(&version)
	}
	if err != nil {
		w.close()
		return "", fault(s.dir, "see the version of the store", err)
	}
	return fmt.Sprintf("%d.%d", w.opened, version), nil
}

// open makes sure that there is a connection.
func (w *watcher) open(ctx context.Context, from *sql.DB) (err error) {
	if w.ask != nil {
		return nil
	}
	if w.conn, err = from.Conn(ctx); err != nil {
		return err
	}
	w.ask, err = w.conn.PrepareContext(ctx, `PRAGMA data_version`)
	w.opened++
	return err
}

// close gives the connection back. It only ever read, so that nothing is lost
// where that fails.
func (w *watcher) close() {
	if w.ask != nil {
		_ = w.ask.Close()
	}
	if w.conn != nil {
		_ = w.conn.Close()
	}
	w.ask, w.conn = nil, nil
}

// stop gives the connection back.
func (w *watcher) stop() {
	w.mu.Lock()
	defer w.mu.Unlock()
	w.close()
}
