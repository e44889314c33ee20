//go:build !unix

package main

// peakMemory is not told by this system.
func peakMemory(any) int { return 0 }
