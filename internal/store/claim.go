//go:build !windows

package store

import (
	"errors"
	"io"
	"os"
	"syscall"
)

// claimFolder takes a folder for this program alone. The claim ends when it is
// closed or the program ends, and leaves nothing behind: it is on the folder
// itself, since closing any other handle of the store's file would drop the
// locks that SQLite has on it.
func claimFolder(dir string) (io.Closer, error) {
	f, err := os.Open(dir)
	if err != nil {
		return nil, unwritable(dir, err)
	}
	err = syscall.Flock(int(f.Fd()), syscall.LOCK_EX|syscall.LOCK_NB)
	if errors.Is(err, syscall.EWOULDBLOCK) {
		return nil, errors.Join(claimed(dir), f.Close())
	}
	if err != nil {
		return nil, errors.Join(unwritable(dir, err), f.Close())
	}
	return f, nil
}
