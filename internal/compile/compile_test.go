package compile_test

import (
	"bytes"
	"flag"
	"fmt"
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
	"towpath/internal/units"
	"towpath/internal/words"
	library "towpath/plans/library"
)

var update = flag.Bool("update", false, "rewrite the golden files")

const (
	findingsName = "findings.txt"
	resultName   = "prescription.txt"
	originsName  = "origins.txt" // only in archives that hold one
	outside      = "outside/"    // files whose name begins so lie beside the plan's folder
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
			got := map[string]string{findingsName: findings(t, res), resultName: summary(res)}
			if _, ok := want[originsName]; ok {
				got[originsName] = origins(res)
			}
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
		case findingsName, resultName, originsName:
			want[f.Name] = string(f.Data)
		default:
			name, beside := strings.CutPrefix(f.Name, outside)
			if !beside {
				name = "plan/" + name
			}
			fsys[name] = &fstest.MapFile{Data: f.Data}
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
	for _, name := range []string{findingsName, resultName, originsName} {
		if text, ok := got[name]; ok {
			out.Files = append(out.Files, txtar.File{Name: name, Data: []byte(text)})
		}
	}
	if err := os.WriteFile(path, txtar.Format(out), 0o644); err != nil {
		t.Fatal(err)
	}
}

func findings(t testing.TB, res compile.Result) string {
	t.Helper()
	files := res.Spec.Data()
	for _, f := range res.Files {
		files[f.Name] = f.Bytes
	}
	var b bytes.Buffer
	if err := diag.WriteText(&b, res.Findings, files, diag.TextOptions{Width: 100}); err != nil {
		t.Fatal(err)
	}
	return b.String()
}

// origins prints the whole origin of each band's ceiling, of the first week's and the second's
// minutes, and of the first session: its place, and its first work step's minutes and
// targets.
func origins(res compile.Result) string {
	var b strings.Builder
	for _, p := range res.Prescriptions {
		for _, band := range p.Block.Bands {
			writeOrigin(&b, "", band.Origin)
		}
		for _, w := range p.Block.Weeks[:min(2, len(p.Block.Weeks))] {
			writeOrigin(&b, "", w.Origin)
		}
		if len(p.Sessions) > 0 {
			writeOrigin(&b, "", p.Sessions[0].Origin)
			for _, s := range p.Sessions[0].Steps {
				if s.Role == prescription.Work && s.Kind != prescription.Rounds {
					for _, o := range []*diag.Origin{&s.Origin, s.Targets.PowerOrigin, s.Targets.HeartRateOrigin, s.Targets.EffortOrigin} {
						if o != nil {
							writeOrigin(&b, "", *o)
						}
					}
					break
				}
			}
		}
	}
	return b.String()
}

func writeOrigin(b *strings.Builder, indent string, o diag.Origin) {
	b.WriteString(indent + o.What)
	if o.Range.Filename != "" {
		fmt.Fprintf(b, " <%s:%d>", o.Range.Filename, o.Range.Start.Line)
	}
	if o.SourceKey != "" {
		fmt.Fprintf(b, " {%s}", o.SourceKey)
	}
	b.WriteByte('\n')
	for _, from := range o.From {
		writeOrigin(b, indent+"  ", from)
	}
}

// summary prints what a rider gets, a line per session and step.
func summary(res compile.Result) string {
	var b strings.Builder
	for _, p := range res.Prescriptions {
		fmt.Fprintf(&b, "%s/%s from %s\n", p.Block.Athlete.Key, p.Block.Key, p.Block.Start)
		for _, band := range p.Block.Bands {
			fmt.Fprintf(&b, "band %s from %s: %.1f-%.1f W", band.Key, band.From, float64(band.Power.Low), float64(band.Power.High))
			if band.Place != "" {
				fmt.Fprintf(&b, " %s", band.Place)
			}
			b.WriteByte('\n')
		}
		for _, w := range p.Weeks {
			kind := string(w.Kind)
			if w.Provisional {
				kind += ", provisional"
			}
			fmt.Fprintf(&b, "week %d %s: asked %s, placed %s %s\n", w.Number, kind, w.Asked, w.Placed, strings.Join(w.Stated, "; "))
			on := map[units.Date]int{}
			for _, s := range p.Sessions {
				on[s.Date]++
			}
			for _, s := range p.Sessions {
				if s.Week != w.Number {
					continue
				}
				fmt.Fprintf(&b, "  %s %s %s [%s] %s", s.Date, s.Date.Weekday().String()[:3], s.Title, s.Key, s.Place)
				if on[s.Date] > 1 || s.Zone != p.Block.Athlete.Zone {
					fmt.Fprintf(&b, " %s %s", s.Start, s.Zone)
				}
				b.WriteByte('\n')
				writeAllowed(&b, s.Allowed)
				writeSteps(&b, "    ", s.Steps)
				if s.Instead != nil {
					fmt.Fprintf(&b, "    or %s: %s\n", s.Instead.Place, s.Instead.Title)
					writeAllowed(&b, s.Instead.Allowed)
					writeSteps(&b, "      ", s.Instead.Steps)
				}
			}
			for _, x := range w.Paused {
				fmt.Fprintf(&b, "  %s %s left out: %s\n", x.Date, x.Fixed, x.Why)
			}
		}
	}
	return b.String()
}

func writeAllowed(b *strings.Builder, allowed []prescription.Allowance) {
	for _, a := range allowed {
		fmt.Fprintf(b, "    allowed: %s %s at most %d W\n", a.Name, a.Duration, *a.Power)
	}
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
		if s.Over != "" {
			fmt.Fprintf(b, " by %s", s.Over)
		}
		if s.AllOut {
			b.WriteString(" all out")
		}
		if s.Note == words.HarderStage {
			b.WriteString(" harder")
		}
		b.WriteByte('\n')
	}
}
