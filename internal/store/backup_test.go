package store

import (
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"
	"time"
)

// shop returns a folder with a store of the rich catalogue under a name.
func shop(t *testing.T, name string) (dir string) {
	t.Helper()
	dir = t.TempDir()
	openClose(t, dir, func(s *Store) { rename(t, s, name) })
	return dir
}

func rename(t *testing.T, s *Store, name string) {
	t.Helper()
	c := rich(t)
	c.Shop.Name = name
	if err := s.ReplaceCatalogue(t.Context(), c); err != nil {
		t.Fatal(err)
	}
}

func wantName(t *testing.T, dir, want string) {
	t.Helper()
	openClose(t, dir, func(s *Store) {
		c, err := s.Catalogue(t.Context())
		if err != nil {
			t.Fatal(err)
		}
		if c.Shop.Name != want || len(c.Frames) != len(rich(t).Frames) {
			t.Errorf("the shop is named %q and has %d frames, want %q", c.Shop.Name, len(c.Frames), want)
		}
	})
}

// backup backs a store up, while it is open, to a file in a folder of its own.
func backup(t *testing.T, dir string) (file string) {
	t.Helper()
	file = filepath.Join(t.TempDir(), "backup 1.db")
	openClose(t, dir, func(s *Store) {
		if _, err := s.Backup(t.Context(), file); err != nil {
			t.Fatal(err)
		}
	})
	return file
}

func TestBackupAndRestore(t *testing.T) {
	t.Parallel()
	file := backup(t, shop(t, "backed up"))
	info, err := os.Stat(file)
	if err != nil {
		t.Fatal(err)
	}
	if info.Mode() != 0o600 {
		t.Errorf("the mode of the backup is %v", info.Mode())
	}
	t.Run("over nothing", func(t *testing.T) {
		dir := filepath.Join(t.TempDir(), "new")
		if err := Restore(t.Context(), file, dir); err != nil {
			t.Fatal(err)
		}
		wantName(t, dir, "backed up")
	})
	t.Run("over another store", func(t *testing.T) {
		dir := shop(t, "former")
		for range 2 {
			if err := Restore(t.Context(), file, dir); err != nil {
				t.Fatal(err)
			}
			openClose(t, dir, func(s *Store) { rename(t, s, "former") })
		}
		if err := Restore(t.Context(), file, dir); err != nil {
			t.Fatal(err)
		}
		if got, want := files(t, dir), []string{FileName, FileName + beforeRestore}; !slices.Equal(got, want) {
			t.Errorf("the folder holds %v, want %v", got, want)
		}
		wantName(t, dir, "backed up")
		again := t.TempDir()
		if err := Restore(t.Context(), filepath.Join(dir, FileName+beforeRestore), again); err != nil {
			t.Fatal(err)
		}
		wantName(t, again, "former")
	})
	if got := files(t, filepath.Dir(file)); len(got) != 1 {
		t.Errorf("beside the backup there is now %v", got)
	}
}

func TestBackupRefusesAnExistingFile(t *testing.T) {
	t.Parallel()
	s := opened(t, t.TempDir())
	file := filepath.Join(t.TempDir(), "precious")
	if err := os.WriteFile(file, []byte("data"), 0o600); err != nil {
		t.Fatal(err)
	}
	_, err := s.Backup(t.Context(), file)
	wantCode(t, err, Conflict)
	if got, err := os.ReadFile(file); err != nil || string(got) != "data" {
		t.Errorf("the file holds %q now, %v", got, err)
	}
	_, err = s.Backup(t.Context(), filepath.Join(file, "x"))
	wantCode(t, err, Unwritable)
}

// A backup is one state of the store, however busy that is.
func TestBackupWhileOthersWrite(t *testing.T) {
	t.Parallel()
	s := opened(t, t.TempDir())
	rename(t, s, "busy")
	done := make(chan error)
	go func() {
		for range 30 {
			if err := s.SetSettings(t.Context(), map[string]int64{"a": 1}); err != nil {
				done <- err
				return
			}
		}
		done <- nil
	}()
	file := filepath.Join(t.TempDir(), "b.db")
	if _, err := s.Backup(t.Context(), file); err != nil {
		t.Error(err)
	}
	if err := <-done; err != nil {
		t.Error(err)
	}
	dir := t.TempDir()
	if err := Restore(t.Context(), file, dir); err != nil {
		t.Fatal(err)
	}
	wantName(t, dir, "busy")
}

func TestRestoreRefusesAStoreInUse(t *testing.T) {
	t.Parallel()
	file, dir := backup(t, shop(t, "backed up")), shop(t, "in use")
	s := opened(t, dir)
	if _, err := s.Settings(t.Context()); err != nil {
		t.Fatal(err)
	}
	wantCode(t, Restore(t.Context(), file, dir), InUse)
	for _, name := range files(t, dir) {
		if strings.HasPrefix(name, "restore") || strings.HasSuffix(name, beforeRestore) {
			t.Errorf("%s was left behind", name)
		}
	}
	rename(t, s, "still in use")
	c, err := s.Catalogue(t.Context())
	if err != nil || c.Shop.Name != "still in use" {
		t.Errorf("Catalogue = %v, %v", c, err)
	}
}

func TestRestoreRefusesWhatIsNoStore(t *testing.T) {
	t.Parallel()
	good := backup(t, shop(t, "backed up"))
	content, err := os.ReadFile(good)
	if err != nil {
		t.Fatal(err)
	}
	newer := shop(t, "newer")
	openClose(t, newer, func(s *Store) {
		if _, err := s.writer.Exec(`INSERT INTO goose_db_version (version_id, is_applied) VALUES (99, 1)`); err != nil {
			t.Fatal(err)
		}
	})
	stray := shop(t, "stray")
	openClose(t, stray, func(s *Store) {
		if _, err := s.writer.Exec(`PRAGMA foreign_keys = OFF`); err != nil {
			t.Fatal(err)
		}
		if _, err := s.writer.Exec(`DELETE FROM things WHERE list = 'frames'`); err != nil {
			t.Fatal(err)
		}
	})
	flipped := slices.Clone(content)
	for i := len(flipped) / 2; i < len(flipped)/2+8192; i++ { // a whole page at least: parts of one may hold nothing
		flipped[i] ^= 0x55
	}
	dir := shop(t, "kept")
	for name, test := range map[string]struct {
		file    string
		content []byte
		code    string
	}{
		"missing":  {filepath.Join(t.TempDir(), "none"), nil, NotFound},
		"a folder": {t.TempDir(), nil, NotFound},
		"empty":    {"", []byte{}, Corrupt},
		"garbage":  {"", []byte(strings.Repeat("garbage", 999)), Corrupt},
		"cut off":  {"", content[:len(content)-8192], Corrupt},
		"damaged":  {"", flipped, Corrupt},
		"newer":    {filepath.Join(newer, FileName), nil, NewerVersion},
		"strays":   {filepath.Join(stray, FileName), nil, Corrupt},
	} {
		t.Run(name, func(t *testing.T) {
			file := test.file
			if test.content != nil {
				file = filepath.Join(t.TempDir(), "b.db")
				if err := os.WriteFile(file, test.content, 0o600); err != nil {
					t.Fatal(err)
				}
			}
			wantCode(t, Restore(t.Context(), file, dir), test.code)
		})
	}
	if got := files(t, dir); len(got) != 1 {
		t.Errorf("the folder holds %v", got)
	}
	wantName(t, dir, "kept")
}

// A plain copy of the file of a closed store will do as a backup too.
func TestRestoreFromACopy(t *testing.T) {
	t.Parallel()
	from, dir := shop(t, "copied"), t.TempDir()
	if err := Restore(t.Context(), filepath.Join(from, FileName), dir); err != nil {
		t.Fatal(err)
	}
	wantName(t, dir, "copied")
	if got := files(t, from); len(got) != 1 {
		t.Errorf("beside the copy there is now %v", got)
	}
}

// Over a damaged store a backup is needed most. What is left of the store is
// kept, and its log never reaches the new store.
func TestRestoreOverADamagedStore(t *testing.T) {
	t.Parallel()
	file, dir := backup(t, shop(t, "backed up")), t.TempDir()
	for name, content := range map[string]string{
		FileName: strings.Repeat("damaged", 2000), FileName + "-wal": "log", FileName + "-shm": "index of the log",
	} {
		if err := os.WriteFile(filepath.Join(dir, name), []byte(content), 0o600); err != nil {
			t.Fatal(err)
		}
	}
	if err := Restore(t.Context(), file, dir); err != nil {
		t.Fatal(err)
	}
	want := []string{FileName, FileName + beforeRestore}
	if got := files(t, dir); !slices.Equal(got, want) {
		t.Errorf("the folder holds %v, want %v", got, want)
	}
	wantName(t, dir, "backed up")
}

// What a program that was killed has left in the log is part of the store.
func TestRestoreKeepsTheLogOfAKilledProgram(t *testing.T) {
	t.Parallel()
	file, live, dir := backup(t, shop(t, "backed up")), t.TempDir(), t.TempDir()
	s := opened(t, live)
	rename(t, s, "killed")
	for _, name := range []string{FileName, FileName + "-wal"} {
		content, err := os.ReadFile(filepath.Join(live, name))
		if err != nil {
			t.Fatal(err)
		}
		if err := os.WriteFile(filepath.Join(dir, name), content, 0o600); err != nil {
			t.Fatal(err)
		}
	}
	if err := Restore(t.Context(), file, dir); err != nil {
		t.Fatal(err)
	}
	wantName(t, dir, "backed up")
	again := t.TempDir()
	if err := Restore(t.Context(), filepath.Join(dir, FileName+beforeRestore), again); err != nil {
		t.Fatal(err)
	}
	wantName(t, again, "killed")
}

func TestRestoreUnwritable(t *testing.T) {
	t.Parallel()
	file := backup(t, shop(t, "backed up"))
	wantCode(t, Restore(t.Context(), file, filepath.Join(file, "data")), Unwritable)
}

// Sessions and links of the backup expire as they would have.
func TestRestoreKeepsExpiry(t *testing.T) {
	t.Parallel()
	dir := t.TempDir()
	openClose(t, dir, func(s *Store) {
		if err := s.Sessions(time.Now).Commit("a", nil, noon); err != nil {
			t.Error(err)
		}
	})
	again := t.TempDir()
	if err := Restore(t.Context(), backup(t, dir), again); err != nil {
		t.Fatal(err)
	}
	c := &clock{noon.Add(-time.Second)}
	sessions := opened(t, again).Sessions(c.now)
	for _, want := range []bool{true, false} {
		if _, found, err := sessions.Find("a"); err != nil || found != want {
			t.Errorf("Find = %v, %v, want %v", found, err, want)
		}
		c.Time = noon
	}
}
