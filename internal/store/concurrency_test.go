package store

import (
	"context"
	"database/sql"
	"errors"
	"os"
	"path/filepath"
	"sync"
	"testing"
	"time"

	"kinwain/internal/catalog"
)

func TestOpenWaitsForNobodyForEver(t *testing.T) {
	t.Parallel()
	dir := t.TempDir()
	s := opened(t, dir)
	ctx, cancel := context.WithTimeout(t.Context(), 200*time.Millisecond)
	defer cancel()
	err := s.change(t.Context(), "hold the store", func(*sql.Tx) error {
		_, err := Open(ctx, dir)
		if !errors.Is(err, context.DeadlineExceeded) {
			t.Errorf("Open beside a writer = %v, want that the context ended it", err)
		}
		return nil
	})
	if err != nil {
		t.Error(err)
	}
}

func TestInUse(t *testing.T) {
	t.Parallel()
	dir := t.TempDir()
	s := opened(t, dir)
	db, err := sql.Open("sqlite", fileURI(filepath.Join(dir, FileName))+"?_txlock=immediate")
	if err != nil {
		t.Fatal(err)
	}
	defer db.Close()
	err = s.change(t.Context(), "hold the store", func(*sql.Tx) error {
		_, err := db.BeginTx(t.Context(), nil)
		wantCode(t, fault(dir, "write", err), InUse)
		return nil
	})
	if err != nil {
		t.Error(err)
	}
}

// A store whose program was killed is whole when it is opened again.
func TestOpenAfterACrash(t *testing.T) {
	t.Parallel()
	dir, crashed := t.TempDir(), t.TempDir()
	s := opened(t, dir)
	if err := s.ReplaceCatalogue(t.Context(), rich(t)); err != nil {
		t.Fatal(err)
	}
	for _, name := range []string{FileName, FileName + "-wal"} {
		content, err := os.ReadFile(filepath.Join(dir, name))
		if err != nil {
			t.Fatal(err)
		}
		if err := os.WriteFile(filepath.Join(crashed, name), content, 0o600); err != nil {
			t.Fatal(err)
		}
	}
	wantDocument(t, opened(t, crashed), document(t, rich(t)))
}

func TestCancelledContext(t *testing.T) {
	t.Parallel()
	s := opened(t, t.TempDir())
	if err := s.ReplaceCatalogue(t.Context(), rich(t)); err != nil {
		t.Fatal(err)
	}
	ctx, cancel := context.WithCancel(t.Context())
	cancel()
	sessions := s.Sessions(time.Now)
	_, e1 := s.Catalogue(ctx)
	_, e2 := s.CreateConsultation(ctx, "", "A", nil, time.Now())
	_, e3 := s.Consultation(ctx, "a")
	_, e4 := s.RecentConsultations(ctx, 3)
	_, e5 := s.Settings(ctx)
	_, _, e6 := sessions.FindCtx(ctx, "a")
	_, e7 := s.SignInLinkValid(ctx, "a", time.Now())
	_, e8 := s.Seed(ctx, rich(t))
	_, e9 := Open(ctx, t.TempDir())
	_, e10 := s.Backup(ctx, filepath.Join(t.TempDir(), "b"))
	for i, err := range []error{e1, e2, e3, e4, e5, e6, e7, e8, e9, e10,
		s.ReplaceCatalogue(ctx, rich(t)), s.SetSettings(ctx, nil),
		sessions.CommitCtx(ctx, "a", nil, time.Now()),
		s.ReplaceSignInLink(ctx, "a", time.Now())} {
		if !errors.Is(err, context.Canceled) {
			t.Errorf("call %d: %v, want that the context ended it", i, err)
		}
	}
	wantDocument(t, s, document(t, rich(t)))
}

// A context that ends in the middle of a change leaves nothing of it.
func TestCancelledChange(t *testing.T) {
	t.Parallel()
	s := opened(t, t.TempDir())
	if err := s.SetSettings(t.Context(), map[string]int64{"a": 1}); err != nil {
		t.Fatal(err)
	}
	ctx, cancel := context.WithCancel(t.Context())
	err := s.change(ctx, "change", func(tx *sql.Tx) error {
		if _, err := tx.ExecContext(ctx, `DELETE FROM settings`); err != nil {
			return err
		}
		cancel()
		return nil
	})
	if !errors.Is(err, context.Canceled) {
		t.Errorf("change = %v, want that the context ended it", err)
	}
	if got, err := s.Settings(t.Context()); err != nil || got["a"] != 1 {
		t.Errorf("Settings = %v, %v; half a change landed", got, err)
	}
	if err := s.SetSettings(t.Context(), nil); err != nil {
		t.Errorf("the store cannot be written any more: %v", err)
	}
}

// An import that is given up half-way leaves the former catalogue, and no
// files beside the store.
func TestCancelledImport(t *testing.T) {
	t.Parallel()
	dir := t.TempDir()
	openClose(t, dir, func(s *Store) {
		if err := s.ReplaceCatalogue(t.Context(), rich(t)); err != nil {
			t.Fatal(err)
		}
		much := large(t, 5000)
		ctx, cancel := context.WithTimeout(t.Context(), 100*time.Millisecond)
		defer cancel()
		if err := s.ReplaceCatalogue(ctx, much); !errors.Is(err, context.DeadlineExceeded) {
			t.Errorf("ReplaceCatalogue = %v, want that the context ended it", err)
		}
		wantDocument(t, s, document(t, rich(t)))
	})
	if got := files(t, dir); len(got) != 1 {
		t.Errorf("the folder holds %v", got)
	}
}

func TestPanickingChange(t *testing.T) {
	t.Parallel()
	s := opened(t, t.TempDir())
	func() {
		defer func() { _ = recover() }()
		_ = s.change(t.Context(), "change", func(*sql.Tx) error { panic("fault") })
	}()
	if err := s.SetSettings(t.Context(), nil); err != nil {
		t.Errorf("the store cannot be written any more: %v", err)
	}
}

// Two writers and many readers, in one program and in another: every reader
// sees a whole state.
func TestConcurrentUse(t *testing.T) {
	t.Parallel()
	dir := t.TempDir()
	here, there := opened(t, dir), opened(t, dir)
	whole := rich(t)
	empty := rich(t)
	empty.Units, empty.AddOns, empty.Frames = nil, nil, nil
	if err := here.ReplaceCatalogue(t.Context(), whole); err != nil {
		t.Fatal(err)
	}
	var wait sync.WaitGroup
	for i, s := range []*Store{here, there} {
		wait.Go(func() {
			for range 10 {
				for _, c := range [...]*catalog.Catalogue{whole, empty} {
					if err := s.ReplaceCatalogue(t.Context(), c); err != nil {
						t.Errorf("writer %d: %v", i, err)
					}
				}
			}
		})
		for range 3 {
			wait.Go(func() {
				for range 40 {
					c, err := s.Catalogue(t.Context())
					if err != nil {
						t.Error(err)
						return
					}
					if n := len(c.Units); n != 0 && n != len(whole.Units) || (n == 0) != (len(c.Frames) == 0) {
						t.Errorf("half a catalogue: %d frames, %d units", len(c.Frames), n)
					}
				}
			})
		}
	}
	wait.Wait()
	wantDocument(t, here, document(t, empty))
	wantDocument(t, there, document(t, empty))
}

// Two programs that are started at once on a new folder both find a store.
func TestOpenAtOnce(t *testing.T) {
	t.Parallel()
	for range 2 {
		dir := t.TempDir()
		var wait sync.WaitGroup
		for range 3 {
			wait.Go(func() {
				s, err := Open(t.Context(), dir)
				if err != nil {
					t.Error(err)
					return
				}
				if err := errors.Join(s.SetSettings(t.Context(), map[string]int64{"a": 1}), s.Close()); err != nil {
					t.Error(err)
				}
			})
		}
		wait.Wait()
	}
}
