package compile_test

import (
	"bytes"
	"flag"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"testing/fstest"

	"github.com/google/go-cmp/cmp"
	"github.com/rogpeppe/go-internal/txtar"

	"towpath/internal/compile"
	"towpath/internal/diag"
	"towpath/internal/prescription"
	library "towpath/plans/library"
)

var update = flag.Bool("update", false, "rewrite the golden files")

const (
	findingsName = "findings.txt"
	resultName   = "prescription.txt"
)

// TestCompile compiles each archive of testdata/compile: a plan's files, and behind them what
// becomes of it.
func TestCompile(t *testing.T) {
	for _, path := range archives(t) {
		t.Run(strings.TrimSuffix(filepath.Base(path), ".txtar"), func(t *testing.T) {
			a, err := txtar.ParseFile(path)
			if err != nil {
				t.Fatal(err)
			}
			fsys, want := unpack(a)
			res := compile.Compile(compile.Input{FS: fsys, Dir: "plan", Library: library.FS})
			got := map[string]string{findingsName: findings(t, res, fsys), resultName: summary(res)}
			if *update {
				rewrite(t, path, a, got)
				return
			}
			if diff := cmp.Diff(want, got); diff != "" {
				t.Errorf("(-want +got):\n%s", diff)
			}
		})
	}
}

func archives(t testing.TB) []string {
	t.Helper()
	paths, err := filepath.Glob(filepath.Join("..", "..", "testdata", "compile", "*.txtar"))
	if err != nil || len(paths) == 0 {
		t.Fatalf("no archives in testdata/compile: %v", err)
	}
	return paths
}

// unpack gives the plan's files as a file system, and the expected output by name.
func unpack(a *txtar.Archive) (fstest.MapFS, map[string]string) {
	fsys, want := fstest.MapFS{}, map[string]string{}
	for _, f := range a.Files {
		switch f.Name {
		case findingsName, resultName:
			want[f.Name] = string(f.Data)
		default:
			fsys["plan/"+f.Name] = &fstest.MapFile{Data: f.Data}
		}
	}
	return fsys, want
}

func rewrite(t *testing.T, path string, a *txtar.Archive, got map[string]string) {
	t.Helper()
	out := &txtar.Archive{Comment: a.Comment}
	for _, f := range a.Files {
		if _, golden := got[f.Name]; !golden {
			out.Files = append(out.Files, f)
		}
	}
	for _, name := range []string{findingsName, resultName} {
		out.Files = append(out.Files, txtar.File{Name: name, Data: []byte(got[name])})
	}
	if err := os.WriteFile(path, txtar.Format(out), 0o644); err != nil {
		t.Fatal(err)
	}
}

func findings(t testing.TB, res compile.Result, fsys fs.FS) string {
	t.Helper()
	files := map[string][]byte{}
	for _, f := range res.Files {
		files[f.Name] = f.Bytes
	}
	var b bytes.Buffer
	if err := diag.WriteText(&b, res.Findings, files, diag.TextOptions{Width: 100}); err != nil {
		t.Fatal(err)
	}
	return b.String()
}

// summary prints what a rider gets, a line per session and step.
func summary(res compile.Result) string {
	var b strings.Builder
	for _, p := range res.Prescriptions {
		fmt.Fprintf(&b, "%s/%s from %s\n", p.Block.Athlete.Key, p.Block.Key, p.Block.Start)
		for _, band := range p.Block.Bands {
			fmt.Fprintf(&b, "band %s from %s: %.1f-%.1f W\n", band.Key, band.From, float64(band.Power.Low), float64(band.Power.High))
		}
		for _, w := range p.Weeks {
			fmt.Fprintf(&b, "week %d %s: asked %s, placed %s %s\n", w.Number, w.Kind, w.Asked, w.Placed, strings.Join(w.Stated, "; "))
			for _, s := range p.Sessions {
				if s.Week == w.Number {
					fmt.Fprintf(&b, "  %s %s %s [%s]\n", s.Date, s.Date.Weekday().String()[:3], s.Title, s.Key)
					writeSteps(&b, "    ", s.Steps)
				}
			}
		}
	}
	return b.String()
}

func writeSteps(b *strings.Builder, indent string, steps []prescription.Step) {
	for _, s := range steps {
		if s.Kind == prescription.Rounds {
			fmt.Fprintf(b, "%s%d times\n", indent, s.Times)
			writeSteps(b, indent+"  ", s.Steps)
			continue
		}
		fmt.Fprintf(b, "%s%s %s %s", indent, s.Name, s.Duration, s.Kind)
		if s.Targets.Power != nil {
			fmt.Fprintf(b, " %s W", s.Targets.Power)
		}
		if h := s.Targets.HeartRate; h != nil {
			if h.Low != nil {
				fmt.Fprintf(b, " %d-%d bpm", *h.Low, h.High)
			} else {
				fmt.Fprintf(b, " at most %d bpm", h.High)
			}
		}
		if s.Targets.Effort != nil {
			fmt.Fprintf(b, " effort at most %d", *s.Targets.Effort)
		}
		b.WriteByte('\n')
	}
}
