package store

import (
	"context"
	"errors"
	"io/fs"
	"os"
	"path/filepath"
)

// earlyName is the name that a store had before the program had its own.
const earlyName = "kinhaul.db"

// takeOver gives a store under the early name its own, where the folder has no
// other. All of it is moved into its one file first, which fails with InUse
// while an earlier program has it open.
func takeOver(ctx context.Context, dir string) error {
	early, path := filepath.Join(dir, earlyName), filepath.Join(dir, FileName)
	if _, err := os.Stat(early); errors.Is(err, fs.ErrNotExist) {
		return nil
	}
	if _, err := os.Stat(path); !errors.Is(err, fs.ErrNotExist) {
		return nil
	}
	if _, err := inspect(ctx, early); err != nil {
		return err
	}
	if err := release(ctx, early); err != nil {
		return fault(dir, "take the store over", err)
	}
	if err := os.Rename(early, path); err != nil {
		return unwritable(dir, err)
	}
	return syncFolder(dir)
}
