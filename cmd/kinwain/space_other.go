//go:build !linux

package main

// freeSpace is not known here.
func freeSpace(string) (free int64, known bool) { return 0, false }
