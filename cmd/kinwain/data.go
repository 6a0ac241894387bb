package main

import (
	"context"
	"errors"

	"kinwain/internal/store"
)

func backupCommand(ctx context.Context, p *program, args []string) (err error) {
	f := p.flags("backup", "FILE")
	data := dataFlag(f)
	if err := parse(f, args, 1, 1); err != nil {
		return err
	}
	s, err := store.Open(ctx, *data)
	if err != nil {
		return err
	}
	defer func() { err = errors.Join(err, s.Close()) }()
	return s.Backup(ctx, f.Arg(0))
}

func restoreCommand(ctx context.Context, p *program, args []string) error {
	f := p.flags("restore", "FILE")
	data := dataFlag(f)
	if err := parse(f, args, 1, 1); err != nil {
		return err
	}
	return store.Restore(ctx, f.Arg(0), *data)
}
