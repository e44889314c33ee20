package spec

import (
	"bytes"
	"flag"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
	"github.com/hashicorp/hcl/v2"
	"github.com/rogpeppe/go-internal/txtar"

	"towpath/internal/diag"
	"towpath/internal/syntax"
)

var update = flag.Bool("update", false, "write the golden files anew")

const (
	goldens = "../../testdata/spec"
	library = "../../plans/library"
)

// parse reads a text as the compiler does.
func parse(name string, src []byte) *syntax.File {
	f, _ := syntax.Parse(name, src)
	return f
}

func libraryFiles(t testing.TB) []*syntax.File {
	t.Helper()
	names, err := filepath.Glob(library + "/*.hcl")
	if err != nil || len(names) == 0 {
		t.Fatalf("no library in %s: %v", library, err)
	}
	var out []*syntax.File
	for _, name := range names {
		f := parse("library/"+filepath.Base(name), readFile(t, name))
		f.Library = true
		out = append(out, f)
	}
	return out
}

func readFile(t testing.TB, name string) []byte {
	t.Helper()
	src, err := os.ReadFile(name)
	if err != nil {
		t.Fatal(err)
	}
	return src
}

// inputOf is the library, the base and one golden case; a txtar archive stands without the base.
func inputOf(t testing.TB, name string) Input {
	t.Helper()
	files := libraryFiles(t)
	data := map[string][]byte{}
	src := readFile(t, name)
	if strings.HasSuffix(name, ".hcl") {
		files = append(files, parse("base.hcl", readFile(t, filepath.Join(goldens, "base.hcl"))), parse("case.hcl", src))
	} else {
		for _, f := range txtar.Parse(src).Files {
			if strings.HasSuffix(f.Name, ".hcl") {
				files = append(files, parse(f.Name, f.Data))
			} else {
				data[f.Name] = f.Data
			}
		}
	}
	return Input{Files: files, ReadData: func(_ *syntax.File, path string) ([]byte, string, error) {
		text, ok := data[path]
		if !ok {
			return nil, path, fs.ErrNotExist
		}
		return text, path, nil
	}}
}

// cases lists the golden cases.
func cases(t testing.TB) []string {
	t.Helper()
	var out []string
	for _, pattern := range []string{"*.hcl", "*.txtar"} {
		names, err := filepath.Glob(filepath.Join(goldens, "[a-z]*", pattern))
		if err != nil {
			t.Fatal(err)
		}
		out = append(out, names...)
	}
	return out
}

func TestGolden(t *testing.T) {
	names := cases(t)
	if len(names) < 45 {
		t.Errorf("there are %d golden cases, at least 45 were expected", len(names))
	}
	for _, name := range names {
		t.Run(filepath.Base(name), func(t *testing.T) {
			in := inputOf(t, name)
			_, diags := Decode(in)
			got := printed(in, diags)
			out := strings.TrimSuffix(name, filepath.Ext(name)) + ".out"
			if *update {
				if err := os.WriteFile(out, []byte(got), 0o644); err != nil {
					t.Fatal(err)
				}
			}
			want, err := os.ReadFile(out)
			if err != nil {
				t.Fatal(err)
			}
			if d := cmp.Diff(string(want), got); d != "" {
				t.Errorf("diagnostics differ (-want +got):\n%s", d)
			}
			checkPlaces(t, in, diags)
			checkFixes(t, in, diags)
		})
	}
}

// printed shows diagnostics with the text that they underline.
func printed(in Input, diags diag.List) string {
	var b strings.Builder
	for _, d := range diags {
		fmt.Fprintf(&b, "%s:%d:%d: %s: %s [%s]\n", d.Subject.Filename, d.Subject.Start.Line, d.Subject.Start.Column, d.Severity, d.Summary, d.Code)
		fmt.Fprintf(&b, "  | %s\n", strings.ReplaceAll(string(cut(in, d.Subject)), "\n", "\n  | "))
		fmt.Fprintf(&b, "  %s\n", d.Detail)
		for _, r := range d.Related {
			fmt.Fprintf(&b, "  %s:%d: %s: %s\n", r.Range.Filename, r.Range.Start.Line, r.Message, firstLine(cut(in, r.Range)))
		}
		if d.Fix != nil {
			for _, e := range d.Fix.Edits {
				fmt.Fprintf(&b, "  fix: %s: %q for %q\n", d.Fix.Title, e.Text, cut(in, e.Range))
			}
		}
	}
	return b.String()
}

func firstLine(b []byte) string {
	line, _, _ := bytes.Cut(b, []byte("\n"))
	return string(line)
}

func cut(in Input, at hcl.Range) []byte {
	for _, f := range in.Files {
		if f.Name == at.Filename && at.Start.Byte >= 0 && at.Start.Byte <= at.End.Byte && at.End.Byte <= len(f.Bytes) {
			return f.Bytes[at.Start.Byte:at.End.Byte]
		}
	}
	return []byte("(outside of all files)")
}

// checkPlaces demands that every place lies inside its file, and that line and column agree with
// the byte.
func checkPlaces(t testing.TB, in Input, diags diag.List) {
	t.Helper()
	for _, d := range diags {
		all := []hcl.Range{d.Subject}
		for _, r := range d.Related {
			all = append(all, r.Range)
		}
		if d.Fix != nil {
			for _, e := range d.Fix.Edits {
				all = append(all, e.Range)
			}
		}
		for _, at := range all {
			if string(cut(in, at)) == "(outside of all files)" {
				t.Errorf("%s: %s: place %v lies outside of its file", d.Code, d.Summary, at)
				continue
			}
			for _, f := range in.Files {
				if f.Name != at.Filename {
					continue
				}
				for _, p := range []hcl.Pos{at.Start, at.End} {
					if line := 1 + bytes.Count(f.Bytes[:p.Byte], []byte("\n")); line != p.Line {
						t.Errorf("%s: byte %d is on line %d, not %d", d.Code, p.Byte, line, p.Line)
					}
				}
			}
		}
		if d.Summary == "" || d.Detail == "" || d.Code == "" {
			t.Errorf("incomplete diagnostic %+v", d)
		}
	}
}

// checkFixes applies each fix alone and demands that it mends what it belongs to.
func checkFixes(t *testing.T, in Input, diags diag.List) {
	t.Helper()
	for _, d := range diags {
		if d.Fix == nil {
			continue
		}
		fixed := Input{ReadData: in.ReadData}
		for _, f := range in.Files {
			src, changed := f.Bytes, false
			for _, e := range d.Fix.Edits {
				if e.Range.Filename == f.Name {
					src = bytes.Join([][]byte{src[:e.Range.Start.Byte], []byte(e.Text), src[e.Range.End.Byte:]}, nil)
					changed = true
				}
			}
			if !changed {
				fixed.Files = append(fixed.Files, f)
				continue
			}
			again := parse(f.Name, src)
			again.Library = f.Library
			if again.Broken && !f.Broken {
				t.Errorf("fix %q of %q breaks the syntax", d.Fix.Title, d.Summary)
			}
			fixed.Files = append(fixed.Files, again)
		}
		_, left := Decode(fixed)
		for _, l := range left {
			if l.Code == d.Code && l.Summary == d.Summary && l.Subject.Start == d.Subject.Start {
				t.Errorf("fix %q does not mend %q", d.Fix.Title, d.Summary)
			}
		}
		if len(left) > len(diags) {
			t.Errorf("fix %q of %q leaves %d diagnostics of %d", d.Fix.Title, d.Summary, len(left), len(diags))
		}
	}
}

func TestNearest(t *testing.T) {
	codes := []string{"weekly-growth", "session-spike", "long-share", "rest-day", "band-jump"}
	long := strings.Repeat("x", 90)
	for got, want := range map[string]string{
		"weekly-grwth": "weekly-growth", "session-spikes": "session-spike", "longshare": "long-share", "rest-dya": "rest-day", "Band-Jump": "band-jump",
		"cadence": "", "": "", "xx": "", long: "",
	} {
		if near := Nearest(got, append(codes, long+"y", "x")); near != want {
			t.Errorf("nearest to %q: got %q, want %q", got, near, want)
		}
	}
}

// TestInclude: source reads the list and tells of its mistakes; nothing is said twice.
func TestInclude(t *testing.T) {
	for _, value := range []string{`["../library"]`, `"../library"`, "library", `["${library}"]`} {
		file := parse("case.hcl", []byte("language = 1\nid = \"include1\"\ninclude = "+value+"\n"))
		if _, diags := Decode(Input{Files: []*syntax.File{file}}); len(diags) > 0 {
			t.Errorf("include = %s: got %v", value, diags)
		}
	}
}

func TestLibraryIsClean(t *testing.T) {
	files := libraryFiles(t)
	s, diags := Decode(Input{Files: files})
	if len(diags) > 0 {
		t.Errorf("the library has findings:\n%s", printed(Input{Files: files}, diags))
	}
	if len(s.Sessions) == 0 || len(s.Protocols) == 0 {
		t.Errorf("got %d sessions and %d protocols", len(s.Sessions), len(s.Protocols))
	}
	for _, session := range append(s.Sessions, s.Protocols...) {
		if !session.BuiltIn || len(session.Steps) == 0 {
			t.Errorf("session %s: built in %v, %d steps", session.Key, session.BuiltIn, len(session.Steps))
		}
	}
}

func TestBaseIsClean(t *testing.T) {
	base := parse("base.hcl", readFile(t, filepath.Join(goldens, "base.hcl")))
	in := Input{Files: append(libraryFiles(t), base)}
	if _, diags := Decode(in); len(diags) > 0 {
		t.Errorf("the base has findings:\n%s", printed(in, diags))
	}
}
