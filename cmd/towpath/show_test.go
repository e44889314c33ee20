package main

import (
	"path/filepath"
	"strconv"
	"strings"
	"testing"

	"towpath/internal/diag"
)

// No line of any plan that we show is wider than the terminal.
func TestShowKeepsToItsWidth(t *testing.T) {
	root, err := filepath.Abs(repository)
	if err != nil {
		t.Fatal(err)
	}
	for _, plan := range []string{"audax", "two-bikes", "roster"} {
		for width := narrowest; width <= 100; width += 8 {
			code, out, said := try(t, "show", filepath.Join(root, "plans", plan), "--width", strconv.Itoa(width))
			if code != 0 {
				t.Fatalf("%s: %s", plan, said)
			}
			for line := range strings.Lines(out) {
				if n := diag.Columns(strings.TrimRight(line, "\n")); n > width {
					t.Errorf("%s at %d columns: a line of %d: %q", plan, width, n, line)
				}
			}
		}
	}
}
