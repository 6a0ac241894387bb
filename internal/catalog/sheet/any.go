package sheet

import (
	"bytes"
	"fmt"
	"slices"
	"strings"

	"kinwain/internal/catalog"
	"kinwain/internal/problem"
)

// ReadAny reads a catalogue in whatever form it is given: one JSON document,
// one workbook, one zip archive of CSV files, or CSV files. It returns the names of the
// tables that stay as they are in the current catalogue because no file holds
// them. What the files leave unsaid of where figures come from stays as it is
// there, too: see catalog.Carry. The error is a problem.List.
func ReadAny(files []File, current *catalog.Catalogue) (c *catalog.Catalogue, kept []string, err error) {
	for _, f := range files {
		if len(f.Data) > MaxBytes {
			return nil, nil, problem.List{{Path: f.Name, Code: problem.TooMany, Text: fmt.Sprintf("this file has more than %d MB; no catalogue does", MaxBytes>>20)}}
		}
	}
	if len(files) == 1 && !isTable(files[0].Name) {
		return readOne(files[0], current)
	}
	if i := slices.IndexFunc(files, func(f File) bool { return !isTable(f.Name) }); i >= 0 {
		return nil, nil, problem.List{{Path: files[i].Name, Code: problem.Conflict,
			Text: "give one JSON document, or one workbook, or one zip archive, or CSV files, and nothing else beside"}}
	}
	sources := sourcesOf(files)
	c, err = read(sources, current)
	return c, missing(sources), err
}

// readOne reads a file that is no CSV file.
func readOne(file File, current *catalog.Catalogue) (c *catalog.Catalogue, kept []string, err error) {
	var sources []source
	switch name := strings.ToLower(file.Name); {
	case strings.HasSuffix(name, ".zip"):
		sources, err = archived(file.Data)
	case strings.HasSuffix(name, workbookExtension):
		var end func() error
		if sources, end, err = workbook(file); err == nil {
			defer func() {
				if ended := end(); err == nil { // a list of faults stays one
					err = ended
				}
			}()
		}
	case !strings.HasSuffix(name, ".json") && !bytes.HasPrefix(bytes.TrimSpace(file.Data), []byte("{")):
		return nil, nil, problem.List{{Path: file.Name, Code: problem.Syntax, Text: "this is no workbook (.xlsx), no CSV table, no zip archive and no JSON document"}}
	default:
		c, err = catalog.ParseAfter(current, file.Data)
		return c, nil, err
	}
	if err != nil {
		return nil, nil, err
	}
	c, err = read(sources, current)
	return c, missing(sources), err
}

// MaxBytes bounds one file.
const MaxBytes = 64 << 20

// missing lists the tables of which there is no file.
func missing(sources []source) []string {
	return slices.DeleteFunc(Tables(), func(name string) bool {
		return slices.ContainsFunc(sources, func(s source) bool { return s.table == name })
	})
}
