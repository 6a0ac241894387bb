package sheet

import (
	"slices"
	"strings"

	"kinwain/internal/catalog"
	"kinwain/internal/problem"
)

// ReadAny reads a catalogue in whatever form it is given: one JSON document,
// one zip archive of CSV files, or CSV files. It returns the names of the
// tables that stay as they are in the current catalogue because no file holds
// them. The error is a problem.List.
func ReadAny(files []File, current *catalog.Catalogue) (c *catalog.Catalogue, kept []string, err error) {
	table := func(f File) bool { return tableOf(f.Name) != "" }
	if len(files) == 1 && !table(files[0]) {
		if !strings.HasSuffix(strings.ToLower(files[0].Name), ".zip") {
			c, err = catalog.Parse(files[0].Data)
			return c, nil, err
		}
		if files, err = Unzip(files[0].Data); err != nil {
			return nil, nil, err
		}
	}
	if i := slices.IndexFunc(files, func(f File) bool { return !table(f) }); i >= 0 {
		return nil, nil, problem.List{{Path: files[i].Name, Code: problem.Conflict,
			Text: "give one JSON document, or one zip archive, or CSV files, and nothing else beside"}}
	}
	c, err = Read(files, current)
	return c, Kept(files), err
}
