package main

import (
	"context"
	"errors"
	"fmt"
	"io/fs"
	"log/slog"
	"os"
	"path/filepath"
	"strings"
	"time"

	"kinwain/internal/concern"
	"kinwain/internal/figures"
	"kinwain/internal/store"
	"kinwain/web"
)

// keeper looks after the store while the app serves: it erases what has to be
// forgotten, and makes a backup a day.
type keeper struct {
	store *store.Store
	data  string // the folder of the store
	to    string // the folder of the backups; no backups if empty
	most  int    // backups to keep
	now   func() time.Time
	log   *slog.Logger
}

// How often it is looked whether there is something to do, and what the names of
// the files of backups are made of.
const (
	judgeEvery   = time.Second      // whether something is to be judged again, also by an import of another program
	keepEvery    = 15 * time.Second // what was counted is written
	lookEvery    = 10 * time.Minute
	backupPrefix = "kinwain-"
	backupSuffix = ".db"
	unproven     = ".unproven" // while a backup is written and looked through
)

// noBackups is what the flag says where there should be none.
const noBackups = "off"

// backupFolder is where the daily backups go by the flag.
func backupFolder(flag, data string) string {
	switch flag {
	case noBackups:
		return ""
	case "":
		flag = filepath.Join(data, "backups")
	}
	if whole, err := filepath.Abs(flag); err == nil {
		return whole // it is shown to people, who are in no folder
	}
	return flag
}

// keep looks after the store in the background. The function that it returns
// ends that, and comes back when nothing of it is under way any more.
func keep(ctx context.Context, k *keeper) (stop func()) { return beside(ctx, k.run) }

// work judges again whom changes may concern, while the app serves. The
// function that it returns ends that; what is not judged yet is the next time.
func work(ctx context.Context, w *concern.Watch) (stop func()) {
	return beside(ctx, func(ctx context.Context) {
		look := time.NewTicker(judgeEvery)
		defer look.Stop()
		w.Work(ctx, look.C)
	})
}

// count writes how often fit summaries were opened, while the app serves and once
// more when it has stopped. The function that it returns does that.
func count(ctx context.Context, o *web.Openings) (stop func()) {
	end := beside(ctx, func(ctx context.Context) {
		due := time.NewTicker(keepEvery)
		defer due.Stop()
		o.Work(ctx, due.C)
	})
	return func() {
		end()
		last, cancel := context.WithTimeout(context.WithoutCancel(ctx), pingTimeout)
		defer cancel()
		o.Keep(last)
	}
}

// beside does something in the background until its context ends. The function
// that it returns ends it, and comes back when nothing of it is under way.
func beside(ctx context.Context, do func(context.Context)) (stop func()) {
	ctx, cancel := context.WithCancel(ctx)
	done := make(chan struct{})
	go func() {
		defer close(done)
		do(ctx)
	}()
	return func() {
		cancel()
		<-done
	}
}

// run looks after the store until the context ends.
func (k *keeper) run(ctx context.Context) {
	look := time.NewTicker(lookEvery)
	defer look.Stop()
	for {
		if err := k.look(ctx); err != nil && ctx.Err() == nil {
			k.log.Error("looking after the store failed", "error", err)
		}
		select {
		case <-ctx.Done():
			return
		case <-look.C:
		}
	}
}

// look does what is due. What was erased is gone before the backup is made.
func (k *keeper) look(ctx context.Context) error {
	changed, err := k.store.Settings(ctx)
	if err != nil {
		return err
	}
	days, years := figures.Retention(changed)
	now := k.now()
	forgotten := now.AddDate(0, 0, -days)
	consultations, quotes, err := k.store.EraseUnused(ctx, forgotten, now.AddDate(-years, 0, 0), now)
	if err == nil && consultations+quotes > 0 {
		k.log.Info("erased what was not used any more", "consultations", consultations, "accepted quotes", quotes)
	}
	photos, unphotoed := k.store.DropSourcePhotos(ctx, now)
	if photos > 0 {
		k.log.Info("deleted photos that no source names", "photos", photos)
	}
	return errors.Join(err, unphotoed, k.backUp(ctx, now, forgotten))
}

// backUp makes the backup of a day where there is none that was proven, and
// then deletes those that are too many or hold what was forgotten since.
func (k *keeper) backUp(ctx context.Context, now, forgotten time.Time) error {
	if k.to == "" {
		return k.ageCopies(forgotten)
	}
	today := now.Format(time.DateOnly)
	file := filepath.Join(k.to, backupPrefix+today+backupSuffix)
	proven, err := k.store.ProvenBackup(ctx)
	if err != nil {
		return err
	}
	if _, err := os.Stat(file); err == nil && proven.At.In(now.Location()).Format(time.DateOnly) == today {
		return nil
	}
	if err := k.make(ctx, file); err != nil {
		return fmt.Errorf("no backup was made today: %w", err)
	}
	if err := k.store.NoteProvenBackup(ctx, store.ProvenBackup{At: now, File: file}); err != nil {
		return err
	}
	return errors.Join(k.ageBackups(forgotten), k.ageCopies(forgotten))
}

// make writes a backup under a name that says so until it is proven.
func (k *keeper) make(ctx context.Context, file string) error {
	if err := os.MkdirAll(k.to, 0o700); err != nil {
		return err
	}
	if err := roomFor(filepath.Join(k.data, store.FileName), k.to); err != nil {
		return err
	}
	if err := os.Remove(file + unproven); err != nil && !errors.Is(err, fs.ErrNotExist) {
		return err
	}
	holds, err := k.store.Backup(ctx, file+unproven)
	if err != nil {
		return err
	}
	if err := os.Rename(file+unproven, file); err != nil {
		return err
	}
	k.log.Debug("backup proven", "file", file, "holds", holds.String())
	return nil
}

// roomFor makes sure that a backup leaves the store as much room as it has
// taken so far. Where the system does not say how much there is, there may be
// enough.
func roomFor(path, to string) error {
	var size int64
	for _, name := range [...]string{path, path + "-wal"} {
		info, err := os.Stat(name)
		if err != nil {
			return err
		}
		size += info.Size()
	}
	if free, known := freeSpace(to); known && free < 2*size {
		return fmt.Errorf("there is too little room in %s: %d MB, and %d MB are needed", to, free>>20, 2*size>>20+1)
	}
	return nil
}

// ageBackups deletes the daily backups that are more than are kept, those from
// before a time, and what a program that was killed has left of others; nothing
// else in their folder.
func (k *keeper) ageBackups(before time.Time) error {
	entries, err := os.ReadDir(k.to) // in the order of their names, which is that of their days
	if err != nil {
		return err
	}
	var days []time.Time
	for _, e := range entries {
		day, named := strings.CutPrefix(e.Name(), backupPrefix)
		day, left := strings.CutSuffix(day, unproven)
		day, whole := strings.CutSuffix(day, backupSuffix)
		at, err := time.ParseInLocation(time.DateOnly, day, before.Location())
		switch {
		case !named || !whole || err != nil:
		case left:
			if err := os.Remove(filepath.Join(k.to, e.Name())); err != nil {
				return err
			}
		default:
			days = append(days, at)
		}
	}
	for i, day := range days[:max(0, len(days)-1)] {
		if i >= len(days)-k.most && !day.Before(before) {
			continue
		}
		if err := os.Remove(filepath.Join(k.to, backupPrefix+day.Format(time.DateOnly)+backupSuffix)); err != nil {
			return err
		}
	}
	return nil
}

// ageCopies deletes the copies that a restore or an upgrade has left beside the
// store, whole or not, where they are from before a time.
func (k *keeper) ageCopies(before time.Time) error {
	entries, err := os.ReadDir(k.data)
	if err != nil {
		return err
	}
	for _, e := range entries {
		info, err := e.Info()
		if err != nil || !store.IsCopy(e.Name()) || !info.ModTime().Before(before) {
			continue // one that has gone meanwhile is as good as deleted
		}
		if err := os.Remove(filepath.Join(k.data, e.Name())); err != nil {
			return err
		}
	}
	return nil
}
