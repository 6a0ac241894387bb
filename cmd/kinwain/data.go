package main

import (
	"bufio"
	"context"
	"errors"
	"fmt"
	"path/filepath"
	"strings"
	"time"

	"kinwain/internal/store"
)

// backupCommand copies the store and says what the copy holds, as counted in
// the copy.
func backupCommand(ctx context.Context, p *program, args []string) (err error) {
	f := p.flags("backup")
	data := dataFlag(f)
	if err := p.parse(f, args, 1, 1); err != nil {
		return err
	}
	s, err := store.OpenExisting(ctx, *data)
	if err != nil {
		return err
	}
	defer func() { err = errors.Join(err, s.Close()) }()
	holds, err := s.Backup(ctx, f.Arg(0))
	if err != nil {
		return err
	}
	if _, err := fmt.Fprintf(p.out, "%s is whole and holds %s.\n", f.Arg(0), holds); err != nil {
		return err
	}
	file, err := filepath.Abs(f.Arg(0))
	if err == nil {
		err = s.NoteProvenBackup(ctx, store.ProvenBackup{At: time.Now(), File: file})
	}
	if err != nil { // it is no worse a backup for that
		fmt.Fprintln(p.err, "The start page will not know of it:", err)
	}
	return nil
}

// restoreCommand puts a backup in place of the store. Where much would be
// lost by that, it asks.
func restoreCommand(ctx context.Context, p *program, args []string) error {
	f := p.flags("restore")
	data := dataFlag(f)
	yes := f.Bool("yes", false, "do not ask where the backup holds much less than what stands")
	if err := p.parse(f, args, 1, 1); err != nil {
		return err
	}
	holds, err := store.Verify(ctx, f.Arg(0))
	if err != nil {
		return err
	}
	stands, err := store.Standing(ctx, *data)
	if err != nil && store.CodeOf(err) != store.Corrupt && store.CodeOf(err) != store.NewerVersion {
		return err // what cannot be counted is what a backup is for
	}
	if holds.MuchLess(stands) && !*yes {
		lost := fmt.Sprintf("%s holds much less (%s) than what stands in %s (%s)", f.Arg(0), holds, *data, stands)
		if !p.agreed(lost) {
			return fmt.Errorf("%s, so nothing was restored; say -yes to restore it all the same", lost)
		}
	}
	if err := store.Restore(ctx, f.Arg(0), *data); err != nil {
		return err
	}
	_, err = fmt.Fprintf(p.out, "Restored: %s.\n", holds)
	return err
}

// agreed asks whoever sits at the terminal. Where nobody does, the answer is
// no.
func (p *program) agreed(question string) bool {
	if p.in == nil {
		return false
	}
	fmt.Fprintf(p.err, "%s.\nRestore it all the same? Type yes: ", question)
	answer, err := bufio.NewReader(p.in).ReadString('\n')
	return err == nil && strings.EqualFold(strings.TrimSpace(answer), "yes")
}
