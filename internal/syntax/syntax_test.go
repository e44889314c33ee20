package syntax

import (
	"flag"
	"fmt"
	"maps"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"
	"time"

	"github.com/google/go-cmp/cmp"
	"github.com/hashicorp/hcl/v2/hclparse"
	"github.com/rogpeppe/go-internal/txtar"

	"towpath/internal/diag"
)

var update = flag.Bool("update", false, "write what is found as what is wanted")

// TestMistakes: every mistake is told once, in plain words, with what would mend it.
func TestMistakes(t *testing.T) {
	const path = "../../testdata/syntax/mistakes.txtar"
	archive, err := txtar.ParseFile(path)
	if err != nil {
		t.Fatal(err)
	}
	for i := 0; i+1 < len(archive.Files); i += 2 {
		text, want := archive.Files[i], &archive.Files[i+1]
		t.Run(strings.TrimSuffix(text.Name, ".hcl"), func(t *testing.T) {
			file, diags := Parse(text.Name, text.Data)
			if !file.Broken {
				t.Error("no mistake was found")
			}
			got := told(diags)
			if *update {
				want.Data = []byte(got)
			} else if diff := cmp.Diff(string(want.Data), got); diff != "" {
				t.Errorf("want -, got +:\n%s", diff)
			}
			for _, d := range diags {
				if d.Fix != nil {
					mends(t, text.Data, d, len(diags))
				}
			}
		})
	}
	if *update {
		if err := os.WriteFile(path, txtar.Format(archive), 0o644); err != nil {
			t.Fatal(err)
		}
	}
}

// mends makes the edit of one mistake and demands that it is gone, and that none came.
func mends(t *testing.T, text []byte, mistake diag.Diagnostic, before int) {
	t.Helper()
	mended, err := Apply(text, mistake.Fix.Edits)
	if err != nil {
		t.Fatal(err)
	}
	_, left := Parse("t.hcl", mended)
	if len(left) > before {
		t.Errorf("%s leaves more than there was:\n%s", mistake.Fix.Title, told(left))
	}
	for _, d := range left {
		if d.Subject.Start == mistake.Subject.Start && d.Summary == mistake.Summary {
			t.Errorf("%s does not mend it:\n%s", mistake.Fix.Title, told(left))
		}
	}
}

// TestFixesMend: applying all the fixes of a text leaves nothing to mend at their places.
func TestFixesMend(t *testing.T) {
	text := []byte("a = “75 min”\nb = 5 h\nc = 18:30 # evening\nd =\u00a01\ne = '1 h'\n")
	_, diags := Parse("t.hcl", text)
	var edits []diag.Edit
	for _, d := range diags {
		if d.Fix == nil {
			t.Errorf("no fix for %s", d.Summary)
			continue
		}
		edits = append(edits, d.Fix.Edits...)
	}
	mended, err := Apply(text, edits)
	if err != nil {
		t.Fatal(err)
	}
	if file, diags := Parse("t.hcl", mended); file.Broken {
		t.Errorf("%s\n%s", mended, told(diags))
	}
}

// TestSoundPartsSurvive: what stands around a mistake is still read.
func TestSoundPartsSurvive(t *testing.T) {
	file, _ := Parse("t.hcl", []byte("id = \"x\"\n\nblock \"a\" {\n  volume {\n\n  title = \"open\n}\n\nblock \"b\" {\n  weeks = 8\n}\n"))
	if file.Body.Attributes["id"] == nil || len(file.Body.Blocks) != 2 {
		t.Fatalf("got %v and %d blocks", file.Body.Attributes, len(file.Body.Blocks))
	}
	if b := file.Body.Blocks[1]; b.Labels[0] != "b" || b.TypeRange.Start.Line != 9 || b.Body.Attributes["weeks"] == nil {
		t.Errorf("got %+v", b)
	}
}

// TestHostile: texts that would end the process or keep it busy are refused at once. Without the
// guard, 100,000 open brackets overflow the stack, which no program can recover from.
func TestHostile(t *testing.T) {
	for _, test := range []struct{ name, text, want string }{
		{"round brackets", "a = " + strings.Repeat("(", 100_000) + "\n", "nesting-too-deep"},
		{"square brackets", "a = " + strings.Repeat("[", 30_000) + "\n", "nesting-too-deep"},
		{"blocks", strings.Repeat("a {\n", 20_000), "syntax"},
		{"blocks behind wrong brackets", strings.Repeat("a {\nb = ( } )\n", 4_000), "syntax"},
		{"indented blocks", strings.Repeat(" a {\n", 20_000), "nesting-too-deep"},
		{"indented blocks behind wrong brackets", strings.Repeat(" a {\n b = ( } )\n", 4_000), "nesting-too-deep"},
		{"not", "a = " + strings.Repeat("!", 30_000) + "true\n", "nesting-too-deep"},
		{"minus", "a = " + strings.Repeat("-", 30_000) + "1\n", "nesting-too-deep"},
		{"plus", "a = " + strings.Repeat("1 + ", 20_000) + "1\n", "nesting-too-deep"},
		{"plus over lines", "a = [" + strings.Repeat("1 +\n", 10_000) + "1]\n", "nesting-too-deep"},
		{"choices", "a = " + strings.Repeat("x ? y : ", 10_000) + "z\n", "nesting-too-deep"},
		{"indexes", "a = x" + strings.Repeat("[y]", 10_000) + "\n", "nesting-too-deep"},
		{"calls", "a = " + strings.Repeat("f(", 10_000) + "\n", "nesting-too-deep"},
		{"texts in texts", "a = " + strings.Repeat(`"${`, 10_000) + "\n", "nesting-too-deep"},
		{"directives", "a = \"" + strings.Repeat("%{if x}", 10_000) + "\"\n", "nesting-too-deep"},
		{"digits", "a = " + strings.Repeat("9", 900_000) + "\n", "number-too-long"},
		{"exponent", "a = \"${1e100000000}\"\n", "number-too-long"},
		{"signed exponent", "a = 1e+1000\n", "number-too-long"},
		{"size", strings.Repeat("# comment\n", 200_000), "file-too-large"},
		{"words", "a = [" + strings.Repeat("1,", 160_000) + "]\n", "file-too-large"},
	} {
		t.Run(test.name, func(t *testing.T) {
			start := time.Now()
			_, diags := Parse("t.hcl", []byte(test.text))
			if len(diags) == 0 || diags[0].Code != test.want {
				t.Errorf("got %s, want %s", told(diags), test.want)
			}
			if d := time.Since(start); d > 20*time.Second { // a second without the race detector
				t.Errorf("took %v", d)
			}
		})
	}
}

// TestGuardPasses: what a large plan holds is no reason to refuse it.
func TestGuardPasses(t *testing.T) {
	row := "    { on = \"2026-09-22\", ride = \"steady\", state = \"swapped\", with = \"2026-09-23\", effort = 11 + 1 },\n"
	for name, text := range map[string]string{
		"a long log":         "log {\n  entries = [\n" + strings.Repeat(row, 1_000) + "  ]\n}\n",
		"many blocks":        strings.Repeat("session \"a\" {\n  step \"b\" {\n    of = a.b.c.d\n  }\n}\n", 2_000),
		"many commented":     strings.Repeat("a {\n  b = c.d # e.f\n}\n", 2_000),
		"nested as a coach":  "a = [{ b = [{ c = { d = f(g(1)) } }] }]\n",
		"a number with sign": "a = -1.5e-9\n",
	} {
		if _, diags := Parse("t.hcl", []byte(text)); diags != nil {
			t.Errorf("%s: %s", name, told(diags[:1]))
		}
	}
}

// TestManyMistakes: the list of mistakes ends, whatever the text.
func TestManyMistakes(t *testing.T) {
	_, diags := Parse("t.hcl", []byte(strings.Repeat("a = 1\n", 10_000)))
	if len(diags) != maxComplaints+1 || diags[maxComplaints].Summary != "More mistakes follow" {
		t.Errorf("got %d, the last %q", len(diags), diags[len(diags)-1].Summary)
	}
}

func TestNotUTF8(t *testing.T) {
	file, diags := Parse("t.hcl", []byte("a = 1\nb = \"\xff\"\n"))
	if !file.Broken || len(diags) != 1 || diags[0].Code != "not-utf-8" || diags[0].Subject.Start.Line != 2 || diags[0].Subject.Start.Byte != 11 {
		t.Errorf("got %s", told(diags))
	}
}

// told prints diagnostics for comparison.
func told(diags diag.List) string {
	var out strings.Builder
	for _, d := range diags {
		s, e := d.Subject.Start, d.Subject.End
		fmt.Fprintf(&out, "%d:%d-%d:%d [%s] %s\n    %s\n", s.Line, s.Column, e.Line, e.Column, d.Code, d.Summary, d.Detail)
		for _, r := range d.Related {
			fmt.Fprintf(&out, "    at %d:%d: %s\n", r.Range.Start.Line, r.Range.Start.Column, r.Message)
		}
		if d.Fix != nil {
			for _, e := range d.Fix.Edits {
				fmt.Fprintf(&out, "    fix %d:%d-%d:%d: %s\n", e.Range.Start.Line, e.Range.Start.Column, e.Range.End.Line, e.Range.End.Column, e.Text)
			}
		}
	}
	return out.String()
}

// large is the largest demo and the library in one text.
func large(b *testing.B) []byte {
	texts := plans(b)
	var out []byte
	for _, name := range slices.Sorted(maps.Keys(texts)) {
		if folder := filepath.Base(filepath.Dir(name)); folder == "audax" || folder == "library" {
			out = append(out, texts[name]...)
		}
	}
	if len(out) == 0 {
		b.Fatal("there is no text to measure")
	}
	if file, diags := Parse("t.hcl", out); file.Broken {
		b.Fatal(told(diags)) // another path would be measured
	}
	return out
}

func BenchmarkParse(b *testing.B) {
	text := large(b)
	b.SetBytes(int64(len(text)))
	for b.Loop() {
		Parse("t.hcl", text)
	}
}

// BenchmarkParseUnguarded is the HCL library's own parser on the same bytes.
func BenchmarkParseUnguarded(b *testing.B) {
	text := large(b)
	b.SetBytes(int64(len(text)))
	for b.Loop() {
		hclparse.NewParser().ParseHCL(text, "t.hcl")
	}
}

func BenchmarkFormat(b *testing.B) {
	text := large(b)
	b.SetBytes(int64(len(text)))
	for b.Loop() {
		Format("t.hcl", text, nil)
	}
}
