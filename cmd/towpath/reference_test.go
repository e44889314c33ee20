package main

import (
	"bytes"
	"os"
	"path/filepath"
	"testing"

	"towpath/internal/spec"
)

// TestReference holds schemas/README.md to what `towpath reference` prints.
func TestReference(t *testing.T) {
	path := filepath.Join("..", "..", "schemas", "README.md")
	got := referenceText()
	if *update {
		if err := os.WriteFile(path, got, 0o644); err != nil {
			t.Fatal(err)
		}
		return
	}
	want, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	if !bytes.Equal(got, want) {
		t.Error("schemas/README.md differs from what `towpath reference` prints; run this test with -update")
	}
}

// Every name of the language stands in the reference, with a meaning and an example.
func TestReferenceIsWhole(t *testing.T) {
	text := referenceText()
	var walk func(b *spec.BlockType, depth int)
	walk = func(b *spec.BlockType, depth int) {
		for _, n := range b.Names {
			if n.Doc == "" || n.Example == "" || !bytes.Contains(text, []byte("| `"+n.Name+"` |")) {
				t.Errorf("%s in %s lacks a meaning or an example, or does not stand in the reference", n.Name, b.Kind)
			}
			if what := n.Type.Describe(); what == "" {
				t.Errorf("nothing says what stands behind %s in %s", n.Name, b.Kind)
			}
		}
		for _, inner := range b.Blocks {
			if depth < 4 {
				walk(inner, depth+1)
			}
		}
	}
	walk(spec.Language(), 0)
}
