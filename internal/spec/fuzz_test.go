package spec

import (
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
	"github.com/hashicorp/hcl/v2"

	"towpath/internal/syntax"
)

// FuzzDecode feeds texts that syntax lets pass: decoding never fails, every place lies inside its
// file, and a second decoding says the same.
func FuzzDecode(f *testing.F) {
	for _, name := range cases(f) {
		f.Add(string(readFile(f, name)))
	}
	f.Add("athlete \"a\" {\n  mass = \"61 \u0065\u0301\"\n}\n")
	f.Add("\ufefflanguage = 1\r\nid = \"\\u00e9\\n\"\r\n")
	// A small library: most of the time goes into the text that varies.
	stub := parse("library/sessions.hcl", []byte(`session "steady" {
  step "work" {
    duration = "fill"
    position = "33-67 %"
  }
}
protocol "lactate_step" {
  demand = "maximal"
  step "work" {
    duration = "10 min"
  }
}
`))
	stub.Library = true
	library := []*syntax.File{stub}
	f.Fuzz(func(t *testing.T, src string) {
		file, _ := syntax.Parse("case.hcl", []byte(src))
		in := Input{Files: append(append([]*syntax.File{}, library...), file)}
		s, diags := Decode(in)
		checkPlaces(t, in, diags)
		if _, again := Decode(in); !cmp.Equal(diags, again) {
			t.Errorf("two decodings differ:\n%s", cmp.Diff(diags, again))
		}
		if !s.Broken && diags.HasErrors() {
			t.Error("errors were found, and the specification does not say that it is broken")
		}
	})
}

// FuzzWithin compares the place of a part of a text with what stands there.
func FuzzWithin(f *testing.F) {
	f.Add("61 stone", 3, 5)
	f.Add("Ñandú \"x\"\n${y} %{z}", 1, 4)
	f.Add("a\\b", 1, 1)
	f.Fuzz(func(t *testing.T, said string, offset, length int) {
		src := []byte(quoted(said))
		at := within(hcl.Range{Filename: "x", Start: hcl.InitialPos, End: advance(hcl.InitialPos, src)}, src, said, offset, length)
		if at.Start.Byte < 0 || at.End.Byte > len(src) || at.Start.Byte > at.End.Byte {
			t.Fatalf("%v lies outside of %q", at, src)
		}
		if strings.ContainsAny(said, "\"\\\n\r\t$%") || offset < 0 || length < 1 || offset > len(said) || length > len(said)-offset {
			return
		}
		if got, want := string(src[at.Start.Byte:at.End.Byte]), said[offset:offset+length]; !strings.Contains(got, want) && strings.ToValidUTF8(said, "") == said && strings.ToValidUTF8(want, "") == want {
			t.Errorf("part %d+%d of %q: got %q, want %q", offset, length, said, got, want)
		}
	})
}

// BenchmarkDecode decodes the library and a plan of usual size; BenchmarkParse shows what parsing
// the same bytes takes.
func BenchmarkDecode(b *testing.B) {
	files := append(libraryFiles(b), parse("base.hcl", readFile(b, goldens+"/base.hcl")), parse("case.hcl", readFile(b, goldens+"/ok/all_of_a_block.hcl")))
	b.ReportAllocs()
	for b.Loop() {
		if _, diags := Decode(Input{Files: files}); diags.HasErrors() {
			b.Fatal(diags)
		}
	}
}

func BenchmarkParse(b *testing.B) {
	files := append(libraryFiles(b), parse("base.hcl", readFile(b, goldens+"/base.hcl")), parse("case.hcl", readFile(b, goldens+"/ok/all_of_a_block.hcl")))
	b.ReportAllocs()
	for b.Loop() {
		for _, f := range files {
			parse(f.Name, f.Bytes)
		}
	}
}
