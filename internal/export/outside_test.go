package export

import (
	"errors"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"

	"towpath/internal/prescription"
)

// TestOutsideReaders gives a year in twelve zones, and the hostile texts, to the readers of
// .ci/readers, which share no code with this package. Run .ci/run, which installs them.
func TestOutsideReaders(t *testing.T) {
	if os.Getenv("TOWPATH_OUTSIDE") == "" {
		t.Skip("the outside readers run in .ci/run, which sets TOWPATH_OUTSIDE")
	}
	out := t.TempDir()
	for i, name := range someZones {
		p, _ := yearIn(t, name)
		writeAll(t, filepath.Join(out, fmt.Sprintf("zone-%d", i)), bundle(t, p, springFindings(), nil))
	}
	for i, text := range hostileTexts {
		// The readers take titles from the table, where some have an apostrophe; and icalendar
		// 4.0.3 reads an escaped backslash before an n as a line feed.
		if safe := cleanLine(text); safe == "" || cell(text) != safe || strings.Contains(text, `\n`) {
			continue
		}
		for name, block := range map[string]func() *prescription.Prescription{"spring": spring, "autumn": autumn} {
			p := hostile(block(), text)
			for k, s := range block().Sessions { // these make the names of files
				p.Sessions[k].Ride, p.Sessions[k].Session = s.Ride, s.Session
				if s.Instead != nil {
					p.Sessions[k].Instead.Place = s.Instead.Place
				}
			}
			for _, e := range p.Block.Events {
				e.Title = cleanLine(text) // as plan.json, where they take it from, holds it
			}
			writeAll(t, filepath.Join(out, fmt.Sprintf("%s-%d", name, i)), bundle(t, p, springFindings(), nil))
		}
	}
	p := autumn()
	p.Block.Athlete.Calendar.AllDay = true
	writeAll(t, filepath.Join(out, "without-hours"), bundle(t, p, nil, nil))
	for _, args := range [][]string{{out, "parts"}, {filepath.Join(goldenDir, "autumn")}} {
		if got, err := exec.Command("../../.ci/readers/all", args...).CombinedOutput(); err != nil {
			t.Errorf("%v\n%s", err, got)
		}
	}
}

func writeAll(t *testing.T, dir string, files []File) {
	t.Helper()
	for _, f := range files {
		path := filepath.Join(dir, filepath.FromSlash(f.Name))
		if err := errors.Join(os.MkdirAll(filepath.Dir(path), 0o755), os.WriteFile(path, f.Bytes, 0o644)); err != nil {
			t.Fatal(err)
		}
	}
}
