package main

import (
	"log/slog"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"
	"time"

	"kinwain/internal/store"
)

// keeperOf is a keeper of a demo shop on a day, and the day is the caller's to
// change.
func keeperOf(t *testing.T, now *time.Time, most int) (*keeper, *output) {
	t.Helper()
	dir := demoShop.New(t)
	s, err := store.Open(t.Context(), dir)
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() {
		if err := s.Close(); err != nil {
			t.Error(err)
		}
	})
	var log output
	return &keeper{store: s, data: dir, to: filepath.Join(dir, "backups"), most: most, now: func() time.Time { return *now },
		log: slog.New(slog.NewTextHandler(&log, nil))}, &log
}

func (k *keeper) looks(t *testing.T) {
	t.Helper()
	if err := k.look(t.Context()); err != nil {
		t.Fatal(err)
	}
}

var monday = time.Date(2026, 3, 2, 9, 0, 0, 0, time.FixedZone("shop", 3600))

// TestABackupADay lets days pass: each has one backup, whole and noted, as many
// are kept as should be, and files of others stay.
func TestABackupADay(t *testing.T) {
	t.Parallel()
	now := monday
	k, _ := keeperOf(t, &now, 3)
	if err := os.Mkdir(k.to, 0o700); err != nil {
		t.Fatal(err)
	}
	for _, name := range []string{"kinwain-2026.db", "notes.txt", "kinwain-2026-03-05.db.unproven", "kinwain-2026-03-01.db.unproven"} { // the last two as a program that was killed leaves it
		if err := os.WriteFile(filepath.Join(k.to, name), []byte("mine"), 0o600); err != nil {
			t.Fatal(err)
		}
	}
	for range 5 {
		k.looks(t)
		made, err := os.Stat(filepath.Join(k.to, "kinwain-"+now.Format(time.DateOnly)+".db"))
		if err != nil {
			t.Fatal(err)
		}
		proven, err := k.store.ProvenBackup(t.Context())
		if err != nil || !proven.At.Equal(now) || filepath.Base(proven.File) != made.Name() {
			t.Errorf("noted is %v, %v", proven, err)
		}
		holds, err := store.Verify(t.Context(), proven.File)
		if err != nil || holds[0].N != 14 {
			t.Errorf("it holds %v, %v", holds, err)
		}
		noted := proven
		now = now.Add(8 * time.Hour)
		k.looks(t) // nothing is due
		if proven, err := k.store.ProvenBackup(t.Context()); err != nil || proven != noted {
			t.Errorf("twice a day: %v, %v", proven, err)
		}
		now = now.Add(16 * time.Hour)
	}
	want := []string{"kinwain-2026-03-04.db", "kinwain-2026-03-05.db", "kinwain-2026-03-06.db", "kinwain-2026.db", "notes.txt"}
	if got := filesIn(t, k.to); !slices.Equal(got, want) {
		t.Errorf("the folder holds %v, want %v", got, want)
	}
}

// TestBackupsForgetToo erases a customer by the setting, and with time every
// backup and copy that knows them.
func TestBackupsForgetToo(t *testing.T) {
	t.Parallel()
	now := monday
	k, log := keeperOf(t, &now, 14)
	if err := k.store.SetSettings(t.Context(), map[string]int64{"forget_days": 20}); err != nil {
		t.Fatal(err)
	}
	c, err := k.store.CreateConsultation(t.Context(), "", "A", []byte("{}"), now)
	if err != nil {
		t.Fatal(err)
	}
	copies := []string{store.FileName + ".before-restore", store.FileName + ".before-upgrade-11", "copy-123.db"}
	for _, name := range copies {
		copied := filepath.Join(k.data, name)
		if err := os.WriteFile(copied, []byte("of before"), 0o600); err != nil {
			t.Fatal(err)
		}
		if err := os.Chtimes(copied, now, now); err != nil {
			t.Fatal(err)
		}
	}
	k.looks(t)
	for _, step := range []struct {
		days  int
		there bool
	}{{20, true}, {1, false}, {1, false}} {
		now = now.AddDate(0, 0, step.days)
		k.looks(t)
		_, err := k.store.Consultation(t.Context(), c.ID)
		if (err == nil) != step.there {
			t.Errorf("on %s the consultation is %v", now.Format(time.DateOnly), err)
		}
	}
	if !strings.Contains(log.String(), "consultations=1") {
		t.Errorf("logged: %s", log)
	}
	if got, want := filesIn(t, k.to), []string{"kinwain-2026-03-22.db", "kinwain-2026-03-23.db", "kinwain-2026-03-24.db"}; !slices.Equal(got, want) {
		t.Errorf("the folder holds %v, want %v", got, want)
	}
	for _, name := range copies {
		if slices.Contains(filesIn(t, k.data), name) {
			t.Errorf("%s is still there", name)
		}
	}
}

// TestNoBackupWhereThereIsNoFolder says so every time, leaves what was proven
// before as it is, and does not keep the shop from forgetting.
func TestNoBackupWhereThereIsNoFolder(t *testing.T) {
	t.Parallel()
	now := monday
	k, _ := keeperOf(t, &now, 3)
	k.to = filepath.Join(k.data, store.FileName, "backups")
	c, err := k.store.CreateConsultation(t.Context(), "", "A", []byte("{}"), now.AddDate(-1, 0, 0))
	if err != nil {
		t.Fatal(err)
	}
	for range 2 {
		if err := k.look(t.Context()); err == nil || !strings.Contains(err.Error(), "no backup was made today") {
			t.Errorf("look = %v", err)
		}
	}
	if proven, err := k.store.ProvenBackup(t.Context()); err != nil || !proven.At.IsZero() {
		t.Errorf("noted is %v, %v", proven, err)
	}
	if _, err := k.store.Consultation(t.Context(), c.ID); store.CodeOf(err) != store.NotFound {
		t.Errorf("the consultation is %v", err)
	}
	k.to = ""
	k.looks(t)
}

// TestServeBacksUpByItself finds the first backup soon after the start, and
// none where there should be none.
func TestServeBacksUpByItself(t *testing.T) {
	t.Parallel()
	to := filepath.Join(t.TempDir(), "elsewhere")
	a := start(t, demoShop.New(t), "-backups", to)
	today := filepath.Join(to, "kinwain-"+time.Now().Format(time.DateOnly)+".db")
	for deadline := time.Now().Add(time.Minute); ; time.Sleep(5 * time.Millisecond) {
		if _, err := os.Stat(today); err == nil {
			break
		}
		if time.Now().After(deadline) {
			t.Fatalf("no backup: %s", &a.stderr)
		}
	}
	a.stop()
	if holds, err := store.Verify(t.Context(), today); err != nil || holds[0].N != 14 {
		t.Errorf("it holds %v, %v", holds, err)
	}
	b := start(t, demoShop.New(t), "-backups", "off")
	b.stop()
	if files := filesIn(t, b.dir); len(files) != 1 {
		t.Errorf("the folder holds %v", files)
	}
}
