package store

import (
	"bytes"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"
)

// A store that was damaged is not opened, and stays as it is.
func TestOpenLooksForDamage(t *testing.T) {
	t.Parallel()
	dir := shop(t, "damaged")
	path := filepath.Join(dir, FileName)
	content, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	const page = 4096
	for at := 2 * page; at < len(content); at += page { // the schema stays, so that there is something to look through
		if content[at] == 13 || content[at] == 10 { // a leaf: how many rows there are and where they begin
			copy(content[at+3:], bytes.Repeat([]byte{0xff}, 8))
		}
	}
	if err := os.WriteFile(path, content, 0o600); err != nil {
		t.Fatal(err)
	}
	_, err = Open(t.Context(), dir)
	wantCode(t, err, Corrupt)
	if !strings.Contains(err.Error(), "damaged") {
		t.Errorf("%q does not say so", err)
	}
	if got, err := os.ReadFile(path); err != nil || !bytes.Equal(got, content) {
		t.Errorf("the damaged store was changed, %v", err)
	}
	_, err = Verify(t.Context(), path)
	wantCode(t, err, Corrupt)
}

// A store that is not in its place any more keeps nothing and says so; what
// was read before can still be read.
func TestStoreGoneWhileRunning(t *testing.T) {
	t.Parallel()
	for name, spoil := range map[string]func(t *testing.T, dir string) error{
		"folder removed": func(_ *testing.T, dir string) error { return os.RemoveAll(dir) },
		"folder moved":   func(_ *testing.T, dir string) error { return os.Rename(dir, dir+"-old") },
		"log removed":    func(_ *testing.T, dir string) error { return os.Remove(filepath.Join(dir, FileName+"-wal")) },
		"file replaced": func(t *testing.T, dir string) error {
			other := filepath.Join(shop(t, "other"), FileName)
			return os.Rename(other, filepath.Join(dir, FileName))
		},
	} {
		t.Run(name, func(t *testing.T) {
			dir := filepath.Join(t.TempDir(), "data")
			s := openHere(t, dir)
			defer func() { _ = s.Close() }() // there is nowhere left to close it to
			c, err := s.CreateConsultation(t.Context(), "", "A", nil, time.Now())
			if err != nil {
				t.Fatal(err)
			}
			if err := s.Ping(t.Context()); err != nil {
				t.Fatal(err)
			}
			if err := spoil(t, dir); err != nil {
				t.Fatal(err)
			}
			wantCode(t, s.Ping(t.Context()), Gone)
			_, err = s.SaveConsultation(t.Context(), c.ID, 1, "B", nil, time.Now())
			wantCode(t, err, Gone)
			if got, err := s.Consultation(t.Context(), c.ID); err != nil || got.Customer != "A" {
				t.Errorf("what was kept reads %q, %v", got.Customer, err)
			}
		})
	}
}

// Of those who stay only one can open a store; those who come by still can.
func TestOpenAlone(t *testing.T) {
	t.Parallel()
	dir := t.TempDir()
	stays, err := OpenAlone(t.Context(), dir)
	if err != nil {
		t.Fatal(err)
	}
	_, err = OpenAlone(t.Context(), dir)
	wantCode(t, err, InUse)
	openClose(t, dir, func(s *Store) {
		if err := s.SetSettings(t.Context(), map[string]int64{"a": 1}); err != nil {
			t.Error(err)
		}
	})
	wantCode(t, Restore(t.Context(), backup(t, shop(t, "other")), dir), InUse)
	if err := stays.Close(); err != nil {
		t.Fatal(err)
	}
	if got := files(t, dir); len(got) != 1 {
		t.Errorf("the folder holds %v", got)
	}
	again, err := OpenAlone(t.Context(), dir)
	if err != nil {
		t.Fatal(err)
	}
	if err := again.Close(); err != nil {
		t.Error(err)
	}
}

func TestOpenExistingMakesNothing(t *testing.T) {
	t.Parallel()
	dir := filepath.Join(t.TempDir(), "none")
	_, err := OpenExisting(t.Context(), dir)
	wantCode(t, err, NotFound)
	if _, err := os.Stat(dir); err == nil {
		t.Error("the folder was made")
	}
}

func TestMuchLess(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		less, stands []int
		want         bool
	}{
		{[]int{0, 0}, []int{0, 0}, false}, {[]int{0, 0}, []int{0, 1}, true}, {[]int{0, 1}, []int{0, 0}, false},
		{[]int{10, 9}, []int{10, 19}, true}, {[]int{10, 10}, []int{10, 20}, false}, {[]int{10, 1}, []int{10, 10}, false}, {[]int{99, 0}, []int{3, 10}, true},
		{[]int{5}, nil, false},
	} {
		if got := counted(c.less).MuchLess(counted(c.stands)); got != c.want {
			t.Errorf("%v is much less than %v: %v", c.less, c.stands, got)
		}
	}
}

func counted(counts []int) (c Contents) {
	for _, n := range counts {
		c = append(c, Counted{N: n})
	}
	return c
}

// What a backup holds is counted in backups of every age.
func TestContentsOfTheFirstRelease(t *testing.T) {
	t.Parallel()
	dir := firstRelease(t)
	before, err := Standing(t.Context(), dir)
	if err != nil || before[0].N == 0 || before[1].N == 0 || before[2].N == 0 {
		t.Fatalf("%v, %v", before, err)
	}
	openClose(t, dir, func(s *Store) {
		after, err := s.Contents(t.Context())
		if err != nil || after.String() != before.String() {
			t.Errorf("before the upgrade %v, after it %v, %v", before, after, err)
		}
	})
}
