package main

import (
	"context"
	"errors"
	"fmt"
	"log/slog"
	"os"
	"time"

	"kinwain/internal/advice"
	"kinwain/internal/catalog"
	"kinwain/internal/match"
	"kinwain/internal/measure"
	"kinwain/internal/problem"
	"kinwain/internal/profile"
	"kinwain/internal/store"
)

// matchCommand ranks the frames of a catalogue document, or of the store, for
// a profile document.
func matchCommand(ctx context.Context, p *program, args []string) error {
	f := p.flags("match")
	catalogueFile := f.String("catalogue", "", "the `FILE` of a catalogue document; the store's own where empty")
	profileFile := f.String("profile", "", "the `FILE` of a profile document")
	patience := f.Duration("patience", match.DefaultPatience, "the most time to think about one frame; 0 for as long as it takes")
	data := dataFlag(f)
	if err := p.parse(f, args, 0, 0); err != nil {
		return err
	}
	if *profileFile == "" || *patience < 0 {
		fmt.Fprintln(p.err, "kinwain: -profile is needed, and -patience is not negative")
		f.Usage()
		return errUsage
	}
	customer, err := readFile(*profileFile, profile.Parse)
	if err != nil {
		return err
	}
	today, err := shop(ctx, *catalogueFile, *data)
	if err != nil {
		return err
	}
	log := slog.New(slog.NewTextHandler(p.err, nil))
	today.Settings.Patience = *patience
	ctx = match.Reporting(ctx, func(f *match.Fault) { log.Error("frame not judged", "error", f, "inputs", f.Inputs()) })
	document, err := today.Document(ctx, customer)
	if err != nil {
		return err
	}
	_, err = p.out.Write(append(document, '\n'))
	return err
}

// shop returns the shop of a catalogue document with the default settings, or
// the one that is kept, as it is today.
func shop(ctx context.Context, file, data string) (_ *advice.Shop, err error) {
	if file != "" {
		c, err := readFile(file, catalog.Parse)
		return &advice.Shop{Catalogue: c, Settings: match.DefaultSettings()}, err
	}
	s, err := store.OpenExisting(ctx, data)
	if err != nil {
		return nil, err
	}
	defer func() { err = errors.Join(err, s.Close()) }()
	return advice.On(ctx, s, measure.DateOf(time.Now()))
}

// readFile parses a document and names the file before every fault in it.
func readFile[T any](file string, parse func([]byte) (*T, error)) (*T, error) {
	data, err := os.ReadFile(file)
	if err != nil {
		return nil, err
	}
	document, err := parse(data)
	return document, inFile(file, err)
}

// inFile names the file before the faults in it.
func inFile(file string, err error) error {
	var faults problem.List
	switch {
	case errors.As(err, &faults) && len(faults) > 1:
		return fmt.Errorf("%s has %d faults\n%w", file, len(faults), faults)
	case err != nil:
		return fmt.Errorf("%s: %w", file, err)
	}
	return nil
}
