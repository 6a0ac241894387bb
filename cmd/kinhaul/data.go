package main

import (
	"context"
	"errors"
	"fmt"

	"kinhaul/internal/catalog"
	"kinhaul/internal/store"
)

// importCommand replaces the store's catalogue by that of a document, whole
// or not at all.
func importCommand(ctx context.Context, p *program, args []string) (err error) {
	f := p.flags("import", "FILE")
	data := dataFlag(f)
	if err := parse(f, args, 1, 1); err != nil {
		return err
	}
	c, err := readFile(f.Arg(0), catalog.Parse)
	if err != nil {
		return err
	}
	s, err := store.Open(ctx, *data)
	if err != nil {
		return err
	}
	defer func() { err = errors.Join(err, s.Close()) }()
	if err := s.ReplaceCatalogue(ctx, c); err != nil {
		return err
	}
	fmt.Fprintf(p.err, "%d frames, %d add-ons and %d units imported.\n", len(c.Frames), len(c.AddOns), len(c.Units))
	return nil
}

// exportCommand writes the store's catalogue as a document.
func exportCommand(ctx context.Context, p *program, args []string) (err error) {
	f := p.flags("export", "")
	format := f.String("format", "json", "the format: json")
	data := dataFlag(f)
	if err := parse(f, args, 0, 0); err != nil {
		return err
	}
	if *format != "json" {
		fmt.Fprintf(p.err, "kinhaul: the format %q is not written here; json is\n", *format)
		return errUsage
	}
	s, err := openStore(ctx, *data)
	if err != nil {
		return err
	}
	defer func() { err = errors.Join(err, s.Close()) }()
	c, err := s.Catalogue(ctx)
	if err != nil {
		return err
	}
	document, err := c.Document()
	if err != nil {
		return err
	}
	_, err = p.out.Write(append(document, '\n'))
	return err
}

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
