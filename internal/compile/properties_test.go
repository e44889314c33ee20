package compile_test

import (
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"
	"testing/fstest"
	"time"

	"github.com/rogpeppe/go-internal/txtar"

	"towpath/internal/compile"
	"towpath/internal/diag"
	"towpath/internal/plan"
	"towpath/internal/prescription"
	"towpath/internal/units"
	library "towpath/plans/library"
)

// planOf is an archive's plan, compiled.
func planOf(t testing.TB, path string) (fstest.MapFS, compile.Result) {
	t.Helper()
	a, err := txtar.ParseFile(path)
	if err != nil {
		t.Fatal(err)
	}
	fsys, _ := unpack(a)
	return fsys, compiled(fsys)
}

func compiled(fsys fstest.MapFS) compile.Result {
	return compile.Compile(compile.Input{FS: fsys, Dir: "plan", Library: library.FS})
}

// A plan whose dates are all moved by a week gives sessions that are all moved by a week.
func TestMovedByAWeek(t *testing.T) {
	date := regexp.MustCompile(`\b20\d\d-\d\d-\d\d\b`)
	dotted := regexp.MustCompile(`(?m)^(\d\d)\.(\d\d)\.(20\d\d);`) // in a roster's file
	later := func(text string, days int) string {
		text = dotted.ReplaceAllString(text, "$3-$2-$1;")
		return date.ReplaceAllStringFunc(text, func(s string) string {
			d, err := units.ParseDate(s)
			if err != nil {
				return s
			}
			return d.Add(days).String()
		})
	}
	moved := 0
	for _, path := range archives(t) {
		fsys, res := planOf(t, path)
		if res.Findings.HasErrors() {
			continue
		}
		moved++
		shifted := fstest.MapFS{}
		for name, f := range fsys {
			shifted[name] = &fstest.MapFile{Data: []byte(later(string(f.Data), 7))}
		}
		if got, want := later(summary(compiled(shifted)), -7), summary(res); got != want {
			t.Errorf("%s: a week later the plan differs:\n%s\nwant\n%s", filepath.Base(path), got, want)
		}
	}
	if moved < 3 {
		t.Errorf("only %d plans without an error were moved", moved)
	}
}

// What was asked is placed, steps add up to their session, at the day's other place as well, and only
// tests and what the coach allows rise above the band.
func TestSessionsHold(t *testing.T) {
	sessions := 0
	for _, path := range archives(t) {
		_, res := planOf(t, path)
		for _, p := range res.Prescriptions {
			for _, w := range p.Weeks {
				if w.Placed != w.Asked && len(w.Stated) == 0 {
					t.Errorf("%s: week %d asks %s, holds %s, and does not say so", filepath.Base(path), w.Number, w.Asked, w.Placed)
				}
			}
			for _, s := range p.Sessions {
				sessions++
				if got := seconds(s.Steps); got != s.Minutes.Duration() {
					t.Errorf("%s: %s lasts %s, its steps %s", filepath.Base(path), s.Key, s.Minutes, got)
				}
				if top := highest(s.Steps, s.Band); !s.Given && top > int(s.Band.Power.High) {
					t.Errorf("%s: %s asks %d W, the ceiling is %.1f W", filepath.Base(path), s.Key, top, float64(s.Band.Power.High))
				}
				if there := s.Instead; there != nil {
					if got := seconds(there.Steps); got != there.Minutes.Duration() || there.Minutes > s.Minutes || there.Place == s.Place {
						t.Errorf("%s: %s lasts %s, %s %s with steps of %s", filepath.Base(path), s.Key, s.Minutes, there.Place, there.Minutes, got)
					}
					if top := highest(there.Steps, there.Band); top > int(there.Band.Power.High) {
						t.Errorf("%s: %s asks %d W %s, the ceiling is %.1f W", filepath.Base(path), s.Key, top, there.Place, float64(there.Band.Power.High))
					}
				}
			}
		}
	}
	if sessions < 20 {
		t.Errorf("only %d sessions were looked at", sessions)
	}
}

func seconds(steps []prescription.Step) units.Duration {
	var sum units.Duration
	for _, s := range steps {
		if s.Kind == prescription.Rounds {
			sum += units.Duration(s.Times) * seconds(s.Steps)
		} else {
			sum += s.Duration
		}
	}
	return sum
}

// highest is the most watts that steps ask for, those aside that the band allows in so many words.
func highest(steps []prescription.Step, b *plan.Band) int {
	top := 0
	for _, s := range steps {
		top = max(top, highest(s.Steps, b))
		if allowed, ok := b.Allowance(s.Over); ok && s.Duration <= allowed.Duration && (s.AllOut || s.Targets.Power.High <= int(allowed.Power)) {
			continue
		}
		if s.Targets.Power != nil {
			top = max(top, s.Targets.Power.High)
		}
	}
	return top
}

// Two compilations of the same text agree in every word.
func TestTwice(t *testing.T) {
	for _, path := range archives(t) {
		fsys, first := planOf(t, path)
		second := compiled(fsys)
		if summary(first) != summary(second) || findings(t, first) != findings(t, second) {
			t.Errorf("%s: a second compilation differs", filepath.Base(path))
		}
	}
}

// FuzzCheck compiles whatever it is given: no panic, and each place lies in its file.
func FuzzCheck(f *testing.F) {
	for _, path := range archives(f) {
		fsys, _ := planOf(f, path)
		var text strings.Builder
		for _, name := range []string{"plan/athlete.hcl", "plan/block.hcl"} {
			if file := fsys[name]; file != nil {
				text.Write(file.Data)
			}
		}
		f.Add(text.String())
	}
	if demo, err := filepath.Glob(filepath.Join("..", "..", "plans", "*.hcl")); err == nil {
		for _, path := range demo {
			if data, err := os.ReadFile(path); err == nil {
				f.Add(string(data))
			}
		}
	}
	f.Fuzz(func(t *testing.T, text string) {
		fsys := fstest.MapFS{"plan/block.hcl": &fstest.MapFile{Data: []byte(text)}}
		// A plan that never ends would only stop the fuzzing: it has to fail.
		patience := time.AfterFunc(time.Minute, func() { panic("no end to this plan:\n" + text) })
		res := compiled(fsys)
		patience.Stop()
		sizes := map[string]int{}
		for _, file := range res.Files {
			sizes[file.Name] = len(file.Bytes)
		}
		for _, d := range res.Findings {
			within(t, d.Summary, d.Subject, sizes)
			for _, r := range d.Related {
				within(t, r.Message, r.Range, sizes)
			}
		}
	})
}

func within(t *testing.T, what string, r diag.Range, sizes map[string]int) {
	t.Helper()
	if r.Filename == "" {
		return
	}
	size, known := sizes[r.Filename]
	if known && (r.Start.Byte < 0 || r.Start.Byte > r.End.Byte || r.End.Byte > size) {
		t.Errorf("%q points at bytes %d to %d of %s, which has %d", what, r.Start.Byte, r.End.Byte, r.Filename, size)
	}
}
