package main

import "syscall"

// freeSpace returns how many bytes can still be written in a folder.
func freeSpace(dir string) (free int64, known bool) {
	var s syscall.Statfs_t
	if err := syscall.Statfs(dir, &s); err != nil {
		return 0, false
	}
	return int64(s.Bavail) * int64(s.Bsize), true
}
