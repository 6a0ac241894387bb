package main

import (
	"context"
	"errors"
	"fmt"
	"log/slog"
	"os"

	"kinwain/internal/catalog"
	"kinwain/internal/match"
	"kinwain/internal/problem"
	"kinwain/internal/profile"
	"kinwain/internal/store"
)

// matchCommand ranks the frames of a catalogue document, or of the store, for
// a profile document.
func matchCommand(ctx context.Context, p *program, args []string) error {
	f := p.flags("match", "")
	catalogueFile := f.String("catalogue", "", "a catalogue document; the store's own where empty")
	profileFile := f.String("profile", "", "a profile document")
	patience := f.Duration("patience", match.DefaultPatience, "the most time to think about one frame; 0 for as long as it takes")
	data := dataFlag(f)
	if err := parse(f, args, 0, 0); err != nil {
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
	c, settings, err := shop(ctx, *catalogueFile, *data)
	if err != nil {
		return err
	}
	log := slog.New(slog.NewTextHandler(p.err, nil))
	settings.Patience = *patience
	ctx = match.Reporting(ctx, func(f *match.Fault) { log.Error("frame not judged", "error", f, "inputs", f.Inputs()) })
	ranked, err := match.Rank(ctx, c, customer, settings, match.Options{Changes: true})
	if err != nil {
		return err
	}
	document, err := match.Document(ranked)
	if err != nil {
		return err
	}
	_, err = p.out.Write(append(document, '\n'))
	return err
}

// shop returns the catalogue of a file with the default settings, or the
// store's own catalogue and settings.
func shop(ctx context.Context, file, data string) (c *catalog.Catalogue, _ match.Settings, err error) {
	if file != "" {
		c, err = readFile(file, catalog.Parse)
		return c, match.DefaultSettings(), err
	}
	s, err := openStore(ctx, data)
	if err != nil {
		return nil, match.Settings{}, err
	}
	defer func() { err = errors.Join(err, s.Close()) }()
	return storeShop(ctx, s)
}

func storeShop(ctx context.Context, s *store.Store) (*catalog.Catalogue, match.Settings, error) {
	c, err := s.Catalogue(ctx)
	if err != nil {
		return nil, match.Settings{}, err
	}
	retired, err := s.Retired(ctx)
	if err != nil {
		return nil, match.Settings{}, err
	}
	if len(retired) > 0 {
		c = c.Without(func(list, code string) bool { return retired[store.Thing{List: list, Code: code}] })
	}
	figures, err := s.Settings(ctx)
	return c, match.SettingsOf(figures), err
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
