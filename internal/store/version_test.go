package store

import (
	"context"
	"testing"
	"time"
)

// TestVersion sees changes by this program and by another, and nothing else.
func TestVersion(t *testing.T) {
	t.Parallel()
	dir := t.TempDir()
	here, there := opened(t, dir), opened(t, dir)
	last := ""
	version := func() string {
		t.Helper()
		v, err := here.Version(t.Context())
		if err != nil {
			t.Fatal(err)
		}
		return v
	}
	for what, change := range map[string]func() error{
		"here":         func() error { return here.SetSettings(t.Context(), map[string]int64{"clothing_g": 1}) },
		"there":        func() error { return there.SetSettings(t.Context(), map[string]int64{"clothing_g": 2}) },
		"of a session": func() error { return here.Sessions(time.Now).Commit("token", nil, time.Now().Add(time.Hour)) },
	} {
		if err := change(); err != nil {
			t.Fatal(err)
		}
		now := version()
		if now == last || now != version() {
			t.Errorf("a change %s: %s after %s, then %s", what, now, last, version())
		}
		last = now
	}
	if _, err := here.Settings(t.Context()); err != nil || version() != last {
		t.Errorf("reading is a change, %v", err)
	}
	// A connection that was opened anew counts from its own beginning.
	here.watcher.stop()
	if version() == last {
		t.Error("another connection has the version of the last")
	}
	gone, cancel := context.WithCancel(t.Context())
	cancel()
	if _, err := here.Version(gone); err == nil {
		t.Error("nobody is waiting")
	}
}
