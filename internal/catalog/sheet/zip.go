package sheet

import (
	"archive/zip"
	"bytes"
	"fmt"
	"io"
	"strings"

	"kinwain/internal/problem"
)

// maxUnzipped bounds what an archive may unfold to, in bytes, all its files
// together: some hundred thousand rows.
const maxUnzipped = 64 << 20

// maxFiles bounds the files of an archive, those that are not read included.
const maxFiles = 1000

// Zip packs files into one archive. The same files always give the same
// bytes.
func Zip(files []File) ([]byte, error) {
	var b bytes.Buffer
	w := zip.NewWriter(&b)
	for _, f := range files {
		entry, err := w.Create(f.Name)
		if err != nil {
			return nil, fmt.Errorf("pack %s: %w", f.Name, err)
		}
		if _, err := entry.Write(f.Data); err != nil {
			return nil, fmt.Errorf("pack %s: %w", f.Name, err)
		}
	}
	if err := w.Close(); err != nil {
		return nil, fmt.Errorf("pack the tables: %w", err)
	}
	return b.Bytes(), nil
}

// Unzip returns the CSV files of an archive, in whatever folder of it they
// are. The error is a problem.List.
func Unzip(data []byte) ([]File, error) {
	entries, err := entriesOf(data)
	if err != nil {
		return nil, err
	}
	var files []File
	left := int64(maxUnzipped)
	for _, entry := range entries {
		f := File{Name: entry.Name}
		if f.Data, err = unpack(entry, left); err != nil {
			return nil, problem.List{{Path: entry.Name, Code: problem.Syntax, Text: err.Error()}}
		}
		left -= int64(len(f.Data))
		files = append(files, f)
	}
	return files, nil
}

// archived returns the tables of an archive, of which one is unpacked at a
// time, when it is read.
func archived(data []byte) ([]source, error) {
	entries, err := entriesOf(data)
	if err != nil {
		return nil, err
	}
	var sources []source
	left := int64(maxUnzipped)
	for _, entry := range entries {
		sources = append(sources, sourceOf(entry.Name, func(known []field) (rows, error) {
			text, err := unpack(entry, left)
			if err != nil {
				return nil, &formError{1, err.Error()}
			}
			left -= int64(len(text))
			return openGrid(text, namesOf(known))
		}))
	}
	return sources, nil
}

// entriesOf returns the CSV files of an archive that says it does not unfold to
// too much. What it says is held against what it does when it is unpacked.
func entriesOf(data []byte) ([]*zip.File, error) {
	archive, err := zip.NewReader(bytes.NewReader(data), int64(len(data)))
	if err != nil {
		return nil, problem.List{{Code: problem.Syntax, Text: "this is not a zip archive, or it arrived damaged"}}
	}
	if len(archive.File) > maxFiles {
		return nil, problem.List{{Code: problem.TooMany, Text: fmt.Sprintf("there are more than %d files in this archive; a catalogue has one for each table", maxFiles)}}
	}
	var entries []*zip.File
	var all uint64
	for _, entry := range archive.File {
		if !Holds(entry.Name) {
			continue
		}
		if all += entry.UncompressedSize64; all > maxUnzipped {
			return nil, problem.List{{Path: entry.Name, Code: problem.Syntax, Text: errTooMuch.Error()}}
		}
		entries = append(entries, entry)
	}
	if len(entries) == 0 {
		return nil, problem.List{{Code: problem.Missing, Text: "there is no CSV file in this archive"}}
	}
	return entries, nil
}

var errTooMuch = fmt.Errorf("the archive unfolds to more than %d MB; a catalogue is far smaller", maxUnzipped>>20)

// unpack reads one file of an archive, of at most so many bytes.
func unpack(entry *zip.File, most int64) ([]byte, error) {
	r, err := entry.Open()
	if err != nil {
		return nil, fmt.Errorf("this file cannot be unpacked: %w", err)
	}
	defer func() { _ = r.Close() }()                          // what was read is whole or the read has failed
	said := int64(min(entry.UncompressedSize64, maxUnzipped)) // or else the buffer is copied while it grows
	data := bytes.NewBuffer(make([]byte, 0, said+bytes.MinRead))
	if _, err := data.ReadFrom(io.LimitReader(r, most+1)); err != nil {
		return nil, fmt.Errorf("this file cannot be unpacked: %w", err)
	}
	if int64(data.Len()) > most {
		return nil, errTooMuch
	}
	return data.Bytes(), nil
}

// Holds reports whether a file of a folder or an archive is one to read: a CSV
// file, and not one that an operating system hides beside it.
func Holds(name string) bool {
	return isTable(name) && !strings.HasPrefix(baseOf(name), ".") && !strings.HasPrefix(name, "__MACOSX/")
}
