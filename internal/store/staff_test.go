package store

import (
	"bytes"
	"os"
	"path/filepath"
	"slices"
	"sync"
	"testing"
	"time"

	"github.com/google/go-cmp/cmp"

	"kinwain/internal/staff"
)

// hired adds a person who can sign in.
func hired(t *testing.T, s *Store, name string, role staff.Role) int64 {
	t.Helper()
	id, err := s.AddPerson(t.Context(), name, role, noon)
	if err == nil {
		err = s.SetPassphrase(t.Context(), id, "hash of "+name)
	}
	if err != nil {
		t.Fatal(err)
	}
	return id
}

func who(t *testing.T, s *Store, id int64) Person {
	t.Helper()
	p, err := s.Person(t.Context(), id)
	if err != nil {
		t.Fatal(err)
	}
	return p
}

func TestPeople(t *testing.T) {
	t.Parallel()
	s := opened(t, t.TempDir())
	id, err := s.AddPerson(t.Context(), "  Ansa of  the Quay ", staff.Manager, noon)
	if err != nil {
		t.Fatal(err)
	}
	want := Person{ID: id, Name: "Ansa of the Quay", Role: staff.Manager, Created: toMillisecond(noon)}
	if got, err := s.PersonNamed(t.Context(), "ansa OF the quay"); err != nil || got != want {
		t.Errorf("%+v, %v, want %+v", got, err, want)
	}
	_, err = s.AddPerson(t.Context(), "ANSA OF THE QUAY", staff.Salesperson, noon)
	wantCode(t, err, Conflict)
	_, err = s.AddManager(t.Context(), "ansa of the quay", "hash", noon)
	wantCode(t, err, Conflict)
	m, err := s.AddManager(t.Context(), "Aklen", "hash", noon)
	if err != nil || m.Passphrase != "hash" || m.Role != staff.Manager {
		t.Errorf("%+v, %v", m, err)
	}
	list, err := s.People(t.Context())
	if diff := cmp.Diff([]Person{m, want}, list); err != nil || diff != "" {
		t.Error(err, diff)
	}
	_, err = s.Person(t.Context(), 99)
	wantCode(t, err, NotFound)
	_, err = s.PersonNamed(t.Context(), "")
	wantCode(t, err, NotFound)
	for _, err := range []error{s.SetRole(t.Context(), 99, staff.Manager), s.SetDisabled(t.Context(), 99, true), s.SetPassphrase(t.Context(), 99, "h"), s.SetPIN(t.Context(), 99, "h"),
		s.ForgivePIN(t.Context(), 99), s.SignOutEverywhere(t.Context(), 99)} {
		wantCode(t, err, NotFound)
	}
}

// TestWhatEndsSessions holds what makes sessions of before void, and what
// leaves them.
func TestWhatEndsSessions(t *testing.T) {
	t.Parallel()
	s := opened(t, t.TempDir())
	id := hired(t, s, "Ansa", staff.Salesperson)
	hired(t, s, "Other", staff.Manager)
	for _, c := range []struct {
		name string
		do   func() error
		ends bool
	}{
		{"role", func() error { return s.SetRole(t.Context(), id, staff.Manager) }, false},
		{"back", func() error { return s.SetRole(t.Context(), id, staff.Salesperson) }, false},
		{"PIN", func() error { return s.SetPIN(t.Context(), id, "hash of a PIN") }, false},
		{"passphrase", func() error { return s.SetPassphrase(t.Context(), id, "another") }, true},
		{"everywhere", func() error { return s.SignOutEverywhere(t.Context(), id) }, true},
		{"off", func() error { return s.SetDisabled(t.Context(), id, true) }, true},
	} {
		before := who(t, s, id).Epoch
		if err := c.do(); err != nil {
			t.Errorf("%s: %v", c.name, err)
		}
		if ends := who(t, s, id).Epoch != before; ends != c.ends {
			t.Errorf("%s: sessions end: %v", c.name, ends)
		}
	}
	if p := who(t, s, id); p.PIN != "hash of a PIN" || !p.Disabled || p.Passphrase != "another" {
		t.Errorf("%+v", p)
	}
}

func TestLastManager(t *testing.T) {
	t.Parallel()
	s := opened(t, t.TempDir())
	one := hired(t, s, "One", staff.Manager)
	if _, err := s.AddPerson(t.Context(), "Invited", staff.Manager, noon); err != nil {
		t.Fatal(err)
	}
	hired(t, s, "Seller", staff.Salesperson)
	wantCode(t, s.SetDisabled(t.Context(), one, true), LastManager)
	wantCode(t, s.SetRole(t.Context(), one, staff.Salesperson), LastManager)
	if p := who(t, s, one); p.Disabled || p.Role != staff.Manager {
		t.Errorf("refused, and done all the same: %+v", p)
	}
	two := hired(t, s, "Two", staff.Manager)
	if err := s.SetDisabled(t.Context(), one, true); err != nil {
		t.Error(err)
	}
	wantCode(t, s.SetRole(t.Context(), two, staff.Salesperson), LastManager)
}

// TestLastManagerOfMany lets many managers go at the same time. One stays.
func TestLastManagerOfMany(t *testing.T) {
	t.Parallel()
	s := opened(t, t.TempDir())
	var ids []int64
	for _, name := range []string{"a", "b", "c", "d", "e", "f", "g", "h"} {
		ids = append(ids, hired(t, s, name, staff.Manager))
	}
	refused := make([]error, len(ids))
	var group sync.WaitGroup
	for i, id := range ids {
		group.Go(func() {
			if i%2 == 0 {
				refused[i] = s.SetDisabled(t.Context(), id, true)
			} else {
				refused[i] = s.SetRole(t.Context(), id, staff.Salesperson)
			}
		})
	}
	group.Wait()
	n := 0
	for _, err := range refused {
		if err != nil {
			wantCode(t, err, LastManager)
			n++
		}
	}
	if has, err := s.HasManager(t.Context()); n != 1 || !has || err != nil {
		t.Errorf("%d are refused, a manager is left: %v, %v", n, has, err)
	}
}

// TestTriesOfAPIN guesses at the same time. No more are looked at than may be.
func TestTriesOfAPIN(t *testing.T) {
	t.Parallel()
	s := opened(t, t.TempDir())
	id := hired(t, s, "Ansa", staff.Salesperson)
	looked := make([]bool, 20)
	var group sync.WaitGroup
	for i := range looked {
		group.Go(func() {
			may, err := s.TryPIN(t.Context(), id, 5)
			if err != nil {
				t.Error(err)
			}
			looked[i] = may
		})
	}
	group.Wait()
	if n := len(slices.DeleteFunc(looked, func(b bool) bool { return !b })); n != 5 {
		t.Errorf("%d of 20 are looked at", n)
	}
	if err := s.ForgivePIN(t.Context(), id); err != nil {
		t.Error(err)
	}
	if may, err := s.TryPIN(t.Context(), id, 5); err != nil || !may {
		t.Errorf("forgiven, and still %v, %v", may, err)
	}
}

func TestPersonLinks(t *testing.T) {
	t.Parallel()
	s := opened(t, t.TempDir())
	id, err := s.AddPerson(t.Context(), "Ansa", staff.Manager, noon)
	if err != nil {
		t.Fatal(err)
	}
	issue := func() string {
		t.Helper()
		token, err := s.IssueLink(t.Context(), id, noon.Add(time.Hour))
		if err != nil {
			t.Fatal(err)
		}
		return token
	}
	works := func(token string, now time.Time, want bool) {
		t.Helper()
		p, err := s.PersonOfLink(t.Context(), token, now)
		if !want {
			wantCode(t, err, NotFound)
		} else if err != nil || p.ID != id {
			t.Errorf("%+v, %v", p, err)
		}
	}
	older := issue()
	newer := issue()
	works(older, noon, false)
	works(newer, noon.Add(time.Hour-time.Millisecond), true)
	works(newer, noon.Add(time.Hour), false)
	_, err = s.UseLink(t.Context(), newer, "hash", noon.Add(time.Hour))
	wantCode(t, err, NotFound)
	used, err := s.UseLink(t.Context(), newer, "hash", noon)
	if err != nil || used.Passphrase != "hash" || used != who(t, s, id) {
		t.Errorf("%+v, %v", used, err)
	}
	_, err = s.UseLink(t.Context(), newer, "of somebody else", noon)
	wantCode(t, err, NotFound)
	kept := issue()
	if err := s.SetRole(t.Context(), id, staff.Manager); err != nil {
		t.Error(err)
	}
	works(kept, noon, true)
	for _, voided := range []func() error{func() error { return s.SetPassphrase(t.Context(), id, "own") }, func() error { return s.SignOutEverywhere(t.Context(), id) }} {
		token := issue()
		if err := voided(); err != nil {
			t.Error(err)
		}
		works(token, noon, false)
	}
	hired(t, s, "Other", staff.Manager)
	token := issue()
	if err := s.SetDisabled(t.Context(), id, true); err != nil {
		t.Error(err)
	}
	works(token, noon, false)
	_, err = s.IssueLink(t.Context(), id, noon.Add(time.Hour))
	wantCode(t, err, NotFound)
	_, err = s.IssueLink(t.Context(), 99, noon.Add(time.Hour))
	wantCode(t, err, NotFound)
}

func TestDevices(t *testing.T) {
	t.Parallel()
	s := opened(t, t.TempDir())
	one, err := s.EnrolDevice(t.Context(), "counter", "Ansa", noon)
	other, err2 := s.EnrolDevice(t.Context(), "workshop", "Ansa", noon.Add(time.Minute))
	if err != nil || err2 != nil || one == other {
		t.Fatal(err, err2)
	}
	d, err := s.Device(t.Context(), one)
	if err != nil || d.Label != "counter" || d.EnrolledBy != "Ansa" || !d.Created.Equal(toMillisecond(noon)) {
		t.Errorf("%+v, %v", d, err)
	}
	if list, err := s.Devices(t.Context()); err != nil || len(list) != 2 || list[0].Label != "workshop" {
		t.Errorf("%v, %v", list, err)
	}
	for range 2 {
		if err := s.RevokeDevice(t.Context(), d.ID, noon); err != nil {
			t.Error(err)
		}
	}
	for _, token := range []string{one, "", "made up"} {
		_, err = s.Device(t.Context(), token)
		wantCode(t, err, NotFound)
	}
	if _, err := s.Device(t.Context(), other); err != nil {
		t.Error(err)
	}
}

func TestAPITokens(t *testing.T) {
	t.Parallel()
	dir := t.TempDir()
	s := opened(t, dir)
	want := APIToken{ID: 1, Label: "web site", Scope: "matches", MadeBy: "Ansa", Created: toMillisecond(noon), Expires: toMillisecond(noon.Add(time.Hour))}
	token, err := s.IssueAPIToken(t.Context(), want)
	if err != nil {
		t.Fatal(err)
	}
	list := func() APIToken {
		t.Helper()
		all, err := s.APITokens(t.Context())
		if err != nil || len(all) != 1 {
			t.Fatal(all, err)
		}
		return all[0]
	}
	if diff := cmp.Diff(want, list()); diff != "" {
		t.Error(diff)
	}
	later := noon.Add(90 * time.Second)
	want.LastUsed = later.UTC().Truncate(time.Minute)
	if got, err := s.UseAPIToken(t.Context(), token, later); err != nil || got != want || list() != want {
		t.Errorf("%+v, %v, want %+v", got, err, want)
	}
	if _, err := s.UseAPIToken(t.Context(), token, noon.Add(time.Hour-time.Millisecond)); err != nil {
		t.Error(err)
	}
	for _, c := range []struct {
		token string
		now   time.Time
	}{{token, noon.Add(time.Hour)}, {"", noon}, {token + "a", noon}} {
		_, err = s.UseAPIToken(t.Context(), c.token, c.now)
		wantCode(t, err, NotFound)
	}
	content, err := os.ReadFile(filepath.Join(dir, FileName+"-wal"))
	if err != nil || !bytes.Contains(content, []byte("web site")) || bytes.Contains(content, []byte(token)) {
		t.Errorf("the file holds the token, or not even its label; %v", err)
	}
	if err := s.RevokeAPIToken(t.Context(), want.ID, later); err != nil || !list().Revoked {
		t.Error("not revoked", err)
	}
	_, err = s.UseAPIToken(t.Context(), token, later)
	wantCode(t, err, NotFound)
}

func TestPing(t *testing.T) {
	t.Parallel()
	s := opened(t, t.TempDir())
	if err := s.Ping(t.Context()); err != nil {
		t.Error(err)
	}
	if err := s.readers.Close(); err != nil {
		t.Fatal(err)
	}
	if err := s.Ping(t.Context()); err == nil {
		t.Error("it answers with nothing to read from")
	}
}
