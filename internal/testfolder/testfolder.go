// Package testfolder is for tests only: it hands out copies of a folder that
// takes long to make, such as one with a migrated store. The folder is made
// once in a run, and every test has a copy to itself.
package testfolder

import (
	"errors"
	"os"
	"path/filepath"
	"sync"
	"testing"
)

// Once is a folder of plain files. Make fills it, when the first test asks.
type Once struct {
	Make  func(dir string) error
	once  sync.Once
	files map[string][]byte
	err   error
}

// New returns a copy in a folder that goes with the test.
func (o *Once) New(t testing.TB) (dir string) {
	t.Helper()
	dir = t.TempDir()
	o.Fill(t, dir)
	return dir
}

// Fill puts a copy into a folder. Its files are for their owner alone.
func (o *Once) Fill(t testing.TB, dir string) {
	t.Helper()
	o.once.Do(func() { o.files, o.err = made(o.Make) })
	if o.err != nil {
		t.Fatal(o.err)
	}
	for name, data := range o.files {
		if err := os.WriteFile(filepath.Join(dir, name), data, 0o600); err != nil {
			t.Fatal(err)
		}
	}
}

// made returns the files that make leaves in a folder, which is gone then.
func made(make func(dir string) error) (files map[string][]byte, err error) {
	dir, err := os.MkdirTemp("", "kinwain-once-")
	if err != nil {
		return nil, err
	}
	defer func() { err = errors.Join(err, os.RemoveAll(dir)) }()
	if err := make(dir); err != nil {
		return nil, err
	}
	entries, err := os.ReadDir(dir)
	files = map[string][]byte{}
	for _, e := range entries {
		data, err := os.ReadFile(filepath.Join(dir, e.Name()))
		if err != nil {
			return nil, err
		}
		files[e.Name()] = data
	}
	return files, err
}
