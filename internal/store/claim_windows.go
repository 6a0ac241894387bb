package store

import (
	"errors"
	"io"
	"os"
	"path/filepath"
	"syscall"
)

// From the headers of Windows; package syscall lacks them.
const (
	deleteOnClose    = 0x04000000          // FILE_FLAG_DELETE_ON_CLOSE
	sharingViolation = syscall.Errno(0x20) // ERROR_SHARING_VIOLATION
	forDeletion      = uint32(0x00010000)  // DELETE
)

// claimFolder takes a folder for this program alone, by a file that nobody
// else can open and that goes when it is closed or the program ends.
func claimFolder(dir string) (io.Closer, error) {
	path := filepath.Join(dir, "kinwain.claim")
	name, err := syscall.UTF16PtrFromString(path)
	if err != nil {
		return nil, unwritable(dir, err)
	}
	handle, err := syscall.CreateFile(name, syscall.GENERIC_WRITE|forDeletion, 0, nil, syscall.OPEN_ALWAYS, deleteOnClose, 0)
	if errors.Is(err, sharingViolation) {
		return nil, claimed(dir)
	}
	if err != nil {
		return nil, unwritable(dir, err)
	}
	return os.NewFile(uintptr(handle), path), nil
}
