package store

import (
	"context"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
)

// openFile is a file as it was when the store was opened.
type openFile struct {
	path string
	info fs.FileInfo
}

// noteFiles remembers which files the connections have open. The log is there
// as long as they are.
func (s *Store) noteFiles() error {
	path, err := filepath.Abs(filepath.Join(s.dir, FileName))
	if err != nil {
		return err
	}
	for _, path := range [...]string{path, path + "-wal"} {
		info, err := os.Stat(path)
		if err != nil {
			return unwritable(s.dir, err)
		}
		s.files = append(s.files, openFile{path, info})
	}
	return nil
}

// inPlace makes sure that the files which the connections have open are those
// in the folder. A file that was removed or replaced can be written for as long
// as it is open, and all of that is lost with it.
func (s *Store) inPlace() error {
	for _, f := range s.files {
		info, err := os.Stat(f.path)
		if err != nil && !errors.Is(err, fs.ErrNotExist) {
			return unwritable(s.dir, err)
		}
		if err != nil || !os.SameFile(f.info, info) {
			return &Error{Code: Gone, Text: fmt.Sprintf(
				"%s was removed or replaced while Kinwain was running, so nothing can be kept; stop Kinwain and restore a backup", f.path)}
		}
	}
	return nil
}

// noteWrite remembers whether the last change that had to be written was.
func (s *Store) noteWrite(err error) {
	switch CodeOf(err) {
	case Unwritable, Full, Gone, Corrupt:
		s.failed.Store(&err)
	case "":
		if err == nil {
			s.failed.Store(nil)
		}
	}
}

// Ping makes sure that the store can be read, that it is still where it was
// opened, and that what had to be written last could be.
func (s *Store) Ping(ctx context.Context) error {
	var revision int64
	if err := s.prepared.revision.QueryRowContext(ctx).Scan(&revision); err != nil {
		return fault(s.dir, "read the store", err)
	}
	if err := s.inPlace(); err != nil {
		return err
	}
	if failed := s.failed.Load(); failed != nil {
		return fmt.Errorf("the last change was not kept: %w", *failed)
	}
	return nil
}
