//go:build !race

package compile_test

// slower is how much longer the race detector may take.
const slower = 1
