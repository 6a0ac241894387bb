package store

import (
	"bytes"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"github.com/alexedwards/scs/v2"

	"kinwain/internal/staff"
)

var _ scs.CtxStore = (*Sessions)(nil)

// clock is a clock that the test sets.
type clock struct{ time.Time }

func (c *clock) now() time.Time { return c.Time }

// TestRenewal writes a session anew once it would last minutes longer, and
// does without where the store cannot be written.
func TestRenewal(t *testing.T) {
	t.Parallel()
	s, c := opened(t, t.TempDir()), &clock{noon}
	sessions := s.Sessions(c.now)
	version := func() string {
		t.Helper()
		v, err := s.Version(t.Context())
		if err != nil {
			t.Fatal(err)
		}
		return v
	}
	commit := func(data string, lasts time.Duration, written bool) {
		t.Helper()
		before := version()
		if err := sessions.Commit("a", []byte(data), noon.Add(lasts)); err != nil {
			t.Error(err)
		}
		if (version() != before) != written {
			t.Errorf("%q for %v: not as it should, written %v", data, lasts, !written)
		}
	}
	commit("data", time.Hour, true)
	commit("data", time.Hour+renewed-time.Second, false)
	commit("data", time.Hour+renewed, true)
	commit("data", time.Hour, true) // it ends earlier
	commit("other", time.Hour, true)
	commit("other", time.Hour+time.Minute, false)
	if _, err := s.writer.ExecContext(t.Context(), `PRAGMA query_only = 1`); err != nil {
		t.Fatal(err)
	}
	commit("other", 9*time.Hour, false)
	if _, found, err := sessions.Find("a"); !found || err != nil {
		t.Errorf("not found in a store that can only be read, %v", err)
	}
	if _, err := s.writer.ExecContext(t.Context(), `PRAGMA query_only = 0`); err != nil {
		t.Fatal(err)
	}
}

func TestSessions(t *testing.T) {
	t.Parallel()
	s, c := opened(t, t.TempDir()), &clock{noon}
	sessions := s.Sessions(c.now)
	find := func(token, want string, wantFound bool) {
		t.Helper()
		data, found, err := sessions.Find(token)
		if err != nil || found != wantFound || string(data) != want {
			t.Errorf("Find(%q) = %q, %v, %v, want %q, %v", token, data, found, err, want, wantFound)
		}
	}
	commit := func(token, data string, expiry time.Time) {
		t.Helper()
		if err := sessions.Commit(token, []byte(data), expiry); err != nil {
			t.Fatal(err)
		}
	}
	find("a", "", false)
	commit("a", "first\x00", noon.Add(time.Hour))
	commit("b", "", noon.Add(2*time.Hour))
	find("a", "first\x00", true)
	find("b", "", true)
	commit("a", "second", noon.Add(time.Hour))
	find("a", "second", true)
	find("A", "", false)

	c.Time = noon.Add(time.Hour - time.Millisecond)
	find("a", "second", true)
	c.Time = noon.Add(time.Hour)
	find("a", "", false)
	find("b", "", true)
	if err := sessions.Delete("b"); err != nil {
		t.Error(err)
	}
	if err := sessions.Delete("never there"); err != nil {
		t.Error(err)
	}
	find("b", "", false)
}

func TestExpiredSessionsAreSwept(t *testing.T) {
	t.Parallel()
	s, c := opened(t, t.TempDir()), &clock{noon}
	sessions := s.Sessions(c.now)
	for _, token := range []string{"a", "b", "c"} {
		if err := sessions.CommitCtx(t.Context(), token, nil, noon.Add(time.Hour)); err != nil {
			t.Fatal(err)
		}
	}
	c.Time = noon.Add(time.Hour)
	if err := sessions.CommitCtx(t.Context(), "d", nil, noon.Add(2*time.Hour)); err != nil {
		t.Fatal(err)
	}
	if n := rowCounts(t, s)["sessions"]; n != 1 {
		t.Errorf("%d sessions are stored, want 1", n)
	}
}

func TestSignInLink(t *testing.T) {
	t.Parallel()
	s := opened(t, t.TempDir())
	valid := func(token string, now time.Time, want bool) {
		t.Helper()
		if got, err := s.SignInLinkValid(t.Context(), token, now); err != nil || got != want {
			t.Errorf("SignInLinkValid(%q) = %v, %v, want %v", token, got, err, want)
		}
	}
	replace := func(token string) {
		t.Helper()
		if err := s.ReplaceSignInLink(t.Context(), token, noon.Add(time.Hour)); err != nil {
			t.Fatal(err)
		}
	}
	valid("", noon, false)
	replace("first")
	valid("first", noon, true)
	valid("First", noon, false)
	valid("first", noon.Add(time.Hour-time.Millisecond), true)
	valid("first", noon.Add(time.Hour), false)
	replace("second")
	valid("first", noon, false)
	valid("second", noon, true)
	replace("second")
	valid("second", noon, true)
}

// onTheDot is noon as the store keeps it, to the millisecond.
var onTheDot = noon.Truncate(time.Millisecond)

// TestSignInLinkIsUsedOnce uses a link, lists who is in by it, and ends that.
func TestSignInLinkIsUsedOnce(t *testing.T) {
	t.Parallel()
	s := opened(t, t.TempDir())
	use := func(token string, now time.Time) (int64, error) {
		return s.UseSignInLink(t.Context(), token, now, LinkEntry{Begun: now, Expires: now.Add(12 * time.Hour), Address: "192.0.2.7"})
	}
	replace := func() {
		t.Helper()
		if err := s.ReplaceSignInLink(t.Context(), "link", noon.Add(time.Hour)); err != nil {
			t.Fatal(err)
		}
	}
	stands := func(id int64, now time.Time, want bool) {
		t.Helper()
		if got, err := s.LinkEntryStands(t.Context(), id, now); err != nil || got != want {
			t.Errorf("the entry %d stands: %v, %v, want %v", id, got, err, want)
		}
	}
	replace()
	_, err := use("Link", noon)
	wantCode(t, err, NotFound)
	_, err = use("link", noon.Add(time.Hour))
	wantCode(t, err, NotFound)
	first, err := use("link", noon)
	if err != nil {
		t.Fatal(err)
	}
	_, err = use("link", noon)
	wantCode(t, err, NotFound)
	stands(first, noon.Add(12*time.Hour-time.Millisecond), true)
	stands(first, noon.Add(12*time.Hour), false)
	stands(first+1, noon, false)
	replace()
	second, err := use("link", noon.Add(time.Minute))
	if err != nil {
		t.Fatal(err)
	}
	list, err := s.LinkEntries(t.Context(), noon.Add(2*time.Minute))
	if err != nil || len(list) != 2 || list[0].ID != second || list[1] != (LinkEntry{first, onTheDot.UTC(), onTheDot.UTC().Add(12 * time.Hour), "192.0.2.7"}) {
		t.Errorf("%+v, %v", list, err)
	}
	for range 2 {
		if err := s.EndLinkEntry(t.Context(), first); err != nil {
			t.Error(err)
		}
	}
	stands(first, noon.Add(2*time.Minute), false)
	stands(second, noon.Add(2*time.Minute), true)
	replace()
	if err := s.EndLinkEntries(t.Context()); err != nil {
		t.Error(err)
	}
	stands(second, noon.Add(2*time.Minute), false)
	_, err = use("link", noon)
	wantCode(t, err, NotFound)
	replace()
	if err := s.VoidSignInLink(t.Context()); err != nil {
		t.Error(err)
	}
	_, err = use("link", noon)
	wantCode(t, err, NotFound)
}

// TestSignOutEverywhereMeansTheLinkToo holds that a manager who signs out
// everywhere ends what began by the printed link, and a salesperson does not.
func TestSignOutEverywhereMeansTheLinkToo(t *testing.T) {
	t.Parallel()
	s := opened(t, t.TempDir())
	if err := s.ReplaceSignInLink(t.Context(), "link", noon.Add(time.Hour)); err != nil {
		t.Fatal(err)
	}
	entry, err := s.UseSignInLink(t.Context(), "link", noon, LinkEntry{Begun: noon, Expires: noon.Add(time.Hour)})
	if err != nil {
		t.Fatal(err)
	}
	for _, c := range []struct {
		role   staff.Role
		stands bool
	}{{staff.Salesperson, true}, {staff.Manager, false}} {
		id, err := s.AddPerson(t.Context(), string(c.role), c.role, noon)
		if err == nil {
			err = s.SignOutEverywhere(t.Context(), id)
		}
		if err != nil {
			t.Fatal(err)
		}
		if stands, err := s.LinkEntryStands(t.Context(), entry, noon); err != nil || stands != c.stands {
			t.Errorf("after a %s: %v, %v", c.role, stands, err)
		}
	}
}

// Nobody can sign in with what a copy of the store says.
func TestTokensAreNotStored(t *testing.T) {
	t.Parallel()
	dir := t.TempDir()
	session, link := strings.Repeat("session", 5), strings.Repeat("link", 8)
	openClose(t, dir, func(s *Store) {
		if err := s.Sessions(time.Now).Commit(session, []byte("data of it"), time.Now().Add(time.Hour)); err != nil {
			t.Error(err)
		}
		if err := s.ReplaceSignInLink(t.Context(), link, time.Now().Add(time.Hour)); err != nil {
			t.Error(err)
		}
	})
	content, err := os.ReadFile(filepath.Join(dir, FileName))
	if err != nil {
		t.Fatal(err)
	}
	if !bytes.Contains(content, []byte("data of it")) {
		t.Error("the session is not in the file at all")
	}
	for _, token := range []string{session, link} {
		if bytes.Contains(content, []byte(token)) {
			t.Errorf("the file holds the token %q", token)
		}
	}
}
