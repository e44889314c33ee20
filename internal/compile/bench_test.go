package compile_test

import (
	"os"
	"path/filepath"
	"testing"

	"github.com/hashicorp/hcl/v2/hclparse"

	"towpath/internal/compile"
	"towpath/internal/source"
	"towpath/internal/spec"
	library "towpath/plans/library"
)

// The demo plan, with the library, is what the benchmarks work on.
const demo = "plans/audax"

func root() string { return filepath.Join("..", "..") }

// BenchmarkParser is the yardstick: the same bytes through HCL's own parser, nothing decoded.
func BenchmarkParser(b *testing.B) {
	set, diags := source.Load(os.DirFS(root()), demo, library.FS)
	if diags.HasErrors() {
		b.Fatal(diags)
	}
	bytes := 0
	for _, f := range set.Files {
		bytes += len(f.Bytes)
	}
	b.SetBytes(int64(bytes))
	for b.Loop() {
		p := hclparse.NewParser()
		for _, f := range set.Files {
			if _, diags := p.ParseHCL(f.Bytes, f.Name); diags.HasErrors() {
				b.Fatal(diags)
			}
		}
	}
}

// BenchmarkFrontEnd reads, guards, parses and decodes the same bytes.
func BenchmarkFrontEnd(b *testing.B) {
	fsys := os.DirFS(root())
	for b.Loop() {
		set, diags := source.Load(fsys, demo, library.FS)
		s, more := spec.Decode(spec.Input{Files: set.Files, ReadData: set.ReadData})
		if diags.HasErrors() || more.HasErrors() || len(s.Blocks) == 0 {
			b.Fatal(diags, more)
		}
	}
}

// BenchmarkCompile runs every stage on the demo plan.
func BenchmarkCompile(b *testing.B) {
	fsys := os.DirFS(root())
	for b.Loop() {
		res := compile.Compile(compile.Input{FS: fsys, Dir: demo, Library: library.FS})
		if res.Findings.HasErrors() {
			b.Fatal(res.Findings)
		}
	}
}
