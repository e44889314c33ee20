//go:build unix

package main

import (
	"runtime"
	"syscall"
)

// peakMemory is the most memory that a process held, in MB.
func peakMemory(usage any) int {
	u, ok := usage.(*syscall.Rusage)
	if !ok {
		return 0
	}
	kib := int(u.Maxrss)
	if runtime.GOOS == "darwin" { // in bytes there
		kib /= 1024
	}
	return kib / 1024
}
