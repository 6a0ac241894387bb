// Package webtest is what the tests of the rooms share: a shop with a store and
// a clock of its own, a visitor who keeps cookies and follows redirects, and
// what a visitor does in more than one room.
//
// Only tests use it.
package webtest

import (
	"context"
	"errors"
	"log/slog"
	"net/http"
	"net/http/httptest"
	"os"
	"path/filepath"
	"sync"
	"testing"
	"time"

	"kinwain/internal/catalog"
	"kinwain/internal/store"
	"kinwain/testdata"
	"kinwain/web"
)

// Morning is when the tests take place, unless they set the clock on.
var Morning = time.Date(2026, 11, 25, 9, 30, 0, 0, time.FixedZone("shop", 3600))

// Shop is the app of the demo shop, on a store and a clock of its own. What it
// logs as an error fails the test.
type Shop struct {
	*testing.T
	App    http.Handler
	settle func(context.Context) error
	Server *httptest.Server
	Store  *store.Store
	// Openings are the looks at fit summaries, which nobody keeps unasked.
	Openings *web.Openings
	mutex    sync.Mutex
	now      time.Time
}

// Public is where customers reach the shop.
const Public = "https://bikes.example"

// Token is the secret of the printed link.
const Token = "A0123456789ABCDEFGHIJKLMNO"

// Open opens a shop.
func Open(t *testing.T) *Shop { return OpenWith(t, func(h http.Handler) http.Handler { return h }) }

// OpenWith opens a shop that is reached through another handler.
func OpenWith(t *testing.T, around func(http.Handler) http.Handler) *Shop {
	t.Helper()
	s := &Shop{T: t, now: Morning, Store: seeded(t)}
	log := slog.New(slog.NewTextHandler(Complaints{t}, &slog.HandlerOptions{Level: slog.LevelError}))
	app := web.New(web.Options{Store: s.Store, Now: s.Clock, Log: log, PublicURL: Public, MostTime: 10 * time.Minute})
	s.App, s.settle, s.Openings = app.Handler, app.Watch.Settle, app.Openings
	s.Server = httptest.NewServer(around(s.App))
	s.Server.Client().Transport.(*http.Transport).DisableCompression = true // to pack every page and to unpack it tells a test nothing
	t.Cleanup(func() {
		s.Server.Close()
		if err := s.Store.Close(); err != nil {
			t.Error(err)
		}
	})
	return s
}

// Settle judges whom changes may concern, until nothing is left to judge.
func (s *Shop) Settle() {
	s.Helper()
	if err := s.settle(s.Context()); err != nil {
		s.Fatal(err)
	}
}

// Clock is the time in the shop.
func (s *Shop) Clock() time.Time {
	s.mutex.Lock()
	defer s.mutex.Unlock()
	return s.now
}

// Passes lets time pass in the shop.
func (s *Shop) Passes(d time.Duration) {
	s.mutex.Lock()
	defer s.mutex.Unlock()
	s.now = s.now.Add(d)
}

// Complaints fails a test with what is written to it.
type Complaints struct{ *testing.T }

// Write fails the test.
func (c Complaints) Write(line []byte) (int, error) {
	c.Errorf("logged: %s", line)
	return len(line), nil
}

// seed is the file of a store with the demo shop. It is
// made once: to migrate and to seed a store takes ten times as long as to open
// a copy of one.
var seed = sync.OnceValues(func() ([]byte, error) {
	dir, err := os.MkdirTemp("", "kinwain-seed-")
	if err != nil {
		return nil, err
	}
	defer os.RemoveAll(dir) // a folder of the system's own that may stay
	ctx := context.Background()
	s, err := store.Open(ctx, dir)
	if err != nil {
		return nil, err
	}
	demo, err := catalog.Parse(testdata.Demo)
	if err == nil {
		err = s.ReplaceCatalogue(ctx, demo)
	}
	if err := errors.Join(err, s.Close()); err != nil {
		return nil, err
	}
	return os.ReadFile(filepath.Join(dir, store.FileName))
})

// seeded opens a copy of the seed.
func seeded(t *testing.T) *store.Store {
	t.Helper()
	dir := t.TempDir()
	file, err := seed()
	if err == nil {
		err = os.WriteFile(filepath.Join(dir, store.FileName), file, 0o600)
	}
	if err != nil {
		t.Fatal(err)
	}
	s, err := store.Open(t.Context(), dir)
	if err != nil {
		t.Fatal(err)
	}
	return s
}
