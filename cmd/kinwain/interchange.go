package main

import (
	"cmp"
	"context"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"runtime/debug"
	"slices"
	"strings"
	"time"

	"kinwain/internal/catalog"
	"kinwain/internal/catalog/sheet"
	"kinwain/internal/store"
)

// importCommand replaces the store's catalogue by that of the files, whole or
// not at all, or says what that would change.
func importCommand(ctx context.Context, p *program, args []string) (err error) {
	f := p.flags("import")
	dry := f.Bool("dry-run", false, "only say what would change")
	data := dataFlag(f)
	if err := p.parse(f, args, 1, len(args)); err != nil {
		return err
	}
	// What was read of a row is garbage a row later: it may take some time, and
	// not as much memory again as all that is kept.
	defer debug.SetGCPercent(debug.SetGCPercent(tidy))
	files, err := p.operands(f.Args())
	if err != nil {
		return err
	}
	name := strings.Join(f.Args(), " ")
	if !store.Exists(*data) {
		c, _, err := sheet.ReadAny(files, nil)
		if err != nil { // no store is made for what cannot be stored
			return inFile(name, err)
		}
		if *dry {
			return p.differences(&catalog.Catalogue{}, c)
		}
	}
	s, err := store.Open(ctx, *data)
	if err != nil {
		return err
	}
	defer func() { err = errors.Join(err, s.Close()) }()
	current, revision, err := s.CatalogueAt(ctx)
	if err != nil {
		return err
	}
	c, kept, err := sheet.ReadAny(files, current)
	if err != nil {
		return inFile(name, err)
	}
	if len(kept) > 0 {
		fmt.Fprintf(p.err, "No file is given for %s; what the catalogue has there stays.\n", strings.Join(kept, ", "))
	}
	if err := p.photosMissing(ctx, s, current, c); err != nil {
		return err
	}
	if *dry {
		return p.differences(current, c)
	}
	if err := s.ReplaceCatalogueAt(ctx, revision, c, store.Author{Who: "kinwain import", How: store.ByImport, At: time.Now()}); err != nil {
		return err
	}
	fmt.Fprintf(p.err, "%d frames, %d add-ons and %d units imported.\n", len(c.Frames), len(c.AddOns), len(c.Units))
	return nil
}

// photosMissing says how many sources that an import brings name a photo which
// stayed where it was taken.
func (p *program) photosMissing(ctx context.Context, s *store.Store, current, c *catalog.Catalogue) error {
	missing, err := s.PhotosNotHere(ctx, c)
	known := current.Pictured()
	missing = slices.DeleteFunc(missing, func(m catalog.Pictured) bool { return slices.Contains(known, m) })
	if n := len(missing); n > 0 {
		first := missing[0]
		fmt.Fprintf(p.err, "Sources that name a photo which is not here: %d, such as that of %s %s %s. Photos stay in the shop that took them.\n", n, first.List, first.Code, first.Figure)
	}
	return err
}

// tidy is how much garbage an import may leave, in per cent of what it keeps.
const tidy = 30

// operands reads what is to be imported: one JSON document, one workbook, one
// zip archive, one folder of CSV files, or CSV files.
func (p *program) operands(names []string) ([]sheet.File, error) {
	if info, err := os.Stat(names[0]); len(names) == 1 && err == nil && info.IsDir() {
		return folder(names[0])
	}
	var files []sheet.File
	for _, name := range names {
		if len(names) > 1 && !strings.EqualFold(filepath.Ext(name), ".csv") {
			fmt.Fprintf(p.err, "kinwain: %s is no CSV file; import one JSON document, one workbook, one zip archive, one folder, or several CSV files\n", name)
			return nil, errUsage
		}
		data, err := readBounded(name)
		if err != nil {
			return nil, err
		}
		files = append(files, sheet.File{Name: name, Data: data})
	}
	return files, nil
}

// folder reads the CSV files of a folder.
func folder(dir string) ([]sheet.File, error) {
	entries, err := os.ReadDir(dir)
	if err != nil {
		return nil, err
	}
	var files []sheet.File
	for _, entry := range entries {
		if !sheet.Holds(entry.Name()) {
			continue
		}
		data, err := readBounded(filepath.Join(dir, entry.Name()))
		if err != nil {
			return nil, err
		}
		files = append(files, sheet.File{Name: entry.Name(), Data: data})
	}
	if len(files) == 0 {
		return nil, fmt.Errorf("there is no CSV file in the folder %s", dir)
	}
	return files, nil
}

// readBounded reads a file that is no larger than any catalogue.
func readBounded(name string) ([]byte, error) {
	info, err := os.Stat(name)
	if err == nil && info.Size() > sheet.MaxBytes {
		err = fmt.Errorf("%s has more than %d MB; no catalogue does", name, sheet.MaxBytes>>20)
	}
	if err != nil {
		return nil, err
	}
	return os.ReadFile(name)
}

// differences prints what an import would change, one difference a line.
func (p *program) differences(old, new *catalog.Catalogue) error {
	changes, err := catalog.Compare(old, new)
	if err != nil {
		return err
	}
	is := new.Shop.Currency
	was := cmp.Or(old.Shop.Currency, is)
	for _, line := range lookFirst(changes, was, is) {
		if _, err := fmt.Fprintln(p.out, line); err != nil {
			return err
		}
	}
	counts := map[catalog.Kind]int{}
	for _, c := range changes {
		counts[c.Kind()]++
		line := strings.Join(strings.Fields(fmt.Sprint(c.Kind(), " ", c.List, " ", c.Code, " ", c.Field)), " ")
		if !c.Whole() {
			line += fmt.Sprintf(": %s → %s", c.Shown(c.Old, was), c.Shown(c.New, is))
		}
		if _, err := fmt.Fprintln(p.out, line); err != nil {
			return err
		}
	}
	fmt.Fprintf(p.err, "Dry run: %d added, %d removed, %d changed, %d lists in another order. Nothing was imported.\n",
		counts[catalog.Added], counts[catalog.Removed], counts[catalog.Changed], counts[catalog.Moved])
	return nil
}

// lookFirst names what goes of ratings, limits and needs, figures that change by
// far, and those of which the source goes.
func lookFirst(changes []catalog.Change, was, is string) []string {
	var lost, far, sources []string
	for _, c := range changes {
		for _, l := range c.Losses() {
			lost = append(lost, fmt.Sprintf("LOST %s %s %s: %s", c.List, c.Code, l.Path, l.Field.Shown(l.Old, was)))
		}
		if _, leaps := c.Leap(); leaps {
			far = append(far, fmt.Sprintf("LOOK AT %s %s %s: %s → %s", c.List, c.Code, c.Field, c.Shown(c.Old, was), c.Shown(c.New, is)))
		}
		if figure := c.Evidence(); figure != "" && c.New == "" {
			sources = append(sources, fmt.Sprintf("SOURCE GOES %s %s %s: %s", c.List, c.Code, figure, c.Shown(c.Old, was)))
		}
	}
	return slices.Concat(lost, far, sources)
}

// exportCommand writes the store's catalogue as a document, as CSV files, or as
// a workbook.
func exportCommand(ctx context.Context, p *program, args []string) (err error) {
	f := p.flags("export")
	format := f.String("format", "json", "the format, `json|csv|xlsx`: json, on standard output; csv, into a new folder or zip archive; xlsx, into a new file")
	data := dataFlag(f)
	if err := p.parse(f, args, 0, 1); err != nil {
		return err
	}
	switch {
	case *format != "json" && *format != "csv" && *format != "xlsx":
		fmt.Fprintf(p.err, "kinwain: the format %q is not written here; json, csv and xlsx are\n", *format)
		return errUsage
	case (*format != "json") != (f.NArg() == 1):
		f.Usage()
		return errUsage
	}
	s, err := store.OpenExisting(ctx, *data)
	if err != nil {
		return err
	}
	defer func() { err = errors.Join(err, s.Close()) }()
	c, err := s.Catalogue(ctx)
	if err != nil {
		return err
	}
	switch *format {
	case "csv":
		return writeSheets(sheet.Write(c), f.Arg(0))
	case "xlsx":
		workbook, err := sheet.Workbook(c)
		if err != nil {
			return err
		}
		return writeNew(f.Arg(0), workbook)
	}
	document, err := c.Document()
	if err != nil {
		return err
	}
	_, err = p.out.Write(append(document, '\n'))
	return err
}

// writeSheets writes the files into a new or empty folder, or a new archive.
// Nothing is overwritten.
func writeSheets(files []sheet.File, to string) error {
	if strings.EqualFold(filepath.Ext(to), ".zip") {
		packed, err := sheet.Zip(files)
		if err != nil {
			return err
		}
		return writeNew(to, packed)
	}
	if err := os.MkdirAll(to, 0o777); err != nil {
		return err
	}
	entries, err := os.ReadDir(to)
	if err != nil {
		return err
	}
	if len(entries) > 0 {
		return fmt.Errorf("the folder %s is not empty; name a new one", to)
	}
	for _, file := range files {
		if err := writeNew(filepath.Join(to, file.Name), file.Data); err != nil {
			return err
		}
	}
	return nil
}

func writeNew(name string, data []byte) (err error) {
	f, err := os.OpenFile(name, os.O_CREATE|os.O_EXCL|os.O_WRONLY, 0o666)
	if errors.Is(err, fs.ErrExist) {
		return fmt.Errorf("there is a file %s already; name a new one", name)
	}
	if err != nil {
		return err
	}
	defer func() { err = errors.Join(err, f.Close()) }()
	_, err = f.Write(data)
	return err
}
