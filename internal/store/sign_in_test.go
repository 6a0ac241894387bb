package store

import (
	"bytes"
	"os"
	"path/filepath"
	"strings"
	"sync"
	"sync/atomic"
	"testing"
	"time"

	"kinwain/internal/staff"
)

// TestTriesAreKept counts through a restart, by a name and by an address.
func TestTriesAreKept(t *testing.T) {
	t.Parallel()
	dir := t.TempDir()
	now := onTheDot
	name, street := staff.Key{Name: "name a secret typed as a name", Free: 3}, staff.Key{Name: "street", Free: 100}
	begin := func(s *Store, want time.Duration, keys ...staff.Key) {
		t.Helper()
		if got, err := s.BeginTry(t.Context(), now, keys...); err != nil || got != want {
			t.Fatalf("waits %v, %v, want %v", got, err, want)
		}
	}
	openClose(t, dir, func(s *Store) {
		for range 3 {
			begin(s, 0, name, street)
		}
		begin(s, time.Second, name, street)
	})
	openClose(t, dir, func(s *Store) {
		begin(s, time.Second, name, street)
		begin(s, 0, staff.Key{Name: "another", Free: 3}, street)
		now = now.Add(time.Second)
		begin(s, 0, name, street)
		begin(s, 2*time.Second, name, street)
		if err := s.ForgiveTries(t.Context(), name, street); err != nil {
			t.Fatal(err)
		}
		for range 3 {
			begin(s, 0, name, street)
		}
		begin(s, time.Second, name, street)
		now = now.Add(staff.Forgiven)
		begin(s, 0, staff.Key{Name: "a later one", Free: 3})
		if n := rowCounts(t, s)["tries"]; n != 1 {
			t.Errorf("%d are kept", n)
		}
	})
	content, err := os.ReadFile(filepath.Join(dir, FileName))
	if err != nil || bytes.Contains(content, []byte("typed as a name")) {
		t.Errorf("what was typed is in the file, %v", err)
	}
}

// TestTriesOfAnAddress tries many names once each from one place, with a right
// one between that does not wipe out the others.
func TestTriesOfAnAddress(t *testing.T) {
	t.Parallel()
	s := opened(t, t.TempDir())
	street := staff.Key{Name: "street", Free: 10}
	for i := range 11 {
		name := staff.Key{Name: strings.Repeat("n", i+1), Free: 3}
		if wait, err := s.BeginTry(t.Context(), onTheDot, name, street); err != nil || wait != 0 {
			t.Fatalf("the try %d waits %v, %v", i, wait, err)
		}
		if i == 4 {
			if err := s.ForgiveTries(t.Context(), name, street); err != nil {
				t.Fatal(err)
			}
		}
	}
	if wait, err := s.BeginTry(t.Context(), onTheDot, staff.Key{Name: "one more", Free: 3}, street); err != nil || wait != time.Second {
		t.Errorf("ten wrong, and the next waits %v, %v", wait, err)
	}
}

// TestTriesAtTheSameTime sends many at once; no more get through than are free.
func TestTriesAtTheSameTime(t *testing.T) {
	t.Parallel()
	s := opened(t, t.TempDir())
	var through atomic.Int32
	var all sync.WaitGroup
	for range 40 {
		all.Go(func() {
			if wait, err := s.BeginTry(t.Context(), onTheDot, staff.Key{Name: "name", Free: 3}); err != nil {
				t.Error(err)
			} else if wait == 0 {
				through.Add(1)
			}
		})
	}
	all.Wait()
	if through.Load() != 3 {
		t.Errorf("%d got through", through.Load())
	}
}

// TestSignInsAreKept keeps the last of either kind, whatever the other does.
func TestSignInsAreKept(t *testing.T) {
	t.Parallel()
	s := opened(t, t.TempDir())
	person, err := s.AddPerson(t.Context(), "Ansa", staff.Manager, onTheDot)
	if err != nil {
		t.Fatal(err)
	}
	note := func(i SignIn) {
		t.Helper()
		if err := s.NoteSignIn(t.Context(), person, i); err != nil {
			t.Fatal(err)
		}
	}
	in := SignIn{onTheDot.UTC(), "192.0.2.1", "passphrase", true}
	note(in)
	for i := range mostSignIns + 5 {
		note(SignIn{onTheDot.Add(time.Duration(i) * time.Second), "192.0.2.2", "passphrase", false})
	}
	list, err := s.SignIns(t.Context(), person)
	if err != nil || len(list) != mostSignIns+1 || list[mostSignIns] != in || !list[0].At.Equal(onTheDot.Add(14*time.Second)) || list[0].LetIn {
		t.Errorf("%+v, %v", list, err)
	}
}

// TestSecretsStay reads one twice, and another beside it.
func TestSecretsStay(t *testing.T) {
	t.Parallel()
	dir := t.TempDir()
	var first []byte
	for range 2 {
		openClose(t, dir, func(s *Store) {
			one, err := s.Secret(t.Context(), "devices")
			other, fault := s.Secret(t.Context(), "others")
			if err != nil || fault != nil || len(one) != 32 || bytes.Equal(one, other) || first != nil && !bytes.Equal(one, first) {
				t.Errorf("%x, %x, %v, %v", one, other, err, fault)
			}
			first = one
		})
	}
}

// TestDeviceLinks enrols by a link, which works once and in time.
func TestDeviceLinks(t *testing.T) {
	t.Parallel()
	s := opened(t, t.TempDir())
	link, err := s.IssueDeviceLink(t.Context(), "counter tablet", "Ansa", onTheDot, onTheDot.Add(time.Minute))
	if err != nil {
		t.Fatal(err)
	}
	_, err = s.EnrolByLink(t.Context(), link, onTheDot.Add(time.Minute))
	wantCode(t, err, NotFound)
	if d, err := s.DeviceOfLink(t.Context(), link, onTheDot); err != nil || d.Label != "counter tablet" || d.EnrolledBy != "Ansa" {
		t.Errorf("%+v, %v", d, err)
	}
	token, err := s.EnrolByLink(t.Context(), link, onTheDot)
	if err != nil {
		t.Fatal(err)
	}
	if d, err := s.Device(t.Context(), token); err != nil || d.Label != "counter tablet" || d.EnrolledBy != "Ansa" || !d.Created.Equal(onTheDot) {
		t.Errorf("%+v, %v", d, err)
	}
	_, err = s.EnrolByLink(t.Context(), link, onTheDot)
	wantCode(t, err, NotFound)
	_, err = s.DeviceOfLink(t.Context(), link, onTheDot)
	wantCode(t, err, NotFound)
}
